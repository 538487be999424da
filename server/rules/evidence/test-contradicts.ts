import type { KnownTest } from '../../chem/tests';
import type { TestLegValue, TestValue } from '../../compute/tests';
import { rule } from '../rule';
import { capital, sentences } from '../wording';

export default rule({
  code: 'test-contradicts',
  family: 'evidence',
  severity: 'warning',
  fixable: 'never',
  title: 'What was seen in the test contradicts the structure or the conclusion',
  why: `From the structure of the substance (its \`SMILES\`, else the handbook's structure of the same name and formula) the tool
knows what it should show in the usual classification tests, and from the words of the observation what was seen. A clear
positive where a negative is due, or the other way round, is named, and so is a conclusion that the observation does not bear
out. Slow or late answers are let pass, and so is every wording that is not plain.`,
  help: 'Look at the usual false answers in the message; repeat the test with a known substance beside it, and confirm by another.',
  examples: [
    {
      name: 'an ester that gives no colour',
      wrong: `experiment TB-641: Ester
date: 2026-03-11
author: MK
substance isopentyl acetate: C7H14O2, SMILES CC(C)CCOC(C)=O
test iron(III) hydroxamate: of isopentyl acetate, stays yellow
                                                  ^^^^^^^^^^^^ test-contradicts: positive is due
`,
      right: `experiment TB-641: Ester
date: 2026-03-11
author: MK
substance isopentyl acetate: C7H14O2, SMILES CC(C)CCOC(C)=O
test iron(III) hydroxamate: of isopentyl acetate, magenta at once => ester
`,
    },
    {
      name: 'a conclusion that the observation denies',
      wrong: `experiment TB-642: Unknown
date: 2026-03-11
author: MK
test 2,4-DNP: of unknown 7, no precipitate => ketone
                                              ^^^^^^ test-contradicts: Ketone gives
`,
    },
    {
      name: 'near misses: slow, late, doubtful, nothing foretold, a test that nobody knows',
      right: `experiment TB-643: Right tests
date: 2026-03-11
author: MK
test bromine: of cinnamic acid, colour fades slowly => double bond
test silver nitrate in ethanol: of 1-chlorobutane, no precipitate; on boiling, white precipitate => primary chloride
test Tollens: of benzaldehyde, perhaps a little grey
test iron(III) hydroxamate: of isopentyl alcohol, yellow => no ester
test smell: of isopentyl acetate, none
test iodoform: of 3,3-dimethyl-2-butanone, yellow precipitate only on warming
`,
    },
  ],
  sources: [
    'Standard qualitative organic analysis: Shriner, Hermann, Morrill, Curtin and Fuson, The Systematic Identification of Organic Compounds; Vogel, Textbook of Practical Organic Chemistry (from memory)',
  ],
  *check({ values }) {
    for (const value of values.tests) {
      const { known } = value;
      if (!known) continue;
      for (const leg of value.legs) {
        if (leg.verdict !== 'contradicts') continue;
        const { observation, conclusion } = leg.leg;
        const atConclusion = leg.structure !== 'contradicts' && conclusion;
        const span = atConclusion ? conclusion.span : (observation ?? value.test.name).span;
        yield {
          span,
          block: value.test.entry.block,
          message: atConclusion ? ofConclusion(known, leg) : ofStructure(value, known, leg),
          rests: [span],
        };
      }
    }
  },
});

function ofStructure({ tested }: TestValue, known: KnownTest, { leg, expected, outcome }: TestLegValue): string {
  const name = leg.substance?.text ?? tested?.substance.name ?? 'the substance';
  const due = expected!.legs[0]!;
  const typical = outcome === 'negative' ? known.falseNegatives : known.falsePositives;
  return sentences(
    `${capital(known.name)}: ${outcome} seen, but of ${name} (${due.feature}) ${expected!.result} is due: ${due.observation}.`,
    typical && `Usual false ${outcome === 'negative' ? 'negatives' : 'positives'}: ${typical}.`,
    'Confirm by another test.',
  );
}

function ofConclusion(known: KnownTest, { leg, outcome }: TestLegValue): string {
  const said = leg.conclusion!.text;
  const about = known.legs.find(({ feature }) =>
    feature.split(/,? /).some((word) => word.length > 3 && said.includes(word)),
  );
  return sentences(
    `“${leg.observation?.text ?? ''}” is ${outcome === 'negative' ? 'a negative' : 'a positive'} ${known.name}; “${said}” does not follow.`,
    about && `${capital(about.feature)} gives: ${about.observation}.`,
  );
}
