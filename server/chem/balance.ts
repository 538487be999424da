import { Decimal } from '../quantity/decimal';
import type { Formula } from './formula';

export interface Term {
  readonly formula: Formula;
  readonly coefficient: Decimal;
}

export interface Difference {
  /** An element, a nuclide, or `charge`. */
  readonly what: string;
  readonly left: Decimal;
  readonly right: Decimal;
}

export interface BalanceCheck {
  readonly balanced: boolean;
  /** What is not the same on both sides, in the order in which it appears; charge last. */
  readonly differences: readonly Difference[];
}

export type Balance =
  | { readonly kind: 'one'; readonly left: readonly bigint[]; readonly right: readonly bigint[] }
  | { readonly kind: 'several' }
  | { readonly kind: 'none' };

/** Thirds of a coefficient or of a hydrate are cut off after 34 digits; nothing real is as small as this. */
const NOTHING = new Decimal('1e-20');

/** Compares both sides element by element and by charge. Coefficients may be fractions. */
export function checkBalance(left: readonly Term[], right: readonly Term[]): BalanceCheck {
  const l = totals(left);
  const r = totals(right);
  const zero = new Decimal(0);
  const differences = [...new Set([...l.keys(), ...r.keys()])]
    .map((what) => ({ what, left: l.get(what) ?? zero, right: r.get(what) ?? zero }))
    .filter((found) => found.left.minus(found.right).abs().gt(NOTHING))
    .sort((a, b) => Number(a.what === 'charge') - Number(b.what === 'charge'));
  return { balanced: differences.length === 0, differences };
}

function totals(terms: readonly Term[]): ReadonlyMap<string, Decimal> {
  const sum = new Map<string, Decimal>();
  for (const { formula, coefficient } of terms) {
    for (const [what, count] of conserved(formula)) {
      sum.set(what, (sum.get(what) ?? new Decimal(0)).plus(count.times(coefficient)));
    }
  }
  return sum;
}

const conserved = (f: Formula): readonly (readonly [string, Decimal])[] =>
  f.charge === 0 ? [...f.counts] : [...f.counts, ['charge', new Decimal(f.charge)]];

/**
 * The smallest positive integer coefficients that balance the equation, when there is one such answer up to a common
 * factor. `several`: more than one independent answer (two reactions at once); `none`: no answer in which every term
 * takes part.
 */
export function solveBalance(left: readonly Formula[], right: readonly Formula[]): Balance {
  if (left.length === 0 || right.length === 0) return { kind: 'none' };
  const { pivots, rows } = reduce(matrix(left, right));
  const columns = left.length + right.length;
  if (columns - pivots.length > 1) return { kind: 'several' };
  const free = Array.from({ length: columns }, (_, i) => i).find((column) => !pivots.includes(column));
  if (free === undefined) return { kind: 'none' };

  const ray = Array.from({ length: columns }, (_, column): Ratio => {
    if (column === free) return WHOLE;
    const row = rows[pivots.indexOf(column)]!;
    return { n: -row[free]!.n, d: row[free]!.d };
  });
  if (ray.some(({ n }) => n <= 0n)) return { kind: 'none' };
  const multiple = ray.reduce((m, { d }) => (m / gcd(m, d)) * d, 1n);
  const whole = ray.map(({ n, d }) => n * (multiple / d));
  const common = whole.reduce(gcd);
  const smallest = whole.map((n) => n / common);
  return { kind: 'one', left: smallest.slice(0, left.length), right: smallest.slice(left.length) };
}

/** An exact fraction in lowest terms, denominator positive. */
interface Ratio {
  readonly n: bigint;
  readonly d: bigint;
}

const NULL: Ratio = { n: 0n, d: 1n };
const WHOLE: Ratio = { n: 1n, d: 1n };

function gcd(a: bigint, b: bigint): bigint {
  let [x, y] = [a < 0n ? -a : a, b < 0n ? -b : b];
  while (y) [x, y] = [y, x % y];
  return x;
}

function ratio(n: bigint, d: bigint): Ratio {
  if (n === 0n) return NULL;
  const g = d < 0n ? -gcd(n, d) : gcd(n, d);
  return { n: n / g, d: d / g };
}

/** One row for each thing conserved, one column for each term; the right side counts negative. */
function matrix(left: readonly Formula[], right: readonly Formula[]): Ratio[][] {
  const terms = [...left, ...right].map((f) => new Map(conserved(f)));
  const rows = new Set(terms.flatMap((term) => [...term.keys()]));
  return [...rows].map((what) =>
    terms.map((term, column) => {
      const count = term.get(what);
      return count ? exact(column < left.length ? count : count.neg()) : NULL;
    }),
  );
}

/** Denominators up to 1000 are found again in a cut-off decimal such as 0.333…; other decimals stand as written. */
function exact(count: Decimal): Ratio {
  if (count.isInteger()) return ratio(bigint(count), 1n);
  const near = count.toFraction(1000);
  const [n, d] = near[0]!.div(near[1]!).minus(count).abs().lt(NOTHING) ? near : count.toFraction();
  return ratio(bigint(n!), bigint(d!));
}

function bigint(whole: Decimal): bigint {
  const [mantissa = '0', exponent = '0'] = whole.toString().split('e+');
  const [digits = '', decimals = ''] = mantissa.split('.');
  return BigInt(digits + decimals) * 10n ** BigInt(Number(exponent) - decimals.length);
}

/** Reduced row echelon form; the pivot of row i stands in column `pivots[i]`. */
function reduce(given: readonly (readonly Ratio[])[]): { rows: readonly (readonly Ratio[])[]; pivots: number[] } {
  const rows = given.map((row) => [...row]);
  const pivots: number[] = [];
  for (let column = 0; column < (rows[0]?.length ?? 0); column++) {
    const at = pivots.length;
    const found = rows.findIndex((row, i) => i >= at && row[column]!.n !== 0n);
    if (found < 0) continue;
    [rows[at], rows[found]] = [rows[found]!, rows[at]!];
    const pivot = rows[at]![column]!;
    rows[at] = rows[at]!.map(({ n, d }) => ratio(n * pivot.d, d * pivot.n));
    for (const [i, row] of rows.entries()) {
      const factor = row[column]!;
      if (i === at || factor.n === 0n) continue;
      rows[i] = row.map((value, k) => {
        const other = rows[at]![k]!;
        const n = other.n * factor.n;
        const d = other.d * factor.d;
        return ratio(value.n * d - n * value.d, value.d * d);
      });
    }
    pivots.push(column);
  }
  return { rows, pivots };
}
