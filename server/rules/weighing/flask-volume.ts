import { rule } from '../rule';
import { sentences } from '../wording';

export default rule({
  code: 'flask-volume',
  family: 'weighing',
  severity: 'warning',
  fixable: 'never',
  title: 'A volumetric flask holds one volume, and another is written',
  why: `A volumetric flask has one mark. A solution that was made up in a 250 mL flask has 250 mL, and a strength worked out for
another volume is wrong. The rule speaks only where the flask is written with its class.`,
  help: 'Correct the volume or the flask. A volume between two marks is measured with a cylinder or a burette: write that.',
  examples: [
    {
      name: 'another flask',
      wrong: `experiment TB-827: Brine
date: 2026-03-11
author: MK
solution brine: 5.844 g sodium chloride in water, made up to 100.0 mL, in 250 mL volumetric flask class A
                                                             ^^^^^^^^ flask-volume: 250 mL
`,
    },
    {
      name: 'near misses: the mark, a cylinder, no class',
      right: `experiment TB-828: Brine
date: 2026-03-11
author: MK
solution brine: 5.844 g sodium chloride in water, made up to 100.0 mL, in 100 mL volumetric flask class A
solution weak brine: 1.2 g sodium chloride in water, made up to 80 mL, in 100 mL graduated cylinder class B
solution rough brine: 1.2 g sodium chloride in water, made up to 80 mL, in 100 mL volumetric flask
`,
    },
  ],
  sources: ['ISO 1042: one-mark volumetric flasks (from memory)'],
  *check({ page, text }) {
    for (const { strength, entry } of page.solutions) {
      const to = strength?.kind === 'made-up' ? strength.to : undefined;
      const { number, unit } = to?.quantity ?? {};
      if (!to || !entry || !number || !unit || to.glassware?.kind !== 'flask') continue;
      if (number.value.times(unit.factor).eq(to.glassware.nominal)) continue;
      yield {
        span: to.span,
        block: entry.block,
        message: sentences(
          `Made up to ${text(to.span)} in a flask of ${to.glassware.nominal} mL; its one mark is another volume.`,
          'Correct the volume or the flask.',
        ),
        rests: [to.span],
      };
    }
  },
});
