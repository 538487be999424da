import type { ProductValue } from '../../compute/values';
import { type Held, held, isHeld, subtract, total, uncertainty } from '../../quantity/held';
import { show } from '../../quantity/show';
import { relatedTo, restsOf } from '../claimed';
import { rule } from '../rule';
import { sentences } from '../wording';

/** Expanded uncertainty, about 95 %. */
const COVERAGE = 2;

export default rule({
  code: 'purified-above-crude',
  family: 'yield',
  severity: 'warning',
  fixable: 'never',
  title: 'There is more after the purification than before',
  why: `A later stage of the same product replaces the earlier one, and purification takes something away. If the later mass is
the larger one, one of the two was misread, a tare is wrong, or material of another run was added.`,
  help: `Look at both weighings. If batches were joined, say so with \`from\` or a \`label\`; if the crude mass is that of a
portion, write it in prose.`,
  examples: [
    {
      name: 'the crude mass is the smaller one',
      wrong: `experiment TB-521: Benzoic acid
date: 2026-03-11
author: MK
product benzoic acid: 2.31 g, crude
product benzoic acid: 3.12 g, recrystallised
        ^^^^^^^^^^^^ purified-above-crude: 2.31 g
`,
      right: `experiment TB-521: Benzoic acid
date: 2026-03-11
author: MK
product benzoic acid: 3.31 g, crude
product benzoic acid: 3.12 g, recrystallised
`,
    },
    {
      name: 'near misses: crops add up, equal within the uncertainty',
      right: `experiment TB-522: Benzoic acid
date: 2026-03-11
author: MK
product benzoic acid: 3.31 g, crude
product benzoic acid: 2.12 g, recrystallised, first crop
product benzoic acid: 1.02 g, recrystallised, second crop

experiment TB-523: Benzoic acid
date: 2026-03-12
author: MK
product benzoic acid: 3.3 g, crude
product benzoic acid: 3.32 g, dried
`,
    },
  ],
  sources: ['Conservation of mass'],
  *check({ values }) {
    const stages = stagesOf(values.products);
    for (const [before, after] of stages) {
      const less = massOf(before);
      const more = massOf(after);
      if (!less || !more) continue;
      const gained = subtract(more, less, { inputs: [] });
      if (gained.value.lte(COVERAGE * uncertainty(gained)) || gained.value.lte(0)) continue;
      const { product } = after.at(-1)!;
      const earlier = before.at(-1)!.product.stage?.text ?? 'before';
      yield {
        span: product.entry.mark,
        block: product.entry.block,
        message: sentences(
          `${show(more)} ${product.stage?.text ?? 'afterwards'}, but ${show(less)} ${earlier}: ${show(gained)} too much.`,
          'Look at both weighings.',
        ),
        related: [...relatedTo(less), ...relatedTo(more)],
        rests: [...restsOf(less), ...restsOf(more)],
      };
    }
  },
});

/** Lines of one stage of one product, beside those of the stage after it. */
function stagesOf(
  products: readonly ProductValue[],
): readonly (readonly [readonly ProductValue[], readonly ProductValue[]])[] {
  const byName = new Map<string, ProductValue[][]>();
  for (const value of products) {
    // A labelled portion is a batch of its own.
    if (value.product.label) continue;
    const stages = byName.get(value.product.name.text) ?? [];
    byName.set(value.product.name.text, stages);
    const open = stages.at(-1);
    if (open && sameStage(open[0]!, value)) open.push(value);
    else stages.push([value]);
  }
  return [...byName.values()].flatMap((stages) => stages.slice(1).map((after, i) => [stages[i]!, after] as const));
}

/** Crops and fractions of one stage; a second line of the same stage without such a word is another weighing of it. */
const sameStage = (a: ProductValue, b: ProductValue): boolean =>
  a.product.stage?.text === b.product.stage?.text && a.product.part !== undefined && b.product.part !== undefined;

function massOf(values: readonly ProductValue[]): Held | undefined {
  const masses = values.flatMap((v) => held(v.mass) ?? []);
  return values.every((v) => isHeld(v.mass)) ? total(masses, 'm') : undefined;
}
