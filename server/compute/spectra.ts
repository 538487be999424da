/** Exact masses of ions and combustion percentages, beside what was found. */
import { adductMz } from '../chem/adduct';
import { massFractions } from '../chem/mass';
import type { Measurement } from '../model/page';
import { exact, type Result, unknown } from '../quantity/held';
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
