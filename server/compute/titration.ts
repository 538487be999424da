/**
 * Titrations: each run, the mean of all, how far they scatter.
 *
 * The standard uncertainty of the mean takes what all runs share (molar mass, purity, one burette's limit of error, the
 * titrant's strength) as it stands. What differs from run to run is known twice, from the readings and from the
 * scatter, and the larger of the two counts (JCGM 100:2008 4.2.3 for s/√n, 4.3.10 against counting an effect twice).
 */

import type { Glassware } from '../model/glassware';
import type { Entry, Material, NameRef, Page, Substance, WeighingFacts } from '../model/page';
import type { Delivered, Titration, TitrationRun } from '../model/titration';
import { Decimal } from '../quantity/decimal';
import {
  divide,
  exact,
  type Held,
  held,
  isHeld,
  type Leaf,
  multiply,
  type Result,
  reading,
  relabel,
  subtract,
  unknown,
} from '../quantity/held';
import { type Partner, type Ratio, ratioOf } from './equivalence';
import { type Materials, massConcentrationOf } from './solution';
import { inlineSolution, taken } from './taken';
import type { SubstanceValue, TakenValue, TitrationRunValue, TitrationValue, WeighingValue } from './values';

export interface TitrationContext {
  readonly page: Page;
  /** Materials as they are known where the titration stands. */
  readonly materials: Materials;
  readonly weighed: (facts: WeighingFacts, owner: { entry: Entry; subject: string }) => WeighingValue | undefined;
}

export function titrationValue(titration: Titration, context: TitrationContext): TitrationValue {
  const { materials, page } = context;
  const { entry, name, other, way } = titration;
  const analyte = partner(titration.analyte ?? name, materials);
  const ratio = ratioOf(analyte, partner(other, materials), page.reactions, entry.block);
  const runs = titration.runs.map((run) => runValue(run, titration, ratio, analyte, context));
  const values = runs.flatMap(({ value }) => held(value) ?? []);
  const mean = meanOf(values, ratio) ?? runs[0]?.value ?? unknown('amount-missing', `a run of ${name.text}`);
  const deviation = deviationOf(values);
  const suspect = suspectOf(values, deviation);
  const substance = analyte.substance && materials.substance(analyte.substance);
  return {
    titration,
    ratio,
    ...(substance && { analyte: substance }),
    ...(way === 'with' && other.target && { titrant: other.target }),
    runs,
    mean,
    massConcentration: inGramsPerVolume(mean, substance, name.text),
    ...(deviation && { deviation }),
    ...(suspect && { suspect: { ...suspect.found, run: runs.findIndex((r) => r.value === suspect.value) } }),
  };
}

/** What counts of a name: the solute of a solution. */
function partner(name: NameRef, materials: Materials): Partner {
  const substance = name.target && soluteOf(name.target, materials);
  return { name, ...(substance && { substance }) };
}

const soluteOf = (material: Material, materials: Materials): Substance | undefined =>
  material.kind === 'substance' ? material : materials.solution(material).solute;

// ── one run ──────────────────────────────────────────────────────────────────────────────────────────────────────

function runValue(
  run: TitrationRun,
  titration: Titration,
  ratio: Ratio,
  analyte: Partner,
  context: TitrationContext,
): TitrationRunValue {
  const { materials } = context;
  const titre = titreOf(run.delivered, titration, materials);
  const portion = portionOf(run, titration, context);
  const missing = (result: Result): TitrationRunValue => ({
    run,
    portion: portion.measured,
    titre,
    known: result,
    amount: result,
    value: result,
  });
  if (!isHeld(portion.measured)) return missing(portion.measured);
  if (!isHeld(titre)) return missing(titre);
  const known = titration.way === 'against' ? portion.amount : amountOfTitrant(titre, titration, materials);
  if (!isHeld(known)) return missing(known);
  const amount = ratio.value.eq(1) ? known : timesRatio(known, ratio);
  const volume = titration.way === 'against' ? titre : portion.measured;
  const value = volume.kind === 'volume' ? perVolume(amount, volume) : share(amount, volume, analyte, materials);
  return { run, portion: portion.measured, titre, known, amount, value };
}

/** The titre, the blank taken off. */
function titreOf(delivered: Delivered | undefined, titration: Titration, materials: Materials): Result {
  if (!delivered) return unknown('amount-missing', `the titre of a run of ${titration.name.text}`);
  const volume = volumeOf(delivered, materials, titration.burette);
  if (volume.kind !== 'volume') return unknown('unit-kind', `a volume as titre of ${titration.name.text}`);
  const blank = titration.blank && volumeOf(titration.blank, materials);
  if (blank?.kind !== 'volume') return volume;
  return subtract(volume, blank, {
    formula: 'V − V(blank)',
    inputs: [
      { symbol: 'V', held: volume },
      { symbol: 'V(blank)', held: blank },
    ],
  });
}

function volumeOf(delivered: Delivered, { readings }: Materials, burette?: Glassware): Held {
  if (delivered.kind === 'volume') return readings(delivered.datum);
  const from = readings(delivered.from);
  const to = readings(delivered.to);
  const volume = subtract(to, from, {
    formula: 'end − start',
    inputs: [
      { symbol: 'end', held: to },
      { symbol: 'start', held: from },
    ],
  });
  const spread = delivered.from.quantity.plusMinus;
  return burette && !spread ? readings.between(volume, burette) : volume;
}

interface Portion {
  /** As measured: a mass or a volume. */
  readonly measured: Result;
  /** Of the standard in it. */
  readonly amount: Result;
}

/** What stood in the flask. */
function portionOf(run: TitrationRun, titration: Titration, context: TitrationContext): Portion {
  const { materials, weighed } = context;
  const { entry, name, other, way, aliquot } = titration;
  const what = way === 'against' ? other : name;
  const datum = run.portion ?? aliquot;
  const weighing = run.weighing.readings.length > 0 ? weighed(run.weighing, { entry, subject: what.text }) : undefined;
  const measured: Result =
    weighing && weighing.how !== 'none'
      ? weighing.net
      : datum
        ? materials.readings(datum, run.weighing.balance?.target)
        : unknown('amount-missing', `how much ${what.text} was titrated`);
  if (way === 'with') return { measured, amount: measured };
  const value: TakenValue = taken(
    {
      amount: { quantities: datum ? [datum] : [], weighing: run.weighing },
      subject: what.text,
      ...(what.target && { material: what.target }),
      ...(weighing && { weighing }),
    },
    materials,
  );
  return { measured, amount: value.amount };
}

function amountOfTitrant(titre: Held, titration: Titration, materials: Materials): Result {
  const concentration = strengthOfTitrant(titration, materials);
  if (!isHeld(concentration)) return concentration;
  return multiply(
    'amount',
    titre,
    concentration,
    {
      formula: 'V · c',
      inputs: [
        { symbol: 'V', held: titre },
        { symbol: 'c', held: concentration },
      ],
    },
    '0.001',
  );
}

/** In mol/L it needs no name that anybody knows. */
function strengthOfTitrant({ other, strength }: Titration, materials: Materials): Result {
  if (strength?.quantity.unit?.kind === 'concentration') return materials.readings(strength);
  const material = other.target;
  if (material && strength) return materials.solution(inlineSolution(material, strength)).concentration;
  if (material?.kind === 'solution') return materials.solution(material).concentration;
  return unknown('strength-missing', `the strength of ${other.text}`);
}

function timesRatio(known: Held, ratio: Ratio): Held {
  const factor = exact('number', ratio.value);
  return multiply('amount', known, factor, {
    formula: 'n · ν',
    inputs: [
      { symbol: 'n', held: known },
      { symbol: 'ν', held: factor },
    ],
    note: `${ratio.text} by ${ratio.reaction?.id ?? 'the equation'}`,
  });
}

const perVolume = (amount: Held, volume: Held): Result =>
  divide(
    'concentration',
    amount,
    volume,
    {
      formula: 'n ÷ V',
      inputs: [
        { symbol: 'n', held: amount },
        { symbol: 'V', held: volume },
      ],
    },
    1000,
  ) ?? unknown('unreadable', 'a volume that is not zero');

/** Of a weighed sample: the mass fraction of what reacted. */
function share(amount: Held, sample: Held, analyte: Partner, materials: Materials): Result {
  if (sample.kind !== 'mass') return unknown('unit-kind', `a mass or volume of ${analyte.name.text}`);
  const molarMass = analyte.substance
    ? materials.substance(analyte.substance).molarMass
    : unknown('substance-unknown', `what reacts in ${analyte.name.text}`);
  if (!isHeld(molarMass)) return molarMass;
  const mass = multiply('mass', amount, molarMass, {
    formula: 'n · M',
    inputs: [
      { symbol: 'n', held: amount },
      { symbol: 'M', held: molarMass },
    ],
  });
  return (
    divide('massFraction', mass, sample, {
      formula: 'm ÷ m(sample)',
      inputs: [
        { symbol: 'm', held: mass },
        { symbol: 'm(sample)', held: sample },
      ],
    }) ?? unknown('unreadable', 'a mass that is not zero')
  );
}

const inGramsPerVolume = (mean: Result, substance: SubstanceValue | undefined, name: string): Result => {
  if (!isHeld(mean)) return mean;
  if (mean.kind !== 'concentration') return unknown('unit-kind', `a volume of ${name}`);
  if (!substance) return unknown('substance-unknown', `what reacts in ${name}`);
  return isHeld(substance.molarMass) ? massConcentrationOf(mean, substance.molarMass) : substance.molarMass;
};

// ── all runs ─────────────────────────────────────────────────────────────────────────────────────────────────────

const sub = (n: number): string => [...String(n)].map((d) => String.fromCodePoint(0x2080 + Number(d))).join('');

function meanOf(values: readonly Held[], ratio: Ratio): Held | undefined {
  const [first] = values;
  const assumed = ratio.reaction ? undefined : '1 : 1, no equation of the page names both';
  if (!first) return undefined;
  if (values.length === 1) return assumed ? relabel(first, { ...first.working, note: assumed }) : first;
  const n = values.length;
  const value = values.reduce((sum, v) => sum.plus(v.value), new Decimal(0)).div(n);
  const parts = new Map<Leaf, number>();
  for (const v of values) for (const [leaf, part] of v.parts) parts.set(leaf, (parts.get(leaf) ?? 0) + part / n);
  const scatter = excessScatter(values, parts);
  const figures = Math.min(...values.map((v) => v.figures));
  if (scatter > 0) parts.set({ name: `scatter of ${n} runs`, origin: SCATTER }, scatter);
  return {
    ...first,
    value,
    parts,
    slack: Math.max(...values.map((v) => v.slack)),
    figures,
    working: {
      formula: `(${values.map((_, i) => `x${sub(i + 1)}`).join(' + ')}) ÷ n`,
      inputs: [
        ...values.map((v, i) => ({ symbol: `x${sub(i + 1)}`, held: v })),
        { symbol: 'n', held: exact('number', n) },
      ],
      note: [
        `u from the readings, or from s/√${n} of the runs where that is more (JCGM 100, 4.2.3 and 4.3.10)`,
        assumed,
      ]
        .filter(Boolean)
        .join('; '),
    },
  };
}

const SCATTER = { from: 'rule', says: 's/√n' } as const;

/** What the scatter shows beyond the readings' own part that differs from run to run. */
function excessScatter(values: readonly Held[], parts: ReadonlyMap<Leaf, number>): number {
  const s = deviationOf(values);
  if (!s) return 0;
  let own = 0;
  for (const [leaf, part] of parts) if (values.filter((v) => v.parts.has(leaf)).length === 1) own += part * part;
  const seen = s.value.toNumber() ** 2 / values.length;
  return Math.sqrt(Math.max(0, seen - own));
}

/** Experimental standard deviation of the runs (JCGM 100, 4.2.2); undefined for a single run. */
function deviationOf(values: readonly Held[]): Held | undefined {
  const [first] = values;
  const n = values.length;
  if (!first || n < 2) return undefined;
  const mean = values.reduce((sum, v) => sum.plus(v.value), new Decimal(0)).div(n);
  const squares = values.reduce((sum, v) => sum.plus(v.value.minus(mean).pow(2)), new Decimal(0));
  const s = squares.div(n - 1).sqrt();
  const leaf: Leaf = { name: 's', origin: SCATTER };
  return reading(first.kind, s, 0, 2, leaf);
}

/**
 * Critical values of Dixon's Q (r10, two-sided, 95 %) for 3 to 10 results: D. B. Rorabacher, Anal. Chem. 1991, 63, 139,
 * as printed in D. Harvey, Analytical Chemistry 2.1, appendix 6.
 */
export const DIXON_95: readonly number[] = [0.97, 0.829, 0.71, 0.625, 0.568, 0.526, 0.493, 0.466];

function suspectOf(
  values: readonly Held[],
  deviation: Held | undefined,
): { readonly value: Held; readonly found: { q: number; limit: number; gap: Held } } | undefined {
  const limit = DIXON_95[values.length - 3];
  if (limit === undefined || !deviation) return undefined;
  const sorted = [...values].sort((a, b) => a.value.cmp(b.value));
  const range = sorted.at(-1)!.value.minus(sorted[0]!.value);
  if (range.isZero()) return undefined;
  const low = sorted[1]!.value.minus(sorted[0]!.value);
  const high = sorted.at(-1)!.value.minus(sorted.at(-2)!.value);
  const gap = Decimal.max(low, high);
  const q = gap.div(range).toNumber();
  const far = low.gt(high) ? sorted[0]! : sorted.at(-1)!;
  return q > limit ? { value: far, found: { q, limit, gap: exact(far.kind, gap) } } : undefined;
}
