/** A page as the plan of the next: every charge beside the limiting reactant, a target to choose. Numbers invented. */
import { describe, expect, test } from 'vitest';
import { positionAt, textOf } from '../../../grammar/parse';
import { codeActions } from '../../../server/features/code-actions';
import { withoutStops } from '../../../server/prove';
import { edited, marked, notebook, PAGE } from './notebook';

const PREPARATION = `experiment TB-014: Isopentyl acetate
date: 2026-03-04
author: MK
balance B-2: readability 0.001 g
substance isopentyl alcohol: C5H12O, density 0.810 g/mL
substance acetic acid: C2H4O2, density 1.049 g/mL
substance isopentyl acetate: C7H14O2
reaction R1: isopentyl alcohol + acetic acid -> isopentyl acetate + water
char‸ge isopentyl alcohol: 12.15 g, limiting
charge acetic acid: 20.75 g
charge conc. sulfuric acid: 1.0 mL, catalyst
charge toluene: 30 mL, solvent
charge water: 50 mL, wash
product isopentyl acetate: 13.46 g, distilled
`;

function scaled(text: string): string | undefined {
  const { workspace, at } = marked(text);
  const [action] = codeActions(workspace, PAGE, { start: at, end: at }, ['refactor.rewrite.tarebook.scale']);
  if (!action) return undefined;
  expect(action).toMatchObject({ title: 'Scale this page to a new plan', snippet: true, preferred: false });
  const source = workspace.files.get(PAGE)!;
  expect(action.edits[0]!.range.start).toEqual(positionAt(source, textOf(source).length));
  return action.edits[0]!.text;
}

describe('a page with charges', () => {
  test('becomes a page with stops, declarations and plans', () => {
    expect(scaled(PREPARATION)).toBe(`
experiment \${1:ID}: \${2:Isopentyl acetate}
date: \${3:YYYY-MM-DD}
author: \${4:MK}
reference: as TB-014

balance B-2: readability 0.001 g
substance isopentyl alcohol: C5H12O, density 0.810 g/mL
substance acetic acid: C2H4O2, density 1.049 g/mL
substance isopentyl acetate: C7H14O2
reaction R1: isopentyl alcohol + acetic acid -> isopentyl acetate + water

plan isopentyl acetate: \${5|26.9 g,13.5 g,67.3 g,135 g,6.73 g|} at 75.0 %
plan isopentyl alcohol: limiting
plan acetic acid: 2.51 equiv
plan conc. sulfuric acid: 13.0 mol%, catalyst
plan toluene: 2.47 mL/g, solvent
`);
  });

  test('the same target gives the same charges back', () => {
    const text = scaled(PREPARATION)!
      .replace(/\$\{5\|[^|]*\|\}/, '13.46 g')
      .replace(/\$\{\d:([^}]*)\}/g, '$1');
    const plans = notebook({ [PAGE]: text })
      .snapshot(PAGE)
      .page(1).values.plans;
    const found = Object.fromEntries(plans.map(({ name, weigh, measure }) => [name, [weigh, measure]] as const));
    const near = (name: string, index: 0 | 1) => found[name]![index]!.value.toNumber();
    expect(near('isopentyl alcohol', 0) / 12.15).toBeCloseTo(1, 2);
    expect(near('acetic acid', 0) / 20.75).toBeCloseTo(1, 2);
    expect(near('conc. sulfuric acid', 1) / 1.0).toBeCloseTo(1, 1);
    expect(near('toluene', 1) / 30).toBeCloseTo(1, 1);
  });

  test('without a product the limiting reactant is the target', () => {
    expect(scaled(PREPARATION.replace(/product.*\n/, ''))).toContain(
      `plan isopentyl alcohol: \${5|24.3 g,12.2 g,60.8 g,122 g,6.08 g|}, limiting\nplan acetic acid: 2.51 equiv\n`,
    );
  });

  test('not at other lines, not without charges, not behind an open fence', () => {
    expect(scaled(PREPARATION.replace('‸', '').replace('author', 'aut‸hor'))).toBeUndefined();
    expect(scaled('experiment T‸B-1: x\nreaction R1: A -> B\n')).toBeUndefined();
    expect(scaled(`${PREPARATION}\`\`\`\nprinted\n`)).toBeUndefined();
  });

  test('what is there is not touched, and the new page parses without its stops', () => {
    const { workspace, at } = marked(PREPARATION);
    const [action] = codeActions(workspace, PAGE, { start: at, end: at }, ['refactor.rewrite.tarebook.scale']);
    const text = edited(
      workspace,
      PAGE,
      action!.edits.map((edit) => ({ ...edit, text: withoutStops(edit.text) })),
    );
    expect(text.startsWith(PREPARATION.replace('‸', ''))).toBe(true);
    expect(notebook({ [PAGE]: text }).snapshot(PAGE).pageCount).toBe(3);
  });
});
