// The list of rules holds this rule, too; it is asked only when a page is checked.
import { RULES } from '../index';
import { nearest } from '../nearest';
import { rule } from '../rule';
import { covers } from '../run';
import { replaceFix, sentences } from '../wording';

export default rule({
  code: 'accept-unused',
  family: 'page',
  severity: 'hint',
  fixable: 'always',
  title: 'An accept that accepts nothing',
  why: `\`accept\` sets one finding of the statement above aside and gives the reason. When the finding is gone, the line only
hides a later one; with a code that no rule has, it never did anything. Findings about the page as a whole are accepted with
\`accept RULE on the page: reason\`.`,
  help: 'Delete the line, correct the code, or move it right below the statement it is about.',
  examples: [
    {
      name: 'the finding is gone',
      wrong: `experiment TB-241: Drying
date: 2026-03-11
author: MK
product benzoic acid: tare 41.207 g, gross 43.423 g
accept tare-missing: flask was lost
       ^^^^^^^^^^^^ accept-unused
`,
      right: `experiment TB-241: Drying
date: 2026-03-11
author: MK
product benzoic acid: tare 41.207 g, gross 43.423 g
`,
    },
    {
      name: 'a slip in the code',
      wrong: `experiment TB-242: Drying
date: 2026-03-11
author: MK
balance B-2: readability 0.001 g
product benzoic acid: net 2.21 g
accept readabilty-mismatch: copied from the report
       ^^^^^^^^^^^^^^^^^^^ accept-unused: readability-mismatch
`,
      right: `experiment TB-242: Drying
date: 2026-03-11
author: MK
balance B-2: readability 0.001 g
product benzoic acid: net 2.21 g
accept readability-mismatch: copied from the report
`,
    },
    {
      name: 'near miss: the finding is there, and a second accept between',
      right: `experiment TB-243: Drying
date: 2026-03-11
author: MK
balance B-2: readability 0.001 g
product benzoic acid: gross 43.42 g
accept tare-missing: the flask broke before it could be weighed
accept readability-mismatch: copied from the report
`,
    },
  ],
  sources: ['common practice, no source'],
  *check({ page, source, found }) {
    for (const accept of page.accepts) {
      const { text, span } = accept.rule;
      const known = RULES.find((r) => r.code === text);
      // Rules of the page run beside this one: what they find is not known here.
      if (known?.family === 'page' || (known && found.some((finding) => covers(accept, finding, { source })))) continue;
      const meant = known ? undefined : nearest(text, CODES());
      const corrected =
        meant && found.some((finding) => covers({ ...accept, rule: { text: meant, span } }, finding, { source }));
      const placed = source.blocks[accept.entry.block];
      const line = placed && { start: placed.at, end: placed.at + placed.block.text.length };
      const where = accept.wholePage ? 'on this page' : 'in the statement above';
      yield {
        span,
        block: accept.entry.block,
        message: known
          ? sentences(`There is no finding of ${text} ${where}.`, 'Delete this line or move it below its statement.')
          : sentences(`No rule has the code ${text}.`, meant && `Did you mean ${meant}?`),
        unnecessary: known !== undefined,
        fixes: corrected
          ? [replaceFix(span, text, meant)]
          : line
            ? [{ title: 'Delete this line', edits: [{ span: line, text: '' }] }]
            : [],
      };
    }
  },
});

const CODES = (): readonly string[] => RULES.map((r) => r.code);
