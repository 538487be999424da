import { describe, expect, it } from 'vitest';
import { elements, mostAbundant, nuclides } from '../../../server/chem/elements';
import { type Formula, hill, parseFormula } from '../../../server/chem/formula';
import { atomicWeight, ELECTRON_MASS, exactMass, massFractions, molarMass } from '../../../server/chem/mass';
import { readTable } from '../../../server/chem/table';
import weightsText from '../../../server/data/atomic-weights.csv';
import isotopesText from '../../../server/data/isotopes.csv';
import vectorsText from '../../data/mass-test-vectors.csv';

const read = (text: string): Formula => {
  const result = parseFormula(text);
  if (!result.ok) throw new Error(`${text}: ${result.problem}`);
  return result.formula;
};
const M = (text: string): number => molarMass(read(text))!.value.toNumber();
const near = (got: number, want: number, tolerance: number, what: string): void =>
  expect(Math.abs(got - want), `${what}: got ${got}, want ${want}`).toBeLessThanOrEqual(tolerance);

const vectors = readTable<
  | 'formula'
  | 'name'
  | 'hill'
  | 'charge'
  | 'molar_mass_g_mol'
  | 'molar_mass_u'
  | 'monoisotopic_mass_Da'
  | 'ion_mass_Da'
  | 'mm_mf_parser'
  | 'mm_molmass'
  | 'mm_periodictable_debian'
  | 'mm_periodictable_2_1'
  | 'mono_mf_parser'
  | 'mono_molmass'
>(vectorsText);

// Four general-purpose libraries: mf-parser 3.9.3, molmass 2025.11.11, periodictable 1.6.0 and 2.1.0. The last has the
// same table of weights (CIAAW 2021) without the revisions of 2024; the others have older or averaged weights.
describe('masses against other libraries', () => {
  it('has a hundred formulas to compare', () => expect(vectors.length).toBe(103));

  it.each(vectors.map((row) => [row.formula, row.name, row] as const))('%s, %s', (text, _, row) => {
    const formula = read(text);
    const charge = Number(row.charge);
    expect(hill(formula).replace(/\^.*/, '')).toBe(row.hill);
    expect(formula.charge).toBe(charge);

    const mass = molarMass(formula)!;
    const value = mass.value.toNumber();
    near(value, Number(row.molar_mass_g_mol), 1e-5, 'molar mass');
    const u = Math.hypot(...mass.parts.map((part) => part.count.toNumber() * part.u));
    near(u / Number(row.molar_mass_u), 1, 0.06, 'uncertainty of the molar mass');

    const others = [row.mm_mf_parser, row.mm_molmass, row.mm_periodictable_debian].filter(Boolean);
    expect(others.length).toBeGreaterThanOrEqual(2);
    for (const other of others) near((Number(other) / value - 1) * 1e6, 0, 160, 'ppm');
    near((Number(row.mm_periodictable_2_1) / value - 1) * 1e6, 0, /Zr|Gd|Lu/.test(text) ? 8 : 0.2, 'ppm, same table');

    const exact = exactMass(formula);
    if (row.monoisotopic_mass_Da === '') {
      expect(exact).toBeUndefined();
      return;
    }
    near(exact!.toNumber(), Number(row.monoisotopic_mass_Da), 6e-7, 'monoisotopic mass');
    for (const other of [row.mono_mf_parser, row.mono_molmass].filter(Boolean)) {
      near(exact!.toNumber(), Number(other), 2.1e-5, 'monoisotopic mass of a library');
    }
    if (charge) near(exact!.minus(ELECTRON_MASS.times(charge)).toNumber(), Number(row.ion_mass_Da), 1.2e-6, 'ion mass');
  });
});

describe('molar mass', () => {
  // IUPAC/CIAAW, standard atomic weights 2021 abridged: C 12.011, H 1.0080, O 15.999, N 14.007, Cl 35.45.
  it.each([
    ['C7H14O2', 7 * 12.011 + 14 * 1.008 + 2 * 15.999],
    ['C6H6', 6 * 12.011 + 6 * 1.008],
    ['HCl', 1.008 + 35.45],
  ])('%s is the sum of the abridged weights', (text, expected) => near(M(text), expected, 1e-9, text));

  it('is exact in decimals', () => expect(molarMass(read('C7H14O2'))!.value.toString()).toBe('130.187'));
  it('lists its parts in Hill order', () => {
    expect(molarMass(read('NaHCO3'))!.parts.map((part) => `${part.symbol}${part.count}`)).toEqual([
      'C1',
      'H1',
      'Na1',
      'O3',
    ]);
  });
  it('is not known without a standard weight', () => {
    expect(molarMass(read('TcO2'))).toBeUndefined();
    expect(molarMass(read('e-'))).toBeUndefined();
    expect(atomicWeight('Tc')).toBeUndefined();
    expect(exactMass(read('TcO2'))).toBeUndefined();
  });
  it('gives mass fractions', () => {
    // OpenStax, Chemistry 2e, 3.2, Example 3: aspirin C9H8O4 is 60.00 % C, 4.476 % H, 35.52 % O.
    const fractions = massFractions(read('C9H8O4'));
    near(fractions.get('C')!.toNumber(), 0.6, 1e-4, 'C');
    near(fractions.get('H')!.toNumber(), 0.04476, 1e-5, 'H');
    near(fractions.get('O')!.toNumber(), 0.3552, 1e-4, 'O');
  });
});

describe('the tables', () => {
  const weights = readTable<
    | 'symbol'
    | 'kind'
    | 'standard_value'
    | 'standard_low'
    | 'standard_high'
    | 'uncertainty'
    | 'working_value'
    | 'working_u'
  >(weightsText);
  const isotopes = readTable<'symbol' | 'label' | 'abundance' | 'exact_mass_Da' | 'class'>(isotopesText);

  it('have 84 elements with a weight, 14 of them intervals', () => {
    expect(weights.filter((row) => row.kind !== 'none').length).toBe(84);
    // CIAAW 2021: H Li B C N O Mg Si S Cl Ar Br Tl Pb have intervals.
    const intervals = weights.filter((row) => row.kind === 'interval').map((row) => row.symbol);
    expect(intervals.join(' ')).toBe('H Li B C N O Mg Si S Cl Ar Br Tl Pb');
  });

  it('give a standard uncertainty of the published bound over √3', () => {
    for (const row of weights.filter((row) => row.kind === 'single')) {
      near(Number(row.working_u) / (Number(row.uncertainty) / Math.sqrt(3)), 1, 0.06, row.symbol);
      expect(row.working_value).toBe(row.standard_value);
    }
    for (const row of weights.filter((row) => row.kind === 'interval')) {
      const value = Number(row.working_value);
      expect(value >= Number(row.standard_low) - 6e-3 && value <= Number(row.standard_high) + 6e-3, row.symbol).toBe(
        true,
      );
    }
  });

  // CIAAW, revisions of 2024: Zr 91.222(3), Gd 157.249(2), Lu 174.966 69(5).
  it('have the revisions of 2024', () => {
    expect(atomicWeight('Zr')?.value.toString()).toBe('91.222');
    expect(atomicWeight('Gd')?.value.toString()).toBe('157.249');
    expect(atomicWeight('Lu')?.value.toString()).toBe('174.96669');
  });

  // Wang et al., The AME 2020 atomic mass evaluation, Chin. Phys. C 2021, 45, 030003, table of atomic masses.
  it.each([
    ['1H', '1.007825031898'],
    ['2H', '2.014101777844'],
    ['3H', '3.01604928132'],
    ['6Li', '6.01512288742'],
    ['7Li', '7.01600343426'],
    ['10B', '10.012936862'],
    ['11B', '11.009305166'],
    ['12C', '12'],
    ['13C', '13.00335483534'],
    ['14N', '14.00307400425'],
    ['15N', '15.00010889827'],
    ['16O', '15.99491461926'],
    ['17O', '16.99913175595'],
    ['18O', '17.99915961214'],
    ['19F', '18.99840316207'],
  ])('have the mass of %s as the evaluation prints it', (label, mass) =>
    expect(nuclides().get(label)?.mass.toString()).toBe(mass),
  );

  it('agree with each other: masses times abundances give the weight', () => {
    for (const row of weights.filter((row) => row.kind !== 'none')) {
      const natural = isotopes.filter((iso) => iso.symbol === row.symbol && iso.class === 'natural');
      const mean = natural.reduce((sum, iso) => sum + Number(iso.abundance) * Number(iso.exact_mass_Da), 0);
      near(
        natural.reduce((sum, iso) => sum + Number(iso.abundance), 0),
        1,
        2e-7 * natural.length,
        row.symbol,
      );
      if (row.kind === 'interval') {
        expect(mean, row.symbol).toBeGreaterThanOrEqual(Number(row.standard_low) - 1e-5);
        expect(mean, row.symbol).toBeLessThanOrEqual(Number(row.standard_high) + 1e-5);
      } else {
        // The compositions of Gd and Lu are older than their weights of 2024.
        const bound = { Gd: 0.03, Lu: 0.0002 }[row.symbol] ?? Number(row.uncertainty);
        near(mean, Number(row.standard_value), bound, row.symbol);
      }
      const main = mostAbundant(row.symbol)!;
      expect(
        natural.every((iso) => Number(iso.abundance) <= main.abundance),
        row.symbol,
      ).toBe(true);
    }
  });

  it('name every isotope by an element that exists', () => {
    for (const { label, symbol, massNumber, mass } of nuclides().values()) {
      expect(label).toBe(`${massNumber}${symbol}`);
      expect(elements().has(symbol)).toBe(true);
      expect(Math.abs(mass.toNumber() - massNumber), label).toBeLessThan(0.25);
    }
  });
});
