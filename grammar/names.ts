/**
 * How names compare. A name is what a chemist writes, and two spellings of one name fold to the same key:
 * case, runs of white space, the many hyphens, primes and middle dots do not count. What changes the
 * substance does count: `(R)` is not `(r)`, `D-` not `d-`, `N-` not `n-`, `(+)` not `(−)`.
 * Greek letters stay as they are: `α-pinene` and `alpha-pinene` are one substance only where a synonym says so.
 */

/** Letters that tell isomers or positions apart, in capitals; their small forms survive the folding anyway. */
const MARKS = 'DELNORSZ';

/** One descriptor in brackets: `R`, `2R`, `3aS`, `E`, `RS`, `R*`. */
const DESCRIPTOR = `(?:\\d+[a-z]?'*)?(?:RS|SR|EZ|[RrSsEZDdLlNnOop])\\*?`;

/** What keeps its case: a bracket of descriptors, or a lone letter before a hyphen or before more locants and one. */
const KEPT = new RegExp(
  `[([]${DESCRIPTOR}(?:[,/]${DESCRIPTOR})*[)\\]]` + `|(?<!\\p{L})[${MARKS}](?='*(?:,(?:\\d+[a-z]?|[A-Za-zα-ω])'*)*-)`,
  'gu',
);

/** Soft hyphens and zero-width characters come along when text is pasted; nobody sees them. */
const INVISIBLE = /[\u00AD\u200B-\u200D\u2060\uFEFF]/g;
const DASHES = /[\u2010-\u2015\u2043\u2212\uFE58\uFE63\uFF0D]/g;
const PRIMES = /[\u2018\u2019\u02B9\u2032]/g;
const DOUBLE_PRIMES = /[\u201D\u2033]/g;
const DOTS = /[\u2022\u2027\u2219\u22C5\u30FB]/g;

/** ASCII without capitals, single blanks inside: folded already. */
const FOLDED = /^[!-@[-~]+(?: [!-@[-~]+)*$/;
/** ASCII, single blanks inside. */
const CLEAN = /^[!-~]+(?: [!-~]+)*$/;
/** A capital that may have to stay. */
const MAY_KEEP = new RegExp(`(?<![A-Za-z])(?:[${MARKS}]|RS|SR|EZ)(?![A-Za-z])|\\d[a-z]'*[${MARKS}]`);

/** The key under which names compare. Total; folding a key gives the key again. */
export function foldName(name: string): string {
  if (FOLDED.test(name)) return name;
  if (!CLEAN.test(name)) return foldAny(name);
  return MAY_KEEP.test(name) ? foldCase(name) : name.toLowerCase();
}

/**
 * The key under which formulas compare: exactly, but for blanks, subscripts, and which dot or minus was typed.
 * Whether a text is a formula is the caller's to say.
 */
export function foldFormula(text: string): string {
  if (/^[A-Za-z0-9]*$/.test(text)) return text;
  return text
    .replace(/\s+/g, '')
    .replace(INVISIBLE, '')
    .replace(/[\u2080-\u2089]/g, (digit) => String(digit.charCodeAt(0) - 0x2080))
    .replace(DOTS, '·')
    .replace(DASHES, '-');
}

function foldAny(name: string): string {
  const unified = name
    .replace(INVISIBLE, '')
    .replace(/\s+/g, ' ')
    .trim()
    .normalize('NFC')
    .replace(DASHES, '-')
    .replace(PRIMES, "'")
    .replace(DOUBLE_PRIMES, "''")
    .replace(DOTS, '·')
    .replaceAll('µ', 'μ');
  return foldCase(unified).replaceAll('ς', 'σ').normalize('NFC');
}

function foldCase(name: string): string {
  let folded = '';
  let from = 0;
  for (const kept of name.matchAll(KEPT)) {
    folded += name.slice(from, kept.index).toLowerCase() + kept[0];
    from = kept.index + kept[0].length;
  }
  return folded + name.slice(from).toLowerCase();
}
