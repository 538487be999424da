import { parseFacts } from '../../../grammar/parser';
import { KEYWORDS, type Keyword } from '../../../grammar/vocabulary';
import { opens } from '../fits';
import { rule } from '../rule';
import { perLine, proseIn } from '../walk';

export default rule({
  code: 'statement-without-colon',
  family: 'reading',
  severity: 'hint',
  fixable: 'always',
  title: 'The line looks like a statement but has no colon',
  why: `Without a colon a line is prose, and its numbers are not read. The finding comes only if a keyword, a name and a
quantity that such a statement begins with follow one another; a sentence (\`weigh the filter paper, 5 g or so\`) has a word
like \`the\`, \`of\` or \`was\` before its number and is left alone.`,
  help: 'Put the colon after the name; or write `note:` before the line if it is meant as prose.',
  examples: [
    {
      name: 'a charge without colon',
      wrong: `experiment TB-331: Slips
date: 2026-03-11
author: MK
charge sodium chloride 5.00 g
^^^^^^ statement-without-colon: charge sodium chloride:
`,
      right: `experiment TB-331: Slips
date: 2026-03-11
author: MK
charge sodium chloride: 5.00 g
`,
    },
    {
      name: 'near misses: sentences that begin with a keyword',
      right: `experiment TB-332: Prose
date: 2026-03-11
author: MK
charge the flask with 20 mL of ethanol
weigh out 5 g of the salt
product came over at 80 °C
sample taken after 5 mL
test a 2 mL portion with ferric chloride
waste less than 5 mL
reaction slow below 60 °C
product 4a, 1.3 g, is in the fridge
solution turned red after 5 mL
measure 20 mL into the burette
charge acetone 5 mL at a time until it clears
`,
    },
  ],
  sources: ['common practice, no source'],
  *check({ source }) {
    for (const line of proseIn(source)) {
      const { text, block, at } = line;
      const found = statementIn(line);
      if (!found) continue;
      const { word, end } = found;
      yield {
        span: { start: at, end: at + word.length },
        block,
        message: `Without a colon this line is prose and not read. Meant as "${text.slice(0, end)}: …"?`,
        fixes: [
          {
            title: `Put a colon after "${text.slice(0, end)}"`,
            // A semicolon in its place gives way.
            edits: [{ span: { start: at + end, end: at + end + (text[end] === ';' ? 1 : 0) }, text: ':' }],
            reclassifies: true,
          },
        ],
      };
    }
  },
});

const statementIn = perLine((text: string): { readonly word: string; readonly end: number } | undefined => {
  const word = /^[a-z]+(?=[ \t])/.exec(text)?.[0];
  if (!word || !Object.hasOwn(KEYWORDS, word) || /:(?:\s|$)/.test(text)) return undefined;
  const end = subjectEnd(word as Keyword, text);
  return end === undefined ? undefined : { word, end };
});

/** Where the subject ends if the line were a statement: the first place after which its facts can begin. */
function subjectEnd(keyword: Keyword, text: string): number | undefined {
  const gaps = /[ \t]+/g;
  gaps.lastIndex = keyword.length + 1;
  for (let gap = gaps.exec(text); gap; gap = gaps.exec(text)) {
    const subject = text.slice(keyword.length, gap.index).trim();
    if (subject === '') continue;
    if (subject.endsWith(',')) return undefined;
    if (subject.split(/\s+/).some(isSentenceWord)) return undefined;
    const fact = parseFacts(text.slice(gap.index), keyword, 0)[0]?.facts[0];
    if (!opens(keyword, fact)) continue;
    const goesOn = fact?.parts.some((part) => part.kind === 'word' && isSentenceWord(part.text));
    if (goesOn) return undefined;
    return subject.endsWith(';') ? gap.index - 1 : gap.index;
  }
  return undefined;
}

/** Words that no name holds, but nearly every sentence. */
const SENTENCE: ReadonlySet<string> = new Set([
  ...['a', 'an', 'the', 'this', 'that', 'it', 'its', 'some', 'all', 'more', 'less', 'about', 'another', 'each', 'only'],
  ...[
    'of',
    'to',
    'in',
    'on',
    'at',
    'for',
    'from',
    'with',
    'by',
    'into',
    'out',
    'off',
    'up',
    'over',
    'than',
    'after',
    'before',
  ],
  ...['and', 'or', 'but', 'as', 'not', 'no', 'still', 'again', 'slow', 'fast', 'left', 'kept'],
  ...[
    'was',
    'were',
    'is',
    'are',
    'has',
    'had',
    'went',
    'looks',
    'looked',
    'will',
    'came',
    'began',
    'gave',
    'took',
    'lost',
  ],
]);

const isSentenceWord = (word: string): boolean => SENTENCE.has(word.toLowerCase()) || /^[a-z]+ed$/.test(word);
