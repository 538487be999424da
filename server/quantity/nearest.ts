/** What an instrument can measure: a value brought to the nearest of its steps. */
import { Decimal } from './decimal';
import { exact, type Held } from './held';

/** To the nearest multiple of a step in the base unit; shown with the step's decimals. `says`: what asks for the step. Undefined where nothing is left. */
export function nearest(value: Held, step: Decimal, says: string): Held | undefined {
  const rounded = value.value.toNearest(step, Decimal.ROUND_HALF_EVEN);
  if (rounded.lte(0) || step.lte(0)) return undefined;
  const figures = Math.max(1, rounded.e + step.decimalPlaces() + 1);
  return { ...exact(value.kind, rounded), figures, working: { inputs: [], origin: { from: 'rule', says } } };
}
