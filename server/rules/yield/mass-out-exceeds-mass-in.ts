import { carriedKey } from '../../compute/reaction';
import { held, isHeld, subtract, total, uncertainty } from '../../quantity/held';
import { show } from '../../quantity/show';
import { relatedTo, restsOf } from '../claimed';
import { rule } from '../rule';
import { sentences } from '../wording';

/** Expanded uncertainty, about 95 %. */
const COVERAGE = 2;

export default rule({
  code: 'mass-out-exceeds-mass-in',
  family: 'yield',
  severity: 'warning',
  fixable: 'never',
  title: 'More comes out than went in',
  why: `Product and recovered material together cannot weigh more than all that was charged. Only looked at when every charge has
a mass and every reactant of the equations is charged: oxygen of the air or water of the work-up may add mass. Where the
yield itself is above 100 %, that is said instead. On a page without an equation only what is purified is looked at.`,
  help: 'Look at the weighings of what came out, and for something that was charged and not written down.',
  examples: [
    {
      name: 'product and recovered material together',
      wrong: `experiment TB-541: Elimination
date: 2026-03-11
author: MK
reaction R1: cyclohexanol -> cyclohexene + H2O
charge cyclohexanol: 2.05 g
product cyclohexene: 1.28 g, distilled
        ^^^^^^^^^^^ mass-out-exceeds-mass-in: 2.05 g
recovered cyclohexanol: 1.40 g
`,
      right: `experiment TB-541: Elimination
date: 2026-03-11
author: MK
reaction R1: cyclohexanol -> cyclohexene + H2O
charge cyclohexanol: 2.05 g
product cyclohexene: 1.28 g, distilled
recovered cyclohexanol: 0.40 g
`,
    },
    {
      name: 'near misses: a reactant in excess, oxygen of the air',
      right: `experiment TB-542: Hydration
date: 2026-03-11
author: MK
reaction R1: cyclohexene + H2O -> cyclohexanol
charge cyclohexene: 2.05 g
charge H2O: excess
product cyclohexanol: 2.40 g, distilled

experiment TB-543: Oxide
date: 2026-03-12
author: MK
reaction R1: 2 Mg + O2 -> 2 MgO
charge Mg: 1.00 g
product MgO: 1.55 g
`,
    },
  ],
  sources: ['Conservation of mass'],
  *check({ values }) {
    const { charges, reactions } = values;
    const out = [...values.products.filter((p) => !p.superseded), ...values.recovered];
    const first = values.products.find((p) => !p.superseded);
    if (
      charges.length === 0 ||
      !first ||
      charges.some((c) => c.unlimited) ||
      [...charges, ...out].some((v) => !isHeld(v.mass))
    )
      return;
    // Without an equation only what goes in comes out again: nothing says what else took part.
    const keys = new Set(charges.map(carriedKey));
    if (reactions.length === 0 && out.some((v) => !keys.has(carriedKey(v)))) return;
    if (reactions.some((r) => r.left.some((t) => t.term.rest || (!t.carried && !isHeld(t.charged))))) return;
    if (values.products.some((p) => (p.stageYield ?? held(p.yield))?.value.gt(1))) return;
    const masses = (list: readonly (typeof out)[number][] | typeof charges) =>
      total(
        list.flatMap((v) => held(v.mass) ?? []),
        'm',
      )!;
    const [put, got] = [masses(charges), masses(out)];
    const gained = subtract(got, put, { inputs: [] });
    if (gained.value.lte(0) || gained.value.lte(COVERAGE * uncertainty(gained))) return;
    yield {
      span: first.product.entry.mark,
      block: first.product.entry.block,
      message: sentences(
        `${show(got)} came out, but only ${show(put)} went in.`,
        'Look at the weighings, and for something that was charged and not written down.',
      ),
      related: [...relatedTo(got), ...relatedTo(put)],
      rests: [...restsOf(got), ...restsOf(put)],
    };
  },
});
