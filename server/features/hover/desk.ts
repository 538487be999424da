/** What a hover is made on: the page, the place, and the ways in which its lines are written. */
import type { Span } from '../../../grammar/tree';
import type { ChargeValue } from '../../compute/values';
import type { Datum, Entry } from '../../model/page';
import { type Held, isHeld, type Result } from '../../quantity/held';
import { show } from '../../quantity/show';
import { type Places, steps } from '../../quantity/steps';
import { factsIn } from '../../rules/walk';
import type { PageResult, Snapshot } from '../../snapshot';
import { type PagePlace, within } from '../place';
import { lineOf, placesOn } from '../working';

/** What lies open: the page, and where the reader points. */
export interface Desk {
  readonly snapshot: Snapshot;
  readonly place: PagePlace;
  readonly result: PageResult;
}

export interface Found {
  readonly span: Span;
  readonly lines: readonly string[];
}

export const places = (desk: Desk, own?: Span): Places => placesOn(desk.snapshot, desk.place.page, own);
export const pointsAt = (desk: Desk, span: Span): boolean => within(span, desk.place.offset);
/** The keyword with the name: the head of a statement. */
export const head = (entry: Entry): Span => ({ start: entry.span.start, end: entry.mark.end });
export const line = (desk: Desk, span: Span): number => lineOf(desk.snapshot.range(desk.place.page, span));

/** The head of the statement, a quantity of it or a reading: what a person points at to learn about the amount. */
export function pointsAtAmount(desk: Desk, entry: Entry, amount: ChargeValue['charge']['amount']): boolean {
  if (!pointsAt(desk, entry.span)) return false;
  if (pointsAt(desk, head(entry)) || (amount.word && pointsAt(desk, amount.word.span))) return true;
  return (
    amount.quantities.some(({ span }) => pointsAt(desk, span)) ||
    amount.weighing.readings.some(({ word, datum: { span } }) => pointsAt(desk, { start: word.start, end: span.end }))
  );
}

/** What is pointed at: the head, or else the line's own number. */
export function amountSpan(desk: Desk, entry: Entry): Span {
  if (pointsAt(desk, head(entry))) return entry.mark;
  for (const { fact, block, at } of factsIn(desk.result.source)) {
    if (block !== desk.place.index) continue;
    for (const { span } of fact.parts) {
      const here = { start: span.start + at, end: span.end + at };
      if (pointsAt(desk, here)) return here;
    }
  }
  return entry.mark;
}

export const textAt = ({ result }: Desk, { start, end }: Span): string => result.source.text.slice(start, end);

export const heldOf = (...results: readonly Result[]): Held[] => results.filter(isHeld);

export const said = (lines: readonly (string | false | undefined)[]): string[] =>
  lines.filter((text): text is string => Boolean(text));

/** Lines of text stay lines: Markdown would run them together without the two blanks. */
export const markdown = (lines: readonly string[]): string =>
  lines.map((text, i) => (text && lines[i + 1] && !text.startsWith('|') ? `${text}  ` : text)).join('\n');

export const worked = (held: Held, where: Places, limit = 4): string[] => steps(held, limit, where).map(plainText);

/** A paragraph, if there is anything to say. */
export function after(...texts: readonly (string | false | undefined)[]): string[] {
  const lines = said(texts);
  return lines.length > 0 ? ['', lines.map(plainText).join(' · ')] : [];
}

export function datum({ quantity, origin }: Datum, where: Places): string {
  const to = quantity.to ? `–${quantity.to.text}` : '';
  const unit = quantity.unit?.symbol ? ` ${quantity.unit.symbol}` : '';
  const place = where(origin);
  return `${quantity.number.text}${to}${unit}${place ? ` (${place})` : ''}`;
}

export function shownWith(held: Held, where: Places): string {
  const place = held.working.origin && where(held.working.origin);
  return `${held.working.written ?? show(held)}${place ? ` (${place})` : ''}`;
}

/** The table a value rests on in the end. */
export function tableOf(held: Held): string | undefined {
  const { origin, inputs } = held.working;
  if (origin) return origin.from === 'table' ? origin.source : undefined;
  return inputs.map((input) => tableOf(input.held)).find((source) => source !== undefined);
}

/** Names hold characters that Markdown would take for its own. */
export const plainText = (text: string): string => text.replace(/[\\`*_[\]<>~]/g, '\\$&');
export const cell = (text: string): string => plainText(text).replace(/\|/g, '\\|');

/** Ratios of molar masses are known far better than anybody wants to read. */
export const brief = (held: Held): string =>
  RATIOS.has(held.kind) && held.figures > 4
    ? show({ ...held, figures: held.kind === 'massFraction' ? 4 : 3 }, { as: 'claim' })
    : show(held);

const RATIOS: ReadonlySet<Held['kind']> = new Set(['ratio', 'massFraction', 'massRatio', 'number']);
