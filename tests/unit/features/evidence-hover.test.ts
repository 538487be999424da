import { describe, expect, test } from 'vitest';
import { hover } from '../../../server/features/hover';
import { notebook, uriOf } from '../../kit/notebook';

/** The hover at `‸`. */
function at(line: string): string {
  const page = `experiment TB-900: Evidence
substance isopentyl acetate: C7H14O2, SMILES CC(C)CCOC(C)=O, bp 142 °C
reaction R1: salicylic acid + methanol -> methyl salicylate + water
${line}
`;
  const offset = page.indexOf('‸');
  const before = page.slice(0, offset).split('\n');
  const position = { line: before.length - 1, character: before.at(-1)!.length };
  return (
    hover(notebook({ 'a.tare': page.replace('‸', '') }).snapshot(uriOf('a.tare')), position)?.markdown ?? ''
  ).replaceAll('  \n', '\n');
}

describe('a test', () => {
  const hovered = at('test ferric chloride: of methyl salicylate, at 21 °C, violet at ‸once => phenol');
  test('says what each structure should show, and where the structure is from', () => {
    expect(hovered).toMatch(/methyl salicylate \(tested\): positive expected, .*; structure from the handbook/);
    expect(hovered).toContain('salicylic acid (starting material): positive expected');
  });
  test('says what was seen, and that it does not discriminate', () => {
    expect(hovered).toContain('here: positive · as the structure should show · the conclusion follows');
    expect(hovered).toContain('does not tell product and starting material apart');
    expect(hovered).toContain('would confirm it: hydrogencarbonate solubility test');
  });
  test('says the usual answer, the false ones and the caution', () => {
    expect(hovered).toContain('usual: room temperature, 15–30 °C, within 5 s');
    expect(hovered).toContain('false positives: enols');
    expect(hovered).toMatch(/caution: .*; see the safety data sheet/);
  });
  test('that nobody knows says so', () => {
    expect(at('test sm‸ell: of isopentyl acetate, pear drops')).toContain('no test of this name is known');
  });
});

describe('a measured property', () => {
  test('a boiling point at reduced pressure is an estimate', () => {
    const hovered = at('measure isopentyl acetate: b‸p 30–33 °C at 12 mmHg');
    expect(hovered).toContain('estimate: **about 34 °C, ± 10 K**');
    expect(hovered).toContain('142 °C (line 2) at 12 mmHg = 34 °C');
    expect(hovered).toContain('range of 3 K');
  });
  test('Rf with its distances', () => {
    expect(at('measure isopentyl acetate: spo‸t 21 mm, front 50 mm')).toContain('21 mm ÷ 50 mm = 0.42');
  });
  test('rotation', () => {
    const hovered = at(
      'measure isopentyl acetate: optical rot‸ation +2.35°, length 1 dm, concentration 1.05 g/100 mL (lit. +230)',
    );
    expect(hovered).toContain('specific rotation **224**');
    expect(hovered).toContain('optical purity 97 %');
    expect(at('measure ethanol: optical rot‸ation +2.35°, length 1 dm')).toContain('needs the concentration');
  });
  test('hydrogens', () => {
    const hovered = at('measure ethanol: 1H N‸MR (CDCl3) δ 3.7 (q, 2H), 1.2 (t, 3H)');
    expect(hovered).toContain('2H + 3H = **5 hydrogens**');
    expect(hovered).toContain('formula: 6, of them 1 on heteroatoms');
  });
});
