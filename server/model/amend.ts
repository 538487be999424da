/**
 * `amend charge acetic acid: 20.0 mL -> 21.0 mL, misread the scale, MK, 2026-03-05 09:10`: a correction below the
 * signature. The syntax tree of the page stays what is written; the readers get the statement with NEW in its place,
 * read anew, and every span of it leads to text that exists: what comes from NEW to the amendment, the rest to the
 * statement itself.
 */
import { foldName } from '../../grammar/names';
import { parse } from '../../grammar/parse';
import type { Block, PageSource, PlacedBlock, Span, Statement } from '../../grammar/tree';
import { entryOf, type Place, spanAt, textFact } from './facts';
import type { Entry, TextFact } from './page';
import { type Moment, momentOf } from './timeline';

export interface Amendment {
  readonly entry: Entry;
  /** `charge acetic acid`, as written. */
  readonly statement: TextFact;
  readonly old?: TextFact;
  readonly now?: TextFact;
  readonly reason?: TextFact;
  readonly by?: TextFact;
  readonly when?: TextFact;
  readonly moment?: Moment;
  /** What it changes: the block, and where OLD stands on the page. */
  readonly target?: { readonly block: number; readonly old: Span };
  readonly problem?: AmendmentProblem;
}

export type AmendmentProblem =
  /** No `OLD -> NEW`. */
  | { readonly kind: 'no-arrow' }
  /** No statement of that name; `known` are those of the page. */
  | { readonly kind: 'no-statement'; readonly known: readonly string[] }
  /** OLD is not in that statement; `text` is what stands there now. */
  | { readonly kind: 'not-found'; readonly text: string }
  | { readonly kind: 'several'; readonly count: number }
  /** With NEW in its place the line would no longer be that statement. */
  | { readonly kind: 'unreadable' };

/** A block as the readers get it. `moved`: from a span of its text to the span on the page, from the block's start. */
export interface ReadBlock extends PlacedBlock {
  readonly moved?: (span: Span) => Span;
}

export interface Amended {
  readonly blocks: readonly ReadBlock[];
  readonly amendments: readonly Amendment[];
}

const known = new WeakMap<PageSource, Amended>();

/** A page with its amendments carried out, in the order of the text; those that cannot be are left out. */
export function amended(source: PageSource): Amended {
  let made = known.get(source);
  if (!made) {
    made = source.blocks.some(({ block }) => block.statement?.keyword === 'amend')
      ? carryOut(source)
      : { blocks: source.blocks, amendments: [] };
    known.set(source, made);
  }
  return made;
}

export const placeOf = ({ block, at, moved }: ReadBlock): Place => ({ at, text: block.text, ...(moved && { moved }) });

// ── the text of an amended statement ─────────────────────────────────────────────────────────────────────────────

/** A stretch of an amended text: where it stands, and which stretch of the block it stands for; all on the page. */
interface Piece {
  readonly text: string;
  readonly at: number;
  readonly own: boolean;
  readonly base: Span;
}

const pieceOf = ({ block, at }: PlacedBlock): Piece => ({
  text: block.text,
  at,
  own: true,
  base: { start: at, end: at + block.text.length },
});

const textOf = (pieces: readonly Piece[]): string => pieces.map(({ text }) => text).join('');

/** The part of a piece from one offset in it to another; what was written anew is not divided on its base. */
const partOf = (piece: Piece, from: number, to: number): Piece => ({
  ...piece,
  text: piece.text.slice(from, to),
  at: piece.at + from,
  base: piece.own ? { start: piece.base.start + from, end: piece.base.start + to } : piece.base,
});

function cut(pieces: readonly Piece[], start: number, end: number): Piece[] {
  let at = 0;
  return pieces.flatMap((piece) => {
    const from = Math.max(0, start - at);
    const to = Math.min(piece.text.length, end - at);
    at += piece.text.length;
    return from < to ? [partOf(piece, from, to)] : [];
  });
}

/** Where a span of the pieced text stands on the page. */
function locate(pieces: readonly Piece[], { start, end }: Span): Span {
  const within = cut(pieces, start, end);
  const [first, last] = [within[0], within.at(-1)];
  if (first && last) {
    if (within.length === 1) return { start: first.at, end: first.at + first.text.length };
    return { start: first.base.start, end: last.base.end };
  }
  // An empty span: right behind what stands before it.
  const before = cut(pieces, Math.max(0, start - 1), start)[0];
  const at = before ? before.base.end : (pieces[0]?.base.start ?? 0);
  return { start: at, end: at };
}

// ── carrying out ─────────────────────────────────────────────────────────────────────────────────────────────────

function carryOut(source: PageSource): Amended {
  const pieces = new Map<number, readonly Piece[]>();
  const blocks: ReadBlock[] = [...source.blocks];
  const piecesAt = (block: number): readonly Piece[] => pieces.get(block) ?? [pieceOf(source.blocks[block]!)];
  const amendments = source.blocks.flatMap((placed, index): Amendment[] => {
    const { statement } = placed.block;
    if (statement?.keyword !== 'amend' || !statement.subject || statement.body.kind !== 'text') return [];
    const place: Place = { at: placed.at, text: placed.block.text };
    const entry = entryOf(statement, index, place, placed.block.clock);
    const head = { entry, statement: textFact(statement.subject, place) };
    const candidates = blocks.flatMap(({ block }, i) => (isNamed(block, head.statement.text) ? [i] : []));
    const found = find(statement, place, candidates, (block) => textOf(piecesAt(block)));
    if (found.kind !== 'found') return [{ ...head, ...found.parts, problem: found.problem(namesOf(source)) }];
    const { block, start, end, parts } = found;
    const old = piecesAt(block);
    const length = textOf(old).length;
    const replaced = cut(old, start, end);
    const now: Piece = {
      text: parts.now!.text,
      at: parts.now!.span.start,
      own: false,
      base: { start: replaced[0]!.base.start, end: replaced.at(-1)!.base.end },
    };
    const next = [...cut(old, 0, start), now, ...cut(old, end, length)];
    const read = readAnew(source.blocks[block]!.block, textOf(next));
    if (!read) return [{ ...head, ...parts, problem: { kind: 'unreadable' } }];
    pieces.set(block, next);
    const { at } = source.blocks[block]!;
    blocks[block] = { block: read, at, moved: (span) => shifted(locate(next, span), -at) };
    return [{ ...head, ...parts, target: { block, old: locate(old, { start, end }) } }];
  });
  return { blocks, amendments };
}

const shifted = ({ start, end }: Span, by: number): Span => ({ start: start + by, end: end + by });

/** The block with another text; undefined where it would no longer be what it is. */
function readAnew({ kind, statement }: Block, text: string): Block | undefined {
  const blocks = parse(text).pages.flatMap(({ page }) => page.blocks);
  const [first, ...rest] = blocks;
  const same =
    first && rest.length === 0 && first.block.kind === kind && first.block.statement?.keyword === statement?.keyword;
  return same ? first.block : undefined;
}

/** `charge acetic acid`; `09:55` is a log entry, `product` alone the page's only statement of that kind. */
function isNamed({ statement, clock }: Block, name: string): boolean {
  if (clock && clock.text === name) return true;
  if (!statement || statement.keyword === 'amend') return false;
  const subject = statement.subject ? ` ${foldName(statement.subject.text)}` : '';
  const [keyword = '', ...words] = name.split(/\s+/);
  return keyword === statement.keyword && (words.length === 0 || ` ${foldName(words.join(' '))}` === subject);
}

/** How the statements of a page can be named. */
const namesOf = ({ blocks }: PageSource): readonly string[] => [
  ...new Set(
    blocks.flatMap(({ block: { statement, clock } }) => [
      ...(clock ? [clock.text] : []),
      ...(statement && !CLOSING.has(statement.keyword)
        ? [[statement.keyword, statement.subject?.text].filter(Boolean).join(' ')]
        : []),
    ]),
  ),
];

const CLOSING: ReadonlySet<Statement['keyword']> = new Set<Statement['keyword']>(['amend', 'signed', 'witnessed']);

// ── OLD and NEW ──────────────────────────────────────────────────────────────────────────────────────────────────

type Parts = Pick<Amendment, 'old' | 'now' | 'reason' | 'by' | 'when' | 'moment'>;

type Search =
  | {
      readonly kind: 'found';
      readonly block: number;
      readonly start: number;
      readonly end: number;
      readonly parts: Parts;
    }
  | {
      readonly kind: 'lost';
      readonly parts: Parts;
      readonly problem: (names: readonly string[]) => AmendmentProblem;
    };

const ARROW = /\s(?:->|→)\s/g;

/**
 * An arrow may stand in OLD and in NEW, too (`amend reaction R1: A + B -> C -> A + 2 B -> C`): the longest OLD that
 * occurs once is meant.
 */
function find(statement: Statement, place: Place, blocks: readonly number[], text: (block: number) => string): Search {
  const body = statement.body.kind === 'text' ? statement.body.text.span : { start: 0, end: 0 };
  const written = place.text.slice(body.start, body.end);
  const splits = [...written.matchAll(ARROW)].map((arrow) => {
    const after = arrow.index + arrow[0].length;
    return readParts(
      place,
      { start: body.start, end: body.start + arrow.index },
      { start: body.start + after, end: body.end },
    );
  });
  const first = splits[0];
  const lost = (problem: (names: readonly string[]) => AmendmentProblem): Search => ({
    kind: 'lost',
    parts: first ?? {},
    problem,
  });
  if (!first?.old?.text || !first.now?.text) return lost(() => ({ kind: 'no-arrow' }));
  if (blocks.length === 0) return lost((known) => ({ kind: 'no-statement', known }));
  let most = 0;
  for (const parts of splits.toReversed()) {
    if (!parts.old?.text || !parts.now?.text) continue;
    const found = blocks.flatMap((block) => occurrences(text(block), parts.old!.text).map((at) => ({ block, ...at })));
    if (found.length === 1) return { kind: 'found', ...found[0]!, parts };
    most = Math.max(most, found.length);
  }
  if (most > 1) return lost(() => ({ kind: 'several', count: most }));
  return lost(() => ({ kind: 'not-found', text: blocks.map(text).join(' ').replace(/\s+/g, ' ').trim() }));
}

/** `reason, WHO, WHEN` behind NEW, from the end; NEW has as many facts as OLD, or stands in double quotes. */
function readParts(place: Place, before: Span, after: Span): Parts {
  const old = unquoted(place, before);
  const facts = factsOf(place, after);
  const count = place.text[after.start] === '"' ? 1 : factsOf(place, before).length;
  // `-> , reason`: nothing is written to take its place.
  const empty = /^\s*,/.test(place.text.slice(after.start, after.end));
  const now = !empty && facts[0] ? facts[Math.min(count, facts.length) - 1] : undefined;
  const rest = facts.slice(count).map((span) => textAt(place, span));
  const when = rest.at(-1) && momentOf(rest.at(-1)!.text) ? rest.pop() : undefined;
  const by = rest.length > 1 || PERSON.test(rest.at(-1)?.text ?? '') ? rest.pop() : undefined;
  const [reason, last] = [rest[0], rest.at(-1)];
  const moment = when && momentOf(when.text);
  return {
    ...(old && { old }),
    ...(now && { now: unquoted(place, { start: facts[0]!.start, end: now.end })! }),
    ...(reason &&
      last && {
        reason: {
          text: rest.map(({ text }) => text).join(', '),
          span: { start: reason.span.start, end: last.span.end },
        },
      }),
    ...(by && { by }),
    ...(when && { when }),
    ...(moment && { moment }),
  };
}

/** Initials or a name: capitals at the start of each word. */
const PERSON = /^\p{Lu}[\p{L}.'-]*(?:\s\p{Lu}[\p{L}.'-]*){0,3}$/u;

function textAt(place: Place, { start, end }: Span): TextFact {
  return { text: place.text.slice(start, end).replace(/\s+/g, ' '), span: spanAt(place, { start, end }) };
}

function unquoted(place: Place, { start, end }: Span): TextFact | undefined {
  const raw = place.text.slice(start, end);
  const from = start + (raw.length - raw.trimStart().length);
  const to = from + raw.trim().length;
  if (from >= to) return undefined;
  const quoted = to - from > 2 && place.text[from] === '"' && place.text[to - 1] === '"';
  return textAt(place, quoted ? { start: from + 1, end: to - 1 } : { start: from, end: to });
}

/** Stretches between commas with white space after them, outside of brackets and quotes; trimmed. */
function factsOf({ text }: Place, { start, end }: Span): Span[] {
  const spans: Span[] = [];
  let from = start;
  let depth = 0;
  let quoted = false;
  const close = (to: number): void => {
    const raw = text.slice(from, to);
    const first = from + (raw.length - raw.trimStart().length);
    if (raw.trim() !== '') spans.push({ start: first, end: first + raw.trim().length });
    from = to + 1;
  };
  for (let i = start; i < end; i++) {
    const c = text[i]!;
    if (c === '"') quoted = !quoted;
    else if ('([{'.includes(c)) depth++;
    else if (')]}'.includes(c)) depth = Math.max(0, depth - 1);
    else if (c === ',' && depth === 0 && !quoted && /\s/.test(text[i + 1] ?? ' ')) close(i);
  }
  close(end);
  return spans;
}

/** Where OLD stands as a whole: `1.0 mL` is not in `21.0 mL`. White space is any white space. */
function occurrences(text: string, old: string): Span[] {
  const words = old.split(/\s+/).map((word) => word.replace(/[.*+?^${}()|[\]\\]/g, '\\$&'));
  const pattern = new RegExp(
    `${/^[\p{L}\d]/u.test(old) ? '(?<![\\p{L}\\d.])' : ''}${words.join('\\s+')}${/[\p{L}\d]$/u.test(old) ? '(?![\\p{L}\\d]|\\.\\d)' : ''}`,
    'gu',
  );
  return [...text.matchAll(pattern)].map((match) => ({ start: match.index, end: match.index + match[0].length }));
}
