/**
 * Names of substances in a line of free text: `45 mL ether and methanol`. Longest first, from left to right. Words
 * that are names only by chance (`can`, `tea`) and metals that begin the name of a salt (`sodium benzoate`) are passed
 * over; so is what the text says is gone (`quenched hydride`, `free of azide`).
 */
import { foldName } from '../../grammar/names';
import { looksLikeFormula } from '../chem/formula';
import { findInHandbook, findSoluteInHandbook, type HandbookEntry, handbookOpenings } from './handbook';

export interface NameInText {
  readonly text: string;
  readonly start: number;
  readonly end: number;
  /** `conc.` or `fuming` stands before it. */
  readonly concentrated: boolean;
}

const LONGEST = 5;
const WORD = /[^\s;]+/g;
const ELEMENTS =
  /^(?:lithium|sodium|potassium|calcium|magnesium|alumini?um|zinc|iron|tin|copper|silver|nickel|palladium|mercury|carbon|sulfur|iodine|bromine|oxygen)$/i;
/** After these a bare metal is the metal. */
const METAL_ENDS =
  /^(?:and|or|metal|dust|powder|turnings?|wire|ribbon|granules|sand|in|on|from|with|of|under|filings)$/i;
const GONE =
  /^(?:no|without|quenched|destroyed|decomposed|neutrali[sz]ed|hydrolysed|hydrolyzed|deactivated|reduced|free)$/i;

/** `known`: keys of names that the page has of its own. */
export function namesInText(text: string, known: ReadonlySet<string>): readonly NameInText[] {
  const words = [...text.matchAll(WORD)].map(({ 0: raw, index }) => trimmed(raw, index));
  const found: NameInText[] = [];
  for (let i = 0; i < words.length; ) {
    const length = longestAt(words, i, text, known);
    if (length === 0) {
      i++;
      continue;
    }
    const first = words[i]!;
    const last = words[i + length - 1]!;
    if (!isGone(words, i) && !isGoneAfter(words, i + length))
      found.push({
        text: text.slice(first.start, last.end),
        start: first.start,
        end: last.end,
        concentrated: /^(?:conc\.?|concentrated|fuming|glacial)$/i.test(words[i - 1]?.text ?? ''),
      });
    i += length;
  }
  return found;
}

interface Word {
  readonly text: string;
  readonly start: number;
  readonly end: number;
  /** Nothing but a blank stands between it and the next word. */
  readonly open: boolean;
}

/** Without the punctuation round it; a bracket stays with its partner. */
function trimmed(raw: string, at: number): Word {
  let start = 0;
  let end = raw.length;
  while (end > start && /[.,:!?]/.test(raw[end - 1]!)) end--;
  if (raw[start] === '(' && !raw.slice(0, end).includes(')')) start++;
  if (raw[end - 1] === ')' && !raw.slice(start, end).includes('(')) end--;
  return { text: raw.slice(start, end), start: at + start, end: at + end, open: end === raw.length };
}

function longestAt(words: readonly Word[], at: number, text: string, known: ReadonlySet<string>): number {
  const first = words[at]!;
  if (!/\p{L}/u.test(first.text)) return 0;
  const opening = respelt(first.text.toLowerCase());
  const mayOpen = handbookOpenings().has(opening) || isFormula(first.text);
  for (let n = Math.min(LONGEST, words.length - at); n > 0; n--) {
    if (words.slice(at, at + n - 1).some((word) => !word.open)) continue;
    const candidate = text.slice(first.start, words[at + n - 1]!.end);
    if (known.has(foldName(candidate))) return n;
    if (mayOpen && bookEntry(candidate) && isMeant(candidate, n, words[at + n - 1]!, words[at + n])) return n;
  }
  return 0;
}

const respelt = (word: string): string => word.replace('sulph', 'sulf').replace('aluminum', 'aluminium');
const isFormula = (word: string): boolean => /[A-Z].*[A-Z0-9]/.test(word) && looksLikeFormula(word);

/** A metal's name before another word is that of its salt. */
const isMeant = (candidate: string, words: number, last: Word, next: Word | undefined): boolean =>
  words > 1 || !ELEMENTS.test(candidate) || !last.open || !next || METAL_ENDS.test(next.text);

function isGone(words: readonly Word[], at: number): boolean {
  const before = words[at - 1]?.text ?? '';
  return GONE.test(before) || (/^(?:of|from)$/i.test(before) && GONE.test(words[at - 2]?.text ?? ''));
}

/** `azide destroyed with nitrite`, `hydride was quenched`. */
function isGoneAfter(words: readonly Word[], at: number): boolean {
  if (words[at - 1]?.open === false) return false;
  const next = /^(?:is|was|were|all|first)$/i.test(words[at]?.text ?? '') ? words[at + 1] : words[at];
  return /^(?:quenched|destroyed|decomposed|neutrali[sz]ed|hydroly[sz]ed|deactivated|gone|quench|work-?up)$/i.test(
    next?.text ?? '',
  );
}

/** What the handbook means by a name in a text; of an open name (hydrochloric acid, xylene) the substance. */
export function bookEntry(name: string): HandbookEntry | undefined {
  const found = findInHandbook(name);
  if (!found) return undefined;
  const entry =
    found.kind === 'one' ? found.entry : (findSoluteInHandbook(name) ?? bookEntryOnce(found.names[0] ?? ''));
  return entry && isWrittenSo(name, entry) ? entry : undefined;
}

function bookEntryOnce(name: string): HandbookEntry | undefined {
  const found = findInHandbook(name);
  return found?.kind === 'one' ? found.entry : undefined;
}

/** An abbreviation in capitals is one only in capitals: `CAN`, not `can`. */
function isWrittenSo(name: string, entry: HandbookEntry): boolean {
  if (/[^a-z]/.test(name) || name.length > 6) return true;
  const same = [entry.name, ...entry.synonyms].filter((other) => foldName(other) === foldName(name));
  return same.length === 0 || same.some((other) => other === name);
}
