/** Lines and characters are UTF-16 code units, whatever stands before them and however a line ends. */
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { Bench, type Client, positionOf, span } from './client';

const bench = new Bench();
beforeAll(() => bench.build(), 60_000);
afterAll(() => bench.dispose());

let client: Client;
beforeAll(async () => {
  client = bench.start();
  await client.initialize();
}, 60_000);
afterAll(() => client.stop());

/** 54.881 g − 41.207 g = 13.674 g; the net has two digits swapped. */
const page = (before: string, eol: string): string =>
  [
    'experiment TB-001: A page',
    'date: 2026-03-04',
    'author: MK',
    `${before} and so on`,
    'vessel F-12: flask, tare 41.207 g',
    `09:40 Stirred at 5 ${before}`,
    `product isopentyl acetate: ${before}, gross 54.881 g, in F-12 (net 13.764 g)`,
    'charge acetic acid: 20.0 mL, in F-12',
    '',
  ].join(eol);

const BEFORE = {
  plain: 'white needles',
  degree: 'at 20 °C',
  micro: '5 µm sieve',
  'astral letters': '𝛼-form 🧪',
  tab: 'a\tb',
  'superscripts and arrows': 'cm³ → 10⁻³',
  'combining marks': 'e\u0301the\u0301r',
};
const EOLS = { LF: '\n', CRLF: '\r\n' };

const cases = Object.entries(BEFORE).flatMap(([name, before]) =>
  Object.entries(EOLS).flatMap(([eol, end]) =>
    ['', '\uFEFF'].map((bom) => ({ name: `${name}, ${eol}${bom && ', BOM'}`, text: bom + page(before, end) })),
  ),
);

describe.each(cases)('$name', ({ name, text }) => {
  const uri = `untitled:${name.replace(/\W+/g, '-')}.tare`;
  const at = positionOf(text, '13.764 g');
  const expected = span(at.line, at.character, at.character + '13.764 g'.length);

  test('findings, fixes, hovers, hints, outline and colours stand where the text stands', async () => {
    const found = client.published(uri);
    client.open(uri, text);
    const { diagnostics } = await found;
    const net = diagnostics.find((d: { code: string }) => d.code === 'net-mismatch');
    expect(net.range).toEqual(expected);

    const textDocument = { uri };
    const hover = await client.request('textDocument/hover', {
      textDocument,
      position: { line: at.line, character: at.character + 2 },
    });
    expect(hover.range).toEqual(expected);

    const actions = await client.request('textDocument/codeAction', {
      textDocument,
      range: expected,
      context: { diagnostics: [net] },
    });
    const fix = actions.find((a: { title: string }) => a.title === 'Replace 13.764 g with 13.674 g');
    expect(fix.edit.documentChanges).toEqual([
      { textDocument: { uri, version: 1 }, edits: [{ range: expected, newText: '13.674 g' }] },
    ]);

    const vessel = positionOf(text, 'F-12 (net');
    const range = span(vessel.line, vessel.character, vessel.character + 4);
    const highlights = await client.request('textDocument/documentHighlight', { textDocument, position: vessel });
    expect(highlights.map((h: { range: unknown }) => h.range)).toContainEqual(range);

    const hints = await client.request('textDocument/inlayHint', {
      textDocument,
      range: { start: { line: 0, character: 0 }, end: { line: 99, character: 0 } },
    });
    const charged = positionOf(text, '20.0 mL', '20.0 mL'.length);
    expect(hints.map((h: { position: unknown }) => h.position)).toContainEqual(charged);

    const tokens = await client.request('textDocument/semanticTokens/full', { textDocument });
    expect(decode(tokens.data, text)).toContain('product');

    const symbols = await client.request('textDocument/documentSymbol', { textDocument });
    expect(symbols[0].range.end.line).toBeGreaterThanOrEqual(at.line);
  });

  test('an edit behind it lands where it was meant', async () => {
    const mended = client.published(
      uri,
      (found) => !found.some(({ code }: { code: string }) => code === 'net-mismatch'),
    );
    client.change(uri, 2, { range: span(at.line, at.character + 3, at.character + 5), text: '67' });
    expect((await mended).version).toBe(2);
  });
});

/** The texts of relative tokens. */
function decode(data: readonly number[], text: string): string[] {
  const lines = text.split(/\r\n|\n/);
  const words: string[] = [];
  let [line, character] = [0, 0];
  for (let i = 0; i < data.length; i += 5) {
    if (data[i] !== 0) character = 0;
    line += data[i]!;
    character += data[i + 1]!;
    words.push(lines[line]!.slice(character, character + data[i + 2]!));
  }
  return words;
}
