import { rule } from '../rule';
import { either, lineEnd, sentences } from '../wording';

export default rule({
  code: 'page-head-missing',
  family: 'page',
  severity: 'hint',
  fixable: 'always',
  title: 'The page says not when or by whom',
  why: `A page that records an experiment says on which day it was done and who did it. Without the date the log has no day,
and no other page can tell which of two tares is the newer one. Only pages with a \`charge\` are looked at.`,
  help: 'Write `date:` (as 2026-03-04) and `author:` below the `experiment` line.',
  examples: [
    {
      name: 'nobody did it',
      wrong: `experiment TB-201: Brine
           ^^^^^^ page-head-missing: author
date: 2026-03-11
charge sodium chloride: 5.00 g
`,
      fixed: `experiment TB-201: Brine
author: \ndate: 2026-03-11
charge sodium chloride: 5.00 g
`,
      right: `experiment TB-201: Brine
date: 2026-03-11
author: MK
charge sodium chloride: 5.00 g
`,
    },
    {
      name: 'near miss: a page of notes',
      right: `experiment TB-202: Ideas for the solvent screen
Ask whether the still is free next week.
`,
    },
  ],
  sources: ['common practice, no source'],
  *check({ page, source }) {
    if (!page.id || page.charges.length === 0) return;
    const missing = (['date', 'author'] as const).filter((what) => !page[what]?.text);
    if (missing.length === 0) return;
    const block = source.blocks.findIndex((b) => b.block.statement?.keyword === 'experiment');
    const placed = source.blocks[block];
    const statement = placed?.block.statement;
    if (!placed || !statement) return;
    const end = placed.at + statement.span.end;
    const lines = missing.map((what, i) => `${lineEnd(source)}${what}: \${${i + 1}}`);
    yield {
      span: page.id.span,
      block,
      message: sentences(`The page has charges but no ${either(missing)}.`, `Add it below the first line.`),
      fixes: [
        {
          title: `Add ${missing.map((what) => `${what}:`).join(' and ')}`,
          edits: [{ span: { start: end, end }, text: lines.join('') }],
          snippet: true,
        },
      ],
    };
  },
});
