import { hill, parseFormula, sameComposition } from '../../chem/formula';
import { structureFormula } from '../../chem/structure';
import { molarMassOf } from '../../compute/substance';
import { isHeld } from '../../quantity/held';
import { show } from '../../quantity/show';
import { isWritten } from '../declared';
import { rule } from '../rule';
import { replaceFix, sentences } from '../wording';

export default rule({
  code: 'structure-mismatch',
  family: 'substance',
  severity: 'error',
  fixable: 'sometimes',
  title: 'The structure does not have this formula',
  why: `The formula counted from the SMILES is another one than the formula written beside it, so one of the two is wrong.
Amounts are worked out from the written formula. The structure of a hydrate may be written with or without its water.`,
  help: 'Correct the SMILES or the formula.',
  examples: [
    {
      name: 'an oxygen left out',
      wrong: `experiment TB-741: Ester
date: 2026-03-11
author: MK
substance ester 4: C7H14O2, SMILES CC(C)CCOC(C)C
                                   ^^^^^^^^^^^^^ structure-mismatch: C8H18O
`,
      fixed: `experiment TB-741: Ester
date: 2026-03-11
author: MK
substance ester 4: C8H18O, SMILES CC(C)CCOC(C)C
`,
      right: `experiment TB-741: Ester
date: 2026-03-11
author: MK
substance ester 4: C7H14O2, SMILES CC(C)CCOC(C)=O
`,
    },
    {
      name: 'near misses: a hydrate without its water, a salt in two parts, deuterium',
      right: `experiment TB-742: Structures
date: 2026-03-11
author: MK
substance oxalic acid dihydrate: C2H2O4·2H2O, SMILES OC(=O)C(=O)O
substance salt 5: C6H8ClN, SMILES [Cl-].[NH3+]c1ccccc1
substance solvent 6: CDCl3, SMILES [2H]C(Cl)(Cl)Cl
`,
    },
  ],
  sources: ['The structure is read by the open library openchemlib; standard atomic weights: CIAAW'],
  *check({ page }) {
    for (const { entry, formula, smiles } of page.substances) {
      if (!entry || !smiles || !formula?.formula || !isWritten(smiles) || !isWritten(formula)) continue;
      const structure = structureFormula(smiles.text);
      const drawn = structure.ok ? parseFormula(structure.formula) : undefined;
      if (!drawn?.ok) continue;
      const written = formula.formula;
      if (sameComposition(written, drawn.formula)) continue;
      if (written.hydrate && sameComposition(written.hydrate.dry, drawn.formula)) continue;
      const [a, b] = [molarMassOf(written), molarMassOf(drawn.formula)];
      const masses = isHeld(a) && isHeld(b) ? ` (${show(b)} against ${show(a)})` : '';
      yield {
        span: smiles.span,
        block: entry.block,
        message: sentences(
          `The structure is ${hill(drawn.formula)}, the formula ${formula.text}${masses}.`,
          'Correct the one that is wrong.',
        ),
        related: [{ origin: { from: 'here', ...formula.span }, message: `formula ${formula.text}` }],
        rests: [smiles.span, formula.span],
        fixes: [replaceFix(formula.span, formula.text, hill(drawn.formula))],
      };
    }
  },
});
