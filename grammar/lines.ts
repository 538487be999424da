/**
 * Text → lines → blocks → pages. The only code that knows what a line is.
 *
 * Every scan here looks at each character a bounded number of times: a line may be a megabyte long.
 */
import type { BlockKind, Clock, Span, Text } from './tree';
import { KEYWORDS, type Keyword } from './vocabulary';

/** Blocks and lines of one page, as offsets from the start of the text that was split. */
export interface PageOutline {
  readonly start: number;
  readonly end: number;
  readonly blocks: readonly BlockOutline[];
  /** Start of each line. */
  readonly lines: readonly number[];
  readonly openFence: boolean;
}

export interface BlockOutline extends Span {
  readonly kind: BlockKind;
}

/** What stands before the facts of a statement; offsets into the text it was read from. */
export interface Head {
  readonly keyword: Keyword;
  readonly keywordSpan: Span;
  /** Trimmed; empty when there is no subject. */
  readonly subject: Span;
  readonly colon: number;
}

const TAB = 9;
const LF = 10;
const CR = 13;
const BLANK = 32;
const HASH = 35;
const COLON = 58;
const BACKQUOTE = 96;
const BOM = 0xfeff;

/** White space as `\s` has it. */
export const isWhite = (code: number): boolean =>
  code <= BLANK
    ? code === BLANK || (code >= TAB && code <= CR)
    : code >= 0xa0 &&
      (code === 0xa0 ||
        code === 0x1680 ||
        (code >= 0x2000 && code <= 0x200a) ||
        code === 0x2028 ||
        code === 0x2029 ||
        code === 0x202f ||
        code === 0x205f ||
        code === 0x3000 ||
        code === BOM);

export const isDigit = (code: number): boolean => code >= 48 && code <= 57;

/** Where the line that holds `at` ends, its line end not counted. */
export function lineEnd(text: string, at: number): number {
  let i = at;
  for (; i < text.length; i++) {
    const code = text.charCodeAt(i);
    if (code === LF || code === CR) break;
  }
  return i;
}

/** Start of the line after the one that ends at `end`. */
const nextLine = (text: string, end: number): number =>
  text.charCodeAt(end) === CR && text.charCodeAt(end + 1) === LF ? end + 2 : Math.min(end + 1, text.length);

/** Without the white space at both ends; nothing but white space is an empty span at its start. */
export function trim(text: string, start: number, end: number): Span {
  let from = start;
  let to = end;
  while (from < to && isWhite(text.charCodeAt(from))) from++;
  if (from === to) return { start, end: start };
  while (to > from && isWhite(text.charCodeAt(to - 1))) to--;
  return { start: from, end: to };
}

/** The text between two offsets, trimmed, each line break with the blanks round it folded to one blank. */
export function foldedText(text: string, start: number, end: number): Text {
  const span = trim(text, start, end);
  const written = text.slice(span.start, span.end);
  if (!/[\r\n]/.test(written)) return { text: written, span };
  const lines = written.split(/[\r\n]+/).map((line) => line.trim());
  return { text: lines.filter((line) => line !== '').join(' '), span };
}

/** A finite verb makes a sentence of what looks like a statement. */
const FINITE = /(?<![^\s,])(?:was|were|is|are|has|had|went|looks|looked)(?![^\s,])/;

/** The head of a statement that begins at `at`, in the line that ends at `end`. */
export function headAt(text: string, at: number, end: number): Head | undefined {
  let i = at;
  for (; i < end; i++) {
    const code = text.charCodeAt(i);
    if (code < 97 || code > 122) break;
  }
  const after = i < end ? text.charCodeAt(i) : 0;
  if (after !== COLON && !isWhite(after)) return undefined;
  const word = text.slice(at, i);
  if (!Object.hasOwn(KEYWORDS, word)) return undefined;
  const keyword = word as Keyword;
  for (let colon = i; colon < end; colon++) {
    if (text.charCodeAt(colon) !== COLON) continue;
    if (colon + 1 < end && !isWhite(text.charCodeAt(colon + 1))) continue;
    const subject = trim(text, i, colon);
    if (subject.start < subject.end) {
      if (KEYWORDS[keyword].subject === 'none') return undefined;
      if (FINITE.test(text.slice(subject.start, subject.end))) return undefined;
    }
    return { keyword, keywordSpan: { start: at, end: i }, subject, colon };
  }
  return undefined;
}

const CLOCK = /(\d{1,2}):([0-5]\d)(?::([0-5]\d))?(?!\S)/y;
const INITIALS = /[^\S\r\n]+\[([^[\]\r\n]{1,20})\](?!\S)/y;

/** A time of day at `at`, and where the entry's text begins. */
export function clockAt(text: string, at: number): { readonly clock: Clock; readonly end: number } | undefined {
  CLOCK.lastIndex = at;
  const time = CLOCK.exec(text);
  if (time === null || Number(time[1]) > 23) return undefined;
  const seconds = Number(time[1]) * 3600 + Number(time[2]) * 60 + Number(time[3] ?? 0);
  const span = { start: at, end: CLOCK.lastIndex };
  INITIALS.lastIndex = span.end;
  const by = INITIALS.exec(text);
  if (by === null) return { clock: { text: time[0], span, seconds }, end: span.end };
  return { clock: { text: time[0], span, seconds, by: by[1]!.trim() }, end: INITIALS.lastIndex };
}

/** Number of `#` of a heading at `at`: 1 to 3, else 0. */
export function headingLevel(text: string, at: number): number {
  let level = 0;
  while (level < 4 && text.charCodeAt(at + level) === HASH) level++;
  const after = text.charCodeAt(at + level);
  return level <= 3 && (after === BLANK || after === TAB) ? level : 0;
}

const isFence = (text: string, at: number): boolean =>
  text.charCodeAt(at) === BACKQUOTE && text.charCodeAt(at + 1) === BACKQUOTE && text.charCodeAt(at + 2) === BACKQUOTE;

/** After the byte-order mark, if a file begins with one. */
export const skipMark = (text: string, at: number): number => (text.charCodeAt(at) === BOM ? at + 1 : at);

/** What a line is by itself; `indented` is decided by what stands above it. */
function kindOf(text: string, at: number, end: number): BlockKind | 'indented' | 'page' {
  const first = at < end ? text.charCodeAt(at) : BLANK;
  if (isWhite(first)) {
    const written = trim(text, at, end);
    return written.start === written.end ? 'blank' : 'indented';
  }
  if (isDigit(first)) return clockAt(text, at) === undefined ? 'prose' : 'log';
  if (first === HASH) return headingLevel(text, at) > 0 ? 'heading' : 'prose';
  if (isFence(text, at)) return 'fence';
  const head = headAt(text, at, end);
  return head === undefined ? 'prose' : head.keyword === 'experiment' ? 'page' : 'statement';
}

/**
 * Splits text into pages. The first holds what stands before the first `experiment` line and may be empty.
 * `atFileStart`: a byte-order mark at the beginning is white space of the first line.
 */
export function outline(text: string, atFileStart: boolean): readonly PageOutline[] {
  const pages: PageOutline[] = [];
  let blocks: { kind: BlockKind; start: number; end: number }[] = [];
  let lines: number[] = [];
  let pageStart = 0;
  let inFence = false;
  const closePage = (end: number) => {
    pages.push({ start: pageStart, end, blocks, lines, openFence: inFence });
    pageStart = end;
    blocks = [];
    lines = [];
  };
  for (let at = 0; at < text.length; ) {
    const end = lineEnd(text, at);
    const next = nextLine(text, end);
    const above = blocks.at(-1);
    if (inFence) {
      above!.end = next;
      if (isFence(text, at)) inFence = false;
    } else {
      const kind = kindOf(text, atFileStart && at === 0 ? skipMark(text, 0) : at, end);
      const continues =
        above !== undefined && (above.kind === 'statement' || above.kind === 'log' || above.kind === 'prose');
      if (kind === 'indented' && continues) above.end = next;
      else {
        if (kind === 'page') closePage(at);
        if (kind === 'fence') inFence = true;
        blocks.push({
          kind: kind === 'page' ? 'statement' : kind === 'indented' ? 'prose' : kind,
          start: at,
          end: next,
        });
      }
    }
    lines.push(at);
    at = next;
  }
  closePage(text.length);
  return pages;
}
