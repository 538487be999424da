import { placesOf, unresolvedNames } from '../names';
import { rule } from '../rule';
import { either, sentences } from '../wording';

export default rule({
  code: 'name-ambiguous',
  family: 'substance',
  severity: 'warning',
  fixable: 'always',
  title: 'The name may mean several substances',
  why: `The handbook or the page has more than one substance of this name: xylene is three isomers, hydrochloric acid is sold in
many strengths, a formula may be shared. None is taken, because amounts would rest on a guess. Solvents, washes and
quenches are not asked for.`,
  help: 'Write which one, or declare the name on the page.',
  examples: [
    {
      name: 'three isomers',
      wrong: `experiment TB-711: Oxidation
date: 2026-03-11
author: MK
charge xylene: 5.0 mL
       ^^^^^^ name-ambiguous
`,
      right: `experiment TB-711: Oxidation
date: 2026-03-11
author: MK
charge m-xylene: 5.0 mL
`,
    },
    {
      name: 'near misses: a quench, a name that the page declares',
      right: `experiment TB-712: Chloride
date: 2026-03-11
author: MK
substance xylene: C8H10, density 0.864 g/mL
charge xylene: 5.0 mL, additive
charge hydrochloric acid: 15 mL, quench
charge hydrochloric acid: 1 mL, catalyst
`,
    },
  ],
  sources: ['Handbook of the tool: names that several entries share'],
  *check({ page }) {
    for (const { first } of unresolvedNames(page, (ref) => ref.several !== undefined)) {
      const { text, span, several = [] } = first.ref;
      const shown = several.slice(0, MOST);
      yield {
        span,
        block: first.block,
        message: sentences(
          `${text} may be ${several.length > MOST ? `${shown.join(', ')} and others` : either(shown)}.`,
          'Write which one, or declare it on the page.',
        ),
        doubts: [span],
        fixes: shown.map((name) => ({
          title: `Replace ${text} with ${name}`,
          edits: placesOf(page, text).map((place) => ({ span: place, text: name })),
        })),
      };
    }
  },
});

const MOST = 5;
