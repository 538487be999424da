/** Yields, recovery, conversion, metrics, plans. Amounts are chosen to be plain; invented unless a source stands by. */
import { describe, expect, it } from 'vitest';
import { uOf, valuesOf, worth } from './page';

/** One to one, so that 100 mmol is the theory. M(ester) is 130.187, M(alcohol) 88.150. */
const PAGE =
  'reaction R1: C5H12O + C2H4O2 -> C7H14O2 + H2O\ncharge C5H12O: 100 mmol, limiting\ncharge C2H4O2: 250 mmol\n';
const productsOf = (text: string, head = PAGE) => valuesOf(head + text).products;
const yields = (text: string, head = PAGE) => productsOf(text, head).map((p) => worth(p.yield));

describe('percent yield', () => {
  // OpenStax, Chemistry 2e, 4.4, Example 2: 0.392 g of copper from 1.274 g CuSO4 is 77.3 %.
  it('77.3 % of copper', () =>
    expect(
      yields(
        'product Cu: 0.392 g',
        'reaction R1: CuSO4 + Zn -> Cu + ZnSO4\ncharge CuSO4: 1.274 g\ncharge Zn: excess\n',
      )[0],
    ).toBeCloseTo(0.773, 3));
  // By hand: 13.674 g from 15.0 mL of 0.810 g/mL is 76.20 % with u = 0.15 %.
  it('of the esterification, with its uncertainty', () => {
    const [product] = valuesOf(
      'balance B-2: readability 0.001 g, repeatability 0.001 g\nsubstance alcohol: C5H12O, density 0.810 g/mL\n' +
        'reaction R1: alcohol + C2H4O2 -> C7H14O2 + H2O\ncharge alcohol: 15.0 mL\ncharge C2H4O2: excess\n' +
        'product C7H14O2: gross 54.881 g, tare 41.207 g',
    ).products;
    expect(worth(product!.yield)).toBeCloseTo(0.762, 4);
    expect(uOf(product!.yield)).toBeCloseTo(0.0015, 4);
  });
  it('with coefficients', () =>
    expect(
      yields(
        'product CO2: 60 mmol',
        'reaction R1: C3H8 + 5 O2 -> 3 CO2 + 4 H2O\ncharge C3H8: 25 mmol\ncharge O2: excess\n',
      ),
    ).toEqual([0.8]));
  it('of a by-product of the equation, too', () => expect(yields('product H2O: 90 mmol')).toEqual([0.9]));
  it('of what no reaction makes there is none', () => expect(yields('product C6H6: 90 mmol')).toEqual(['no-reaction']));
  it('without a limiting amount there is none', () =>
    expect(yields('product C7H14O2: 90 mmol', 'reaction R1: C5H12O + C2H4O2 -> C7H14O2 + H2O\n')).toEqual([
      'no-limiting',
    ]));
  it('a declared limiting reactant that cannot be computed leaves it unknown', () =>
    expect(
      yields(
        'product C7H14O2: 90 mmol',
        'substance it: state mixture\nreaction R1: it + C2H4O2 -> C7H14O2\ncharge it: 5.0 g, limiting\ncharge C2H4O2: 250 mmol\n',
      ),
    ).toEqual(['formula-missing']));
  it('without a subject it is the first product of the last reaction', () =>
    expect(yields('product: 80 mmol')).toEqual([0.8]));
});

describe('what the product line says of itself', () => {
  it('purity is the share that counts', () =>
    expect(yields('product C7H14O2: 13.0187 g, purity 90 %')[0]).toBeCloseTo(0.9, 6));
  it('an amount asks for more of an impure product, whatever was bought', () => {
    const [product] = productsOf('substance ester: C7H14O2, purity 50 %\nproduct ester: 100 mmol, purity 90 %');
    expect(worth(product!.mass)).toBeCloseTo(13.0187 / 0.9, 4);
  });
  it('the purity of what was bought does not count', () =>
    expect(yields('substance ester: C7H14O2, purity 90 %\nproduct ester: 13.0187 g')[0]).toBeCloseTo(1, 6));
  it('`contains` is taken off, several add up', () => {
    expect(yields('product C7H14O2: 13.0187 g, contains ethyl acetate 8 wt%')[0]).toBeCloseTo(0.92, 6);
    expect(yields('product C7H14O2: 13.0187 g, contains ethyl acetate 8 wt%, contains water 2 % w/w')[0]).toBeCloseTo(
      0.9,
      6,
    );
  });
  it('the mass stays what was weighed', () =>
    expect(worth(productsOf('product C7H14O2: 13.0187 g, purity 90 %, contains water 2 % w/w')[0]!.mass)).toBe(
      13.0187,
    ));
});

describe('stages, crops, labels', () => {
  const view = (text: string) =>
    productsOf(text).map((p) => [
      worth(p.yield),
      p.superseded,
      p.stageYield === undefined ? undefined : worth(p.stageYield),
    ]);
  it('a later stage replaces an earlier one', () =>
    expect(view('product C7H14O2: 90 mmol, crude\nproduct C7H14O2: 80 mmol, distilled')).toEqual([
      [0.9, true, undefined],
      [0.8, false, undefined],
    ]));
  it('crops add up', () =>
    expect(
      view(
        'product C7H14O2: 50 mmol, recrystallised, first crop\nproduct C7H14O2: 20 mmol, recrystallised, second crop',
      ),
    ).toEqual([
      [0.5, false, 0.7],
      [0.2, false, 0.7],
    ]));
  it('crops after a crude stage replace it together', () =>
    expect(
      view(
        'product C7H14O2: 90 mmol, crude\nproduct C7H14O2: 50 mmol, first crop\nproduct C7H14O2: 20 mmol, second crop',
      )
        .map(([, gone, all]) => [gone, all])
        .slice(1),
    ).toEqual([
      [false, 0.7],
      [false, 0.7],
    ]));
  it('labels add up', () =>
    expect(
      view('product C7H14O2: 30 mmol, label V-1\nproduct C7H14O2: 40 mmol, label V-2').map(([, gone, all]) => [
        gone,
        all,
      ]),
    ).toEqual([
      [false, 0.7],
      [false, 0.7],
    ]));
  it('fractions add up', () =>
    expect(view('product C7H14O2: 30 mmol, fractions 3–5\nproduct C7H14O2: 40 mmol, fractions 6–9').at(-1)).toEqual([
      0.4,
      false,
      0.7,
    ]));
  it('different substances do not replace each other', () =>
    expect(view('product C7H14O2: 90 mmol\nproduct H2O: 80 mmol').map(([, gone]) => gone)).toEqual([false, false]));
  it('by another name it is the same substance', () =>
    expect(
      view('substance ester: C7H14O2\nproduct C7H14O2: 90 mmol, crude\nproduct ester: 80 mmol, distilled').map(
        ([, gone]) => gone,
      ),
    ).toEqual([true, false]));
});

describe('recovered', () => {
  const page = valuesOf(`${PAGE}product C7H14O2: 60 mmol\nrecovered C5H12O: 25 mmol`);
  it('share of what was charged, conversion, yield based on what was not recovered', () => {
    expect(worth(page.recovered[0]!.recovery)).toBe(0.25);
    expect(worth(page.reactions[0]!.conversion)).toBe(0.75);
    expect(worth(page.products[0]!.brsm)).toBe(0.8);
  });
  it('of the other reactant there is a recovery and no conversion', () => {
    const values = valuesOf(`${PAGE}product C7H14O2: 60 mmol\nrecovered C2H4O2: 125 mmol`);
    expect([worth(values.recovered[0]!.recovery), values.reactions[0]!.conversion, values.products[0]!.brsm]).toEqual([
      0.5,
      undefined,
      undefined,
    ]);
  });
  it('several lines add up, and their purity counts', () => {
    const values = valuesOf(`${PAGE}recovered C5H12O: 10 mmol\nrecovered C5H12O: 1.763 g, purity 50 %`);
    expect(Number(worth(values.reactions[0]!.conversion))).toBeCloseTo(0.8, 4);
  });
  it('what was not charged cannot be recovered', () =>
    expect(worth(valuesOf(`${PAGE}recovered C6H6: 10 mmol`).recovered[0]!.recovery)).toBe('not-charged'));
  it('crops together', () => {
    const values = valuesOf(
      `${PAGE}product C7H14O2: 40 mmol, first crop\nproduct C7H14O2: 20 mmol, second crop\nrecovered C5H12O: 25 mmol`,
    );
    expect(values.products.map((p) => worth(p.brsm))).toEqual([0.8, 0.8]);
  });
  it('all of it recovered: nothing to base a yield on', () =>
    expect(valuesOf(`${PAGE}product C7H14O2: 0 mmol\nrecovered C5H12O: 100 mmol`).products[0]!.brsm).toBeUndefined());
  it('in a resolution the other enantiomer is no unused starting material', () => {
    const values = valuesOf(
      'substance (±)-acid: C9H10O2\nsubstance (S)-acid: C9H10O2\nreaction R1: (±)-acid -> (S)-acid, resolution\n' +
        'charge (±)-acid: 10.0 mmol\nproduct (S)-acid: 4.0 mmol\nrecovered (±)-acid: 5.0 mmol',
    );
    expect([worth(values.products[0]!.yield), values.products[0]!.brsm]).toEqual([0.8, undefined]);
  });
});

describe('over several reactions of a page', () => {
  const first = 'reaction R1: C7H8O + CrO3 -> C7H6O + ...\ncharge C7H8O: 10.0 mmol\ncharge CrO3: excess\n';
  const second = 'reaction R2: C7H6O + HCN -> C8H7NO\ncharge HCN: excess\n';
  it('not isolated between: on the first starting material', () =>
    expect(yields('product C8H7NO: 6.0 mmol', first + second)).toEqual([0.6]));
  it('isolated between: on what was isolated', () =>
    expect(yields('product C8H7NO: 6.0 mmol', `${first}product C7H6O: 8.0 mmol\n${second}`)).toEqual([0.8, 0.75]));
  it('isolated crude, then pure: the last stage counts', () =>
    expect(
      yields(
        'product C8H7NO: 6.0 mmol',
        `${first}product C7H6O: 9.0 mmol, crude\nproduct C7H6O: 8.0 mmol, distilled\n${second}`,
      )[2],
    ).toBe(0.75));
  it('isolated, but how much nobody can say: unknown', () =>
    expect(yields('product C8H7NO: 6.0 mmol', `${first}product C7H6O: gross 12.0 g\n${second}`)[1]).toBe(
      'tare-missing',
    ));
});

describe('metrics', () => {
  // E factor: Sheldon 1992. Mass of all that went in but is not product, over mass of product.
  it('by mass, of the last stage', () => {
    const { metrics } = valuesOf(
      'reaction R1: C5H12O + C2H4O2 -> C7H14O2 + H2O\ncharge C5H12O: 8.0 g\ncharge C2H4O2: 12.0 g\ncharge toluene: 30.0 g, solvent\n' +
        'product C7H14O2: 12.0 g, crude\nproduct C7H14O2: 10.0 g, distilled',
    );
    expect([
      worth(metrics?.eFactor),
      worth(metrics?.processMassIntensity),
      worth(metrics?.reactionMassEfficiency),
    ]).toEqual([4, 5, 0.5]);
  });
  it('what has no mass leaves them unknown', () => {
    const { metrics } = valuesOf(`${PAGE}charge toluene: excess, solvent\nproduct C7H14O2: 10.0 g`);
    expect(worth(metrics?.eFactor)).toBe('amount-missing');
    expect(typeof worth(metrics?.reactionMassEfficiency)).toBe('number');
  });
  it('without a product there are none', () => expect(valuesOf(PAGE).metrics).toBeUndefined());
});

describe('plans', () => {
  const plan = (text: string) => {
    const values = valuesOf(text);
    return values.plans.map((p) => ({ mass: worth(p.mass), volume: worth(p.volume), amount: worth(p.amount) }));
  };
  it('a mass, an amount or a volume of something', () =>
    expect(plan('plan C2H4O2: 100 mmol')).toMatchObject([{ amount: 0.1, mass: expect.closeTo(6.0052, 4) }]));
  it('equivalents of the limiting reactant', () =>
    expect(plan(`${PAGE}plan C2H4O2: 1.5 equiv`)[0]).toMatchObject({ amount: 0.15 }));
  it('mol% of a catalyst', () => expect(plan(`${PAGE}plan C10H10Fe: 10 mol%`)[0]).toMatchObject({ amount: 0.01 }));
  it('equivalents of nothing are nothing', () =>
    expect(plan('reaction R1: A -> B\nplan C2H4O2: 1.5 equiv')[0]!.amount).toMatch(/[a-z]/));
  it('of something nobody knows', () => expect(plan('plan moon dust: 5.0 g')[0]!.amount).toMatch(/[a-z]/));
});
