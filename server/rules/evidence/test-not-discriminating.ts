import { type Asked, alike, confirming, type TestValue } from '../../compute/tests';
import { type Finding, rule } from '../rule';
import { sentences } from '../wording';

export default rule({
  code: 'test-not-discriminating',
  family: 'evidence',
  severity: 'information',
  fixable: 'never',
  title: 'The test cannot tell the product from the starting material',
  why: `From the structures both should give the same answer, so a positive does not show that the reaction took place; or the
substance colours the blank, so that the test means nothing. Said when a positive is due for both; a shared negative is only named
where the line concludes something from it. Starting materials are those of the equations that make the substance; of several the one
with most carbon counts.`,
  help: 'The finding is no mistake of yours: take a test in which they differ, or a melting point or spectrum beside it.',
  examples: [
    {
      name: 'both are phenols',
      wrong: `experiment TB-651: Methyl salicylate
date: 2026-03-11
author: MK
reaction R1: salicylic acid + methanol -> methyl salicylate + water
test ferric chloride: of methyl salicylate, violet at once => ester
     ^^^^^^^^^^^^^^^ test-not-discriminating: salicylic acid
`,
    },
    {
      name: 'the phenol colours the blank',
      wrong: `experiment TB-652: Methyl salicylate
date: 2026-03-11
author: MK
test iron(III) hydroxamate: of methyl salicylate, magenta => ester
     ^^^^^^^^^^^^^^^^^^^^^ test-not-discriminating: blank
`,
    },
    {
      name: 'near misses: acid against ester, a shared negative that shows a side product absent',
      right: `experiment TB-653: Right tests
date: 2026-03-11
author: MK
reaction R1: salicylic acid + methanol -> methyl salicylate + water
test sodium hydrogencarbonate: of methyl salicylate, no gas => no free acid left
test 2,4-DNP: of methyl salicylate, no precipitate => no aldehyde or ketone
`,
    },
  ],
  sources: ['Standard qualitative organic analysis: Shriner, Hermann, Morrill, Curtin and Fuson; Vogel (from memory)'],
  *check({ values }) {
    for (const value of values.tests) {
      const { known, tested, discriminates, test } = value;
      if (!known || !tested?.expected || discriminates !== false) continue;
      const found: Omit<Finding, 'code' | 'severity' | 'message'> = { span: test.name.span, block: test.entry.block };
      if (tested.expected.result === 'blank') {
        yield {
          ...found,
          message: sentences(
            `${tested.substance.name} is a ${tested.expected.legs[0]!.feature}: ${tested.expected.legs[0]!.observation}.`,
            'Run the blank beside it, or take another test.',
          ),
        };
        continue;
      }
      if (tested.expected.result === 'negative' && !affirms(value)) continue;
      const same = value.others.filter((other) => other.role === 'starting material' && alike(tested, other));
      const main = same[0];
      if (!main) continue;
      yield {
        ...found,
        message: sentences(
          `${nameOf(same)} should be ${main.expected!.result} too (${main.expected!.legs[0]!.feature}), so this test does not tell ${tested.substance.name} from it.`,
          differing(value) ?? 'Take a melting point or a spectrum.',
        ),
      };
    }
  },
});

/** One that fits behind the sentence before it. */
function differing(value: TestValue): string | undefined {
  const [name] = confirming(value)
    .map((test) => test.name)
    .sort((a, b) => a.length - b.length);
  return name && `They should differ in the ${name}.`;
}

const nameOf = (same: readonly Asked[]): string => same.map(({ substance }) => substance.name).join(' and ');

/** A conclusion that says what is there, not what is not. */
const affirms = ({ legs }: TestValue): boolean =>
  legs.some(({ leg }) => leg.conclusion && !/\b(?:no|not|none|without|absent|free)\b/i.test(leg.conclusion.text));
