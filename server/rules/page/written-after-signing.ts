import type { Keyword } from '../../../grammar/vocabulary';
import { closingOf } from '../../model/signature';
import { rule } from '../rule';
import { sentences } from '../wording';

/** What may stand below a signature: who else signed, corrections, what was seen and accepted, notes. */
const BELOW: ReadonlySet<Keyword> = new Set<Keyword>(['signed', 'witnessed', 'amend', 'accept', 'note', 'reference']);

export default rule({
  code: 'written-after-signing',
  family: 'page',
  severity: 'warning',
  fixable: 'never',
  title: 'Work is written below the signature',
  why: `\`signed\` closes a page: what stands above it is what the signer vouches for, and what a digest covers. A log entry or
a weighing below the last signature belongs to nobody. Amendments, witnesses and notes have their place there.`,
  help: `Sign again below it; a page may be signed more than once, at the end of each day for one. Or move the lines to the
page of the day on which the work was done. A correction is written as \`amend\`.`,
  examples: [
    {
      name: 'a reading added later',
      wrong: `experiment TB-281: Drying
date: 2026-03-11
author: MK
product benzoic acid: tare 41.207 g, gross 43.423 g, crude
signed: MK, 2026-03-11 17:20
date: 2026-03-12
09:30 Out of the oven.
^^^^^ written-after-signing: 2 lines
product benzoic acid: tare 41.207 g, gross 43.120 g, dried
`,
      right: `experiment TB-281: Drying
date: 2026-03-11
author: MK
product benzoic acid: tare 41.207 g, gross 43.423 g, crude
signed: MK, 2026-03-11 17:20
date: 2026-03-12
09:30 Out of the oven.
product benzoic acid: tare 41.207 g, gross 43.120 g, dried
signed: MK, 2026-03-12 10:00
`,
    },
    {
      name: 'near misses: a witness, an amendment, a note, prose',
      right: `experiment TB-282: Drying
date: 2026-03-11
author: MK
product benzoic acid: tare 41.207 g, gross 43.423 g
signed: MK, 2026-03-11 17:20
witnessed: JL, 2026-03-12 08:15
note: read and understood
amend product benzoic acid: 43.423 g -> 43.433 g, misread the display, MK, 2026-03-12 09:10
Copied to the group's archive.
`,
    },
  ],
  sources: ['common practice, no source'],
  *check({ page, source }) {
    const closing = closingOf(page.signatures);
    if (!closing) return;
    const below = source.blocks.flatMap((placed, block) => {
      const { clock, statement, kind } = placed.block;
      if (block <= closing.entry.block || (kind !== 'log' && kind !== 'statement')) return [];
      if (statement && (BELOW.has(statement.keyword) || statement.keyword === 'date')) return [];
      const span = clock?.span ?? statement?.keywordSpan ?? { start: 0, end: 0 };
      return [{ block, span: { start: placed.at + span.start, end: placed.at + span.end } }];
    });
    const first = below[0];
    if (!first) return;
    const when = closing.when ? ` of ${closing.when.text}` : '';
    yield {
      ...first,
      message: sentences(
        `${below.length === 1 ? 'A line stands' : `${below.length} lines stand`} below the signature${when}: no signature covers ${below.length === 1 ? 'it' : 'them'}.`,
        'Sign again below, or write a correction as amend.',
      ),
    };
  },
});
