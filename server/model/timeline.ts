/** When things happened: dates and clock times of a page, in the order of its text. */
import type { PlacedBlock, Span } from '../../grammar/tree';
import { secondsOf } from './facts';

/** Days since 0000-03-01 of the Gregorian calendar; the time of day where it is written. */
export interface Moment {
  readonly day: number;
  /** Since midnight. */
  readonly seconds?: number;
}

/** `2026-03-04` as a count of days, so that dates can be taken from one another; undefined for what is no day. */
export function dayNumber(date: string): number | undefined {
  const match = /^(\d{4})-(\d{2})-(\d{2})$/.exec(date);
  if (!match) return undefined;
  const [year, month, day] = [Number(match[1]), Number(match[2]), Number(match[3])];
  if (month < 1 || month > 12) return undefined;
  // The year begins in March, so that the leap day is its last.
  const y = month < 3 ? year - 1 : year;
  const m = (month + 9) % 12;
  const count =
    365 * y + Math.floor(y / 4) - Math.floor(y / 100) + Math.floor(y / 400) + Math.floor((153 * m + 2) / 5) + day - 1;
  return dateOf(count) === date ? count : undefined;
}

/** The ISO date of a count of days. */
export function dateOf(day: number): string {
  const era = Math.floor(day / 146_097);
  const ofEra = day - era * 146_097;
  const yearOfEra = Math.floor(
    (ofEra - Math.floor(ofEra / 1460) + Math.floor(ofEra / 36_524) - Math.floor(ofEra / 146_096)) / 365,
  );
  const ofYear = ofEra - (365 * yearOfEra + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100));
  const m = Math.floor((5 * ofYear + 2) / 153);
  const month = m < 10 ? m + 3 : m - 9;
  const year = yearOfEra + era * 400 + (month < 3 ? 1 : 0);
  const two = (n: number): string => String(n).padStart(2, '0');
  return `${String(year).padStart(4, '0')}-${two(month)}-${two(ofYear - Math.floor((153 * m + 2) / 5) + 1)}`;
}

/** `2026-03-04`, `2026-03-04 17:20` or `2026-03-04T17:20`. */
export function momentOf(text: string): Moment | undefined {
  const [date = '', clock] = text.trim().split(/[T\s]+/);
  const day = dayNumber(date);
  const seconds = clock === undefined ? undefined : secondsOf(clock);
  return day === undefined ? undefined : { day, ...(seconds !== undefined && { seconds }) };
}

/** Seconds from one moment to a later one; whole days where a time of day is missing. Negative where it is earlier. */
export const between = (a: Moment, b: Moment): number =>
  (b.day - a.day) * DAY + (a.seconds !== undefined && b.seconds !== undefined ? b.seconds - a.seconds : 0);

const DAY = 24 * 3600;
const HALF_A_DAY = DAY / 2;

/** A log entry with the day it belongs to. */
export interface LoggedAt {
  readonly block: number;
  /** Of the clock time, on the page. */
  readonly span: Span;
  readonly text: string;
  readonly seconds: number;
  /** Undefined while no date is written, or where the text says that another day began. */
  readonly moment?: Moment;
  /** Since the page's first entry, s; undefined where the days between are not known. */
  readonly elapsed?: number;
  /** It says itself that it stands out of order. */
  readonly late: boolean;
  /** Smaller than the entry before, by no more than half a day, with no new day said between: how far, s. */
  readonly fall: number;
  /** The entry before, of the same run. */
  readonly before?: { readonly text: string; readonly seconds: number };
}

/** A block of a page, amended or not. */
interface LogBlock extends PlacedBlock {
  readonly moved?: (span: Span) => Span;
}

/** What a heading, a line of prose or the entry says when another day begins. */
const NEW_DAY =
  /\b(?:next|following) (?:day|morning)\b|\bday \d|\b(?:mon|tues|wednes|thurs|fri|satur|sun)day\b|\d{4}-\d{2}-\d{2}/i;
/** An entry that says itself that it stands out of order. */
const LATE = /\b(?:late entry|(?:written|entered|added) (?:later|late|afterwards))\b/i;

/** The log of a page: a `date:` begins a day, a clock that falls by more than half a day is the next one. */
export function logOf({ blocks }: { readonly blocks: readonly LogBlock[] }): readonly LoggedAt[] {
  const log: LoggedAt[] = [];
  let day: number | undefined;
  let unsure = false;
  let midnights = 0;
  let before: LoggedAt['before'];
  let origin: { readonly day: number | undefined; readonly at: number } | undefined;
  blocks.forEach(({ block, at, moved }, index) => {
    const { clock, statement } = block;
    if (statement?.keyword === 'date' && statement.body.kind === 'text') {
      day = dayNumber(statement.body.text.text);
      unsure = day === undefined;
      midnights = 0;
      before = undefined;
    }
    const said = block.body?.text ?? '';
    if (NEW_DAY.test(said)) {
      before = undefined;
      unsure = true;
    }
    if (!clock) return;
    const late = LATE.test(said);
    const fell = !late && before ? before.seconds - clock.seconds : 0;
    if (fell > HALF_A_DAY) midnights++;
    const moment = day === undefined || unsure ? undefined : { day: day + midnights, seconds: clock.seconds };
    const here = midnights * DAY + clock.seconds;
    origin ??= { day, at: here };
    const elapsed =
      unsure || late
        ? undefined
        : day === origin.day
          ? here - origin.at
          : day !== undefined && origin.day !== undefined
            ? (day - origin.day) * DAY + here - origin.at
            : undefined;
    const span = moved ? moved(clock.span) : clock.span;
    log.push({
      block: index,
      span: { start: at + span.start, end: at + span.end },
      text: clock.text,
      seconds: clock.seconds,
      late,
      fall: fell > 0 && fell <= HALF_A_DAY ? fell : 0,
      ...(moment && { moment }),
      ...(elapsed !== undefined && elapsed >= 0 && { elapsed }),
      ...(before && { before }),
    });
    if (!late) before = { text: clock.text, seconds: clock.seconds };
  });
  return log;
}
