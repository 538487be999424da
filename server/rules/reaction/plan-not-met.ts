import { metPlans } from '../../compute/plan-met';
import { exact, type Held, subtract } from '../../quantity/held';
import { show } from '../../quantity/show';
import { rule } from '../rule';
import { brief, sentences } from '../wording';

/** Of the plan; common practice, no source. */
const TOLERATED = 0.05;

export default rule({
  code: 'plan-not-met',
  family: 'reaction',
  severity: 'hint',
  fixable: 'never',
  title: 'What was charged is not what was planned',
  why: `The page plans an amount and charges another one, more than 5 % off. Both may be right: plans change at the bench. It
is said so that a slip (a forgotten portion, a wrong bottle) shows while it can still be mended. Lines of one name add up; what
follows from a target without a line of its own is compared only if it is the limiting reactant, because the others are often
taken in excess. Solvents are compared with solvents, never with washes.`,
  help: 'Look at the weighing. If it was meant, write why, or change the plan while the page is open.',
  examples: [
    {
      name: 'a portion was forgotten',
      wrong: `experiment TB-441: Ester
date: 2026-03-11
author: MK
reaction R1: benzoic acid + ethanol -> ethyl benzoate + water
plan ethyl benzoate: 5.00 g at 80 %
plan ethanol: 10 equiv
charge benzoic acid: 5.09 g, limiting
charge ethanol: 15.0 g
       ^^^^^^^ plan-not-met: 19.2 g
`,
    },
    {
      name: 'the limiting reactant against a target',
      wrong: `experiment TB-442: Ester
date: 2026-03-11
author: MK
reaction R1: benzoic acid + ethanol -> ethyl benzoate + water
plan ethyl benzoate: 5.00 g at 80 %
charge benzoic acid: 4.09 g, limiting
       ^^^^^^^^^^^^ plan-not-met: 5.08 g
charge ethanol: 20 mL
`,
    },
    {
      name: 'near misses: within 5 %, in two portions, an excess nobody planned, a wash, a plan to make a solution up',
      right: `experiment TB-443: Ester
date: 2026-03-11
author: MK
solution caustic: 2 M sodium hydroxide in water
reaction R1: benzoic acid + ethanol -> ethyl benzoate + water
plan ethyl benzoate: 5.00 g at 80 %
plan toluene: 20 mL, solvent
plan caustic: 250 mL
charge benzoic acid: 2.55 g, limiting
charge benzoic acid: 2.60 g
charge ethanol: 40 mL
charge toluene: 20 mL, solvent
charge toluene: 50 mL, wash
charge caustic: 20 mL, wash
`,
    },
  ],
  sources: ['5 %: common practice, no source'],
  *check({ values }) {
    for (const { name, charges, planned, charged, ratio } of metPlans(values)) {
      const off = ratio.value.minus(1).toNumber();
      const last = charges.at(-1)!.charge;
      if (Math.abs(off) <= TOLERATED) continue;
      yield {
        span: last.name.span,
        block: last.entry.block,
        message: sentences(
          `${said(charged)} of ${brief(name)} charged, ${said(planned)} planned: ${percent(ratio)} ${off > 0 ? 'more' : 'less'}.`,
          'If it was meant, a word why helps the next reader.',
        ),
        rests: charges.map(({ charge }) => charge.name.span),
      };
    }
  },
});

const said = (value: Held): string => show({ ...value, figures: 3 }, { as: 'claim' });

function percent(ratio: Held): string {
  const off = subtract(ratio, exact('ratio', 1), { inputs: [] });
  return show({ ...off, value: off.value.abs(), figures: 2 }, { as: 'claim' });
}
