/**
 * The slips chemists make, tried in order against a number that does not match. A slip explains the number when it
 * reproduces it to its last digit. When several different slips do, none is named.
 */
import { type Formula, sameComposition } from '../chem/formula';
import { agree } from '../quantity/agree';
import { Decimal } from '../quantity/decimal';
import { divide, exact, type Held, held, multiply } from '../quantity/held';
import { digits } from '../quantity/show';
import { filledIn } from '../quantity/steps';
import { toBase, toUnit } from '../quantity/units';
import type { Quantity } from '../quantity/written';
import { coefficient } from './reaction';
import { formulaOf, isPure, molarMassOf } from './substance';
import type { Property, ReactionValue, Slip, SlipFound, SubstanceValue, TakenValue, TheoreticalValue } from './values';

/** What the number is about, and all that could have been mistaken for something else. */
export interface SlipContext {
  readonly property: Property;
  readonly taken?: TakenValue;
  readonly reaction?: ReactionValue;
  readonly theory?: TheoreticalValue;
  /** Every other substance of the page. */
  readonly others: readonly SubstanceValue[];
  /** What a charged reactant's line took, by its term. */
  readonly limitingTaken?: TakenValue;
  readonly takenOf: (term: ReactionValue['left'][number]) => TakenValue | undefined;
}

/** A wrong way of working it out. */
interface Attempt {
  readonly slip: Slip;
  readonly says: string;
  readonly value: Held | undefined;
}

export function findSlip(written: Quantity, right: readonly Held[], context: SlipContext): SlipFound | undefined {
  const found: SlipFound[] = [];
  const typing = typingSlip(written, right);
  if (typing) found.push(typing);
  for (const attempt of attempts(context)) {
    if (!attempt.value || !reproduces(written, attempt.value)) continue;
    const working = filledIn(attempt.value);
    found.push({ slip: attempt.slip, says: attempt.says, ...(working && { working }) });
  }
  // At equal coefficients mass over mass is also the product's mass over the molar mass of the reactant.
  const byMass = found.some((f) => f.slip === 'yield-by-mass');
  const different = byMass ? found.filter((f) => f.slip !== 'other-molar-mass') : found;
  const [one] = different;
  if (!one) return undefined;
  if (different.every((f) => f.slip === one.slip))
    return { ...one, says: [...new Set(different.map((f) => f.says))].join(', or ') };
  // A slip of the pen in a short number is often also something else's value: with three figures the pen decides.
  return typing && (written.number.figures >= 3 || typing.slip === 'factor-1000') ? typing : undefined;
}

const reproduces = (written: Quantity, value: Held): boolean => {
  const verdict = agree(written, value);
  return verdict === 'exact' || verdict === 'rounded' || verdict === 'over-precise';
};

// ── the pen ──────────────────────────────────────────────────────────────────────────────────────────────────────

/** One slip of the pen, or none: where two of them give the same digits nobody knows which it was. */
function typingSlip(written: Quantity, right: readonly Held[]): SlipFound | undefined {
  if (right.some((value) => isShifted(written, value))) {
    return { slip: 'factor-1000', says: 'a factor of a thousand, one unit prefix for another' };
  }
  const { unit, number } = written;
  const text = plainDigits(number.text);
  const found = new Map<Slip, string>();
  for (const value of right) {
    const there = unit ? toUnit(value.value, unit) : value.value;
    const same = digits(there, number.place);
    const finer = digits(there, number.place - 1);
    const coarser = digits(there, number.place + 1);
    if (swaps(same).includes(text)) found.set('digits-swapped', 'two digits swapped');
    if (drops(same).includes(text) || drops(finer).includes(text)) found.set('digit-dropped', 'a digit dropped');
    if (doubled(text, same) || (number.place < 0 && doubled(text, coarser))) {
      found.set('digit-doubled', 'a digit typed twice');
    }
  }
  const [only] = found;
  return found.size === 1 && only ? { slip: only[0], says: only[1] } : undefined;
}

/** A thousand times too large or small; a single figure may be anything, so it must be close besides. */
function isShifted(written: Quantity, value: Held): boolean {
  return ['1000', '0.001'].some((factor) => {
    const there = value.value.times(factor);
    const shifted = { ...value, value: there, slack: value.slack * Number(factor) };
    if (!reproduces(written, shifted)) return false;
    const typed = written.unit ? toBase(written.number.value, written.unit) : written.number.value;
    return typed.minus(there).abs().lte(there.abs().times('0.05'));
  });
}

const plainDigits = (text: string): string => text.replace(/[\s  ]/g, '').replace(/^\+/, '');
const isDigit = (c: string | undefined): boolean => c !== undefined && c >= '0' && c <= '9';

/** Neighbouring digits changed over, also across the decimal point. */
function swaps(text: string): string[] {
  const out: string[] = [];
  for (let i = 0; i < text.length - 1; i++) {
    const j = isDigit(text[i + 1]) ? i + 1 : i + 2;
    if (!isDigit(text[i]) || !isDigit(text[j]) || text[i] === text[j]) continue;
    out.push(text.slice(0, i) + text[j] + text.slice(i + 1, j) + text[i] + text.slice(j + 1));
  }
  return out;
}

/** One digit left out. */
function drops(text: string): string[] {
  const out: string[] = [];
  for (let i = 0; i < text.length; i++) if (isDigit(text[i])) out.push(text.slice(0, i) + text.slice(i + 1));
  return out;
}

/** `long` is `short` with one of its digits twice in a row. */
function doubled(long: string, short: string): boolean {
  for (let i = 0; i < short.length; i++) {
    if (isDigit(short[i]) && short.slice(0, i + 1) + short[i] + short.slice(i + 1) === long) return true;
  }
  return false;
}

// ── the working ──────────────────────────────────────────────────────────────────────────────────────────────────

function* attempts(c: SlipContext): Generator<Attempt> {
  switch (c.property) {
    case 'net':
      yield* readingSlips(c.taken, (mass) => mass);
      return;
    case 'mass':
      yield* densitySlips(c.taken, (mass) => mass);
      return;
    case 'amount':
      yield* amountSlips(c.taken, c.others, (n) => n);
      return;
    case 'equiv':
    case 'mol%':
      yield* equivalentSlips(c);
      return;
    case 'yield':
      yield* yieldSlips(c);
      return;
    case 'theory':
      yield* theorySlips(c);
      return;
    default:
      return;
  }
}

type Then = (value: Held) => Held | undefined;

function* readingSlips(taken: TakenValue | undefined, then: Then): Generator<Attempt> {
  const weighing = taken?.weighing;
  const gross = weighing?.gross?.held;
  const tare = weighing?.tare?.held;
  if (gross && tare) {
    const swapped: Held = {
      ...tare,
      value: tare.value.minus(gross.value),
      working: {
        formula: 'tare − gross',
        inputs: [
          { symbol: 'tare', held: tare },
          { symbol: 'gross', held: gross },
        ],
      },
    };
    yield { slip: 'tare-gross-swapped', says: 'tare and gross swapped', value: then(swapped) };
  }
  if (gross) yield { slip: 'gross-as-net', says: 'the gross used as the net', value: then(gross) };
}

/** V ÷ ρ, and V taken for a mass. */
function* densitySlips(taken: TakenValue | undefined, then: Then): Generator<Attempt> {
  const volume = taken && held(taken.volume);
  const density = taken && held(taken.solution?.density ?? taken.substance?.density);
  if (!volume || !density || volume.working.formula !== undefined) return;
  const inverted = divide('mass', volume, density, {
    formula: 'V ÷ ρ',
    inputs: [
      { symbol: 'V', held: volume },
      { symbol: 'ρ', held: density },
    ],
  });
  yield {
    slip: 'density-inverted',
    says: 'a division by the density instead of a multiplication',
    value: inverted && then(inverted),
  };
  const asMass: Held = { ...volume, kind: 'mass' };
  yield { slip: 'density-missing-used-as-mass', says: 'mL taken for grams', value: then(asMass) };
}

const amountOf = (mass: Held, molarMass: Held, purity?: Held): Held | undefined => {
  const pure =
    purity && !isPure(purity)
      ? multiply('mass', mass, purity, {
          formula: 'm · w',
          inputs: [
            { symbol: 'm', held: mass },
            { symbol: 'w', held: purity },
          ],
        })
      : mass;
  return divide('amount', pure, molarMass, {
    formula: 'm ÷ M',
    inputs: [
      { symbol: 'm', held: pure },
      { symbol: 'M', held: molarMass },
    ],
  });
};

function* amountSlips(
  taken: TakenValue | undefined,
  others: readonly SubstanceValue[],
  then: Then,
): Generator<Attempt> {
  const substance = taken?.substance;
  const molarMass = substance && held(substance.molarMass);
  if (!taken || !substance || !molarMass) return;
  const purity = taken.solution ? held(taken.solution.massFraction) : (taken.purity ?? substance.purity);
  const mass = held(taken.mass);
  const via = (m: Held, M: Held, w?: Held): Held | undefined => {
    const n = amountOf(m, M, w);
    return n && then(n);
  };
  yield* readingSlips(taken, (m) => via(m, molarMass, purity));
  yield* densitySlips(taken, (m) => via(m, molarMass, purity));
  if (!mass) return;
  if (purity && !isPure(purity))
    yield { slip: 'purity-ignored', says: 'the purity left out', value: via(mass, molarMass) };
  const formula = formulaOf(substance.substance);
  const dry = formula?.hydrate && held(molarMassOf(formula.hydrate.dry));
  if (dry)
    yield {
      slip: 'hydrate-ignored',
      says: 'the water of the hydrate left out of the molar mass',
      value: via(mass, dry, purity),
    };
  for (const other of others) {
    const otherFormula = formulaOf(other.substance);
    const M = held(other.molarMass);
    const same = (own: Formula | undefined): boolean => !!own && !!otherFormula && sameComposition(own, otherFormula);
    if (!M || same(formula) || same(formula?.hydrate?.dry)) continue;
    yield {
      slip: 'other-molar-mass',
      says: `the molar mass of ${other.substance.name} used`,
      value: via(mass, M, purity),
    };
  }
}

function* equivalentSlips(c: SlipContext): Generator<Attempt> {
  const limiting = c.reaction?.limiting?.amount;
  if (!limiting) return;
  const over = (n: Held, base: Held): Held | undefined =>
    divide('equivalents', n, base, {
      formula: 'n ÷ n(limiting)',
      inputs: [
        { symbol: 'n', held: n },
        { symbol: 'n(limiting)', held: base },
      ],
    });
  yield* amountSlips(c.taken, c.others, (n) => over(n, limiting));
  const n = c.taken && held(c.taken.amount);
  for (const term of n ? otherReactants(c.reaction!) : []) {
    yield {
      slip: 'other-limiting',
      says: `${term.term.name.text} taken as limiting`,
      value: over(n!, held(term.charged)!),
    };
  }
}

const otherReactants = (reaction: ReactionValue): ReactionValue['left'] =>
  reaction.left.filter((t) => t !== reaction.limiting?.term && held(t.charged) && !t.unlimited);

function* yieldSlips(c: SlipContext): Generator<Attempt> {
  const theory = c.theory && held(c.theory.amount);
  const limiting = c.reaction?.limiting;
  if (!c.taken || !theory || !limiting || !c.theory || !c.reaction) return;
  const n = held(c.taken.amount);
  const over = (made: Held, base: Held): Held | undefined =>
    divide('ratio', made, base, {
      formula: 'n ÷ n(theory)',
      inputs: [
        { symbol: 'n', held: made },
        { symbol: 'n(theory)', held: base },
      ],
    });
  const nuProduct = coefficient(c.theory.term);
  /** Theory from another amount of a reactant. */
  const theoryFrom = (amount: Held, nu: Decimal): Held =>
    nu.eq(nuProduct) ? amount : { ...amount, value: amount.value.div(nu).times(nuProduct), working: { inputs: [] } };
  // In the product's amount …
  yield* amountSlips(c.taken, c.others, (made) => over(made, theory));
  if (n) {
    // … in the theory …
    const nu = coefficient(limiting.term.term);
    if (!nu.eq(nuProduct)) {
      yield {
        slip: 'coefficient-ignored',
        says: 'the coefficients of the equation left out',
        value: over(n, limiting.amount),
      };
    }
    for (const term of otherReactants(c.reaction)) {
      const base = theoryFrom(held(term.charged)!, coefficient(term.term));
      yield { slip: 'other-limiting', says: `${term.term.name.text} taken as limiting`, value: over(n, base) };
    }
    yield* amountSlips(c.limitingTaken, c.others, (amount) => over(n, theoryFrom(amount, nu)));
  }
  // … or worked out by mass.
  const made = held(c.taken.mass);
  const put = c.limitingTaken && held(c.limitingTaken.mass);
  if (made && put) {
    const value = divide('ratio', made, put, {
      formula: 'm ÷ m(limiting)',
      inputs: [
        { symbol: 'm', held: made },
        { symbol: 'm(limiting)', held: put },
      ],
    });
    yield {
      slip: 'yield-by-mass',
      says: `mass over mass of ${limiting.term.term.name.text}`,
      value,
    };
  }
}

function* theorySlips(c: SlipContext): Generator<Attempt> {
  const limiting = c.reaction?.limiting;
  if (!c.theory || !limiting || !c.reaction) return;
  const molarMass = c.theory.substance && held(c.theory.substance.molarMass);
  if (!molarMass) return;
  const mass = (amount: Held, factor: Decimal): Held => {
    const nu = exact('number', factor);
    return multiply('mass', multiply('amount', amount, nu, { inputs: [] }), molarMass, {
      formula: 'n · M',
      inputs: [
        { symbol: 'n', held: amount },
        { symbol: 'M', held: molarMass },
      ],
    });
  };
  const nuProduct = coefficient(c.theory.term);
  if (!coefficient(limiting.term.term).eq(nuProduct)) {
    yield {
      slip: 'coefficient-ignored',
      says: 'the coefficients of the equation left out',
      value: mass(limiting.amount, new Decimal(1)),
    };
  }
  for (const term of otherReactants(c.reaction)) {
    yield {
      slip: 'other-limiting',
      says: `${term.term.name.text} taken as limiting`,
      value: mass(held(term.charged)!, nuProduct.div(coefficient(term.term))),
    };
  }
}
