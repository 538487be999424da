import type { Property } from '../../compute/values';
import { isHeld, type Reason } from '../../quantity/held';
import { rule } from '../rule';
import { sentences } from '../wording';

export default rule({
  code: 'claim-uncomputable',
  family: 'claims',
  severity: 'hint',
  fixable: 'never',
  title: 'Something is missing that the number in parentheses follows from',
  why: `The number was worked out from something that the page does not say, so nobody can work it out again. Said once for
each thing that is missing, and only if no other finding names it already.`,
  help: 'Write down what the message names: a formula, a strength, a temperature and a pressure, a reaction.',
  examples: [
    {
      name: 'a gas without temperature and pressure',
      wrong: `experiment TB-341: Hydrogenation
date: 2026-03-11
author: MK
substance hydrogen: H2, state gas
charge hydrogen: 240 mL (10 mmol)
                         ^^^^^^^ claim-uncomputable: temperature and pressure
`,
      right: `experiment TB-341: Hydrogenation
date: 2026-03-11
author: MK
substance hydrogen: H2, state gas
charge hydrogen: 240 mL, at 20 °C, at 1.00 atm (10.0 mmol)
`,
    },
    {
      name: 'a yield without a reaction',
      wrong: `experiment TB-342: Ester
date: 2026-03-11
author: MK
charge benzoic acid: 2.44 g
product ethyl benzoate: 2.50 g (83 %)
                                ^^^^ claim-uncomputable: a reaction that makes ethyl benzoate
`,
      right: `experiment TB-342: Ester
date: 2026-03-11
author: MK
reaction R1: benzoic acid + ethanol -> ethyl benzoate + water
charge benzoic acid: 2.44 g
charge ethanol: excess
product ethyl benzoate: 2.50 g (83 %)
`,
    },
    {
      name: 'near misses: literature, what nobody computes',
      right: `experiment TB-343: Evidence
date: 2026-03-11
author: MK
product benzoic acid: 2.00 g (ee 98 %), mp 121–123 °C (lit. 122 °C)
`,
    },
  ],
  sources: ['common practice, no source'],
  *check({ values, text, found }) {
    const said = new Set<string>();
    const codes = new Set(found.map((f) => f.code));
    for (const { claim, property, owner, value } of values.claims) {
      if (isHeld(value) || NEVER.has(property) || said.has(value.what)) continue;
      if (SILENT.has(value.missing) || codes.has(value.missing)) continue;
      said.add(value.what);
      const lacks = value.missing === 'substance-unknown' ? `knowing ${value.what}` : value.what;
      yield {
        span: claim.span,
        block: owner.block,
        message: sentences(`${text(claim.span)} cannot be checked without ${lacks}.`),
        rests: [owner.mark, claim.span],
      };
    }
  },
});

const NEVER: ReadonlySet<Property> = new Set<Property>(['literature', 'other']);

/** `nothing-measured`, rules of weighing and of units say these, and what depends on something is said where that is. */
const SILENT: ReadonlySet<Reason> = new Set<Reason>([
  'amount-missing',
  'tare-missing',
  'gross-missing',
  'unit-kind',
  'unreadable',
  'depends',
]);
