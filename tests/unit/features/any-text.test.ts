/** No text and no place in it breaks a feature, and what a feature says about places lies in the text. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { positionAt, textOf } from '../../../grammar/parse';
import type { Position, Range } from '../../../grammar/tree';
import { codeActions } from '../../../server/features/code-actions';
import { definition } from '../../../server/features/definition';
import { folding } from '../../../server/features/folding';
import { highlights } from '../../../server/features/highlight';
import { references } from '../../../server/features/references';
import { prepareRename, rename } from '../../../server/features/rename';
import { semanticTokens } from '../../../server/features/semantic-tokens';
import { type SymbolNode, symbols } from '../../../server/features/symbols';
import { notebook, PAGE } from './notebook';

/** Lines as people write them, with what goes wrong in the middle of typing. */
const LINES = [
  'experiment TB-014: Ester',
  'experiment',
  'date: 2026-03-04',
  'substance acetic acid: C2H4O2, also AcOH, density 1.049 g/mL at 20 °C',
  'solution base: 8.00 g sodium hydroxide in water, made up to 100 mL',
  'vessel F-12: flask, tare 41.207 g',
  'balance B-2: readability 0.001 g',
  'reaction R1: acetic acid + C5H12O -> ester + ...',
  'reaction:',
  'charge acetic acid: 20.0 ml (21.0 g, 348 mmol',
  'charge AcOH: 1,234 g; 5 drops, excess',
  '  gross 54.881 g (net 13.674 g), in F-12, on B-2',
  'product ester: ~~5 g~~ 6 g, from TB-014/V-3',
  'product:',
  'weigh F-12: tare 41.2 g',
  'measure ester: 1H NMR (CDCl3) δ 4.09 (t, 2H); mp 20 °C',
  'test: of nothing => ?',
  '09:40 [JL] charge water: 5 mL',
  '10:00 see TB-014',
  '## Work-up',
  '```',
  'accept unit-spelling: as printed',
  'signed: MK, 2026-03-04 17:20',
  'amend charge acetic acid: 20.0 mL -> 21.0 mL, misread, MK, 2026-03-05 09:10',
  'Prose (with a bracket: and a colon.',
  '',
];

const text = fc
  .array(
    fc.oneof(
      { weight: 8, arbitrary: fc.constantFrom(...LINES) },
      { weight: 1, arbitrary: fc.string({ unit: 'grapheme' }) },
    ),
    { maxLength: 25 },
  )
  .chain((lines) => fc.constantFrom('\n', '\r\n').map((eol) => lines.join(eol)));

test('every feature answers, with places in the text', () => {
  fc.assert(
    fc.property(text, fc.nat(), (written, seed) => {
      const workspace = notebook({
        [PAGE]: written,
        'other.tare': 'experiment TB-014: again\nproduct ester: 5 g, label V-3\n',
      });
      const snapshot = workspace.snapshot(PAGE);
      const { source } = snapshot;
      const ends = textOf(source)
        .split(/\r\n|\n|\r/)
        .map((line) => line.length);
      const inside = ({ line, character }: Position): boolean => character >= 0 && character <= (ends[line] ?? -1);
      const check = ({ start, end }: Range): void => expect([inside(start), inside(end)]).toEqual([true, true]);
      const at = positionAt(source, written.length === 0 ? 0 : seed % written.length);
      const nodes = (list: readonly SymbolNode[]): void =>
        list.forEach(({ range, selection, children }) => {
          check(range);
          check(selection);
          nodes(children);
        });
      nodes(symbols(snapshot));
      for (const { start, end } of folding(snapshot)) expect(start < end && end < ends.length).toBe(true);
      for (const { line, character, length } of semanticTokens(snapshot))
        expect(character + length).toBeLessThanOrEqual(ends[line]!);
      for (const { range } of highlights(snapshot, at)) check(range);
      for (const { uri, range } of references(workspace, PAGE, at, true)) if (uri === PAGE) check(range);
      for (const { uri, range } of definition(workspace, PAGE, at)) if (uri === PAGE) check(range);
      const prepared = prepareRename(workspace, PAGE, at);
      if ('range' in prepared) check(prepared.range);
      expect(rename(workspace, PAGE, at, 'another name')).toBeDefined();
      for (const { edits } of codeActions(workspace, PAGE, { start: at, end: at }, ['quickfix', 'refactor', 'source']))
        for (const { range } of edits) check(range);
    }),
    { numRuns: 200, seed: 14 },
  );
});

test('what a feature says is the same whether pages were kept or read anew', () => {
  fc.assert(
    fc.property(text, (written) => {
      const once = notebook({ [PAGE]: written }).snapshot(PAGE);
      const again = notebook({ [PAGE]: written }).snapshot(PAGE);
      for (let page = again.pageCount - 1; page >= 0; page--) again.page(page);
      semanticTokens(again);
      expect(symbols(again)).toEqual(symbols(once));
      expect(semanticTokens(again)).toEqual(semanticTokens(once));
    }),
    { numRuns: 40, seed: 15 },
  );
});
