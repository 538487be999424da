/** Readings of one thing one after the other: a drying series, or a balance that does not come to rest. */
import type { Reading } from '../model/page';
import { type Decimal, powerOfTen } from '../quantity/decimal';
import { divide, exact, type Held, subtract } from '../quantity/held';

/** From one reading of a series to the next. */
export interface SeriesStep {
  readonly from: Reading;
  readonly to: Reading;
  /** Later minus earlier, g. */
  readonly change: Held;
  /** Where both times are written, s. */
  readonly elapsed?: number;
  /** Mass lost in an hour, g; negative where it grew. */
  readonly perHour?: Held;
}

const DAY = 24 * 3600;
const HOUR = 3600;

/** A clock that falls by more than half a day is the next day's; a smaller fall is no time. */
export function secondsBetween(a: number | undefined, b: number | undefined): number | undefined {
  if (a === undefined || b === undefined) return undefined;
  const passed = b - a;
  return passed >= 0 ? passed : passed < -DAY / 2 ? passed + DAY : undefined;
}

/** The steps of all readings of one kind. `value`: of a reading, g. */
export function seriesOf(
  readings: readonly Reading[],
  what: Reading['what'],
  value: (reading: Reading) => Held | undefined,
): readonly SeriesStep[] {
  const own = readings.filter((reading) => reading.what === what && reading.datum.quantity.unit?.kind === 'mass');
  return own.slice(1).flatMap((to, i): SeriesStep[] => {
    const from = own[i]!;
    const [before, after] = [value(from), value(to)];
    if (!before || !after) return [];
    const inputs = [
      { symbol: 'later', held: after },
      { symbol: 'earlier', held: before },
    ];
    const change = subtract(after, before, { formula: 'later − earlier', inputs });
    const lost = subtract(before, after, { formula: 'earlier − later', inputs });
    const elapsed = secondsBetween(from.seconds, to.seconds);
    const hours = elapsed ? exact('number', elapsed / HOUR) : undefined;
    const perHour =
      hours &&
      divide('mass', lost, hours, {
        formula: 'lost ÷ hours',
        inputs: [
          { symbol: 'lost', held: lost },
          { symbol: 'hours', held: hours },
        ],
      });
    return [{ from, to, change, ...(elapsed !== undefined && { elapsed }), ...(perHour && { perHour }) }];
  });
}

/** So long does a balance take at most to come to rest; longer apart, it is drying or standing in the air. */
const AT_ONE_SITTING = 15 * 60;
const FEWEST_STEPS = 2;

/** A trend in one direction within minutes. */
export interface Trend {
  readonly steps: readonly SeriesStep[];
  readonly rising: boolean;
  /** Last minus first, g. */
  readonly change: Decimal;
  readonly elapsed: number;
}

/**
 * At least three readings at one sitting, each beyond the one before by a step of the display or more, in sum beyond
 * three steps and three times the repeatability.
 */
export function trendOf(steps: readonly SeriesStep[], repeatability: Decimal | undefined): Trend | undefined {
  const elapsed = steps.reduce((sum, step) => sum + (step.elapsed ?? Number.POSITIVE_INFINITY), 0);
  const first = steps[0];
  if (!first || steps.length < FEWEST_STEPS || elapsed > AT_ONE_SITTING) return undefined;
  const rising = first.change.value.gt(0);
  if (steps.some(({ change }) => change.value.isZero() || change.value.gt(0) !== rising)) return undefined;
  const change = steps.reduce((sum, step) => sum.plus(step.change.value), first.change.value.times(0));
  const { number, unit } = first.from.datum.quantity;
  const step = powerOfTen(number.place).times(unit!.factor);
  const enough = change.abs().gt(step.times(3)) && (!repeatability || change.abs().gt(repeatability.times(3)));
  return enough ? { steps, rising, change, elapsed } : undefined;
}
