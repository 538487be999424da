/** What to take for a planned solution: m = c · V · M ÷ w, V₁ = c₂ · V₂ ÷ c₁. Weights CIAAW 2021; numbers invented. */
import { describe, expect, it } from 'vitest';
import { valuesOf, worth } from './page';

const plan = (text: string) => {
  const value = valuesOf(text).plans[0]!;
  return { mass: worth(value.mass), volume: worth(value.volume), take: value.makingUp?.source.name };
};
const HEAD = `substance pellets: NaOH, purity 98 %
substance blue vitriol: CuSO4·5H2O, purity 99 %
substance white vitriol: CuSO4
`;

describe('what to take', () => {
  it('of a solute as it is, its impurity counted', () => {
    const { mass, take } = plan(`${HEAD}solution it: 0.100 mol/L pellets in water\nplan it: 250.0 mL`);
    expect(mass).toBeCloseTo((0.025 * 39.99677) / 0.98, 6);
    expect(take).toBe('pellets');
  });

  it('of a hydrate for the dry salt, and of nothing that gives another amount', () => {
    const page = (from: string) =>
      `${HEAD}solution it: 0.0500 M white vitriol in water\nplan it: 500.0 mL, from ${from}`;
    expect(plan(page('blue vitriol')).mass).toBeCloseTo((0.025 * 249.677) / 0.99, 2);
    expect(plan(page('pellets')).mass).toBe('formula-missing');
  });

  it('of a stock, in volume and mass', () => {
    const found = plan(`solution stock: 37 % w/w HCl in water, density 1.184 g/mL
solution it: 0.150 M HCl in water
plan it: 1.000 L, from stock`);
    const strength = (0.37 * 1184) / 36.458;
    expect(found.volume).toBeCloseTo(150 / strength, 3);
    expect(found.mass).toBeCloseTo((150 / strength) * 1.184, 3);
  });

  it('of a recipe, as many times as it is made', () => {
    expect(
      plan('solution it: 12.0 g sodium chloride in water, made up to 200.0 mL\nplan it: 1.000 L').mass,
    ).toBeCloseTo(60, 9);
  });

  it('by mass and by volume in hundred', () => {
    expect(plan('solution it: 10.0 % w/w sodium chloride in water\nplan it: 250.0 g').mass).toBeCloseTo(25, 9);
    expect(plan('solution it: 70.0 % v/v ethanol in water\nplan it: 500 mL').volume).toBeCloseTo(350, 9);
  });

  it('is asked of no bottle that is bought, and of no saturated solution', () => {
    expect(plan('plan conc. hydrochloric acid: 25 mL').take).toBeUndefined();
    expect(plan('solution it: saturated sodium chloride in water\nplan it: 25 mL').take).toBeUndefined();
  });
});
