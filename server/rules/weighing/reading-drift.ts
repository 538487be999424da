import { trendOf } from '../../compute/series';
import { exact } from '../../quantity/held';
import { show } from '../../quantity/show';
import { toBase } from '../../quantity/units';
import { rule } from '../rule';
import { sentences } from '../wording';

export default rule({
  code: 'reading-drift',
  family: 'weighing',
  severity: 'information',
  fixable: 'never',
  title: 'The readings of one sitting run in one direction',
  why: `A balance that has come to rest shows the same number again, or one that goes up and down by a step. Three readings or
more within 15 minutes that only rise, or only fall, by more than three steps of the display and three times its
repeatability, say that something is still going on. A vessel warmer than the balance sets the air beside it rising, weighs too
little and gains as it cools; a colder one does the opposite. Dry stuff takes up moisture, wet stuff and solvents leave, a
charged vessel pulls at the housing until the charge has gone.`,
  help: `Let the vessel come to room temperature (a glass flask wants half an hour), close it, wait until the reading stays.
Against charge: a metal or antistatic boat, an ioniser, a grounded hand. If the sample itself gains or loses, weigh by
difference from a closed vessel. A drying series is read after each round in the oven and after cooling, further apart than
this.`,
  examples: [
    {
      name: 'a warm crucible on the pan, a vial that loses solvent',
      wrong: `experiment TB-131: Ash
date: 2026-03-11
author: MK
balance A-1: readability 0.0001 g
vessel C-1: crucible, tare 22.4101 g
weigh ash: gross 22.9310 g at 10:02, gross 22.9322 g at 10:04, gross 22.9331 g at 10:07, in C-1
                                                                     ^^^^^^^^^ reading-drift: warm
product limonene: tare 12.1010 g, gross 14.3321 g at 11:00, gross 14.3310 g at 11:02, gross 14.3299 g at 11:04
                                                                                            ^^^^^^^^^ reading-drift: evaporat
`,
    },
    {
      name: 'near misses: a drying series, readings that go up and down, the last digit, two readings',
      right: `experiment TB-132: Ash
date: 2026-03-11
author: MK
balance A-1: readability 0.0001 g
weigh ash: tare 22.4101 g, gross 22.9910 g at 10:00, gross 22.9325 g at 12:00, gross 22.9322 g at 14:00
weigh silica: tare 22.4101 g, gross 22.9310 g at 10:00, gross 22.9312 g at 10:02, gross 22.9311 g at 10:04
weigh alumina: tare 22.4101 g, gross 22.9310 g at 10:00, gross 22.9311 g at 10:02, gross 22.9312 g at 10:04
weigh magnesia: tare 22.4101 g, gross 22.9310 g at 10:00, gross 22.9311 g at 10:02
`,
    },
  ],
  sources: [
    'good-weighing-practice.com, Physical influences: drift in one direction, its causes and what to do',
    'the limits of 15 minutes and three steps: common practice, no source',
  ],
  *check({ values, text }) {
    for (const { entry, series, balance } of values.weighings) {
      const repeatability = balance?.repeatability?.quantity;
      const known = repeatability?.unit && toBase(repeatability.number.value, repeatability.unit);
      const trend = trendOf(series, known);
      if (!trend) continue;
      const [first, last] = [trend.steps[0]!.from, trend.steps.at(-1)!.to];
      const change = show(exact('mass', trend.change.abs()), { unit: first.datum.quantity.unit!.symbol || 'g' });
      const minutes = Math.floor(trend.elapsed / 60);
      yield {
        span: last.datum.span,
        block: entry.block,
        message: sentences(
          `From ${text(first.datum.span)} to ${text(last.datum.span)}: ${trend.steps.length + 1} readings that only ${trend.rising ? 'rise' : 'fall'}, by ${change} in ${minutes} min.`,
          trend.rising
            ? 'A warm vessel that cools, or moisture taken up? Wait until it stays.'
            : 'Solvent evaporating, a cold vessel, static charge? Wait until it stays.',
        ),
        rests: trend.steps.map(({ to }) => to.datum.span),
      };
    }
  },
});
