import { isHeld } from '../../quantity/held';
import { basis, corrected, relatedTo, restsOf } from '../claimed';
import { rule } from '../rule';
import { replaceFix, sentences } from '../wording';

export default rule({
  code: 'claim-rounding',
  family: 'claims',
  severity: 'hint',
  fixable: 'always',
  title: 'The last digit of the number in parentheses is one off',
  why: `The number lies within one unit of its last digit, but not within half a unit: it was cut off, not rounded, or worked
out from numbers that had been rounded on the way. Mostly harmless, and easily put right. At an exact tie either neighbour is
right.`,
  help: 'Keep all digits on the way and round at the end, or let the fix put in the number.',
  examples: [
    {
      name: 'cut off instead of rounded',
      wrong: `experiment TB-311: Rounding
date: 2026-03-11
author: MK
charge benzoic acid: 2.50 g (20.4 mmol)
                             ^^^^^^^^^ claim-rounding: 20.5 mmol
`,
      right: `experiment TB-311: Rounding
date: 2026-03-11
author: MK
charge benzoic acid: 2.50 g (20.5 mmol)
`,
    },
    {
      name: 'near misses: fewer digits, a tie',
      right: `experiment TB-312: Rounding
date: 2026-03-11
author: MK
substance isopentyl alcohol: C5H12O, density 0.810 g/mL
charge benzoic acid: 2.50 g (20 mmol)
charge isopentyl alcohol: 15.0 mL (12.1 g)
`,
    },
  ],
  sources: ['NIST SP 811, B.7, rounding of numbers (from memory)'],
  *check({ values, text }) {
    for (const claimed of values.claims) {
      const { claim, value, verdict, owner, property } = claimed;
      // A net is a difference of readings: there one digit off is as wrong as any other.
      if (verdict !== 'nearly' || !isHeld(value) || property === 'net') continue;
      const written = text(claim.span);
      const right = corrected(claim.quantity, value);
      yield {
        span: claim.span,
        block: owner.block,
        message: sentences(`Written ${written}; ${basis(values, claimed)} rounds to ${right}.`),
        related: relatedTo(value),
        rests: restsOf(value),
        fixes: [replaceFix(claim.span, written, right, { bulk: true, preferred: true })],
      };
    }
  },
});
