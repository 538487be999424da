/** Every claim beside the value it should have: recomputed from the readings, or from its own group as written. */
import type { Claim, Entry, Material } from '../model/page';
import { materialKey } from '../model/scope';
import { agreeWithAny } from '../quantity/agree';
import { divide, type Held, held, isHeld, multiply, type Result, subtract, total, unknown } from '../quantity/held';
import type { MeasuredValue } from './measured';
import { carriedKey, yieldOf } from './reaction';
import { asWritten } from './readings';
import { findSlip, type SlipContext } from './slips';
import type { Materials } from './solution';
import { strengthAs } from './strengths';
import { isPure } from './substance';
import { amountFromMass } from './taken';
import {
  type Titrated,
  titratedAlternatives,
  titratedMean,
  titratedProperty,
  titratedRun,
  titratedValue,
} from './titrated';
import type {
  ClaimValue,
  MeasurementValue,
  ProductValue,
  Property,
  ReactionValue,
  SolutionValue,
  SubstanceValue,
  TakenValue,
  TheoreticalValue,
  Values,
} from './values';

type Draft = Omit<Values, 'claims'>;

interface Owner {
  readonly entry: Entry;
  readonly subject: string;
  readonly claims: readonly Claim[];
  readonly what: 'charge' | 'product' | 'recovered' | 'weigh' | 'solution' | 'measure' | 'titrate';
  readonly taken?: TakenValue;
  readonly solution?: SolutionValue;
  readonly reaction?: ReactionValue;
  readonly theory?: TheoreticalValue;
  readonly equiv?: Result;
  readonly product?: ProductValue;
  readonly recovery?: Result;
  readonly measured?: readonly MeasurementValue[];
  readonly properties?: readonly MeasuredValue[];
  readonly titrated?: Titrated;
  readonly elements?: ReadonlyMap<Claim, string>;
}

export function claimValues(values: Draft, materials: Materials): ClaimValue[] {
  const others = otherSubstances(values, materials);
  const takenOf = (term: ReactionValue['left'][number]): TakenValue | undefined => {
    const key = term.term.name.target && materialKey(term.term.name.target);
    const own = values.charges.filter((c) => key !== undefined && carriedKey(c) === key);
    return own.length === 1 ? own[0] : undefined;
  };
  return [...owners(values, materials)].flatMap((owner) =>
    owner.claims.map((claim) => claimValue(claim, owner, others, takenOf, values, materials)),
  );
}

function* owners(values: Draft, materials: Materials): Generator<Owner> {
  for (const c of values.charges) {
    const { entry, name, claims } = c.charge;
    yield {
      entry,
      subject: name.text,
      claims,
      what: 'charge',
      taken: c,
      equiv: c.equiv,
      ...pick(c),
      ...(c.solution && { solution: c.solution }),
    };
  }
  for (const w of values.weighs)
    yield { entry: w.weigh.entry, subject: w.weigh.name.text, claims: w.weigh.claims, what: 'weigh', taken: w };
  for (const p of values.products) {
    const { entry, name, claims } = p.product;
    yield {
      entry,
      subject: name.text,
      claims,
      what: 'product',
      taken: p,
      product: p,
      ...pick(p),
      ...(p.theory && { theory: p.theory }),
    };
  }
  for (const r of values.recovered) {
    const { entry, name, claims } = r.recovered;
    yield { entry, subject: name.text, claims, what: 'recovered', taken: r, recovery: r.recovery };
  }
  for (const s of values.solutions) {
    if (s.solution.entry)
      yield {
        entry: s.solution.entry,
        subject: s.solution.name,
        claims: s.solution.claims,
        what: 'solution',
        solution: s,
      };
  }
  for (const { titration, ...value } of values.titrations) {
    const own = { entry: titration.entry, subject: titration.name.text, what: 'titrate' as const };
    for (const run of value.runs) yield { ...own, claims: run.run.claims, titrated: titratedRun(run, value) };
    yield { ...own, claims: titration.claims, titrated: titratedMean(value, titration, materials) };
  }
  const seen = new Set<Entry>();
  for (const measurement of [...values.measurements.map((m) => m.measurement), ...values.page.measurements]) {
    if (seen.has(measurement.entry)) continue;
    seen.add(measurement.entry);
    yield {
      entry: measurement.entry,
      subject: measurement.name.text,
      claims: measurement.claims,
      what: 'measure',
      measured: values.measurements.filter((m) => m.measurement === measurement),
      properties: values.measured.filter((m) => m.measured.entry === measurement.entry),
      elements: new Map(measurement.elementClaims.map((e) => [e.claim, e.element])),
    };
  }
}

const pick = (v: { readonly reaction?: ReactionValue }): { reaction?: ReactionValue } =>
  v.reaction ? { reaction: v.reaction } : {};

function claimValue(
  claim: Claim,
  owner: Owner,
  others: readonly SubstanceValue[],
  takenOf: SlipContext['takenOf'],
  values: Draft,
  materials: Materials,
): ClaimValue {
  const property = propertyOf(claim, owner);
  const value = owner.titrated
    ? titratedValue(property, claim, owner.titrated)
    : claimedValue(property, claim, owner, values, materials);
  const base: ClaimValue = { claim, owner: owner.entry, subject: owner.subject, property, value };
  // Nobody computes a range of literature, and `about` says itself that it is no result.
  if (!isHeld(value) || claim.quantity.about || !comparable(claim, value)) return base;
  const besides = owner.titrated
    ? titratedAlternatives(property, owner.titrated)
    : alternatives(property, claim, owner, values);
  const right = [value, ...besides];
  const verdict = agreeWithAny(claim.quantity, right);
  if (verdict !== 'no' && verdict !== 'nearly') return { ...base, verdict };
  const limitingTaken = owner.reaction?.limiting && takenOf(owner.reaction.limiting.term);
  const own = owner.taken?.substance;
  const context: SlipContext = {
    property,
    others: others.filter((o) => o.substance !== own?.substance),
    takenOf,
    ...(owner.taken && { taken: owner.taken }),
    ...(owner.reaction && { reaction: owner.reaction }),
    ...(owner.theory && { theory: owner.theory }),
    ...(limitingTaken && { limitingTaken }),
  };
  const slip = verdict === 'no' ? findSlip(claim.quantity, right, context) : undefined;
  return { ...base, verdict, ...(slip && { slip }) };
}

// ── what a claim is about ────────────────────────────────────────────────────────────────────────────────────────

function propertyOf(claim: Claim, owner: Owner): Property {
  const kind = claim.quantity.unit?.kind ?? 'number';
  if (owner.properties && claim.label === 'Rf') return 'Rf';
  if (owner.properties?.some((m) => m.opticalPurity) && claim.label === 'ee') return 'optical purity';
  if (owner.what === 'titrate') return titratedProperty(claim);
  switch (claim.label) {
    case 'lit.':
      return 'literature';
    case 'calcd':
    case 'found':
      if (owner.elements?.has(claim)) return 'element';
      return owner.measured?.some((m) => m.kind === 'HRMS') ? 'm/z' : 'other';
    case 'brsm':
    case 'conversion':
    case 'overall':
    case 'yield':
    case 'recovery':
    case 'loss':
      return claim.label;
    case 'theoretical':
      return 'theory';
    case 'net':
      return 'net';
    case 'purity':
    case 'ee':
    case 'er':
    case 'dr':
    case 'selectivity':
    case 'mp':
    case 'bp':
    case 'Rf':
    case 'gross':
    case 'tare':
    case 'residue':
      return 'other';
  }
  if (owner.elements?.has(claim)) return 'element';
  if (owner.what === 'measure') return claim.label === 'optical rotation' ? 'specific rotation' : 'other';
  switch (kind) {
    case 'mass':
      return owner.taken?.weighing && owner.taken.mass === owner.taken.weighing.net ? 'net' : 'mass';
    case 'volume':
      return 'volume';
    case 'amount':
      return 'amount';
    case 'equivalents':
      return 'equiv';
    case 'amountRatio':
      return 'mol%';
    case 'ratio':
      if (owner.what === 'product') return 'yield';
      if (owner.what === 'recovered') return 'recovery';
      if (owner.what === 'weigh') return 'loss';
      return owner.what === 'solution' ? 'mass fraction' : 'other';
    case 'concentration':
    case 'equivalentConcentration':
    case 'molality':
      return 'concentration';
    case 'massFraction':
      return owner.what === 'solution' ? 'mass fraction' : 'other';
    case 'density':
    case 'massPerVolume':
      return 'density';
    case 'molarMass':
      return 'molar mass';
    default:
      return 'other';
  }
}

const nothing = (claim: Claim): Result => unknown('depends', claim.label ?? 'this number');

function claimedValue(property: Property, claim: Claim, owner: Owner, values: Draft, materials: Materials): Result {
  const { taken, product } = owner;
  switch (property) {
    case 'net':
      return taken?.weighing?.net ?? taken?.mass ?? nothing(claim);
    case 'mass':
      return taken?.mass ?? owner.solution?.soluteMass ?? nothing(claim);
    case 'volume':
      return taken?.volume ?? nothing(claim);
    case 'amount':
      return taken?.amount ?? nothing(claim);
    case 'equiv':
      return owner.equiv ?? nothing(claim);
    case 'mol%':
      return owner.equiv && isHeld(owner.equiv)
        ? { ...owner.equiv, kind: 'amountRatio' }
        : (owner.equiv ?? nothing(claim));
    case 'yield':
      return product ? bestYield(claim, product) : nothing(claim);
    case 'recovery':
      return product
        ? (recoveries(product, values)[0] ?? unknown('amount-missing', 'an earlier stage'))
        : (owner.recovery ?? nothing(claim));
    case 'loss':
      return lossOf(taken, claim, materials);
    case 'overall':
      return product?.overall ?? unknown('reference-unresolved', 'the yields of the pages before');
    case 'brsm':
      return product?.brsm ?? unknown('not-charged', 'recovered starting material');
    case 'conversion':
      return (
        owner.reaction?.conversion ??
        reactionOf(owner, values)?.conversion ??
        unknown('not-charged', 'recovered starting material')
      );
    case 'theory':
      return claim.quantity.unit?.kind === 'amount'
        ? (owner.theory?.amount ?? nothing(claim))
        : (owner.theory?.mass ?? nothing(claim));
    case 'concentration':
      return owner.solution
        ? strengthAs(claim.quantity.unit?.kind ?? 'number', owner.solution, materials)
        : nothing(claim);
    case 'mass fraction':
      return owner.solution?.massFraction ?? nothing(claim);
    case 'density':
      return owner.what === 'solution'
        ? owner.solution!.massConcentration
        : (taken?.solution?.density ?? taken?.substance?.density ?? nothing(claim));
    case 'molar mass':
      return taken?.substance?.molarMass ?? nothing(claim);
    case 'Rf':
      return owner.properties?.find((m) => m.measured.spot)?.calculated ?? nothing(claim);
    case 'optical purity':
      return owner.properties?.find((m) => m.opticalPurity)?.opticalPurity ?? nothing(claim);
    case 'specific rotation': {
      const value = owner.properties?.find((m) => m.measured.kind === 'optical rotation')?.calculated;
      // Written bare, in degrees or with its full unit.
      return value && isHeld(value)
        ? { ...value, kind: claim.quantity.unit?.kind ?? 'number' }
        : (value ?? nothing(claim));
    }
    case 'm/z':
      return owner.measured?.find((m) => m.kind === 'HRMS')?.calculated ?? nothing(claim);
    case 'element': {
      const value = owner.measured?.find((m) => m.what === owner.elements?.get(claim))?.calculated;
      // Percentages of elements are written without a unit.
      return value && isHeld(value) && !claim.quantity.unit
        ? { ...value, kind: 'number', value: value.value.times(100) }
        : (value ?? nothing(claim));
    }
    default:
      return nothing(claim);
  }
}

/** A crop's claim may be its own yield or that of all crops together. */
function bestYield(claim: Claim, product: ProductValue): Result {
  const { yield: own, stageYield } = product;
  if (!stageYield || !isHeld(own)) return own;
  return agreeWithAny(claim.quantity, [own]) === 'no' && agreeWithAny(claim.quantity, [stageYield]) !== 'no'
    ? stageYield
    : own;
}

/** Purified over the stage before it, and over what was charged of the same substance: a page that only purifies. */
function recoveries(product: ProductValue, { products, charges }: Draft): Held[] {
  const now = held(product.amount);
  if (!now) return [];
  const before = products
    .slice(0, products.indexOf(product))
    .findLast((p) => p.superseded && p.product.name.text === product.product.name.text);
  const key = carriedKey(product);
  const put = charges.filter((c) => key !== undefined && carriedKey(c) === key).map((c) => held(c.amount));
  const charged = put.includes(undefined)
    ? undefined
    : total(
        put.flatMap((n) => n ?? []),
        'n',
      );
  const over = (base: Held | undefined, symbol: string): Held[] => {
    const share =
      base &&
      divide('ratio', now, base, {
        formula: `n ÷ ${symbol}`,
        inputs: [
          { symbol: 'n', held: now },
          { symbol, held: base },
        ],
      });
    return share ? [share] : [];
  };
  return [...over(before && held(before.amount), 'n(before)'), ...over(charged, 'n(charged)')];
}

/** Loss on drying: first gross to last, over the first net. Of a dispensed mass there is none. */
function lossOf(taken: TakenValue | undefined, claim: Claim, materials: Materials): Result {
  const weighing = taken?.weighing;
  const grosses = weighing?.readings.filter((r) => r.what === 'gross') ?? [];
  const tare = weighing?.tare?.held;
  if (!tare || grosses.length < 2 || !weighing?.gross) return nothing(claim);
  const first = materials.readings(grosses[0]!.datum, weighing.balance);
  if (first.kind !== 'mass') return nothing(claim);
  const lost = subtract(first, weighing.gross.held, {
    formula: 'first − last',
    inputs: [
      { symbol: 'first', held: first },
      { symbol: 'last', held: weighing.gross.held },
    ],
  });
  const net = subtract(first, tare, {
    formula: 'first − tare',
    inputs: [
      { symbol: 'first', held: first },
      { symbol: 'tare', held: tare },
    ],
  });
  return (
    divide('ratio', lost, net, {
      formula: 'lost ÷ net',
      inputs: [
        { symbol: 'lost', held: lost },
        { symbol: 'net', held: net },
      ],
    }) ?? nothing(claim)
  );
}

const reactionOf = (owner: Owner, values: Draft): ReactionValue | undefined =>
  owner.what === 'recovered'
    ? values.reactions.find((r) => r.limiting?.term.term.name.target === owner.taken?.material)
    : undefined;

/** A claim in a unit of another kind than its value is a matter for `claim-unit`. */
function comparable(claim: Claim, value: Held): boolean {
  const kind = claim.quantity.unit?.kind ?? 'number';
  if (kind === value.kind) return true;
  const ratios = new Set<string>(['ratio', 'massFraction', 'amountRatio', 'equivalents', 'massRatio']);
  if (ratios.has(kind) && ratios.has(value.kind)) return true;
  if (value.kind === 'other' || value.kind === 'number') return kind === 'number';
  const perVolume = new Set<string>(['density', 'massPerVolume']);
  return perVolume.has(kind) && perVolume.has(value.kind);
}

// ── the group as written ─────────────────────────────────────────────────────────────────────────────────────────

/** What the number follows from when the others of its group are taken as they stand. */
function alternatives(property: Property, claim: Claim, owner: Owner, values: Draft): Held[] {
  const others = owner.claims.filter(
    (c) => c !== claim && c.group === claim.group && !c.quantity.about && !c.quantity.to,
  );
  const written = (...wanted: Property[]): Held[] =>
    others.filter((c) => wanted.includes(propertyOf(c, owner))).map((c) => asWritten(c));
  const { taken, reaction, theory } = owner;
  const substance = taken?.substance;
  const molarMass = substance && held(substance.molarMass);
  const masses = written('mass', 'net');
  const amounts = written('amount');
  // A mass may follow from an amount only if that is right by itself: else two wrong numbers would hold each other up.
  const measured = taken && held(taken.amount);
  const grounded = others
    .filter((c) => propertyOf(c, owner) === 'amount' && measured && agreeWithAny(c.quantity, [measured]) !== 'no')
    .map((c) => asWritten(c));
  const fromMass = (): Held[] =>
    substance && !taken?.solution ? masses.flatMap((m) => held(amountFromMass(m, substance, taken?.purity)) ?? []) : [];
  switch (property) {
    case 'amount':
      return fromMass();
    case 'mass':
      return molarMass && !taken?.solution ? grounded.flatMap((n) => massFrom(n, molarMass, taken?.purity) ?? []) : [];
    case 'equiv':
    case 'mol%': {
      const limiting = reaction?.limiting?.amount;
      const kind = property === 'equiv' ? 'equivalents' : 'amountRatio';
      return limiting
        ? [...amounts, ...fromMass()].flatMap(
            (n) =>
              divide(kind, n, limiting, {
                formula: 'n ÷ n(limiting)',
                inputs: [
                  { symbol: 'n', held: n },
                  { symbol: 'n(limiting)', held: limiting },
                ],
              }) ?? [],
          )
        : [];
    }
    case 'yield':
      return theory ? [...amounts, ...fromMass()].flatMap((n) => held(yieldOf(n, theory.amount)) ?? []) : [];
    case 'recovery':
      return owner.product ? recoveries(owner.product, values).slice(1) : [];
    default:
      return [];
  }
}

/** m = n · M ÷ w; undefined where nothing of it is the substance. */
function massFrom(n: Held, molarMass: Held, purity: Held | undefined): Held | undefined {
  const inputs = [
    { symbol: 'n', held: n },
    { symbol: 'M', held: molarMass },
  ];
  const pure = multiply('mass', n, molarMass, { formula: 'n · M', inputs });
  if (!purity || isPure(purity)) return pure;
  return divide('mass', pure, purity, { formula: 'n · M ÷ w', inputs: [...inputs, { symbol: 'w', held: purity }] });
}

/** All substances a molar mass could have been taken from by mistake. */
function otherSubstances(values: Draft, materials: Materials): SubstanceValue[] {
  const found = new Map<string, SubstanceValue>();
  const enter = (material: Material | undefined): void => {
    if (material?.kind === 'substance') found.set(materialKey(material), materials.substance(material));
  };
  for (const s of values.page.substances) enter(s);
  for (const r of values.page.reactions) for (const t of [...r.left, ...r.right]) enter(t.name.target);
  for (const c of values.page.charges) enter(c.name.target);
  return [...found.values()];
}
