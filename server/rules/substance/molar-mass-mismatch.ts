import { molarMassOf } from '../../compute/substance';
import { agree } from '../../quantity/agree';
import { isHeld } from '../../quantity/held';
import { show } from '../../quantity/show';
import { toBase } from '../../quantity/units';
import { isWritten } from '../declared';
import { rule } from '../rule';
import { sentences } from '../wording';

/** More than older tables of atomic weights differ, less than one hydrogen in 1000 g/mol. */
const LIMIT = '0.0005';

export default rule({
  code: 'molar-mass-mismatch',
  family: 'substance',
  severity: 'error',
  fixable: 'never',
  title: 'The molar mass is not that of the formula',
  why: `The molar mass follows from the formula and the standard atomic weights, so the two cannot both be right. Nothing is said
below 0.05 % or within the digits written: older tables and rounding differ that much. Amounts are worked out from the
formula.`,
  help: 'Compare both with the label. The water of a hydrate, a counter-ion and the free base are what is mostly forgotten.',
  examples: [
    {
      name: 'the molar mass of the anhydrous salt',
      wrong: `experiment TB-731: Copper
date: 2026-03-11
author: MK
substance blue vitriol: CuSO4·5H2O, molar mass 159.60 g/mol
                                               ^^^^^^^^^^^^ molar-mass-mismatch: 249.6
`,
      right: `experiment TB-731: Copper
date: 2026-03-11
author: MK
substance blue vitriol: CuSO4·5H2O, molar mass 249.68 g/mol
`,
    },
    {
      name: 'near misses: rounded, an older atomic weight',
      right: `experiment TB-732: Copper
date: 2026-03-11
author: MK
substance blue vitriol: CuSO4·5H2O, molar mass 250 g/mol
substance zinc salt 4: ZnCl2, molar mass 136.28 g/mol
`,
    },
  ],
  sources: ['CIAAW standard atomic weights 2021'],
  *check({ page, text }) {
    for (const { entry, formula, molarMass, name } of page.substances) {
      const unit = molarMass?.quantity.unit;
      if (!entry || !molarMass || unit?.kind !== 'molarMass' || !formula?.formula) continue;
      if (!isWritten(molarMass) || !isWritten(formula)) continue;
      const right = molarMassOf(formula.formula);
      if (!isHeld(right)) continue;
      const written = toBase(molarMass.quantity.number.value, unit);
      if (written.minus(right.value).abs().div(right.value).lte(LIMIT)) continue;
      const verdict = agree(molarMass.quantity, right);
      if (verdict !== 'no' && verdict !== 'nearly') continue;
      const dry = formula.formula.hydrate && molarMassOf(formula.formula.hydrate.dry);
      const isDry = dry && isHeld(dry) && agree(molarMass.quantity, dry) !== 'no';
      yield {
        span: molarMass.span,
        block: entry.block,
        message: sentences(
          `Written ${text(molarMass.span)} for ${name}; ${formula.text} is ${show(right)}.`,
          isDry && 'It is that without the water of the hydrate.',
          'Correct the one that was copied wrongly; amounts use the formula.',
        ),
        ...(isDry && { slip: 'hydrate-ignored' as const }),
        related: [{ origin: { from: 'here', ...formula.span }, message: `formula ${formula.text}` }],
        rests: [molarMass.span, formula.span],
      };
    }
  },
});
