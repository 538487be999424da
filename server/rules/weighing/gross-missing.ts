import { isHeld } from '../../quantity/held';
import { amountOf, isWritten } from '../entries';
import { rule } from '../rule';
import { sentences } from '../wording';

export default rule({
  code: 'gross-missing',
  family: 'weighing',
  severity: 'warning',
  fixable: 'never',
  title: 'A weighing has only one of its two readings',
  why: `A mass by difference needs two readings: tare and gross, or before and after. With one of them there is no net mass,
and the reading that was not written down cannot be had later.`,
  help: `Write the second reading if it was taken. If the balance was zeroed on the vessel, write the mass as \`net\`. If only the
empty vessel was weighed, write the reading on a \`vessel\` line.`,
  examples: [
    {
      name: 'the tare alone',
      wrong: `experiment TB-031: Drying
date: 2026-03-11
author: MK
product benzoic acid: tare 41.207 g
        ^^^^^^^^^^^^ gross-missing: 41.207 g
`,
      right: `experiment TB-031: Drying
date: 2026-03-11
author: MK
product benzoic acid: tare 41.207 g, gross 43.423 g
`,
    },
    {
      name: 'a bottle weighed before, not after',
      wrong: `experiment TB-032: By difference
date: 2026-03-11
author: MK
charge sodium chloride: before 60.5450 g
       ^^^^^^^^^^^^^^^ gross-missing: 60.5450 g
`,
      right: `experiment TB-032: By difference
date: 2026-03-11
author: MK
charge sodium chloride: before 60.5450 g, after 60.1562 g
`,
    },
    {
      name: 'near misses: an empty vessel on its own, a mass besides the tare',
      right: `experiment TB-033: Vessels
date: 2026-03-11
author: MK
vessel F-12: 50 mL, tare 41.207 g
weigh F-12: tare 41.208 g
product benzoic acid: 2.216 g, tare 41.207 g
`,
    },
  ],
  sources: ['common practice, no source'],
  *check({ page, values, source, text }) {
    for (const { entry, readings, net } of values.weighings) {
      if (entry.keyword === 'vessel' || isHeld(net)) continue;
      if (page.weighs.some((weigh) => weigh.entry === entry && weigh.vessel)) continue;
      if ((amountOf(page, entry)?.quantities.length ?? 0) > 0) continue;
      const reading = (what: string) => readings.find((r) => r.what === what);
      const [one, other] =
        (
          [
            ['tare', 'gross'],
            ['before', 'after'],
            ['after', 'before'],
          ] as const
        )
          .map(([a, b]) => [reading(a), reading(b) ? undefined : b] as const)
          .find(([a, b]) => a && b) ?? [];
      if (!one || !other || (one.what === 'tare' && reading('net')) || isWritten(other, source, entry)) continue;
      yield {
        span: entry.mark,
        block: entry.block,
        message: sentences(
          `${one.what === 'tare' ? 'The tare' : `The reading ${one.what}`} is written ${text(one.datum.span)}, the reading ${other} is not: no net mass.`,
          other === 'gross'
            ? 'Write the gross reading, or the mass as net if the balance was zeroed.'
            : `Write the reading ${other} it was dispensed.`,
        ),
        doubts: [one.datum.span],
      };
    }
  },
});
