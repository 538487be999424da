import { reproduces } from '../../quantity/agree';
import { isHeld } from '../../quantity/held';
import { show } from '../../quantity/show';
import { shown } from '../../quantity/steps';
import { netClaimOf } from '../entries';
import { type Fix, rule } from '../rule';
import { sentences } from '../wording';

export default rule({
  code: 'gross-below-tare',
  family: 'weighing',
  severity: 'error',
  fixable: 'sometimes',
  title: 'The gross reading is below the tare',
  why: `A vessel with something in it cannot weigh less than the empty vessel. Either the two readings stand under each other's
name, or one of them belongs to another vessel, or a digit is wrong.`,
  help: `Look at the printout or the display again. If the readings were swapped, swap the words, not the numbers. If the tare
is that of another vessel, name the vessel that was weighed.`,
  examples: [
    {
      name: 'readings swapped',
      wrong: `experiment TB-041: Aluminium
date: 2026-03-11
author: MK
weigh aluminium: tare 1.3838 g, gross 0.3832 g (net 1.0006 g)
                                      ^^^^^^^^ gross-below-tare: the net of 1.0006 g
`,
      right: `experiment TB-041: Aluminium
date: 2026-03-11
author: MK
weigh aluminium: gross 1.3838 g, tare 0.3832 g (net 1.0006 g)
`,
    },
    {
      name: 'near miss: a content far lighter than its vessel, readings in two units',
      right: `experiment TB-042: A milligram
date: 2026-03-11
author: MK
vessel V-1: tare 2.41207 g
weigh aluminium: gross 2413.10 mg, in V-1 (net 1.03 mg)
`,
    },
  ],
  sources: ['common practice, no source'],
  *check({ values }) {
    for (const { entry, tare, gross, net, readings } of values.weighings) {
      if (!tare || !gross || !isHeld(net) || !net.value.isNegative()) continue;
      const swapped = { ...net, value: net.value.neg() };
      const claim = netClaimOf(values, entry)?.claim.quantity;
      const explains = claim?.unit && reproduces(claim, swapped.value, claim.unit);
      const swap: Fix = {
        title: `Swap the words: gross ${shown(tare.held)}, tare ${shown(gross.held)}`,
        edits: [
          { span: tare.reading.word, text: 'gross' },
          { span: gross.reading.word, text: 'tare' },
        ],
        preferred: explains === true,
      };
      const own = readings.includes(tare.reading) && readings.filter((r) => r.what === 'gross').length === 1;
      yield {
        span: gross.reading.datum.span,
        block: entry.block,
        slip: 'tare-gross-swapped',
        message: sentences(
          `Gross ${shown(gross.held)} is ${show(swapped)} below the tare ${shown(tare.held)}.`,
          explains ? `Swapped, they give the net of ${show(swapped)} that is written.` : 'They may be swapped.',
          'Look at the two readings again.',
        ),
        doubts: [gross.reading.datum.span, ...(own ? [tare.reading.datum.span] : [])],
        ...(own && { fixes: [swap] }),
      };
    }
  },
});
