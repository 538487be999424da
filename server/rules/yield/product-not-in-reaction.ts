import { foldName } from '../../../grammar/names';
import { carriedKey } from '../../compute/reaction';
import { materialKey } from '../../model/scope';
import { nearest } from '../nearest';
import { rule } from '../rule';
import { replaceFix, sentences } from '../wording';

export default rule({
  code: 'product-not-in-reaction',
  family: 'yield',
  severity: 'hint',
  fixable: 'sometimes',
  title: 'The product is in no equation of the page',
  why: `Theory and yield come from an equation that makes the product. A page without any equation is not looked at, nor is one
whose equation leaves by-products open.`,
  help: 'Write the name as the equation has it, or declare one as another name of the other: `also NAME`.',
  examples: [
    {
      name: 'another spelling than in the equation',
      wrong: `experiment TB-531: Ester
date: 2026-03-11
author: MK
substance ester 4a: C9H10O2
substance ester 4b: C9H10O2
reaction R1: benzoic acid + ethanol -> ester 4a + water
charge benzoic acid: 2.44 g
charge ethanol: 20 mL
product ester 4b: 2.50 g
        ^^^^^^^^ product-not-in-reaction: R1
`,
      right: `experiment TB-531: Ester
date: 2026-03-11
author: MK
substance ester 4a: C9H10O2
substance ester 4b: C9H10O2
reaction R1: benzoic acid + ethanol -> ester 4a + water
charge benzoic acid: 2.44 g
charge ethanol: 20 mL
product ester 4a: 2.50 g
`,
    },
    {
      name: 'near misses: no equation, a product named by its formula, a by-product that was left open',
      right: `experiment TB-532: Recrystallisation
date: 2026-03-11
author: MK
product benzoic acid: 2.50 g

experiment TB-533: Ester
date: 2026-03-12
author: MK
reaction R1: NaCl + AgNO3 -> silver chloride + NaNO3
reaction R2: benzoic acid + ethanol -> ethyl benzoate + ...
product AgCl: 2.50 g
product benzil: 0.02 g
`,
    },
  ],
  sources: ['common practice, no source'],
  *check({ values, text }) {
    const right = values.reactions.flatMap((r) => r.right);
    if (right.length === 0 || right.some(({ term }) => term.rest)) return;
    const started = new Set(
      values.reactions.flatMap((r) =>
        r.left.flatMap(({ term }) => (term.name.target ? [materialKey(term.name.target)] : [])),
      ),
    );
    for (const value of values.products) {
      const { product, reaction } = value;
      const key = carriedKey(value);
      if (reaction || (key !== undefined && started.has(key))) continue;
      const written = text(product.name.span);
      const names = new Map(right.map(({ term }) => [foldName(term.name.text), term.name.text]));
      const meant = names.get(nearest(foldName(written), names.keys()) ?? '');
      yield {
        span: product.entry.mark,
        block: product.entry.block,
        message: sentences(
          `${product.name.text} is not made in ${values.reactions.map((r) => r.reaction.id).join(', ')}: no theory, no yield.`,
          meant && `Did you mean ${meant}?`,
        ),
        rests: [product.name.span],
        fixes:
          meant && product.name.span.start === product.entry.mark.start
            ? [replaceFix(product.name.span, written, meant)]
            : [],
      };
    }
  },
});
