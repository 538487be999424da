import { Decimal, ONE } from '../quantity/decimal';
import { elementOf, elements, isMetal } from './elements';
import { type Sign, scan } from './scan';

/** Exact composition. Keys are element symbols (`C`) or labelled nuclides (`13C`, `2H`). */
export interface Formula {
  /** As written. */
  readonly text: string;
  /** How many of each; fractional for hydrates such as 0.5 H2O. */
  readonly counts: ReadonlyMap<string, Decimal>;
  /** In elementary charges. */
  readonly charge: number;
  /** Water of crystallisation of a formula with a dot: how many waters, and the formula without them. */
  readonly hydrate?: { readonly waters: Decimal; readonly dry: Formula };
  /** Offset of the first `*` or full stop that stands for the dot. */
  readonly dotAt?: number;
  /** Written `(C2H4)n`: the composition is that of one repeat unit. */
  readonly repeat?: true;
  /** What was probably meant, `SO4^2-` for `SO42-` and `Fe^3+` for `Fe3+`: a bare sign leaves the digits a count. */
  readonly meant?: string;
}

export type FormulaResult =
  | { readonly ok: true; readonly formula: Formula }
  | { readonly ok: false; readonly problem: string; readonly at: number };

type Counts = Map<string, Decimal>;

/** The electron of a half equation. */
const ELECTRON = /^e(?:\^?[-−–]|⁻)$/;

/**
 * Reads a chemical formula: nested brackets, dots, charges (`Fe^2+`, `Fe²⁺`, `[SO4]2-`, `Na+`), isotopes (`[13C]`, `D`),
 * abbreviated groups (`Et3N`) and repeat units. Never throws.
 *
 * @param x the value of the variable in `·xH2O`
 */
export function parseFormula(text: string, x?: Decimal): FormulaResult {
  if (ELECTRON.test(text)) return { ok: true, formula: { text, counts: new Map(), charge: -1 } };
  const signs = scan(text);
  if ('problem' in signs) return { ok: false, ...signs };

  const parts = splitAtDots(signs);
  const variable = signs.find((sign) => sign.kind === 'variable');
  if (variable && !x?.isFinite()) {
    const letter = text[variable.at];
    return { ok: false, problem: `The number ${letter} is not given: add “${letter} = …”`, at: variable.at };
  }
  if (variable && x?.isNegative()) return { ok: false, problem: 'There cannot be less than no water', at: variable.at };
  const ending = signs.at(-1)!;
  const charge = ending.kind === 'charge' ? ending.charge : 0;
  const scaled = parts.map((part) => ({ signs: part, factor: factorOf(part[0], x), counts: countsOf(part) }));
  const counts = scaled.length === 1 && scaled[0]!.factor === ONE ? scaled[0]!.counts : total(scaled);
  const written = signs.find((sign) => sign.kind === 'dot' && (text[sign.at] === '*' || text[sign.at] === '.'));
  const hydrate = parts.length > 1 ? hydrateOf(text, scaled, charge) : undefined;
  const meant = charge === 0 ? undefined : meantCharge(text, signs);
  return {
    ok: true,
    formula: {
      text,
      counts,
      charge,
      ...(hydrate && { hydrate }),
      ...(written && { dotAt: written.at }),
      ...(signs.some((sign) => sign.kind === 'repeat') && { repeat: true as const }),
      ...(meant && { meant }),
    },
  };
}

/**
 * A metal with a count and one plus is its ion, and a count from 22 on that ends in 2, 3 or 4 holds the charge, except
 * of carbon and hydrogen, where such counts are real.
 */
function meantCharge(text: string, signs: readonly Sign[]): string | undefined {
  const [owner, count, ending] = signs.slice(-3);
  if (count?.kind !== 'count' || ending?.kind !== 'charge' || !/^[+\-−–‐‑]$/.test(text.slice(ending.at)))
    return undefined;
  const digits = text.slice(count.at, count.end);
  const sign = ending.charge > 0 ? '+' : '-';
  if (signs.length === 3 && owner?.kind === 'atom' && isMetal(owner.key) && /^[2-4]$/.test(digits) && sign === '+') {
    return `${text.slice(0, count.at)}^${digits}+`;
  }
  const real = owner?.kind === 'atom' && /^(?:\d*H|\d*C)$/.test(owner.key);
  if (real || !/^[2-9][2-4]$/.test(digits)) return undefined;
  return `${text.slice(0, count.end - 1)}^${digits[1]}${sign}`;
}

interface Part {
  readonly signs: readonly Sign[];
  readonly factor: Decimal;
  readonly counts: Counts;
}

function splitAtDots(signs: readonly Sign[]): readonly (readonly Sign[])[] {
  if (!signs.some((sign) => sign.kind === 'dot')) return [signs];
  const parts: Sign[][] = [[]];
  for (const sign of signs) {
    if (sign.kind === 'dot') parts.push([]);
    else parts.at(-1)!.push(sign);
  }
  return parts;
}

function factorOf(first: Sign | undefined, x: Decimal | undefined): Decimal {
  if (first?.kind === 'multiplier') return first.value;
  return first?.kind === 'variable' ? x! : ONE;
}

/** Read from the right, so that what multiplies an atom is known before the atom: linear at any depth. */
function countsOf(signs: readonly Sign[]): Counts {
  const counts: Counts = new Map();
  const outer: Decimal[] = [];
  let factor = ONE;
  let count = ONE;
  for (let i = signs.length - 1; i >= 0; i--) {
    const sign = signs[i]!;
    switch (sign.kind) {
      case 'count':
        count = sign.value;
        break;
      case 'close':
        outer.push(factor);
        factor = times(factor, count);
        count = ONE;
        break;
      case 'open':
        factor = outer.pop()!;
        break;
      case 'atom':
        add(counts, sign.key, times(factor, count));
        count = ONE;
        break;
      case 'group': {
        const each = times(factor, count);
        for (const [symbol, n] of sign.parts) add(counts, symbol, n === 1 ? each : each.times(n));
        count = ONE;
      }
    }
  }
  return counts;
}

const times = (a: Decimal, b: Decimal): Decimal => (a === ONE ? b : b === ONE ? a : a.times(b));

function add(counts: Counts, key: string, n: Decimal): void {
  const before = counts.get(key);
  counts.set(key, before ? before.plus(n) : n);
}

function total(parts: readonly Part[]): Counts {
  const counts: Counts = new Map();
  for (const part of parts) {
    if (part.factor.isZero()) continue;
    for (const [key, n] of part.counts) add(counts, key, times(n, part.factor));
  }
  return counts;
}

function hydrateOf(text: string, parts: readonly Part[], charge: number): Formula['hydrate'] {
  const dry = parts.filter((part) => !isWater(part.counts));
  if (dry.length === 0 || dry.length === parts.length) return undefined;
  const waters = parts
    .filter((part) => isWater(part.counts))
    .reduce((sum, part) => sum.plus(part.factor), new Decimal(0));
  const written = dry.map((part) => text.slice(part.signs[0]!.at, part.signs.at(-1)!.end)).join('·');
  return { waters, dry: { text: written, counts: total(dry), charge } };
}

function isWater(counts: ReadonlyMap<string, Decimal>): boolean {
  const hydrogen = counts.get('H') ?? counts.get('2H');
  return counts.size === 2 && (counts.get('O')?.eq(1) ?? false) && (hydrogen?.eq(2) ?? false);
}

// Formulas without a digit whose letters are all capitals, and elements with a count under a one-letter symbol: few
// are substances, most are abbreviations, units and labels (NBS, DBU, UV, B12, F1).
const CAPITALS = new Set(
  'CO NO HF HI HD KF KI KH KD BN KOH KOD HCN KCN ICN COS OCS HOD HDO KSH KHS KSCN KNCS KOCN KNCO HSCN HNCS HOCN HNCO TMSCN TMSI TESH'.split(
    ' ',
  ),
);
const MOLECULES = new Set('H2 D2 T2 N2 O2 O3 F2 I2 P2 P4 S2 S6 S8 C60 C70 C2 N3 I3'.split(' '));
const WORDS = new Set('He Be As At In No Am Ho Ha Pa La Po Pm Md Fm Ac Pr PhD T3P PyBOP IDs NaN HPa KPa'.split(' '));

/**
 * Whether a name is a formula by its looks. No for words, single letters, abbreviations in capitals (NBS, DBU) and
 * labels (B2); yes for NaCl, CuSO4·5H2O, Et3N, Zn. `parseFormula` reads more, for places where only a formula can be.
 */
export function looksLikeFormula(text: string): boolean {
  if (text.length > 200 || !/^[A-Z([{\di-t⁰-⁹¹²³e]/.test(text)) return false;
  if (ELECTRON.test(text)) return true;
  const signs = scan(text);
  if ('problem' in signs || /\s$/.test(text)) return false;
  const parts = splitAtDots(signs);
  if (parts.length === 1 && signs[0]!.kind === 'multiplier') return false;
  return looksWhole(text, parts[0]!) && parts.slice(1).every((part) => part.length > 1 || part[0]!.kind === 'group');
}

function looksWhole(text: string, part: readonly Sign[]): boolean {
  if (part.some((sign) => sign.kind === 'charge')) return true;
  const named = part.filter((sign) => sign.kind === 'atom' || sign.kind === 'group');
  const written = text.slice(part[0]!.at, part.at(-1)!.end);
  if (WORDS.has(written)) return false;
  const [only] = named;
  if (named.length === 1 && only) {
    if (only.kind === 'group') return part.length > 1 || written !== text;
    if (only.end - only.at === 1)
      return MOLECULES.has(written.replace(/[₀-₉]/g, (c) => String(c.charCodeAt(0) - 0x2080)));
    const symbol = elementOf(only.key);
    return elements().get(symbol)?.weight !== undefined;
  }
  return !/^[A-Z]+$/.test(written) || CAPITALS.has(written);
}

const superscript = (digits: string): string =>
  digits.replace(/[\d+-]/g, (c) => '⁰¹²³⁴⁵⁶⁷⁸⁹'[Number(c)] ?? (c === '+' ? '⁺' : '⁻'));
const subscript = (digits: string): string => digits.replace(/\d/g, (c) => String.fromCharCode(0x2080 + Number(c)));

/** Keys in the order of Hill: carbon, hydrogen, then by symbol; without carbon all by symbol. Nuclides follow. */
export function hillOrder(counts: ReadonlyMap<string, unknown>): readonly string[] {
  const keys = [...counts.keys()].map((key) => ({ key, symbol: elementOf(key), mass: Number.parseInt(key, 10) || 0 }));
  const carbon = keys.some(({ symbol }) => symbol === 'C');
  const rank = (symbol: string): number => (carbon ? (symbol === 'C' ? 0 : symbol === 'H' ? 1 : 2) : 0);
  return keys
    .sort((a, b) => rank(a.symbol) - rank(b.symbol) || compare(a.symbol, b.symbol) || a.mass - b.mass)
    .map(({ key }) => key);
}

const compare = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

/** The formula in Hill order, nuclides in brackets, the charge behind a caret: `C7H14O2`, `C[2H]Cl3`, `Cr2O7^2-`. */
export function hill(f: Formula): string {
  const atoms = hillOrder(f.counts).map((key) => {
    const count = f.counts.get(key)!;
    return (/^\d/.test(key) ? `[${key}]` : key) + (count.eq(1) ? '' : count.toString());
  });
  if (f.charge === 0) return atoms.join('');
  const magnitude = Math.abs(f.charge);
  return `${atoms.join('') || 'e'}^${magnitude === 1 ? '' : magnitude}${f.charge > 0 ? '+' : '-'}`;
}

/** The formula with real subscripts, superscripts and dots: `K₃[Fe(C₂O₄)₃]·3H₂O`, `Cr₂O₇²⁻`. As given if it is none. */
export function prettyFormula(text: string): string {
  if (ELECTRON.test(text)) return 'e⁻';
  const signs = scan(text);
  if ('problem' in signs) return text;
  return signs.map((sign) => pretty(sign, text.slice(sign.at, sign.end))).join('');
}

function pretty(sign: Sign, written: string): string {
  switch (sign.kind) {
    case 'dot':
      return '·';
    case 'count':
      return subscript(written);
    case 'repeat':
      return 'ₙ';
    case 'charge': {
      const magnitude = Math.abs(sign.charge);
      return superscript(`${magnitude === 1 ? '' : magnitude}${sign.charge > 0 ? '+' : '-'}`);
    }
    case 'atom':
    case 'group':
      return written.replace(
        /^([[(])(\d+)([A-Z][a-z]?)(\d*)/,
        (_, bracket, mass, symbol, count) => bracket + superscript(mass) + symbol + subscript(count),
      );
    default:
      return written;
  }
}

/** Same atoms and same charge, however they are written. */
export function sameComposition(a: Formula, b: Formula): boolean {
  return (
    a.charge === b.charge &&
    a.counts.size === b.counts.size &&
    [...a.counts].every(([key, count]) => b.counts.get(key)?.eq(count) ?? false)
  );
}

/** Counts of `a` plus `factor` times those of `b`; what adds up to nothing is left out, what is lacking is negative. */
export function addScaled(
  a: ReadonlyMap<string, Decimal>,
  b: ReadonlyMap<string, Decimal>,
  factor: Decimal = ONE,
): ReadonlyMap<string, Decimal> {
  const sum: Counts = new Map(a);
  for (const [key, count] of b) add(sum, key, times(count, factor));
  return new Map([...sum].filter(([, count]) => !count.isZero()));
}

/** Counts of `a` without those of `b`. */
export const subtract = (
  a: ReadonlyMap<string, Decimal>,
  b: ReadonlyMap<string, Decimal>,
): ReadonlyMap<string, Decimal> => addScaled(a, b, new Decimal(-1));
