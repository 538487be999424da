import { minimumWeight, relativeSpread } from '../../compute/precision';
import { isHeld } from '../../quantity/held';
import { show } from '../../quantity/show';
import { rule } from '../rule';
import { sentences } from '../wording';

export default rule({
  code: 'below-usp-minimum',
  family: 'weighing',
  severity: 'off',
  fixable: 'never',
  title: 'The net mass is below the minimum weight of USP general chapter 41',
  why: `For what is to be "accurately weighed" the pharmacopoeia asks that twice the standard deviation of repeated weighings is
at most 0.10 % of the mass: m ≥ 2000 s, where s is not taken smaller than 0.41 steps of the display. On a balance with steps of
0.1 mg nothing below 82 mg fulfils that, on one with 1 mg nothing below 0.82 g. Preparative work seldom needs it, so the rule is
off; it is meant for assays. A \`minimum\` stated for the balance is looked at by \`below-minimum-weight\`.`,
  help: `Weigh more and dilute, or use a finer balance. Declare \`repeatability\`, measured with at least ten weighings: it may be
better or worse than its step lets one hope.`,
  examples: [
    {
      name: 'a hundred milligrams on a three-place balance',
      wrong: `experiment TB-151: Assay
date: 2026-03-11
author: MK
balance B-2: readability 0.001 g
weigh sodium chloride: tare 12.345 g, gross 12.445 g
      ^^^^^^^^^^^^^^^ below-usp-minimum: 0.82 g
`,
    },
    {
      name: 'near misses: exactly at the limit, a limit of its own, a balance that declares nothing',
      right: `experiment TB-152: Assay
date: 2026-03-11
author: MK
balance A-1: readability 0.0001 g, repeatability 0.00015 g
balance B-2: readability 0.001 g, minimum 0.020 g
balance B-3: capacity 200 g
weigh sodium chloride: tare 12.3450 g, gross 12.6450 g, on A-1
weigh potassium chloride: tare 12.345 g, gross 12.445 g, on B-2
weigh potassium bromide: tare 12.345 g, gross 12.445 g, on B-3
`,
    },
  ],
  sources: [
    'USP general chapter 41, Balances (1 August 2019): 2 s ÷ m ≤ 0.10 %, m ≥ 2000 s, its example s = 0.00015 g gives 0.300 g',
  ],
  *check({ values }) {
    for (const { entry, balance, net, readings } of values.weighings) {
      if (!balance || balance.minimum || !isHeld(net) || readings.length === 0) continue;
      const least = minimumWeight(balance);
      const spread = relativeSpread(net, balance);
      if (!least || !spread || net.value.gte(least.value)) continue;
      yield {
        span: entry.mark,
        block: entry.block,
        message: sentences(
          `The net is ${show(net)}; for 0.10 % ${balance.name} needs ${show(least)} or more.`,
          `Here twice its standard deviation is ${show({ ...spread, figures: 2 }, { as: 'claim' })} of the mass.`,
        ),
        rests: readings.map((r) => r.datum.span),
      };
    }
  },
});
