import { Decimal } from '../../quantity/decimal';
import { rule } from '../rule';
import { sentences } from '../wording';

export default rule({
  code: 'readability-mismatch',
  family: 'weighing',
  severity: 'hint',
  fixable: 'never',
  title: 'The reading has more or fewer decimals than the balance shows',
  why: `The digits of a reading say which balance took it and how well it is known; the tool works out uncertainties from them.
A display in steps of 0.001 g never shows 54.88 g, and never 54.8812 g. Only readings whose balance is known are looked at:
\`on BALANCE\`, or the one balance of the page.`,
  help: `Copy every digit of the display, zeros at the end too: 54.880 g. If the reading was taken on another balance, name it
with \`on\`.`,
  examples: [
    {
      name: 'a zero left off, a digit too many',
      wrong: `experiment TB-071: Digits
date: 2026-03-11
author: MK
balance B-2: readability 0.001 g
weigh sodium chloride: tare 41.207 g, gross 54.88 g
                                            ^^^^^^^ readability-mismatch: 0.001 g
weigh potassium chloride: tare 41.2071 g, gross 54.880 g
                               ^^^^^^^^^ readability-mismatch: 0.001 g
`,
      right: `experiment TB-071: Digits
date: 2026-03-11
author: MK
balance B-2: readability 0.001 g
weigh sodium chloride: tare 41.207 g, gross 54.880 g
weigh potassium chloride: tare 41.207 g, gross 54.880 g
`,
    },
    {
      name: 'near misses: milligrams, two balances of which none is named, a mass that is no reading',
      right: `experiment TB-072: Digits
date: 2026-03-11
author: MK
balance B-2: readability 0.001 g
balance A-1: readability 0.1 mg
weigh sodium chloride: tare 41207 mg, gross 41380 mg, on B-2
weigh potassium chloride: tare 41.2071 g, gross 54.8803 g
charge sodium bromide: 12 g
`,
    },
  ],
  sources: ['common practice, no source'],
  *check({ values, text }) {
    for (const { entry, balance, readings } of values.weighings) {
      const step = balance?.readability?.quantity;
      if (!balance || !step?.unit) continue;
      const shownPlace = place(step.number.value.times(step.unit.factor));
      for (const { datum, what, from } of readings) {
        const { number, unit, about, to } = datum.quantity;
        if (unit?.kind !== 'mass' || !isPowerOfTen(unit.factor) || about || to || from) continue;
        const written = number.place + place(unit.factor);
        if (written === shownPlace) continue;
        yield {
          span: datum.span,
          block: entry.block,
          message: sentences(
            `The ${what} is written ${text(datum.span)}; ${balance.name} shows steps of ${step.number.text} ${step.unit.symbol}.`,
            written > shownPlace
              ? 'Write every digit of the display, zeros at the end too.'
              : 'Name the balance that showed it, or leave off what the display cannot show.',
          ),
          rests: [datum.span],
        };
      }
    }
  },
});

/** Power of ten of the first digit: −3 for 0.001 and for 0.005. */
const place = (value: Decimal): number => value.e;

/** Ounces and grains have no decimals to compare. */
const isPowerOfTen = (factor: Decimal): boolean => Decimal.pow(10, factor.e).eq(factor);
