import { dayAfter } from '../calendar';
import { rule } from '../rule';
import { lineAbove, sentences } from '../wording';

const HALF_A_DAY = 12 * 3600;

export default rule({
  code: 'time-runs-backwards',
  family: 'page',
  severity: 'warning',
  fixable: 'sometimes',
  title: 'A log entry is earlier than the one before it',
  why: `Log entries stand in the order in which things happened. A clock that falls by more than 12 hours is read as the next
day; a smaller fall is a slip, a late entry, or a new day whose date was not written.`,
  help: `Correct the time; or write \`date:\` above the entry if a new day begins there; or put a late entry where it belongs in
the order of the day and say in it that it was written later.`,
  examples: [
    {
      name: 'a new day without a date',
      wrong: `experiment TB-211: Overnight
date: 2026-03-11
author: MK
16:50 Left to stir.
09:10 Filtered.
^^^^^ time-runs-backwards: 16:50
`,
      fixed: `experiment TB-211: Overnight
date: 2026-03-11
author: MK
16:50 Left to stir.
date: 2026-03-12
09:10 Filtered.
`,
      right: `experiment TB-211: Overnight
date: 2026-03-11
author: MK
16:50 Left to stir.
date: 2026-03-12
09:10 Filtered.
`,
    },
    {
      name: 'near misses: the text says so',
      right: `experiment TB-213: Said
date: 2026-03-11
author: MK
16:50 Left to stir.
## Day 2
09:10 Filtered.
16:30 In the oven.
Next morning:
08:40 Out of the oven.
08:30 Weighed the dish empty (late entry).
`,
    },
    {
      name: 'near misses: past midnight, the same minute twice, a time inside an entry',
      right: `experiment TB-212: A long day
date: 2026-03-11
author: MK
09:10 Charged at 08:50, heating from 09:05.
14:20 Sample taken.
14:20 TLC: no starting material.
23:55 Still refluxing.
00:20 Off the heat.
`,
    },
  ],
  sources: ['common practice, no source'],
  *check({ source }) {
    let before: { readonly text: string; readonly seconds: number } | undefined;
    let day: string | undefined;
    for (let block = 0; block < source.blocks.length; block++) {
      const placed = source.blocks[block]!;
      const { clock, statement } = placed.block;
      if (statement?.keyword === 'date' && statement.body.kind === 'text') {
        day = statement.body.text.text;
        before = undefined;
      }
      const said = placed.block.body?.text ?? '';
      if (NEW_DAY.test(said)) before = undefined;
      if (!clock || LATE.test(said)) continue;
      const fall = before ? before.seconds - clock.seconds : 0;
      if (fall > HALF_A_DAY) day = dayAfter(day);
      if (before && fall > 0 && fall <= HALF_A_DAY) {
        const next = dayAfter(day);
        yield {
          span: { start: placed.at + clock.span.start, end: placed.at + clock.span.end },
          block,
          message: sentences(
            `${clock.text} stands below ${before.text}.`,
            'Correct the time, or write the date above it if it is another day.',
          ),
          ...(next && {
            fixes: [
              {
                title: `Add date: ${next} above ${clock.text}`,
                edits: lineAbove(source, block, `date: ${next}`),
              },
            ],
          }),
        };
      }
      before = clock;
    }
  },
});

/** What a heading, a line of prose or the entry says when another day begins. */
const NEW_DAY =
  /\b(?:next|following) (?:day|morning)\b|\bday \d|\b(?:mon|tues|wednes|thurs|fri|satur|sun)day\b|\d{4}-\d{2}-\d{2}/i;
/** An entry that says itself that it stands out of order. */
const LATE = /\b(?:late entry|(?:written|entered|added) (?:later|late|afterwards))\b/i;
