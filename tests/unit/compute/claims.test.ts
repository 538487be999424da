/** What a claim is about, what it should be, and whether it agrees. Invented numbers; weights CIAAW 2021. */
import { describe, expect, it } from 'vitest';
import { isHeld } from '../../../server/quantity/held';
import { steps } from '../../../server/quantity/steps';
import { uOf, valuesOf, worth } from './page';

const claims = (text: string) =>
  valuesOf(text).claims.map(({ claim, property, value, verdict, slip }) => ({
    text: `${claim.label ? `${claim.label} ` : ''}${claim.quantity.number.text} ${claim.quantity.unit?.symbol ?? ''}`.trim(),
    property,
    value: worth(value),
    verdict,
    slip: slip?.slip,
  }));
const properties = (text: string) => claims(text).map((c) => c.property);
const verdicts = (text: string) => claims(text).map((c) => c.verdict);

/** M 88.150; 12.15 g, 137.83 mmol. */
const ALCOHOL = 'substance alcohol: C5H12O, density 0.810 g/mL\n';
const PAGE = `${ALCOHOL}reaction R1: alcohol + C2H4O2 -> C7H14O2 + H2O\n`;

describe('what a claim is about', () => {
  it('by its unit', () =>
    expect(properties(`${PAGE}charge alcohol: 15.0 mL (12.2 g, 138 mmol, 1.0 equiv, 100 mol%)`)).toEqual([
      'mass',
      'amount',
      'equiv',
      'mol%',
    ]));
  it.each([
    ['product C7H14O2: 13.7 g (76 %)', 'yield'],
    ['recovered alcohol: 1.0 g (8 %)', 'recovery'],
    ['weigh it: tare 20.0 g, gross 30.0 g at 09:00, gross 29.0 g at 10:00 (10 %)', 'loss'],
    ['charge alcohol: 15.0 mL (8 %)', 'other'],
    ['product C7H14O2: gross 54.881 g, tare 41.207 g (13.674 g)', 'net'],
    ['product C7H14O2: gross 54.881 g, tare 41.207 g (net 13.674 g)', 'net'],
    ['product C7H14O2: 105 mmol (13.7 g)', 'mass'],
    ['product C7H14O2: 13.7 g (theoretical 17.9 g)', 'theory'],
    ['product C7H14O2: 13.7 g (brsm 80 %)', 'brsm'],
    ['product C7H14O2: 13.7 g (conversion 80 %)', 'conversion'],
    ['product C7H14O2: 13.7 g (lit. 80 %)', 'literature'],
    ['product C7H14O2: 13.7 g (ee 95 %)', 'other'],
    ['solution it: 8.00 g NaOH in water, made up to 100 mL (2.00 mol/L)', 'concentration'],
    ['charge alcohol: 15.0 mL (0.810 g/mL)', 'density'],
    ['charge alcohol: 15.0 mL (88.15 g/mol)', 'molar mass'],
    ['charge alcohol: 12.15 g (15.0 mL)', 'volume'],
  ])('%s: %s', (line, property) =>
    expect(properties(`${PAGE}charge alcohol: 100 mmol\n${line}`).at(-1)).toBe(property),
  );
});

describe('what it should be', () => {
  it('a whole line', () =>
    expect(
      verdicts(
        `${PAGE}charge alcohol: 15.0 mL (12.2 g, 138 mmol, 1.0 equiv), limiting\ncharge C2H4O2: 20.9 g (348 mmol, 2.5 equiv)`,
      ),
    ).toEqual(['rounded', 'rounded', 'exact', 'rounded', 'rounded']));
  it('a product', () =>
    expect(
      verdicts(
        `${PAGE}charge alcohol: 15.0 mL\ncharge C2H4O2: excess\nproduct C7H14O2: gross 54.881 g, tare 41.207 g (net 13.674 g, 105.0 mmol, 76.2 %)`,
      ),
    ).toEqual(['exact', 'rounded', 'rounded']));
  it('theory by mass and by amount', () =>
    expect(
      claims(`${PAGE}charge alcohol: 100 mmol\nproduct C7H14O2: 10.0 g (theoretical 13.0 g, theoretical 100 mmol)`).map(
        (c) => [c.property, c.verdict],
      ),
    ).toEqual([
      ['theory', 'rounded'],
      ['theory', 'exact'],
    ]));
  it('loss on drying: first gross to last, over the first net', () =>
    expect(
      claims(
        'weigh it: tare 20.000 g, gross 30.000 g at 09:00, gross 29.500 g at 10:00, gross 29.000 g at 11:00 (10.0 %)',
      )[0],
    ).toMatchObject({ value: 0.1, verdict: 'exact' }));
  it('the working of a loss names both readings, and its uncertainty is theirs', () => {
    const [claim] = valuesOf(
      'weigh it: tare 20.000 g, gross 30.000 g at 09:00, gross 29.000 g at 11:00 (10.0 %)',
    ).claims;
    expect(isHeld(claim!.value) && steps(claim!.value)[0]).toBe('30.000 g − 29.000 g = 1.000 g');
    expect(uOf(claim!.value)).toBeCloseTo((Math.SQRT2 * 0.001) / Math.sqrt(12) / 10, 5);
  });
  it('recovery of a pure stage from the crude one', () =>
    expect(
      claims(
        `${PAGE}charge alcohol: 100 mmol\nproduct C7H14O2: 10.0 g, crude\nproduct C7H14O2: 9.0 g (recovery 90 %), distilled`,
      )[0],
    ).toMatchObject({ property: 'recovery', verdict: 'exact' }));
  it('yield of one crop, or of all of them', () => {
    const text = `${PAGE}charge alcohol: 100 mmol\nproduct C7H14O2: 50 mmol, first crop\nproduct C7H14O2: 20 mmol`;
    expect(claims(`${text} (20 %), second crop`)[0]).toMatchObject({ value: 0.2, verdict: 'exact' });
    expect(claims(`${text} (70 %), second crop`)[0]).toMatchObject({ value: 0.7, verdict: 'exact' });
    expect(claims(`${text} (75 %), second crop`)[0]).toMatchObject({ value: 0.2, verdict: 'no' });
  });
  it('brsm and conversion', () =>
    expect(
      claims(
        `${PAGE}charge alcohol: 100 mmol\nproduct C7H14O2: 60 mmol (60 %, brsm 80 %, conversion 75 %)\nrecovered alcohol: 25 mmol (25 %)`,
      ).map((c) => c.verdict),
    ).toEqual(Array(4).fill('exact')));
  it('strength and share of a solution', () =>
    expect(verdicts('solution it: 8.00 g NaOH in water, made up to 100 mL (2.00 mol/L), density 1.08 g/mL')).toEqual([
      'rounded',
    ]));
  it('mL of a liquid that was weighed', () =>
    expect(verdicts(`${ALCOHOL}charge alcohol: 12.15 g (15.0 mL)`)).toEqual(['exact']));
});

describe('there is nothing to compare with', () => {
  it.each([
    [`${ALCOHOL}charge alcohol: 15.0 mL (~12 g)`, 'roughly'],
    ['charge moon dust: 15.0 g (100 mmol)', 'unknown'],
    [`${ALCOHOL}charge alcohol: 15.0 mL (lit. 12 g)`, 'literature'],
  ])('%s: %s', (text) => expect(verdicts(text)).toEqual([undefined]));
  it('a claim of another kind than its value is no mismatch', () =>
    expect(
      claims(`${PAGE}charge alcohol: 100 mmol\nproduct C7H14O2: 10.0 g (yield 10.0 g)`)[0]!.verdict,
    ).toBeUndefined());
});

describe('rounding', () => {
  it.each([
    ['12.2 g', 'rounded'],
    ['12.1 g', 'rounded'],
    ['12.15 g', 'exact'],
    ['12 g', 'rounded'],
    ['12.3 g', 'no'],
    ['12.16 g', 'nearly'],
    ['12150 mg', 'exact'],
    ['12.15000 g', 'over-precise'],
  ])('15.0 mL of 0.810 g/mL as %s: %s', (claim, verdict) =>
    expect(verdicts(`${ALCOHOL}charge alcohol: 15.0 mL (${claim})`)).toEqual([verdict]),
  );

  it('a molar mass of two decimals counts as written', () => {
    // M(C2H4O2) 60.052, 60.05 by the rounded one: 1.66519 and 1.66525 mol of 100.00 g
    expect(verdicts('charge C2H4O2: 100.000 g (1.66524 mol)')).toEqual(['rounded']);
    expect(verdicts('charge C2H4O2: 100.000 g (1.66550 mol)')).toEqual(['no']);
  });
});

describe('the group as written', () => {
  it('an amount may follow from the mass beside it', () => {
    // 12.2 g ÷ 88.150 is 138.4; from 12.15 g it is 137.8
    expect(verdicts(`${ALCOHOL}charge alcohol: 15.0 mL (12.2 g, 138.4 mmol)`)).toEqual(['rounded', 'rounded']);
    expect(verdicts(`${ALCOHOL}charge alcohol: 15.0 mL (138.4 mmol)`)).toEqual(['no']);
  });
  it('equivalents and yields may follow from the amounts beside them', () => {
    const head = `${PAGE}charge alcohol: 100 mmol, limiting\n`;
    expect(verdicts(`${head}charge C2H4O2: 15.04 g (0.25 mol, 2.500 equiv)`)).toEqual(['rounded', 'exact']);
    expect(verdicts(`${head}product C7H14O2: 10.04 g (77 mmol, 77.0 %)`)).toEqual(['rounded', 'exact']);
  });
  it('a mass may follow from an amount only if that is right by itself', () => {
    expect(verdicts(`${ALCOHOL}charge alcohol: 15.0 mL (138 mmol, 12.16 g)`)).toEqual(['rounded', 'rounded']);
    // two wrong numbers do not hold each other up
    expect(verdicts(`${ALCOHOL}charge alcohol: 15.0 mL (150 mmol, 13.2 g)`)[1]).toBe('no');
  });
  it('another group is another matter', () =>
    expect(verdicts(`${ALCOHOL}charge alcohol: 15.0 mL (12.2 g), then 15.0 mL (138.4 mmol)`)).toEqual([
      'rounded',
      'no',
    ]));
  it('a purity of the product line counts in its group', () => {
    // 10.0 g of 90 %: 69.1 mmol, whatever the group says
    expect(verdicts(`${PAGE}charge alcohol: 100 mmol\nproduct C7H14O2: 10.0 g (69.1 mmol, 69 %), purity 90 %`)).toEqual(
      ['rounded', 'rounded'],
    );
    expect(
      verdicts(`${PAGE}charge alcohol: 100 mmol\nproduct C7H14O2: net 10.0 g (net 10.0 g, 76.8 mmol), purity 90 %`)[1],
    ).toBe('no');
  });
});

describe('of a measurement', () => {
  // Aspirin C9H8O4: C 60.00 %, H 4.48 %; [M+Na]+ 203.0315: by hand from CIAAW 2021 and AME2020 masses.
  it('calculated elements and masses', () => {
    const values = valuesOf(
      'substance it: C9H8O4\nmeasure it: combustion C 60.02, H 4.51 (calcd C 60.00, H 4.48)\nmeasure it: HRMS [M+Na]+ found 203.0311 (calcd 203.0315)',
    );
    expect(values.claims.map((c) => [c.property, c.verdict])).toEqual([
      ['element', 'rounded'],
      ['element', 'rounded'],
      ['m/z', 'rounded'],
    ]);
    expect(values.claims.every((c) => isHeld(c.value))).toBe(true);
  });
});
