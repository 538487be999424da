/** Plans and considerations as their reader sees them. M: CIAAW 2021; densities of the handbook; the rest invented. */
import { describe, expect, test } from 'vitest';
import { hover } from '../../../server/features/hover';
import { inlayHints } from '../../../server/features/inlay-hints';
import { marked, PAGE } from './notebook';

const TEXT = `experiment TB-1: Aspirin
date: 2026-03-02
author: MK
balance B-2: readability 0.001 g
substance aspirin: C9H8O4
reaction R1: salicylic acid + acetic anhydride -> aspirin + acetic acid
plan aspirin: 5.00 g at 80 %
plan DMAP: 1 mol%, catalyst
plan toluene: 4.0 mL/g, solvent
charge salicylic acid: 4.50 g, limiting
charge acetic anhydride: 10.0 mL
charge toluene: 10 mL, solvent
charge toluene: 10 mL, solvent
product aspirin: 5.61 g, crude
consider recrystallisation of aspirin: from ethanol, solubility 40 g/100 mL at 78 °C, 1.5 g/100 mL at 0 °C, loss 5 %
decided: yes, from ethanol
`;

function at(line: string): string {
  const { workspace, at: position } = marked(TEXT.replace(line, line.replace(' ', ' ‸')));
  return hover(workspace.snapshot(PAGE), position)?.markdown ?? '';
}

describe('a plan', () => {
  test('of a product: the working back to theory, and what to take', () => {
    const text = at('plan aspirin');
    expect(text).toContain('**aspirin** · plan at 80 %');
    expect(text).toContain('= 6.25 g');
    expect(text).toContain('| salicylic acid, limiting | 34.7 mmol | 4.792 g |');
    expect(text).toContain('| acetic anhydride | 34.7 mmol | 3.542 g or 3.25 mL |');
  });

  test('rounded to the balance, with its minimum weight', () => {
    const text = at('plan DMAP');
    expect(text).toContain('plan · **42 mg**');
    expect(text).toMatch(
      /Below the minimum weight of B-2, 0\.82 g: twice its standard deviation is 1\.9 % of the mass/,
    );
  });

  test('a solvent by its volume', () => expect(at('plan toluene')).toContain('plan · **19.2 mL**'));

  test('hints say what to take, behind a target all that follows', () => {
    const { workspace } = marked(TEXT);
    const range = { start: { line: 6, character: 0 }, end: { line: 8, character: 99 } };
    const found = inlayHints(workspace.snapshot(PAGE), range, { charges: true, products: true });
    expect(found.map(({ label }) => label)).toEqual([
      'take salicylic acid 4.792 g, acetic anhydride 3.542 g or 3.25 mL',
      'take 42 mg',
      'take 19.2 mL',
    ]);
  });
});

describe('a charge', () => {
  test('beside its plan, all lines together', () => {
    expect(at('charge salicylic acid')).toContain('Planned 4.79 g (line 7), charged 4.50 g: 93.9 % of it.');
    expect(at('charge toluene')).toContain('Planned 19.2 mL (line 9), charged 20.0 mL in 2 lines: 104 % of it.');
  });

  test('without a plan nothing is said of one', () => expect(at('charge acetic anhydride')).not.toContain('Planned'));
});

test('a consideration: the answer, the sentence, the decision, the working', () => {
  const text = at('consider recrystallisation');
  expect(text).toContain('**aspirin** · recrystallisation · **91.4 %** back');
  expect(text).toContain('At least 14.0 mL or 11.1 g of ethanol dissolves it hot; that is the minimum');
  expect(text).toContain('Decided: yes, from ethanol');
  expect(text).toContain('5.40 g × 95 % = 5.13 g');
  expect(text.split('\n').length).toBeLessThanOrEqual(12);
});
