import { carriedKey } from '../../compute/reaction';
import { materialKey } from '../../model/scope';
import { show } from '../../quantity/show';
import { addFact } from '../insert';
import { rule } from '../rule';
import { sentences } from '../wording';

export default rule({
  code: 'no-limiting',
  family: 'reaction',
  severity: 'off',
  fixable: 'always',
  title: 'No reactant is marked limiting',
  why: `Without a mark the tool takes the reactant that runs out first, which the hover of the equation shows. Some groups want
the mark on the page. Off unless it is switched on.`,
  help: 'Mark the reactant that the yield is worked out from with `limiting`.',
  examples: [
    {
      name: 'nobody said which',
      wrong: `experiment TB-441: Ester
date: 2026-03-11
author: MK
reaction R1: benzoic acid + ethanol -> ethyl benzoate + water
             ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ no-limiting: benzoic acid
charge benzoic acid: 2.44 g
charge ethanol: 20.0 g
`,
      right: `experiment TB-441: Ester
date: 2026-03-11
author: MK
reaction R1: benzoic acid + ethanol -> ethyl benzoate + water
charge benzoic acid: 2.44 g, limiting
charge ethanol: 20.0 g
`,
    },
    {
      name: 'near misses: one reactant, nothing charged',
      right: `experiment TB-442: Elimination
date: 2026-03-11
author: MK
reaction R1: cyclohexanol -> cyclohexene + water
charge cyclohexanol: 2.05 g

experiment TB-443: Planned
date: 2026-03-11
author: MK
reaction R1: benzoic acid + ethanol -> ethyl benzoate + water
`,
    },
  ],
  sources: ['common practice, no source'],
  *check({ values, source }) {
    for (const { reaction, limiting, left } of values.reactions) {
      if (!limiting || limiting.declared || left.length < 2 || limiting.term.carried) continue;
      const { term } = limiting.term;
      const key = term.name.target && materialKey(term.name.target);
      const charge = values.charges.find((c) => key !== undefined && carriedKey(c) === key)?.charge;
      if (!charge) continue;
      yield {
        span: reaction.equation.span,
        block: reaction.entry.block,
        message: sentences(
          `No reactant is marked limiting; ${term.name.text}, ${show(limiting.amount)}, runs out first.`,
        ),
        fixes: [{ title: `Mark ${term.name.text} as limiting`, edits: [addFact(source, charge.entry, 'limiting')] }],
      };
    }
  },
});
