/** Exact masses of ions and combustion percentages, beside what was found. */
import { adductMz } from '../chem/adduct';
import type { Formula } from '../chem/formula';
import { ELECTRON_MASS, exactMass, massFractions, molarMass } from '../chem/mass';
import type { Measurement } from '../model/page';
import { Decimal } from '../quantity/decimal';
import { exact, isHeld, type Result, unknown } from '../quantity/held';
import type { Readings } from './readings';
import { formulaOf } from './substance';
import type { MeasurementValue, SubstanceValue } from './values';

const MASSES = 'AME2020 atomic masses, electron mass CODATA 2022';
const WEIGHTS = 'CIAAW standard atomic weights';

export function measurementValues(
  measurement: Measurement,
  substance: SubstanceValue | undefined,
  readings: Readings,
): MeasurementValue[] {
  const formula = substance && formulaOf(substance.substance);
  const missing = unknown('formula-missing', `a formula of ${measurement.name.text}`);
  const out: MeasurementValue[] = [];
  if (measurement.hrms) {
    const { adduct, found } = measurement.hrms;
    const ion = formula && adductMz(formula, adduct.text);
    const calculated: Result = ion
      ? exact('other', ion.mz, { from: 'table', source: MASSES })
      : formula
        ? unknown('unreadable', `an ion ${adduct.text}`)
        : missing;
    out.push({
      measurement,
      kind: 'HRMS',
      calculated,
      found: { ...readings(found), kind: 'other' },
      adduct: ion?.label ?? adduct.text,
    });
  }
  const fractions = formula && massFractions(formula);
  for (const { element, percent } of measurement.combustion ?? []) {
    const fraction = fractions?.get(element);
    const calculated: Result = fraction
      ? exact('ratio', fraction, { from: 'table', source: WEIGHTS })
      : fractions
        ? exact('ratio', 0)
        : missing;
    const found = readings(percent);
    // Written without a unit, the numbers are percentages.
    const ratio =
      found.kind === 'number'
        ? { ...found, kind: 'ratio' as const, value: found.value.div(100), parts: scaled(found.parts) }
        : found;
    out.push({ measurement, kind: 'combustion', what: element, calculated, found: ratio });
  }
  return out;
}

const scaled = (parts: MeasurementValue['found']['parts']): MeasurementValue['found']['parts'] =>
  new Map([...parts].map(([leaf, share]) => [leaf, share / 100]));

/**
 * How a wrong m/z came about: the electron not counted, or an average mass for the exact one. Undefined where neither
 * gives the number.
 *
 * @param mz as written or found
 * @param within how far the number may be off, Da
 */
export function massSlip(value: MeasurementValue, mz: Decimal, within: Decimal): string | undefined {
  const target = value.measurement.name.target;
  const formula = target?.kind === 'substance' ? formulaOf(target) : undefined;
  const ion = formula && adductMz(formula, value.adduct ?? '');
  if (!formula || !ion || !isHeld(value.calculated)) return undefined;
  const near = (other: Decimal | undefined): boolean => other?.minus(mz).abs().lte(within) === true;
  const charges = Math.abs(ion.charge);
  if (near(ion.mz.plus(ELECTRON_MASS.times(ion.charge).div(charges)))) return 'the mass of the electron is not counted';
  const average = molarMass(formula)?.value;
  const exactly = exactMass(formula);
  const times = Number(/^\[(\d+)M/.exec(ion.label)?.[1] ?? 1);
  return average && exactly && near(ion.mz.plus(average.minus(exactly).times(times).div(charges)))
    ? 'the average mass (molar mass) stands for the exact one'
    : undefined;
}

const WATERS = ['0.25', '0.5', '0.75', '1', '1.5', '2', '3'];

/** The water with which every element reported is within a limit (percentage points): `0.5 H2O`. */
export function waterThatFits(
  formula: Formula,
  found: ReadonlyMap<string, Decimal>,
  limit: Decimal.Value,
): string | undefined {
  const count = WATERS.find((waters) => {
    const counts = new Map(formula.counts);
    for (const [element, n] of [['H', 2] as const, ['O', 1] as const])
      counts.set(element, (counts.get(element) ?? new Decimal(0)).plus(new Decimal(waters).times(n)));
    const shares = massFractions({ ...formula, counts });
    return [...found].every(([element, percent]) =>
      (shares.get(element) ?? new Decimal(0)).times(100).minus(percent).abs().lte(limit),
    );
  });
  return count && `${count === '1' ? '' : `${count} `}H2O`;
}
