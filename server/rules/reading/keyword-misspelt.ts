import { headAt } from '../../../grammar/lines';
import { parseFacts } from '../../../grammar/parser';
import { KEYWORDS, type Keyword } from '../../../grammar/vocabulary';
import { opens } from '../fits';
import { nearest } from '../nearest';
import { rule } from '../rule';
import { perLine, proseIn } from '../walk';
import { replaceFix } from '../wording';

export default rule({
  code: 'keyword-misspelt',
  family: 'reading',
  severity: 'hint',
  fixable: 'sometimes',
  title: 'The line begins with a word that is nearly a keyword',
  why: `A line that begins with no keyword is prose and its numbers are not read. The finding comes only if all of this holds:
the keyword has five letters or more and is one slip or a capital letter away (two slips from eight letters on), the line has the shape
\`word subject: fact\`, the first fact is one that such a statement begins with, and the word is no ordinary one.`,
  help: 'Correct the word; or write `note:` before the line if it is meant as prose.',
  examples: [
    {
      name: 'two letters swapped',
      wrong: `experiment TB-321: Slips
date: 2026-03-11
author: MK
chrage sodium chloride: 5.00 g
^^^^^^ keyword-misspelt: charge
`,
      right: `experiment TB-321: Slips
date: 2026-03-11
author: MK
charge sodium chloride: 5.00 g
`,
    },
    {
      name: 'near misses: ordinary words, headings in prose',
      right: `experiment TB-322: Prose
date: 2026-03-11
author: MK
weight loss on drying: 5.0 mg
change of the trap: 2 L more
large flask: 500 mL, from the store
samples kept: 3
products so far: oil and water
Sample 3: 5 mg
Solution A: 5 g of salt in water
`,
    },
  ],
  sources: ['common practice, no source'],
  *check({ source }) {
    for (const line of proseIn(source)) {
      const { block, at } = line;
      const found = slipIn(line);
      if (!found) continue;
      const { word, keyword } = found;
      const span = { start: at, end: at + word.length };
      yield {
        span,
        block,
        message: `"${word}" is no keyword, so this line is prose and not read. Did you mean ${keyword}?`,
        // A page more or less is nothing to fix with one click.
        ...(keyword !== 'experiment' && { fixes: [replaceFix(span, word, keyword, { reclassifies: true })] }),
      };
    }
  },
});

/** The word a line begins with and the keyword that was meant, if all of it looks like a statement. */
const slipIn = perLine((text: string): { readonly word: string; readonly keyword: Keyword } | undefined => {
  const word = /^(?:[a-z]{4,}|[A-Z][A-Za-z]{4,})(?=[ \t].*:(?:\s|$))/.exec(text)?.[0];
  const keyword = word && meant(word);
  if (!word || !keyword) return undefined;
  const corrected = keyword + text.slice(word.length);
  const head = headAt(corrected, 0, corrected.length);
  if (!head || head.subject.start === head.subject.end) return undefined;
  const opened =
    keyword === 'experiment'
      ? ID.test(corrected.slice(head.subject.start, head.subject.end))
      : opens(keyword, parseFacts(corrected.slice(head.colon + 1), keyword, 0)[0]?.facts[0]);
  return opened ? { word, keyword } : undefined;
});

function meant(word: string): Keyword | undefined {
  const lower = word.toLowerCase();
  if (lower !== word) return CAPITALISED.find((keyword) => keyword === lower);
  return isOrdinary(word) ? undefined : nearest(word, LONG);
}

/** Keywords with which no line of prose of this shape begins, even with a capital letter; `Sample 3: 5 mg` is prose. */
const CAPITALISED: readonly Keyword[] = ['charge', 'weigh', 'recovered', 'substance', 'vessel'];

/** `TB-014`, `MK12b`: a page's ID. */
const ID = /^[A-Za-z]{1,6}[-_.]?\d+\w*$/;

const LONG = (Object.keys(KEYWORDS) as Keyword[]).filter((keyword) => keyword.length >= 5);

/** English words as near to a keyword as a slip: lines of prose begin with them. */
const ORDINARY: ReadonlySet<string> = new Set([
  ...['change', 'large', 'barge', 'weight', 'simple', 'ample', 'produce', 'nitrate', 'paste', 'taste', 'haste'],
  ...['fraction', 'relation', 'dilution', 'recover', 'recovery', 'uncovered', 'covered', 'reacting', 'traction'],
]);

/** Other forms of a keyword (`samples`, `weighed`) are words of prose, too. */
const isOrdinary = (word: string): boolean =>
  ORDINARY.has(word) ||
  LONG.some((keyword) => word.startsWith(keyword) && /^(?:s|d|ed|r)$/.test(word.slice(keyword.length)));
