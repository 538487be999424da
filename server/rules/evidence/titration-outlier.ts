import { Decimal } from '../../quantity/decimal';
import { isHeld } from '../../quantity/held';
import { digits, show } from '../../quantity/show';
import { rule } from '../rule';
import { sentences } from '../wording';

export default rule({
  code: 'titration-outlier',
  family: 'evidence',
  severity: 'information',
  fixable: 'never',
  title: 'One run of a titration stands apart from the others',
  why: `With three to ten runs Dixon's Q (the gap to the nearest run over the range of all) says whether the run farthest out is
likely to belong to the others; beyond the critical value at 95 % it is named. A gap of up to 0.10 mL of titre, or 0.2 % of the
result, is no outlier whatever Q says: with three runs of which two agree by chance, Q is always high. The run stays in the
mean. No number leaves it because of a test.`,
  help: `Look for the reason: an overshot end point, an air bubble in the tip, a misread burette, a spilt sample. Do another run.
A run that is known to have failed is struck through (\`~~titre 25.14 mL~~\`) with the reason beside it; it then stays to be read
and does not count.`,
  examples: [
    {
      name: 'the fourth run overshot',
      wrong: `experiment TB-821: Strength of a caustic
date: 2026-03-11
author: MK
solution caustic: 0.1 M sodium hydroxide in water
titrate caustic: against potassium hydrogen phthalate
  run 0.4067 g, titre 19.98 mL; run 0.4051 g, titre 19.91 mL; run 0.4074 g, titre 20.01 mL; run 0.4060 g, titre 20.61 mL
                                                                                                                ^^^^^^^^ titration-outlier: Dixon's Q is 0.980
`,
    },
    {
      name: 'near misses: two runs that agree by chance, runs that all scatter, two runs only',
      right: `experiment TB-822: Strength of a caustic
date: 2026-03-11
author: MK
solution caustic: 0.1 M sodium hydroxide in water
titrate caustic: against potassium hydrogen phthalate
  run 0.4067 g, titre 19.98 mL; run 0.4067 g, titre 19.98 mL; run 0.4067 g, titre 20.04 mL
titrate caustic: against potassium hydrogen phthalate
  run 0.4067 g, titre 19.78 mL; run 0.4067 g, titre 20.18 mL; run 0.4067 g, titre 20.55 mL
titrate caustic: against potassium hydrogen phthalate
  run 0.4067 g, titre 19.98 mL; run 0.4067 g, titre 20.61 mL
`,
    },
  ],
  sources: [
    'D. B. Rorabacher, Anal. Chem. 1991, 63, 139: critical values of Q, as printed in D. Harvey, Analytical Chemistry 2.1, appendix 6',
    'Concordant within 0.10 mL: common practice of teaching laboratories, no single source',
    '0.2 %: the repeatability that the European Pharmacopoeia asks of a standardisation (EDQM, FAQ on volumetric solutions)',
  ],
  *check({ values }) {
    for (const { titration, runs, mean, suspect } of values.titrations) {
      const run = suspect && runs[suspect.run];
      const delivered = run?.run.delivered;
      if (!run || !delivered || !isHeld(mean) || !isHeld(run.value) || !isHeld(run.titre)) continue;
      const share = suspect.gap.value.div(mean.value).abs();
      const concordant = Decimal.max(CONCORDANT_ML.div(run.titre.value.abs()), CONCORDANT_SHARE);
      if (share.lte(concordant)) continue;
      const q = digits(new Decimal(suspect.q), -3);
      yield {
        span: delivered.span,
        block: titration.entry.block,
        message: sentences(
          `Run ${suspect.run + 1} gives ${show(run.value)} and stands apart: Dixon's Q is ${q}, above ${suspect.limit} for ${runs.length} runs.`,
          `It counts in the mean, ${show(mean)}; look for its reason.`,
        ),
        rests: [delivered.span],
      };
    }
  },
});

/** mL */
const CONCORDANT_ML = new Decimal('0.1');
const CONCORDANT_SHARE = new Decimal('0.002');
