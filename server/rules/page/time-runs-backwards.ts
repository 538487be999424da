import { amended } from '../../model/amend';
import { dateOf, logOf } from '../../model/timeline';
import { rule } from '../rule';
import { lineAbove, sentences } from '../wording';

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
    for (const { block, span, text, fall, before, moment } of logOf(amended(source))) {
      if (!before || fall === 0) continue;
      const next = moment && dateOf(moment.day + 1);
      yield {
        span,
        block,
        message: sentences(
          `${text} stands below ${before.text}.`,
          'Correct the time, or write the date above it if it is another day.',
        ),
        ...(next && {
          fixes: [{ title: `Add date: ${next} above ${text}`, edits: lineAbove(source, block, `date: ${next}`) }],
        }),
      };
    }
  },
});
