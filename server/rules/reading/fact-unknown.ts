import { type FactKey, KEYWORDS } from '../../../grammar/vocabulary';
import { unitOf } from '../../quantity/units';
import { FACT_KINDS } from '../fits';
import { nearest } from '../nearest';
import { rule } from '../rule';
import { factsIn, shift } from '../walk';
import { replaceFix } from '../wording';

export default rule({
  code: 'fact-unknown',
  family: 'reading',
  severity: 'hint',
  fixable: 'always',
  title: 'The fact begins with a word that is nearly a known one',
  why: `A fact that begins with no known word is a remark: kept and not read. If its first word is one slip away from a word
that this statement knows, and a number of the kind that word takes follows it, the number was most likely meant to be read.
Any other remark is left alone.`,
  help: 'Correct the word; or reword the remark if it is one.',
  examples: [
    {
      name: 'two letters swapped',
      wrong: `experiment TB-311: Slips
date: 2026-03-11
author: MK
substance ethanol: C2H6O, desnity 0.789 g/mL
                          ^^^^^^^ fact-unknown: density
`,
      right: `experiment TB-311: Slips
date: 2026-03-11
author: MK
substance ethanol: C2H6O, density 0.789 g/mL
`,
    },
    {
      name: 'near misses: remarks',
      right: `experiment TB-312: Remarks
date: 2026-03-11
author: MK
charge ethanol: 20.0 mL, solvent, take 5 mL at a time, from the still
product benzoic acid: 5.00 g, white needles, dense 2 mm prisms, filtered twice
`,
    },
  ],
  sources: ['common practice, no source'],
  *check({ source }) {
    for (const { fact, claim, statement, block, at } of factsIn(source)) {
      const [word, number] = fact.parts;
      if (fact.key || claim || word?.kind !== 'word' || number?.kind !== 'quantity' || !number.unit) continue;
      if (!/^[A-Za-z]{4,}$/.test(word.text) || ORDINARY.has(word.text)) continue;
      const { kind } = unitOf(number.unit.symbol);
      const known = KEYWORDS[statement.keyword].facts.filter(
        (key): key is FactKey => key.length >= 4 && FACT_KINDS[key]?.includes(kind) === true,
      );
      const meant = nearest(word.text.toLowerCase(), known);
      if (!meant) continue;
      const span = shift(word.span, at);
      yield {
        span,
        block,
        message: `"${word.text}" is no known word here, so its number is not read. Did you mean ${meant}?`,
        fixes: [replaceFix(span, word.text, meant)],
      };
    }
  },
});

/** English words one letter away from a known fact: they begin remarks. */
const ORDINARY: ReadonlySet<string> = new Set([
  'take',
  'rare',
  'care',
  'bare',
  'tart',
  'rate',
  'cross',
  'grass',
  'gloss',
  'alter',
  'font',
  'slot',
  'shot',
  'stop',
]);
