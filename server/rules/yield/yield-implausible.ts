import { held } from '../../quantity/held';
import { show } from '../../quantity/show';
import { steps } from '../../quantity/steps';
import { restsOf } from '../claimed';
import { rule } from '../rule';
import { sentences } from '../wording';

/** Below this a factor of a thousand is likelier than a bad reaction. */
const FAINT = 0.005;

export default rule({
  code: 'yield-implausible',
  family: 'yield',
  severity: 'off',
  fixable: 'never',
  title: 'The yield is hardly measurable',
  why: `A yield below half a percent is mostly milligrams written for grams, or the wrong limiting reactant. It may as well be a
reaction that failed, which is worth writing down as it is: off unless it is switched on.`,
  help: 'Look at the units of the product and of the limiting reactant.',
  examples: [
    {
      name: 'milligrams for grams',
      wrong: `experiment TB-511: Cyclohexene
date: 2026-03-11
author: MK
reaction R1: cyclohexanol -> cyclohexene + H2O
charge cyclohexanol: 2.05 g
product cyclohexene: 1.28 mg, distilled
        ^^^^^^^^^^^ yield-implausible: 0.0
`,
      right: `experiment TB-511: Cyclohexene
date: 2026-03-11
author: MK
reaction R1: cyclohexanol -> cyclohexene + H2O
charge cyclohexanol: 2.05 g
product cyclohexene: 1.28 g, distilled
`,
    },
    {
      name: 'near miss: a small fraction with a label of its own',
      right: `experiment TB-512: Cyclohexene
date: 2026-03-11
author: MK
reaction R1: cyclohexanol -> cyclohexene + H2O
charge cyclohexanol: 2.05 g
product cyclohexene: 1.28 g, distilled
product cyclohexene: 3 mg, label V-3
`,
    },
  ],
  sources: ['common practice, no source'],
  *check({ values }) {
    for (const { product, yield: own, stageYield } of values.products) {
      const share = stageYield ?? held(own);
      if (!share || share.value.gte(FAINT) || share.value.lte(0)) continue;
      yield {
        span: product.entry.mark,
        block: product.entry.block,
        message: sentences(`${product.name.text} is ${show(share)} of theory.`, 'Look at the units.'),
        working: steps(share),
        rests: restsOf(share),
      };
    }
  },
});
