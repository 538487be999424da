import { trendOf } from '../../compute/series';
import { Decimal } from '../../quantity/decimal';
import { exact, isHeld } from '../../quantity/held';
import { show } from '../../quantity/show';
import { toBase } from '../../quantity/units';
import { rule } from '../rule';
import { sentences } from '../wording';

export default rule({
  code: 'not-constant-mass',
  family: 'weighing',
  severity: 'information',
  fixable: 'never',
  title: 'The drying series has not come to a constant mass',
  why: `Several \`gross\` readings of one weighing are a drying series; the last one counts. The mass is constant when two
readings in a row differ by no more than 0.5 mg for each gram of substance. Two steps of the display, or three times a stated
repeatability, are always let pass. While the mass still falls, the net and the yield are too high by what is still to go.`,
  help: 'Dry and weigh again, or accept the finding if the rest does not matter here.',
  examples: [
    {
      name: 'still losing water',
      wrong: `experiment TB-111: Drying
date: 2026-03-11
author: MK
product benzoic acid:
  tare 41.207 g, gross 43.934 g at 14:00, gross 43.512 g at 16:00
                                                ^^^^^^^^ not-constant-mass: 0.422 g
`,
    },
    {
      name: 'near misses: constant within a step, within half a milligram for each gram',
      right: `experiment TB-112: Drying
date: 2026-03-11
author: MK
product benzoic acid:
  tare 41.207 g, gross 43.934 g at 14:00, gross 43.424 g at 16:00, gross 43.423 g at 18:00
product sodium benzoate:
  tare 41.2070 g, gross 61.5340 g at 14:00, gross 61.5251 g at 18:00
`,
    },
  ],
  sources: ['USP General Notices, drying to constant weight: 0.50 mg per gram taken (from memory)'],
  *check({ values, text }) {
    for (const { entry, readings, net, balance, series: intervals } of values.weighings) {
      // Readings of one sitting are no drying series.
      if (trendOf(intervals, undefined)) continue;
      const series = readings.filter((r) => r.what === 'gross' && r.datum.quantity.unit?.kind === 'mass');
      const [before, last] = series.slice(-2).map((r) => r.datum);
      if (!before || !last) continue;
      const masses = [before, last].map(({ quantity }) => toBase(quantity.number.value, quantity.unit!));
      const difference = masses[1]!.minus(masses[0]!).abs();
      const steps = [before, last].map(({ quantity }) =>
        Decimal.pow(10, quantity.number.place).times(quantity.unit!.factor).times(2),
      );
      const repeatability = balance?.repeatability?.quantity;
      const limit = Decimal.max(
        ...steps,
        repeatability?.unit ? toBase(repeatability.number.value, repeatability.unit).times(3) : 0,
        isHeld(net) ? net.value.times(LARGEST_SHARE) : 0,
      );
      if (difference.lte(limit)) continue;
      const way = masses[1]!.lt(masses[0]!) ? 'less' : 'more';
      yield {
        span: last.span,
        block: entry.block,
        message: sentences(
          `The last reading, ${text(last.span)}, is ${show(exact('mass', difference))} ${way} than the one before, ${text(before.span)}.`,
          `Constant would be within ${show(exact('mass', limit))}; dry and weigh again.`,
        ),
        rests: [last.span, before.span],
      };
    }
  },
});

/** 0.50 mg for each gram. */
const LARGEST_SHARE = '0.0005';
