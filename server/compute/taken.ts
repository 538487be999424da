/**
 * How much of a substance was taken: mass, volume and amount from whichever was measured. Mass and volume are those of
 * the material as taken; purity, loading and strength enter only on the way to amount.
 */
import type { Amount, Datum, Material, Solution, Strength } from '../model/page';
import { Decimal } from '../quantity/decimal';
import { divide, exact, type Held, held, isHeld, type Result, relabel, unknown } from '../quantity/held';
import { toBase } from '../quantity/units';
import { over, times } from '../quantity/worked';
import { inVacuo } from './buoyancy';
import { writtenText } from './readings';
import type { Materials } from './solution';
import { isPure } from './substance';
import type { SolutionValue, SubstanceValue, TakenValue, WeighingValue } from './values';

/** J mol⁻¹ K⁻¹; CODATA 2022, exact. A kPa times a mL is a mJ: hence the factor 10⁻³ below. */
const R = new Decimal('8.31446261815324');

export interface TakenFrom {
  readonly amount: Amount;
  readonly material?: Material;
  readonly subject: string;
  readonly weighing?: WeighingValue;
  /** Sum of the page's `weigh` statements, for the word `weighed`. */
  readonly weighed?: Result;
  readonly temperature?: Datum;
  readonly pressure?: Datum;
  /** Overrides the material's own purity: a product's assay. */
  readonly purity?: Held;
}

export function taken(from: TakenFrom, materials: Materials): TakenValue {
  const { amount, material, weighing } = from;
  const unlimited = amount.word !== undefined && amount.word.word !== 'weighed';
  const base = { ...(material && { material }), ...(weighing && { weighing }), unlimited };
  const carrier = carrierOf(from, materials);
  const measured = buoyant(measurementOf(from, materials), from, carrier);
  const names = {
    ...(carrier?.substance && { substance: carrier.substance }),
    ...(carrier?.solution && { solution: carrier.solution }),
  };
  if (!isHeld(measured)) return { ...base, ...names, ...nothing(measured) };
  if (!carrier) return { ...base, ...onlyMeasured(measured, unknown('substance-unknown', `what ${from.subject} is`)) };
  const values = carrier.solution
    ? ofSolution(measured, carrier.solution, carrier.substance, from)
    : ofSubstance(measured, carrier.substance!, from, materials);
  const purity = carrier.solution ? undefined : (from.purity ?? carrier.substance!.purity);
  return { ...base, ...names, ...(purity && { purity }), ...values };
}

type Three = Pick<TakenValue, 'mass' | 'volume' | 'amount'>;

const nothing = (missing: Result): Three => ({ mass: missing, volume: missing, amount: missing });

const onlyMeasured = (measured: Held, missing: Result): Three => ({
  mass: measured.kind === 'mass' ? measured : missing,
  volume: measured.kind === 'volume' ? measured : missing,
  amount: measured.kind === 'amount' ? measured : missing,
});

/** What was measured: a weighing's net, else a mass, else an amount, else a volume, as written. */
function measurementOf(from: TakenFrom, materials: Materials): Result {
  const { amount, weighing, weighed } = from;
  if (amount.word?.word === 'weighed' && weighed) return weighed;
  if (weighing && weighing.how !== 'none') return weighing.net;
  for (const kind of ['mass', 'amount', 'volume'] as const) {
    const datum = amount.quantities.find((q) => q.quantity.unit?.kind === kind);
    if (datum) return materials.readings(datum);
  }
  if (weighing) return weighing.net;
  return unknown('amount-missing', `an amount of ${from.subject}`);
}

/** A mass as the page wants it: as shown, or corrected for buoyancy where that is written. */
function buoyant(
  measured: Result,
  { amount, weighing, subject }: TakenFrom,
  carrier: ReturnType<typeof carrierOf>,
): Result {
  const always = amount.buoyancy === true;
  if (!isHeld(measured) || measured.kind !== 'mass' || !(always || weighing?.balance?.buoyancy)) return measured;
  const density = (carrier?.solution ?? carrier?.substance)?.density;
  const corrected = density && isHeld(density) && inVacuo(measured, density);
  if (corrected) return corrected;
  if (always) return density && !isHeld(density) ? density : unknown('density-missing', `a density of ${subject}`);
  const note = `not corrected for buoyancy: no density of ${subject}`;
  return relabel(measured, { ...measured.working, note });
}

function carrierOf(
  from: TakenFrom,
  materials: Materials,
): { substance?: SubstanceValue; solution?: SolutionValue } | undefined {
  const { material, amount } = from;
  if (!material) return undefined;
  const inline = amount.strength && inlineSolution(material, amount.strength.datum);
  if (inline) {
    const solution = materials.solution(inline);
    return { solution, ...(solution.solute && { substance: materials.substance(solution.solute) }) };
  }
  if (material.kind === 'solution') {
    const solution = materials.solution(material);
    return { solution, ...(solution.solute && { substance: materials.substance(solution.solute) }) };
  }
  return { substance: materials.substance(material) };
}

/** `4.00 mL of 2.5 M in hexanes`: a solution that has no statement of its own. */
export function inlineSolution(material: Material, datum: Datum): Solution {
  const strength: Strength = { kind: 'written', datum };
  return {
    kind: 'solution',
    name: material.name,
    key: `${material.key} inline ${datum.span.start}`,
    also: [],
    where: { kind: 'formula' },
    span: datum.span,
    strength,
    solute: { text: material.name, span: datum.span, target: material },
    claims: [],
  };
}

/** K; what a laboratory's own swing makes of a volume is left unsaid. */
const SAME_TEMPERATURE = 2;

/** A density is never corrected: where the line says another temperature, the working says so. */
function atItsTemperature(
  density: Held | undefined,
  at: Datum | undefined,
  { temperature }: TakenFrom,
): Held | undefined {
  const [own, here] = [at, temperature].map((datum) => datum?.quantity);
  if (!density || !own?.unit || !here?.unit || own.unit.kind !== 'temperature') return density;
  const difference = toBase(own.number.value, own.unit).minus(toBase(here.number.value, here.unit)).abs();
  if (difference.lte(SAME_TEMPERATURE)) return density;
  const note = `density at ${writtenText(at!)}, taken at ${writtenText(temperature!)}: not corrected`;
  return relabel(density, { ...density.working, note });
}

function ofSubstance(measured: Held, substance: SubstanceValue, from: TakenFrom, materials: Materials): Three {
  const gas = gasAmount(measured, substance, from, materials);
  if (gas) {
    const molarMass = held(substance.molarMass);
    return {
      amount: gas,
      volume: measured,
      mass:
        isHeld(gas) && molarMass ? times('mass', gas, 'n', molarMass, 'M') : isHeld(gas) ? substance.molarMass : gas,
    };
  }
  const density = atItsTemperature(held(substance.density), substance.substance.densityAt, from);
  const volumeOf = (mass: Held): Result => (density && over('volume', mass, 'm', density, 'ρ')) ?? substance.density;
  if (measured.kind === 'mass')
    return { mass: measured, volume: volumeOf(measured), amount: amountFromMass(measured, substance, from.purity) };
  if (measured.kind === 'volume') {
    if (!density) return { mass: substance.density, volume: measured, amount: substance.density };
    const mass = times('mass', measured, 'V', density, 'ρ');
    return { mass, volume: measured, amount: amountFromMass(mass, substance, from.purity) };
  }
  if (measured.kind === 'amount') {
    const molarMass = held(substance.molarMass);
    if (!molarMass) return { mass: substance.molarMass, volume: substance.molarMass, amount: measured };
    const pure = times('mass', measured, 'n', molarMass, 'M');
    const w = from.purity ?? substance.purity;
    const mass = isPure(w) ? pure : (over('mass', pure, 'm', w, 'w') ?? pure);
    return { mass, volume: volumeOf(mass), amount: measured };
  }
  return nothing(unknown('unit-kind', `a mass, volume or amount of ${from.subject}`));
}

/** n = m · w ÷ M, or m times a loading in mmol/g. */
export function amountFromMass(mass: Held, substance: SubstanceValue, purity?: Held): Result {
  const loading = substance.substance.loading;
  if (loading?.quantity.unit?.kind === 'molality' && substance.loading)
    return times('amount', mass, 'm', substance.loading, 'b', '0.001');
  const molarMass = held(substance.molarMass);
  if (!molarMass) return substance.molarMass;
  const w = purity ?? substance.purity;
  const missing = unknown('formula-missing', `a molar mass of ${substance.substance.name}`);
  if (isPure(w)) return over('amount', mass, 'm', molarMass, 'M') ?? missing;
  const inputs = [
    { symbol: 'm', held: mass },
    { symbol: 'w', held: w },
    { symbol: 'M', held: molarMass },
  ];
  const pure = times('mass', mass, 'm', w, 'w');
  return divide('amount', pure, molarMass, { formula: 'm · w ÷ M', inputs }) ?? missing;
}

/** Ideal gas: n = p V ÷ (R T). Undefined unless a volume of a gas was measured. */
function gasAmount(
  measured: Held,
  substance: SubstanceValue,
  from: TakenFrom,
  materials: Materials,
): Result | undefined {
  if (measured.kind !== 'volume' || substance.substance.state !== 'gas') return undefined;
  if (!from.temperature || !from.pressure) {
    return unknown('gas-conditions-missing', `temperature and pressure of ${from.subject}`);
  }
  const t = materials.readings(from.temperature);
  const p = materials.readings(from.pressure);
  if (t.value.lte(0)) return unknown('unit-kind', `a temperature of ${from.subject} above absolute zero`);
  const r = exact('other', R, { from: 'table', source: 'CODATA 2022' });
  const pv = times('other', p, 'p', measured, 'V');
  const rt = times('other', r, 'R', t, 'T');
  const inputs = [
    { symbol: 'p', held: p },
    { symbol: 'V', held: measured },
    { symbol: 'R', held: r },
    { symbol: 'T', held: t },
  ];
  return divide('amount', pv, rt, { formula: 'p · V ÷ (R · T)', inputs }, '0.001');
}

function ofSolution(
  measured: Held,
  solution: SolutionValue,
  solute: SubstanceValue | undefined,
  from: TakenFrom,
): Three {
  const density = atItsTemperature(held(solution.density), solution.solution.densityAt, from);
  const concentration = held(solution.concentration);
  const fraction = held(solution.massFraction);
  const fromMass = (mass: Held): Result => {
    const molarMass = solute && held(solute.molarMass);
    if (fraction && molarMass) {
      const pure = times('mass', mass, 'm', fraction, 'w');
      const inputs = [
        { symbol: 'm', held: mass },
        { symbol: 'w', held: fraction },
        { symbol: 'M', held: molarMass },
      ];
      const n = divide('amount', pure, molarMass, { formula: 'm · w ÷ M', inputs });
      if (n) return n;
    }
    const volume = density && over('volume', mass, 'm', density, 'ρ');
    return volume && concentration
      ? times('amount', volume, 'V', concentration, 'c', '0.001')
      : fraction
        ? solution.concentration
        : solution.density;
  };
  if (measured.kind === 'volume') {
    return {
      volume: measured,
      mass: density ? times('mass', measured, 'V', density, 'ρ') : solution.density,
      amount: concentration ? times('amount', measured, 'V', concentration, 'c', '0.001') : solution.concentration,
    };
  }
  if (measured.kind === 'mass') {
    const volume = (density && over('volume', measured, 'm', density, 'ρ')) ?? solution.density;
    return { mass: measured, volume, amount: fromMass(measured) };
  }
  if (measured.kind === 'amount') {
    const volume = (concentration && over('volume', measured, 'n', concentration, 'c', 1000)) ?? solution.concentration;
    const mass = isHeld(volume) && density ? times('mass', volume, 'V', density, 'ρ') : solution.density;
    return { amount: measured, volume, mass };
  }
  return nothing(unknown('unit-kind', `a mass, volume or amount of ${solution.solution.name}`));
}
