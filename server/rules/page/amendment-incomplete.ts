import type { Amendment } from '../../model/amend';
import { closingOf } from '../../model/signature';
import { type Edit, type Fix, type RuleContext, rule } from '../rule';
import { either, sentences, stop } from '../wording';

export default rule({
  code: 'amendment-incomplete',
  family: 'page',
  severity: 'information',
  fixable: 'sometimes',
  title: 'An amendment does not say why, by whom or when',
  why: `A correction that anybody can follow keeps what was written, says what should have been, and why, who says so and
when. Without a reason nobody can judge it later; without a name and a date nobody can be asked. An amendment of a page that
is not signed is not needed: the line itself can be corrected.`,
  help: `Write all three behind NEW, with commas: \`20.0 mL -> 21.0 mL, misread the scale, MK, 2026-03-05 09:10\`. A time may be
left out.`,
  examples: [
    {
      name: 'no reason; nothing at all',
      wrong: `experiment TB-271: Drying
date: 2026-03-11
author: MK
charge sodium chloride: 2.000 g
charge potassium chloride: 3.000 g
signed: MK, 2026-03-11 17:20
amend charge sodium chloride: 2.000 g -> 2.100 g, MK, 2026-03-12 09:10
      ^^^^^^^^^^^^^^^^^^^^^^ amendment-incomplete: why
amend charge potassium chloride: 3.000 g -> 3.100 g
      ^^^^^^^^^^^^^^^^^^^^^^^^^ amendment-incomplete: why, by whom or when
`,
      fixed: `experiment TB-271: Drying
date: 2026-03-11
author: MK
charge sodium chloride: 2.000 g
charge potassium chloride: 3.000 g
signed: MK, 2026-03-11 17:20
amend charge sodium chloride: 2.000 g -> 2.100 g, reason, MK, 2026-03-12 09:10
amend charge potassium chloride: 3.000 g -> 3.100 g
`,
      right: `experiment TB-271: Drying
date: 2026-03-11
author: MK
charge sodium chloride: 2.000 g
charge potassium chloride: 3.000 g
signed: MK, 2026-03-11 17:20
amend charge sodium chloride: 2.000 g -> 2.100 g, digits swapped, MK, 2026-03-12 09:10
amend charge potassium chloride: 3.000 g -> 3.100 g, misread the display, MK, 2026-03-12 09:10
`,
    },
    {
      name: 'a page that is not signed',
      wrong: `experiment TB-272: Drying
date: 2026-03-11
author: MK
charge sodium chloride: 2.000 g
amend charge sodium chloride: 2.000 g -> 2.100 g, digits swapped, MK, 2026-03-12 09:10
      ^^^^^^^^^^^^^^^^^^^^^^ amendment-incomplete: not signed
`,
    },
    {
      name: 'near misses: a reason with commas, a full name, a date alone',
      right: `experiment TB-273: Drying
date: 2026-03-11
author: MK
charge sodium chloride: 2.000 g (2.000 g)
signed: MK, 2026-03-11 17:20
amend charge sodium chloride: 2.000 g (2.000 g) -> 2.100 g (2.100 g), misread the display, which flickered, Maria Kovács, 2026-03-12
`,
    },
  ],
  sources: [
    'OECD Series on Principles of GLP No. 1 (1998), 8.3.5: changes to data keep the earlier entry, with reason, date and initials (from memory)',
  ],
  *check({ page, text }) {
    const closing = closingOf(page.signatures);
    for (const amendment of page.amendments) {
      const { entry, statement, reason, by, when, problem } = amendment;
      if (problem) continue;
      const missing = [!reason && 'why', !by && 'by whom', !when && 'when'].filter((part) => part !== false);
      const signed = closing && closing.entry.block < entry.block;
      if (missing.length === 0 && signed) continue;
      yield {
        span: entry.mark,
        block: entry.block,
        message: sentences(
          missing.length > 0 && `The amendment of ${statement.text} does not say ${either(missing)}.`,
          !signed && `The page is not signed above it: ${statement.text} itself can be corrected.`,
        ),
        fixes: signed && missing.length > 0 ? [addMissing(amendment, text)] : [],
      };
    }
  },
});

/** Stops where reason, name and date belong. */
function addMissing({ now, reason, by, when, entry }: Amendment, written: RuleContext['text']): Fix {
  const at = (place: number, text: string): Edit => ({ span: { start: place, end: place }, text });
  const end = now?.span.end ?? entry.span.end;
  const afterNow = written({ start: end, end: end + 1 }) === '"' ? end + 1 : end;
  const afterReason = reason?.span.end ?? afterNow;
  const stops = [
    ...(reason ? [] : [at(afterNow, `, ${stop(1, 'reason')}`)]),
    ...(by ? [] : [at(afterReason, `, ${stop(2, 'who')}`)]),
    ...(when ? [] : [at(by?.span.end ?? afterReason, `, ${stop(3, 'date')}`)]),
  ];
  const merged = [...new Set(stops.map(({ span }) => span.start))].map((start) =>
    at(
      start,
      stops
        .filter(({ span }) => span.start === start)
        .map(({ text }) => text)
        .join(''),
    ),
  );
  return { title: 'Add what is missing: reason, name or date', edits: merged, snippet: true };
}
