import type { BatchRef, Entry } from '../../model/page';
import { type RuleContext, rule } from '../rule';
import { replaceFix, sentences } from '../wording';

export default rule({
  code: 'reference-unresolved',
  family: 'page',
  severity: 'information',
  fixable: 'sometimes',
  title: 'The page or batch that is cited is not in the notebook',
  why: `\`from TB-011\` takes identity, mass and purity of a batch, or the tare of a vessel, from another page. If no open folder
holds that page, nothing can be taken from it. Only \`from\` in a statement is looked at; prose may mention any page.`,
  help: 'Correct the page ID, or open the folder that holds the page. For a bottle from a supplier write `lot` or `supplier`.',
  examples: [
    {
      name: 'a letter O for a zero',
      wrong: `experiment TB-221: Ester
date: 2026-03-11
author: MK
charge benzoic acid: 2.00 g, from TB-O11
                                  ^^^^^^ reference-unresolved: TB-011
`,
      right: `experiment TB-221: Ester
date: 2026-03-11
author: MK
charge benzoic acid: 2.00 g, from TB-011
`,
      files: {
        'earlier.tare': `experiment TB-011: Benzoic acid
date: 2026-03-02
author: MK
product benzoic acid: 5.12 g, recrystallised
`,
      },
    },
    {
      name: 'near misses: a place, a page in prose',
      right: `experiment TB-222: Ester
date: 2026-03-11
author: MK
reference: see TB-900
charge ethanol: 20.0 mL, from the still, solvent
As on TB-901.
`,
    },
  ],
  sources: ['common practice, no source'],
  *check(context) {
    for (const { ref, entry } of references(context)) {
      const { page, world, text } = context;
      if (page.id?.text === ref.id) continue;
      const pages = world.page(ref.id);
      const made = pages.flatMap((p) => p.products);
      if (pages.length > 0 && (!ref.label || made.length === 0 || made.some((m) => m.label === ref.label))) continue;
      const near = pages.length === 0 ? world.pageIds().find((id) => looks(id) === looks(ref.id)) : undefined;
      const labels = made.flatMap((m) => m.label ?? []);
      yield {
        span: ref.span,
        block: entry.block,
        message:
          pages.length === 0
            ? sentences(
                `No page ${ref.id} is known here.`,
                near ? `Did you mean ${near}?` : 'Nothing is taken from it.',
              )
            : sentences(
                `Page ${ref.id} has no product with the label ${ref.label}.`,
                labels.length > 0 && `It has ${labels.join(', ')}.`,
              ),
        rests: [ref.span],
        ...(near && {
          fixes: [
            replaceFix(
              { start: ref.span.start, end: ref.span.start + ref.id.length },
              text({ start: ref.span.start, end: ref.span.start + ref.id.length }),
              near,
            ),
          ],
        }),
      };
    }
  },
});

/** An ID as it looks: a letter O for a zero, a hyphen more or less. Another number is another page, never a slip. */
const looks = (id: string): string =>
  id
    .toUpperCase()
    .replace(/[-.\s]/g, '')
    .replace(/O/g, '0')
    .replace(/[IL]/g, '1');

function* references({ page, values }: RuleContext): Generator<{ ref: BatchRef; entry: Entry }> {
  for (const { made, entry } of page.substances) if (made && entry) yield { ref: made, entry };
  for (const { batch, entry } of page.charges) if (batch) yield { ref: batch, entry };
  for (const { readings, entry } of values.weighings) {
    for (const { from } of readings) if (from) yield { ref: from, entry };
  }
}
