import type { Datum, Entry, Page } from '../../model/page';
import type { Kind } from '../../quantity/kinds';
import { isWritten } from '../declared';
import { rule } from '../rule';
import { sentences } from '../wording';

export default rule({
  code: 'purity-out-of-range',
  family: 'substance',
  severity: 'error',
  fixable: 'never',
  title: 'A share is not between 0 and 100 %',
  why: `Purity, water content and mass fraction are shares of a whole: none is above 100 %, and a purity of 0 % would say that the
substance is not there. The amounts are worked out as if nothing had been said.
A bare number (0.97) is a warning: it may be a fraction or a percentage.`,
  help: 'Look at the decimal point.',
  examples: [
    {
      name: 'a decimal point left out',
      wrong: `experiment TB-771: Purity
date: 2026-03-11
author: MK
substance acetic acid: C2H4O2, purity 997 %
                                      ^^^^^ purity-out-of-range: 997 %
product benzoic acid: 2.00 g, purity 0 %
                                     ^^^ purity-out-of-range: 0 %
recovered benzil: 0.51 g, purity 0.97
                                 ^^^^ purity-out-of-range: has no %
`,
      right: `experiment TB-771: Purity
date: 2026-03-11
author: MK
substance acetic acid: C2H4O2, purity 99.7 %
product benzoic acid: 2.00 g, purity 97 %
recovered benzil: 0.51 g, purity 97 %
`,
    },
    {
      name: 'near misses: exactly 100 %, more than 100 g in 100 mL',
      right: `experiment TB-772: Purity
date: 2026-03-11
author: MK
substance acetic acid: C2H4O2, purity 100 %
solution syrup: 120 % w/v sucrose in water
`,
    },
  ],
  sources: ['Definition of a share'],
  *check({ page, text }) {
    for (const { datum, entry, what, mayBeNothing } of shares(page)) {
      const { number, unit, to } = datum.quantity;
      if (!isWritten(datum)) continue;
      if (!unit) {
        yield {
          span: datum.span,
          block: entry.block,
          severity: 'warning',
          message: sentences(
            `A ${what} of ${text(datum.span)} has no %, so it is not counted.`,
            'Write it in percent.',
          ),
        };
        continue;
      }
      if (!SHARES.has(unit.kind)) continue;
      const all = [number, ...(to ? [to] : [])].map((n) => n.value.times(unit.factor));
      if (!all.some((share) => share.gt(1) || (!mayBeNothing && share.lte(0)))) continue;
      yield {
        span: datum.span,
        block: entry.block,
        message: sentences(
          `A ${what} of ${text(datum.span)} cannot be: it lies between 0 and 100 %.`,
          'Look at the decimal point.',
        ),
        doubts: [datum.span],
      };
    }
  },
});

const SHARES: ReadonlySet<Kind> = new Set<Kind>(['ratio', 'massFraction']);

interface Share {
  readonly datum: Datum;
  readonly entry: Entry;
  readonly what: string;
  readonly mayBeNothing: boolean;
}

function* shares(page: Page): Generator<Share> {
  for (const { entry, purity, wet, loading } of page.substances) {
    if (!entry) continue;
    if (purity) yield { datum: purity, entry, what: 'purity', mayBeNothing: false };
    if (wet) yield { datum: wet, entry, what: 'water content', mayBeNothing: true };
    if (loading) yield { datum: loading, entry, what: 'loading', mayBeNothing: false };
  }
  for (const { entry, purity } of [...page.products, ...page.recovered])
    if (purity) yield { datum: purity, entry, what: 'purity', mayBeNothing: false };
  for (const { entry, strength } of page.solutions)
    if (entry && strength?.kind === 'written')
      yield { datum: strength.datum, entry, what: 'mass fraction', mayBeNothing: true };
}
