import type { PageSource, Span } from '../../../grammar/tree';
import type { Balancing, ReactionValue, TermValue, TheoreticalValue, Values } from '../../compute/values';
import { Decimal } from '../../quantity/decimal';
import { held, isHeld } from '../../quantity/held';
import { type Fix, rule } from '../rule';
import { sentences } from '../wording';

type Unbalanced = Extract<Balancing, { readonly kind: 'unbalanced' }>;

export default rule({
  code: 'equation-unbalanced',
  family: 'reaction',
  severity: 'warning',
  fixable: 'sometimes',
  title: 'The equation is not balanced',
  why: `Limiting reactant, theory and yield follow from the coefficients. An equation whose two sides do not hold the same
atoms and the same charge has a wrong coefficient, a wrong formula, or leaves something out. An error only where the right
coefficients would change a yield on the page. An equation that ends in \`...\` says that by-products are not written and is
not looked at, nor is one with a substance whose formula is not known.`,
  help: `Write the coefficients, or \`+ ...\` at the end if by-products are left out on purpose. If no coefficients can balance
it, look at the formulas.`,
  examples: [
    {
      name: 'coefficients left out',
      wrong: `experiment TB-401: Nitrogen pentoxide
date: 2026-03-11
author: MK
reaction R1: N2 + O2 -> N2O5
             ^^^^^^^^^^^^^^^ equation-unbalanced: O 2 left, 5 right
`,
      right: `experiment TB-401: Nitrogen pentoxide
date: 2026-03-11
author: MK
reaction R1: 2 N2 + 5 O2 -> 2 N2O5
`,
    },
    {
      name: 'a by-product left out',
      wrong: `experiment TB-402: Ester
date: 2026-03-11
author: MK
reaction R1: benzoic acid + ethanol -> ethyl benzoate
             ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ equation-unbalanced: H 12 left, 10 right; O 3 left, 2 right
`,
      fixed: `experiment TB-402: Ester
date: 2026-03-11
author: MK
reaction R1: benzoic acid + ethanol -> ethyl benzoate + ...
`,
      right: `experiment TB-402: Ester
date: 2026-03-11
author: MK
reaction R1: benzoic acid + ethanol -> ethyl benzoate + water
`,
    },
    {
      name: 'the right coefficients change the yield',
      wrong: `experiment TB-404: Ketal
date: 2026-03-11
author: MK
reaction R1: cyclopentanone + methanol -> C7H14O2 + water
             ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ equation-unbalanced: It changes the yield.
charge cyclopentanone: 8.41 g
charge methanol: 5.13 g
product C7H14O2: 8.0 g, distilled
`,
      right: `experiment TB-404: Ketal
date: 2026-03-11
author: MK
reaction R1: cyclopentanone + 2 methanol -> C7H14O2 + water
charge cyclopentanone: 8.41 g
charge methanol: 5.13 g
product C7H14O2: 8.0 g, distilled
`,
    },
    {
      name: 'near misses: by-products left open, halves, ions, a name without a formula',
      right: `experiment TB-403: Equations
date: 2026-03-11
author: MK
reaction R1: benzoic acid + ethanol -> ethyl benzoate + ...
reaction R2: H2 + 1/2 O2 -> H2O
reaction R3: Cr2O7^2- + 14 H^+ + 6 Fe^2+ -> 2 Cr^3+ + 6 Fe^3+ + 7 H2O
reaction R4: compound 5 + ethanol -> compound 6
`,
    },
  ],
  sources: ['Conservation of atoms and of charge; the coefficients are solved for exactly'],
  *check({ values, source, found }) {
    for (const value of values.reactions) {
      const { balancing, reaction } = value;
      if (balancing.kind !== 'unbalanced') continue;
      // With the charges that were meant it may well be balanced.
      if (found.some((f) => f.code === 'charge-notation' && f.block === reaction.entry.block)) continue;
      const changesYield = !isFarFetched(value) && yieldChanges(value, values);
      const span = firstLine(source, reaction.equation.span);
      yield {
        span,
        block: reaction.entry.block,
        ...(changesYield && { severity: 'error' as const }),
        message: sentences(
          `Not balanced: ${differences(balancing)}.`,
          changesYield && 'It changes the yield.',
          isFarFetched(value) ? FAR_FETCHED : advice(balancing),
        ),
        // What follows from wrong coefficients is not to be blamed for it.
        ...(changesYield && { doubts: [reaction.equation.span] }),
        fixes: isFarFetched(value) ? [] : fixes(balancing, reaction.equation.span),
      };
    }
  },
});

/** Larger ones are rarely an equation, mostly what is left when a formula is wrong. */
const LARGEST = 30;
const FAR_FETCHED = 'Only large coefficients would balance it: a formula is likely wrong, or something is left out.';

const isFarFetched = ({ coefficients }: ReactionValue): boolean =>
  coefficients !== null && [...coefficients.values()].some((c) => Number(c) > LARGEST);

const MOST_DIFFERENCES = 4;

function differences({ differences: all }: Unbalanced): string {
  const said = all.slice(0, MOST_DIFFERENCES).map(({ what, left, right }) => `${what} ${left} left, ${right} right`);
  return said.join('; ') + (all.length > MOST_DIFFERENCES ? ' and more' : '');
}

function advice({ solution, equation }: Unbalanced): string {
  switch (solution) {
    case 'one':
      return `Balanced: ${equation}.`;
    case 'several':
      return 'Several sets of coefficients balance it: it is more than one reaction.';
    case 'none':
      return 'No coefficients balance it: a formula is wrong, or something is left out.';
  }
}

function fixes({ solution, equation, differences: all }: Unbalanced, span: Span): readonly Fix[] {
  if (solution === 'one' && equation) {
    return [{ title: `Balance: ${equation}`, edits: [{ span, text: equation }], preferred: true }];
  }
  // Something is only missing on the right: by-products that may stay unwritten.
  const lacking = all.every(({ what, left, right }) => what !== 'charge' && Number(left) > Number(right));
  return lacking && solution === 'none'
    ? [
        {
          title: 'Say that by-products are not written: + ...',
          edits: [{ span: { start: span.end, end: span.end }, text: ' + ...' }],
        },
      ]
    : [];
}

/** With the right coefficients theory would be another one: by their ratio, or because another reactant runs out first. */
function yieldChanges({ reaction, coefficients, limiting, left }: ReactionValue, { products }: Values): boolean {
  if (!coefficients || !limiting) return false;
  const balanced = ({ term }: TermValue | TheoreticalValue): Decimal =>
    new Decimal(coefficients.get(term.name.text) ?? 1);
  const extent = (term: TermValue): Decimal | undefined => {
    const n = held(term.charged);
    return n && !term.unlimited ? n.value.div(balanced(term)) : undefined;
  };
  const extents = limiting.declared ? [extent(limiting.term)] : left.map(extent);
  const least = Decimal.min(...extents.filter((x) => x !== undefined));
  return products.some(({ reaction: own, theory, yield: shown }) => {
    const n = theory && held(theory.amount);
    if (own?.reaction !== reaction || !theory || !n || !isHeld(shown)) return false;
    return least.times(balanced(theory)).minus(n.value).abs().gt(n.value.times(SAME));
  });
}

const SAME = '1e-9';

function firstLine({ text }: PageSource, span: Span): Span {
  const end = text.slice(span.start, span.end).search(/\s*[\r\n]/);
  return end < 0 ? span : { start: span.start, end: span.start + end };
}
