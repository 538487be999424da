import { clashesIn } from '../../compute/contents';
import type { Pair } from '../../compute/reactive-groups';
import type { Origin } from '../../quantity/held';
import { type Found, rule } from '../rule';
import { placeOf, severityOf, WHO_DECIDES } from '../streams';
import { sentences } from '../wording';

export default rule({
  code: 'waste-incompatible',
  family: 'ledger',
  severity: 'warning',
  fixable: 'never',
  title: 'Two things in one waste stream react with each other',
  why: 'A container of a stream fills over weeks and over the pages of many people, so what is compared is all that went into the stream of that name in the whole notebook; it is said on the later page, where the one came to the other. Each substance that a line names is sorted into reactive groups by its structure, its CAS number and its elements; a table says what happens when two groups meet. The table knows nothing of strength, and nothing of when a container was emptied.',
  help: 'Keep the two apart. If they are together already, leave the container open in the hood, add nothing, and ask a qualified person. If the container was changed in between, say so with `accept`.',
  examples: [
    {
      name: 'over two pages',
      files: {
        'before.tare': `experiment TB-505: Tetrazole
date: 2026-04-01
author: JL

waste halogenated organic: 30 mL dichloromethane
`,
      },
      wrong: `experiment TB-506: Azide
date: 2026-04-03
author: MK

waste halogenated organic: 20 mL washes with sodium azide
                                             ^^^^^^^^^^^^ waste-incompatible: TB-505
accept waste-stream-mismatch: poured before anybody looked
`,
    },
    {
      name: 'on one page',
      wrong: `experiment TB-507: Nitration
date: 2026-04-03
author: MK

waste acid can: 20 mL conc. nitric acid
waste acid can: 50 mL acetone from rinsing
                      ^^^^^^^ waste-incompatible: nitric acid
`,
      right: `experiment TB-507: Nitration
date: 2026-04-03
author: MK

waste acid can: 20 mL conc. nitric acid
waste rinsings: 50 mL acetone from rinsing
`,
    },
    {
      name: 'near miss: dilute sulfuric acid with acetic acid, amines with chlorinated solvents',
      right: `experiment TB-508: Ester
date: 2026-04-03
author: MK

waste aqueous acid: 70 mL water washes with sulfuric acid and the spare acetic acid
waste halogenated organic: 100 mL dichloromethane, triethylamine and methanol
waste aqueous base: 60 mL sodium hydroxide and sodium carbonate washes
`,
    },
  ],
  sources: [
    '40 CFR part 265, Appendix V (examples of potentially incompatible waste)',
    'groups after the approach of EPA-600/2-80-076 (from memory); other pairs are common practice, no source',
  ],
  *check({ page, values, world }) {
    const streams = new Map<string, (typeof values.wastes)[number][]>();
    for (const value of values.wastes) {
      const list = streams.get(value.waste.key);
      if (list) list.push(value);
      else streams.set(value.waste.key, [value]);
    }
    for (const [key, wastes] of streams) {
      const own = wastes.flatMap(({ waste, contents }) => contents.map((content) => ({ waste, content })));
      if (own.length === 0) continue;
      const others = world
        .wastes(key)
        .filter((b) => b.id !== page.id?.text && !isLater(b.date, page.date?.text))
        .map((brought) => ({ brought, groups: new Set(brought.groups) }));
      const all = new Set([...own.flatMap((o) => [...o.content.groups]), ...others.flatMap((o) => [...o.groups])]);
      for (const [i, { waste, content }] of own.entries()) {
        let worst: { pair: Pair; with: string; origin: Origin } | undefined;
        const offer = (pair: Pair | undefined, name: string, origin: Origin): void => {
          if (!pair || !severityOf(pair) || (worst && RANK[worst.pair.severity] <= RANK[pair.severity])) return;
          worst = { pair, with: name, origin };
        };
        for (const other of own.slice(0, i)) {
          const { start, end } = placeOf(other.waste, other.content);
          offer(clashesIn(content, other.content, all)[0], other.content.name, { from: 'here', start, end });
        }
        for (const { brought, groups } of others) {
          const { name, id, date, uri, entry, span } = brought;
          const where = [id, date].filter(Boolean).join(', ');
          offer(clashesIn(content, { name, groups }, all)[0], `${name} (${where})`, {
            from: 'there',
            where,
            uri,
            page: id,
            entry,
            ...span,
          });
        }
        if (worst) yield found(waste, content, worst);
      }
    }
  },
});

/** It is said where the second came to the first; without dates, on both pages. */
const isLater = (there: string | undefined, here: string | undefined): boolean =>
  there !== undefined && here !== undefined && there > here;

const RANK = { danger: 0, warning: 1, caution: 2 } as const;

function found(
  waste: Parameters<typeof placeOf>[0],
  content: Parameters<typeof placeOf>[1] & { readonly name: string },
  { pair, with: other, origin }: { readonly pair: Pair; readonly with: string; readonly origin: Origin },
): Found {
  return {
    span: placeOf(waste, content),
    block: waste.entry.block,
    severity: severityOf(pair)!,
    message: sentences(
      `${content.name} and ${other} are both in "${waste.stream.text}": ${pair.consequence.join(', ')}.`,
      `${pair.happens}.`,
      'Keep them apart.',
      WHO_DECIDES,
    ),
    related: [{ origin, message: `${other} went into "${waste.stream.text}"` }],
  };
}
