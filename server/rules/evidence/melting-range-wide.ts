import { Decimal } from '../../quantity/decimal';
import { digits } from '../../quantity/show';
import { rule } from '../rule';
import { sentences } from '../wording';

/** K */
const WIDEST = 3;
/** Stages after which a substance is meant to be pure. */
const PURE: ReadonlySet<string> = new Set([
  'recrystallised',
  'distilled',
  'chromatographed',
  'sublimed',
  'purified',
  'pure',
]);

export default rule({
  code: 'melting-range-wide',
  family: 'evidence',
  severity: 'information',
  fixable: 'never',
  title: 'The melting range is wide for a purified substance',
  why: `A pure substance melts over one or two kelvin; a range of more than 3 K, after a step that was to make it pure, speaks of
an impurity, of solvent, or of heating too fast. A substance counts as purified when the last \`product\` line of it above says
recrystallised, distilled, chromatographed, sublimed or pure. Substances that decompose on melting are not looked at.`,
  help: 'Dry it, take the melting point again with slow heating (1–2 K/min near the end), or purify once more.',
  examples: [
    {
      name: 'seven kelvin after recrystallising',
      wrong: `experiment TB-631: Benzoic acid
date: 2026-03-11
author: MK
product benzoic acid: 2.31 g, recrystallised, mp 114–121 °C
                                              ^^^^^^^^^^^^^ melting-range-wide: 7 K
`,
      right: `experiment TB-631: Benzoic acid
date: 2026-03-11
author: MK
product benzoic acid: 2.31 g, recrystallised, mp 121–122 °C
`,
    },
    {
      name: 'on a line of its own',
      wrong: `experiment TB-632: Benzoic acid
date: 2026-03-11
author: MK
product benzoic acid: 2.31 g, recrystallised
measure benzoic acid: mp 116–121.5 °C (lit. 122 °C)
                      ^^^^^^^^^^^^^^^ melting-range-wide: 5.5 K
`,
    },
    {
      name: 'near misses: crude, nothing said of purity, three kelvin, a decomposition',
      right: `experiment TB-633: Ranges
date: 2026-03-11
author: MK
product benzoic acid: 2.31 g, crude, mp 110–119 °C
measure salicylic acid: mp 150–158 °C
product salicylic acid: 2.0 g, recrystallised, mp 156–159 °C
product oxalic acid: 2.0 g, recrystallised, mp 180–190 °C, with decomposition
`,
    },
  ],
  sources: [
    'Pure substances melt within 1 to 2 K: practical textbooks of organic chemistry (from memory); the limit of 3 K: common practice',
  ],
  *check({ page, values, source }) {
    for (const { measured, width } of values.measured) {
      if (measured.kind !== 'mp' || !width || width.value.lte(WIDEST)) continue;
      const own = page.products.filter(
        ({ name, entry }) =>
          entry.block <= measured.entry.block &&
          (name.text === measured.name.text || (name.target && name.target === measured.name.target)),
      );
      const stage = measured.stage ?? own.findLast(({ stage: s }) => s)?.stage?.text;
      if (!stage || !PURE.has(stage)) continue;
      if (/\bdec(?:\b|\.|omp)/i.test(source.blocks[measured.entry.block]?.block.text ?? '')) continue;
      yield {
        span: measured.span,
        block: measured.entry.block,
        message: sentences(
          `A melting range of ${digits(new Decimal(width.value), -width.value.decimalPlaces())} K is wide for a substance that was ${stage}; a pure one melts within 1–2 K.`,
          'Dry it and take it again slowly, or purify once more.',
        ),
        rests: [measured.span],
      };
    }
  },
});
