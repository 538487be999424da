import type { Balance } from '../../model/page';
import { dayNumber } from '../../model/timeline';
import { rule } from '../rule';
import { sentences } from '../wording';

export default rule({
  code: 'balance-check-old',
  family: 'weighing',
  severity: 'information',
  fixable: 'never',
  title: 'The last check of the balance is more than a year before the page',
  why: `A balance moves out of adjustment with time, with moving and with temperature, and its readings do not show it. The date
of its last check stands in the register as \`checked 2026-01-12\`. Most sites check at least once a year, many with a weight
every day; a page dated more than a year after the last check rests on hope. A balance without a date is not looked at.`,
  help: `Check the balance with a calibrated weight near what is weighed on it and write the new date into the register. If it
was checked and only the register is behind, mend the register; if your site has another interval, change the severity.`,
  examples: [
    {
      name: 'a date of two years ago',
      wrong: `experiment TB-141: Drying
date: 2026-03-11
author: MK
balance B-2: readability 0.001 g, checked 2024-01-12
                                          ^^^^^^^^^^ balance-check-old: 789 days
product benzoic acid: tare 41.207 g, gross 43.423 g
`,
      right: `experiment TB-141: Drying
date: 2026-03-11
author: MK
balance B-2: readability 0.001 g, checked 2026-01-12
product benzoic acid: tare 41.207 g, gross 43.423 g
`,
    },
    {
      name: 'in a register: said where the balance was used',
      wrong: `experiment TB-142: Drying
date: 2026-03-11
author: MK
product benzoic acid: tare 41.207 g, gross 43.423 g, on B-2
                                                        ^^^ balance-check-old: 2025-02-01
`,
      files: { 'balances.tare': `balance B-2: readability 0.001 g, checked 2025-02-01\n` },
    },
    {
      name: 'near misses: just within the year, not used on the page, no date',
      right: `experiment TB-143: Drying
date: 2026-03-11
author: MK
product benzoic acid: tare 41.207 g, gross 43.423 g, on B-2
product salicylic acid: tare 41.2070 g, gross 43.4230 g, on A-1
`,
      files: {
        'balances.tare': `balance B-2: readability 0.001 g, checked 2025-03-11
balance A-1: readability 0.0001 g
balance A-9: readability 0.0001 g, checked 2019-01-01
`,
      },
    },
  ],
  sources: ['common practice, no source'],
  *check({ page }) {
    const today = dayNumber(page.date?.text ?? '');
    if (today === undefined) return;
    const seen = new Set<Balance>();
    const own = page.balances.map((balance) => ({ balance, block: balance.entry.block, span: balance.checked?.span }));
    const used = [...page.charges, ...page.products, ...page.recovered, ...page.weighs].flatMap(({ amount, entry }) => {
      const ref = amount.weighing.balance;
      // The only balance of the registers is not named: then the statement is what rests on it.
      const named = ref && ref.span.start >= entry.span.start && ref.span.end <= entry.span.end;
      return ref?.target ? [{ balance: ref.target, block: entry.block, span: named ? ref.span : entry.mark }] : [];
    });
    for (const { balance, block, span } of [...own, ...used]) {
      if (seen.has(balance) || !balance.checked || !span) continue;
      seen.add(balance);
      const checked = dayNumber(balance.checked.text);
      if (checked === undefined || today - checked <= YEAR) continue;
      yield {
        span,
        block,
        message: sentences(
          `${balance.name} was last checked on ${balance.checked.text}, ${today - checked} days before this page.`,
          'Check it with a calibrated weight and bring its date up to date.',
        ),
      };
    }
  },
});

/** Days; the day itself a year later still counts. */
const YEAR = 366;
