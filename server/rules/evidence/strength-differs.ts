import { isHeld, uncertainty } from '../../quantity/held';
import { digits, show } from '../../quantity/show';
import { rule } from '../rule';
import { sentences } from '../wording';

export default rule({
  code: 'strength-differs',
  family: 'evidence',
  severity: 'information',
  fixable: 'never',
  title: 'A titration finds another strength than the solution was made to have',
  why: `After \`titrate SOLUTION: …\` the mean of the runs is the solution's strength, and its own line is only nominal. Where
the two differ by more than twice their combined standard uncertainty and by more than 2 %, something besides the glassware is
at work: a base that took up water and carbon dioxide, a hydrate taken for the dry salt, a wrong ratio, a slip in the making.
A strength written as \`0.1 M\` carries a wide uncertainty of its own and is seldom beyond it.`,
  help: 'Nothing has to be changed: later lines count the titrated strength. Look for a slip if the difference is a surprise.',
  examples: [
    {
      name: 'the pentahydrate was taken for the dry salt',
      wrong: `experiment TB-825: Thiosulfate
date: 2026-03-11
author: MK
substance sodium thiosulfate: Na2S2O3
solution thiosulfate: 7.906 g sodium thiosulfate in water, made up to 500.0 mL
reaction T: 2 S2O3^2- + I2 -> S4O6^2- + 2 I^-
titrate thiosulfate: 25.00 mL with 0.0500 M iodine; titre 15.93 mL; titre 15.91 mL
        ^^^^^^^^^^^ strength-differs: 36.3 % below the 0.10001 mol/L
`,
    },
    {
      name: 'near misses: within the uncertainty, a label with one figure, less than 2 %',
      right: `experiment TB-826: Strengths
date: 2026-03-11
author: MK
solution caustic: 0.1 M sodium hydroxide in water
titrate caustic: against potassium hydrogen phthalate; run 0.4067 g, titre 21.60 mL
solution acid: 0.1000 M HCl in water
titrate acid: 20.00 mL with 0.1000 M NaOH; titre 19.80 mL; titre 19.82 mL
`,
    },
  ],
  sources: ['Coverage factor 2: JCGM 100:2008, 6.3.3', '2 %: common practice, no source'],
  *check({ values }) {
    for (const { titration, mean } of values.titrations) {
      const own = values.solutions.find((s) => s.solution === titration.name.target)?.concentration;
      if (!isHeld(own) || !isHeld(mean) || mean.kind !== 'concentration' || own.value.isZero()) continue;
      const difference = mean.value.minus(own.value);
      const share = difference.div(own.value).abs();
      const expanded = 2 * Math.hypot(uncertainty(own), uncertainty(mean));
      if (share.lte(LEAST) || difference.abs().lte(expanded)) continue;
      const way = difference.isNegative() ? 'below' : 'above';
      yield {
        span: titration.name.span,
        block: titration.entry.block,
        message: sentences(
          `By titration ${titration.name.text} is ${show(mean)}, ${digits(share.times(100), -1)} % ${way} the ${show(own)} of its own line.`,
          'Later lines count the titrated strength.',
        ),
      };
    }
  },
});

const LEAST = '0.02';
