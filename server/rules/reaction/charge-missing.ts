import { foldName } from '../../../grammar/names';
import { hill } from '../../chem/formula';
import { carriedKey } from '../../compute/reaction';
import { formulaOf } from '../../compute/substance';
import type { TermValue } from '../../compute/values';
import { materialKey } from '../../model/scope';
import { isHeld } from '../../quantity/held';
import { isBeside } from '../names';
import { rule } from '../rule';
import { inSnippet, lineBelow, sentences } from '../wording';

export default rule({
  code: 'charge-missing',
  family: 'reaction',
  severity: 'information',
  fixable: 'always',
  title: 'A reactant of the equation is not charged',
  why: `The other reactants are charged, this one is not. It cannot be seen whether it was in excess, and it is not counted as
limiting. Water, air and its gases, acid and base as ions are not asked for.`,
  help: 'Add a `charge` line; if nobody measured it, `excess` is an amount, too.',
  examples: [
    {
      name: 'the second reactant is not on the page',
      wrong: `experiment TB-411: Ester
date: 2026-03-11
author: MK
reaction R1: benzoic acid + ethanol -> ethyl benzoate + water
                            ^^^^^^^ charge-missing
charge benzoic acid: 2.44 g
`,
      fixed: `experiment TB-411: Ester
date: 2026-03-11
author: MK
reaction R1: benzoic acid + ethanol -> ethyl benzoate + water
charge benzoic acid: 2.44 g
charge ethanol: excess
`,
      right: `experiment TB-411: Ester
date: 2026-03-11
author: MK
reaction R1: benzoic acid + ethanol -> ethyl benzoate + water
charge benzoic acid: 2.44 g
charge ethanol: 20 mL
`,
    },
    {
      name: 'near misses: only planned, air, a reactant that is the solvent, one that the reaction before made',
      right: `experiment TB-412: Planned
date: 2026-03-11
author: MK
reaction R1: benzoic acid + ethanol -> ethyl benzoate + water
plan benzoic acid: 2.44 g

experiment TB-413: In air
date: 2026-03-12
author: MK
reaction R1: 2 benzyl alcohol + O2 -> 2 benzaldehyde + 2 H2O
reaction R2: benzaldehyde + methanol -> methyl benzoate + ...
charge benzyl alcohol: 2.16 g
charge methanol: 50 mL, solvent
`,
    },
  ],
  sources: ['common practice, no source'],
  *check({ values, source, found }) {
    // A charge whose name nobody knows may be the one.
    if (values.charges.some((c) => !c.material && !isBeside(c.charge))) return;
    // A line that is a charge but for its keyword or its colon says so itself.
    const nearly = found
      .filter((f) => f.code === 'keyword-misspelt' || f.code === 'statement-without-colon')
      .map((f) => foldName(source.blocks[f.block]?.block.text ?? ''));
    const charged = new Set(values.charges.map((c) => carriedKey(c)));
    for (const { left, reaction } of values.reactions) {
      if (!left.some(isCharged)) continue;
      for (const value of left) {
        const { term } = value;
        const target = term.name.target;
        if (term.rest || value.carried || isCharged(value) || !target || charged.has(materialKey(target))) continue;
        if (isEverywhere(value) || nearly.some((line) => line.includes(foldName(term.name.text)))) continue;
        const last = values.charges.at(-1)!.charge.entry;
        yield {
          span: term.name.span,
          block: reaction.entry.block,
          message: sentences(
            `${term.name.text} is a reactant of ${reaction.id} but is not charged.`,
            'Write what went in; excess is an amount, too.',
          ),
          rests: [term.name.span],
          fixes: [
            {
              title: `Charge ${term.name.text}`,
              edits: lineBelow(source, last, `charge ${inSnippet(term.name.text)}: \${1:excess}`),
              snippet: true,
            },
          ],
        };
      }
    }
  },
});

const isCharged = ({ charged, unlimited, carried }: TermValue): boolean =>
  !carried && (unlimited || isHeld(charged) || charged.missing !== 'not-charged');

/** Water, the gases of air, and what every acid or base brings. */
const EVERYWHERE: ReadonlySet<string> = new Set(['H2O', 'O2', 'N2', 'CO2', 'H^+', 'H3O^+', 'HO^-', 'e^-']);

function isEverywhere({ substance, term }: TermValue): boolean {
  const formula = substance && formulaOf(substance.substance);
  return (formula !== undefined && EVERYWHERE.has(hill(formula))) || term.name.text === 'air';
}
