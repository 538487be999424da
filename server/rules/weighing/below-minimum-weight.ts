import { relativeSpread } from '../../compute/precision';
import { isHeld } from '../../quantity/held';
import { show } from '../../quantity/show';
import { toBase } from '../../quantity/units';
import { rule } from '../rule';
import { sentences } from '../wording';

export default rule({
  code: 'below-minimum-weight',
  family: 'weighing',
  severity: 'information',
  fixable: 'never',
  title: 'The net mass is below the minimum weight of the balance',
  why: `Below its minimum weight a balance still shows digits, but their spread is a large part of the mass. The limit is the
\`minimum\` that the page or a register states for the balance. Where none is stated, the spread itself is looked at: twice the
standard deviation of repeated weighings (\`repeatability\`, at least 0.41 steps of the display) over the net. Beyond 10 % the
mass has hardly one digit, and that is said. The net counts, not the reading: a heavy vessel does not help.`,
  help: `Weigh more and make a stock solution, or use a finer balance. If the larger uncertainty does not matter here, accept
the finding with that reason.`,
  examples: [
    {
      name: 'a few milligrams on a three-place balance',
      wrong: `experiment TB-091: Catalyst
date: 2026-03-11
author: MK
balance B-2: readability 0.001 g, minimum 0.020 g
weigh sodium chloride: tare 12.345 g, gross 12.357 g
      ^^^^^^^^^^^^^^^ below-minimum-weight: 0.012 g
`,
    },
    {
      name: 'no limit stated, and mostly noise',
      wrong: `experiment TB-093: Catalyst
date: 2026-03-11
author: MK
balance B-2: readability 0.001 g
weigh sodium chloride: tare 12.345 g, gross 12.349 g
      ^^^^^^^^^^^^^^^ below-minimum-weight: 20 %
`,
    },
    {
      name: 'near misses: at the limit, no limit stated and a mass with two digits, a balance that declares nothing',
      right: `experiment TB-092: Catalyst
date: 2026-03-11
author: MK
balance B-2: readability 0.001 g, minimum 0.020 g
balance B-3: readability 0.01 g
balance B-4: capacity 200 g
weigh sodium chloride: tare 12.345 g, gross 12.365 g, on B-2
weigh potassium chloride: tare 12.34 g, gross 12.43 g, on B-3
weigh potassium bromide: tare 12.34 g, gross 12.35 g, on B-4
`,
    },
  ],
  sources: [
    'USP general chapter 41, Balances (1 August 2019): twice the standard deviation over the net, 0.41 steps at least',
    'the limit of 10 %: common practice, no source',
  ],
  *check({ values }) {
    for (const { entry, balance, net, readings } of values.weighings) {
      if (!balance || !isHeld(net) || readings.length === 0 || net.value.lte(0)) continue;
      const least = balance.minimum?.quantity;
      if (least?.unit?.kind !== 'mass') {
        const spread = relativeSpread(net, balance);
        if (!spread || spread.value.lte(MOSTLY_NOISE)) continue;
        yield {
          span: entry.mark,
          block: entry.block,
          message: sentences(
            `The net is ${show(net)}; twice the standard deviation of ${balance.name} is ${show({ ...spread, figures: 2 }, { as: 'claim' })} of it.`,
            'Use a finer balance, or weigh more and divide a solution, if the mass matters here.',
          ),
          rests: readings.map((r) => r.datum.span),
        };
        continue;
      }
      if (net.value.gte(toBase(least.number.value, least.unit))) continue;
      yield {
        span: entry.mark,
        block: entry.block,
        message: sentences(
          `The net is ${show(net, { unit: least.unit.symbol || 'g' })}, below the minimum weight of ${least.number.text} ${least.unit.symbol} stated for ${balance.name}.`,
          'Use a finer balance or weigh more, if its uncertainty matters here.',
        ),
        rests: readings.map((r) => r.datum.span),
      };
    }
  },
});

/** Share of the net. */
const MOSTLY_NOISE = 0.1;
