/** The door: a page, names resolved, becomes held values. Pure; no messages, no spans of its own. */
import type { BatchRef, Charge, Material, NameRef, Page, Product, Solution, Substance } from '../model/page';
import { materialKey } from '../model/scope';
import {
  divide,
  exact,
  type Held,
  held,
  isHeld,
  multiply,
  type Result,
  subtract,
  total,
  unknown,
} from '../quantity/held';
import { claimValues } from './claims';
import { considerationValue } from './consider';
import { usedValues } from './evidence';
import { ledgerOf, sampleValue, wasteValue } from './ledger';
import { measuredValue } from './measured';
import { metricsOf } from './metrics';
import { withMolality } from './molality';
import { neutralisationValues } from './neutralise';
import { batchBehind } from './outcome';
import { planValues } from './plan';
import {
  basedOnRecovered,
  type Charged,
  carriedKey,
  conversionOf,
  reactionValues,
  reactionWith,
  unresolvedKey,
  yieldOf,
} from './reaction';
import { createReadings } from './readings';
import type { Materials } from './solution';
import { solutionValue } from './solution';
import { measurementValues } from './spectra';
import { createStandards } from './standards';
import { isPure, substanceValue } from './substance';
import { taken } from './taken';
import { testValues } from './tests';
import type {
  ChargeValue,
  ProductValue,
  ReactionValue,
  RecoveredValue,
  SolutionValue,
  SubstanceValue,
  TakenValue,
  Values,
  WeighingValue,
  WeighValue,
} from './values';
import { collectTares, weigh } from './weighing';

/** Yield over the pages that made a batch, 1; undefined where a step of it is not known. */
export type OverallYield = (batch: BatchRef) => number | undefined;

export function compute(page: Page, lookUp: (text: string) => NameRef, overallOf: OverallYield): Values {
  const readings = createReadings();
  const materials = createMaterials(readings, lookUp, (block) => at(block));
  const tares = collectTares(page);
  const weighings: WeighingValue[] = [];
  const weighed = (
    facts: Charge['amount']['weighing'],
    owner: Parameters<typeof weigh>[1],
  ): WeighingValue | undefined => {
    const value = weigh(facts, owner, tares, readings);
    if (value) weighings.push(value);
    return value;
  };

  const { at, titrations } = createStandards(page, materials, weighed);

  for (const vessel of page.vessels) {
    const balance = page.balances.length === 1 ? page.balances[0] : undefined;
    weighed(
      {
        readings: vessel.tares,
        ...(balance && { balance: { text: balance.name, span: balance.span, target: balance } }),
      },
      {
        entry: vessel.entry,
        subject: vessel.name,
        vessel,
      },
    );
  }

  const weighs = page.weighs.map((statement): WeighValue => {
    const { name, amount, vessel } = statement;
    const weighing = weighed(amount.weighing, {
      entry: statement.entry,
      subject: name.text,
      ...(vessel && { vessel }),
    });
    const value = taken(
      { amount, subject: name.text, ...(name.target && { material: name.target }), ...(weighing && { weighing }) },
      materials,
    );
    return { ...value, weigh: statement };
  });
  const sumOfWeighs = (name: NameRef): Result => {
    const key = name.target && materialKey(name.target);
    const own = weighs.filter((w) =>
      key ? w.material && materialKey(w.material) === key : w.weigh.name.text === name.text,
    );
    const unread = own.find((w) => w.weighing && !isHeld(w.mass));
    const nets = own.flatMap((w) => held(w.mass) ?? []);
    return unread?.mass ?? total(nets, 'm') ?? unknown('amount-missing', `a weighing of ${name.text}`);
  };

  const chargeTaken = page.charges.map((charge) => {
    const { name, amount, entry } = charge;
    const weighing = weighed(amount.weighing, { entry, subject: name.text });
    return taken(
      {
        amount,
        subject: name.text,
        ...(name.target && { material: name.target }),
        ...(weighing && { weighing }),
        ...(amount.word?.word === 'weighed' && { weighed: sumOfWeighs(name) }),
        ...(charge.temperature && { temperature: charge.temperature }),
        ...(charge.pressure && { pressure: charge.pressure }),
      },
      at(entry.block),
    );
  });
  const charged = chargeTaken.map((value, i): Charged => {
    const charge = page.charges[i]!;
    const key = carriedKey(value) ?? (charge.name.several ? undefined : unresolvedKey(charge.name));
    return { ...value, roles: charge.roles.map((r) => r.role), block: charge.entry.block, ...(key && { key }) };
  });

  const productTaken = page.products.map((product) => {
    const { name, amount, entry } = product;
    const weighing = weighed(amount.weighing, { entry, subject: name.text });
    return withoutImpurities(
      product,
      taken(
        {
          amount,
          subject: name.text,
          ...(name.target && { material: name.target }),
          ...(weighing && { weighing }),
          ...(amount.word?.word === 'weighed' && { weighed: sumOfWeighs(name) }),
          purity: purityOf(product, readings),
        },
        materials,
      ),
    );
  });
  const superseded = page.products.map((product, i) => isSuperseded(page.products, product, i));

  const isolated = (material: Material): Result | undefined => {
    const amounts = productTaken
      .filter((v, i) => !superseded[i] && carriedKey(v) === materialKey(material))
      .map((v) => v.amount);
    if (amounts.length === 0) return undefined;
    return (
      amounts.find((a) => !isHeld(a)) ??
      total(
        amounts.flatMap((a) => held(a) ?? []),
        'n',
      )
    );
  };
  const reactions = reactionValues({
    reactions: page.reactions,
    charges: charged,
    substance: (material) => (material.kind === 'substance' ? materials.substance(material) : undefined),
    isolated,
  });
  const reactionValueOf = (reaction: ReactionValue['reaction'] | undefined): ReactionValue | undefined =>
    reactions.find((r) => r.reaction === reaction);

  const charges = chargeTaken.map((value, i): ChargeValue => {
    const charge = page.charges[i]!;
    const found = reactionWith(page.reactions, 'left', charged[i]!.key, charge.entry.block);
    const reaction = reactionValueOf(found?.reaction) ?? nearestReaction(i, page, charged, reactionValueOf);
    return {
      ...value,
      charge,
      ...(reaction && { reaction }),
      ...(found && { term: found.term }),
      equiv: equivalents(value.amount, reaction),
    };
  });

  const recovered = page.recovered.map((line): RecoveredValue => {
    const weighing = weighed(line.amount.weighing, { entry: line.entry, subject: line.name.text });
    const value = taken(
      {
        amount: line.amount,
        subject: line.name.text,
        ...(line.name.target && { material: line.name.target }),
        ...(weighing && { weighing }),
        ...(line.purity && { purity: purityOf(line, readings) }),
      },
      materials,
    );
    const key = carriedKey(value);
    const own = charges.filter((c) => key !== undefined && carriedKey(c) === key);
    const put = total(
      own.flatMap((c) => held(c.amount) ?? []),
      'n',
    );
    const got = held(value.amount);
    const share =
      put &&
      got &&
      divide('ratio', got, put, {
        formula: 'n(recovered) ÷ n',
        inputs: [
          { symbol: 'n(recovered)', held: got },
          { symbol: 'n', held: put },
        ],
      });
    return {
      ...value,
      recovered: line,
      recovery: share ?? (got ? unknown('not-charged', `a charge of ${line.name.text}`) : value.amount),
    };
  });

  const converted = reactions.map((value) => withConversion(value, recovered));
  const convertedOf = (value: ReactionValue | undefined): ReactionValue | undefined =>
    value && converted[reactions.indexOf(value)];

  const products = productTaken.map((value, i): ProductValue => {
    const product = page.products[i]!;
    const found = reactionWith(page.reactions, 'right', carriedKey(value), Number.POSITIVE_INFINITY);
    const reaction = convertedOf(reactionValueOf(found?.reaction));
    const theory = reaction?.theoretical.find((t) => t.term === found?.term);
    const missing = unknown('no-reaction', `a reaction that makes ${product.name.text}`);
    const yields = theory ? yieldOf(value.amount, theory.amount) : missing;
    const stage = stageAmount(page.products, productTaken, i);
    const stageYield = theory && stage ? held(yieldOf(stage, theory.amount)) : undefined;
    const y = held(yields);
    // In a resolution the other enantiomer comes back: that is no unused starting material.
    const batch = batchBehind(reaction, charges);
    const overall = overallYield(stageYield ?? y, batch && overallOf(batch));
    const brsm =
      y &&
      reaction?.conversion &&
      !reaction.reaction.resolution &&
      basedOnRecovered(stageYield ?? y, reaction.conversion);
    return {
      ...value,
      product,
      yield: yields,
      superseded: superseded[i]!,
      ...(reaction && { reaction }),
      ...(theory && { theory }),
      ...(stageYield && { stageYield }),
      ...(brsm && { brsm }),
      ...(overall && { overall }),
    };
  });

  const substances = page.substances.map((s) => materials.substance(s));
  const measurements = page.measurements.flatMap((m) => {
    const target = m.name.target;
    return measurementValues(m, target?.kind === 'substance' ? materials.substance(target) : undefined, readings);
  });
  const { plans, planned } = planValues({ page, reactions: converted, at });
  const samples = page.samples.map((sample) => sampleValue(sample, products, materials));
  const wastes = page.wastes.map((waste) => wasteValue(waste, materials));
  const used = usedValues(page, materials);
  const ledger = ledgerOf({ charges, reactions: converted, products, recovered, samples, wastes, used });
  const draft: Omit<Values, 'claims'> = {
    page,
    substances,
    solutions: page.solutions.map((s) => withMolality(materials.solution(s), materials)),
    weighings,
    charges,
    reactions: converted,
    weighs,
    products,
    recovered,
    titrations: titrations(),
    plans,
    planned,
    considerations: page.considerations.map((consideration) =>
      considerationValue(consideration, {
        products,
        charges,
        reactions: converted,
        planned: [...plans, ...planned],
        materials: at(consideration.entry.block),
        superseded: isSuperseded,
      }),
    ),
    measurements,
    tests: testValues(page),
    measured: page.measured.flatMap((m) => {
      const target = m.name.target;
      return measuredValue(m, target?.kind === 'substance' ? materials.substance(target) : undefined, readings) ?? [];
    }),
    used,
    samples,
    wastes,
    neutralisations: neutralisationValues(page, charges, materials),
    ...(ledger && { ledger }),
    ...metricsOf(charges, products),
  };
  return { ...draft, claims: claimValues(draft, materials) };
}

function createMaterials(
  readings: Materials['readings'],
  lookUp: (text: string) => NameRef,
  at: (block: number) => Materials,
): Materials {
  const substances = new Map<Substance, SubstanceValue>();
  const solutions = new Map<Solution, SolutionValue>();
  const materials: Materials = {
    readings,
    substance(substance) {
      let value = substances.get(substance);
      if (!value) {
        value = substanceValue(substance, readings, lookUp);
        substances.set(substance, value);
      }
      return value;
    },
    solution(solution) {
      let value = solutions.get(solution);
      if (!value) {
        const circular = unknown('depends', `a solution that ${solution.name} is not itself made from`);
        solutions.set(solution, {
          solution,
          concentration: circular,
          massFraction: circular,
          massConcentration: circular,
          soluteMass: circular,
          density: circular,
        });
        const { entry, where } = solution;
        value = solutionValue(solution, entry && where.kind === 'page' ? at(entry.block) : materials);
        solutions.set(solution, value);
      }
      return value;
    },
  };
  return materials;
}

// ── products ─────────────────────────────────────────────────────────────────────────────────────────────────────

/** The yield of this page times that of the pages before; without a batch it is the page's own and says nothing new. */
function overallYield(own: Held | undefined, before: number | undefined): Held | undefined {
  if (!own || before === undefined) return undefined;
  const upstream = exact('ratio', before);
  const inputs = [
    { symbol: 'Y', held: own },
    { symbol: 'Y(before)', held: upstream },
  ];
  return multiply('ratio', own, upstream, { formula: 'Y · Y(before)', inputs });
}

/** Only the product's own assay: that of its `substance` line belongs to what was bought. */
function purityOf(product: Pick<Product, 'purity'>, readings: Materials['readings']): Held {
  const purity = product.purity && readings(product.purity);
  return purity &&
    (purity.kind === 'ratio' || purity.kind === 'massFraction') &&
    purity.value.gt(0) &&
    purity.value.lte(1)
    ? { ...purity, kind: 'ratio' }
    : exact('ratio', 1);
}

/** `contains ethyl acetate 8 wt%`: the amount of product is that of the rest. */
function withoutImpurities(product: Product, value: TakenValue): TakenValue {
  const amount = held(value.amount);
  if (!amount || product.contains.length === 0) return value;
  let rest: Held = exact('ratio', 1);
  for (const { fraction } of product.contains) {
    const { quantity } = fraction;
    if (quantity.unit?.kind !== 'massFraction' && quantity.unit?.kind !== 'ratio') continue;
    const w = exact('ratio', quantity.number.value.times(quantity.unit.factor));
    rest = subtract(rest, w, { formula: '1 − w', inputs: [{ symbol: 'w', held: w }] });
  }
  const inputs = [
    { symbol: 'n', held: amount },
    { symbol: '(1−w)', held: rest },
  ];
  const { purity } = value;
  return {
    ...value,
    ...(purity && { purity: isPure(purity) ? rest : less(purity, rest) }),
    amount: multiply('amount', amount, rest, { formula: 'n · (1−w)', inputs }),
  };
}

const less = (purity: Held, rest: Held): Held => {
  const inputs = [
    { symbol: 'w', held: purity },
    { symbol: '(1−w)', held: rest },
  ];
  return multiply('ratio', purity, rest, { formula: 'w · (1−w)', inputs });
};

const sameSubstance = (a: Product, b: Product): boolean =>
  a.name.target && b.name.target
    ? materialKey(a.name.target) === materialKey(b.name.target)
    : a.name.text === b.name.text;

/** Crops, fractions and labels of one stage add up; a later line of another stage replaces the earlier ones. */
function isSuperseded(products: readonly Product[], product: Product, i: number): boolean {
  return products.some((later, j) => j > i && sameSubstance(product, later) && !sameStage(product, later));
}

const isPart = (p: Product): boolean => p.part !== undefined || p.label !== undefined;

/** A crop that does not say its stage belongs to the line before it, but not to a crude product that went into it. */
const sameStage = (a: Product, b: Product): boolean =>
  (isPart(a) || isPart(b)) &&
  (a.stage?.text === b.stage?.text || ((!a.stage || !b.stage) && !isCrudeWhole(a) && !isCrudeWhole(b)));

const isCrudeWhole = (p: Product): boolean => p.stage?.text === 'crude' && !isPart(p);

/** Amount of all lines that add up with this one; undefined when it stands alone. */
function stageAmount(
  products: readonly Product[],
  values: readonly { readonly amount: Result }[],
  i: number,
): Result | undefined {
  const own = products[i]!;
  const together = products.flatMap((p, j) =>
    j === i || (sameSubstance(p, own) && sameStage(p, own)) ? [values[j]!.amount] : [],
  );
  if (together.length < 2) return undefined;
  return (
    together.find((a) => !isHeld(a)) ??
    total(
      together.flatMap((a) => held(a) ?? []),
      'n',
    )
  );
}

// ── charges ──────────────────────────────────────────────────────────────────────────────────────────────────────

/** A catalyst belongs to the reaction of the charges round it. */
function nearestReaction(
  i: number,
  page: Page,
  charged: readonly Charged[],
  reactionValueOf: (r: ReactionValue['reaction'] | undefined) => ReactionValue | undefined,
): ReactionValue | undefined {
  if (page.reactions.length === 1) return reactionValueOf(page.reactions[0]);
  for (let d = 1; d < charged.length; d++) {
    for (const j of [i - d, i + d]) {
      const found = charged[j] && reactionWith(page.reactions, 'left', charged[j].key, charged[j].block);
      if (found) return reactionValueOf(found.reaction);
    }
  }
  return undefined;
}

export function equivalents(amount: Result, reaction: ReactionValue | undefined): Result {
  const n = held(amount);
  if (!n) return amount;
  if (!reaction) return unknown('no-reaction', 'a reaction');
  const limiting = reaction.limiting?.amount;
  if (!limiting) return unknown('no-limiting', 'a limiting reactant');
  const inputs = [
    { symbol: 'n', held: n },
    { symbol: 'n(limiting)', held: limiting },
  ];
  return (
    divide('equivalents', n, limiting, { formula: 'n ÷ n(limiting)', inputs }) ??
    unknown('no-limiting', 'a limiting reactant')
  );
}

function withConversion(value: ReactionValue, recovered: readonly RecoveredValue[]): ReactionValue {
  const limiting = value.limiting;
  const key = limiting?.term.term.name.target && materialKey(limiting.term.term.name.target);
  const own = recovered.filter((r) => key !== undefined && carriedKey(r) === key).flatMap((r) => held(r.amount) ?? []);
  const sum = total(own, 'n');
  const conversion = limiting && sum && conversionOf(sum, limiting.amount);
  return conversion ? { ...value, conversion } : value;
}
