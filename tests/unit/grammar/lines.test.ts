import { describe, expect, it } from 'vitest';
import { clockAt, foldedText, headAt, outline } from '../../../grammar/lines';
import { edit, offsetAt, pageAt, parse, positionAt, textOf } from '../../../grammar/parse';

/** Kinds of the blocks of a text, page by page: `statement` may span several lines. */
const kinds = (text: string) => outline(text, true).map((page) => page.blocks.map((block) => block.kind));
const head = (line: string) => {
  const found = headAt(line, 0, line.length);
  return found === undefined
    ? undefined
    : [found.keyword, line.slice(found.subject.start, found.subject.end), found.colon];
};

describe('one line', () => {
  it.each([
    ['', []],
    ['\n', ['blank']],
    ['   \t\n', ['blank']],
    ['# Stock', ['heading']],
    ['### Stock', ['heading']],
    ['#Stock', ['prose']],
    ['#### Stock', ['prose']],
    ['```', ['fence']],
    ['``', ['prose']],
    ['9:40 on', ['log']],
    ['09:40 on', ['log']],
    ['09:40:30 on', ['log']],
    ['09:40', ['log']],
    ['23:59 on', ['log']],
    ['24:00 on', ['prose']],
    ['09:60 on', ['prose']],
    ['09:40on', ['prose']],
    ['9:4 on', ['prose']],
    ['109:40 on', ['prose']],
    ['charge acetic acid: 20.0 mL', ['statement']],
    ['charge acetic acid:', ['statement']],
    ['charge: 20.0 mL', ['statement']],
    ['charge acetic acid:20.0 mL', ['prose']],
    ['charge acetic acid 20.0 mL', ['prose']],
    ['Charge acetic acid: 20.0 mL', ['prose']],
    ['charges acetic acid: 20.0 mL', ['prose']],
    ['charge-free: yes', ['prose']],
    ['  charge acetic acid: 20.0 mL', ['prose']],
    ['test what was left: nothing', ['prose']],
    ['test wash: nothing', ['statement']],
    ['product is here: look', ['prose']],
    ['product is-1: look', ['statement']],
    ['note to self: buy acetone', ['prose']],
    ['signed copy: in the binder', ['prose']],
    ['constructor x: y', ['prose']],
    ['toString: y', ['prose']],
    ['just some text: with a colon', ['prose']],
  ])('%j', (line, expected) => {
    expect(kinds(line)).toEqual([expected]);
  });
});

describe('the head of a statement', () => {
  it.each([
    ['charge  acetic acid : 1 g', ['charge', 'acetic acid', 20]],
    ['charge x 12:1: 1 g', ['charge', 'x 12:1', 13]],
    ['product:', ['product', '', 7]],
    ['experiment TB-1: a: b', ['experiment', 'TB-1', 15]],
    ['amend charge acetic acid: 1 -> 2', ['amend', 'charge acetic acid', 24]],
    ['accept net-mismatch on the page: x', ['accept', 'net-mismatch on the page', 31]],
    ['titrate\ta\u00a0b:\t1', ['titrate', 'a\u00a0b', 11]],
  ])('%j', (line, expected) => {
    expect(head(line)).toEqual(expected);
  });
});

describe('lines that belong together', () => {
  it.each([
    ['more facts of a statement', 'charge a: 1 g\n  base\n\tdry\n', [['statement']]],
    ['more text of a log entry', '09:40 on\n  and on\n', [['log']]],
    ['more text of prose', 'text\n  and on\n', [['prose']]],
    ['a blank line ends a statement', 'charge a: 1 g\n\n  base\n', [['statement', 'blank', 'prose']]],
    ['so does a line of blanks', 'charge a: 1 g\n   \n  base\n', [['statement', 'blank', 'prose']]],
    ['a heading takes no more lines', '# a\n  b\n', [['heading', 'prose']]],
    ['indented text goes on', '# a\n  b\n  c\nd\n', [['heading', 'prose', 'prose']]],
    ['a fence is one block', 'a\n```\ncharge a: 1 g\n\n```\nb\n', [['prose', 'fence', 'prose']]],
    ['an open fence runs to the end', '```\nexperiment a: b\n', [['fence']]],
    ['nothing goes on after a fence', '```\n```\n  a\n', [['fence', 'prose']]],
    ['every line end counts', 'a\rb\r\nc\nd', [['prose', 'prose', 'prose', 'prose']]],
    ['a page begins with its statement', 'a\nexperiment b: c\nd\n', [['prose'], ['statement', 'prose']]],
    ['the head of the file may be empty', 'experiment b: c\n', [[], ['statement']]],
    ['a log entry opens no page', '09:40 experiment b: c\n', [['log']]],
    ['a byte-order mark is white space', '\uFEFFexperiment b: c\n', [[], ['statement']]],
    ['also before a heading', '\uFEFF# a\n', [['heading']]],
    ['but only in the first place', 'a\n\uFEFFexperiment b: c\n', [['prose']]],
  ])('%s', (_, text, expected) => {
    expect(kinds(text)).toEqual(expected);
  });

  it('an open fence is known', () => {
    expect(outline('a\n```\nb', true)[0]!.openFence).toBe(true);
    expect(outline('a\n```\nb\n```', true)[0]!.openFence).toBe(false);
  });
});

describe('log entries', () => {
  it.each([
    ['9:40 on', { seconds: 34_800, end: 4 }],
    ['09:40:30 on', { seconds: 34_830, end: 8 }],
    ['09:40 [JL] on', { seconds: 34_800, end: 10, by: 'JL' }],
    ['09:40 [JL]on', { seconds: 34_800, end: 5 }],
    ['09:40 [] on', { seconds: 34_800, end: 5 }],
  ])('%j', (line, expected) => {
    const found = clockAt(line, 0)!;
    const { seconds, by } = found.clock;
    expect({ seconds, end: found.end, ...(by === undefined ? {} : { by }) }).toEqual(expected);
  });

  it('may hold a statement, which then carries the time', () => {
    const { block } = parse('09:40 [JL] charge acetic acid: 20.0 mL\n  limiting\n').pages[0]!.page.blocks[0]!;
    expect(block.kind).toBe('log');
    expect(block.clock).toMatchObject({ text: '09:40', by: 'JL' });
    expect(block.statement).toMatchObject({ keyword: 'charge', keywordSpan: { start: 11, end: 17 } });
    expect(block.body).toBeUndefined();
  });
});

describe('folded text', () => {
  it.each([
    ['  a  b  ', 'a  b', 2, 6],
    ['a \r\n  b\n\n c', 'a b c', 0, 11],
    ['   ', '', 0, 0],
    ['\uFEFFa', 'a', 1, 2],
  ])('%j', (text, folded, start, end) => {
    expect(foldedText(text, 0, text.length)).toEqual({ text: folded, span: { start, end } });
  });
});

describe('positions', () => {
  // Lines of 2, 1 and 0 characters after a page of two lines; `°` is one unit, `𝛼` two.
  const text = '°𝛼\r\nb\rexperiment X: y\n\n';
  const source = parse(text);

  it.each([
    [0, 0, 0],
    [3, 0, 3],
    [4, 0, 3],
    [5, 1, 0],
    [6, 1, 1],
    [7, 2, 0],
    [22, 2, 15],
    [23, 3, 0],
    [24, 4, 0],
    [99, 4, 0],
    [-1, 0, 0],
  ])('offset %i is line %i, character %i', (offset, line, character) => {
    expect(positionAt(source, offset)).toEqual({ line, character });
  });

  it.each([
    [0, 99, 3],
    [1, 1, 6],
    [2, -5, 7],
    [-1, 5, 0],
    [4, 0, 24],
    [9, 9, 24],
  ])('line %i, character %i is offset %i', (line, character, offset) => {
    expect(offsetAt(source, { line, character })).toBe(offset);
  });

  it('finds the page of a line', () => {
    expect([0, 1, 2, 3, 4, 99].map((line) => pageAt(source, line))).toEqual([0, 0, 1, 1, 1, 1]);
  });

  it('knows the line ending to use', () => {
    expect(parse('a\r\nb\n').eol).toBe('\r\n');
    expect(parse('a\nb\r\n').eol).toBe('\n');
    expect(parse('a\rb').eol).toBe('\n');
    expect(parse('').eol).toBe('\n');
  });
});

describe('an edit', () => {
  const text =
    'note: a\n\nexperiment A: one\ncharge x: 1 g\n\nexperiment B: two\ncharge x: 1 g\n\nexperiment C: three\n';
  const source = parse(text);
  const pages = source.pages.map(({ page }) => page);
  const at = (line: number, character: number) => ({ line, character });
  const changed = (from: [number, number], to: [number, number], insert: string) =>
    edit(source, { start: at(...from), end: at(...to) }, insert);

  it.each([
    ['within a page', [6, 11], [6, 11], '0', [0, 1, 3]],
    ['at a first line', [5, 14], [5, 14], 'x', [0, 1, 3]],
    ['that joins two pages', [4, 0], [5, 3], '', [0]],
    ['that ends a page', [5, 0], [5, 1], 'E', [0]],
    ['that makes a page', [6, 0], [6, 0], 'experiment D: four\n', [0, 1]],
    ['that opens a fence', [3, 0], [3, 0], '```\n', [0]],
    ['past the end', [99, 0], [99, 9], 'note: b', [0, 1, 2]],
  ] as const)('%s', (_, from, to, insert, kept) => {
    const next = changed([...from], [...to], insert);
    expect(next).toEqual(parse(textOf(next)));
    expect(textOf(next)).not.toBe(text);
    for (const index of kept) expect(next.pages.map(({ page }) => page)).toContain(pages[index]);
  });

  it('keeps the blocks that it does not touch', () => {
    const next = changed([3, 11], [3, 11], '0');
    expect(next.pages[1]!.page.blocks[0]!.block).toBe(pages[1]!.blocks[0]!.block);
    expect(next.pages[1]!.page.blocks[1]!.block).not.toBe(pages[1]!.blocks[1]!.block);
  });

  it('closes a fence again', () => {
    const open = changed([3, 0], [3, 0], '```\n');
    expect(open.pages.length).toBe(2);
    expect(edit(open, { start: at(3, 0), end: at(4, 0) }, '')).toEqual(source);
  });

  it('reads a range that runs backwards', () => {
    expect(textOf(changed([3, 6], [3, 0], 'weigh'))).toBe(text.replace('charge', 'weigh'));
  });
});
