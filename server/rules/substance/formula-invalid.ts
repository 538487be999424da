import type { Span } from '../../../grammar/tree';
import { structureFormula } from '../../chem/structure';
import type { FormulaFact } from '../../model/page';
import { isWritten } from '../declared';
import { rule } from '../rule';
import { sentences } from '../wording';

export default rule({
  code: 'formula-invalid',
  family: 'substance',
  severity: 'error',
  fixable: 'never',
  title: 'The formula cannot be read',
  why: `Molar mass, amounts and balance follow from the formula. One that cannot be read gives none of them, and the tool does
not guess. A structure (SMILES) that cannot be read is reported here as well.`,
  help: `Formulas are written as in print: \`C2H6O\`, \`CuSO4·5H2O\`, \`Fe^2+\`, \`K3[Fe(C2O4)3]·3H2O\`. Capitals tell elements apart
(Co is not CO).`,
  examples: [
    {
      name: 'no such element, a bracket left open',
      wrong: `experiment TB-721: Formulas
date: 2026-03-11
author: MK
substance salt 4: NaXx2
                    ^^ formula-invalid: Xx
substance salt 5: Ca(OH2
                    ^ formula-invalid: bracket
substance ester 6: C7H14O2, SMILES CC(C)CCOC(C=O
                                   ^^^^^^^^^^^^^ formula-invalid: SMILES
`,
      right: `experiment TB-721: Formulas
date: 2026-03-11
author: MK
substance salt 4: NaCl
substance salt 5: Ca(OH)2
substance ester 6: C7H14O2, SMILES CC(C)CCOC(C)=O
`,
    },
    {
      name: 'near misses: groups, hydrates, isotopes, words',
      right: `experiment TB-722: Formulas
date: 2026-03-11
author: MK
substance amine 4: Et3N
substance salt 5: K3[Fe(C2O4)3]·3H2O
substance solvent 6: CDCl3
substance powder 7: white powder, molar mass 250.1 g/mol
substance salt 8: Na2CO3·xH2O, x = 2.4
`,
    },
  ],
  sources: ['IUPAC Nomenclature of Inorganic Chemistry 2005, chapter IR-4, formulas (from memory)'],
  *check({ page }) {
    for (const { entry, formula, repeatUnit, smiles } of page.substances) {
      if (!entry) continue;
      for (const fact of [formula, repeatUnit]) {
        if (!fact?.problem || !isWritten(fact)) continue;
        yield {
          span: placeOf(fact),
          block: entry.block,
          message: sentences(`${fact.text} cannot be read: ${lower(fact.problem)}.`),
          doubts: [fact.span],
        };
      }
      if (!smiles || !isWritten(smiles)) continue;
      const structure = structureFormula(smiles.text);
      if (structure.ok) continue;
      yield {
        span: smiles.span,
        block: entry.block,
        message: sentences(`${structure.problem}.`),
        doubts: [smiles.span],
      };
    }
  },
});

/** Where the formula stops making sense; what the message quotes, if that stands there. */
function placeOf({ text, span, at = 0, problem = '' }: FormulaFact): Span {
  const from = Math.min(at, text.length - 1);
  const quoted = /“([^”]+)”/.exec(problem)?.[1];
  const length = quoted && text.startsWith(quoted, from) ? quoted.length : 1;
  return { start: span.start + from, end: span.start + from + length };
}

const lower = (text: string): string => text.slice(0, 1).toLowerCase() + text.slice(1);
