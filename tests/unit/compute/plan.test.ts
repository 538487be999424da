/** Plans: one target, everything else. Molar masses CIAAW 2021; densities of the handbook; all else invented. */
import { describe, expect, it } from 'vitest';
import { metPlans } from '../../../server/compute/plan-met';
import { valuesOf, worth } from './page';

const M = { salicylic: 138.122, anhydride: 102.089, aspirin: 180.159 };
const R1 = 'reaction R1: salicylic acid + acetic anhydride -> aspirin + acetic acid';
const PAGE = `substance aspirin: C9H8O4\n${R1}\n`;

function planned(text: string) {
  const { plans, planned: implied } = valuesOf(text);
  return Object.fromEntries(
    [...plans, ...implied].map((value) => [
      value.name,
      {
        mass: worth(value.mass),
        volume: worth(value.volume),
        amount: worth(value.amount),
        weigh: value.weigh && worth(value.weigh),
        measure: value.measure && worth(value.measure),
        role: value.role,
        below: value.below && worth(value.below.least),
      },
    ]),
  );
}

describe('backwards from a product', () => {
  const n = 5 / 0.8 / M.aspirin;

  it('through yield and coefficients to every reactant', () => {
    const found = planned(`${PAGE}plan aspirin: 5.00 g at 80 %`);
    expect(found['salicylic acid']).toMatchObject({ mass: expect.closeTo(n * M.salicylic, 3), role: 'limiting' });
    expect(found['acetic anhydride']!.mass).toBeCloseTo(n * M.anhydride, 3);
    expect(found.aspirin!.amount).toBeCloseTo(5 / M.aspirin, 6);
    expect(Object.keys(found)).toEqual(['aspirin', 'salicylic acid', 'acetic anhydride']);
  });

  it('equivalents, mol%, volumes, molarity and mass per cent count by the limiting reactant', () => {
    const found = planned(`${PAGE}plan aspirin: 5.00 g at 80 %
plan salicylic acid: limiting
plan acetic anhydride: 2.50 equiv
plan ferrocene: 5 mol%, catalyst
plan toluene: 4.0 mL/g, solvent
plan acetone: 0.50 M, solvent
plan charcoal: 10 wt%, additive`);
    expect(found['acetic anhydride']!.amount).toBeCloseTo(2.5 * n, 6);
    expect(found.ferrocene!.amount).toBeCloseTo(0.05 * n, 8);
    expect(found.toluene!.volume).toBeCloseTo(4 * n * M.salicylic, 3);
    expect(found.acetone!.volume).toBeCloseTo((n / 0.5) * 1000, 3);
    expect(found.charcoal!.mass).toBeCloseTo(0.1 * n * M.salicylic, 4);
  });

  it('purity, strength and coefficients are in what is taken', () => {
    const found = planned(`substance salt: C2Na2O4
solution caustic: 2.00 M sodium hydroxide in water
substance oxalic acid: C2H2O4·2H2O, purity 98.0 %
reaction R1: oxalic acid + 2 NaOH -> salt + 4 H2O
plan salt: 0.1000 mol
plan caustic: 2.00 equiv`);
    expect(found.caustic).toMatchObject({ amount: expect.closeTo(0.2, 9), volume: expect.closeTo(100, 6) });
    expect(found['oxalic acid']!.mass).toBeCloseTo((0.1 * 126.064) / 0.98, 3);
  });

  it('over an intermediate and its own yield', () => {
    const found = planned(`substance enone: C10H10O
substance alcohol: C10H14O
reaction R1: benzaldehyde + acetone -> enone + water
reaction R2: enone + 2 H2 -> alcohol
plan enone: at 70 %
plan alcohol: 3.00 g at 90 %`);
    const needs = 3 / 150.221 / 0.9;
    expect(found.enone).toMatchObject({ amount: expect.closeTo(needs, 6), role: 'product' });
    expect(found.benzaldehyde!.amount).toBeCloseTo(needs / 0.7, 6);
    expect(found.H2!.amount).toBeCloseTo(2 * needs, 6);
    expect(found.enone!.weigh).toBeUndefined();
  });
});

describe('forwards from a limiting reactant', () => {
  it('to the others and to what can come out', () => {
    const found = planned(`${PAGE}plan salicylic acid: 10.0 g, limiting`);
    expect(found['acetic anhydride']!.mass).toBeCloseTo((10 / M.salicylic) * M.anhydride, 3);
    expect(found.aspirin).toMatchObject({ mass: expect.closeTo((10 / M.salicylic) * M.aspirin, 3), role: 'product' });
  });

  it('a product with a yield alone is what is expected', () => {
    const found = planned(`${PAGE}plan salicylic acid: 10.0 g, limiting\nplan aspirin: at 80 %`);
    expect(found.aspirin!.mass).toBeCloseTo((0.8 * 10 * M.aspirin) / M.salicylic, 3);
  });

  it('from what was charged where nothing is a target', () =>
    expect(planned(`${PAGE}charge salicylic acid: 13.8122 g\nplan acetic anhydride: 1.50 equiv`)).toMatchObject({
      'acetic anhydride': { amount: expect.closeTo(0.15, 5) },
    }));

  it('an excess that nobody counted is neither computed nor limiting', () => {
    const found = planned(`${PAGE}plan aspirin: 5.00 g at 80 %\nplan salicylic acid: excess`);
    expect(found['salicylic acid']!.amount).toBe('amount-missing');
    expect(found['acetic anhydride']!.role).toBe('limiting');
  });

  it('nothing to plan from is said, not guessed', () => {
    expect(planned(`${R1}\nplan acetic anhydride: 1.50 equiv`)['acetic anhydride']!.amount).toBe('no-limiting');
    expect(planned('plan aspirin: 5.00 g at 0 %').aspirin!.mass).toBe(5);
  });
});

describe('what balance and glassware measure', () => {
  const mass = (text: string) => planned(`${text}\nplan benzoic acid: 1.23456 g`)['benzoic acid']!;

  it('mass to the readability; nothing without a balance', () => {
    expect(mass('balance B-2: readability 0.001 g').weigh).toBe(1.235);
    expect(mass('balance B-2: readability 0.01 g, minimum 1 g').weigh).toBe(1.23);
    expect(mass('').weigh).toBeUndefined();
  });

  it('the coarsest balance that is good enough', () => {
    const both = 'balance B-1: readability 0.01 g, minimum 2 g\nbalance A-1: readability 0.1 mg, minimum 20 mg';
    expect(mass(both).weigh).toBe(1.2346);
    expect(planned(`${both}\nplan benzoic acid: 12.3456 g`)['benzoic acid']!.weigh).toBe(12.35);
  });

  it('below the minimum weight: declared, else 2000 times the larger of s and 0.41 d (USP <41>)', () => {
    expect(mass('balance B: readability 0.001 g, minimum 2 g').below).toBe(2);
    expect(mass('balance B: readability 0.01 g').below).toBeCloseTo(8.2, 9);
    expect(mass('balance B: readability 0.001 g, repeatability 0.001 g').below).toBeCloseTo(2, 9);
    expect(mass('balance B: readability 0.001 g').below).toBeUndefined();
  });

  it.each([
    ['0.1234 mL', 0.123],
    ['0.876 mL', 0.88],
    ['2.3305 mL', 2.35],
    ['19.167 mL', 19.2],
    ['63.4 mL', 63],
    ['183 mL', 184],
    ['1234 mL', 1240],
  ])('%s of a liquid', (written, step) =>
    expect(planned(`plan toluene: ${written}, solvent`).toluene!.measure).toBe(step),
  );
});

describe('plan against what was charged', () => {
  const met = (text: string) =>
    metPlans(valuesOf(`${PAGE}${text}`)).map(({ name, ratio }) => [name, worth(ratio)] as const);

  it('lines of one name add up; a wash is no solvent', () => {
    const text = `plan toluene: 20 mL, solvent
charge toluene: 12 mL, solvent
charge toluene: 9 mL, solvent
charge toluene: 40 mL, wash`;
    expect(met(text)).toEqual([['toluene', expect.closeTo(1.05, 9)]]);
  });

  it('what follows from a target counts for the limiting reactant alone', () => {
    const n = 5 / 0.8 / M.aspirin;
    const charges = 'charge salicylic acid: 5.00 g, limiting\ncharge acetic anhydride: 15.0 g';
    expect(met(`plan aspirin: 5.00 g at 80 %\n${charges}`)).toEqual([
      ['salicylic acid', expect.closeTo(5 / (n * M.salicylic), 4)],
    ]);
  });

  it('nothing to compare where one of both is missing', () => {
    expect(met('plan toluene: 20 mL, solvent\ncharge toluene: excess, solvent')).toEqual([]);
    expect(met('charge toluene: 20 mL, solvent')).toEqual([]);
  });
});
