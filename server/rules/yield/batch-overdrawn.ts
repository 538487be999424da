import { Decimal } from '../../quantity/decimal';
import { digits } from '../../quantity/show';
import { rule } from '../rule';
import { sentences } from '../wording';

/** Two balances and a transfer: what is taken may be weighed this much higher than what was made. */
const MARGIN = 0.005;

export default rule({
  code: 'batch-overdrawn',
  family: 'yield',
  severity: 'warning',
  fixable: 'never',
  title: 'More was taken of a batch than was made',
  why: `What a page made is a batch that can run out. All charges \`from\` it, on whatever page, are added up. Nothing is said
within half a percent, or while the mass of the batch or of nothing taken from it is known.`,
  help: 'Look for a charge that came from another batch, or that was not carried out.',
  examples: [
    {
      name: 'two pages take from one batch',
      wrong: `experiment TB-552: Ester
date: 2026-03-11
author: MK
charge benzoic acid: 3.00 g, from TB-551
                                  ^^^^^^ batch-overdrawn: 6.00 g of 5.12 g
`,
      right: `experiment TB-552: Ester
date: 2026-03-11
author: MK
charge benzoic acid: 2.00 g, from TB-551
`,
      files: {
        'others.tare': `experiment TB-551: Benzoic acid
date: 2026-03-02
author: MK
product benzoic acid: 5.12 g, recrystallised

experiment TB-553: Amide
date: 2026-03-12
author: MK
charge benzoic acid: 3.00 g, from TB-551
`,
      },
    },
    {
      name: 'near misses: all of it taken, a batch with another label',
      right: `experiment TB-552: Ester
date: 2026-03-11
author: MK
charge benzoic acid: 2.13 g, from TB-551
charge benzoic acid: 0.50 g, from TB-554/V-2
`,
      files: {
        'others.tare': `experiment TB-551: Benzoic acid
date: 2026-03-02
author: MK
product benzoic acid: 5.12 g, recrystallised

experiment TB-553: Amide
date: 2026-03-12
author: MK
charge benzoic acid: 3.00 g, from TB-551
charge benzoic acid: 2.00 g, from TB-554/V-1

experiment TB-554: Benzoic acid
date: 2026-03-02
author: MK
product benzoic acid: 2.00 g, recrystallised, label V-1
product benzoic acid: 0.51 g, recrystallised, label V-2
`,
      },
    },
  ],
  sources: ['Conservation of mass; the margin: common practice, no source'],
  *check({ page, world }) {
    const said = new Set<string>();
    for (const { batch, entry } of page.charges) {
      if (!batch) continue;
      const name = batch.label ? `${batch.id}/${batch.label}` : batch.id;
      const known = world.batch(batch.id, batch.label);
      if (known?.made === undefined || said.has(name)) continue;
      const taken = known.taken.reduce((sum, t) => sum + (t.mass ?? 0), 0);
      if (taken <= known.made * (1 + MARGIN)) continue;
      said.add(name);
      const by = new Map<string, number>();
      for (const t of known.taken) by.set(t.page, (by.get(t.page) ?? 0) + (t.mass ?? 0));
      const takers = [...by].map(([id, mass]) => `${id} ${grams(mass)}`);
      yield {
        span: batch.span,
        block: entry.block,
        message: sentences(
          `${grams(taken)} of ${grams(known.made)} were taken from ${name}.`,
          `Taken: ${takers.slice(0, MOST).join(', ')}${takers.length > MOST ? ' and more' : ''}.`,
        ),
        rests: [batch.span],
      };
    }
  },
});

const MOST = 5;

/** Batches are looked after to a hundredth of a gram; small ones to a milligram. */
const grams = (mass: number): string => `${digits(new Decimal(mass), mass < 1 ? -3 : -2)} g`;
