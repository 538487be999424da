import type { NumberNode } from '../../../grammar/tree';
import { isText } from '../fits';
import { type Fix, rule } from '../rule';
import { quantitiesIn, shift } from '../walk';
import { either, replaceFix, sentences } from '../wording';

export default rule({
  code: 'number-format',
  family: 'reading',
  severity: 'error',
  fixable: 'sometimes',
  title: 'The number cannot be read for sure',
  why: `A number in a statement has a decimal point with a digit before it, and no comma. \`12,5\` may be a decimal or a list,
\`1,234\` a thousand or one and a bit, and a point without a zero is easily overlooked. The tool never guesses: a number in
another form is not used. Thin spaces may group digits: 12 500.`,
  help: 'Take the fix that says what was meant. For `1,234` there are two; only the writer knows which.',
  examples: [
    {
      name: 'a decimal comma',
      wrong: `experiment TB-341: Numbers
date: 2026-03-11
author: MK
charge sodium chloride: 12,5 g
                        ^^^^ number-format: 12.5
`,
      right: `experiment TB-341: Numbers
date: 2026-03-11
author: MK
charge sodium chloride: 12.5 g
`,
    },
    {
      name: 'two readings',
      wrong: `experiment TB-342: Numbers
date: 2026-03-11
author: MK
charge sodium chloride: 1,000 g
                        ^^^^^ number-format: 1000 or 1.000
`,
      right: `experiment TB-342: Numbers
date: 2026-03-11
author: MK
charge sodium chloride: 1000 g
`,
    },
    {
      name: 'no zero before the point',
      wrong: `experiment TB-343: Numbers
date: 2026-03-11
author: MK
charge sodium chloride: .52 g
                        ^^^ number-format: 0.52
`,
      right: `experiment TB-343: Numbers
date: 2026-03-11
author: MK
charge sodium chloride: 0.52 g
`,
    },
    {
      name: 'near misses: locants, an empty slot, numbers in prose and remarks',
      right: `experiment TB-344: Numbers
date: 2026-03-11
author: MK
vessel beaker 4: tare  g
charge 1,2-dichloroethane: 12.5 mL, solvent, lot 12,5, spots 1,2 and 3,4
About 12,5 g were left, or 1,000 mg a day.
`,
    },
  ],
  sources: ['ISO 80000-1: the decimal sign, and thin spaces between groups of digits (from memory)'],
  *check({ source, text }) {
    for (const { node, index, fact, claim, block, at } of quantitiesIn(source)) {
      // In a text or in the middle of a remark a bare number may be anything.
      if (!node.unit && !claim && (isText(fact) || (!fact.key && index > 0))) continue;
      for (const number of [node.count, node.number, node.plusMinus, node.to]) {
        if (!number?.defect) continue;
        const span = shift(number.span, at);
        const written = text(span);
        const meant = readings(number);
        const fixes = meant.map((m): Fix => replaceFix(span, written, m, { bulk: meant.length === 1 }));
        yield {
          span,
          block,
          message:
            number.defect === 'malformed'
              ? `${written} is no number that can be read. Write it with one decimal point.`
              : sentences(`${written} ${DEFECTS[number.defect]}.`, `Write ${either(meant)}.`),
          doubts: [shift(node.span, at)],
          ...(fixes.length > 0 && { fixes }),
        };
      }
    }
  },
});

const DEFECTS = {
  'decimal-comma': 'has a decimal comma',
  'thousands-comma': 'has a comma that may part thousands or decimals',
  'leading-point': 'has no digit before its point',
};

/** What may be meant, in the form to write; the sign as it was typed. */
function readings({ text, digits, defect }: NumberNode): readonly string[] {
  const sign = /^[+\-−–‐]/.exec(text)?.[0] ?? '';
  const form = text.slice(sign.length);
  const body = /^[\d.,\s]+/.exec(form)?.[0].trimEnd() ?? '';
  const rest = form.slice(body.length);
  if (defect === 'leading-point') return [`${sign}0${form}`];
  if (defect === 'thousands-comma' && digits === undefined) {
    return [`${sign}${body.replaceAll(',', '')}${rest}`, `${sign}${body.replace(',', '.')}${rest}`];
  }
  if (defect === 'thousands-comma') return [`${sign}${body.replaceAll(',', '')}${rest}`];
  if (defect === 'decimal-comma') return [`${sign}${body.replaceAll('.', '').replace(',', '.')}${rest}`];
  return [];
}
