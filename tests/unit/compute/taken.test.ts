/**
 * Mass, volume and amount of what was taken. Molar masses by hand from the standard atomic weights CIAAW 2021 (H 1.008,
 * C 12.011, N 14.007, O 15.999, Na 22.990 (22.98976928), S 32.06, Cl 35.45, Cu 63.546, Pd 106.42); other numbers invented unless a source
 * stands beside them.
 */
import { describe, expect, it } from 'vitest';
import { isHeld } from '../../../server/quantity/held';
import { step } from '../../../server/quantity/steps';
import { chargeOf, digitsOf, uOf, valuesOf, worth } from './page';

const take = (definition: string, facts: string, name = 'it') => {
  const { mass, volume, amount } = chargeOf(valuesOf(`${definition}\ncharge ${name}: ${facts}`), name);
  return { mass: worth(mass), volume: worth(volume), amount: worth(amount) };
};
const near = (got: ReturnType<typeof take>, want: Partial<ReturnType<typeof take>>, digits = 6): void => {
  for (const [key, value] of Object.entries(want)) {
    const found = got[key as keyof typeof got];
    if (typeof value === 'string' || typeof found === 'string') expect([key, found]).toEqual([key, value]);
    else expect(Math.abs(found / value - 1), `${key}: ${found}, not ${value}`).toBeLessThan(10 ** -digits);
  }
};

/** Acetic acid without a density of the handbook. */
const ACID = 'substance it: C2H4O2';
const M = 2 * 12.011 + 4 * 1.008 + 2 * 15.999;

describe('a substance', () => {
  it('by mass', () => near(take(ACID, '10.0 g'), { mass: 10, volume: 'density-missing', amount: 10 / M }));
  it('by mass in another unit', () => near(take(ACID, '250 mg'), { mass: 0.25, amount: 0.25 / M }));
  it('by volume and density', () =>
    near(take(`${ACID}, density 1.049 g/mL`, '20.0 mL'), { mass: 20.98, volume: 20, amount: 20.98 / M }));
  it('a density in another unit', () =>
    near(take(`${ACID}, density 1049 kg/m³`, '0.0200 L'), { mass: 20.98, volume: 20 }));
  it('by volume without a density', () =>
    near(take(ACID, '20.0 mL'), { mass: 'density-missing', volume: 20, amount: 'density-missing' }));
  it('by amount', () =>
    near(take(`${ACID}, density 1.049 g/mL`, '348 mmol'), {
      amount: 0.348,
      mass: 0.348 * M,
      volume: (0.348 * M) / 1.049,
    }));
  it('without a formula', () =>
    near(take('substance it: state mixture', '10.0 g'), { mass: 10, amount: 'formula-missing' }));
  it('with a molar mass that is only written', () =>
    near(take('substance it: molar mass 250.0 g/mol', '10.0 g'), { amount: 0.04 }));
  it('that nobody knows', () => near(take('', '10.0 g'), { mass: 10, amount: 'substance-unknown' }));
  it.each(['excess', 'balloon', 'saturated', 'catalytic', 'trace'])('%s: nobody can compute it', (word) => {
    const charge = chargeOf(valuesOf(`${ACID}\ncharge it: ${word}`), 'it');
    expect([charge.unlimited, worth(charge.amount)]).toEqual([true, 'amount-missing']);
  });
  it('`excess` behind an amount is a role, not the amount', () => {
    const charge = chargeOf(valuesOf(`${ACID}\ncharge it: 5.0 g, excess`), 'it');
    expect([charge.unlimited, worth(charge.mass), charge.charge.roles[0]!.role]).toEqual([false, 5, 'excess']);
  });
  it('a weighing wins over nothing, a mass over a volume', () => {
    near(take(`${ACID}, density 1.049 g/mL`, '20 mL, net 20.98 g'), { mass: 20.98 });
    near(take(`${ACID}, density 1.049 g/mL`, '20 mL, 21.5 g'), { mass: 21.5 });
    near(take(`${ACID}, density 1.049 g/mL`, '21.5 g, 20 mL'), { mass: 21.5 });
  });
  it('drops are twentieths of a millilitre', () =>
    near(take(`${ACID}, density 1.049 g/mL`, '5 drops'), { volume: 0.25, mass: 0.26225 }));
  it('several times', () => near(take(`${ACID}, density 1.049 g/mL`, '2 × 10 mL'), { volume: 20, mass: 20.98 }));
  it('an amount that could not be read stays unknown', () =>
    expect(take(ACID, '1,234 g').mass).toMatch(/missing|unreadable/));
});

// OpenStax, Chemistry 2e, section 3.1, from memory; the cases hold many more, read from the source.
describe('published amounts', () => {
  it.each([
    // Example 3.4 (memory): 4.7 g potassium is 0.12 mol
    ['substance it: K', '4.7 g', 0.12, 2],
    // Example 3.5 (memory): 9.2e-4 mol argon weighs 0.037 g
    ['substance it: Ar', '9.2e-4 mol', 9.2e-4, 6],
    // 3.1 Example 4, Check Your Learning: 0.99 oz gold is 0.14 mol (28.1 g)
    ['substance it: Au', '0.99 oz', 0.1425, 2],
  ] as const)('%s, %s', (definition, facts, amount, digits) => {
    expect(Number(take(definition, facts).amount) / amount).toBeCloseTo(1, digits === 2 ? 1 : 6);
  });
});

describe('what is not the substance itself', () => {
  it('purity counts on the way to amount, not in the mass', () =>
    near(take(`${ACID}, purity 96.0 %`, '10.0 g'), { mass: 10, amount: 9.6 / M }));
  it('an amount asks for more of an impure material', () =>
    near(take(`${ACID}, purity 96.0 %`, '100 mmol'), { amount: 0.1, mass: (0.1 * M) / 0.96 }));
  it('purity of 100 %, and one that cannot be', () => {
    near(take(`${ACID}, purity 100 %`, '10.0 g'), { amount: 10 / M });
    near(take(`${ACID}, purity 120 %`, '10.0 g'), { amount: 10 / M });
  });
  it('a supported catalyst by share: 10 % palladium on carbon', () =>
    near(take('substance it: Pd, loading 10 % w/w', '106.4 mg'), { mass: 0.1064, amount: 0.01064 / 106.42 }));
  it('a resin by mmol/g', () =>
    near(take('substance it: state mixture, loading 1.1 mmol/g', '2.00 g'), { amount: 0.0022 }));
  it('wet: half of it is water', () => near(take(`${ACID}, wet 50 %`, '10.0 g'), { mass: 10, amount: 5 / M }));
  it('wet and impure and supported', () =>
    near(take('substance it: Pd, loading 10 % w/w, wet 50 %, purity 98 %', '1.000 g'), {
      amount: (0.1 * 0.5 * 0.98) / 106.42,
    }));
  it('a hydrate with its water in the formula', () =>
    near(take('substance it: CuSO4·5H2O', '24.97 g'), { amount: 24.97 / (63.546 + 32.06 + 9 * 15.999 + 10 * 1.008) }));
  it('x = 2.4 waters', () =>
    near(take('substance it: CuSO4·xH2O, x = 2.4', '10.0 g'), {
      amount: 10 / (63.546 + 32.06 + 4 * 15.999 + 2.4 * 18.015),
    }));
  it('a polymer counts repeat units', () =>
    near(take('substance it: repeat unit C8H8', '10.4 g'), { amount: 10.4 / (8 * 12.011 + 8 * 1.008) }));
  it('a racemate weighs what its enantiomer does', () =>
    near(take('substance (S)-it: C9H10O2\nsubstance it: racemate of (S)-it', '15.0 g'), {
      amount: 15 / (9 * 12.011 + 10 * 1.008 + 2 * 15.999),
    }));
  it('a structure is as good as a formula', () =>
    near(take('substance it: SMILES CC(O)=O', '10.0 g'), { amount: 10 / M }));
  it('a bare formula needs no declaration', () => near(take('', '4.0 g', 'NaOH'), { amount: 4 / 39.997 }, 4));
});

// OpenStax, Chemistry 2e, section 9.2 (gas-methane and others of the cases): 655 g of methane is 1.02e3 L at 25 °C, 745 Torr.
describe('gases: n = p V ÷ (R T), R CODATA 2022', () => {
  it.each([
    ['CH4', '1020 L, at 25 °C, at 745 Torr', 40.9, 0.1],
    ['CH4', '1.02e3 L, at 298.15 K, at 99.32 kPa', 40.9, 0.1],
    // molar volumes at 0 °C, CODATA 2022: 22.413 969 54 L at 101.325 kPa, 22.710 954 64 L at 100 kPa
    ['N2', '22.41396954 L, at 0 °C, at 1 atm', 1, 1e-8],
    ['N2', '22.71095464 L, at 0.00 °C, at 1 bar', 1, 1e-8],
    // ideal gas law by hand: 1.00 L at 101 325 Pa and 20 °C is 0.0416 mol
    ['N2', '1.00 L, at 20 °C, at 101325 Pa', 0.0416, 0.00005],
    ['N2', '1.00 L, at 68 °F, at 0 psig', 0.0416, 0.00005],
  ])('%s: %s', (formula, facts, amount, tolerance) => {
    const got = take(`substance it: ${formula}, state gas`, facts).amount;
    expect(Math.abs(Number(got) - amount)).toBeLessThan(tolerance);
  });

  it('the mass follows from the amount', () =>
    near(take('substance it: CH4, state gas', '1020 L, at 25 °C, at 745 Torr'), { mass: 655 }, 2));
  it.each([
    ['1.0 L', 'gas-conditions-missing'],
    ['1.0 L, at 25 °C', 'gas-conditions-missing'],
    ['1.0 L, at 1 atm', 'gas-conditions-missing'],
    ['1.0 L, at −274 °C, at 1 atm', 'unit-kind'],
    ['1.0 L, at 0 K, at 1 atm', 'unit-kind'],
  ])('%s: %s', (facts, missing) => expect(take('substance it: CH4, state gas', facts).amount).toBe(missing));
  it('by mass it is a substance like any other', () =>
    near(take('substance it: CH4, state gas', '16.043 g'), { amount: 1 }, 4));
  it('carries the figures of a temperature in kelvin', () => {
    const { amount } = chargeOf(
      valuesOf('substance it: CH4, state gas\ncharge it: 1020 L, at 5 °C, at 745 Torr'),
      'it',
    );
    expect(isHeld(amount) && amount.figures).toBe(3);
  });
});

describe('uncertainty and working', () => {
  it('15.0 mL of isopentyl alcohol: 0.13783 mol ± 0.00027, worked out by hand (GUM 5.1.2)', () => {
    const { amount } = chargeOf(
      valuesOf('substance isopentyl alcohol: C5H12O, density 0.810 g/mL\ncharge isopentyl alcohol: 15.0 mL'),
      'isopentyl alcohol',
    );
    expect(worth(amount)).toBeCloseTo(0.13783, 5);
    expect(uOf(amount)).toBeCloseTo(0.00027, 5);
    expect(isHeld(amount) && step(amount)).toMatch(/^12\.15 g ÷ 88\.15\d* g\/mol = 137\.8 mmol$/);
  });
  it('the mass is exact in decimals', () => {
    const { mass } = chargeOf(valuesOf('substance it: C5H12O, density 0.810 g/mL\ncharge it: 15.1 mL'), 'it');
    expect(digitsOf(mass)).toBe('12.231');
  });
  it('two charges by one density correlate, and their ratio does not depend on it', () => {
    const { charges } = valuesOf(
      'substance it: C5H12O, density 0.8 g/mL\nreaction R1: it -> C5H10 + H2O\ncharge it: 15.000 mL\ncharge it: 30.000 mL, solvent',
    );
    expect(uOf(charges[0]!.amount) / Number(worth(charges[0]!.amount))).toBeGreaterThan(0.03);
    expect(uOf(charges[1]!.equiv) / Number(worth(charges[1]!.equiv))).toBeLessThan(0.0001);
  });
});
