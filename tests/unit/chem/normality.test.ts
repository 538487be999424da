import { describe, expect, it } from 'vitest';
import { parseFormula } from '../../../server/chem/formula';
import { equivalentsPerMole } from '../../../server/chem/normality';

const of = (text: string, hint?: 'acid' | 'base'): number | undefined => {
  const result = parseFormula(text);
  if (!result.ok) throw new Error(result.problem);
  return equivalentsPerMole(result.formula, hint);
};

// Protons per formula: common practice of volumetric analysis, no source.
describe('equivalentsPerMole', () => {
  it.each([
    ['HCl', 1],
    ['HNO3', 1],
    ['HClO4', 1],
    ['H2SO4', 2],
    ['H3PO4', 3],
    ['CH3CO2H', 1],
    ['C2H2O4', 2],
    ['C2H2O4·2H2O', 2],
    ['NaOH', 1],
    ['KOH', 1],
    ['Ba(OH)2', 2],
    ['Ba(OH)2·8H2O', 2],
    ['Ca(OH)2', 2],
    ['Al(OH)3', 3],
    ['NH3', 1],
    ['NH4OH', 1],
    ['Na2CO3', 2],
    ['Na2CO3·10H2O', 2],
    ['CaCO3', 2],
    ['(NH4)2CO3', 2],
    ['NaHCO3', 1],
    ['NH4HCO3', 1],
  ])('%s has %i', (text, n) => expect(of(text)).toBe(n));

  it.each([
    'KMnO4',
    'K2Cr2O7',
    'Na2S2O3',
    'I2',
    'NaCl',
    'CuSO4·5H2O',
    'C3H8O',
    'Na+',
    'HCO3-',
    'C2H6O',
    'NaNO3',
    'CHCl3',
  ])('%s depends on the reaction', (text) => expect(of(text)).toBeUndefined());

  it('takes a hint', () => {
    expect(of('C4H8O2')).toBeUndefined();
    expect(of('C4H8O2', 'acid')).toBe(1);
    expect(of('Et3N')).toBeUndefined();
    expect(of('Et3N', 'base')).toBe(1);
  });
});
