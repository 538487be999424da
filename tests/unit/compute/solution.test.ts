/** How strong a solution is. Weights CIAAW 2021; other numbers invented unless a source stands beside them. */
import { describe, expect, it } from 'vitest';
import { chargeOf, uOf, valuesOf, worth } from './page';

const solutionOf = (text: string, name = 'it') => {
  const found = valuesOf(text).solutions.find((s) => s.solution.name === name);
  if (!found) throw new Error(`No solution ${name}`);
  return {
    c: worth(found.concentration),
    w: worth(found.massFraction),
    beta: worth(found.massConcentration),
    solute: worth(found.soluteMass),
  };
};
const near = (
  got: ReturnType<typeof solutionOf>,
  want: Partial<ReturnType<typeof solutionOf>>,
  tolerance = 1e-9,
): void => {
  for (const [key, value] of Object.entries(want)) {
    const found = got[key as keyof typeof got];
    if (typeof value === 'string' || typeof found === 'string') expect([key, found]).toEqual([key, value]);
    else expect(Math.abs(found / value - 1), `${key}: ${found}, not ${value}`).toBeLessThan(tolerance);
  }
};

/** NaOH: Na 22.98976928, O 15.999, H 1.008. */
const NAOH = 22.98976928 + 15.999 + 1.008;
const HCL = 1.008 + 35.45;
const H2SO4 = 2 * 1.008 + 32.06 + 4 * 15.999;
const base = 'substance sodium hydroxide: NaOH';

describe('a written strength', () => {
  it.each([
    ['2.0 M', { c: 2, beta: (2 * NAOH) / 1000 }],
    ['2.0 mol/L', { c: 2 }],
    ['250 mM', { c: 0.25 }],
    ['2.0 N', { c: 2 }],
    ['80 g/L', { c: 80 / NAOH, beta: 0.08 }],
    ['8.0 % w/v', { c: 80 / NAOH, beta: 0.08 }],
    ['8.0 g/100 mL', { c: 80 / NAOH, beta: 0.08 }],
    ['80 mg/mL', { c: 80 / NAOH, beta: 0.08 }],
  ] as const)('%s of a base', (strength, want) =>
    near(solutionOf(`${base}\nsolution it: ${strength} sodium hydroxide in water`), want),
  );

  it.each([
    ['10 % w/w', { w: 0.1, beta: 0.111, c: 111 / NAOH }],
    ['10 wt%', { w: 0.1, c: 111 / NAOH }],
    ['10 %', { w: 0.1, c: 111 / NAOH }],
    ['2.0 M', { c: 2, w: (2 * NAOH) / 1110 }],
    ['111 g/L', { w: 0.1 }],
    // c = b ρ ÷ (1 + b M)
    ['2.5 mol/kg', { c: (2.5 * 1.11) / (1 + (2.5 * NAOH) / 1000) }],
  ] as const)('%s with a density of 1.11 g/mL', (strength, want) =>
    near(solutionOf(`${base}\nsolution it: ${strength} sodium hydroxide in water, density 1.11 g/mL`), want),
  );

  it('without a density a share gives no molarity, and a molarity no share', () => {
    near(solutionOf(`${base}\nsolution it: 12 % w/w sodium hydroxide in water`), { w: 0.12, c: 'density-missing' });
    near(solutionOf(`${base}\nsolution it: 2.0 M sodium hydroxide in water`), { c: 2, w: 'density-missing' });
  });

  it('a normality of an acid with two protons', () =>
    near(solutionOf('solution it: 1.0 N H2SO4 in water'), { c: 0.5, beta: (0.5 * H2SO4) / 1000 }));
  it('a normality of an oxidant could mean anything', () =>
    near(solutionOf('solution it: 0.1 N KMnO4 in water'), { c: 'strength-missing' }));
  it('by volume, with the density of the pure liquid', () =>
    near(solutionOf('substance ethanol: C2H6O, density 0.789 g/mL\nsolution it: 70 % v/v ethanol in water'), {
      beta: 0.7 * 0.789,
      c: (0.7 * 789) / (2 * 12.011 + 6 * 1.008 + 15.999),
    }));
  it('a solute that nobody knows, a saturated solution, no strength at all', () => {
    expect(solutionOf('solution it: 2.0 M moon dust in water')).toMatchObject({ beta: 'substance-unknown' });
    near(solutionOf(`${base}\nsolution it: saturated sodium hydroxide in water`), { c: 'strength-missing' });
    near(solutionOf('solution it: for the rinse'), { c: 'strength-missing' });
  });

  // OpenStax, Chemistry 2e, section 3.3 and 3.4, exercises as in the cases: concentrated hydrochloric acid,
  // 37.0 % by mass with a density of 1.19 g/mL, is 12.1 M.
  it('the bottle of concentrated hydrochloric acid', () =>
    near(
      solutionOf(
        'substance hydrogen chloride: HCl\nsolution it: 37.0 % w/w hydrogen chloride in water, density 1.19 g/mL',
      ),
      {
        c: (370 * 1.19) / HCL,
      },
    ));
  it('is 12.1 M', () => expect((370 * 1.19) / HCL).toBeCloseTo(12.1, 1));
});

describe('made up', () => {
  it('mass to volume: n = m ÷ M, c = n ÷ V', () =>
    near(solutionOf(`${base}\nsolution it: 8.00 g sodium hydroxide in water, made up to 100 mL`), {
      c: 80 / NAOH,
      beta: 0.08,
      solute: 8,
    }));
  // OpenStax, Chemistry 2e, 3.3, Example 3: 25.2 g acetic acid in 0.500 L is 0.839 M.
  it('vinegar: 0.839 M', () =>
    near(
      solutionOf('substance acetic acid: C2H4O2\nsolution it: 25.2 g acetic acid in water, made up to 0.500 L'),
      { c: 0.839 },
      1e-3,
    ));
  it('amount to volume', () =>
    near(solutionOf(`${base}\nsolution it: 0.200 mol sodium hydroxide in water, made up to 100 mL`), {
      c: 2,
      solute: 0.2 * NAOH,
    }));
  it('volume of a liquid to volume', () =>
    near(
      solutionOf(
        'substance ethanol: C2H6O, density 0.789 g/mL\nsolution it: 10.0 mL ethanol in water, made up to 100 mL',
      ),
      { beta: 0.0789, solute: 7.89 },
    ));
  it('mass to mass', () =>
    near(solutionOf(`${base}\nsolution it: 8.00 g sodium hydroxide in water, made up to 100 g`), {
      w: 0.08,
      c: 'density-missing',
    }));
  it('mass to mass, with a density', () =>
    near(solutionOf(`${base}\nsolution it: 10.0 g sodium hydroxide in water, made up to 100 g, density 1.11 g/mL`), {
      w: 0.1,
      c: 111 / NAOH,
    }));
  it('of an impure solid', () =>
    near(
      solutionOf(
        'substance sodium hydroxide: NaOH, purity 97.0 %\nsolution it: 8.00 g sodium hydroxide in water, made up to 100 mL',
      ),
      {
        c: (80 * 0.97) / NAOH,
        solute: 8,
      },
    ));
  it('of a hydrate', () =>
    near(solutionOf('solution it: 2.497 g CuSO4·5H2O in water, made up to 100 mL'), { c: 0.1 }, 1e-3));
  it('without a final volume', () =>
    near(solutionOf(`${base}\nsolution it: 8.00 g sodium hydroxide in water`), { c: 'strength-missing', solute: 8 }));
});

describe('from another solution', () => {
  const stock = `${base}\nsolution stock: 5.00 M sodium hydroxide in water`;
  // OpenStax, Chemistry 2e, 3.3, Example 6: 0.850 L of 5.00 M diluted to 1.80 L is 2.36 M.
  it('volume to volume: c₁ V₁ ÷ V₂', () =>
    near(solutionOf(`${stock}\nsolution it: 0.850 L stock in water, made up to 1.80 L`), { c: 2.36 }, 1e-3));
  it('declared before its stock', () =>
    near(solutionOf(`solution it: 10.0 mL stock in water, made up to 100 mL\n${stock}`), { c: 0.5 }));
  it('over two steps', () =>
    near(
      solutionOf(
        `${stock}\nsolution mid: 10.0 mL stock in water, made up to 100 mL\nsolution it: 10.0 mL mid in water, made up to 100 mL`,
      ),
      { c: 0.05 },
    ));
  it('mass to mass and mass to volume', () => {
    const bottle = 'substance hydrogen chloride: HCl\nsolution stock: 37.0 % w/w hydrogen chloride in water';
    near(solutionOf(`${bottle}\nsolution it: 10.0 g stock in water, made up to 100 g`), { w: 0.037 });
    near(solutionOf(`${bottle}\nsolution it: 9.853 g stock in water, made up to 1.000 L`), { c: (9.853 * 0.37) / HCL });
  });
  it.each([
    ['of itself', 'solution it: 10.0 mL it in water, made up to 100 mL'],
    [
      'of each other',
      'solution it: 10.0 mL other in water, made up to 100 mL\nsolution other: 10.0 mL it in water, made up to 50 mL',
    ],
  ])('%s it has no strength, and nothing hangs', (_, text) => expect(solutionOf(text).c).toMatch(/^[a-z-]+$/));
});

describe('charged', () => {
  const take = (definition: string, facts: string, name = 'it') => {
    const { mass, volume, amount, substance } = chargeOf(valuesOf(`${definition}\ncharge ${name}: ${facts}`), name);
    return { mass: worth(mass), volume: worth(volume), amount: worth(amount), substance: substance?.substance.name };
  };
  it('by volume: it counts for what it carries', () =>
    // OpenStax, Chemistry 2e, 4.5, Example 1: 35.23 mL of 0.250 M sodium hydroxide is 8.81e-3 mol.
    expect(take(`${base}\nsolution it: 0.250 M sodium hydroxide in water`, '35.23 mL')).toEqual({
      mass: 'density-missing',
      volume: 35.23,
      amount: expect.closeTo(8.81e-3, 5),
      substance: 'sodium hydroxide',
    }));
  it('by mass of a share', () =>
    expect(take(`${base}\nsolution it: 10 % w/w sodium hydroxide in water`, '40.0 g').amount).toBeCloseTo(
      4 / NAOH,
      12,
    ));
  it('by mass of a molarity, over its density', () =>
    expect(
      take(`${base}\nsolution it: 2.0 M sodium hydroxide in water, density 1.08 g/mL`, '108 g').amount,
    ).toBeCloseTo(0.2, 12));
  it('by amount: the volume that holds it', () => {
    const got = take(`${base}\nsolution it: 2.0 M sodium hydroxide in water, density 1.08 g/mL`, '50 mmol');
    expect([got.volume, got.mass]).toEqual([25, 27]);
  });
  it('with its strength in the line', () =>
    expect(take('substance n-butyllithium: C4H9Li', '4.00 mL of 2.5 M in hexanes', 'n-butyllithium')).toMatchObject({
      amount: 0.01,
      volume: 4,
      substance: 'n-butyllithium',
    }));
  it('with its strength in the name', () =>
    expect(take('substance n-butyllithium: C4H9Li', '4.00 mL', 'n-butyllithium (2.5 M in hexanes)')).toMatchObject({
      amount: 0.01,
      substance: 'n-butyllithium',
    }));
  it('several strengths of one substance on one page', () => {
    const values = valuesOf('charge NaOH: 10.0 mL of 2.0 M in water\ncharge NaOH: 10.0 mL of 0.5 M in water');
    expect(values.charges.map((c) => worth(c.amount))).toEqual([0.02, 0.005]);
  });
  it('the uncertainty of the strength counts', () => {
    const { amount } = chargeOf(
      valuesOf(`${base}\nsolution it: 0.100 ± 0.001 M sodium hydroxide in water\ncharge it: 100.00 ± 0.10 mL`),
      'it',
    );
    expect(uOf(amount) / 0.01).toBeCloseTo(Math.hypot(0.01, 0.001), 9);
  });
});
