import { isHeld } from '../../quantity/held';
import { show } from '../../quantity/show';
import { restsOf } from '../claimed';
import { rule } from '../rule';
import { replaceFix, sentences } from '../wording';

export default rule({
  code: 'claim-digits',
  family: 'claims',
  severity: 'hint',
  fixable: 'always',
  title: 'The number in parentheses has more digits than the measurement carries',
  why: `The digits say how well a number is known. A number that is written more than one digit finer than its standard
uncertainty only copies the display of a calculator. The uncertainty is worked out from the digits of the readings, the
declared balance and any \`±\`. Numbers of up to three figures are left alone.`,
  help: 'Leave off the digits that mean nothing; the fix keeps those down to the first digit of the uncertainty.',
  examples: [
    {
      name: 'all digits of the calculator',
      wrong: `experiment TB-321: Digits
date: 2026-03-11
author: MK
substance isopentyl alcohol: C5H12O, density 0.81 g/mL
charge isopentyl alcohol: 15.0 mL (137.833 mmol)
                                   ^^^^^^^^^^^^ claim-digits: 138 mmol
`,
      right: `experiment TB-321: Digits
date: 2026-03-11
author: MK
substance isopentyl alcohol: C5H12O, density 0.81 g/mL
charge isopentyl alcohol: 15.0 mL (138 mmol)
`,
    },
    {
      name: 'near misses: one guard digit, digits that the balance carries',
      right: `experiment TB-322: Digits
date: 2026-03-11
author: MK
substance isopentyl alcohol: C5H12O, density 0.810 g/mL
charge isopentyl alcohol: 15.0 mL (12.15 g, 137.8 mmol)
weigh sodium chloride: before 60.5450 g, after 60.1562 g (net 0.3888 g)
`,
    },
  ],
  sources: ['JCGM 100:2008 (GUM) 7.2.6: digits beyond those of the uncertainty are not to be given (from memory)'],
  *check({ values, text }) {
    for (const { claim, value, verdict, owner } of values.claims) {
      if (verdict !== 'over-precise' || !isHeld(value)) continue;
      const written = text(claim.span);
      const unit = claim.quantity.unit?.symbol ?? '';
      const right = show(value, { unit });
      yield {
        span: claim.span,
        block: owner.block,
        message: sentences(
          `${written} has more digits than the readings carry: ${show(value, { unit, u: true })}.`,
          `Write ${right} or fewer digits.`,
        ),
        rests: restsOf(value),
        fixes: [replaceFix(claim.span, written, right, { preferred: true })],
      };
    }
  },
});
