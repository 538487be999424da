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
\`minimum\` that the page or a register states for the balance; none is guessed from its readability. The net counts, not the
reading: a heavy vessel does not help.`,
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
      name: 'near misses: at the limit, no limit stated',
      right: `experiment TB-092: Catalyst
date: 2026-03-11
author: MK
balance B-2: readability 0.001 g, minimum 0.020 g
balance B-3: readability 0.01 g
weigh sodium chloride: tare 12.345 g, gross 12.365 g, on B-2
weigh potassium chloride: tare 12.34 g, gross 12.35 g, on B-3
`,
    },
  ],
  sources: ['USP general chapter 41, Balances: the idea of a minimum weight by the repeatability (from memory)'],
  *check({ values }) {
    for (const { entry, balance, net, readings } of values.weighings) {
      const least = balance?.minimum?.quantity;
      if (!balance || least?.unit?.kind !== 'mass' || !isHeld(net) || readings.length === 0) continue;
      if (net.value.lte(0) || net.value.gte(toBase(least.number.value, least.unit))) continue;
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
