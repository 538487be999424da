import type { Span } from '../../../grammar/tree';
import type { ProductValue } from '../../compute/values';
import { type Held, held, uncertainty } from '../../quantity/held';
import { show } from '../../quantity/show';
import { steps } from '../../quantity/steps';
import { relatedTo, restsOf } from '../claimed';
import { rule, type Severity } from '../rule';
import { type Grade, gradeOf } from '../stages';
import { sentences } from '../wording';

/** Expanded uncertainty, about 95 %. */
const COVERAGE = 2;

const SEVERITY: Readonly<Record<Grade, Severity>> = { pure: 'error', unsaid: 'warning', raw: 'information' };

export default rule({
  code: 'yield-over-100',
  family: 'yield',
  severity: 'error',
  fixable: 'never',
  title: 'The yield is above 100 %',
  why: `More than theory cannot be there. Of a product that is called pure this is an error: an amount, the limiting reactant,
the equation or the purity is wrong. Without a stage it is a warning, and of a crude or wet product only information, because
solvent and by-products are weighed as well. Nothing is said within twice the standard uncertainty of the yield.`,
  help: `Look at the weighing and at the limiting reactant first. If the product still holds solvent, write the stage (\`crude\`)
or what it contains (\`contains ethyl acetate 8 wt%\`).`,
  examples: [
    {
      name: 'a pure product',
      wrong: `experiment TB-501: Cyclohexene
date: 2026-03-11
author: MK
reaction R1: cyclohexanol -> cyclohexene + H2O
charge cyclohexanol: 2.05 g
product cyclohexene: 1.82 g, distilled
                     ^^^^^^ yield-over-100: 108
`,
      right: `experiment TB-501: Cyclohexene
date: 2026-03-11
author: MK
reaction R1: cyclohexanol -> cyclohexene + H2O
charge cyclohexanol: 2.05 g
product cyclohexene: 1.28 g, distilled
`,
    },
    {
      name: 'two crops together',
      wrong: `experiment TB-502: Ester
date: 2026-03-11
author: MK
reaction R1: benzoic acid + ethanol -> ethyl benzoate + water
charge benzoic acid: 2.44 g, limiting
charge ethanol: 20 mL
product ethyl benzoate: 2.01 g, distilled, first crop
product ethyl benzoate: 1.21 g, distilled, second crop
                        ^^^^^^ yield-over-100: together
`,
      right: `experiment TB-502: Ester
date: 2026-03-11
author: MK
reaction R1: benzoic acid + ethanol -> ethyl benzoate + water
charge benzoic acid: 2.44 g, limiting
charge ethanol: 20 mL
product ethyl benzoate: 2.01 g, distilled, first crop
product ethyl benzoate: 0.71 g, distilled, second crop
`,
    },
    {
      name: 'near misses: theory within the uncertainty, what it contains is taken off',
      right: `experiment TB-503: Cyclohexene
date: 2026-03-11
author: MK
reaction R1: cyclohexanol -> cyclohexene + H2O
charge cyclohexanol: 2.0 g
product cyclohexene: 1.65 g, distilled

experiment TB-504: Cyclohexene
date: 2026-03-12
author: MK
reaction R1: cyclohexanol -> cyclohexene + H2O
charge cyclohexanol: 2.05 g
product cyclohexene: 1.78 g, distilled, contains cyclohexanol 8 wt%
`,
    },
  ],
  sources: ['Conservation of mass; twice the standard uncertainty as in JCGM 100:2008 (GUM) 6.2 (from memory)'],
  *check({ values }) {
    for (const [i, value] of values.products.entries()) {
      const { product, theory, stageYield } = value;
      // Crops together are said at the last of them.
      const last = !values.products.slice(i + 1).some((later) => stageYield && addsUp(value, later));
      const share = stageYield ? (last ? stageYield : undefined) : held(value.yield);
      const mass = theory && held(theory.mass);
      if (!share || !theory || !isOver(share)) continue;
      yield {
        span: amountSpan(value),
        block: product.entry.block,
        severity: SEVERITY[gradeOf(product)],
        message: sentences(
          `${product.name.text} ${stageYield ? 'together is' : 'is'} ${show(share)} of theory${mass ? `, which is ${show(mass)}` : ''}.`,
          gradeOf(product) === 'pure'
            ? 'A pure product cannot be more: look at the weighing, the limiting reactant and the equation.'
            : 'It holds something else, or an amount is wrong.',
        ),
        working: steps(share),
        related: relatedTo(share),
        rests: [...restsOf(share), ...(value.reaction ? [value.reaction.reaction.equation.span] : [])],
      };
    }
  },
});

const isOver = (share: Held): boolean => share.value.minus(1).gt(COVERAGE * uncertainty(share));

const addsUp = (a: ProductValue, b: ProductValue): boolean =>
  b.stageYield !== undefined && a.product.name.text === b.product.name.text && a.superseded === b.superseded;

/** What was measured, or the name. */
function amountSpan({ product, weighing }: ProductValue): Span {
  return product.amount.quantities[0]?.span ?? weighing?.gross?.reading.datum.span ?? product.entry.mark;
}
