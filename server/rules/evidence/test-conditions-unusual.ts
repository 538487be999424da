import type { KnownTest } from '../../chem/tests';
import type { Unusual } from '../../compute/tests';
import { Decimal } from '../../quantity/decimal';
import { exact } from '../../quantity/held';
import { show } from '../../quantity/show';
import { rule } from '../rule';
import { sentences } from '../wording';

export default rule({
  code: 'test-conditions-unusual',
  family: 'evidence',
  severity: 'information',
  fixable: 'never',
  title: 'The test was made outside its usual temperature or time',
  why: `Classification tests are worth something under their usual conditions: a Lucas test in a cold room is slow for every
alcohol, and what reacts after an hour is no positive. Temperatures and times are those of the table of tests. A time is looked at
where it matters: a negative that was not waited for, or a positive that came only after the usual time.`,
  help: 'Repeat it under the usual conditions, or with a known substance beside it.',
  examples: [
    {
      name: 'too cold, and not waited for',
      wrong: `experiment TB-661: Tests
date: 2026-03-11
author: MK
test Lucas: of 2-butanol, at 5 °C, cloudy after 4 min => secondary alcohol
                             ^^^^ test-conditions-unusual: 20–27 °C
test Tollens: of benzyl alcohol, at 50 °C, for 30 s, no mirror => no aldehyde
                                               ^^^^ test-conditions-unusual: 300 s
`,
      right: `experiment TB-661: Tests
date: 2026-03-11
author: MK
test Lucas: of 2-butanol, at 22 °C, cloudy after 4 min => secondary alcohol
test Tollens: of benzyl alcohol, at 50 °C, for 5 min, no mirror => no aldehyde
`,
    },
    {
      name: 'near misses: at the limits, at once within a long time, no conditions',
      right: `experiment TB-662: Tests
date: 2026-03-11
author: MK
test Tollens: of benzaldehyde, at 60 °C, for 20 min, mirror at once => aldehyde
test iron(III) hydroxamate: of isopentyl acetate, magenta => ester
test ferric chloride: of phenol, at 15–30 °C, for 5 s, violet
`,
    },
  ],
  sources: [
    'Usual temperatures and times: standard qualitative organic analysis (Shriner, Hermann, Morrill, Curtin and Fuson; Vogel), from memory',
  ],
  *check({ values, text }) {
    for (const { known, unusual, test } of values.tests) {
      for (const found of known ? unusual : []) {
        const datum = found.what === 'cold' || found.what === 'hot' ? found.leg.temperature : found.leg.time;
        if (!datum || !known) continue;
        yield {
          span: datum.span,
          block: test.entry.block,
          message: messageOf(known, found.what, text(datum.span)),
          rests: [datum.span],
        };
      }
    }
  },
});

function messageOf(known: KnownTest, what: Unusual['what'], written: string): string {
  const usual = `usual for the ${known.name} are ${known.from}–${known.to} °C (${known.conditions})`;
  switch (what) {
    case 'cold':
      return sentences(`${written} is cold: ${usual}.`, 'A negative or a slow answer then says little.');
    case 'hot':
      return sentences(`${written} is hot: ${usual}.`, 'A positive then says little.');
    case 'short':
      return sentences(
        `${written} is short: a ${known.name} is given ${seconds(known.positiveWithin)} before it counts as negative.`,
        'Wait longer, with a known positive beside it.',
      );
    case 'long':
      return sentences(
        `${written} is long: a ${known.name} shows within ${seconds(known.positiveWithin)}, a slow one within ${seconds(known.slowWithin)}.`,
        `What comes later may be a false positive (${known.falsePositives}).`,
      );
  }
}

const seconds = (s: number): string => show(exact('time', new Decimal(s)), { unit: s > 300 ? 'min' : 's' });
