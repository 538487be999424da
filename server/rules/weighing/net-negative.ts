import { isHeld } from '../../quantity/held';
import { show } from '../../quantity/show';
import { shown } from '../../quantity/steps';
import { rule } from '../rule';
import { sentences } from '../wording';

export default rule({
  code: 'net-negative',
  family: 'weighing',
  severity: 'error',
  fixable: 'sometimes',
  title: 'The mass comes out negative',
  why: `What was dispensed is the reading before minus the reading after, less what stayed behind. It cannot be less than
nothing. A balance zeroed on a vessel shows a negative net only if the vessel has become lighter.`,
  help: `Look which reading was taken first. If they were swapped, swap the words, not the numbers. If the balance drifted or
was not zeroed, weigh again.`,
  examples: [
    {
      name: 'before and after swapped',
      wrong: `experiment TB-051: By difference
date: 2026-03-11
author: MK
charge sodium chloride: before 60.1562 g, after 60.5450 g
                                                ^^^^^^^^^ net-negative: 0.3888 g
`,
      right: `experiment TB-051: By difference
date: 2026-03-11
author: MK
charge sodium chloride: after 60.1562 g, before 60.5450 g
`,
    },
    {
      name: 'near miss: nothing came out',
      right: `experiment TB-052: By difference
date: 2026-03-11
author: MK
charge sodium chloride: before 60.1562 g, after 60.1562 g
`,
    },
  ],
  sources: ['common practice, no source'],
  *check({ values }) {
    for (const { entry, gross, net, before, after, readings } of values.weighings) {
      if (gross || !isHeld(net) || !net.value.isNegative() || net.value.isZero()) continue;
      const last = readings.findLast((r) => r.what === 'after' || r.what === 'net') ?? readings[readings.length - 1];
      if (!last) continue;
      const first = readings.find((r) => r.what === 'before');
      const size = show({ ...net, value: net.value.neg() });
      const swap = before && after && first && last.what === 'after' && after.value.gt(before.value);
      yield {
        span: last.datum.span,
        block: entry.block,
        message: swap
          ? sentences(
              `After, ${shown(after)}, is ${size} above before, ${shown(before)}: nothing dispensed weighs less than nothing.`,
              'They may be swapped; look at the two readings again.',
            )
          : sentences(`The net comes out ${size} below zero.`, 'Look at the readings again; was the balance zeroed?'),
        doubts: [last.datum.span, ...(first ? [first.datum.span] : [])],
        ...(swap && {
          fixes: [
            {
              title: `Swap the words: before ${shown(after)}, after ${shown(before)}`,
              edits: [
                { span: first.word, text: 'after' },
                { span: last.word, text: 'before' },
              ],
            },
          ],
        }),
      };
    }
  },
});
