/**
 * Propagation of uncertainty: JCGM 100:2008 (GUM) 5.1.2, sums add variances, products and quotients add relative
 * variances; readability as a rectangular distribution F.2.2.1. Clause numbers from memory. The printed example is the
 * project's own, worked out apart from this code.
 */
import { describe, expect, it } from 'vitest';
import { Decimal } from '../../../server/quantity/decimal';
import {
  add,
  asKind,
  divide,
  exact,
  type Held,
  held,
  isHeld,
  multiply,
  place,
  relabel,
  subtract,
  total,
  uncertainty,
  unknown,
} from '../../../server/quantity/held';
import { leaf, read, rectangular } from './typed';

const W = { inputs: [] };
const u = uncertainty;
const relativeU = (h: Held): number => u(h) / Math.abs(h.value.toNumber());

describe('sums and differences', () => {
  it('54.881 g − 41.207 g is 13.674 g, exactly', () => {
    expect(subtract(read('mass', '54.881'), read('mass', '41.207'), W).value.toFixed()).toBe('13.674');
  });

  it('add variances', () => {
    const a = read('mass', 3, 0.03);
    const b = read('mass', 1, 0.04);
    expect(u(add(a, b, W))).toBeCloseTo(0.05, 15);
    expect(u(subtract(a, b, W))).toBeCloseTo(0.05, 15);
  });

  it('keep the coarser last place', () => {
    const a = read('mass', '12.345', 0, 5);
    const b = read('mass', '1.2', 0, 2);
    expect([place(a), place(b), place(add(a, b, W)), place(subtract(a, b, W))]).toEqual([-3, -1, -1, -1]);
    expect(place(subtract(a, a, W))).toBe(-3);
    expect(place(subtract(a, read('mass', '12.342', 0, 5), W))).toBe(-3);
  });

  it('a value minus itself has no uncertainty, another reading of the same size has', () => {
    const a = read('mass', 5, 0.01);
    expect(u(subtract(a, a, W))).toBe(0);
    expect(u(subtract(a, read('mass', 5, 0.01), W))).toBeCloseTo(0.01 * Math.SQRT2, 15);
    expect(u(add(a, a, W))).toBeCloseTo(0.02, 15);
  });

  it('a tare used for two weighings cancels in their difference and counts twice in their sum', () => {
    const tare = read('mass', 40, 0.003);
    const [g1, g2] = [read('mass', 50, 0.001), read('mass', 60, 0.002)];
    const [n1, n2] = [subtract(g1, tare, W), subtract(g2, tare, W)];
    expect(u(subtract(n2, n1, W))).toBeCloseTo(Math.hypot(0.001, 0.002), 15);
    expect(u(add(n1, n2, W))).toBeCloseTo(Math.hypot(0.001, 0.002, 2 * 0.003), 15);
  });
});

describe('products and quotients', () => {
  const a = read('amount', 2, 0.02, 3);
  const b = read('molarMass', 50, 1, 2);

  it('add relative variances', () => {
    const expected = Math.hypot(0.01, 0.02);
    expect(relativeU(multiply('mass', a, b, W))).toBeCloseTo(expected, 15);
    expect(relativeU(divide('other', a, b, W)!)).toBeCloseTo(expected, 15);
    expect(relativeU(divide('other', a, b, W, 1000)!)).toBeCloseTo(expected, 15);
    expect(relativeU(multiply('mass', a, b, W, '0.001'))).toBeCloseTo(expected, 15);
  });

  it('carry the fewer figures, and exact numbers carry none', () => {
    expect(multiply('mass', a, b, W).figures).toBe(2);
    expect(divide('other', a, exact('number', 3), W)!.figures).toBe(3);
    expect(exact('number', 3).figures).toBe(Number.POSITIVE_INFINITY);
    expect(place(exact('number', 3))).toBe(Number.NEGATIVE_INFINITY);
  });

  it('a² doubles the relative uncertainty, a ÷ a has none', () => {
    expect(relativeU(multiply('other', a, a, W))).toBeCloseTo(0.02, 15);
    expect(u(divide('ratio', a, a, W)!)).toBe(0);
  });

  it('a factor of the product counts in both', () => {
    const product = multiply('mass', a, b, W, '0.001');
    expect(product.value.toFixed()).toBe('0.1');
    expect(u(product)).toBeCloseTo(0.1 * Math.hypot(0.01, 0.02), 15);
  });

  it('a zero reading has an absolute uncertainty, and a division by it has no answer', () => {
    const zero = read('amount', 0, 0.5);
    expect(u(multiply('mass', zero, b, W))).toBeCloseTo(25, 12);
    expect(divide('ratio', a, zero, W)).toBeUndefined();
    expect(u(divide('ratio', zero, a, W)!)).toBeCloseTo(0.25, 15);
  });

  it('signs do not matter for the size', () => {
    expect(u(multiply('mass', read('amount', -2, 0.02), b, W))).toBeCloseTo(u(multiply('mass', a, b, W)), 15);
  });
});

describe('slack: how far rounding the molar masses can move a value', () => {
  const M: Held = { ...read('molarMass', '130.187'), slack: 0.005 };
  const n = read('amount', 2);

  it('scales with what it is multiplied by and divided into', () => {
    expect(n.slack).toBe(0);
    expect(multiply('mass', n, M, W).slack).toBeCloseTo(0.01, 15);
    // m ÷ M: |m ÷ M²| · 0.005
    expect(divide('amount', read('mass', '260.374'), M, W)!.slack).toBeCloseTo((2 / 130.187) * 0.005, 15);
    expect(divide('ratio', M, M, W)!.slack).toBeCloseTo((2 * 0.005) / 130.187, 15);
    expect(multiply('mass', n, M, W, 1000).slack).toBeCloseTo(10, 12);
  });

  it('adds up in sums and never takes itself off', () => {
    expect(add(M, M, W).slack).toBe(0.01);
    expect(subtract(M, M, W).slack).toBe(0.01);
    expect(subtract(read('mass', '54.881'), read('mass', '41.207'), W).slack).toBe(0);
  });
});

describe('names, kinds, totals', () => {
  const a = read('mass', 1, 0.1);
  const b = read('mass', 2, 0.2);

  it('another name keeps everything else', () => {
    const named = relabel(a, { formula: 'm', inputs: [{ symbol: 'm', held: a }] });
    expect([named.value, u(named), named.figures, named.kind]).toEqual([a.value, u(a), a.figures, a.kind]);
    expect(u(subtract(named, a, W))).toBe(0);
    expect(asKind(a, 'ratio').kind).toBe('ratio');
  });

  it('a total is its only part, or names them all', () => {
    expect(total([], 'm')).toBeUndefined();
    expect(total([a], 'm')).toBe(a);
    const twelve = total(
      Array.from({ length: 12 }, (_, i) => read('mass', i + 1, 0.1)),
      'm',
    )!;
    expect(twelve.value.toNumber()).toBe(78);
    expect(u(twelve)).toBeCloseTo(0.1 * Math.sqrt(12), 12);
    expect(twelve.working.formula).toMatch(/^m₁ \+ m₂ \+ .* \+ m₁₂$/);
    expect(twelve.working.inputs.map((i) => i.symbol).at(-1)).toBe('m₁₂');
    expect(u(subtract(total([a, b], 'm')!, b, W))).toBeCloseTo(0.1, 15);
  });

  it('what cannot be had is told apart from what can', () => {
    expect(isHeld(a)).toBe(true);
    expect(isHeld(unknown('depends', 'x'))).toBe(false);
    expect(isHeld(undefined)).toBe(false);
    expect(held(unknown('depends', 'x'))).toBeUndefined();
  });

  it('one leaf is one reading, however often it is read', () => {
    const shared = leaf('carbon');
    const part = (share: number): Held => ({ ...read('molarMass', 100), parts: new Map([[shared, share]]) });
    expect(u(divide('ratio', part(0.01), part(0.01), W)!)).toBeCloseTo(0, 18);
  });
});

// ── the worked example ───────────────────────────────────────────────────────────────────────────────────────────

/** Standard atomic weights CIAAW 2021 (working values, ± ÷ √3 of the abridged table). */
const C = { value: 12.011, u: 0.002 / Math.sqrt(3) };
const H = { value: 1.008, u: 0.0002 / Math.sqrt(3) };
const O = { value: 15.999, u: 0.001 / Math.sqrt(3) };

describe('net, amount, theory and yield of an esterification', () => {
  const leaves = { C: leaf('C'), H: leaf('H'), O: leaf('O') };
  const molar = (c: number, h: number, o: number): Held => ({
    ...exact(
      'molarMass',
      new Decimal(C.value).times(c).plus(new Decimal(H.value).times(h)).plus(new Decimal(O.value).times(o)),
    ),
    parts: new Map([
      [leaves.C, c * C.u],
      [leaves.H, h * H.u],
      [leaves.O, o * O.u],
    ]),
  });
  /** Readability 0.001 g and repeatability 0.001 g. */
  const uBalance = Math.hypot(0.001, rectangular(0.001));
  const [gross, tare] = [read('mass', '54.881', uBalance, 5), read('mass', '41.207', uBalance, 5)];
  const net = subtract(gross, tare, W);
  const volume = read('volume', '15.0', rectangular(0.1), 3);
  const density = read('density', '0.810', rectangular(0.001), 3);
  const mass = multiply('mass', volume, density, W);
  const [alcohol, ester] = [molar(5, 12, 1), molar(7, 14, 2)];
  const put = divide('amount', mass, alcohol, W)!;
  const made = divide('amount', net, ester, W)!;
  const share = divide('ratio', made, put, W)!;

  it.each([
    ['reading', uBalance, 0.001, 4],
    ['net', net.value.toNumber(), 13.674, 12],
    ['u(net)', u(net), 0.0015, 4],
    ['mass', mass.value.toNumber(), 12.15, 12],
    ['M(alcohol)', alcohol.value.toNumber(), 88.15, 10],
    ['n(alcohol)', put.value.toNumber(), 0.13783, 5],
    ['u(n)', u(put), 0.00027, 5],
    ['M(ester)', ester.value.toNumber(), 130.187, 10],
    ['n(ester)', made.value.toNumber(), 0.105034, 6],
    ['u(n ester)', u(made), 0.000013, 6],
    ['theory', multiply('mass', put, ester, W).value.toNumber(), 17.94, 2],
    ['yield', share.value.toNumber(), 0.762, 4],
    ['u(yield)', u(share), 0.0015, 4],
  ])('%s', (_, got, printed, digits) => expect(got).toBeCloseTo(printed, digits));

  // JCGM 101:2008 (GUM Supplement 1): draw every input from its distribution and look at the spread of the result.
  it('agrees with a Monte Carlo propagation', () => {
    const random = mulberry32(20260304);
    const normal = (): number => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
    const flat = (step: number): number => (random() - 0.5) * step;
    const N = 200_000;
    let sum = 0;
    let squares = 0;
    for (let i = 0; i < N; i++) {
      const [c, h, o] = [C.value + C.u * normal(), H.value + H.u * normal(), O.value + O.u * normal()];
      const weigh = (shown: number): number => shown + 0.001 * normal() + flat(0.001);
      const m = (15.0 + flat(0.1)) * (0.81 + flat(0.001));
      const n = m / (5 * c + 12 * h + o);
      const y = (weigh(54.881) - weigh(41.207)) / (7 * c + 14 * h + 2 * o) / n;
      sum += y;
      squares += y * y;
    }
    const mean = sum / N;
    const spread = Math.sqrt(squares / N - mean * mean);
    expect(Math.abs(mean / share.value.toNumber() - 1)).toBeLessThan(5e-5);
    // A standard deviation from N draws is known to 1 ÷ √(2N), 0.16 %.
    expect(Math.abs(spread / u(share) - 1)).toBeLessThan(0.006);
  });
});

function mulberry32(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}
