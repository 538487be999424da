/** What of a charge is worth reading beside the limiting reactant, and in which unit. */
import type { UnitSymbol } from '../../grammar/vocabulary';
import type { ChargeValue } from '../compute/values';
import { type Held, isHeld } from '../quantity/held';

/** Nobody counts equivalents of these. */
const UNCOUNTED: ReadonlySet<string> = new Set(['solvent', 'quench', 'wash', 'eluent', 'atmosphere', 'drying agent']);

export const isUncounted = ({ charge }: ChargeValue): boolean => charge.roles.some(({ role }) => UNCOUNTED.has(role));

export interface Share {
  readonly held: Held;
  /** mol% for a catalyst and its ligand, else equivalents. */
  readonly unit: { readonly unit?: UnitSymbol };
}

export function shareOf(value: ChargeValue): Share | undefined {
  if (!isHeld(value.equiv) || isUncounted(value)) return undefined;
  const catalytic = value.charge.roles.some(({ role }) => role === 'catalyst' || role === 'ligand');
  return { held: value.equiv, unit: catalytic ? { unit: 'mol%' } : {} };
}
