import { closingOf } from '../../model/signature';
import { rule } from '../rule';
import { sentences } from '../wording';

export default rule({
  code: 'consider-undecided',
  family: 'page',
  severity: 'hint',
  fixable: 'never',
  title: 'A step was considered, and the signed page does not say what was decided',
  why: `\`consider\` works out what a purification would leave; whether it is done is for the person. A reader of the signed page
wants to know which it was, and why. One \`decided\` line holds for all that was considered since the one before. While the page
is open nothing is said.`,
  help: 'Before signing, write `decided:` with what was chosen and the reason. On a signed page a `note:` below the signature says it.',
  examples: [
    {
      name: 'signed without a decision',
      wrong: `experiment TB-291: Purification
date: 2026-03-11
author: MK
product benzoic acid: 5.00 g, crude
consider recrystallisation of benzoic acid: loss 5 %
         ^^^^^^^^^^^^^^^^^ consider-undecided
signed: MK, 2026-03-11 17:20
`,
      right: `experiment TB-291: Purification
date: 2026-03-11
author: MK
product benzoic acid: 5.00 g, crude
consider recrystallisation of benzoic acid: loss 5 %
decided: not done, the melting point is sharp
signed: MK, 2026-03-11 17:20
`,
    },
    {
      name: 'near misses: an open page, two ways with one decision',
      right: `experiment TB-292: Purification
date: 2026-03-11
author: MK
product benzoic acid: 5.00 g, crude
consider recrystallisation of benzoic acid: loss 5 %

experiment TB-293: Purification
date: 2026-03-12
author: MK
product benzoic acid: 5.00 g, crude
consider recrystallisation of benzoic acid: loss 5 %
consider sublimation of benzoic acid: loss 20 %
decided: from water, the sublimation takes all day
signed: MK, 2026-03-12 17:20
`,
    },
  ],
  sources: ['common practice, no source'],
  *check({ page }) {
    const closing = closingOf(page.signatures);
    if (!closing) return;
    for (const { entry, step, name, decided } of page.considerations) {
      if (decided || entry.block > closing.entry.block) continue;
      yield {
        span: step.span,
        block: entry.block,
        message: sentences(
          `${step.text} of ${name.text} was considered, and nothing says what was decided.`,
          'A note below the signature can say it.',
        ),
      };
    }
  },
});
