/**
 * The TextMate grammar, made from the vocabulary: colour before the server answers, and where no server runs.
 *
 * A line is the unit. A statement lasts as long as its lines begin with white space, by a `while` rule, so that a
 * bracket left open can never colour what follows. What only the model knows (declared or unknown name) is left to
 * the semantic tokens; prose gets no scope at all.
 */
import {
  CLAIM_FACTS,
  FACTS,
  type FactKey,
  KEYWORDS,
  type Keyword,
  UNITS,
  type UnitSymbol,
} from '../../grammar/vocabulary';

interface Pattern {
  readonly name?: string;
  readonly contentName?: string;
  readonly match?: string;
  readonly begin?: string;
  readonly end?: string;
  readonly while?: string;
  readonly captures?: Captures;
  readonly beginCaptures?: Captures;
  readonly endCaptures?: Captures;
  readonly include?: string;
  readonly patterns?: readonly Pattern[];
}
type Captures = Readonly<Record<string, { readonly name?: string; readonly patterns?: readonly Pattern[] }>>;

export interface Colouring {
  readonly name: string;
  readonly scopeName: string;
  readonly fileTypes: readonly string[];
  readonly patterns: readonly Pattern[];
  readonly repository: Readonly<Record<string, Pattern>>;
}

const literal = (text: string): string => text.replace(/[\\^$.*+?()[\]{}|/]/g, '\\$&');
/** Longest first, so that `mL/min` is not read as `mL`; a blank stands for any white space. */
const oneOf = (words: readonly string[]): string =>
  [...new Set(words)]
    .sort((a, b) => b.length - a.length || (a < b ? -1 : 1))
    .map((word) => literal(word).replaceAll(' ', '[ \\t]+'))
    .join('|');

const scope = (name: string): string => `${name}.tarebook`;

// ── quantities ───────────────────────────────────────────────────────────────────────────────────────────────────

interface Spellings {
  readonly name: string;
  readonly also?: readonly string[];
  readonly wrong?: readonly string[];
  readonly unread?: true;
}

const SYMBOLS = Object.keys(UNITS) as UnitSymbol[];
const UNIT = oneOf(
  SYMBOLS.flatMap((symbol) => {
    const { also = [], wrong = [], unread }: Spellings = UNITS[symbol];
    return [...(unread ? [] : [symbol]), ...also, ...wrong];
  }),
);

const POWER = '(?:[ \\t]?[×x·][ \\t]?10(?:\\^[-−–+]?\\d+|[⁻⁺]?[⁰¹²³⁴⁵⁶⁷⁸⁹]+)|[eE][-−+]?\\d+)';
const NUMBER = `[-−+]?\\d+(?:[\\x{2009}\\x{202F}]\\d{3})*(?:\\.\\d+)?(?:\\(\\d+\\))?${POWER}?`;
/** Two numbers at most: a range, a course, a count or an uncertainty. */
const NUMBERS = `(?:~|≈|ca\\.[ \\t]*)?(?:\\d+[ \\t]*×[ \\t]*)?${NUMBER}(?:[ \\t]*(?:[–±]|\\+/-)[ \\t]*${NUMBER}|[ \\t]+to[ \\t]+${NUMBER})?`;
/** Captures: numbers, unit. A digit in a name (`2-propanol`, `1,4-dioxane`, `C5H12O`, `F-12`) is none. */
const quantityAfter = (apart: string): string =>
  `(?<![${apart}])` +
  `(${NUMBERS})(?:[ \\t]*(${UNIT})(?![\\p{L}\\p{N}])|(?![\\p{L}\\p{N}%°]|[-‐.,/:′'][\\p{L}\\p{N}(\\[]))`;
const QUANTITY = quantityAfter("\\p{L}\\p{N}\\-‐–.,'/(\\[");
const CLAIMED = quantityAfter("\\p{L}\\p{N}\\-‐–.,'/\\[");

const numeric = (claim: boolean): string => scope(claim ? 'constant.numeric.claim' : 'constant.numeric');
const unit = (claim: boolean): string => scope(claim ? 'keyword.other.unit.claim' : 'keyword.other.unit');

const quantity = (claim: boolean): Pattern => ({
  match: claim ? CLAIMED : QUANTITY,
  captures: { 1: { name: numeric(claim) }, 2: { name: unit(claim) } },
});

// ── facts ────────────────────────────────────────────────────────────────────────────────────────────────────────

/** Where a fact begins: after the colon, a comma or a semicolon, or on a line of its own. */
const START = '(?:\\G[ \\t]*|(?<=[,;][ \\t])|^[ \\t]+)';
const WORD_END = '(?![\\p{L}\\p{N}]|[-‐][\\p{L}\\p{N}])';

const SPECTRA = (Object.keys(FACTS) as FactKey[]).filter((key) => FACTS[key].kind === 'spectrum');

const spellings = (key: FactKey): readonly string[] => [
  key,
  ...((FACTS[key] as { also?: readonly string[] }).also ?? []),
];

function factScope(key: FactKey): string {
  switch (FACTS[key].kind) {
    case 'role':
    case 'stage':
      return scope('storage.modifier');
    case 'amount':
      return scope('constant.language');
    default:
      return scope('support.function');
  }
}

/** The words a fact can begin with, grouped by the scope they get. */
function factWords(keys: readonly FactKey[], start: string): readonly Pattern[] {
  const groups = new Map<string, string[]>();
  for (const key of keys) {
    if (SPECTRA.includes(key) || key === 'SMILES') continue;
    const name = factScope(key);
    groups.set(name, [...(groups.get(name) ?? []), ...spellings(key)]);
  }
  return [...groups].map(([name, words]) => ({
    match: `${start}(${oneOf(words)})${WORD_END}`,
    captures: { 1: { name } },
  }));
}

/** The words that act after a quantity as well: vessel, balance, batch, temperature, strength. */
const LINKS = 'in|on|at|from|of|by';
/** An ID: no blanks, at least one letter and one digit. */
const ID = '(?=[^\\s,;()]*\\p{L})[^\\s,;()]*\\d[^\\s,;()]*';

const claimEnd: Pick<Pattern, 'end' | 'endCaptures' | 'contentName' | 'patterns'> = {
  end: '\\)',
  endCaptures: { 0: { name: scope('punctuation.section.claim.end') } },
  contentName: scope('meta.claim'),
  patterns: [{ include: '#claim' }],
};
const claimBegin = { name: scope('punctuation.section.claim.begin') };

const COMMON: Readonly<Record<string, Pattern>> = {
  struck: { name: scope('markup.strikethrough'), match: '~~[^~]*~~' },
  quantity: quantity(false),
  link: {
    match: `(?:${START}|(?<=[ \\t]))(${LINKS})[ \\t]+(${ID})(?=[\\s,;(]|$)`,
    captures: { 1: { name: scope('support.function') }, 2: { name: scope('variable.other') } },
  },
  // `(` … `)` right after a quantity or a strength, alone as a fact, or with a word that only claims have
  'claim-after-quantity': {
    begin: `${QUANTITY}[ \\t]+(\\()(?=[^()]*\\d)`,
    beginCaptures: { 1: { name: numeric(false) }, 2: { name: unit(false) }, 3: claimBegin },
    ...claimEnd,
  },
  'claim-after-strength': {
    begin: `(of)[ \\t]+${QUANTITY}(?:[ \\t]+(in)[ \\t]+[^,;()]*?)?[ \\t]+(\\()(?=[^()]*\\d)`,
    beginCaptures: {
      1: { name: scope('support.function') },
      2: { name: numeric(false) },
      3: { name: unit(false) },
      4: { name: scope('support.function') },
      5: claimBegin,
    },
    ...claimEnd,
  },
  'claim-after-link': {
    begin: `(?:${START}|(?<=[ \\t]))(${LINKS})([ \\t][^,;()]*?[ \\t]|[ \\t]+)(\\()(?=[^()]*\\d)`,
    beginCaptures: {
      1: { name: scope('support.function') },
      2: {
        patterns: [{ include: '#quantity' }, { match: `(?<=\\s)${ID}(?=\\s)`, name: scope('variable.other') }],
      },
      3: claimBegin,
    },
    ...claimEnd,
  },
  'claim-alone': { begin: `${START}(\\()(?=[^()]*\\d)`, beginCaptures: { 1: claimBegin }, ...claimEnd },
  'claim-labelled': {
    begin: `(?<=[ \\t])(\\()(?=(?:${oneOf(CLAIM_FACTS.filter((key) => FACTS[key].kind === 'derived').flatMap(spellings))})[ \\t][^()]*\\d)`,
    beginCaptures: { 1: claimBegin },
    ...claimEnd,
  },
  claim: {
    patterns: [
      { include: '#struck' },
      {
        match: `(?<![\\p{L}\\p{N}])(${oneOf(CLAIM_FACTS.flatMap(spellings))})${WORD_END}`,
        captures: { 1: { name: scope('support.function') } },
      },
      quantity(true),
    ],
  },
  spectrum: {
    match: `${START}(${oneOf(SPECTRA.flatMap(spellings))})([^;]*)`,
    captures: { 1: { name: scope('support.function') }, 2: { name: scope('meta.spectrum') } },
  },
  smiles: {
    match: `${START}(${oneOf(spellings('SMILES'))})[ \\t]+([^\\s]*[^\\s,])`,
    captures: { 1: { name: scope('support.function') }, 2: { name: scope('string.unquoted.smiles') } },
  },
  conclusion: { match: '(=>)[^;]*', captures: { 1: { name: scope('keyword.operator.conclusion') } } },
  identifier: {
    name: scope('constant.other'),
    match:
      '(?<![\\p{L}\\p{N}-])(?:\\d{2,7}-\\d{2}-\\d|[HP]\\d{3}[A-Za-z]{0,2}|\\d{4}-\\d{2}-\\d{2})(?![\\p{L}\\p{N}-])',
  },
  separator: { name: scope('punctuation.separator'), match: ',(?=\\s|$)|;' },
  formula: {
    match: `\\G[ \\t]*((?:[A-Z][a-z]?|[\\d₀-₉()\\[\\]·*^+−.-])*[A-Z](?:[A-Z][a-z]?|[a-z]?[\\d₀-₉()\\[\\]·*^+−.-])*)(?=,|\\s*$)`,
    captures: { 1: { name: scope('string.other.formula') } },
  },
  equation: {
    match: '\\G[ \\t]*(\\S.*?(?:->|→|<=>|⇌).*?)(?=,\\s|\\s*$)',
    captures: {
      1: {
        patterns: [
          { name: scope('keyword.operator.arrow'), match: '->|→|<=>|⇌' },
          { name: scope('keyword.operator.plus'), match: '(?<=\\s)\\+(?=\\s)' },
          { name: scope('constant.numeric'), match: '(?:(?<=\\s)|^|\\G)\\d+(?:\\.\\d+|/\\d+)?(?=\\s)' },
          {
            name: scope('entity.name.type.substance'),
            match: '[^\\s](?:(?!\\s+\\+\\s|\\s*(?:->|→|<=>|⇌)).)*',
          },
        ],
      },
    },
  },
};

/** In the order in which they are tried. */
const BODY: readonly Pattern[] = [
  'struck',
  'spectrum',
  'smiles',
  'conclusion',
  'identifier',
  'claim-after-strength',
  'claim-after-quantity',
  'claim-alone',
  'claim-labelled',
  'claim-after-link',
  'link',
].map((name) => ({ include: `#${name}` }));
const AFTER: readonly Pattern[] = [
  { include: '#quantity' },
  {
    match: `(?<=[ \\t])(${LINKS})(?=[ \\t]+[~≈]?[-−]?\\d)`,
    captures: { 1: { name: scope('support.function') } },
  },
  { include: '#separator' },
];

// ── statements ───────────────────────────────────────────────────────────────────────────────────────────────────

const CLOCK = '(?:[01]?\\d|2[0-3]):[0-5]\\d(?::[0-5]\\d)?';
const VERBS = 'was|were|is|are|has|had|went|looks|looked';
/** Captures: clock, initials, keyword, subject, colon. The first colon before white space ends the subject. */
const head = (keywords: string, subject: boolean): string =>
  `^(?:(${CLOCK})[ \\t]+(?:(\\[[^\\]\\s]+\\])[ \\t]+)?)?(${keywords})` +
  (subject ? `(?:[ \\t]+((?!:)(?:(?!:(?:\\s|$)|(?<=[ \\t])(?:${VERBS})[\\s:]).)+?))?` : '()') +
  '[ \\t]*(:)(?=\\s|$)';

const SUBJECTS: Readonly<Partial<Record<Keyword, string>>> = {
  experiment: 'entity.name.namespace',
  reaction: 'entity.name.function',
  vessel: 'variable.other',
  balance: 'variable.other',
  sample: 'variable.other',
  accept: 'support.constant',
};

const headCaptures = (keyword: Keyword | undefined): Captures => ({
  1: { name: scope('constant.other.clock') },
  2: { name: scope('constant.other.initials') },
  3: { name: scope('keyword.control') },
  4: { name: scope((keyword && SUBJECTS[keyword]) ?? 'entity.name.type.substance') },
  5: { name: scope('punctuation.separator.key-value') },
});

function statement(keyword: Keyword): Pattern {
  const row = KEYWORDS[keyword];
  const begin = head(keyword, row.subject !== 'none');
  if (row.body === 'text') {
    const rest = keyword === 'experiment' ? 'markup.heading' : keyword === 'date' ? 'constant.other.date' : undefined;
    return {
      match: rest ? `${begin}[ \\t]*(.*)$` : begin,
      captures: { ...headCaptures(keyword), ...(rest && { 6: { name: scope(rest) } }) },
    };
  }
  const first: readonly Pattern[] =
    keyword === 'reaction' ? [{ include: '#equation' }] : keyword === 'substance' ? [{ include: '#formula' }] : [];
  return {
    begin,
    beginCaptures: headCaptures(keyword),
    while: '^(?=[ \\t]+\\S)',
    name: scope(`meta.statement.${keyword}`),
    patterns: [...first, ...BODY, ...factWords(row.facts, START), ...AFTER],
  };
}

/** The whole grammar, ready for `JSON.stringify`. */
export function colouring(): Colouring {
  const keywords = Object.keys(KEYWORDS) as Keyword[];
  return {
    name: 'Tarebook',
    scopeName: 'source.tarebook',
    fileTypes: ['tare'],
    patterns: [
      { name: scope('markup.fenced_code.block'), begin: '^```.*$', end: '^```[ \\t]*$' },
      { name: scope('markup.heading'), match: '^#{1,3}[ \\t].*$' },
      ...keywords.map((keyword) => ({ include: `#${keyword}` })),
      {
        match: `^(${CLOCK})(?=\\s|$)(?:[ \\t]+(\\[[^\\]\\s]+\\])(?=\\s))?`,
        captures: { 1: { name: scope('constant.other.clock') }, 2: { name: scope('constant.other.initials') } },
      },
    ],
    repository: { ...COMMON, ...Object.fromEntries(keywords.map((keyword) => [keyword, statement(keyword)])) },
  };
}
