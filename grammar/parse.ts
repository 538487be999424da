/**
 * The door of the grammar: text → {@link SourceFile}, and one edit of it.
 *
 * `edit` splits only the pages that the edit touches and gives exactly what `parse` of the new text gives. Blocks are
 * found again by their text, so a page's parse costs the statements that changed. Texts that are kept are copies: a
 * slice would keep the whole old document alive.
 */
import {
  type BlockOutline,
  clockAt,
  foldedText,
  headAt,
  headingLevel,
  lineEnd,
  outline,
  type PageOutline,
  skipMark,
} from './lines';
import { parseFacts } from './parser';
import type { Block, Body, PageSource, PlacedBlock, PlacedPage, Position, Range, SourceFile, Statement } from './tree';
import { KEYWORDS } from './vocabulary';

const asIs = <T>(value: T): T => value;

/** A copy with memory of its own. V8 keeps a slice as a pointer into its parent; appending and slicing makes a new one. */
const copy = (text: string): string => (text.length < 13 ? text : ` ${text}`.slice(1));

// ------------------------------------------------------------------------------------------------- blocks

function readBody(text: string, keyword: Statement['keyword'], hasSubject: boolean, start: number): Body {
  const { body, subject } = KEYWORDS[keyword];
  // `plan:` and `test:` without a name are notes; `product:` and `reaction:` mean the last or next one.
  const isNote = subject === 'optional' && !hasSubject && keyword !== 'product' && keyword !== 'reaction';
  if (body === 'text' || isNote) return { kind: 'text', text: foldedText(text, start, text.length) };
  return { kind: 'facts', legs: parseFacts(text.slice(start), keyword, start) };
}

function readStatement(text: string, at: number): Statement | undefined {
  const head = headAt(text, at, lineEnd(text, at));
  if (head === undefined) return undefined;
  const { keyword, keywordSpan, colon } = head;
  const subject = foldedText(text, head.subject.start, head.subject.end);
  const body = readBody(text, keyword, subject.text !== '', colon + 1);
  const span = { start: at, end: text.trimEnd().length };
  return subject.text === ''
    ? { keyword, keywordSpan, colon, body, span }
    : { keyword, keywordSpan, subject, colon, body, span };
}

function readLog(text: string): Block {
  const { clock, end } = clockAt(text, skipMark(text, 0))!;
  const body = foldedText(text, end, text.length);
  const statement = readStatement(text, body.span.start);
  // A page is opened by a line of its own, never by a log entry.
  return statement === undefined || statement.keyword === 'experiment'
    ? { kind: 'log', text, clock, body }
    : { kind: 'log', text, clock, statement };
}

function readBlock(kind: Block['kind'], text: string): Block {
  const at = skipMark(text, 0);
  switch (kind) {
    case 'statement':
      return { kind, text, statement: readStatement(text, at)! };
    case 'log':
      return readLog(text);
    case 'heading': {
      const level = headingLevel(text, at);
      return { kind, text, level, body: foldedText(text, at + level, text.length) };
    }
    case 'prose':
      return { kind, text, body: foldedText(text, 0, text.length) };
    default:
      return { kind, text };
  }
}

// -------------------------------------------------------------------------------------------------- pages

/**
 * Reads blocks; equal ones become one object. The text is the key, as the kind can differ only by a byte-order mark.
 * `keep` makes the text that a new block holds.
 */
function blockReader(known: Iterable<Block>, keep: (slice: string) => string) {
  const blocks = new Map<string, Block>();
  for (const block of known) blocks.set(block.text, block);
  return (text: string, { kind, start, end }: BlockOutline): Block => {
    const slice = text.slice(start, end);
    const found = blocks.get(slice);
    if (found?.kind === kind) return found;
    const block = readBlock(kind, keep(slice));
    blocks.set(block.text, block);
    return block;
  };
}

/** The blocks of a changed text: those before and after the change as they were, those between by their text. */
function changedBlocks(text: string, outlines: readonly BlockOutline[], old: readonly Block[]): Block[] {
  const same = ({ kind, start, end }: BlockOutline, block: Block) =>
    kind === block.kind && end - start === block.text.length && text.startsWith(block.text, start);
  const most = Math.min(outlines.length, old.length);
  let before = 0;
  while (before < most && same(outlines[before]!, old[before]!)) before++;
  let after = 0;
  while (after < most - before && same(outlines.at(-1 - after)!, old.at(-1 - after)!)) after++;
  const read = blockReader(old.slice(before, old.length - after), copy);
  const between = outlines.slice(before, outlines.length - after).map((block) => read(text, block));
  return [old.slice(0, before), between, old.slice(old.length - after)].flat();
}

/** `text` is the page's own, `blocks` those of its outline. */
function pageOf(text: string, { start, openFence, ...page }: PageOutline, blocks: readonly Block[]): PageSource {
  return {
    text,
    blocks: blocks.map((block, i): PlacedBlock => ({ block, at: page.blocks[i]!.start - start })),
    lines: start === 0 ? page.lines : page.lines.map((line) => line - start),
    openFence,
  };
}

/** Pages one after the other, from a place in the file on. */
function place(pages: readonly PageSource[], after: PlacedPage | undefined): PlacedPage[] {
  let at = after === undefined ? 0 : after.at + after.page.text.length;
  let line = after === undefined ? 0 : after.line + after.page.lines.length;
  return pages.map((page) => {
    const placed = { page, at, line };
    at += page.text.length;
    line += page.lines.length;
    return placed;
  });
}

function sourceOf(pages: readonly PlacedPage[]): SourceFile {
  const last = pages.at(-1)!;
  const first = pages.find(({ page }) => page.text !== '')?.page.text ?? '';
  const eol = first.startsWith('\r\n', lineEnd(first, 0)) ? '\r\n' : '\n';
  return { pages, length: last.at + last.page.text.length, eol };
}

/** Reads a whole file. Never throws. */
export function parse(text: string): SourceFile {
  // Pages and blocks may be slices here: the one copy they point into lives as long as the file is open.
  const own = copy(text);
  const read = blockReader([], asIs);
  const pages = outline(own, true).map((page) => {
    const blocks = page.blocks.map((block) => read(own, block));
    return pageOf(own.slice(page.start, page.end), page, blocks);
  });
  return sourceOf(place(pages, undefined));
}

export const textOf = (source: SourceFile): string => source.pages.map(({ page }) => page.text).join('');

// --------------------------------------------------------------------------------------------------- edit

/**
 * The file after a change, as the Language Server Protocol describes one: positions past a line's or the file's end
 * are clamped. Pages that the change does not touch keep their {@link PageSource}.
 */
export function edit(source: SourceFile, range: Range, text: string): SourceFile {
  const one = offsetAt(source, range.start);
  const other = offsetAt(source, range.end);
  return replace(source, Math.min(one, other), Math.max(one, other), text);
}

function replace(source: SourceFile, start: number, end: number, text: string): SourceFile {
  const { pages } = source;
  let first = lastBefore(pages, (page) => page.at, start);
  // What changes in a page's first line may undo the page's beginning.
  if (first > 0 && start - pages[first]!.at < (pages[first]!.page.lines[1] ?? Number.POSITIVE_INFINITY)) first--;
  const base = pages[first]!.at;
  let last = lastBefore(pages, (page) => page.at, end);
  const changed = () => {
    const before = textOfPages(pages, first, last);
    return before.slice(0, start - base) + text + before.slice(end - base);
  };
  let region = changed();
  let outlines = outline(region, base === 0);
  if (outlines.at(-1)!.openFence && last < pages.length - 1) {
    last = pages.length - 1;
    region = changed();
    outlines = outline(region, base === 0);
  }
  const touched = pages.slice(first, last + 1).map(({ page }) => page);
  if (first > 0) outlines = outlines.slice(1);
  const blocks = changedBlocks(
    region,
    outlines.flatMap((page) => page.blocks),
    touched.flatMap((page) => page.blocks.map(({ block }) => block)),
  );
  let taken = 0;
  const found = outlines.map((page) => {
    const own = blocks.slice(taken, taken + page.blocks.length);
    taken += own.length;
    const length = page.end - page.start;
    const same = touched.find(({ text }) => text.length === length && region.startsWith(text, page.start));
    return same ?? pageOf(copy(region.slice(page.start, page.end)), page, own);
  });
  const placed = pages.slice(0, first).concat(place(found, pages[first - 1]));
  return sourceOf(placed.concat(moved(pages.slice(last + 1), placed.at(-1)!)));
}

/** Pages below an edit, at their new places. */
function moved(pages: readonly PlacedPage[], above: PlacedPage): readonly PlacedPage[] {
  const [next] = pages;
  if (next === undefined) return pages;
  const down = above.at + above.page.text.length - next.at;
  const below = above.line + above.page.lines.length - next.line;
  return down === 0 && below === 0
    ? pages
    : pages.map(({ page, at, line }) => ({ page, at: at + down, line: line + below }));
}

function textOfPages(pages: readonly PlacedPage[], first: number, last: number): string {
  let text = '';
  for (let i = first; i <= last; i++) text += pages[i]!.page.text;
  return text;
}

// ---------------------------------------------------------------------------------------------- positions

/** Index of the last item whose key is not above `value`; the first item if there is none. */
function lastBefore<T>(items: readonly T[], key: (item: T) => number, value: number): number {
  let low = 0;
  let high = items.length;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (key(items[middle]!) <= value) low = middle;
    else high = middle;
  }
  return low;
}

/** Line and character of an offset, clamped to the text and to the end of its line. */
export function positionAt(source: SourceFile, offset: number): Position {
  const { page, at, line } = source.pages[lastBefore(source.pages, (placed) => placed.at, offset)]!;
  const within = Math.max(0, Math.min(offset - at, page.text.length));
  const index = lastBefore(page.lines, asIs, within);
  const start = page.lines[index] ?? 0;
  const end = lineEnd(page.text, start);
  // After the last line end of the file stands one more line, empty and in no page.
  if (within === page.text.length && end < within) return { line: line + index + 1, character: 0 };
  return { line: line + index, character: Math.min(within, end) - start };
}

/** Offset of a position, clamped to the text and to the end of its line. */
export function offsetAt(source: SourceFile, { line, character }: Position): number {
  if (line < 0) return 0;
  const { page, at, line: firstLine } = source.pages[pageAt(source, line)]!;
  const start = page.lines[line - firstLine];
  if (start === undefined) return source.length;
  return at + Math.min(start + Math.max(0, character), lineEnd(page.text, start));
}

/** Index of the page that holds a line; the last page for a line past the end. */
export const pageAt = (source: SourceFile, line: number): number =>
  lastBefore(source.pages, (placed) => placed.line, line);
