/**
 * Is a purification worth it: what would be left of what there is, and what would change that. Only what is written is
 * counted; nothing is assumed of the glassware or of the hand.
 */
import type { Consideration, Solubility } from '../model/consider';
import type { Product } from '../model/page';
import { materialKey } from '../model/scope';
import { Decimal } from '../quantity/decimal';
import {
  asKind,
  exact,
  type Held,
  held,
  isHeld,
  type Result,
  relabel,
  subtract,
  total,
  unknown,
  zero,
} from '../quantity/held';
import { times } from '../quantity/worked';
import { over } from './needed';
import { carriedKey } from './reaction';
import type { Materials } from './solution';
import { amountFromMass } from './taken';
import type { ChargeValue, PlannedValue, ProductValue, ReactionValue, SubstanceValue } from './values';

/** From here on a purification seldom needs a second thought; common practice, no source. */
export const WORTH = new Decimal('0.8');

/** Something that would be lost, and where it would stay. */
export interface Loss {
  readonly where: 'apparatus' | 'mother liquor' | 'washings' | 'mixed fractions';
  /** g */
  readonly mass: Held;
}

/** A value at which the recovery would be just {@link WORTH}. */
export interface Turn {
  readonly what: 'hold-up' | 'scale' | 'solvent' | 'mixed fractions' | 'cold solubility';
  readonly at: Held;
}

export interface ConsiderationValue {
  readonly consideration: Consideration;
  readonly substance?: SubstanceValue;
  /** What it starts from, g, and in words where that was found. */
  readonly start: Result;
  readonly from?: string;
  /** What dissolves it: as written, or the least that does at the higher temperature. */
  readonly solvent?: { readonly mass?: Held; readonly volume?: Held; readonly least: boolean; readonly short?: Held };
  readonly losses: readonly Loss[];
  /** g */
  readonly left: Result;
  /** Of what it starts from, 1. */
  readonly recovery: Result;
  /** After it, 1; of what the reaction can give. */
  readonly yield: Result;
  readonly turns: readonly Turn[];
}

export interface ConsiderContext {
  readonly products: readonly ProductValue[];
  readonly charges: readonly ChargeValue[];
  readonly reactions: readonly ReactionValue[];
  readonly planned: readonly PlannedValue[];
  readonly materials: Materials;
  /** Is a product line replaced by a later one of these. */
  readonly superseded: (products: readonly Product[], product: Product, index: number) => boolean;
}

export function considerationValue(consideration: Consideration, context: ConsiderContext): ConsiderationValue {
  const { target } = consideration.name;
  const { materials } = context;
  const substance = target?.kind === 'substance' ? materials.substance(target) : undefined;
  const base = { consideration, ...(substance && { substance }) };
  const { start, from, share } = startOf(consideration, substance, context);
  const named = { ...base, ...(from && { from }), start };
  if (!isHeld(start)) return { ...named, losses: [], turns: [], left: start, recovery: start, yield: start };
  const found = BY_STEP[consideration.known ?? 'chromatography'](consideration, start, substance, materials);
  const { solvent } = found;
  const more = { ...named, ...(solvent && { solvent }) };
  if (found.missing) {
    const { missing } = found;
    return { ...more, losses: found.losses, turns: [], left: missing, recovery: missing, yield: missing };
  }
  const left = leftOf(consideration, start, found.losses, materials);
  const recovery = over('ratio', left, 'm(left)', start, 'm');
  return {
    ...more,
    losses: found.losses,
    left,
    recovery,
    yield: yieldOf(left, recovery, share, substance, context),
    turns: start.value.gt(0) ? turnsOf(consideration, start, found, substance, materials) : [],
  };
}

// ── what there is ────────────────────────────────────────────────────────────────────────────────────────────────

interface Start {
  readonly start: Result;
  readonly from?: string;
  /** Yield up to here, 1. */
  readonly share?: Held;
}

/** A written quantity, else the last stage above the line, else a charge, else what is planned. */
function startOf(consideration: Consideration, substance: SubstanceValue | undefined, context: ConsiderContext): Start {
  const { name, start, entry } = consideration;
  const key = name.target && materialKey(name.target);
  const own = (value: Parameters<typeof carriedKey>[0], text: string): boolean =>
    key ? carriedKey(value) === key : text === name.text;
  if (start) return { start: massOf(consideration, substance, context.materials) };
  const above = context.products.filter(
    (value) => value.product.entry.block < entry.block && own(value, value.product.name.text),
  );
  const lines = above.map(({ product }) => product);
  const last = above.filter(({ product }, i) => !context.superseded(lines, product, i));
  if (last.length > 0) {
    const mass = last.find((value) => !isHeld(value.mass))?.mass ?? totalOf(last.map((value) => value.mass));
    const yields = last.flatMap((value) => held(value.yield) ?? []);
    const share = yields.length === last.length ? total(yields, 'Y') : undefined;
    const from = last[0]!.product.stage?.text ?? 'product';
    return { start: mass, from, ...(share && { share }) };
  }
  const charged = context.charges.filter((c) => c.charge.entry.block < entry.block && own(c, c.charge.name.text));
  if (charged.length > 0) return { start: totalOf(charged.map((c) => c.mass)), from: 'charged' };
  const planned = context.planned.find((plan) => plan.role === 'product' && own({ ...NOTHING, ...plan }, plan.name));
  if (planned) return { start: planned.mass, from: 'planned', ...(planned.yield && { share: planned.yield }) };
  return { start: unknown('amount-missing', `a mass of ${name.text} above this line, or in it`) };
}

const NOTHING = { unlimited: false } as const;

const totalOf = (masses: readonly Result[]): Result =>
  masses.find((mass) => !isHeld(mass)) ??
  total(
    masses.flatMap((mass) => held(mass) ?? []),
    'm',
  ) ??
  unknown('amount-missing', 'a mass');

function massOf(
  { start, name }: Consideration,
  substance: SubstanceValue | undefined,
  { readings }: Materials,
): Result {
  const value = start && readings(start);
  if (value?.kind === 'mass') return value;
  if (!value) return unknown('amount-missing', `a mass of ${name.text}`);
  return inGrams(value, substance?.density, name.text);
}

/** A volume by its density; a mass as it is. */
function inGrams(value: Held, density: Result | undefined, name: string): Result {
  if (value.kind === 'mass') return value;
  if (!density || !isHeld(density)) return density ?? unknown('density-missing', `a density of ${name}`);
  return times('mass', value, 'V', density, 'ρ');
}

// ── the steps ────────────────────────────────────────────────────────────────────────────────────────────────────

interface Found {
  readonly losses: readonly Loss[];
  readonly solvent?: NonNullable<ConsiderationValue['solvent']>;
  /** What dissolves in the solvent at the end, g/mL or g/g. */
  readonly cold?: Held;
  readonly hot?: Held;
  readonly missing?: Exclude<Result, Held>;
}

type Work = (c: Consideration, start: Held, substance: SubstanceValue | undefined, materials: Materials) => Found;

const BY_STEP: Readonly<Record<NonNullable<Consideration['known']>, Work>> = {
  distillation: heldUp,
  sublimation: heldUp,
  chromatography: mixedFractions,
  recrystallisation: crystallised,
  washing: washed,
};

const NO_LOSSES: Found = { losses: [] };
const lacks = (what: string): Found => ({ losses: [], missing: unknown('depends', what) });

function heldUp(c: Consideration, _: Held, substance: SubstanceValue | undefined, { readings }: Materials): Found {
  if (!c.holdUp) return c.loss ? NO_LOSSES : lacks('a hold-up or a loss');
  const mass = inGrams(readings(c.holdUp), substance?.density, c.name.text);
  return isHeld(mass) ? { losses: [{ where: 'apparatus', mass }] } : { losses: [], missing: mass };
}

function mixedFractions(c: Consideration, start: Held, _: unknown, { readings }: Materials): Found {
  if (!c.mixed) return c.loss ? NO_LOSSES : lacks('a loss or the mixed fractions');
  const value = readings(c.mixed);
  const mass = value.kind === 'mass' ? value : times('mass', start, 'm', asKind(value, 'ratio'), 'x');
  return { losses: [{ where: 'mixed fractions', mass }] };
}

/** The least solvent is the mass over what dissolves hot; what dissolves cold of it stays in the mother liquor. */
function crystallised(c: Consideration, start: Held, _: unknown, materials: Materials): Found {
  const { hot, cold } = solubilities(c, materials);
  if (!cold) return c.loss ? NO_LOSSES : lacks('what dissolves in the cold, or a loss');
  const written = c.solventAmount && materials.readings(c.solventAmount);
  if (!written && !hot) return lacks('what dissolves hot, or how much solvent');
  const least = hot && needs(start, hot);
  const amount = written ? inUnitOf(written, cold, c, materials) : least && inUnitOf(least, cold, c, materials);
  if (!amount || !isHeld(amount))
    return { losses: [], missing: amount && !isHeld(amount) ? amount : unknown('depends', 'a solubility') };
  const short = written && least && least.kind === written.kind && written.value.lt(least.value) ? least : undefined;
  return {
    losses: [{ where: 'mother liquor', mass: dissolved(amount, cold, start) }],
    solvent: { ...bothWays(written ?? least!, c, materials), least: !written, ...(short && { short }) },
    cold,
    ...(hot && { hot }),
  };
}

function washed(c: Consideration, start: Held, _: unknown, materials: Materials): Found {
  const { cold } = solubilities(c, materials);
  if (!c.solventAmount || !cold)
    return c.loss ? NO_LOSSES : lacks('how much solvent and what dissolves in it, or a loss');
  const written = materials.readings(c.solventAmount);
  const amount = inUnitOf(written, cold, c, materials);
  if (!isHeld(amount)) return { losses: [], missing: amount };
  return {
    losses: [{ where: 'washings', mass: dissolved(amount, cold, start) }],
    solvent: { ...bothWays(written, c, materials), least: false },
    cold,
  };
}

/** The warmer and the colder one; without temperatures the larger and the smaller. */
function solubilities({ solubilities }: Consideration, { readings }: Materials): { hot?: Held; cold?: Held } {
  const kelvin = ({ temperature }: Solubility): Decimal | undefined => temperature && readings(temperature).value;
  const sorted = [...solubilities].sort((a, b) => {
    const [ta, tb] = [kelvin(a), kelvin(b)];
    return ta && tb ? tb.cmp(ta) : readings(b.datum).value.cmp(readings(a.datum).value);
  });
  const values = sorted.map(({ datum }) => readings(datum));
  const [first, last] = [values[0], values.at(-1)];
  if (!first || !last) return {};
  return values.length > 1 ? { hot: first, cold: last } : { cold: last };
}

/** Per volume of solvent, or per mass of it. */
const perMass = (solubility: Held): boolean => solubility.kind === 'massRatio';

const needs = (start: Held, hot: Held): Held | undefined =>
  held(over(perMass(hot) ? 'mass' : 'volume', start, 'm', hot, 's(hot)'));

/** The solvent as the solubility counts it. */
function inUnitOf(amount: Held, solubility: Held, c: Consideration, materials: Materials): Result {
  const kind = perMass(solubility) ? 'mass' : 'volume';
  if (amount.kind === kind) return amount;
  const density = solventDensity(c, materials);
  if (!isHeld(density)) return density;
  return kind === 'mass' ? times('mass', amount, 'V', density, 'ρ') : over('volume', amount, 'm', density, 'ρ');
}

function solventDensity({ solvent }: Consideration, materials: Materials): Result {
  const target = solvent?.target;
  if (!target) return unknown('density-missing', `a density of ${solvent?.text ?? 'the solvent'}`);
  return target.kind === 'substance' ? materials.substance(target).density : materials.solution(target).density;
}

function bothWays(amount: Held, c: Consideration, materials: Materials): { mass?: Held; volume?: Held } {
  const density = held(solventDensity(c, materials));
  if (amount.kind === 'mass') {
    const volume = density && held(over('volume', amount, 'm', density, 'ρ'));
    return { mass: amount, ...(volume && { volume }) };
  }
  return { volume: amount, ...(density && { mass: times('mass', amount, 'V', density, 'ρ') }) };
}

/** Not more than there is. */
function dissolved(amount: Held, solubility: Held, start: Held): Held {
  const mass = times('mass', amount, perMass(solubility) ? 'm(solvent)' : 'V', solubility, 's(cold)');
  return mass.value.gt(start.value) ? start : mass;
}

// ── what is left ─────────────────────────────────────────────────────────────────────────────────────────────────

/** Losses in grams are taken off first; a share is lost of what would come out. */
function leftOf(c: Consideration, start: Held, losses: readonly Loss[], { readings }: Materials): Held {
  const loss = c.loss && readings(c.loss);
  const inMass = [...losses.map(({ mass }) => mass), ...(loss?.kind === 'mass' ? [loss] : [])];
  const rest = inMass.reduce((left, mass) => less(left, mass), start);
  if (rest.value.lte(0)) return zero('mass');
  if (!loss || loss.kind === 'mass') return rest;
  return times('mass', rest, 'm', keptOf(loss), '(1−loss)');
}

function less(a: Held, b: Held): Held {
  const inputs = [
    { symbol: 'm', held: a },
    { symbol: 'm(lost)', held: b },
  ];
  return subtract(a, b, { formula: 'm − m(lost)', inputs });
}

function keptOf(loss: Held): Held {
  const inputs = [{ symbol: 'loss', held: loss }];
  const kept = subtract(exact('ratio', 1), asKind(loss, 'ratio'), { formula: '1 − loss', inputs });
  return kept.value.lt(0) ? zero('ratio') : relabel({ ...kept, kind: 'ratio' }, kept.working);
}

/** The yield so far times the recovery; of a written quantity the amount over the theory. */
function yieldOf(
  left: Held,
  recovery: Result,
  share: Held | undefined,
  substance: SubstanceValue | undefined,
  { reactions }: ConsiderContext,
): Result {
  if (share && isHeld(recovery)) return times('ratio', share, 'Y', recovery, 'recovery');
  const key = substance && materialKey(substance.substance);
  const theory = reactions
    .flatMap(({ theoretical }) => theoretical)
    .find(({ substance: made }) => made && materialKey(made.substance) === key);
  if (!theory || !substance) return unknown('no-reaction', 'a reaction that makes it');
  const amount = amountFromMass(left, substance, exact('ratio', 1));
  if (!isHeld(amount)) return amount;
  return isHeld(theory.amount) ? over('ratio', amount, 'n', theory.amount, 'n(theory)') : theory.amount;
}

// ── what would change it ─────────────────────────────────────────────────────────────────────────────────────────

function turnsOf(
  c: Consideration,
  start: Held,
  { losses, solvent, hot, cold }: Found,
  substance: SubstanceValue | undefined,
  { readings }: Materials,
): readonly Turn[] {
  const loss = c.loss && readings(c.loss);
  const kept = loss && loss.kind !== 'mass' ? keptOf(loss) : exact('ratio', 1);
  // What may be lost in grams of each gram so that WORTH of it is left.
  const spare = kept.value.lte(WORTH) ? undefined : exact('ratio', new Decimal(1).minus(WORTH.div(kept.value)));
  const [lost] = losses;
  if (!spare || !lost || lost.mass.value.lte(0)) return [];
  const may = times('mass', start, 'm', spare, 'x');
  const scale = (): Turn[] => {
    const at = held(over('mass', lost.mass, 'm(lost)', spare, 'x'));
    return at ? [{ what: 'scale', at }] : [];
  };
  switch (lost.where) {
    case 'apparatus': {
      const density = substance && held(substance.density);
      const byVolume = c.holdUp && readings(c.holdUp).kind === 'volume' && density;
      const at = byVolume ? held(over('volume', may, 'm', byVolume, 'ρ')) : may;
      return [...(at ? [{ what: 'hold-up' as const, at }] : []), ...scale()];
    }
    case 'mixed fractions':
      return [{ what: 'mixed fractions', at: may }];
    default: {
      const at = cold && held(over(perMass(cold) ? 'mass' : 'volume', may, 'm', cold, 's(cold)'));
      const solventTurn: Turn[] = at ? [{ what: 'solvent', at }] : [];
      if (!solvent?.least) return [...solventTurn, ...scale()];
      // With the least solvent the recovery is the same on any scale.
      const enough = hot && cold && hot.kind === cold.kind ? times(cold.kind, hot, 's(hot)', spare, 'x') : undefined;
      return enough && cold?.value.gt(enough.value) ? [{ what: 'cold solubility', at: enough }] : solventTurn;
    }
  }
}
