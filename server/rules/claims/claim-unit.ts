import type { Property } from '../../compute/values';
import type { Kind } from '../../quantity/kinds';
import { KIND_WORDS } from '../fits';
import { rule } from '../rule';
import { sentences } from '../wording';

const SHARE: readonly Kind[] = ['ratio', 'massFraction', 'volumeFraction', 'amountRatio', 'massRatio'];
const ISOLATED: readonly Kind[] = ['mass', 'volume', 'amount', 'equivalents'];

/** What a labelled claim can be in; unlabelled ones are what their unit says. A bare number is not looked at. */
const FITS: { readonly [P in Property]?: readonly Kind[] } = {
  // `yield 13.7 g` is said as often as `yield 76 %`.
  yield: [...SHARE, ...ISOLATED],
  theory: ['mass', 'amount', 'volume', ...SHARE],
  recovery: [...SHARE, ...ISOLATED],
  loss: [...SHARE, 'mass'],
  brsm: SHARE,
  conversion: [...SHARE, ...ISOLATED],
  net: ['mass'],
  // Daltons are read as a mass.
  'm/z': ['mass', 'number', 'other'],
  element: SHARE,
};

export default rule({
  code: 'claim-unit',
  family: 'claims',
  severity: 'error',
  fixable: 'never',
  title: 'The unit cannot be that of the number it is said to be',
  why: `A yield is a share, a net is a mass. A number with such a label and a unit of another kind cannot be compared with
anything, and one of the two is a slip.`,
  help: 'Correct the unit or the word before the number.',
  examples: [
    {
      name: 'a yield in g/mol, a net in mL',
      wrong: `experiment TB-331: Units
date: 2026-03-11
author: MK
weigh sodium chloride: before 60.545 g, after 60.156 g (net 0.389 mL)
                                                            ^^^^^^^^ claim-unit: a volume
product sodium chloride: 0.35 g (yield 88 g/mol)
                                       ^^^^^^^^ claim-unit: a mass per amount
`,
      right: `experiment TB-331: Units
date: 2026-03-11
author: MK
weigh sodium chloride: before 60.545 g, after 60.156 g (net 0.389 g)
product sodium chloride: 0.35 g (molar mass 58.44 g/mol)
`,
    },
    {
      name: 'near misses: a yield given as mass, shares without a unit',
      right: `experiment TB-332: Units
date: 2026-03-11
author: MK
product sodium chloride: 0.35 g (yield 0.35 g)
measure benzoic acid: combustion C 68.8, H 4.9 (calcd C 68.85, H 4.95)
`,
    },
  ],
  sources: ['SI Brochure, 9th edition, section 5.4: a value is a number and a unit (from memory)'],
  *check({ values, text }) {
    for (const { claim, property, owner } of values.claims) {
      const kind = claim.quantity.unit?.kind;
      const fits = FITS[property];
      if (!kind || !fits || fits.includes(kind)) continue;
      yield {
        span: claim.span,
        block: owner.block,
        message: sentences(
          `${text(claim.span)} is ${KIND_WORDS[kind] ?? 'of another kind'}; ${NAMES[property] ?? property} is ${KIND_WORDS[fits[0]!]}.`,
          'Correct the unit or the word before it.',
        ),
        doubts: [claim.span],
      };
    }
  },
});

const NAMES: { readonly [P in Property]?: string } = {
  theory: 'a theoretical yield',
  yield: 'a yield',
  recovery: 'a recovery',
  loss: 'a loss',
  net: 'a net',
  brsm: 'a yield',
  conversion: 'a conversion',
  element: 'the share of an element',
};
