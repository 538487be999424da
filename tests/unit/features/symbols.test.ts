import { expect, test } from 'vitest';
import { type SymbolNode, symbols } from '../../../server/features/symbols';
import { notebook, PAGE, textAt } from './notebook';

const ESTER = `experiment TB-014: Isopentyl acetate
date: 2026-03-04
author: MK

substance isopentyl alcohol: C5H12O, density 0.810 g/mL
substance acetic acid: C2H4O2, density 1.049 g/mL
substance isopentyl acetate: C7H14O2
vessel F-12: 50 mL flask, tare 41.207 g

reaction: isopentyl alcohol + acetic acid -> isopentyl acetate + water

charge isopentyl alcohol: 15.0 mL, limiting
charge acetic acid: 20.0 mL

09:40 Boiling chips in.
11:00 Off the heat.

## Work-up
12:00 Washed.

product isopentyl acetate:
  gross 54.881 g, in F-12
waste aqueous acid: 70 mL
`;

const lines = (nodes: readonly SymbolNode[], depth = 0): string[] =>
  nodes.flatMap(({ name, detail, kind, children }) => [
    `${'  '.repeat(depth)}${kind} ${name}${detail && ` | ${detail}`}`,
    ...lines(children, depth + 1),
  ]);

test('the outline of a page', () => {
  expect(lines(symbols(notebook({ [PAGE]: ESTER }).snapshot(PAGE)))).toEqual([
    'Namespace TB-014: Isopentyl acetate | 2026-03-04',
    '  Class substance isopentyl alcohol | C5H12O',
    '  Class substance acetic acid | C2H4O2',
    '  Class substance isopentyl acetate | C7H14O2',
    '  Object vessel F-12 | 50 mL flask',
    '  Function reaction R1 | isopentyl alcohol + acetic acid -> isopentyl acetate + water',
    '  Field charge isopentyl alcohol | 138 mmol, 1.00 equiv',
    '  Field charge acetic acid | 349 mmol, 2.53 equiv',
    '  Event log of 2026-03-04 | 09:40–11:00',
    '  Module Work-up',
    '    Event log of 2026-03-04 | 12:00',
    '    Property product isopentyl acetate | 76.2 %',
    '    Array waste aqueous acid',
  ]);
});

test('a file without a page, and one without anything', () => {
  expect(lines(symbols(notebook({ [PAGE]: 'vessel F-1: flask\nprose\n' }).snapshot(PAGE)))).toEqual([
    'Object vessel F-1 | flask',
  ]);
  expect(symbols(notebook({ [PAGE]: '' }).snapshot(PAGE))).toEqual([]);
});

test('what is selected lies inside, and children inside their parents', () => {
  const workspace = notebook({ [PAGE]: ESTER.replaceAll('\n', '\r\n') });
  const check = (nodes: readonly SymbolNode[], parent?: SymbolNode): void => {
    for (const node of nodes) {
      const before = (a: { line: number; character: number }, b: { line: number; character: number }) =>
        a.line < b.line || (a.line === b.line && a.character <= b.character);
      const inside = (inner: SymbolNode['range'], outer: SymbolNode['range']) =>
        before(outer.start, inner.start) && before(inner.end, outer.end);
      expect(inside(node.selection, node.range), node.name).toBe(true);
      if (parent) expect(inside(node.range, parent.range), node.name).toBe(true);
      check(node.children, node);
    }
  };
  const nodes = symbols(workspace.snapshot(PAGE));
  check(nodes);
  expect(textAt(workspace, PAGE, nodes[0]!.selection)).toBe('TB-014');
  expect(nodes[0]!.children.length).toBeGreaterThan(5);
});

test('the date below dates the log below it', () => {
  const text = 'experiment A: a\ndate: 2026-03-04\n09:00 One\ndate: 2026-03-05\n08:00 Two\n08:30 Three\n';
  expect(lines(symbols(notebook({ [PAGE]: text }).snapshot(PAGE)))).toEqual([
    'Namespace A: a | 2026-03-04',
    '  Event log of 2026-03-04 | 09:00',
    '  Event log of 2026-03-05 | 08:00–08:30',
  ]);
});
