/** Each slip on an example made for it, with near misses. Numbers invented; weights CIAAW 2021. */
import { describe, expect, it } from 'vitest';
import { valuesOf } from './page';

/** What the last claim of a page is explained by. */
const slipOf = (text: string) => {
  const claim = valuesOf(text).claims.at(-1)!;
  return claim.verdict === 'no' || claim.verdict === undefined ? (claim.slip?.slip ?? 'none') : claim.verdict;
};
const saysOf = (text: string) => valuesOf(text).claims.at(-1)!.slip?.says;

/** 12.15 g, 137.83 mmol; M 88.150. */
const ALCOHOL = 'substance alcohol: C5H12O, density 0.810 g/mL\n';
const REACTION = `${ALCOHOL}substance ester: C7H14O2\nreaction R1: alcohol + C2H4O2 -> ester + H2O\n`;
/** 2 to 1: theory 50 mmol. */
const DIMER = 'substance acid: C2H4O2\nreaction R1: 2 acid -> C4H6O3 + H2O\ncharge acid: 100.0 mmol, limiting\n';

describe('the pen', () => {
  it.each([
    ['a factor of a thousand', `${ALCOHOL}charge alcohol: 15.0 mL (12.2 mg)`, 'factor-1000'],
    ['a factor of a thousand, the other way', `${ALCOHOL}charge alcohol: 15.0 mL (138 mol)`, 'factor-1000'],
    ['a factor of a million is none', `${ALCOHOL}charge alcohol: 15.0 mL (12.2 µg)`, 'none'],
    ['two digits swapped', 'weigh it: tare 41.207 g, gross 54.881 g (net 13.647 g)', 'digits-swapped'],
    ['swapped over the point', 'weigh it: tare 41.207 g, gross 54.881 g (net 16.374 g)', 'digits-swapped'],
    [
      'swapped digits that do not stand side by side are none',
      'weigh it: tare 41.207 g, gross 54.881 g (net 17.634 g)',
      'none',
    ],
    ['a digit dropped', 'weigh it: tare 41.207 g, gross 54.881 g (net 1.674 g)', 'digit-dropped'],
    ['a decimal dropped', 'weigh it: tare 41.207 g, gross 54.881 g (net 13.74 g)', 'digit-dropped'],
    ['a digit typed twice', 'weigh it: tare 41.207 g, gross 54.881 g (net 133.674 g)', 'digit-doubled'],
    ['a decimal typed twice', 'weigh it: tare 41.207 g, gross 54.881 g (net 13.6774 g)', 'digit-doubled'],
    ['another digit typed is none', 'weigh it: tare 41.207 g, gross 54.881 g (net 13.6714 g)', 'none'],
  ])('%s', (_, text, slip) => expect(slipOf(text)).toBe(slip));
});

describe('the balance', () => {
  it.each([
    ['tare and gross swapped', 'weigh it: tare 41.207 g, gross 54.881 g (net -13.674 g)', 'tare-gross-swapped'],
    ['the gross as the net', 'weigh it: tare 41.207 g, gross 54.881 g (net 54.881 g)', 'gross-as-net'],
    [
      'the gross as the net, on the way to an amount',
      `${ALCOHOL}product alcohol: tare 41.207 g, gross 54.881 g (623 mmol)`,
      'gross-as-net',
    ],
    [
      'the gross as the net, on the way to a yield',
      `${REACTION}charge alcohol: 1.000 mol\nproduct ester: tare 41.207 g, gross 54.881 g (42.2 %)`,
      'gross-as-net',
    ],
  ])('%s', (_, text, slip) => expect(slipOf(text)).toBe(slip));
});

describe('the way to an amount', () => {
  it.each([
    ['divided by the density', `${ALCOHOL}charge alcohol: 15.0 mL (18.5 g)`, 'density-inverted'],
    ['mL taken for grams', `${ALCOHOL}charge alcohol: 15.0 mL (15.0 g)`, 'density-missing-used-as-mass'],
    [
      'mL taken for grams, in the amount',
      `${ALCOHOL}charge alcohol: 15.0 mL (170 mmol)`,
      'density-missing-used-as-mass',
    ],
    ['purity left out', 'substance it: C2H4O2, purity 90.0 %\ncharge it: 10.00 g (166.5 mmol)', 'purity-ignored'],
    [
      'purity of a product left out',
      `${REACTION}charge alcohol: 100.0 mmol\nproduct ester: 10.00 g (76.81 mmol), purity 90.0 %`,
      'purity-ignored',
    ],
    [
      'what it contains left out',
      `${REACTION}charge alcohol: 100.0 mmol\nproduct ester: 10.00 g (76.8 %), contains ethyl acetate 8.0 wt%`,
      'purity-ignored',
    ],
    [
      'the strength of a solution left out',
      'solution it: 37.0 % w/w HCl in water, density 1.19 g/mL\ncharge it: 10.00 g (274.3 mmol)',
      'purity-ignored',
    ],
    ['water of a hydrate left out', 'charge CuSO4·5H2O: 10.00 g (62.66 mmol)', 'hydrate-ignored'],
    [
      'water of a hydrate left out where the dry salt stands on the page, too',
      'substance anhydrous salt: CuSO4\ncharge CuSO4·5H2O: 10.00 g (62.66 mmol)',
      'hydrate-ignored',
    ],
    ['the molar mass of another substance', `${REACTION}charge alcohol: 12.15 g (93.3 mmol)`, 'other-molar-mass'],
    [
      'an isomer has no other molar mass',
      `${ALCOHOL}substance other: C5H12O\ncharge alcohol: 12.15 g (93.3 mmol)`,
      'none',
    ],
  ])('%s', (_, text, slip) => expect(slipOf(text)).toBe(slip));

  it('names the substance whose molar mass it was', () =>
    expect(saysOf(`${REACTION}charge alcohol: 12.15 g (93.3 mmol)`)).toBe('the molar mass of ester used'));
  it('names both where two have it', () =>
    expect(
      saysOf(`substance ester: C7H14O2\nsubstance acid: C7H14O2\n${ALCOHOL}charge alcohol: 12.15 g (93.3 mmol)`),
    ).toBe('the molar mass of ester used, or the molar mass of acid used'));
  it('shows how the number comes about', () =>
    expect(valuesOf(`${ALCOHOL}charge alcohol: 15.0 mL (18.5 g)`).claims[0]!.slip?.working).toBe(
      '15.0 mL ÷ 0.810 g/mL',
    ));
});

describe('equivalents', () => {
  const two = `${REACTION}charge alcohol: 100.0 mmol, limiting\ncharge C2H4O2: 250.0 mmol`;
  it.each([
    ['right', `${two} (2.50 equiv)`, 'exact'],
    [
      'of another reactant',
      `${REACTION}charge C2H4O2: 250.0 mmol\ncharge alcohol: 100.0 mmol (0.400 equiv), limiting`,
      'other-limiting',
    ],
    [
      'the molar mass of another',
      `${REACTION}charge alcohol: 100.0 mmol, limiting\ncharge C2H4O2: 15.01 g (1.70 equiv)`,
      'other-molar-mass',
    ],
  ])('%s', (_, text, slip) => {
    const claim = valuesOf(text).claims.at(-1)!;
    expect(claim.verdict === 'no' ? (claim.slip?.slip ?? 'none') : claim.verdict).toBe(slip);
  });
});

describe('yields', () => {
  it.each([
    ['the coefficients left out', `${DIMER}product C4H6O3: 40.0 mmol (40.0 %)`, 'coefficient-ignored'],
    [
      'another reactant taken as limiting',
      `${REACTION}charge alcohol: 100.0 mmol, limiting\ncharge C2H4O2: 250.0 mmol\nproduct ester: 80.0 mmol (32.0 %)`,
      'other-limiting',
    ],
    ['mass over mass', `${REACTION}charge alcohol: 8.815 g, limiting\nproduct ester: 8.00 g (90.8 %)`, 'yield-by-mass'],
    ['the coefficient, in the theory', `${DIMER}product C4H6O3: 4.08 g (theoretical 10.21 g)`, 'coefficient-ignored'],
    [
      'another reactant, in the theory',
      `${REACTION}charge alcohol: 100.0 mmol, limiting\ncharge C2H4O2: 250.0 mmol\nproduct ester: 10.0 g (theoretical 32.5 g)`,
      'other-limiting',
    ],
    [
      'purity of the limiting reactant left out',
      'substance it: C5H12O, purity 80.0 %\nreaction R1: it + C2H4O2 -> C7H14O2 + H2O\ncharge it: 8.815 g\nproduct C7H14O2: 60.0 mmol (60.0 %)',
      'purity-ignored',
    ],
    [
      'water of the limiting hydrate left out',
      'reaction R1: CuSO4·5H2O + Zn -> Cu + ZnSO4 + 5 H2O\ncharge CuSO4·5H2O: 24.97 g\ncharge Zn: excess\nproduct Cu: 75.0 mmol (47.9 %)',
      'hydrate-ignored',
    ],
    [
      'the density of the limiting reactant inverted',
      `${REACTION}charge alcohol: 15.0 mL\nproduct ester: 100.0 mmol (47.6 %)`,
      'density-inverted',
    ],
  ])('%s', (_, text, slip) => expect(slipOf(text)).toBe(slip));
});

it('the working of a wrong theory shows the amount that was used, not the one that was typed', () => {
  // 2 acid + alcohol; 100 mmol alcohol would give 100 mmol, 100 mmol acid gives 50
  const text =
    'reaction R1: 2 C2H4O2 + C5H12O -> C9H16O3 + H2O\ncharge C2H4O2: 120.0 mmol\ncharge C5H12O: 50.0 mmol, limiting\n' +
    'product C9H16O3: 40.0 mmol (66.7 %)';
  expect(valuesOf(text).claims.at(-1)!.slip).toMatchObject({
    slip: 'other-limiting',
    working: '40.0 mmol ÷ 60.00 mmol',
  });
});

describe('nothing is named', () => {
  it.each([
    ['where nothing explains it', `${ALCOHOL}charge alcohol: 15.0 mL (14.1 g)`],
    [
      'where two slips explain it',
      'reaction R1: 2 C2H4O2 + C5H12O -> C9H16O3 + H2O\ncharge C2H4O2: 2.0 mol, limiting\ncharge C5H12O: 2.0 mol\nproduct C9H16O3: 0.50 mol (25 %)',
    ],
    ['where the number is only badly rounded', `${ALCOHOL}charge alcohol: 15.0 mL (12.16 g)`],
  ])('%s', (_, text) => expect(valuesOf(text).claims.at(-1)!.slip).toBeUndefined());

  it('with two figures the pen does not decide over a wrong way of working', () => {
    // 2.0 g · 1.2 = 24 mL·g/mL; 42 is 24 swapped, and nothing else
    const text = 'substance it: C2H4O2, density 1.2 g/mL\ncharge it: 20 mL (42 g)';
    expect(slipOf(text)).toBe('digits-swapped');
  });
  it('with three it does', () => {
    // right 20.4 g; 24.0 is two digits swapped, and 20.4 ÷ 0.85 as well
    const text = 'substance it: C2H4O2, density 0.850 g/mL\ncharge it: 24.0 mL (24.0 g)';
    expect(slipOf(text)).toBe('digits-swapped');
  });
});
