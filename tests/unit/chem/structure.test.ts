import { describe, expect, it } from 'vitest';
import { hill, parseFormula } from '../../../server/chem/formula';
import { patternsIn, structureFormula } from '../../../server/chem/structure';

// OpenSMILES specification 1.0 (2016) for the notation; formulas are those of the compounds named.
describe('structureFormula', () => {
  it.each([
    ['CC(C)CCOC(C)=O', 'C7H14O2', 0, 'isopentyl acetate'],
    ['CC(=O)Oc1ccccc1C(=O)O', 'C9H8O4', 0, 'acetylsalicylic acid'],
    ['Cn1cnc2c1c(=O)n(C)c(=O)n2C', 'C8H10N4O2', 0, 'caffeine'],
    ['[Na+].[Cl-]', 'ClNa', 0, 'sodium chloride'],
    ['CC(=O)[O-]', 'C2H3O2^-', -1, 'acetate'],
    ['[NH4+]', 'H4N^+', 1, 'ammonium'],
    ['[Cu+2].[O-]S([O-])(=O)=O.O.O.O.O.O', 'CuH10O9S', 0, 'copper(II) sulfate pentahydrate'],
    ['[2H]C(Cl)(Cl)Cl', 'C[2H]Cl3', 0, 'chloroform-d'],
    ['[13CH3]I', '[13C]H3I', 0, 'iodomethane-13C'],
    ['[Al]', 'Al', 0, 'aluminium, a bracket atom without hydrogens'],
    ['C[Al](C)C', 'C3H9Al', 0, 'trimethylaluminium'],
    ['[BH4-].[Na+]', 'BH4Na', 0, 'sodium borohydride'],
    ['O=[Mn](=O)(=O)[O-].[K+]', 'KMnO4', 0, 'potassium permanganate'],
    ['C[C@H](N)C(=O)O', 'C3H7NO2', 0, 'alanine'],
    ['F/C=C/F', 'C2H2F2', 0, '(E)-1,2-difluoroethene'],
    ['c1cc[nH]c1', 'C4H5N', 0, 'pyrrole'],
    ['[H][H]', 'H2', 0, 'dihydrogen'],
    ['C%10CCC%10', 'C4H8', 0, 'cyclobutane'],
    ['CS(C)=O', 'C2H6OS', 0, 'dimethyl sulfoxide'],
    ['OP(=O)(O)O', 'H3O4P', 0, 'phosphoric acid'],
    ['C[N+](C)(C)C.[OH-]', 'C4H13NO', 0, 'tetramethylammonium hydroxide'],
    ['[Pd]', 'Pd', 0, 'palladium'],
  ])('%s is %s', (smiles, formula, charge) => {
    expect(structureFormula(smiles)).toEqual({ ok: true, formula, charge });
    const read = parseFormula(formula);
    expect(read.ok && hill(read.formula)).toBe(formula);
  });

  it.each([
    '',
    ' ',
    'CC(',
    'CC)',
    'C1CC',
    'Xx',
    '*C',
    'C[R1]',
    'CC>>CO',
    'CCO and more',
    'C'.repeat(10_000),
    '[',
    '((((',
    '[12345C]',
  ])('%j is refused with a reason', (smiles) => {
    const result = structureFormula(smiles);
    expect(result.ok).toBe(false);
    expect(result.ok ? '' : result.problem).toMatch(/^[A-Z“]/);
  });
});

// SMARTS: Daylight Theory Manual, chapter 4 (from memory); the functional groups are those of the compounds named.
describe('patternsIn', () => {
  it.each([
    ['C1=CCCCC1', '[CX3]=[CX3]', true, 'cyclohexene has an alkene'],
    ['C1CCCCC1', '[CX3]=[CX3]', false, 'cyclohexane has none'],
    ['c1ccccc1', '[CX3]=[CX3]', false, 'benzene is no alkene'],
    ['Oc1ccccc1', 'c[OX2H1]', true, 'phenol'],
    ['COc1ccccc1', 'c[OX2H1]', false, 'anisole is no phenol'],
    ['CC=O', '[CX3H1]=O', true, 'acetaldehyde'],
    ['CC(C)=O', '[CX3H1]=O', false, 'acetone is no aldehyde'],
    ['ClCCCl.O', '[#6][Cl]', true, 'a component counts'],
  ])('%s and %s: %s, %s', (smiles, smarts, expected) => expect(patternsIn(smiles)!(smarts)).toBe(expected));

  it('can be asked many times', () => {
    const has = patternsIn('CC(=O)Oc1ccccc1C(=O)O')!;
    expect(['C(=O)[OX2H1]', 'C(=O)O[#6]', '[NX3]', 'C(=O)[OX2H1]'].map(has)).toEqual([true, true, false, true]);
  });

  it('does not answer what it cannot read', () => {
    expect(patternsIn('C1CC')).toBeUndefined();
    expect(patternsIn('CC')!('C1CC')).toBeUndefined();
  });
});
