/**
 * Values that remember where they came from.
 *
 * A {@link Held} value is never rounded. It carries the signed share that each independent reading has in its standard
 * uncertainty, so that one reading used twice correlates by itself (a value minus itself has u = 0), and the working
 * that gave it. First-order propagation as in JCGM 100:2008 (GUM) 5.1.2.
 */
import { Decimal, ZERO } from './decimal';
import type { Kind } from './kinds';

/** Where an input was written. Spans are page-relative; `entry` names what lies elsewhere. */
export type Origin =
  | { readonly from: 'here'; readonly start: number; readonly end: number }
  | {
      /** On another page, in the file's head or in a register: found again by its statement, wherever that has moved. */
      readonly from: 'there';
      /** What to call the place: `TB-009, 2026-03-02`, `stock.tare`. */
      readonly where: string;
      readonly uri?: string;
      /** ID of the page; a file's head or a register has none. */
      readonly page?: string;
      /** Keyword and folded subject of the statement: `vessel beaker 4`. */
      readonly entry?: string;
      /** From the start of that statement's block. */
      readonly start: number;
      readonly end: number;
    }
  | { readonly from: 'handbook'; readonly entry: string; readonly source: string; readonly doubtful?: boolean }
  | { readonly from: 'table'; readonly source: string }
  | { readonly from: 'rule'; readonly says: string };

/** An independent input: compared by identity. */
export interface Leaf {
  readonly name: string;
  readonly origin: Origin;
}

export interface Input {
  readonly symbol: string;
  readonly held: Held;
}

export interface Working {
  /** The right-hand side with the symbols of the inputs, set apart by blanks: `V · ρ`. A reading has none. */
  readonly formula?: string;
  readonly inputs: readonly Input[];
  readonly origin?: Origin;
  /** A reading as typed: `15.0 mL`. */
  readonly written?: string;
  /** What a reader should know besides: `1 : 1 assumed`. */
  readonly note?: string;
}

export interface Held {
  readonly kind: Kind;
  /** In the kind's base unit, never rounded. */
  readonly value: Decimal;
  /** Signed share of each leaf in the standard uncertainty, base unit. */
  readonly parts: ReadonlyMap<Leaf, number>;
  /** How far rounding the molar masses to two decimals can move the value, base unit. */
  readonly slack: number;
  /** Significant figures that the readings carry; Infinity for exact numbers. */
  readonly figures: number;
  readonly working: Working;
}

export type Reason =
  | 'tare-missing'
  | 'gross-missing'
  | 'density-missing'
  | 'formula-missing'
  | 'substance-unknown'
  | 'strength-missing'
  | 'amount-missing'
  | 'not-charged'
  | 'no-reaction'
  | 'no-limiting'
  | 'gas-conditions-missing'
  | 'unit-kind'
  | 'unreadable'
  | 'reference-unresolved'
  | 'depends';

/** A value that cannot be had, with the reason; never NaN. */
export interface Unknown {
  readonly missing: Reason;
  /** What is missing, in words: `a density of chloroform`. */
  readonly what: string;
}

export type Result = Held | Unknown;

export const isHeld = (r: Result | undefined): r is Held => r !== undefined && 'value' in r;
export const held = (r: Result | undefined): Held | undefined => (isHeld(r) ? r : undefined);
export const unknown = (missing: Reason, what: string): Unknown => ({ missing, what });

const NO_PARTS: ReadonlyMap<Leaf, number> = new Map();

/** An exact number: a coefficient, a counted thing. */
export function exact(kind: Kind, value: Decimal.Value, origin?: Origin): Held {
  return {
    kind,
    value: new Decimal(value),
    parts: NO_PARTS,
    slack: 0,
    figures: Number.POSITIVE_INFINITY,
    working: origin ? { inputs: [], origin } : { inputs: [] },
  };
}

/** An independent reading or table value with standard uncertainty `u`. */
export function reading(kind: Kind, value: Decimal, u: number, figures: number, leaf: Leaf, written?: string): Held {
  return {
    kind,
    value,
    parts: u > 0 ? new Map([[leaf, u]]) : NO_PARTS,
    slack: 0,
    figures,
    working: { inputs: [], origin: leaf.origin, ...(written !== undefined && { written }) },
  };
}

/** Combined standard uncertainty, base unit. */
export function uncertainty(h: Held): number {
  let sum = 0;
  for (const share of h.parts.values()) sum += share * share;
  return Math.sqrt(sum);
}

function mix(
  a: ReadonlyMap<Leaf, number>,
  fa: number,
  b: ReadonlyMap<Leaf, number>,
  fb: number,
): ReadonlyMap<Leaf, number> {
  if (a.size === 0 && b.size === 0) return NO_PARTS;
  const out = new Map<Leaf, number>();
  for (const [leaf, share] of a) out.set(leaf, share * fa);
  for (const [leaf, share] of b) out.set(leaf, (out.get(leaf) ?? 0) + share * fb);
  return out;
}

/** Power of ten of the last figure a value carries; −Infinity when exact. */
export function place(h: Held): number {
  if (h.figures === Number.POSITIVE_INFINITY) return Number.NEGATIVE_INFINITY;
  return (h.value.isZero() ? 0 : h.value.e) - h.figures + 1;
}

function figuresAt(value: Decimal, at: number): number {
  if (at === Number.NEGATIVE_INFINITY) return Number.POSITIVE_INFINITY;
  return Math.max(1, (value.isZero() ? 0 : value.e) - at + 1);
}

function sum(kind: Kind, a: Held, b: Held, sign: 1 | -1, working: Working): Held {
  const value = sign === 1 ? a.value.plus(b.value) : a.value.minus(b.value);
  return derived(kind, value, figuresAt(value, Math.max(place(a), place(b))), working, {
    parts: () => mix(a.parts, 1, b.parts, sign),
    slack: () => a.slack + b.slack,
  });
}

/**
 * A computed value. Shares and slack are worked out when somebody asks: most values of a page are only compared, and
 * their derivatives would cost more than they do.
 */
function derived(
  kind: Kind,
  value: Decimal,
  figures: number,
  working: Working,
  later: { readonly parts: () => ReadonlyMap<Leaf, number>; readonly slack: () => number },
): Held {
  let parts: ReadonlyMap<Leaf, number> | undefined;
  let slack: number | undefined;
  return {
    kind,
    value,
    figures,
    working,
    get parts() {
      parts ??= later.parts();
      return parts;
    },
    get slack() {
      slack ??= later.slack();
      return slack;
    },
  };
}

export const add = (a: Held, b: Held, working: Working): Held => sum(a.kind, a, b, 1, working);
export const subtract = (a: Held, b: Held, working: Working): Held => sum(a.kind, a, b, -1, working);

/** a · b · factor; `factor` turns the product of the base units into the base unit of `kind`. */
export function multiply(kind: Kind, a: Held, b: Held, working: Working, factor: Decimal.Value = 1): Held {
  const product = a.value.times(b.value);
  const value = factor === 1 ? product : product.times(factor);
  return derived(kind, value, Math.min(a.figures, b.figures), working, {
    parts: () => mix(a.parts, b.value.toNumber() * Number(factor), b.parts, a.value.toNumber() * Number(factor)),
    slack: () =>
      a.slack === 0 && b.slack === 0
        ? 0
        : Math.abs(Number(factor)) * (Math.abs(b.value.toNumber()) * a.slack + Math.abs(a.value.toNumber()) * b.slack),
  });
}

/** a ÷ b · factor; undefined when b is zero. */
export function divide(kind: Kind, a: Held, b: Held, working: Working, factor: Decimal.Value = 1): Held | undefined {
  if (b.value.isZero()) return undefined;
  const quotient = a.value.div(b.value);
  const value = factor === 1 ? quotient : quotient.times(factor);
  return derived(kind, value, Math.min(a.figures, b.figures), working, {
    parts: () => mix(a.parts, Number(factor) / b.value.toNumber(), b.parts, -value.toNumber() / b.value.toNumber()),
    slack: () => {
      if (a.slack === 0 && b.slack === 0) return 0;
      const divisor = Math.abs(b.value.toNumber());
      return (Math.abs(Number(factor)) * a.slack + Math.abs(value.toNumber()) * b.slack) / divisor;
    },
  });
}

/** The same value under another working: a name for it, another note. */
export const relabel = (h: Held, working: Working): Held =>
  derived(h.kind, h.value, h.figures, working, { parts: () => h.parts, slack: () => h.slack });

/** The same value as another kind: a ratio of amounts read as equivalents. */
export const asKind = (h: Held, kind: Kind): Held =>
  derived(kind, h.value, h.figures, h.working, { parts: () => h.parts, slack: () => h.slack });

/** Σ of values of one kind; undefined for none. */
export function total(values: readonly Held[], symbol: string): Held | undefined {
  const [first, ...rest] = values;
  if (!first) return undefined;
  if (rest.length === 0) return first;
  let acc = first;
  for (const h of rest) acc = sum(acc.kind, acc, h, 1, acc.working);
  return relabel(acc, {
    formula: values.map((_, i) => `${symbol}${sub(i + 1)}`).join(' + '),
    inputs: values.map((v, i) => ({ symbol: `${symbol}${sub(i + 1)}`, held: v })),
  });
}

const sub = (n: number): string => [...String(n)].map((d) => String.fromCodePoint(0x2080 + Number(d))).join('');

export const zero = (kind: Kind): Held => exact(kind, ZERO);
