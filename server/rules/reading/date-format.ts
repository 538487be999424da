import type { PageSource, Span } from '../../../grammar/tree';
import { iso } from '../calendar';
import { type Fix, rule } from '../rule';
import { factsIn, shift, statementsOf } from '../walk';
import { either, replaceFix, sentences } from '../wording';

export default rule({
  code: 'date-format',
  family: 'reading',
  severity: 'hint',
  fixable: 'sometimes',
  title: 'The date is not written as year-month-day',
  why: `04/03/26 is three different days to three readers. ISO 8601 writes year, month and day: 2026-03-04. Pages are put in order
by that date, and the newer of two tares is found by it.`,
  help: 'Take the fix. Where a date has two readings there are two fixes; only the writer knows which is meant.',
  examples: [
    {
      name: 'the month in words',
      wrong: `experiment TB-371: Dates
date: 4 March 2026
      ^^^^^^^^^^^^ date-format: 2026-03-04
author: MK
`,
      right: `experiment TB-371: Dates
date: 2026-03-04
author: MK
`,
    },
    {
      name: 'two readings',
      wrong: `experiment TB-372: Dates
date: 04/03/2026
      ^^^^^^^^^^ date-format: 2026-03-04 or 2026-04-03
author: MK
`,
      right: `experiment TB-372: Dates
date: 2026-03-04
author: MK
`,
    },
    {
      name: 'near misses: ISO with a time or an end, an empty head',
      right: `experiment TB-373: Dates
date: 2026-03-04 to 2026-03-05
author: MK
date: 2026-03-06, afternoon
balance B-2: readability 0.001 g, checked 2026-01-12
signed: MK, 2026-03-06 17:20
`,
    },
  ],
  sources: ['ISO 8601: year, month, day, with hyphens (from memory)'],
  *check({ source }) {
    for (const { span, text, block } of dates(source)) {
      if (text === '' || /^\d{4}-\d{2}-\d{2}(?!\d)/.test(text)) {
        const written = text.slice(0, 10);
        if (text === '' || iso(...(written.split('-').map(Number) as [number, number, number])) === written) continue;
        yield { span, block, message: `${written} is no day of the calendar.` };
        continue;
      }
      const meant = readings(text);
      yield {
        span,
        block,
        message: sentences(
          `${text} is not in the form year-month-day.`,
          `Write ${meant.length > 0 ? either(meant) : 'it as 2026-03-04'}.`,
        ),
        ...(meant.length > 0 && {
          fixes: meant.map((m): Fix => replaceFix(span, text, m, { bulk: meant.length === 1 })),
        }),
      };
    }
  },
});

/** The text of `date:` lines, of `checked`, and what looks like a date in a signature. */
function* dates(source: PageSource): Generator<{ span: Span; text: string; block: number }> {
  for (const { statement, block, at } of statementsOf(source)) {
    if (statement.body.kind !== 'text') continue;
    const { text, span } = statement.body.text;
    if (statement.keyword === 'date') yield { ...firstLine(source, shift(span, at)), block };
    if (statement.keyword !== 'signed' && statement.keyword !== 'witnessed') continue;
    const found = /\d{1,4}[./]\d{1,2}[./]\d{2,4}(?![\d./])/.exec(text);
    if (!found || text.length !== span.end - span.start) continue;
    const start = at + span.start + found.index;
    yield { span: { start, end: start + found[0].length }, text: found[0], block };
  }
  for (const { fact, block, at } of factsIn(source)) {
    const first = fact.parts[0];
    const last = fact.parts[fact.parts.length - 1];
    if (fact.key !== 'checked' || !first || !last) continue;
    yield { ...firstLine(source, { start: at + first.span.start, end: at + last.span.end }), block };
  }
}

function firstLine(source: PageSource, { start, end }: Span): { span: Span; text: string } {
  const text = /^[^\r\n]*/.exec(source.text.slice(start, end))![0].trimEnd();
  return { span: { start, end: start + text.length }, text };
}

const MONTHS = ['jan', 'feb', 'mar', 'apr', 'may', 'jun', 'jul', 'aug', 'sep', 'oct', 'nov', 'dec'];

/** Every day that is meant by a date in a usual form; one for most, two for `04/03/2026`. */
function readings(text: string): readonly string[] {
  const plain = text.replace(/(?<=\d)(?:st|nd|rd|th)\b/i, '');
  const words = /^(\d{1,2})[\s.-]*([A-Za-z]{3,9})[.,\s-]*(\d{4})$/.exec(plain);
  if (words) return days([[words[3]!, month(words[2]!), words[1]!]]);
  const american = /^([A-Za-z]{3,9})\.?\s+(\d{1,2}),?\s+(\d{4})$/.exec(plain);
  if (american) return days([[american[3]!, month(american[1]!), american[2]!]]);
  const yearFirst = /^(\d{4})[./ -](\d{1,2})[./ -](\d{1,2})$/.exec(plain) ?? /^(\d{4})(\d{2})(\d{2})$/.exec(plain);
  if (yearFirst) return days([[yearFirst[1]!, Number(yearFirst[2]), yearFirst[3]!]]);
  const yearLast = /^(\d{1,2})[./-](\d{1,2})[./-](\d{4})$/.exec(plain);
  if (!yearLast) return [];
  const [, a = '', b = '', year = ''] = yearLast;
  return days([
    [year, Number(b), a],
    [year, Number(a), b],
  ]);
}

const month = (name: string): number => MONTHS.indexOf(name.slice(0, 3).toLowerCase()) + 1;

const days = (candidates: readonly (readonly [year: string, month: number, day: string])[]): readonly string[] => [
  ...new Set(candidates.flatMap(([year, m, day]) => iso(Number(year), m, Number(day)) ?? [])),
];
