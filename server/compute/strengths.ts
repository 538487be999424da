/** A strength in the kind of unit that somebody claims it in: mol/L, N, mol/kg. */
import { equivalentsPerMole } from '../chem/normality';
import type { Substance } from '../model/page';
import { exact, type Held, isHeld, multiply, type Result, unknown } from '../quantity/held';
import type { Kind } from '../quantity/kinds';
import { molalityOf } from './molality';
import type { Materials } from './solution';
import { formulaOf } from './substance';
import type { SolutionValue } from './values';

/** mol/L, or equivalents a litre where the claim is written in N. */
export function inKindOf(kind: Kind, concentration: Result, solute: Substance | undefined): Result {
  if (kind !== 'equivalentConcentration' || !isHeld(concentration)) return concentration;
  const formula = solute && formulaOf(solute);
  const z = formula && equivalentsPerMole(formula);
  if (!z) return unknown('strength-missing', `how many equivalents a mole of ${solute?.name ?? 'the solute'} counts`);
  return normality(concentration, z);
}

function normality(concentration: Held, z: number): Held {
  const factor = exact('number', z);
  return multiply('equivalentConcentration', concentration, factor, {
    formula: 'c · z',
    inputs: [
      { symbol: 'c', held: concentration },
      { symbol: 'z', held: factor },
    ],
  });
}

export function strengthAs(kind: Kind, value: SolutionValue, materials: Materials): Result {
  if (kind !== 'molality') return inKindOf(kind, value.concentration, value.solute);
  return molalityOf(value, materials) ?? unknown('strength-missing', `the mass fraction of ${value.solution.name}`);
}
