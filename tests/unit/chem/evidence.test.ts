import { describe, expect, it } from 'vitest';
import { boilingAt, HYDROXYL, TROUTON } from '../../../server/chem/boiling';
import { countHydrogens } from '../../../server/chem/hydrogens';
import { labileHydrogens } from '../../../server/chem/structure';

const MM_HG = 0.133322387415;
const ATM = 101.325;

// Boiling points at 10 mmHg: Stull, Ind. Eng. Chem. 1947, 39, 517 (from memory); at 760 mmHg: the handbook. The estimate
// is good to about 10 K.
describe('boiling point at 10 mmHg', () => {
  it.each([
    ['toluene', 110.6, 6.4, TROUTON],
    ['benzaldehyde', 179.0, 62.0, TROUTON],
    ['nitrobenzene', 210.8, 84.9, TROUTON],
    ['aniline', 184.4, 69.4, TROUTON],
    ['acetophenone', 202.4, 78.0, TROUTON],
    ['isopentyl acetate', 142.0, 35.2, TROUTON],
    ['decane', 174.1, 57.7, TROUTON],
    ['ethyl acetate', 77.1, -13.5, TROUTON],
    ['benzyl alcohol', 205.0, 92.6, TROUTON * HYDROXYL],
    ['1-butanol', 117.7, 30.2, TROUTON * HYDROXYL],
    ['ethylene glycol', 197.3, 92.1, TROUTON * HYDROXYL],
  ])('%s', (_, tb, at10, entropy) => {
    const estimate = boilingAt(tb + 273.15, ATM, 10 * MM_HG, entropy)! - 273.15;
    expect(Math.abs(estimate - at10)).toBeLessThan(10);
  });

  it('isopentyl acetate at 12 mmHg: about 34 °C', () => {
    expect(boilingAt(142 + 273.15, ATM, 12 * MM_HG, TROUTON)! - 273.15).toBeCloseTo(34.0, 1);
  });

  // IAPWS-95: 14.0 °C at 12 mmHg.
  it('water at 12 mmHg', () => {
    expect(Math.abs(boilingAt(373.15, ATM, 12 * MM_HG, 109)! - 273.15 - 14.0)).toBeLessThan(3);
  });

  it('is the boiling point at its own pressure, and none where the model does not hold', () => {
    expect(boilingAt(400, ATM, ATM, TROUTON)).toBeCloseTo(400, 6);
    expect(boilingAt(400, ATM, 0.5 * MM_HG, TROUTON)).toBeUndefined();
    expect(boilingAt(400, ATM, Number.NaN, TROUTON)).toBeUndefined();
  });
});

// Lines in the form of the experimental parts of open journals; counts from the formulas of the compounds named.
describe('hydrogens of a line', () => {
  it.each([
    ['(400 MHz, CDCl3) δ 4.12 (q, J = 7.1 Hz, 2H), 2.04 (s, 3H), 1.26 (t, J = 7.1 Hz, 3H)', 8],
    ['(CDCl3, 500 MHz) δ 7.26–7.40 (m, 5 H), 4.70 (s, 2 H), 1.65 (br s, 1 H, OH)', 8],
    ['(300 MHz, C6D6): 7.1 (5H, m, C6H5), 3.3 (3H, s, OCH3)', 8],
    ['(400 MHz, DMSO-d6) 8.1 (d, J(H,H) = 8.8 Hz, 2H, H-2 and H-6), 7.0 (d, 2H, H-3,5)', 4],
    ['δ 6.9 (m, 2 × 1H), 1.2 (s, 2 × 3H)', 8],
    ['(400 MHz, CD3OD) δ 3.6–3.5 (m, 1.5H), 2.1 (s, 0.5H)', 2],
    ["δ 5.1 (d, 1H, H-1'), 4.2 (m, 1H, 4′-H)", 2],
    ['7.2, m, 5H, 3.8, s, 3H', 8],
  ])('%s', (line, count) => {
    const found = countHydrogens(line);
    expect([found?.least, found?.most, found?.doubt]).toEqual([count, count, undefined]);
  });

  it('keeps a range', () => expect(countHydrogens('δ 7.4 (m, 4–5H)')).toMatchObject({ least: 4, most: 5 }));

  it.each([
    'δ 7.2 (m, 5H), 1.56 (s, 2H, water)',
    'δ 7.2 (m, 5H), 4.12 (q, 2H, residual ethyl acetate)',
    'δ 7.2 (m, 5H), 3.1 (s, 1H, minor rotamer)',
    'δ 7.2 (m, 5H), 3.1 (s)',
    'δ 2.3, 2.2 (2 × s, 3H each)',
  ])('doubts %s', (line) => expect(countHydrogens(line)?.doubt).toBeDefined());

  it.each(['(400 MHz, CDCl3) δ 7.70, 3.81', '', 'see the printout', 'J(C,H) = 140 Hz, 1H-decoupled'])(
    'has none: %s',
    (line) => expect(countHydrogens(line)).toBeUndefined(),
  );
});

describe('hydrogens that may not show', () => {
  it.each([
    ['CCO', 1],
    ['CC(=O)O', 1],
    ['NCC(=O)O', 3],
    ['CCOC(C)=O', 0],
    ['Cl.NCC', 3],
    ['[NH4+].[Cl-]', 4],
    ['C[C@H](O)c1ccc[nH]1', 2],
    ['O.O.OC(=O)C(=O)O', 6],
  ])('%s: %d', (smiles, count) => expect(labileHydrogens(smiles)).toBe(count));
  it('says nothing of what it cannot read', () => expect(labileHydrogens('C1CC')).toBeUndefined());
});
