/** What a number in the parentheses of a titration is about, and what it should be. */
import type { Claim } from '../model/page';
import type { Titration } from '../model/titration';
import { divide, type Held, held, isHeld, multiply, type Result, unknown } from '../quantity/held';
import { type Materials, massConcentrationOf } from './solution';
import { inKindOf } from './strengths';
import type { Property, SubstanceValue, TitrationRunValue, TitrationValue } from './values';

/** What one run, or all runs together, came to. */
export interface Titrated {
  /** mol/L, or the mass fraction of a weighed sample. */
  readonly value: Result;
  readonly analyte?: SubstanceValue;
  /** mL */
  readonly titre?: Result;
  /** Of the standard or the titrant, and of what is looked for; mol. */
  readonly amounts: readonly Result[];
  /** g/L as g/mL */
  readonly massConcentration: Result;
  /** Mass titrated, g. */
  readonly portion?: Result;
  readonly deviation?: Held;
}

type Whole = Omit<TitrationValue, 'titration'>;

export function titratedRun(run: TitrationRunValue, { analyte }: Whole): Titrated {
  const molarMass = analyte && held(analyte.molarMass);
  const value = held(run.value);
  const perVolume = value?.kind === 'concentration' && molarMass ? massConcentrationOf(value, molarMass) : undefined;
  return {
    value: run.value,
    ...(analyte && { analyte }),
    titre: run.titre,
    amounts: [run.known, run.amount],
    portion: run.portion,
    massConcentration: perVolume ?? unknown('substance-unknown', 'what reacts'),
  };
}

/** Claims that stand at no run: those of the mean, and those of the one aliquot of all. */
export function titratedMean(value: Whole, { way, aliquot }: Titration, materials: Materials): Titrated {
  const { mean, massConcentration, deviation, analyte, runs } = value;
  const run = runs.length === 1 ? runs[0] : undefined;
  return {
    value: mean,
    massConcentration,
    ...(analyte && { analyte }),
    ...(deviation && { deviation }),
    amounts: run
      ? [run.known, run.amount]
      : way === 'with'
        ? [inAliquot(mean, aliquot && materials.readings(aliquot))]
        : [],
    ...(run && { titre: run.titre, portion: run.portion }),
  };
}

/** `25.00 mL (2.53 mmol) with NaOH`: what the aliquot held, by the mean. */
function inAliquot(mean: Result, aliquot: Held | undefined): Result {
  if (!isHeld(mean)) return mean;
  if (mean.kind !== 'concentration' || aliquot?.kind !== 'volume') return unknown('depends', 'an aliquot');
  const inputs = [
    { symbol: 'V', held: aliquot },
    { symbol: 'c', held: mean },
  ];
  return multiply('amount', aliquot, mean, { formula: 'V · c', inputs }, '0.001');
}

/** Labels of the standard deviation of the runs. */
const DEVIATIONS: ReadonlySet<string> = new Set(['s', 'sd', 'SD', 's =', 'RSD', 'rsd', 'RSD =']);

export function titratedProperty({ label, quantity }: Claim): Property {
  if (label === 'lit.') return 'literature';
  if (label !== undefined && DEVIATIONS.has(label)) return 'deviation';
  switch (quantity.unit?.kind) {
    case 'mass':
      return 'mass';
    case 'volume':
      return 'volume';
    case 'amount':
      return 'amount';
    case 'concentration':
    case 'equivalentConcentration':
      return 'concentration';
    case 'massFraction':
    case 'ratio':
      return 'mass fraction';
    case 'density':
    case 'massPerVolume':
      return 'density';
    default:
      return 'other';
  }
}

export function titratedValue(property: Property, claim: Claim, of: Titrated): Result {
  const none = unknown('depends', claim.label ?? 'this number');
  const kind = claim.quantity.unit?.kind ?? 'number';
  switch (property) {
    case 'mass':
      return of.portion ?? none;
    case 'volume':
      return of.titre ?? none;
    case 'amount':
      return of.amounts[0] ?? none;
    case 'concentration':
      return inKindOf(kind, of.value, of.analyte?.substance);
    case 'mass fraction':
      return of.value;
    case 'density':
      return of.massConcentration;
    case 'deviation':
      return of.deviation ? deviationAs(kind, of.deviation, of.value) : none;
    default:
      return none;
  }
}

/** s, or s over the mean where a percentage is written. */
function deviationAs(kind: string, s: Held, mean: Result): Result {
  if (kind !== 'ratio' || !isHeld(mean) || s.kind === 'ratio') return s;
  const working = {
    formula: 's ÷ x̄',
    inputs: [
      { symbol: 's', held: s },
      { symbol: 'x̄', held: mean },
    ],
  };
  return divide('ratio', s, mean, working) ?? unknown('unreadable', 'a mean that is not zero');
}

/** An amount may be that of either partner, a volume that before the blank was taken off. */
export function titratedAlternatives(property: Property, { amounts, titre }: Titrated): Held[] {
  if (property === 'amount') return amounts.slice(1).flatMap((n) => held(n) ?? []);
  const delivered = property === 'volume' && titre && held(titre)?.working.inputs[0]?.held;
  return delivered && delivered.kind === 'volume' && delivered.working.inputs.length > 0 ? [delivered] : [];
}
