import { writtenFormulas } from '../formulas';
import { rule } from '../rule';
import { replaceFix, sentences } from '../wording';

export default rule({
  code: 'charge-notation',
  family: 'substance',
  severity: 'hint',
  fixable: 'always',
  title: 'The digit before the sign is read as a count, not as the charge',
  why: `In plain text \`Fe3+\` may be an ion with three charges or three atoms with one. The tool reads digits right after an
element as a count; the caret says that what follows is the charge: \`Fe^3+\`, \`SO4^2-\`. Superscript characters do as well. A
warning in an equation, where it decides whether the charges balance.`,
  help: 'Let the fix put the caret in, if the charge is what you mean.',
  examples: [
    {
      name: 'ions in an equation and in a declaration',
      wrong: `experiment TB-801: Iron
date: 2026-03-11
author: MK
substance sulfate: SO42-
                   ^^^^^ charge-notation: SO4^2-
reaction R1: Fe3+ + e^- -> Fe^2+
             ^^^^ charge-notation: Fe^3+
`,
      fixed: `experiment TB-801: Iron
date: 2026-03-11
author: MK
substance sulfate: SO4^2-
reaction R1: Fe3+ + e^- -> Fe^2+
`,
      right: `experiment TB-801: Iron
date: 2026-03-11
author: MK
substance sulfate: SO4^2-
reaction R1: Fe^3+ + e^- -> Fe^2+
`,
    },
    {
      name: 'near misses: one charge, superscripts, brackets',
      right: `experiment TB-802: Ions
date: 2026-03-11
author: MK
substance ammonium: NH4+
substance nitrate: NO3-
substance iron ion: Fe³⁺
substance ferrocyanide: [Fe(CN)6]4-
`,
    },
  ],
  sources: [
    'IUPAC Nomenclature of Inorganic Chemistry 2005, IR-4.3: number before sign in the superscript (from memory)',
  ],
  *check({ page }) {
    for (const { formula, text, span, block, inEquation } of writtenFormulas(page)) {
      if (formula.meant === undefined) continue;
      yield {
        span,
        block,
        ...(inEquation && { severity: 'warning' as const }),
        message: sentences(`${text} is read as ${reading(text)}.`, `If the charge is meant, write ${formula.meant}.`),
        doubts: [span],
        fixes: [replaceFix(span, text, formula.meant)],
      };
    }
  },
});

/** `3 Fe with one charge` is what the digits say. */
const reading = (text: string): string => {
  const count = /(\d+)[^\d]*$/.exec(text)?.[1] ?? '';
  return `${count} atoms and one charge`;
};
