import { isHeld } from '../../quantity/held';
import { show } from '../../quantity/show';
import { rule } from '../rule';
import { brief, sentences } from '../wording';

export default rule({
  code: 'plan-below-minimum',
  family: 'weighing',
  severity: 'information',
  fixable: 'never',
  title: 'A planned weighing is below the minimum weight of the balance',
  why: `What is planned has to be weighed, and no balance that the page knows weighs so little well. The limit is the \`minimum\`
declared for the balance, else 2000 times the standard deviation of repeated weighings (not taken smaller than 0.41 steps of the
display): there twice that deviation is 0.10 % of the mass. For preparative work that is strict: what it means for this mass is
said beside it, and a declared \`minimum\` of the laboratory's own replaces it. Of several balances the coarsest that is good enough counts, else the finest. Liquids that can be
measured by volume are left out.`,
  help: `Take a finer balance, weigh more of a stock solution of it, or scale up. Declare \`minimum\` or \`repeatability\` if the
balance is better than its step lets one think.`,
  examples: [
    {
      name: 'three milligrams of catalyst on a three-place balance',
      wrong: `experiment TB-161: Coupling
date: 2026-03-11
author: MK
balance B-2: readability 0.001 g
plan 4-dimethylaminopyridine: 3.0 mg, catalyst
     ^^^^^^^^^^^^^^^^^^^^^^^ plan-below-minimum: 27 %
`,
    },
    {
      name: 'what follows from a target, with a declared limit',
      wrong: `experiment TB-162: Ester, small
date: 2026-03-11
author: MK
balance B-2: readability 0.001 g, minimum 0.25 g
reaction R1: benzoic acid + ethanol -> ethyl benzoate + water
plan ethyl benzoate: 100 mg at 80 %
     ^^^^^^^^^^^^^^ plan-below-minimum: benzoic acid
plan ethanol: 10 equiv
`,
    },
    {
      name: 'near misses: a finer balance on the page, a liquid by volume, above the limit, no balance',
      right: `experiment TB-163: Coupling
date: 2026-03-11
author: MK
balance B-2: readability 0.001 g
balance A-1: readability 0.0001 g, minimum 0.002 g
plan 4-dimethylaminopyridine: 3.0 mg, catalyst
plan triethylamine: 3.0 mg, base

experiment TB-164: Coupling
date: 2026-03-11
author: MK
balance B-2: readability 0.001 g
plan benzoic acid: 0.90 g

experiment TB-165: Coupling
date: 2026-03-11
author: MK
plan benzoic acid: 1 mg
`,
    },
  ],
  sources: ['USP general chapter 41, Balances (1 August 2019): 2 s ÷ m ≤ 0.10 %, s at least 0.41 d, hence m ≥ 2000 s'],
  *check({ values }) {
    const lines = values.plans.map((value) => ({ value, plan: value.plan }));
    const implied = values.planned.map((value) => ({ value, plan: value.target }));
    for (const { value, plan } of [...lines, ...implied]) {
      const { mass, balance, below, measure, role } = value;
      if (!balance || !below || measure || role === 'product' || !isHeld(mass)) continue;
      const by = balance.minimum ? '' : ' by USP <41>';
      yield {
        span: plan.entry.mark,
        block: plan.entry.block,
        message: sentences(
          `${show({ ...mass, figures: Math.min(mass.figures, 3) }, { as: 'claim' })} of ${brief(value.name)} is to be weighed; the minimum weight of ${balance.name}${by} is ${show({ ...below.least, figures: 2 }, { as: 'claim' })}.`,
          below.relative &&
            `Twice its standard deviation is ${show({ ...below.relative, figures: 2 }, { as: 'claim' })} of the mass.`,
          'A finer balance or a stock solution helps.',
        ),
        rests: [plan.entry.mark],
      };
    }
  },
});
