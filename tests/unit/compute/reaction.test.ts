/**
 * Balance, limiting reactant, equivalents, theory. Weights CIAAW 2021; masses are chosen so that the amounts are plain,
 * and invented unless a source stands beside them.
 */
import { describe, expect, it } from 'vitest';
import { isHeld } from '../../../server/quantity/held';
import { chargeOf, digitsOf, reactionOf, uOf, valuesOf, worth } from './page';

const balance = (equation: string, definitions = '') => {
  const { balancing, coefficients } = reactionOf(valuesOf(`${definitions}\nreaction R1: ${equation}`));
  return { balancing, coefficients: coefficients && Object.fromEntries(coefficients) };
};

// Equations of OpenStax, Chemistry 2e, chapter 4, and of any textbook.
describe('balanced or not', () => {
  it.each([
    'CH4 + 2 O2 -> CO2 + 2 H2O',
    '2 C8H18 + 25 O2 -> 16 CO2 + 18 H2O',
    'C8H18 + 25/2 O2 -> 8 CO2 + 9 H2O',
    'H2 + 0.5 O2 -> H2O',
    'NH4NO3 -> N2O + 2 H2O',
    'C2H4O2 + C5H12O <=> C7H14O2 + H2O',
    'Cr2O7^2- + 6 Fe^2+ + 14 H+ -> 2 Cr^3+ + 6 Fe^3+ + 7 H2O',
    'CuSO4·5H2O -> CuSO4 + 5 H2O',
    'C6H12O6 -> 2 C2H6O + 2 CO2',
  ])('%s', (equation) => expect(balance(equation).balancing).toEqual({ kind: 'balanced' }));

  it('says what is left over on which side, and the answer where there is one', () => {
    const { balancing, coefficients } = balance('N2O5 -> NO2 + O2');
    expect(balancing).toEqual({
      kind: 'unbalanced',
      differences: [
        { what: 'O', left: '5', right: '4' },
        { what: 'N', left: '2', right: '1' },
      ],
      solution: 'one',
      equation: '2 N2O5 -> 4 NO2 + O2',
    });
    expect(coefficients).toEqual({ N2O5: '2', NO2: '4', O2: '1' });
  });

  it('charge counts like an element', () => {
    const { balancing } = balance('Fe^2+ + Cl2 -> Fe^3+ + 2 Cl-');
    expect(balancing.kind === 'unbalanced' && balancing.differences.map((d) => d.what)).toEqual(['charge']);
  });

  it('multiples of an answer are balanced too, their smallest is the answer', () =>
    expect(balance('2 CH4 + 4 O2 -> 2 CO2 + 4 H2O')).toEqual({
      balancing: { kind: 'balanced' },
      coefficients: { CH4: '1', O2: '2', CO2: '1', H2O: '2' },
    }));

  it('without an answer, or with several, there are no coefficients', () => {
    expect(balance('C2H4 -> CO2 + H2O')).toMatchObject({
      balancing: { kind: 'unbalanced', solution: 'none' },
      coefficients: null,
    });
    expect(balance('C + O2 -> CO + CO2')).toMatchObject({ balancing: { solution: 'several' }, coefficients: null });
  });

  it('by-products that are not written, and substances without a formula, leave it open', () => {
    expect(balance('C2H4O2 + C5H12O -> C7H14O2 + ...').balancing).toEqual({ kind: 'open', why: 'rest' });
    expect(balance('C2H4O2 + moon dust -> C7H14O2').balancing).toEqual({ kind: 'open', why: 'unknown' });
    expect(balance('resin + C2H4O2 -> H2O', 'substance resin: state mixture').balancing).toEqual({
      kind: 'open',
      why: 'unknown',
    });
  });

  it('names stand for their formulas', () =>
    expect(
      balance(
        'acid + 2 base -> salt + 2 water',
        'substance acid: H2SO4\nsubstance base: NaOH\nsubstance salt: Na2SO4\nsubstance water: H2O',
      ).balancing.kind,
    ).toBe('balanced'));
});

const limiting = (text: string, id = 'R1') => {
  const { limiting: found, computedLimiting, extent } = reactionOf(valuesOf(text), id);
  return {
    is: found?.term.term.name.text ?? null,
    amount: found?.amount.value.toNumber(),
    declared: found?.declared,
    computed: computedLimiting?.term.name.text,
    extent: worth(extent),
  };
};

describe('the limiting reactant', () => {
  // OpenStax, Chemistry 2e, 4.4, Example 1: 2.00 g Si and 1.50 g N2; silicon, 0.0237 mol Si3N4.
  it('by amount over coefficient', () => {
    const values = valuesOf('reaction R1: 3 Si + 2 N2 -> Si3N4\ncharge Si: 2.00 g\ncharge N2: 1.50 g');
    const { limiting: found, extent } = reactionOf(values);
    expect(found?.term.term.name.text).toBe('Si');
    expect(worth(extent)).toBeCloseTo(0.0237, 4);
    expect(values.charges.map((c) => Number(worth(c.equiv)))).toEqual([1, expect.closeTo(0.0535 / 0.0712, 3)]);
  });

  const R = 'reaction R1: A2 + 2 NaOH -> H2O + C\nsubstance A2: H2SO4\nsubstance C: Na2SO4';
  it.each([
    // amounts, what is limiting, its amount, the extent
    ['1.0 mol', '1.5 mol', 'NaOH', 1.5, 0.75],
    ['1.0 mol', '2.5 mol', 'A2', 1, 1],
    ['1.0 mol', '2.0 mol', 'A2', 1, 1],
    ['1.0 mol', 'excess', 'A2', 1, 1],
    ['balloon', '2.5 mol', 'NaOH', 2.5, 1.25],
  ] as const)('%s and %s: %s', (a, b, is, amount, extent) =>
    expect(limiting(`${R}\ncharge A2: ${a}\ncharge NaOH: ${b}`)).toMatchObject({ is, amount, extent, declared: false }),
  );

  it('fractions as coefficients', () =>
    expect(limiting('reaction R1: H2 + 1/2 O2 -> H2O\ncharge H2: 1.0 mol\ncharge O2: 0.4 mol')).toMatchObject({
      is: 'O2',
      extent: 0.8,
    }));

  it('declared counts, and the other one is told', () =>
    expect(limiting(`${R}\ncharge A2: 1.0 mol, limiting\ncharge NaOH: 1.5 mol`)).toMatchObject({
      is: 'A2',
      declared: true,
      computed: 'NaOH',
      extent: 1,
    }));

  it('declared and right: nothing to tell', () =>
    expect(limiting(`${R}\ncharge A2: 1.0 mol, limiting\ncharge NaOH: 2.5 mol`)).toMatchObject({
      is: 'A2',
      declared: true,
      computed: undefined,
    }));

  it('declared, but without an amount: nobody knows', () => {
    expect(limiting(`${R}\ncharge A2: 1.0 mL, limiting\nsubstance X: C6H6\ncharge NaOH: 1.5 mol`).is).toBeNull();
    const text =
      'substance it: state mixture\nreaction R1: it + NaOH -> H2O\ncharge it: 5.0 g, limiting\ncharge NaOH: 1.5 mol';
    expect(limiting(text)).toMatchObject({ is: null, extent: 'formula-missing' });
  });

  it('declared, but nobody measured it: nobody knows', () =>
    expect(limiting(`${R}\ncharge A2: excess, limiting\ncharge NaOH: 1.5 mol`).is).toBeNull());

  it('one reactant without an amount could be the limiting one: nobody knows', () =>
    expect(
      limiting('substance it: state mixture\nreaction R1: it + NaOH -> H2O\ncharge it: 5.0 g\ncharge NaOH: 1.5 mol'),
    ).toMatchObject({ is: null }));

  it('a reactant that is not charged at all does not count', () =>
    expect(limiting(`${R}\ncharge A2: 1.0 mol`)).toMatchObject({ is: 'A2', extent: 1 }));

  it('nothing charged', () => expect(limiting(R)).toMatchObject({ is: null, extent: 'no-limiting' }));

  it('lines of one name add up, by whatever name they go', () => {
    const text =
      'substance sodium hydroxide: NaOH, also caustic soda\nreaction R1: H2SO4 + 2 NaOH -> Na2SO4 + 2 H2O\ncharge H2SO4: 1.0 mol\n';
    expect(
      limiting(`${text}charge caustic soda: 0.5 mol\ncharge NaOH: 0.7 mol\ncharge sodium hydroxide: 0.6 mol`),
    ).toMatchObject({ is: 'NaOH', amount: 1.8 });
  });

  it('legs are lines of their own', () =>
    expect(
      limiting(
        'reaction R1: H2SO4 + 2 NaOH -> Na2SO4 + 2 H2O\ncharge H2SO4: 1.0 mol\ncharge NaOH: 0.5 mol, from TB-1; 0.7 mol, from TB-2',
      ),
    ).toMatchObject({ is: 'NaOH', amount: 1.2 }));

  it.each([
    'solvent',
    'quench',
    'wash',
    'eluent',
    'atmosphere',
    'drying agent',
    'internal standard',
    'catalyst',
    'ligand',
  ])('a charge as %s takes no part', (role) =>
    expect(
      limiting(
        `reaction R1: H2SO4 + 2 NaOH -> Na2SO4 + 2 H2O\ncharge H2SO4: 1.0 mol\ncharge NaOH: 2.0 mol\ncharge NaOH: 9.0 mol, ${role}`,
      ),
    ).toMatchObject({ is: 'H2SO4' }),
  );

  it.each(['base', 'acid', 'additive', 'excess'])('a reactant that is also called %s still takes part', (role) =>
    expect(
      limiting(`reaction R1: H2SO4 + 2 NaOH -> Na2SO4 + 2 H2O\ncharge H2SO4: 1.0 mol\ncharge NaOH: 1.5 mol, ${role}`),
    ).toMatchObject({ is: 'NaOH', extent: 0.75 }),
  );

  it('a solution counts for its solute', () =>
    expect(
      limiting(
        'solution soda: 2.0 M NaOH in water\nreaction R1: H2SO4 + 2 NaOH -> Na2SO4 + 2 H2O\ncharge H2SO4: 10 mmol\ncharge soda: 5.0 mL',
      ),
    ).toMatchObject({ is: 'NaOH', amount: 0.01 }));
});

describe('equivalents', () => {
  const page = valuesOf(
    'reaction R1: H2SO4 + 2 NaOH -> Na2SO4 + 2 H2O\ncharge H2SO4: 100 mmol, limiting\ncharge NaOH: 250 mmol\n' +
      'substance cat: C10H10Fe\ncharge cat: 5.0 mmol, catalyst\ncharge water: 50 mL, solvent',
  );
  it('n over n of the limiting reactant, not divided by coefficients', () =>
    expect(['H2SO4', 'NaOH'].map((name) => worth(chargeOf(page, name).equiv))).toEqual([1, 2.5]));
  it('of a catalyst: mol% is a hundredth of it', () => expect(worth(chargeOf(page, 'cat').equiv)).toBe(0.05));
  it('of a solvent, too, where its amount is known', () =>
    expect(worth(chargeOf(page, 'water').equiv)).toBeCloseTo(27.7, 0));
  it('of the limiting reactant itself has no uncertainty', () => expect(uOf(chargeOf(page, 'H2SO4').equiv)).toBe(0));
  it('without a reaction, without a limiting reactant', () => {
    expect(worth(valuesOf('charge NaOH: 1.0 mol').charges[0]!.equiv)).toBe('no-reaction');
    expect(worth(valuesOf('reaction R1: A -> B\ncharge NaOH: 1.0 mol').charges[0]!.equiv)).toBe('no-limiting');
  });
  it('a catalyst on a page of two reactions belongs to the charges round it', () => {
    const values = valuesOf(
      'reaction R1: C2H4O2 + NaOH -> C2H3NaO2 + H2O\ncharge C2H4O2: 1.0 mol\ncharge C10H10Fe: 0.1 mol, catalyst\n' +
        'reaction R2: C7H6O2 + KOH -> C7H5KO2 + H2O\ncharge C7H6O2: 2.0 mol\ncharge C5H5N: 0.1 mol, catalyst\ncharge KOH: 3.0 mol\ncharge NaOH: 1.0 mol',
    );
    expect(worth(chargeOf(values, 'C10H10Fe').equiv)).toBe(0.1);
    expect(worth(chargeOf(values, 'C5H5N').equiv)).toBe(0.05);
  });
});

describe('theory', () => {
  it('amount and mass of every product, by its coefficient', () => {
    const { theoretical } = reactionOf(
      valuesOf('reaction R1: Fe2O3 + 3 CO -> 2 Fe + 3 CO2\ncharge Fe2O3: 1.5 mol\ncharge CO: 6.0 mol'),
    );
    expect(theoretical.map((t) => [t.term.name.text, worth(t.amount)])).toEqual([
      ['Fe', 3],
      ['CO2', 4.5],
    ]);
    // Fe 55.845
    expect(digitsOf(theoretical[0]!.mass)).toBe('167.535');
  });
  // OpenStax, Chemistry 2e, 4.4, Example 2: 1.274 g CuSO4 gives 0.5072 g Cu.
  it('0.5072 g of copper', () => {
    const { theoretical } = reactionOf(
      valuesOf('reaction R1: CuSO4 + Zn -> Cu + ZnSO4\ncharge CuSO4: 1.274 g\ncharge Zn: excess'),
    );
    expect(worth(theoretical[0]!.mass)).toBeCloseTo(0.5072, 4);
  });
  it('`...` is no product', () =>
    expect(
      reactionOf(valuesOf('reaction R1: C2H4O2 -> CH4 + ...\ncharge C2H4O2: 1.0 mol')).theoretical.map(
        (t) => t.term.name.text,
      ),
    ).toEqual(['CH4']));
  it('in a resolution it is half', () => {
    const { theoretical } = reactionOf(
      valuesOf(
        'substance (±)-acid: C9H10O2\nsubstance (S)-acid: C9H10O2\nreaction R1: (±)-acid -> (S)-acid, resolution\ncharge (±)-acid: 10.0 mmol',
      ),
    );
    expect(worth(theoretical[0]!.amount)).toBe(0.005);
  });
  it('of a product without a formula there is an amount and no mass', () => {
    const { theoretical } = reactionOf(
      valuesOf('substance it: state mixture\nreaction R1: C2H4O2 -> it\ncharge C2H4O2: 1.0 mol'),
    );
    expect([worth(theoretical[0]!.amount), worth(theoretical[0]!.mass)]).toEqual([1, 'formula-missing']);
  });
});

describe('several reactions on a page', () => {
  const chain = 'reaction R1: C7H8O + CrO3 -> C7H6O + ...\ncharge C7H8O: 10.0 mmol, limiting\ncharge CrO3: 20.0 mmol\n';
  it('telescoped: the theory of the first is what the second starts from', () => {
    const values = valuesOf(`${chain}reaction R2: C7H6O + HCN -> C8H7NO\ncharge HCN: 30.0 mmol`);
    expect(limiting(`${chain}reaction R2: C7H6O + HCN -> C8H7NO\ncharge HCN: 30.0 mmol`, 'R2')).toMatchObject({
      is: 'C7H6O',
      amount: 0.01,
    });
    expect(reactionOf(values, 'R2').left.map((t) => t.carried)).toEqual([true, false]);
    expect(worth(chargeOf(values, 'HCN').equiv)).toBe(3);
  });
  it('isolated: what was isolated counts', () => {
    const text = `${chain}product C7H6O: 8.0 mmol\nreaction R2: C7H6O + HCN -> C8H7NO\ncharge HCN: 30.0 mmol`;
    expect(limiting(text, 'R2')).toMatchObject({ is: 'C7H6O', amount: 0.008 });
  });
  it('charged again: what was charged counts', () => {
    const text = `${chain}product C7H6O: 8.0 mmol\nreaction R2: C7H6O + HCN -> C8H7NO\ncharge C7H6O: 5.0 mmol\ncharge HCN: 30.0 mmol`;
    expect(limiting(text, 'R2')).toMatchObject({ is: 'C7H6O', amount: 0.005 });
    expect(reactionOf(valuesOf(text), 'R2').left[0]!.carried).toBe(false);
  });
  it('written in the other order', () => {
    const text = `reaction R2: C7H6O + HCN -> C8H7NO\ncharge HCN: 30.0 mmol\n${chain}`;
    expect(limiting(text, 'R2')).toMatchObject({ is: 'C7H6O', amount: 0.01 });
  });
  it('that need each other: no value, and nothing hangs', () => {
    const values = valuesOf('reaction R1: C2H6 -> C2H4 + H2\nreaction R2: C2H4 + H2 -> C2H6');
    expect(values.reactions.map((r) => isHeld(r.extent))).toEqual([false, false]);
  });
  it('each takes the charges that stand nearer', () => {
    const values = valuesOf(
      'reaction R1: C2H4O2 + NaOH -> C2H3NaO2 + H2O\ncharge C2H4O2: 1.0 mol\ncharge NaOH: 2.0 mol\n' +
        'reaction R2: C7H6O2 + NaOH -> C7H5NaO2 + H2O\ncharge C7H6O2: 1.0 mol\ncharge NaOH: 3.0 mol',
    );
    expect(values.charges.filter((c) => c.charge.name.text === 'NaOH').map((c) => worth(c.equiv))).toEqual([2, 3]);
    expect(reactionOf(values, 'R2').left.map((t) => worth(t.charged))).toEqual([1, 3]);
  });
});

describe('atom economy', () => {
  // Trost 1991: M of the product over that of all reactants, each with its coefficient.
  it.each([
    ['C2H4O2 + C5H12O -> C7H14O2 + H2O', 130.187 / 148.202],
    ['2 H2 + O2 -> 2 H2O', 1],
    ['CuSO4 + Zn -> Cu + ZnSO4', 63.546 / (159.602 + 65.38)],
  ])('%s', (equation, share) =>
    expect(worth(reactionOf(valuesOf(`reaction R1: ${equation}`)).atomEconomy)).toBeCloseTo(share, 4),
  );
  it('is not known where reactants are not written, or have no formula', () => {
    expect(worth(reactionOf(valuesOf('reaction R1: moon dust + O2 -> CO2')).atomEconomy)).toMatch(/[a-z]/);
    expect(worth(reactionOf(valuesOf('reaction R1: C2H4O2 -> it')).atomEconomy)).toMatch(/[a-z]/);
  });
});
