import type { ClaimValue, Property } from '../../compute/values';
import { rule } from '../rule';
import { sentences } from '../wording';

export default rule({
  code: 'nothing-measured',
  family: 'claims',
  severity: 'warning',
  fixable: 'never',
  title: 'All numbers are in parentheses',
  why: `What was measured stands outside the parentheses, what was worked out stands inside. A line with all its numbers in
parentheses says that nothing was measured: there is nothing to work anything out from, and no number of it can be checked.`,
  help: `Take the number that was read on the balance, the cylinder or the syringe out of the parentheses. Only the person who
measured knows which one that is, so there is no fix.`,
  examples: [
    {
      name: 'mass and amount both in parentheses',
      wrong: `experiment TB-351: Ester
date: 2026-03-11
author: MK
charge benzoic acid: (2.44 g, 20.0 mmol)
       ^^^^^^^^^^^^ nothing-measured: 2.44 g, 20.0 mmol
`,
      right: `experiment TB-351: Ester
date: 2026-03-11
author: MK
charge benzoic acid: 2.44 g (20.0 mmol)
`,
    },
    {
      name: 'near misses: an amount that nobody computes, a sum of weighings, brackets of a name',
      right: `experiment TB-352: Ester
date: 2026-03-11
author: MK
charge (S)-citronellal: excess
weigh benzoic acid: before 60.545 g, after 58.101 g
charge benzoic acid: weighed (2.444 g)
charge sodium sulfate: drying agent (a spoon)
`,
    },
  ],
  sources: ['common practice, no source'],
  *check({ page, values, text }) {
    for (const { entry, amount, claims } of [...page.charges, ...page.products, ...page.recovered]) {
      if (amount.quantities.length > 0 || amount.weighing.readings.length > 0 || amount.word) continue;
      const own = values.claims.filter((c) => claims.includes(c.claim) && TAKEN.has(c.property));
      if (own.length === 0) continue;
      yield {
        span: entry.mark,
        block: entry.block,
        message: sentences(
          `Everything is in parentheses (${shown(own, text)}): nothing is written as measured.`,
          'Take the number that was read out of the parentheses.',
        ),
        doubts: own.map((c) => c.claim.span),
        // A measured number that cannot be read is another finding.
        rests: [entry.span],
      };
    }
  },
});

const TAKEN: ReadonlySet<Property> = new Set<Property>([
  'mass',
  'volume',
  'amount',
  'equiv',
  'mol%',
  'net',
  'yield',
  'recovery',
]);

const shown = (claims: readonly ClaimValue[], text: (span: ClaimValue['claim']['span']) => string): string =>
  claims
    .slice(0, 4)
    .map((c) => text(c.claim.span))
    .join(', ');
