/** Is a purification worth it. Published problems stand in `tests/cases/plans.md`; numbers here are invented. */
import { describe, expect, it } from 'vitest';
import { says } from '../../../server/compute/considered';
import { uncertainty } from '../../../server/quantity/held';
import { uOf, valuesOf, worth } from './page';

const HEAD = `substance oil: C10H16, density 0.800 g/mL
substance acid: C7H6O2, state solid
reaction R1: toluene + O2 -> acid + ...
charge toluene: 0.1000 mol
`;

function considered(text: string, index = 0) {
  const value = valuesOf(`${HEAD}${text}`).considerations[index]!;
  return {
    start: worth(value.start),
    left: worth(value.left),
    recovery: worth(value.recovery),
    yield: worth(value.yield),
    u: uOf(value.left),
    solvent: value.solvent,
    turns: Object.fromEntries(value.turns.map(({ what, at }) => [what, worth(at)])),
    decided: value.consideration.decided?.text.text,
    says: says(value),
  };
}

describe('distillation', () => {
  it('hold-up by its density stays behind, then the loss of what comes over', () => {
    const found = considered('consider distillation of oil: 10.00 g, hold-up 2.5 mL, loss 5 %');
    expect(found.left).toBeCloseTo((10 - 2) * 0.95, 9);
    expect(found.recovery).toBeCloseTo(0.76, 9);
    expect(found.says).toContain('2.5 mL × 0.800 g/mL = 2.0 g stays in the apparatus');
    expect(found.says).toContain('For 80 % it would take');
  });

  it('what would change it: the hold-up and the scale at 80 %', () => {
    const { turns } = considered('consider distillation of oil: 10.00 g, hold-up 2.5 mL, loss 5 %');
    for (const [hold, scale] of [
      [turns['hold-up'], 10],
      [2.5, turns.scale],
    ]) {
      const again = considered(`consider distillation of oil: ${scale} g, hold-up ${hold} mL, loss 5 %`);
      expect(again.recovery).toBeCloseTo(0.8, 9);
    }
  });

  it('the uncertainty of the hold-up goes with it', () => {
    const found = considered('consider distillation of oil: 10.00 ± 0.00 g, hold-up 2.5 ± 0.5 mL');
    expect(found.u).toBeCloseTo(0.4, 2);
    expect(found.says).toMatch(/8\.0 ± 0\.4 g/);
  });

  it('never less than nothing', () => {
    const found = considered('consider distillation of oil: 1.00 g, hold-up 2.5 mL');
    expect(found.left).toBe(0);
    expect(found.says).toContain('nothing would be left');
  });

  it('a density that nobody gave is named, not assumed', () =>
    expect(considered('consider distillation of acid: 10 g, hold-up 1 mL')).toMatchObject({
      left: 'density-missing',
      says: expect.stringContaining('needs a density of acid'),
    }));

  it('a volume to start with', () =>
    expect(considered('consider distillation of oil: 20.0 mL, hold-up 2 mL').recovery).toBeCloseTo(0.9, 9));
});

describe('recrystallisation', () => {
  const S = 'solubility 40 g/100 mL at 78 °C, 1.5 g/100 mL at 0 °C';

  it('the least solvent, what stays in it, what is left; the same on every scale', () => {
    for (const grams of [1, 10, 250]) {
      const found = considered(`consider recrystallisation of acid: ${grams}.00 g, from ethanol, ${S}, loss 5 %`);
      expect(worth(found.solvent?.volume)).toBeCloseTo(grams / 0.4, 9);
      expect(found.recovery).toBeCloseTo((1 - 1.5 / 40) * 0.95, 9);
      expect(found.says).toContain('minimum');
    }
  });

  it('its mass by the density of the solvent; a solubility by mass of solvent', () => {
    const found = considered(
      'consider recrystallisation of acid: 5.00 g, from water, solubility 50 g/L at 100 °C, 3 g/L at 20 °C',
    );
    expect(worth(found.solvent?.mass)).toBeCloseTo(99.82, 1);
    const byMass = considered(
      'consider recrystallisation of acid: 5.00 g, from water, solubility 5.0 g/100 g at 100 °C, 0.3 g/100 g at 20 °C',
    );
    expect(worth(byMass.solvent?.mass)).toBeCloseTo(100, 9);
    expect(byMass.recovery).toBeCloseTo(0.94, 9);
  });

  it('more solvent keeps more; too little is said', () => {
    const much = considered(`consider recrystallisation of acid: 5.00 g, from 100 mL ethanol, ${S}`);
    expect(much.left).toBeCloseTo(3.5, 9);
    expect(much.turns.solvent).toBeCloseTo(1 / 0.015, 6);
    expect(considered(`consider recrystallisation of acid: 5.00 g, from 5 mL ethanol, ${S}`).says).toContain(
      'It takes 12.5 mL of ethanol to dissolve all of it hot',
    );
  });

  it('hot and cold are told by their temperatures, whatever comes first', () =>
    expect(
      considered('consider recrystallisation of acid: 5.00 g, from water, solubility 1 g/L at 80 °C, 20 g/L at 5 °C')
        .left,
    ).toBe(0));

  it('written in one breath', () => {
    const text =
      'consider recrystallisation of acid: 5.00 g in ethanol, solubility 40 g/100 mL at 78 °C and 1.5 g/100 mL at 0 °C';
    expect(considered(text)).toMatchObject({ start: 5, left: expect.closeTo(4.8125, 9) });
  });

  it('without a solubility or a loss there is nothing to count', () =>
    expect(considered('consider recrystallisation of acid: 5.00 g, from ethanol').left).toBe('depends'));
});

describe('other steps', () => {
  it('chromatography: mixed fractions as a mass or a share', () => {
    expect(considered('consider chromatography of acid: 5.00 g, mixed fractions 0.50 g, loss 10 %').left).toBeCloseTo(
      4.05,
      9,
    );
    expect(considered('consider column of acid: 5.00 g, mixed fractions 10 %').left).toBeCloseTo(4.5, 9);
  });

  it('sublimation: residue and loss', () =>
    expect(considered('consider sublimation of acid: 5.00 g, residue 0.50 g, loss 10 %').left).toBeCloseTo(4.05, 9));

  it('washing: what the washings dissolve, all portions', () =>
    expect(
      considered('consider washing of acid: 5.00 g, 3 × 20 mL cold water, solubility 5 g/L at 0 °C').left,
    ).toBeCloseTo(4.7, 9));

  it('a step nobody can work out still counts its loss', () =>
    expect(considered('consider zone melting of acid: 5.00 g, loss 10 %').left).toBeCloseTo(4.5, 9));
});

describe('what there is', () => {
  const LOSS = 'consider sublimation of acid: loss 50 %';

  it('the last stage above the line, not below it', () => {
    const text = `product acid: 10.00 g, crude\nproduct acid: 8.00 g, washed\n${LOSS}\nproduct acid: 3.00 g, sublimed`;
    expect(considered(text)).toMatchObject({ start: 8, left: 4 });
  });

  it('crops add up, and the yield goes on from theirs', () => {
    const found = considered(`product acid: 4.00 g, first crop\nproduct acid: 2.00 g, second crop\n${LOSS}`);
    expect(found.start).toBe(6);
    expect(found.yield).toBeCloseTo((6 / 12.2123) * 0.5, 4);
  });

  it('a charge, else the plan, else it is asked for', () => {
    expect(considered('charge oil: 12.00 g, additive\nconsider distillation of oil: hold-up 1 mL').start).toBe(12);
    expect(considered(`plan acid: 5.00 g at 80 %\n${LOSS}`).start).toBe(5);
    expect(considered(LOSS)).toMatchObject({
      start: 'amount-missing',
      says: expect.stringContaining('not computable'),
    });
  });

  it('of a written quantity the yield is that over the theory', () =>
    expect(considered('consider sublimation of acid: 10.00 g, loss 50 %').yield).toBeCloseTo(5 / 12.2123, 4));
});

it('one decision holds for all that was considered since the one before', () => {
  const text = `consider sublimation of acid: 5 g, loss 1 %
consider recrystallisation of acid: 5 g, loss 2 %
decided: the second
consider distillation of acid: 5 g, loss 3 %`;
  expect([0, 1, 2].map((i) => considered(text, i).decided)).toEqual(['the second', 'the second', undefined]);
});

it('says nothing of danger and gives no order', () => {
  const value = valuesOf(`${HEAD}consider distillation of oil: 10 g, hold-up 1 mL`).considerations[0]!;
  expect(says(value)).not.toMatch(/\bsafe\b|\bmust\b|\bshould\b|NaN|undefined/);
  expect(uncertainty(value.left as never)).toBeGreaterThan(0);
});
