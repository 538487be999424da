import { Decimal, ONE } from '../quantity/decimal';
import { elements, nuclides } from './elements';
import { alkylAt, ambiguous, type Composition, groupAt, isGroup, type Neighbour } from './groups';

/** The signs of a formula in order. `at` and `end` are offsets in the text. */
export type Sign =
  | { readonly kind: 'atom'; readonly key: string; readonly at: number; readonly end: number }
  | { readonly kind: 'group'; readonly parts: Composition; readonly at: number; readonly end: number }
  | { readonly kind: 'count' | 'multiplier'; readonly value: Decimal; readonly at: number; readonly end: number }
  | { readonly kind: 'open' | 'close' | 'dot' | 'variable' | 'repeat'; readonly at: number; readonly end: number }
  | { readonly kind: 'charge'; readonly charge: number; readonly at: number; readonly end: number };

export interface Problem {
  readonly problem: string;
  readonly at: number;
}

/** Longer than any formula a chemist writes; it bounds the work for pasted text. */
const LONGEST = 2000;
const LONGEST_COUNT = 9;

const SMALL: readonly Decimal[] = Array.from({ length: 128 }, (_, i) => (i === 1 ? ONE : new Decimal(i)));
const FRACTIONS: Readonly<Record<string, readonly [number, number]>> = {
  '½': [1, 2],
  '⅓': [1, 3],
  '⅔': [2, 3],
  '¼': [1, 4],
  '¾': [3, 4],
};
const CLOSES: Readonly<Record<string, string>> = { ')': '(', ']': '[', '}': '{' };
const DOTS = '·⋅∙•‧・*.';

const CHARGE = /(?:\^\{?(?:(\d*)([+-]+)|([+-])(\d+))\}?|([⁰¹²³⁴⁵⁶⁷⁸⁹]*)([⁺⁻]+)|([⁰¹²³⁴⁵⁶⁷⁸⁹]+)([+-]+)|([+-]+))$/;
const LABEL = /[[(](\d{1,3})([A-Z][a-z]?)(\d{0,3})[\])]/y;
const SUPERSCRIPT_LABEL = /([⁰¹²³⁴⁵⁶⁷⁸⁹]{1,3})([A-Z][a-z]?)/y;

const SUPERSCRIPTS = '⁰¹²³⁴⁵⁶⁷⁸⁹';
const plain = (superscript: string): string => superscript.replace(/./g, (c) => String(SUPERSCRIPTS.indexOf(c)));

/** Value of a digit or subscript digit, -1 for anything else. */
function digit(code: number): number {
  if (code >= 48 && code <= 57) return code - 48;
  return code >= 0x2080 && code <= 0x2089 ? code - 0x2080 : -1;
}

const isUpper = (code: number): boolean => code >= 65 && code <= 90;
const isLower = (code: number): boolean => code >= 97 && code <= 122;

/** Splits a formula into its signs, or says what is wrong and where. Linear in the text; never throws. */
export function scan(text: string): readonly Sign[] | Problem {
  if (text.length > LONGEST) return { problem: 'This is too long for a formula', at: LONGEST };
  const charge = chargeAtEnd(text);
  if (charge && 'problem' in charge) return charge;
  const signs = scanBody(text, charge ? charge.at : text.length);
  if ('problem' in signs) return signs;
  if (charge) return withCharge(text, signs, charge);
  return signs;
}

interface Ending {
  readonly at: number;
  readonly charge: number;
  /** A bare sign: digits before it are a count, except after a bracket round everything. */
  readonly bare: boolean;
}

function chargeAtEnd(text: string): Ending | Problem | undefined {
  if (!'+-−–‐‑⁺⁻'.includes(text.at(-1) ?? ' ') && !text.includes('^')) return undefined;
  const found = CHARGE.exec(text.replace(/[−–‐‑]/g, '-'));
  if (!found) return undefined;
  const [, caretDigits, caretSigns, signFirst, digitsLast, super1, superSigns, super2, asciiSigns, bare] = found;
  const signs = caretSigns ?? signFirst ?? superSigns ?? asciiSigns ?? bare ?? '';
  const digits = caretDigits || digitsLast || plain(super1 || super2 || '');
  const at = found.index;
  if (new Set(signs).size > 1) return { problem: 'A charge has one sign', at };
  if (digits && signs.length > 1) return { problem: 'A charge is written as 2+ or as ++, not as both', at };
  if (digits.length > 3 || signs.length > 9) return { problem: 'No ion has a charge like this', at };
  const magnitude = digits ? Number(digits) : signs.length;
  return { at, charge: /[+⁺]/.test(signs) ? magnitude : -magnitude, bare: bare !== undefined };
}

function withCharge(text: string, signs: readonly Sign[], ending: Ending): readonly Sign[] | Problem {
  const last = signs.at(-1);
  const whole =
    ending.bare && last?.kind === 'count' && signs.at(-2)?.kind === 'close' && text[0] === '[' && spansAll(signs);
  if (!whole) return [...signs, { kind: 'charge', charge: ending.charge, at: ending.at, end: text.length }];
  if (Math.abs(ending.charge) !== 1) return { problem: 'A charge is written as 2+ or as ++, not as both', at: last.at };
  const magnitude = last.value.toNumber();
  if (magnitude > 999) return { problem: 'No ion has a charge like this', at: last.at };
  return [...signs.slice(0, -1), { kind: 'charge', charge: ending.charge * magnitude, at: last.at, end: text.length }];
}

/** Whether the bracket that opens the formula is the one that closes last. */
function spansAll(signs: readonly Sign[]): boolean {
  let depth = 0;
  return (
    signs.findIndex((sign) => {
      depth += sign.kind === 'open' ? 1 : sign.kind === 'close' ? -1 : 0;
      return depth === 0;
    }) ===
    signs.length - 2
  );
}

function scanBody(text: string, end: number): readonly Sign[] | Problem {
  const table = elements();
  const signs: Sign[] = [];
  const open: number[] = [];
  let unsettled = false;
  let i = 0;

  while (i < end) {
    const at = i;
    const code = text.charCodeAt(i);
    const char = text[i]!;
    const last = signs.at(-1)?.kind;
    const partStart = last === undefined || last === 'dot';
    const mayLigand = last === 'open' || last === 'dot' || last === 'multiplier';

    if (isUpper(code)) {
      const group = groupAt(text, i, mayLigand);
      if (group) {
        i += group.name.length;
        signs.push({ kind: 'group', parts: group.parts, at, end: i });
        continue;
      }
      const symbol = symbolAt(text, i, table);
      if (!symbol) return { problem: `“${wordAt(text, i)}” is not an element symbol`, at };
      i += symbol.length;
      if (ambiguous(symbol)) unsettled = true;
      signs.push({ kind: 'atom', key: symbol === 'D' ? '2H' : symbol === 'T' ? '3H' : symbol, at, end: i });
      continue;
    }

    const number = digit(code);
    if (number >= 0 || char in FRACTIONS) {
      const read = partStart ? readMultiplier(text, i, end) : readCount(text, i, end);
      if ('problem' in read) return read;
      if (!partStart && (last === 'count' || last === 'open' || last === 'multiplier')) {
        return { problem: `The number ${text.slice(at, read.end)} counts nothing here`, at };
      }
      i = read.end;
      signs.push({ kind: partStart ? 'multiplier' : 'count', value: read.value, at, end: i });
      continue;
    }

    if (char === '(' || char === '[' || char === '{') {
      LABEL.lastIndex = i;
      const label = LABEL.exec(text);
      if (label) {
        const [whole, mass = '', symbol = '', count] = label;
        if (!nuclides().has(mass + symbol)) return unknownNuclide(mass, symbol, at);
        i += whole.length;
        const key = mass + symbol;
        signs.push(
          count ? { kind: 'group', parts: [[key, Number(count)]], at, end: i } : { kind: 'atom', key, at, end: i },
        );
        continue;
      }
      open.push(signs.length);
      signs.push({ kind: 'open', at, end: ++i });
      continue;
    }

    const opener = CLOSES[char];
    if (opener) {
      const from = open.pop();
      if (from === undefined) return { problem: `“${char}” closes no bracket`, at };
      const opened = text[signs[from]!.at]!;
      if (opened !== opener) return { problem: `“${char}” cannot close “${opened}”`, at };
      if (last === 'open') return { problem: 'There is nothing between the brackets', at: signs[from]!.at };
      signs.push({ kind: 'close', at, end: ++i });
      continue;
    }

    if (DOTS.includes(char)) {
      if (open.length > 0) return { problem: 'A dot cannot stand inside brackets', at };
      if (partStart) return { problem: 'There is nothing before the dot', at };
      if (last === 'multiplier') return { problem: 'A formula must follow the number', at: signs.at(-1)!.at };
      signs.push({ kind: 'dot', at, end: ++i });
      continue;
    }

    if (code === 32 || code === 0xa0 || code === 0x202f || code === 0x2009) {
      let next = i;
      while (next < end && /\s/.test(text[next]!)) next++;
      const around = last === undefined || last === 'dot' || last === 'multiplier' || last === 'variable';
      if (around || next === end || DOTS.includes(text[next]!)) {
        i = next;
        continue;
      }
      return { problem: 'A formula has no blanks in it', at };
    }

    if (last === 'dot' && (char === 'x' || char === 'n') && /[A-Z([{ ]/.test(text.charAt(i + 1))) {
      signs.push({ kind: 'variable', at, end: ++i });
      continue;
    }
    if (char === 'n' && last === 'close' && i === end - 1) {
      signs.push({ kind: 'repeat', at, end: ++i });
      continue;
    }

    SUPERSCRIPT_LABEL.lastIndex = i;
    const label = SUPERSCRIPTS.includes(char) ? SUPERSCRIPT_LABEL.exec(text) : null;
    if (label) {
      const mass = plain(label[1]!);
      if (!nuclides().has(mass + label[2])) return unknownNuclide(mass, label[2]!, at);
      i += label[0].length;
      signs.push({ kind: 'atom', key: mass + label[2], at, end: i });
      continue;
    }

    const group = isLower(code) ? (alkylAt(text, i) ?? (mayLigand ? groupAt(text, i, true) : undefined)) : undefined;
    if (!group) return { problem: strange(text, i), at };
    i += group.name.length;
    signs.push({ kind: 'group', parts: group.parts, at, end: i });
  }

  const unclosed = open.at(-1);
  if (unclosed !== undefined) {
    const { at } = signs[unclosed]!;
    return { problem: `The bracket “${text[at]}” is not closed`, at };
  }
  const last = signs.at(-1);
  if (!last) return { problem: 'There is no formula here', at: 0 };
  if (last.kind === 'dot') return { problem: 'There is nothing after the dot', at: last.at };
  if (last.kind === 'multiplier' || last.kind === 'variable') {
    return { problem: 'A formula must follow the number', at: last.at };
  }
  return unsettled ? settle(signs) : signs;
}

function symbolAt(text: string, i: number, table: ReadonlyMap<string, unknown>): string | undefined {
  const one = text.charAt(i);
  if (isLower(text.charCodeAt(i + 1))) {
    const two = text.slice(i, i + 2);
    // N(iPr), N(iBu), P(tBu), O(sBu) written without brackets: HNiPr2 holds no nickel.
    const branched = /^(?:NiPr|NiBu|PtBu|OsBu)/.test(text.slice(i, i + 4));
    if (table.has(two) && !branched) return two;
  }
  return table.has(one) || one === 'D' || one === 'T' ? one : undefined;
}

const wordAt = (text: string, i: number): string => /^.[a-z]{0,20}/.exec(text.slice(i, i + 21))?.[0] ?? '';

const unknownNuclide = (mass: string, symbol: string, at: number): Problem => ({
  problem: elements().has(symbol)
    ? `No mass is known here for the isotope ${mass}${symbol}`
    : `“${symbol}” is not an element symbol`,
  at,
});

function strange(text: string, i: number): string {
  const char = String.fromCodePoint(text.codePointAt(i)!);
  if (/[+\-⁺⁻−–]/.test(char)) return 'A charge stands at the end of a formula, as in Fe^2+';
  if (char === '^') return 'A charge is written as in Fe^2+ or Cr2O7^2-';
  if (/[xyn]/.test(char) && !isLower(text.charCodeAt(i + 1))) return `The count “${char}” needs a number`;
  if (isLower(text.charCodeAt(i))) return `“${wordAt(text, i)}” is not an element symbol: those begin with a capital`;
  return `“${char}” cannot stand in a formula`;
}

interface ReadNumber {
  readonly value: Decimal;
  readonly end: number;
}

/**
 * A count behind an atom or a bracket. A full stop ends it, since `CuSO4.5H2O` is a hydrate; only a count that begins
 * with `0.` has decimals, for nothing can be there nought times.
 */
function readCount(text: string, at: number, end: number): ReadNumber | Problem {
  let i = at;
  let value = 0;
  for (let d = digit(text.charCodeAt(i)); i < end && d >= 0; d = digit(text.charCodeAt(++i))) {
    if (i - at >= LONGEST_COUNT) return { problem: 'This count is too large', at };
    value = 10 * value + d;
  }
  if (i === at) return { problem: `“${text[at]}” stands only before the part of a dot`, at };
  if (value === 0) {
    const decimals = /^[0₀]\.\d{1,9}(?!\d)/.exec(text.slice(at, at + 12))?.[0];
    if (!decimals || /^.\.0+$/.test(decimals)) return { problem: 'A count of 0 says nothing', at };
    return { value: new Decimal(`0${decimals.slice(1)}`), end: at + decimals.length };
  }
  return { value: SMALL[value] ?? new Decimal(value), end: i };
}

/** A number before a part: `5`, `0.5`, `1/2`, `½`. */
function readMultiplier(text: string, at: number, end: number): ReadNumber | Problem {
  const written = text.slice(at, Math.min(end, at + 40));
  const fraction = FRACTIONS[text[at]!];
  if (fraction) return { value: new Decimal(fraction[0]).div(fraction[1]), end: at + 1 };
  const found = /^(\d+)(?:\.(\d+)|\/(\d+))?/.exec(written.replace(/[₀-₉]/g, (c) => String(digit(c.charCodeAt(0)))));
  const [whole = '', upper = '', decimals = '', lower] = found ?? [];
  if (upper.length + decimals.length > 2 * LONGEST_COUNT || (lower?.length ?? 0) > LONGEST_COUNT) {
    return { problem: 'This number is too long', at };
  }
  const value = lower ? new Decimal(upper).div(lower) : new Decimal(decimals ? `${upper}.${decimals}` : upper);
  if (!value.isFinite() || value.isZero()) return { problem: 'A count of 0 says nothing', at };
  return { value, end: at + whole.length };
}

/** Decides for each Pr and Ac whether it is the element or the group. */
function settle(signs: readonly Sign[]): readonly Sign[] {
  const settled = [...signs];
  const countAt = (i: number): number => {
    const sign = settled[i];
    return sign?.kind === 'count' ? sign.value.toNumber() : 1;
  };
  const neighbour = (i: number): Neighbour | undefined => {
    const sign = settled[i];
    if (!sign) return undefined;
    return { what: sign.kind === 'atom' ? sign.key : sign.kind, count: countAt(i + 1) };
  };
  const skipCount = (i: number): number => (settled[i]?.kind === 'count' ? i + 1 : i);

  for (const [i, sign] of signs.entries()) {
    const parts = sign.kind === 'atom' ? ambiguous(sign.key) : undefined;
    if (!parts) continue;
    const next = skipCount(i + 1);
    const before = settled[i - 1]?.kind === 'count' ? i - 2 : i - 1;
    if (isGroup(countAt(i + 1), neighbour(before), neighbour(next), neighbour(skipCount(next + 1)))) {
      settled[i] = { kind: 'group', parts, at: sign.at, end: sign.end };
    }
  }
  return settled;
}
