import { describe, expect, it } from 'vitest';
import { adductMz, adducts, ionMz } from '../../../server/chem/adduct';
import { constant } from '../../../server/chem/constants';
import { nuclides } from '../../../server/chem/elements';
import { type Formula, parseFormula } from '../../../server/chem/formula';
import { ELECTRON_MASS, exactMass } from '../../../server/chem/mass';
import { readTable } from '../../../server/chem/table';
import text from '../../../server/data/hrms-adducts.csv';

const read = (formula: string): Formula => {
  const result = parseFormula(formula);
  if (!result.ok) throw new Error(`${formula}: ${result.problem}`);
  return result.formula;
};
const mz = (formula: string, adduct: string): number => adductMz(read(formula), adduct)!.mz.toNumber();
const mass = (formula: string): number => (formula ? exactMass(read(formula))!.toNumber() : 0);

const table = readTable<
  'label' | 'label_ascii' | 'mode' | 'multiplicity' | 'gained' | 'lost' | 'charge' | 'mass_delta_Da'
>(text);
// Large enough to lose any of the groups; the number itself does not matter.
const M = 'C60H90N6O9Na2K2Cl2Br2I2S2BF10PF6';

describe('the table of adducts', () => {
  it.each(table.map((row) => [row.label_ascii, row] as const))('%s', (ascii, row) => {
    const charge = Number(row.charge);
    // The table's own delta from its gained and lost formulas,
    const delta = mass(row.gained) - mass(row.lost) - charge * ELECTRON_MASS.toNumber();
    expect(Math.abs(delta - Number(row.mass_delta_Da))).toBeLessThan(2e-9);
    expect(charge > 0).toBe(row.mode === 'positive');
    // and, on another way, what the label says.
    const expected = (Number(row.multiplicity) * mass(M) + Number(row.mass_delta_Da)) / Math.abs(charge);
    for (const label of [ascii, row.label]) {
      const found = adductMz(read(M), label)!;
      expect(Math.abs(found.mz.toNumber() - expected), label).toBeLessThan(2e-9);
      expect(found.charge).toBe(charge);
      expect(found.label).toBe(row.label);
    }
  });

  it('offers all of them', () => expect(adducts().length).toBe(table.length));

  // m(1H) − m(e) is the proton mass but for the binding energy, 13.6 eV = 1.5e-8 Da (CODATA 2022).
  it('weighs the proton', () => {
    const proton = nuclides().get('1H')!.mass.minus(ELECTRON_MASS);
    expect(proton.minus(constant('m_p_u')).abs().toNumber()).toBeLessThan(2e-8);
  });
});

describe('adductMz', () => {
  // As published, to the digits printed.
  it.each([
    ['C41H61N7O6S2', '[M+H]+', 812.4197], // Bick et al., eLife 2017, 6, e28909
    ['C27H23N4P', '[M+H]+', 435.1733], // these and the next: lines quoted in the tests of ChemDataExtractor
    ['C13H11BrO3', '[M+Na]+', 316.9784],
    ['C5H8O3', '[M-H]-', 115.0401],
  ])('%s as %s', (formula, adduct, published) =>
    expect(Math.abs(mz(formula, adduct) - published)).toBeLessThanOrEqual(0.00011),
  );

  it.each([
    ['M+H', '[M+H]+'],
    ['[M + H]+', '[M+H]+'],
    ['(M+H)+', '[M+H]+'],
    ['M+H+', '[M+H]+'],
    ['[M+H]⁺', '[M+H]+'],
    ['[M+2H]²⁺', '[M+2H]2+'],
    ['[M+2H]^2+', '[M+2H]2+'],
    ['M+Na', '[M+Na]+'],
    ['M-H', '[M-H]-'],
    ['M−H', '[M-H]-'],
    ['[M−H]−', '[M-H]-'],
    ['M+Cl', '[M+Cl]-'],
    ['[M+ACN+H]+', '[M+MeCN+H]+'],
    ['[M+CH3CN+H]+', '[M+MeCN+H]+'],
    ['[M+FA-H]-', '[M+HCOO]-'],
    ['[M].+', '[M]+.'],
    ['M+•', '[M]+.'],
    ['M•+', '[M]+.'],
    ['[M]+·', '[M]+.'],
    ['M+', '[M]+.'],
    ['[M]+*', '[M]+.'],
  ])('%s is %s', (typed, usual) => {
    expect(Math.abs(mz(M, typed) - mz(M, usual))).toBeLessThan(1e-9);
    expect(adductMz(read(M), typed)!.charge).toBe(adductMz(read(M), usual)!.charge);
  });

  it('prints the label as IUPAC does', () => {
    expect(adductMz(read('C5H8O3'), '[M-H]-')?.label).toBe('[M−H]−');
    expect(adductMz(read('C5H8O3'), 'M+.')?.label).toBe('[M]+•');
    expect(adductMz(read('C5H8O3'), '[M]+')?.label).toBe('[M]+');
  });

  it.each(['', 'M', 'H', '[M+H]', '[M+Xx]+', '[M+H]0+', '[0M+H]+', '[[M+H]+', `[M${'+H'.repeat(500)}]+`])(
    '%j cannot be read',
    (typed) => expect(adductMz(read('C5H8O3'), typed)).toBeUndefined(),
  );

  it('needs an exact mass', () => expect(adductMz(read('TcO2'), '[M+H]+')).toBeUndefined());
});

describe('ionMz', () => {
  it('is the m/z of the adduct that the formula spells out', () => {
    const ion = ionMz(read('C9H9O4+'))!.toNumber();
    expect(Math.abs(ion - mz('C9H8O4', '[M+H]+'))).toBeLessThan(1e-9);
    expect(Math.abs(ionMz(read('SO4^2-'))!.toNumber() - mz('H2SO4', '[M-2H]2-'))).toBeLessThan(1e-9);
  });
  it('needs a charge', () => expect(ionMz(read('C9H8O4'))).toBeUndefined());
});
