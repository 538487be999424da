import { carriedKey } from '../../compute/reaction';
import { materialKey } from '../../model/scope';
import { addFact } from '../insert';
import { isMeasured } from '../names';
import { rule } from '../rule';
import { sentences } from '../wording';

export default rule({
  code: 'charge-unused',
  family: 'reaction',
  severity: 'hint',
  fixable: 'always',
  title: 'The charge is in no equation and has no role',
  why: `What is charged either reacts, then it stands in the equation, or it has a role: solvent, catalyst, base and so on.
Without either the page does not say what it was for, and theory and balance leave it out.`,
  help: 'Write it into the equation, or give it a role.',
  examples: [
    {
      name: 'a catalyst without its role',
      wrong: `experiment TB-421: Ester
date: 2026-03-11
author: MK
reaction R1: benzoic acid + ethanol -> ethyl benzoate + water
charge benzoic acid: 2.44 g
charge ethanol: 20 mL
charge sulfuric acid: 0.5 mL
       ^^^^^^^^^^^^^ charge-unused: sulfuric acid
`,
      fixed: `experiment TB-421: Ester
date: 2026-03-11
author: MK
reaction R1: benzoic acid + ethanol -> ethyl benzoate + water
charge benzoic acid: 2.44 g
charge ethanol: 20 mL
charge sulfuric acid: 0.5 mL, solvent
`,
      right: `experiment TB-421: Ester
date: 2026-03-11
author: MK
reaction R1: benzoic acid + ethanol -> ethyl benzoate + water
charge benzoic acid: 2.44 g
charge ethanol: 20 mL
charge sulfuric acid: 0.5 mL, catalyst
`,
    },
    {
      name: 'near misses: no equation, things that are counted, reactants left open, a seed of product',
      right: `experiment TB-422: Recrystallisation
date: 2026-03-11
author: MK
charge benzoic acid: 2.44 g
charge water: 50 mL

experiment TB-423: Ester
date: 2026-03-12
author: MK
reaction R1: benzoic acid + ethanol -> ethyl benzoate + water
charge benzoic acid: 2.44 g
charge ethanol: 20 mL
charge boiling chips: 3
charge ethyl benzoate: 5 mg
`,
    },
  ],
  sources: ['common practice, no source'],
  *check({ values, source }) {
    const terms = values.reactions.flatMap((r) => [...r.left, ...r.right]);
    if (terms.length === 0) return;
    // A reactant that is left open, or that nobody knows, may be this one.
    const left = values.reactions.flatMap((r) => r.left);
    if (left.some(({ term }) => term.rest || !term.name.target)) return;
    const written = new Set(terms.flatMap(({ term }) => (term.name.target ? [materialKey(term.name.target)] : [])));
    for (const value of values.charges) {
      const { entry, name, roles, amount } = value.charge;
      const key = carriedKey(value);
      if (roles.length > 0 || value.term || !name.target || !isMeasured(amount)) continue;
      if (key === undefined || written.has(key)) continue;
      yield {
        span: entry.mark,
        block: entry.block,
        message: sentences(`${name.text} is in no equation and has no role.`, 'Say what it was for.'),
        unnecessary: true,
        rests: [name.span],
        fixes: [
          {
            title: `Give ${name.text} a role`,
            edits: [addFact(source, entry, `\${1|${ROLES.join(',')}|}`)],
            snippet: true,
          },
        ],
      };
    }
  },
});

const ROLES = ['solvent', 'catalyst', 'base', 'acid', 'additive', 'ligand', 'quench', 'wash', 'drying agent'];
