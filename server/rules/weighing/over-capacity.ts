import { toBase } from '../../quantity/units';
import { rule } from '../rule';
import { sentences } from '../wording';

export default rule({
  code: 'over-capacity',
  family: 'weighing',
  severity: 'warning',
  fixable: 'never',
  title: 'The reading is above the capacity of the balance',
  why: `A balance shows no number above its capacity, so the reading was taken on another balance or copied wrongly. Vessel and
content count together, even if the display was zeroed on the vessel.`,
  help: 'Name the balance that took the reading with `on`, or look at the digits again.',
  examples: [
    {
      name: 'a reading above the capacity',
      wrong: `experiment TB-081: Capacity
date: 2026-03-11
author: MK
balance A-1: readability 0.0001 g, capacity 220 g
weigh sodium chloride: tare 112.2071 g, gross 254.8803 g
                                              ^^^^^^^^^^ over-capacity: 220 g
`,
    },
    {
      name: 'near miss: just at the capacity',
      right: `experiment TB-082: Capacity
date: 2026-03-11
author: MK
balance A-1: readability 0.0001 g, capacity 220 g
weigh sodium chloride: tare 112.2071 g, gross 220.0000 g
`,
    },
  ],
  sources: ['common practice, no source'],
  *check({ values, text }) {
    for (const { entry, balance, readings } of values.weighings) {
      const most = balance?.capacity?.quantity;
      if (!balance || most?.unit?.kind !== 'mass') continue;
      const limit = toBase(most.number.value, most.unit);
      for (const { datum, what, from } of readings) {
        const { number, unit } = datum.quantity;
        if (unit?.kind !== 'mass' || from || toBase(number.value, unit).lte(limit)) continue;
        yield {
          span: datum.span,
          block: entry.block,
          message: sentences(
            `The ${what} is written ${text(datum.span)}, above the ${most.number.text} ${most.unit.symbol} that ${balance.name} can take.`,
            'Name the balance that showed it, or look at the digits again.',
          ),
          rests: [datum.span],
        };
      }
    }
  },
});
