import { readNumber } from '../../quantity/written';
import { rule } from '../rule';
import { quantitiesIn, shift } from '../walk';
import { replaceFix, sentences } from '../wording';

export default rule({
  code: 'range-reversed',
  family: 'units',
  severity: 'warning',
  fixable: 'always',
  title: 'The range runs from high to low',
  why: `\`A–B\` is a range, low end first. From high to low it is a slip, or the upper end was shortened (133–5 °C for 133–135 °C),
which the tool cannot know. Something that falls in the course of the work is written \`−78 to −90 °C\`.`,
  help: 'Put the low end first and write both ends in full; or write `to` between them if it is a course.',
  examples: [
    {
      name: 'a melting range',
      wrong: `experiment TB-421: Ranges
date: 2026-03-11
author: MK
product benzoic acid: 2.00 g, mp 123–121 °C
                                 ^^^^^^^^^^ range-reversed: 121–123 °C
`,
      right: `experiment TB-421: Ranges
date: 2026-03-11
author: MK
product benzoic acid: 2.00 g, mp 121–123 °C
`,
    },
    {
      name: 'near misses: a course that falls, negative ends, numbers that are no range',
      right: `experiment TB-422: Ranges
date: 2026-03-11
author: MK
substance benzoic acid: C7H6O2, CAS 65-85-0, lot 2025-11
charge benzoic acid: 2.00 g, at 25 to 0 °C
product benzoic acid: 1.90 g, mp −12–−10 °C, burette 24.83 to 0.05 mL
`,
    },
  ],
  sources: ['common practice, no source'],
  *check({ source, text }) {
    for (const { node, block, at } of quantitiesIn(source)) {
      if (!node.to || node.course) continue;
      const low = readNumber(node.number);
      const high = readNumber(node.to);
      if (!low || !high || high.value.gte(low.value)) continue;
      const span = shift(node.span, at);
      const written = text(span);
      const first = shift(node.number.span, at);
      const second = shift(node.to.span, at);
      const turned = `${text({ start: span.start, end: first.start })}${high.text}${text({ start: first.end, end: second.start })}${low.text}${text({ start: second.end, end: span.end })}`;
      yield {
        span,
        block,
        message: sentences(
          `${written} runs from high to low. Write ${turned}, or both ends in full if the upper one was shortened.`,
          'Something that falls has "to" between its ends.',
        ),
        fixes: [replaceFix(span, written, turned)],
      };
    }
  },
});
