/** What stands round a weighing: the steps of a series, how fine the balance is, the tares of a vessel over the pages. */
import { minimumWeight, relativeSpread } from '../../compute/precision';
import { type SeriesStep, trendOf } from '../../compute/series';
import type { WeighingValue } from '../../compute/values';
import type { Balance, Reading, Vessel } from '../../model/page';
import type { TareElsewhere } from '../../model/world';
import { Decimal } from '../../quantity/decimal';
import { exact, type Held, isHeld } from '../../quantity/held';
import { show } from '../../quantity/show';
import { toBase, unitOf } from '../../quantity/units';
import { duration } from '../duration';
import { plainText } from './desk';

/** More steps than these fill the hover. */
const LAST_STEPS = 4;

/** `2 h: −0.422 g, 0.211 g/h`: a line for each step of a series, the last ones. */
export function seriesLines({ series, readings }: WeighingValue): string[] {
  if (series.length === 0) return [];
  const what = series[0]!.to.what;
  const count = readings.filter((reading) => reading.what === what).length;
  const left = series.length > LAST_STEPS ? `, the last ${LAST_STEPS} steps` : '';
  const trend = trendOf(series, undefined) ? '; they only run one way: wait until the reading stays' : '';
  return [`${count} ${what} readings${left}${trend}`, ...series.slice(-LAST_STEPS).map(stepLine)];
}

function stepLine({ from, to, change, elapsed, perHour }: SeriesStep): string {
  const unit = to.datum.quantity.unit?.symbol || 'g';
  const grown = change.value.gt(0) ? '+' : '';
  const size = `${grown}${show(change, { unit }).replace('-', '−')}`;
  const time = elapsed === undefined ? '' : ` in ${duration(elapsed)}`;
  const rate = perHour && !change.value.isZero() ? `, ${hourly(perHour)}` : '';
  return `${from.datum.quantity.number.text} → ${to.datum.quantity.number.text} ${unit}: ${size}${time}${rate}`;
}

/** `0.21 g/h lost`: two figures are enough to see where it goes. */
function hourly(perHour: Held): string {
  const size = { ...perHour, value: perHour.value.abs(), figures: 2 };
  return `${show(size, { as: 'claim' })}/h ${perHour.value.gt(0) ? 'lost' : 'gained'}`;
}

/** What 0.10 % would need, and what this mass has. */
export function precisionLine({ net, balance }: Pick<WeighingValue, 'net' | 'balance'>): string | undefined {
  if (!balance || !isHeld(net)) return undefined;
  const spread = relativeSpread(net, balance);
  const least = minimumWeight(balance);
  if (!spread || !least) return undefined;
  const share = show({ ...spread, figures: 2 }, { as: 'claim' });
  return `2 s ÷ m = ${share}; 0.10 % needs ${show(least)} on ${plainText(balance.name)} (USP 41)`;
}

/** Of a balance by itself. */
export function finestLine(balance: Balance): string | undefined {
  const least = minimumWeight(balance);
  return least && `smallest net for 0.10 %: ${show(least)} (USP 41)`;
}

interface Tare {
  readonly grams: Decimal;
  readonly text: string;
  readonly date: string;
}

/** Every tare of a vessel with its page and date, newest first, and how far they lie apart. */
export function tareLines(
  vessel: Vessel,
  elsewhere: readonly TareElsewhere[],
  shown: (reading: Reading) => string,
  today: string | undefined,
): string[] {
  const here = vessel.tares.map((reading): Tare => {
    const { number, unit } = reading.datum.quantity;
    const grams = toBase(number.value, unit ?? unitOf('g'));
    return { grams, text: shown(reading), date: vessel.where.kind === 'page' ? (today ?? '') : '' };
  });
  const there = elsewhere.map((tare): Tare => {
    const unit = tare.unit === 'mg' || tare.unit === 'kg' ? unitOf(tare.unit) : unitOf('g');
    const value = new Decimal(tare.digits);
    const page = tare.id ?? decodeSafely(tare.uri.slice(tare.uri.lastIndexOf('/') + 1));
    return {
      grams: toBase(value, unit),
      text: `tare ${tare.digits} ${tare.unit} (${[page, tare.date].filter(Boolean).join(', ')})`,
      date: tare.date ?? '',
    };
  });
  const known = new Set(here.map(({ text }) => text));
  const all = [...here, ...there.filter(({ text }) => !known.has(text) && known.add(text))];
  const pages = all.filter(({ date }) => date !== '').sort((a, b) => (a.date < b.date ? 1 : a.date > b.date ? -1 : 0));
  const listed = [...pages, ...all.filter(({ date }) => date === '')].map(({ text }) => text);
  const masses = all.map(({ grams }) => grams);
  const apart = masses.length > 1 ? Decimal.max(...masses).minus(Decimal.min(...masses)) : undefined;
  const [newest, oldest] = [pages[0], pages.at(-1)];
  const over = newest && oldest && newest !== oldest ? ` between ${oldest.date} and ${newest.date}` : '';
  const most = listed.slice(0, MOST_TARES);
  const more = listed.length > MOST_TARES ? [`and ${listed.length - MOST_TARES} older`] : [];
  return [
    ...most,
    ...more,
    ...(apart && !apart.isZero() ? [`${show(exact('mass', apart), { unit: 'g' })} apart at most${over}`] : []),
  ];
}

const MOST_TARES = 7;

function decodeSafely(text: string): string {
  try {
    return decodeURIComponent(text);
  } catch {
    return text;
  }
}
