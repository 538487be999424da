import { isText } from '../fits';
import { rule } from '../rule';
import { quantitiesIn, shift } from '../walk';
import { replaceFix } from '../wording';

export default rule({
  code: 'unit-spelling',
  family: 'reading',
  severity: 'hint',
  fixable: 'always',
  title: 'The unit is understood but not written as the standard writes it',
  why: `One spelling for one unit keeps a page readable for the next person and for other programs. In the SI \`m\` is milli and
\`M\` is mega, \`ml\` is legal but \`mL\` cannot be taken for a one.`,
  help: 'Let the fix or the formatter write the standard form. The number does not change.',
  examples: [
    {
      name: 'millilitres and grams',
      wrong: `experiment TB-351: Units
date: 2026-03-11
author: MK
charge sodium chloride: 12.5 gms
                             ^^^ unit-spelling: g
charge ethanol: 20 cc, solvent
                   ^^ unit-spelling: cm³
`,
      fixed: `experiment TB-351: Units
date: 2026-03-11
author: MK
charge sodium chloride: 12.5 g
charge ethanol: 20 cc, solvent
`,
      right: `experiment TB-351: Units
date: 2026-03-11
author: MK
charge sodium chloride: 12.5 g
charge ethanol: 20 cm³, solvent
`,
    },
    {
      name: 'near misses: other right spellings, units in prose',
      right: `experiment TB-352: Units
date: 2026-03-11
author: MK
charge sodium chloride: 500 mg
charge ethanol: 0.5 l, solvent
charge water: 20 uL, at 25 ℃, label 5 C, by method 5 C
Rinsed with 20 ml and 3 cc.
`,
    },
  ],
  sources: ['SI Brochure, 9th edition, chapter 5 (from memory)', 'NIST SP 811, chapters 6 and 7 (from memory)'],
  *check({ source }) {
    for (const { node, index, fact, block, at } of quantitiesIn(source)) {
      if (!node.unit?.wrong || isText(fact)) continue;
      // `method 5 C`: a letter in the middle of a remark may be anything.
      if (!fact.key && index > 0 && node.unit.text.length === 1) continue;
      const span = shift(node.unit.span, at);
      yield {
        span,
        block,
        message: `${node.unit.text} is read as ${node.unit.symbol}. Write ${node.unit.symbol}.`,
        fixes: [replaceFix(span, node.unit.text, node.unit.symbol, { bulk: true })],
      };
    }
  },
});
