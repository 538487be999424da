import { amended } from '../../model/amend';
import { closingOf, type Signature } from '../../model/signature';
import { between, dateOf, logOf, type Moment } from '../../model/timeline';
import { type Found, rule } from '../rule';
import { sentences } from '../wording';

export default rule({
  code: 'signature-order',
  family: 'page',
  severity: 'warning',
  fixable: 'never',
  title: 'Signature, witness or amendment in the wrong order of time',
  why: `A page is written, then signed, then read by a witness, and amended only after that. A signature dated before the last
entry it closes, a witness before the signature, an amendment before it: one of the dates or times is wrong, and on a page that
is to be believed later this matters more than a wrong gram.`,
  help: `Correct the date or time that is wrong, if the page is not closed yet; otherwise say below it which one is: \`note:\` or
\`amend signed: …\`. If work went on after the signature, sign again below it.`,
  examples: [
    {
      name: 'signed before the last entry',
      wrong: `experiment TB-291: Reflux
date: 2026-03-11
author: MK
09:40 Reflux started.
17:30 Off the heat.
signed: MK, 2026-03-11 17:20
            ^^^^^^^^^^^^^^^^ signature-order: 17:30
`,
      right: `experiment TB-291: Reflux
date: 2026-03-11
author: MK
09:40 Reflux started.
17:30 Off the heat.
signed: MK, 2026-03-11 17:40
`,
    },
    {
      name: 'witnessed before it was signed, amended before it was signed',
      wrong: `experiment TB-292: Drying
date: 2026-03-11
author: MK
charge sodium chloride: 2.000 g
signed: MK, 2026-03-11 17:20
witnessed: JL, 2026-03-10
               ^^^^^^^^^^ signature-order: 2026-03-11 17:20
amend charge sodium chloride: 2.000 g -> 2.100 g, digits swapped, MK, 2026-03-11 09:10
                                                                      ^^^^^^^^^^^^^^^^ signature-order: 2026-03-11 17:20
`,
    },
    {
      name: 'near misses: past midnight, the same minute, a date without a time, a page signed every day',
      right: `experiment TB-293: Overnight
date: 2026-03-11
author: MK
charge sodium chloride: 2.000 g
16:50 Left to stir.
signed: MK, 2026-03-11 16:50
date: 2026-03-12
14:10 Filtered.
23:50 Still in the oven.
00:20 Out of the oven.
signed: MK, 2026-03-13 00:20
witnessed: JL, 2026-03-13
amend charge sodium chloride: 2.000 g -> 2.100 g, digits swapped, MK, 2026-03-13
`,
    },
  ],
  sources: ['common practice, no source'],
  *check({ page, source }) {
    const { signatures, amendments } = page;
    if (signatures.length === 0) return;
    const log = logOf(amended(source));
    let signed: Signature | undefined;
    for (const signature of signatures) {
      const { moment, kind, entry } = signature;
      if (moment && kind === 'signed') {
        const last = log.findLast((logged) => logged.block < entry.block && logged.moment && !logged.late);
        if (last?.moment && between(last.moment, moment) < 0)
          yield found(signature, moment, `The last entry above it is of ${shown(last.moment)}`, 'signed');
      }
      if (moment && kind === 'witnessed' && signed?.moment && between(signed.moment, moment) < 0)
        yield found(signature, moment, `It was signed on ${shown(signed.moment)}`, 'witnessed');
      if (kind === 'signed') signed = signature;
    }
    const closing = closingOf(signatures);
    for (const { entry, when, moment } of amendments) {
      if (!when || !moment || !closing?.moment || entry.block < closing.entry.block) continue;
      if (between(closing.moment, moment) < 0)
        yield found({ entry, when }, moment, `The page was signed on ${shown(closing.moment)}`, 'amended');
    }
  },
});

const shown = ({ day, seconds }: Moment): string =>
  seconds === undefined ? dateOf(day) : `${dateOf(day)} ${clock(seconds)}`;

const clock = (seconds: number): string =>
  [Math.floor(seconds / 3600), Math.floor(seconds / 60) % 60].map((n) => String(n).padStart(2, '0')).join(':');

const found = (
  { entry, when }: Pick<Signature, 'entry' | 'when'>,
  moment: Moment,
  other: string,
  done: string,
): Found => ({
  span: when?.span ?? entry.mark,
  block: entry.block,
  message: sentences(`${other}, so it cannot have been ${done} on ${shown(moment)}.`, 'One of the two times is wrong.'),
});
