/** The one tolerance: does a written number agree with a held one? */
import { Decimal, powerOfTen } from './decimal';
import type { Held } from './held';
import { uncertainty } from './held';
import type { Unit } from './units';
import { toUnit } from './units';
import type { Quantity, Written } from './written';

export type Verdict = 'exact' | 'rounded' | 'over-precise' | 'nearly' | 'no';
const ORDER: readonly Verdict[] = ['exact', 'rounded', 'over-precise', 'nearly', 'no'];

/**
 * - `rounded`: within half a unit of the written last place (a tie may be either neighbour), plus what rounding the
 *   molar masses to two decimals can move;
 * - `over-precise`: so, but written more than one digit finer than the uncertainty;
 * - `nearly`: within one unit of the last place, and within a fifth of the value.
 *
 * A measurement's uncertainty is no tolerance: a slip does not become right by being small.
 */
export function agree(written: Quantity, held: Held): Verdict {
  const unit = written.unit;
  const value = unit ? toUnit(held.value, unit) : held.value;
  const scale = unit ? Math.abs(unit.factor.toNumber()) : 1;
  const slack = held.slack / scale;
  if (written.to) {
    const step = powerOfTen(Math.max(written.number.place, written.to.place));
    const low = Decimal.min(written.number.value, written.to.value).minus(step);
    const high = Decimal.max(written.number.value, written.to.value).plus(step);
    return value.gte(low.minus(slack)) && value.lte(high.plus(slack)) ? 'rounded' : 'no';
  }
  const distance = written.number.value.minus(value).abs();
  if (distance.isZero()) return overPrecise(written.number, held, scale) ? 'over-precise' : 'exact';
  const step = powerOfTen(written.number.place);
  if (distance.lte(step.div(2).plus(slack)))
    return overPrecise(written.number, held, scale) ? 'over-precise' : 'rounded';
  return distance.lte(step.plus(slack)) && distance.lte(value.abs().times(SMALL)) ? 'nearly' : 'no';
}

/** One unit of a number with a single figure is no matter of rounding: 2 for 1. */
const SMALL = 0.2;

/** The best verdict over the value and whatever else the number may rightly have been worked out from. */
export function agreeWithAny(written: Quantity, candidates: readonly Held[]): Verdict {
  let best: Verdict = 'no';
  for (const held of candidates) {
    const verdict = agree(written, held);
    if (ORDER.indexOf(verdict) < ORDER.indexOf(best)) best = verdict;
  }
  return best;
}

/** Strict agreement of a number in a unit, for trying slips: within half of the last place and no slack. */
export function reproduces(written: Quantity, value: Decimal, unit: Unit | undefined): boolean {
  const there = unit ? toUnit(value, unit) : value;
  return written.number.value.minus(there).abs().lte(powerOfTen(written.number.place).div(2));
}

function overPrecise(written: Written, held: Held, scale: number): boolean {
  const u = uncertainty(held) / scale;
  return u > 0 && written.figures > 3 && written.place < Math.floor(Math.log10(u)) - 1;
}
