import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkBalance, solveBalance, type Term } from '../../../server/chem/balance';
import { type Formula, parseFormula } from '../../../server/chem/formula';
import { Decimal } from '../../../server/quantity/decimal';

const read = (text: string): Formula => {
  const result = parseFormula(text);
  if (!result.ok) throw new Error(`${text}: ${result.problem}`);
  return result.formula;
};
const side = (text: string): Term[] =>
  text.split(' + ').map((term) => {
    const [, number, third, formula = ''] = /^(?:(\d+(?:\.\d+)?)(?:\/(\d+))? )?(.+)$/.exec(term)!;
    return { formula: read(formula), coefficient: new Decimal(number ?? 1).div(third ?? 1) };
  });
const sides = (equation: string): [Term[], Term[]] => {
  const [left = '', right = ''] = equation.split(' -> ');
  return [side(left), side(right)];
};
const formulas = (terms: readonly Term[]): Formula[] => terms.map((term) => term.formula);
const solve = (equation: string) => {
  const [left, right] = sides(equation);
  const found = solveBalance(formulas(left), formulas(right));
  return found.kind === 'one' ? `${found.left.join(' ')} -> ${found.right.join(' ')}` : found.kind;
};

// Published with their coefficients. "OpenStax": Chemistry 2e, chapter 4, sections 4.1 to 4.3; the rest are equations
// that general chemistry texts print (named where one is remembered, else common practice, no source).
const PUBLISHED = [
  '2 N2 + 5 O2 -> 2 N2O5', // OpenStax 4.1, Example 1
  '2 NH4NO3 -> 2 N2 + O2 + 4 H2O', // OpenStax 4.1, Example 1, Check Your Learning
  '2 NaCl + 2 H2O -> 2 NaOH + H2 + Cl2', // OpenStax 4.1, Example 2, Check Your Learning
  'Cr2O7^2- + 6 Fe^2+ + 14 H^+ -> 2 Cr^3+ + 6 Fe^3+ + 7 H2O', // OpenStax 4.2, Example 5
  '2 C8H18 + 25 O2 -> 16 CO2 + 18 H2O', // OpenStax 4.3, Example 4
  '2 FeTiO3 + 4 HCl + Cl2 -> 2 FeCl3 + 2 TiO2 + 2 H2O', // OpenStax 4.3, end-of-section exercise
  '2 C2H6 + 7 O2 -> 4 CO2 + 6 H2O',
  '3 Cu + 8 HNO3 -> 3 Cu(NO3)2 + 2 NO + 4 H2O',
  '2 KMnO4 + 16 HCl -> 2 KCl + 2 MnCl2 + 5 Cl2 + 8 H2O',
  '2 MnO4^- + 5 H2C2O4 + 6 H^+ -> 2 Mn^2+ + 10 CO2 + 8 H2O',
  'MnO4^- + 8 H^+ + 5 e^- -> Mn^2+ + 4 H2O',
  'C4H6O3 + C7H9N -> C9H11NO + C2H4O2', // acetylation of an amine
  'KAl(SO4)2·12H2O -> KAl(SO4)2 + 12 H2O',
  '2 CaSO4·0.5H2O -> 2 CaSO4 + H2O',
];

describe('checkBalance', () => {
  it.each(PUBLISHED)('%s is balanced', (equation) => {
    expect(checkBalance(...sides(equation))).toEqual({ balanced: true, differences: [] });
  });

  it('accepts fractions', () => {
    expect(checkBalance(...sides('C2H6 + 7/2 O2 -> 2 CO2 + 3 H2O')).balanced).toBe(true);
    expect(checkBalance(...sides('Fe + 1/3 O2 -> 1/3 Fe3O2')).balanced).toBe(true);
  });

  it('says what differs, the charge last', () => {
    const { balanced, differences } = checkBalance(...sides('Fe^3+ + Cu -> Fe^2+ + 2 Cu^2+'));
    expect(balanced).toBe(false);
    expect(differences.map(({ what, left, right }) => `${what} ${left} ${right}`)).toEqual(['Cu 1 2', 'charge 3 6']);
  });

  it('tells a labelled atom from an unlabelled one', () => {
    expect(checkBalance(...sides('CD3OH + HCl -> CH3Cl + H2O')).differences.map((d) => d.what)).toEqual(['H', '2H']);
  });
});

describe('solveBalance', () => {
  it.each(PUBLISHED)('finds %s', (equation) => {
    const [left, right] = sides(equation);
    const whole = (terms: readonly Term[]) => terms.map((term) => term.coefficient.toString()).join(' ');
    expect(solve(equation)).toBe(`${whole(left)} -> ${whole(right)}`);
  });

  it.each([
    ['two reactions at once', 'C + O2 -> CO + CO2', 'several'],
    // A. Weltin, J. Chem. Educ. 1994, 71, 295 discusses such equations (from memory).
    ['peroxide as oxidant and on its own', 'KMnO4 + H2O2 + H2SO4 -> MnSO4 + K2SO4 + H2O + O2', 'several'],
    ['an element on one side only', 'NaCl -> Na + H2', 'none'],
    // All four have twice as much hydrogen as oxygen, so two conditions remain for four unknowns.
    ['an acetylation with too few conditions', 'C7H6O3 + C4H6O3 -> C9H8O4 + C2H4O2', 'several'],
    ['a term that would have to change sides', 'H2 + H2O -> O2', 'none'],
    ['a term with no part in it', 'H2 + O2 + N2 -> H2O', 'none'],
    ['charge that cannot be kept', 'Fe^2+ -> Fe^3+', 'none'],
    ['nothing', 'H2 -> O2', 'none'],
  ])('%s', (_, equation, expected) => expect(solve(equation)).toBe(expected));

  it('needs both sides', () => expect(solveBalance([], [read('H2O')])).toEqual({ kind: 'none' }));

  it('balances what it says it balances', () => {
    const formula = fc
      .array(fc.tuple(fc.constantFrom('C', 'H', 'O', 'N'), fc.integer({ min: 1, max: 12 })), {
        minLength: 1,
        maxLength: 3,
      })
      .map((atoms) => read(atoms.map(([symbol, n]) => symbol + n).join('')));
    const terms = fc.array(formula, { minLength: 1, maxLength: 3 });
    let solved = 0;
    fc.assert(
      fc.property(terms, terms, (left, right) => {
        const found = solveBalance(left, right);
        if (found.kind !== 'one') return;
        solved++;
        const with_ = (list: Formula[], n: readonly bigint[]) =>
          list.map((formula, i) => ({ formula, coefficient: new Decimal(n[i]!.toString()) }));
        expect(checkBalance(with_(left, found.left), with_(right, found.right)).balanced).toBe(true);
      }),
      { numRuns: 5000 },
    );
    expect(solved).toBeGreaterThan(5);
  });

  it('finds the coefficients that a balanced equation was made from', () => {
    // Any formulas on the left, their sum as one product on the right: the smallest multiple is known.
    const amounts = fc.uniqueArray(fc.constantFrom('NaCl', 'H2O', 'SO3', 'Fe2O3', 'CaBr2'), { minLength: 2 });
    fc.assert(
      fc.property(
        amounts.chain((names) =>
          fc.tuple(
            fc.constant(names),
            fc.array(fc.integer({ min: 1, max: 9 }), { minLength: names.length, maxLength: names.length }),
          ),
        ),
        ([names, n]) => {
          const sum = read(names.map((name, i) => `${n[i]}${name}`).join('·'));
          expect(solveBalance(names.map(read), [sum])).toEqual({ kind: 'one', left: n.map(BigInt), right: [1n] });
        },
      ),
    );
  });
});
