/** Reading facts of the syntax tree into data with places: the few helpers that all readers share. */

import { foldName } from '../../grammar/names';
import type { ClaimGroup, Fact, Leg, Part, QuantityNode, Span, Statement, Text, WordNode } from '../../grammar/tree';
import type { FactKey } from '../../grammar/vocabulary';
import type { Origin } from '../quantity/held';
import type { Kind } from '../quantity/kinds';
import type { Quantity } from '../quantity/written';
import { readQuantity } from '../quantity/written';
import type { BatchRef, Claim, Datum, Entry, TextFact } from './page';

/** Where the data of a block stand: its offset on the page, and whether the page is this one or another. */
export interface Place {
  readonly at: number;
  /** The block's text. */
  readonly text: string;
  /** Of an amended block: from a span of its text to where that stands, from the block's start. */
  readonly moved?: (span: Span) => Span;
  /** Set when the page is a register or a file's head seen from a page: what to call it, and where it is. */
  readonly elsewhere?: Elsewhere;
}

export interface Elsewhere {
  readonly where: string;
  readonly uri: string;
  readonly page?: string;
  readonly entry?: string;
}

/** The name under which a statement is found again: `vessel beaker 4`. */
export const entryName = (statement: Statement): string =>
  `${statement.keyword} ${foldName(statement.subject?.text ?? '')}`;

const inBlock = ({ moved }: Place, span: Span): Span => (moved ? moved(span) : span);

export function spanAt(place: Place, span: Span): Span {
  const { start, end } = inBlock(place, span);
  return { start: place.at + start, end: place.at + end };
}

export function originAt(place: Place, span: Span): Origin {
  if (!place.elsewhere) return { from: 'here', ...spanAt(place, span) };
  const { start, end } = inBlock(place, span);
  return { from: 'there', ...place.elsewhere, start, end };
}

/** With its spans on the page. */
export function quantityAt(node: QuantityNode, place: Place): Quantity | undefined {
  const quantity = readQuantity(node, place.moved ? 0 : place.at);
  if (!quantity || !place.moved) return quantity;
  const move = <T extends Span>(part: T): T => ({ ...part, ...spanAt(place, part) });
  const { number, plusMinus, to, count } = quantity;
  return {
    ...move(quantity),
    number: move(number),
    ...(plusMinus && { plusMinus: move(plusMinus) }),
    ...(to && { to: move(to) }),
    ...(count && { count: move(count) }),
  };
}

/** Undefined when a number has no single reading; the rules of reading say so. */
export function datumOf(node: QuantityNode, place: Place): Datum | undefined {
  const quantity = quantityAt(node, place);
  return quantity && { quantity, origin: originAt(place, node.span), span: spanAt(place, node.span) };
}

export const isQuantity = (part: Part | undefined): part is QuantityNode => part?.kind === 'quantity';
export const isWord = (part: Part | undefined, text?: string): part is WordNode =>
  part?.kind === 'word' && (text === undefined || part.text === text);

/** The first quantity of a fact, of one of the kinds when given. */
export function quantityOf(fact: Fact, kinds?: readonly Kind[], place?: Place): QuantityNode | undefined {
  for (const part of fact.parts) {
    if (!isQuantity(part)) continue;
    if (!kinds || !place) return part;
    const read = quantityAt(part, place);
    if (read && kinds.includes(read.unit?.kind ?? 'number')) return part;
  }
  return undefined;
}

/** The text of parts from one index to another (exclusive), as written, blanks folded. */
export function textOf(parts: readonly Part[], from: number, to: number, place: Place): TextFact | undefined {
  const kept = parts.slice(from, to).filter((part) => part.kind !== 'struck');
  const first = kept[0];
  const last = kept[kept.length - 1];
  if (!first || !last) return undefined;
  const raw = place.text.slice(first.span.start, last.span.end);
  const text = kept.length === to - from ? raw : kept.map((p) => place.text.slice(p.span.start, p.span.end)).join(' ');
  return {
    text: text.replace(/\s+/g, ' ').trim(),
    span: spanAt(place, { start: first.span.start, end: last.span.end }),
  };
}

/** All that a fact says after its key. */
export const restOf = (fact: Fact, place: Place): TextFact | undefined =>
  textOf(fact.parts, 0, fact.parts.length, place);

export function textFact(text: Text, place: Place): TextFact {
  return { text: text.text, span: spanAt(place, text.span) };
}

export const factsOf = (statement: Statement): readonly Fact[] =>
  statement.body.kind === 'facts' ? statement.body.legs.flatMap((leg) => leg.facts) : [];

export const legsOf = (statement: Statement): readonly Leg[] =>
  statement.body.kind === 'facts' ? statement.body.legs : [];

export const factWith = (facts: readonly Fact[], key: FactKey): Fact | undefined =>
  facts.find((fact) => fact.key === key);

/** The quantity of the first fact with a key. */
export function datumWith(facts: readonly Fact[], key: FactKey, place: Place): Datum | undefined {
  const fact = factWith(facts, key);
  const node = fact && quantityOf(fact);
  return node && datumOf(node, place);
}

export function textWith(facts: readonly Fact[], key: FactKey, place: Place): TextFact | undefined {
  const fact = factWith(facts, key);
  return fact && restOf(fact, place);
}

export function entryOf(statement: Statement, block: number, place: Place, seconds?: Entry['clock']): Entry {
  const span = spanAt(place, statement.span);
  const subject = spanAt(place, statement.subject?.span ?? statement.keywordSpan);
  // An amended subject stands in the amendment.
  const inside = span.start <= subject.start && subject.end <= span.end;
  return {
    keyword: statement.keyword,
    block,
    text: place.text,
    span,
    mark: inside ? subject : spanAt(place, statement.keywordSpan),
    ...(seconds && { clock: seconds }),
  };
}

const BATCH = /^([A-Za-z][\w.-]*\d[\w.-]*)(?:\/(\S+))?$/;

/** `TB-011` or `TB-011/V-3`: one word with a digit in it; anything else (`from the still`) is a remark. */
export function batchOf(text: TextFact | undefined): BatchRef | undefined {
  const match = text && BATCH.exec(text.text);
  if (!match?.[1]) return undefined;
  return { id: match[1], ...(match[2] && { label: match[2] }), span: text!.span };
}

/** The claims of facts, in order; each remembers its group. */
export function claimsOf(
  facts: readonly Fact[],
  place: Place,
): { claims: Claim[]; elements: { element: string; claim: Claim }[] } {
  const claims: Claim[] = [];
  const elements: { element: string; claim: Claim }[] = [];
  let group = 0;
  for (const fact of facts) {
    for (const written of fact.claims) {
      readGroup(written, group, place, claims, elements);
      group++;
    }
  }
  return { claims, elements };
}

function readGroup(
  written: ClaimGroup,
  group: number,
  place: Place,
  claims: Claim[],
  elements: { element: string; claim: Claim }[],
): void {
  const groupSpan = spanAt(place, written.span);
  let inherited: string | undefined;
  for (const fact of written.facts) {
    const node = quantityOf(fact);
    const quantity = node && quantityAt(node, place);
    if (!node || !quantity) continue;
    const before = textOf(fact.parts, 0, fact.parts.indexOf(node), place)?.text;
    const label = fact.key ?? before;
    if (fact.key === 'calcd' || fact.key === 'found' || fact.key === 'lit.') inherited = fact.key;
    const claim: Claim = { quantity, span: spanAt(place, node.span), group, groupSpan, ...(label && { label }) };
    claims.push(claim);
    const element = before && /^[A-Z][a-z]?$/.test(before) ? before : undefined;
    if (element && inherited === 'calcd') elements.push({ element, claim });
  }
}

/** Seconds since midnight of `9:40`, `09:40:30`; undefined for anything else. */
export function secondsOf(text: string): number | undefined {
  const match = /^(\d{1,2}):(\d{2})(?::(\d{2}))?$/.exec(text);
  if (!match) return undefined;
  const [hours, minutes, seconds] = [Number(match[1]), Number(match[2]), Number(match[3] ?? 0)];
  return hours < 24 && minutes < 60 && seconds < 60 ? hours * 3600 + minutes * 60 + seconds : undefined;
}

export type { Quantity };
