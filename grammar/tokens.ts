/**
 * The tokens of one statement's facts.
 *
 * Most patterns are functions, because what a character means depends on the white space round it and on what stands
 * to the left: a bracket is a claim only after an amount, a number is a number only if it does not begin a name, a
 * known word counts only at the start of a fact. The last pattern takes anything, so lexing cannot fail.
 */
import { type CustomPatternMatcherReturn, createToken, type IToken, Lexer, type TokenType } from 'chevrotain';
import { isDigit, isWhite, lineEnd, trim } from './lines';
import { spellings } from './spellings';
import type { NumberNode } from './tree';
import {
  APART,
  CLAIM_FACTS,
  FACTS,
  type FactKey,
  type FactRow,
  KEYWORDS,
  type Keyword,
  UNITS,
  type UnitRow,
  type UnitSymbol,
} from './vocabulary';

const LF = 10;
const CR = 13;
const COMMA = 44;
const SEMICOLON = 59;
const TILDE = 126;
const POINT = 46;

const isBreak = (code: number): boolean => code === LF || code === CR;
/** White space or the text's end (where `charCodeAt` is NaN). */
const isGap = (code: number): boolean => Number.isNaN(code) || isWhite(code);

function skipBlanks(text: string, at: number): number {
  let i = at;
  for (; i < text.length; i++) {
    const code = text.charCodeAt(i);
    if (!isWhite(code) || isBreak(code)) break;
  }
  return i;
}

function skipWhite(text: string, at: number): number {
  let i = at;
  while (i < text.length && isWhite(text.charCodeAt(i))) i++;
  return i;
}

/** Whether a word may end before `end`. */
function endsWord(text: string, end: number): boolean {
  const code = text.charCodeAt(end);
  if (isGap(code) || code === SEMICOLON || code === 41 || code === 93) return true;
  if (code === COMMA || code === POINT) return isGap(text.charCodeAt(end + 1));
  return code === TILDE && text.charCodeAt(end + 1) === TILDE;
}

// ------------------------------------------------------------------------------------------------ units

export interface UnitRead {
  readonly symbol: UnitSymbol;
  readonly wrong: boolean;
  readonly amount: boolean;
}

const FOLDED = new Map<number, number>();
const foldTo = (to: string, from: string) => {
  for (const c of from) FOLDED.set(c.charCodeAt(0), to.charCodeAt(0));
};
foldTo('μ', 'µ');
foldTo('°', 'º˚');
foldTo('Å', 'Å');
foldTo(' ', '·⋅∙•*');
foldTo('-', '⁻−‐‑–');
for (let i = 0; i < 10; i++) foldTo(String(i), '⁰¹²³⁴⁵⁶⁷⁸⁹'[i]! + '₀₁₂₃₄₅₆₇₈₉'[i]!);
FOLDED.set('^'.charCodeAt(0), 0);
const foldUnit = (code: number): number =>
  code === 94 || code > 127 || code === 42 ? (FOLDED.get(code) ?? code) : code;

const LETTER = /[\p{L}\p{N}]/u;

/** A unit ends where no letter, digit or operator goes on with it. */
function endsUnit(text: string, end: number): boolean {
  const code = text.charCodeAt(end);
  if (isGap(code)) return true;
  if (code < 128) {
    if (code === 45) return isDigit(text.charCodeAt(end + 1)); // `133 °C-135 °C`
    return !(
      isDigit(code) ||
      (code >= 65 && code <= 90) ||
      (code >= 97 && code <= 122) ||
      code === 47 ||
      code === 94 ||
      code === 37
    );
  }
  return !LETTER.test(text[end]!) && !'°⁻·⋅′'.includes(text[end]!);
}

const symbols = Object.keys(UNITS) as UnitSymbol[];

const RIGHT = new Map<string, UnitRead>();
const WRONG = new Map<string, UnitRead>();
for (const symbol of symbols) {
  const { also = [], wrong = [], unread, ...row }: UnitRow = UNITS[symbol];
  const amount = row.amount === true;
  for (const spelling of unread ? also : [symbol, ...also]) RIGHT.set(spelling, { symbol, wrong: false, amount });
  for (const spelling of wrong) WRONG.set(spelling, { symbol, wrong: true, amount });
}
const unitSpellings = spellings([...RIGHT, ...WRONG], endsUnit, foldUnit);

/** The unit that begins at `at`. */
export function unitAt(text: string, at: number): { readonly value: UnitRead; readonly end: number } | undefined {
  const found = unitSpellings.at(text, at);
  if (found === undefined) return undefined;
  const written = text.slice(at, found.end);
  return { value: RIGHT.get(written) ?? WRONG.get(written) ?? found.value, end: found.end };
}

// ---------------------------------------------------------------------------------------------- numbers

export type NumberRead = Pick<NumberNode, 'digits' | 'defect' | 'concise'>;

const THIN = '\\u2009\\u202f';
const EXPONENT = '(?:\\^[+\\-−–]?\\d+|[⁺⁻]?[⁰¹²³⁴⁵⁶⁷⁸⁹]+)';
const NUMBER = new RegExp(
  `([+\\-−‐–]?)(\\d+(?:[${THIN}\\u00a0]\\d{3}(?!\\d))*(?:[.,]\\d+)*(?:[${THIN}]\\d{1,3}(?!\\d))*|\\.\\d+)` +
    `(?:\\((\\d+)\\))?(?:[eE]([+\\-−–]?\\d+)|[^\\S\\r\\n]{0,2}[×x✕·*][^\\S\\r\\n]{0,2}10(${EXPONENT})|(${EXPONENT}))?`,
  'y',
);
const RAISED = new Map([...'⁰¹²³⁴⁵⁶⁷⁸⁹⁺⁻−–'].map((c, i) => [c, i < 10 ? String(i) : i === 10 ? '' : '-']));
const plainDigits = (raised: string): string =>
  [...raised]
    .map((c) => RAISED.get(c) ?? c)
    .join('')
    .replace(/[\^+]/g, '');

const GROUPS = /^\d{1,3}(?:,\d{3})+$/;

/** What a written number says, without sign and exponent. */
function readForm(form: string): Pick<NumberRead, 'digits' | 'defect'> {
  if (/^\d+(?:\.\d+)?$/.test(form)) return { digits: form };
  const number = form.replace(/[\u2009\u202f\u00a0]/g, '');
  if (number.startsWith('.')) return { digits: `0${number}`, defect: 'leading-point' };
  const points = number.split('.').length - 1;
  const commas = number.split(',').length - 1;
  if (commas === 0) return points <= 1 ? { digits: number } : { defect: 'malformed' };
  const [whole = '', fraction = ''] = number.split(points === 0 ? ',' : '.');
  if (commas === 1 && points === 0) {
    // `1,234` may be either; `0,123` and `12,5` can only be decimals
    if (GROUPS.test(number) && !whole.startsWith('0')) return { defect: 'thousands-comma' };
    return { digits: `${whole}.${fraction}`, defect: 'decimal-comma' };
  }
  if (points === 0 && GROUPS.test(number)) return { digits: number.replaceAll(',', ''), defect: 'thousands-comma' };
  if (points === 1 && GROUPS.test(whole)) return { digits: number.replaceAll(',', ''), defect: 'thousands-comma' };
  if (commas === 1 && /^\d{1,3}(?:\.\d{3})+,\d+$/.test(number)) {
    return { digits: number.replaceAll('.', '').replace(',', '.'), defect: 'decimal-comma' };
  }
  return { defect: 'malformed' };
}

interface NumberFound {
  readonly value: NumberRead;
  readonly end: number;
}

const TIMES = /[×✕x*][^\S\r\n]{0,2}(?=[+\-−–]?\.?\d)/y;
const PLUS_MINUS = /(?:±|\+\/-|\+\/−)[^\S\r\n]{0,2}(?=\.?\d)/y;
const DASH = /[^\S\r\n]{0,2}[–—][^\S\r\n]{0,2}(?=[+\-−–]?\.?\d)/y;
const HYPHEN = /[^\S\r\n]{0,2}[-−‐‑][^\S\r\n]{0,2}(?=[+\-−–]?\.?\d)/y;
const TO = /to[^\S\r\n]{1,2}(?=[+\-−–]?\.?\d)/y;
const ABOUT = /(?:[~≈∼]|(?:ca\.?|about|approx\.?|circa)(?=[^\S\r\n]))[^\S\r\n]{0,2}(?=[+\-−–]?\.?\d)/y;

function matchEnd(pattern: RegExp, text: string, at: number): number {
  pattern.lastIndex = at;
  return pattern.test(text) ? pattern.lastIndex : -1;
}

/** How much may still follow a number: `2 × ` once, then one `±`, `–` or `to`. Bounds the look-ahead. */
type Depth = 0 | 1 | 2;

/** A number, unless it is the beginning of a name (`2-propanol`, `1H`, `3,5-di…`), a date, a time or a ratio. */
function numberAt(text: string, at: number, depth: Depth = 0): NumberFound | undefined {
  NUMBER.lastIndex = at;
  const match = NUMBER.exec(text);
  if (match === null) return undefined;
  const [, sign = '', form = '', concise, scientific, power, bare] = match;
  if (bare !== undefined && form !== '10') return undefined;
  const end = NUMBER.lastIndex;
  const { digits, defect } = readForm(form);
  const exponent = scientific ?? power ?? bare;
  const raised = exponent === undefined ? '' : `e${plainDigits(exponent)}`;
  const minus = sign === '' || sign === '+' ? '' : '-';
  const value: NumberRead = {
    ...(digits === undefined ? {} : { digits: `${minus}${bare === undefined ? digits : '1'}${raised}` }),
    ...(defect === undefined ? {} : { defect }),
    ...(concise === undefined ? {} : { concise }),
  };
  const blanks = skipBlanks(text, end);
  const unit = unitAt(text, blanks);
  const hasUnit = unit !== undefined && (blanks > end || !APART.has(text.slice(blanks, unit.end)));
  // Without a unit a comma or two points may as well belong to a name or a date.
  if (defect === 'malformed' && !hasUnit) return undefined;
  if (defect === 'decimal-comma' || defect === 'thousands-comma') {
    if (!hasUnit && isWhite(text.charCodeAt(end)) && !endsFact(text, blanks)) return undefined;
  }
  if (endsWord(text, end) || (hasUnit && blanks === end)) return { value, end };
  if (depth < 2 && (operatorAt(PLUS_MINUS, text, end) || rangeAt(text, end) >= 0)) return { value, end };
  if (depth < 1 && operatorAt(TIMES, text, end)) return { value, end };
  return undefined;
}

const endsFact = (text: string, at: number): boolean => {
  const code = text.charCodeAt(at);
  return Number.isNaN(code) || isBreak(code) || code === COMMA || code === SEMICOLON || code === 41 || code === 40;
};

/** Whether an operator with a number after it stands at `at`. */
function operatorAt(pattern: RegExp, text: string, at: number): boolean {
  const end = matchEnd(pattern, text, at);
  return end >= 0 && numberAt(text, end, pattern === TIMES ? 1 : 2) !== undefined;
}

/** Where the dash of a range ends, blanks round it included; -1 if none. A hyphen needs a unit after the second number. */
function rangeAt(text: string, at: number): number {
  const dash = matchEnd(DASH, text, at);
  if (dash >= 0) return numberAt(text, dash, 2) === undefined ? -1 : dash;
  const hyphen = matchEnd(HYPHEN, text, at);
  if (hyphen < 0) return -1;
  const upper = numberAt(text, hyphen, 2);
  return upper !== undefined && unitAt(text, skipBlanks(text, upper.end)) !== undefined ? hyphen : -1;
}

// -------------------------------------------------------------------------------------------- known words

const endsKey = (text: string, end: number): boolean => {
  const code = text.charCodeAt(end);
  return isGap(code) || code === 40 || code === 58 || code === 61 || code === TILDE || endsWord(text, end);
};

const keyTable = (keys: readonly FactKey[]) =>
  spellings(
    keys.flatMap((key) => {
      const { also = [] }: FactRow = FACTS[key];
      return [key, ...also].map((spelling) => [spelling, key] as const);
    }),
    endsKey,
  );
const CLAIM_TABLE = keyTable(CLAIM_FACTS);
const KEY_TABLES = new Map((Object.keys(KEYWORDS) as Keyword[]).map((word) => [word, keyTable(KEYWORDS[word].facts)]));
const factRow = (key: FactKey): FactRow => FACTS[key];

// ------------------------------------------------------------------------------------------------ brackets

const STRUCK = /~~(?:[^~\r\n]|~(?!~))+~~/y;

const OPENING = new Map([
  [40, 41],
  [91, 93],
  [123, 125],
]);
const CLOSING = new Map([...OPENING].map(([open, close]) => [close, open]));

/** Closing bracket of each opening one. Kinds are matched apart, so a stray bracket spoils nothing. */
function matchBrackets(text: string): ReadonlyMap<number, number> {
  const pairs = new Map<number, number>();
  if (!/[([{]/.test(text)) return pairs;
  const open = new Map<number, number[]>([...OPENING.keys()].map((code) => [code, []]));
  for (let i = 0; i < text.length; i++) {
    const code = text.charCodeAt(i);
    if (code === TILDE) {
      i = Math.max(i, matchEnd(STRUCK, text, i) - 1);
      continue;
    }
    const opener = CLOSING.get(code);
    if (opener !== undefined) {
      const from = open.get(opener)!.pop();
      if (from !== undefined) pairs.set(from, i);
    } else open.get(code)?.push(i);
  }
  return pairs;
}

// -------------------------------------------------------------------------------------------------- lexer

const ARROW = /<=>|->|→|⇌/y;
/** A place with a number (`F-12`, `beaker 4`, `10:40`, `TB-011`) is a vessel, a balance, a time or a batch; `THF` is not. */
const NUMBERED = /(?:^|[-:‐‑–])\d+$/;

/** What the patterns know about the fact they stand in. */
interface FactState {
  /** Index of the fact's first token that is not struck. */
  from: number;
  key: FactKey | undefined;
  /** A number was written, so that a bracket may compare with it. */
  measured: boolean;
  /** What stands after the amount: `of …`, `of 2.5 M …`, or `in`, `on`, `at`, `from` a place. */
  tail: 'none' | 'of' | 'strength' | 'place';
}

const newFact = (from: number): FactState => ({ from, key: undefined, measured: false, tail: 'none' });

/** Payload of a known word that opens a fact. */
export interface KeyRead {
  readonly key: FactKey;
  /** Length of the key in a spectrum line. */
  readonly length: number;
}

type Match = CustomPatternMatcherReturn | null;
type Pattern = (text: string, at: number, tokens: IToken[]) => Match;

const matched = (text: string, at: number, end: number, payload?: unknown): CustomPatternMatcherReturn => {
  const found: CustomPatternMatcherReturn = [text.slice(at, end)];
  if (payload !== undefined) found.payload = payload;
  return found;
};

// What the lexer is reading. Chevrotain keeps one lexer per process, with the state of the text it is at; this is the
// part of that state which the patterns need, set anew by `tokenize`.
let keyword: Keyword = 'note';
let brackets: ReadonlyMap<number, number> = new Map();
/** In the first fact of a `reaction` that has an arrow. */
let equation = false;
/** End of the open claim group: its bracket, or the line's end if that is missing; -1 outside. */
let claimEnd = -1;
let fact = newFact(0);
let factOutside = fact;

const atFactStart = (tokens: IToken[]): boolean => tokens.length === fact.from;
const nextFact = (tokens: IToken[]) => {
  fact = newFact(tokens.length + 1);
};

const struck =
  (inEquation: boolean): Pattern =>
  (text, at, tokens) => {
    const end = equation === inEquation ? matchEnd(STRUCK, text, at) : -1;
    if (end < 0) return null;
    if (atFactStart(tokens)) fact.from++;
    return matched(text, at, end);
  };

const isSeparator = (text: string, at: number): boolean => {
  const code = text.charCodeAt(at);
  return code === SEMICOLON || isBreak(code) || (code === COMMA && isGap(text.charCodeAt(at + 1)));
};

const separator =
  (...codes: number[]): Pattern =>
  (text, at, tokens) => {
    if (!codes.includes(text.charCodeAt(at)) || !isSeparator(text, at)) return null;
    if (claimEnd > at) return null;
    claimEnd = -1;
    equation = false;
    nextFact(tokens);
    return matched(text, at, skipWhite(text, at + 1));
  };

/** Inside a claim group `,` `;` and a line break all separate claims. */
const claimComma: Pattern = (text, at, tokens) => {
  if (claimEnd <= at || !isSeparator(text, at)) return null;
  nextFact(tokens);
  return matched(text, at, at + 1);
};

const conclusion: Pattern = (text, at, tokens) => {
  if (claimEnd >= 0 || equation || !text.startsWith('=>', at)) return null;
  let end = at;
  while (end < text.length && text.charCodeAt(end) !== SEMICOLON && !isBreak(text.charCodeAt(end))) end++;
  nextFact(tokens);
  return matched(text, at, end);
};

function beforeStruck(tokens: IToken[]): IToken | undefined {
  let i = tokens.length - 1;
  while (tokens[i]?.tokenType === Struck) i--;
  return tokens[i];
}

/** Whether the bracket at `at` has what it could be a claim about right before it, or is alone as a fact. */
function followsClaimable(text: string, at: number, close: number | undefined, tokens: IToken[]): boolean {
  if (atFactStart(tokens)) return close === undefined || isFactEnd(text, skipBlanks(text, close + 1));
  const last = beforeStruck(tokens)!;
  if (last.tokenType === ClaimClose || fact.tail === 'strength') return true;
  if (keyword === 'sample' && fact.tail === 'of') return true;
  if (keyword === 'titrate' && CLAIM_TABLE.at(text, at + 1)?.value === 'mean') return true;
  const row = fact.key === undefined ? undefined : factRow(fact.key);
  if (row?.kind === 'property' && !row.claims && !PLACE.has(fact.key ?? '')) return false;
  const place = fact.tail === 'place' || (fact.key !== undefined && PLACE.has(fact.key));
  if (last.tokenType === NumberToken) return row === undefined || place || row.claims === true;
  if (last.tokenType === Unit && (last.payload as UnitRead).amount) return true;
  if (place) return NUMBERED.test(last.image) || CLAIM_TABLE.at(text, at + 1) !== undefined;
  if (row === undefined) return keyword === 'measure' && last.tokenType === Unit;
  return row.kind === 'amount' || (row.claims === true && fact.measured);
}

const isFactEnd = (text: string, at: number): boolean => at >= text.length || isSeparator(text, at);

const claimOpen: Pattern = (text, at, tokens) => {
  if (claimEnd >= 0 || equation || !isGap(text.charCodeAt(at - 1))) return null;
  const close = brackets.get(at);
  if (close !== undefined) {
    const after = text.charCodeAt(close + 1);
    if (!isGap(after) && after !== COMMA && after !== SEMICOLON) return null;
  }
  if (!followsClaimable(text, at, close, tokens)) return null;
  claimEnd = close ?? lineEnd(text, at);
  factOutside = fact;
  nextFact(tokens);
  return matched(text, at, at + 1);
};

const claimClose: Pattern = (text, at) => {
  if (at !== claimEnd) return null;
  claimEnd = -1;
  fact = factOutside;
  return matched(text, at, at + 1);
};

const key: Pattern = (text, at, tokens) => {
  if (equation || !atFactStart(tokens)) return null;
  const found = (claimEnd >= 0 ? CLAIM_TABLE : KEY_TABLES.get(keyword)!).at(text, at);
  if (found === undefined || factRow(found.value).kind === 'spectrum') return null;
  fact.key = found.value;
  return matched(text, at, found.end, { key: found.value, length: found.end - at } satisfies KeyRead);
};

const spectrum: Pattern = (text, at, tokens) => {
  if (equation || claimEnd >= 0 || !atFactStart(tokens)) return null;
  const found = KEY_TABLES.get(keyword)!.at(text, at);
  if (found === undefined || factRow(found.value).kind !== 'spectrum') return null;
  let end = at;
  for (; end < text.length && text.charCodeAt(end) !== SEMICOLON && !isBreak(text.charCodeAt(end)); end++) {
    end = brackets.get(end) ?? end;
  }
  const image = trim(text, at, end);
  return matched(text, at, image.end, { key: found.value, length: found.end - at } satisfies KeyRead);
};

const about: Pattern = (text, at) => {
  const end = equation ? -1 : matchEnd(ABOUT, text, at);
  if (end < 0 || numberAt(text, end) === undefined) return null;
  return matched(text, at, end);
};

const number: Pattern = (text, at, tokens) => {
  const found = equation ? undefined : numberAt(text, at);
  if (found === undefined || (claimEnd >= 0 && found.end > claimEnd)) return null;
  fact.measured = true;
  if (fact.tail === 'of' && tokens.at(-1)?.tokenType === Word) fact.tail = 'strength';
  return matched(text, at, found.end, found.value);
};

const unit: Pattern = (text, at, tokens) => {
  const last = tokens.at(-1);
  if (last?.tokenType !== NumberToken) return null;
  const found = unitAt(text, at);
  if (found === undefined) return null;
  if (last.startOffset + last.image.length === at && APART.has(text.slice(at, found.end))) return null;
  return matched(text, at, found.end, found.value);
};

const afterNumber = (tokens: IToken[]): boolean => {
  const last = tokens.at(-1)?.tokenType;
  return last === NumberToken || last === Unit;
};

const operator =
  (pattern: RegExp): Pattern =>
  (text, at, tokens) =>
    afterNumber(tokens) && operatorAt(pattern, text, at) ? matched(text, at, matchEnd(pattern, text, at)) : null;

const range: Pattern = (text, at, tokens) => {
  const end = afterNumber(tokens) ? rangeAt(text, at) : -1;
  return end < 0 ? null : matched(text, at, end);
};

const arrow: Pattern = (text, at) => {
  const end = equation ? matchEnd(ARROW, text, at) : -1;
  return end < 0 ? null : matched(text, at, end);
};

const plus: Pattern = (text, at) =>
  equation && text[at] === '+' && isGap(text.charCodeAt(at - 1)) && isGap(text.charCodeAt(at + 1))
    ? matched(text, at, at + 1)
    : null;

/** End of the run without white space at `at`; a bracket takes its content along. */
function wordEnd(text: string, at: number): number {
  let i = at;
  while (i < text.length && i !== claimEnd && !isWhite(text.charCodeAt(i)) && !isSeparator(text, i)) {
    if (equation && i > at && matchEnd(ARROW, text, i) >= 0) break;
    const code = text.charCodeAt(i);
    if (code === TILDE && i > at && matchEnd(STRUCK, text, i) >= 0) break;
    const close = brackets.get(i);
    i = (close === undefined || (claimEnd >= 0 && close >= claimEnd) ? i : close) + 1;
  }
  return Math.max(i, at + 1);
}

const termWord: Pattern = (text, at) => (equation ? matched(text, at, wordEnd(text, at)) : null);

const PLACE = new Set(['in', 'on', 'at', 'from']);

const word: Pattern = (text, at, tokens) => {
  const found = matched(text, at, wordEnd(text, at));
  if (afterNumber(tokens) && fact.tail !== 'strength') {
    if (found[0] === 'of') fact.tail = 'of';
    else if (PLACE.has(found[0])) fact.tail = 'place';
  } else if (!fact.measured) fact.measured = /\d/.test(found[0]);
  return found;
};

const codes = (...characters: string[]): number[] =>
  characters
    .join('')
    .split('')
    .map((c) => c.charCodeAt(0));
/** Chevrotain looks at the first character to choose the patterns to try: one bucket per code, from 256 on per 256. */
const ANY = [...Array.from({ length: 256 }, (_, i) => i), ...Array.from({ length: 255 }, (_, i) => (i + 1) * 256)];
const DIGITS = codes('0123456789');
const SPACES = ANY.filter((code) => isWhite(code)).concat(0x1680, 0x2000, 0x3000, 0xfeff);
const KEY_STARTS = [...new Set([...KEY_TABLES.values(), CLAIM_TABLE].flatMap((table) => [...table.startsWith]))];

const token = (name: string, pattern: Pattern | RegExp, hint: number[], lines = false): TokenType =>
  createToken({ name, pattern, start_chars_hint: hint, line_breaks: lines });

const White = createToken({
  name: 'White',
  pattern: /[^\S\r\n]+/,
  group: Lexer.SKIPPED,
  start_chars_hint: SPACES,
  line_breaks: false,
});
export const Struck = token('Struck', struck(false), [TILDE]);
export const TermStruck = token('TermStruck', struck(true), [TILDE]);
export const ClaimComma = token('ClaimComma', claimComma, [COMMA, SEMICOLON, LF, CR], true);
export const Comma = token('Comma', separator(COMMA, LF, CR), [COMMA, LF, CR], true);
export const Semicolon = token('Semicolon', separator(SEMICOLON), [SEMICOLON], true);
export const Conclusion = token('Conclusion', conclusion, codes('='));
export const ClaimClose = token('ClaimClose', claimClose, codes(')'));
export const ClaimOpen = token('ClaimOpen', claimOpen, codes('('));
export const Arrow = token('Arrow', arrow, codes('<-→⇌'));
export const Plus = token('Plus', plus, codes('+'));
export const TermWord = token('TermWord', termWord, ANY, true);
export const Spectrum = token('Spectrum', spectrum, KEY_STARTS, true);
export const Key = token('Key', key, KEY_STARTS);
export const About = token('About', about, codes('~≈∼ca'));
export const NumberToken = token('Number', number, [...DIGITS, ...codes('+-−‐–.')]);

export const Unit = token('Unit', unit, ANY);
export const PlusMinus = token('PlusMinus', operator(PLUS_MINUS), codes('±+'));
export const Times = token('Times', operator(TIMES), codes('×✕x*'));
export const Range = token('Range', range, codes('–—-−‐‑'));
export const To = token('To', operator(TO), codes('t'));
export const Word = token('Word', word, ANY, true);

/** In the order in which they are tried. */
export const TOKENS: TokenType[] = [
  ...[
    White,
    Struck,
    TermStruck,
    ClaimComma,
    Comma,
    Semicolon,
    Conclusion,
    ClaimClose,
    ClaimOpen,
    Arrow,
    Plus,
    TermWord,
  ],
  ...[Spectrum, Key, About, Unit, PlusMinus, Times, Range, To, NumberToken, Word],
];

const lexer = new Lexer(TOKENS, { positionTracking: 'onlyOffset', ensureOptimizations: true, skipValidations: true });

/** Whether the first fact has an arrow outside brackets. */
function hasArrow(text: string): boolean {
  for (let i = skipWhite(text, 0); i < text.length && !isSeparator(text, i); i++) {
    if (matchEnd(ARROW, text, i) >= 0) return true;
    i = brackets.get(i) ?? Math.max(i, matchEnd(STRUCK, text, i) - 1);
  }
  return false;
}

/** Tokens of what stands after a statement's colon. Every character that is not white space is in one of them. */
export function tokenize(text: string, statement: Keyword): IToken[] {
  keyword = statement;
  brackets = matchBrackets(text);
  claimEnd = -1;
  fact = newFact(0);
  equation = statement === 'reaction' && hasArrow(text);
  return lexer.tokenize(text).tokens;
}
