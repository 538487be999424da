import { writtenFormulas } from '../formulas';
import { rule } from '../rule';
import { sentences } from '../wording';

export default rule({
  code: 'hydrate-dot',
  family: 'substance',
  severity: 'hint',
  fixable: 'always',
  title: 'The dot of a hydrate or adduct is written with another character',
  why: `\`CuSO4*5H2O\` and \`CuSO4.5H2O\` are read as \`CuSO4·5H2O\`. The raised dot is how it is printed, and it cannot be taken
for a full stop, a product or a decimal point.`,
  help: 'Let the fix put the dot in.',
  examples: [
    {
      name: 'an asterisk and a full stop',
      wrong: `experiment TB-791: Copper
date: 2026-03-11
author: MK
substance blue vitriol: CuSO4*5H2O
                             ^ hydrate-dot: CuSO4·5H2O
reaction R1: MgSO4.7H2O -> MgSO4 + 7 H2O
                  ^ hydrate-dot: MgSO4·7H2O
`,
      fixed: `experiment TB-791: Copper
date: 2026-03-11
author: MK
substance blue vitriol: CuSO4·5H2O
reaction R1: MgSO4.7H2O -> MgSO4 + 7 H2O
`,
      right: `experiment TB-791: Copper
date: 2026-03-11
author: MK
substance blue vitriol: CuSO4·5H2O
reaction R1: MgSO4·7H2O -> MgSO4 + 7 H2O
`,
    },
    {
      name: 'near misses: the dot, half a water',
      right: `experiment TB-792: Hydrates
date: 2026-03-11
author: MK
substance salt 4: CaSO4·0.5H2O
substance salt 5: CaSO4·1/2H2O
substance complex 2.1: C10H10Fe
`,
    },
  ],
  sources: ['IUPAC Nomenclature of Inorganic Chemistry 2005, IR-4.4.3.5, addition compounds (from memory)'],
  *check({ page }) {
    for (const { formula, text, span, block } of writtenFormulas(page)) {
      if (formula.dotAt === undefined) continue;
      const at = span.start + formula.dotAt;
      const dot = { start: at, end: at + 1 };
      const right = `${text.slice(0, formula.dotAt)}·${text.slice(formula.dotAt + 1)}`;
      yield {
        span: dot,
        block,
        message: sentences(`${text} is read as ${right}.`, 'Write the raised dot.'),
        fixes: [{ title: `Write ${right}`, edits: [{ span: dot, text: '·' }], bulk: true, preferred: true }],
      };
    }
  },
});
