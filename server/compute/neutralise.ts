/**
 * Acid and base that meet: how much is needed, what was added, the gas and the heat. And the gas that other charges of
 * a page can set free when they meet.
 */
import type { Charge, NameRef, Page } from '../model/page';
import { materialKey } from '../model/scope';
import type { Neutralisation } from '../model/waste';
import { Decimal } from '../quantity/decimal';
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
import { type Protons, protonsOf } from './acid-base';
import { substancesOf } from './contents';
import { activeOf, type GasSource, gasSource, gasVolume } from './gas';
import { coefficient } from './reaction';
import { groupsOf } from './reactive-groups';
import type { Materials } from './solution';
import { taken } from './taken';
import type { ChargeValue } from './values';

/**
 * Enthalpy of strong acid with strong base, J per mole of water formed, about 20 °C: 55.8 kJ/mol at 25 °C and a heat
 * capacity of −0.2 kJ/(mol K) (Goldberg, Kishore, Lennen, J. Phys. Chem. Ref. Data 2002, 31, 231; from memory).
 */
const HEAT_KJ_PER_MOL = 57;
const HEAT_SOURCE = 'strong acid with strong base, about 57 kJ/mol (J. Phys. Chem. Ref. Data 2002, 31, 231)';

export interface NeutralisationValue {
  readonly neutralisation: Neutralisation;
  /** What the reagent is. */
  readonly reagent?: Protons;
  /** Protons to be taken up or given, mol; of a text (`wash water`) at most all that the page charged. */
  readonly there: Result;
  /** The charges that it was summed from. */
  readonly from: readonly Charge[];
  /** The page says what was neutralised; else `there` is an upper limit. */
  readonly certain: boolean;
  /** Reagent needed: mol, and g as taken or mL where that can be worked out. */
  readonly needed: Result;
  readonly neededMass: Result;
  readonly neededVolume: Result;
  /** Reagent added, mol. */
  readonly added: Result;
  /** Protons that the reagent added can take or give, mol. */
  readonly addedProtons: Result;
  /** How much of the protons is left over, mol; absent when enough was added or nobody knows. */
  readonly short?: Held;
  readonly gas?: GasValue;
  /** kJ; strong acid with strong base only. */
  readonly heat?: Held;
}

export interface GasValue {
  readonly gas: string;
  readonly toxic: boolean;
  /** mol */
  readonly amount: Held;
  /** mL at 20 °C and 101.325 kPa. */
  readonly volume: Held;
  /** What gives it, and what sets it free. */
  readonly source: NameRef;
  readonly by: readonly NameRef[];
  /** The line where they meet. */
  readonly block: number;
}

export function neutralisationValues(
  page: Page,
  charges: readonly ChargeValue[],
  materials: Materials,
): readonly NeutralisationValue[] {
  return page.neutralisations.map((neutralisation) => neutralised(neutralisation, charges, materials));
}

function neutralised(n: Neutralisation, charges: readonly ChargeValue[], materials: Materials): NeutralisationValue {
  const pH = n.pH && materials.readings(n.pH).value.toNumber();
  const material = n.with?.target;
  const substance = material && substancesOf(material)[0];
  const reagent = substance && protonsOf(substance, pH);
  const nothing = unknown('substance-unknown', n.with ? `what ${n.with.text} is` : 'a name after “with”');
  const base: NeutralisationValue = {
    neutralisation: n,
    there: nothing,
    from: [],
    certain: false,
    needed: nothing,
    neededMass: nothing,
    neededVolume: nothing,
    added: nothing,
    addedProtons: nothing,
  };
  if (!material || !substance || !reagent) return base;
  const { there, from, certain } = protonsThere(n, reagent, charges, materialKey(substance), pH);
  const perMole = exact('number', reagent.count, { from: 'rule', says: `protons a mole of ${substance.name}` });
  const protons = held(there);
  const needed: Result = protons ? dividedBy(protons, perMole) : there;
  const of = (amount: Held) =>
    taken(
      {
        amount: {
          quantities: [],
          weighing: { readings: [] },
          word: { word: 'weighed', span: n.entry.mark },
          ...strengthOf(n, material),
        },
        weighed: amount,
        subject: substance.name,
        material,
      },
      materials,
    );
  const toTake = isHeld(needed) ? of(needed) : undefined;
  const addedTaken = n.quantity && takenOf(n, material.name, material, materials);
  const added: Result = addedTaken?.amount ?? unknown('amount-missing', `how much ${substance.name} was added`);
  const addedProtons: Result = isHeld(added) ? times(added, perMole, 'protons') : added;
  const short = certain && protons && isHeld(addedProtons) ? shortBy(protons, addedProtons) : undefined;
  const reacts = protons && (isHeld(addedProtons) && addedProtons.value.lt(protons.value) ? addedProtons : protons);
  const gas = reacts && gasOf(n, substance, from, reacts);
  const strong = reagent.strong && from.length > 0 && from.every((charge) => isStrong(charge, charges));
  const heat = strong && reacts ? heatOf(reacts) : undefined;
  return {
    ...base,
    reagent,
    there,
    from,
    certain,
    needed,
    neededMass: toTake?.mass ?? needed,
    neededVolume: toTake?.volume ?? needed,
    added,
    addedProtons,
    ...(short && { short }),
    ...(gas && { gas }),
    ...(heat && { heat }),
  };
}

function takenOf(n: Neutralisation, subject: string, material: NonNullable<NameRef['target']>, materials: Materials) {
  return taken(
    {
      amount: {
        quantities: n.quantity ? [n.quantity] : [],
        weighing: { readings: [] },
        ...strengthOf(n, material),
      },
      subject,
      material,
    },
    materials,
  );
}

/** `with 30 mL 2.00 M sodium hydroxide`: a solution that has no line of its own. */
const strengthOf = ({ strength }: Neutralisation, { kind }: NonNullable<NameRef['target']>) =>
  strength && kind === 'substance' ? { strength: { datum: strength } } : {};

/** Protons of the substance that is named, else of all acids (or bases) of the page that are not used up. */
function protonsThere(
  n: Neutralisation,
  reagent: Protons,
  charges: readonly ChargeValue[],
  reagentKey: string,
  pH: number | undefined,
): { there: Result; from: readonly Charge[]; certain: boolean } {
  const wanted = reagent.kind === 'acid' ? 'base' : 'acid';
  const target = n.what.target;
  const own = charges.filter(
    (c) => c.charge.entry.block < n.entry.block && (!target || (c.material && sameMatter(c, target))),
  );
  const parts: Held[] = [];
  const from: Charge[] = [];
  let missing: Result | undefined;
  for (const c of own) {
    const substance = activeOf(c);
    const protons = substance && protonsOf(substance, pH);
    if (protons?.kind !== wanted || materialKey(substance!) === reagentKey) continue;
    const left = leftOver(c, reagentKey);
    if (!isHeld(left)) missing ??= left;
    else if (left.value.gt(0)) {
      const each = exact('number', protons.count, { from: 'rule', says: `protons a mole of ${substance!.name}` });
      parts.push(times(left, each, 'protons'));
      from.push(c.charge);
    }
  }
  const sum = total(parts, 'n');
  const none = unknown(
    'not-charged',
    `a charge of ${target ? n.what.text : `an ${wanted}`}`.replace('an base', 'a base'),
  );
  return { there: missing ?? sum ?? none, from, certain: target !== undefined && sum !== undefined };
}

function sameMatter(c: ChargeValue, target: NonNullable<NameRef['target']>): boolean {
  if (c.material && materialKey(c.material) === materialKey(target)) return true;
  const active = activeOf(c);
  const other = substancesOf(target)[0];
  return active !== undefined && other !== undefined && materialKey(active) === materialKey(other);
}

/** What the page's reaction leaves of a charge; a reaction with the reagent itself is the neutralising. */
function leftOver(c: ChargeValue, reagentKey: string): Result {
  const { amount, term, reaction } = c;
  const n = held(amount);
  if (!n) return c.unlimited ? unknown('amount-missing', `an amount of ${c.charge.name.text}`) : amount;
  if (!term || !reaction) return n;
  const withReagent = reaction.left.some(
    ({ substance }) => substance && materialKey(substance.substance) === reagentKey,
  );
  const extent = held(reaction.extent);
  if (withReagent) return n;
  if (!extent) return reaction.extent;
  const used = times(extent, exact('number', coefficient(term)), 'used');
  return subtract(n, used, {
    formula: 'n − n(used)',
    inputs: [
      { symbol: 'n', held: n },
      { symbol: 'n(used)', held: used },
    ],
  });
}

const times = (a: Held, b: Held, what: 'protons' | 'used' | 'gas'): Held => {
  const symbol = what === 'used' ? 'ν' : 'z';
  return multiply('amount', a, b, {
    formula: `n · ${symbol}`,
    inputs: [
      { symbol: 'n', held: a },
      { symbol, held: b },
    ],
  });
};

const dividedBy = (a: Held, b: Held): Result =>
  divide('amount', a, b, {
    formula: 'n ÷ z',
    inputs: [
      { symbol: 'n', held: a },
      { symbol: 'z', held: b },
    ],
  }) ?? unknown('unit-kind', 'a number of protons');

/** Beyond two standard uncertainties and a hundredth: a spoonful more or less is no shortage. */
function shortBy(there: Held, added: Held): Held | undefined {
  const short = subtract(there, added, {
    formula: 'n(there) − n(added)',
    inputs: [
      { symbol: 'n(there)', held: there },
      { symbol: 'n(added)', held: added },
    ],
  });
  let square = 0;
  for (const share of short.parts.values()) square += share * share;
  const quiet = Decimal.max(new Decimal(2 * Math.sqrt(square)), there.value.times('0.01'));
  return short.value.gt(quiet) ? short : undefined;
}

function isStrong(charge: Charge, charges: readonly ChargeValue[]): boolean {
  const value = charges.find((c) => c.charge === charge);
  const substance = value && activeOf(value);
  return substance !== undefined && protonsOf(substance)?.strong === true;
}

/** kJ; the kind has no unit of its own. */
function heatOf(protons: Held): Held {
  const each = exact('other', HEAT_KJ_PER_MOL, { from: 'table', source: HEAT_SOURCE });
  return multiply('other', protons, each, {
    formula: 'n · ΔH',
    inputs: [
      { symbol: 'n', held: protons },
      { symbol: 'ΔH', held: each },
    ],
  });
}

/** The salt is the reagent, or what was neutralised. */
function gasOf(
  n: Neutralisation,
  reagent: Parameters<typeof gasSource>[0],
  from: readonly Charge[],
  protons: Held,
): GasValue | undefined {
  const mine = gasSource(reagent);
  if (mine?.by === 'acid')
    return gasValue(
      mine,
      protons,
      n.with!,
      from.map((charge) => charge.name),
      n.entry.block,
    );
  const single = from.length === 1 ? from[0] : undefined;
  const other = single?.name.target && substancesOf(single.name.target)[0];
  const theirs = other && gasSource(other);
  return theirs?.by === 'acid' && single && n.with
    ? gasValue(theirs, protons, single.name, [n.with], n.entry.block)
    : undefined;
}

function gasValue(
  source: GasSource,
  protons: Held,
  name: NameRef,
  by: readonly NameRef[],
  block: number,
): GasValue | undefined {
  const ratio = exact('number', new Decimal(source.perMole).div(source.protons), {
    from: 'rule',
    says: `${source.gas} for each proton`,
  });
  const amount = times(protons, ratio, 'gas');
  return { gas: source.gas, toxic: source.toxic, amount, volume: gasVolume(amount), source: name, by, block };
}

/** Roles that are kept apart from the reaction or stand above it. */
const APART: ReadonlySet<string> = new Set(['drying agent', 'atmosphere', 'internal standard', 'eluent']);

/** Gas from charges of one reaction that are no reactants of one equation: a carbonate and an acid, a hydride and water. */
export function gasFromCharges(charges: readonly ChargeValue[]): readonly GasValue[] {
  const active = charges.flatMap((c) => {
    const substance = activeOf(c);
    return substance && !c.charge.roles.some(({ role }) => APART.has(role)) ? [{ c, substance }] : [];
  });
  return active.flatMap(({ c, substance }): GasValue[] => {
    const source = gasSource(substance);
    if (!source) return [];
    const own = held(leftOver(c, ''));
    if (!own || own.value.lte(0)) return [];
    const partners = active.filter(
      (other) => other.c !== c && other.c.reaction === c.reaction && frees(other.substance, source),
    );
    const amounts = partners.map((other) => protonsFrom(other.c, other.substance));
    if (partners.length === 0 || (amounts.every((a) => !a) && !partners.some((p) => p.c.unlimited))) return [];
    const able = times(own, exact('number', source.protons), 'protons');
    const given = total(
      amounts.flatMap((a) => a ?? []),
      'n',
    );
    const enough = partners.some((p) => p.c.unlimited) || !given || given.value.gte(able.value);
    const protons = enough ? able : given;
    if (protons.value.lte(0)) return [];
    const last = [c, ...partners.map((p) => p.c)].sort((a, b) => b.charge.entry.block - a.charge.entry.block)[0]!;
    const names = partners.map((p) => p.c.charge.name);
    return [gasValue(source, protons, c.charge.name, names, last.charge.entry.block) ?? []].flat();
  });
}

const frees = (substance: Parameters<typeof gasSource>[0], source: GasSource): boolean =>
  protonsOf(substance)?.kind === 'acid' || (source.by === 'protic' && isProtic(substance));

const isProtic = (substance: Parameters<typeof gasSource>[0]): boolean =>
  PROTIC.some((group) => groupsOf(substance).has(group));

const PROTIC = ['water', 'alcohol'];

function protonsFrom(c: ChargeValue, substance: Parameters<typeof gasSource>[0]): Held | undefined {
  const left = held(leftOver(c, ''));
  if (!left || left.value.lte(0)) return undefined;
  return times(left, exact('number', protonsOf(substance)?.count ?? 1), 'protons');
}
