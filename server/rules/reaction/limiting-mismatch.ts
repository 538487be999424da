import type { Span } from '../../../grammar/tree';
import { carriedKey, coefficient } from '../../compute/reaction';
import type { ChargeValue, ReactionValue, TermValue, Values } from '../../compute/values';
import { materialKey } from '../../model/scope';
import { type Held, held, uncertainty } from '../../quantity/held';
import { show } from '../../quantity/show';
import { addFact } from '../insert';
import { type Fix, type RuleContext, rule } from '../rule';
import { brief, sentences } from '../wording';

/** So close that nobody would call another one limiting. */
const NEGLIGIBLE = 0.01;
/** Expanded uncertainty, about 95 %. */
const COVERAGE = 2;

export default rule({
  code: 'limiting-mismatch',
  family: 'reaction',
  severity: 'warning',
  fixable: 'sometimes',
  title: 'Another reactant runs out before the one that is marked limiting',
  why: `The limiting reactant is the one with the least amount over its coefficient. Theory and yield are worked out from the
one that is marked; if another runs out first, no yield can be right. Nothing is said while the two are within 1 % of each
other or within their uncertainty (twice the combined standard uncertainty).`,
  help: 'Mark the other one, or look for a slip in one of the two amounts or in the equation.',
  examples: [
    {
      name: 'the excess is marked',
      wrong: `experiment TB-431: Ester
date: 2026-03-11
author: MK
reaction R1: benzoic acid + ethanol -> ethyl benzoate + water
charge benzoic acid: 2.44 g
charge ethanol: 20.0 g, limiting
                        ^^^^^^^^ limiting-mismatch: benzoic acid
`,
      right: `experiment TB-431: Ester
date: 2026-03-11
author: MK
reaction R1: benzoic acid + ethanol -> ethyl benzoate + water
charge benzoic acid: 2.44 g, limiting
charge ethanol: 20.0 g
`,
    },
    {
      name: 'the coefficient decides',
      wrong: `experiment TB-432: Ketal
date: 2026-03-11
author: MK
reaction R1: cyclopentanone + 2 methanol -> C7H14O2 + water
charge cyclopentanone: 8.41 g (100 mmol), limiting
                                          ^^^^^^^^ limiting-mismatch: ÷ 2
charge methanol: 5.13 g (160 mmol)
`,
      right: `experiment TB-432: Ketal
date: 2026-03-11
author: MK
reaction R1: cyclopentanone + 2 methanol -> C7H14O2 + water
charge cyclopentanone: 8.41 g (100 mmol)
charge methanol: 5.13 g (160 mmol), limiting
`,
    },
    {
      name: 'near misses: equal within 1 %, an excess, coefficients',
      right: `experiment TB-433: Salt
date: 2026-03-11
author: MK
reaction R1: NaOH + HCl -> NaCl + H2O
charge NaOH: 4.00 g (100.0 mmol), limiting
charge HCl: 99.5 mmol

experiment TB-434: Ketal
date: 2026-03-12
author: MK
reaction R1: cyclopentanone + 2 methanol -> C7H14O2 + water
charge cyclopentanone: 8.41 g
charge methanol: 6.09 g (190 mmol), limiting
`,
    },
  ],
  sources: ['Definition of the limiting reactant; the margins: common practice, no source'],
  *check(context) {
    const { values } = context;
    for (const value of values.reactions) {
      const { limiting, computedLimiting: first } = value;
      const n = first && held(first.charged);
      if (!limiting?.declared || !first || !n || isClose(limiting.amount, limiting.term, n, first)) continue;
      const marked = chargesOf(values, value, limiting.term).find((c) => c.charge.roles.some(isLimiting));
      const role = marked?.charge.roles.find(isLimiting);
      if (!marked || !role) continue;
      yield {
        span: role.span,
        block: marked.charge.entry.block,
        message: sentences(
          `${brief(limiting.term.term.name.text)}, ${share(limiting.amount, limiting.term)}, is marked limiting, but ${brief(first.term.name.text)}, ${share(n, first)}, runs out first.`,
          'Mark that one, or look for a slip in an amount.',
        ),
        rests: [role.span, value.reaction.equation.span],
        fixes: moved(context, value, role.span, first),
      };
    }
  },
});

const isLimiting = ({ role }: { readonly role: string }): boolean => role === 'limiting';

/** `160 mmol ÷ 2` */
function share(amount: Held, { term }: TermValue): string {
  const nu = coefficient(term);
  return nu.eq(1) ? show(amount) : `${show(amount)} ÷ ${term.coefficient.text}`;
}

function isClose(marked: Held, markedTerm: TermValue, first: Held, firstTerm: TermValue): boolean {
  const a = marked.value.div(coefficient(markedTerm.term)).toNumber();
  const b = first.value.div(coefficient(firstTerm.term)).toNumber();
  const relative = (h: Held): number => uncertainty(h) / Math.abs(h.value.toNumber());
  return (a - b) / a <= Math.max(NEGLIGIBLE, COVERAGE * Math.hypot(relative(marked), relative(first)));
}

const chargesOf = (values: Values, { reaction }: ReactionValue, { term }: TermValue): readonly ChargeValue[] => {
  const key = term.name.target && materialKey(term.name.target);
  return values.charges.filter((c) => c.reaction?.reaction === reaction && key !== undefined && carriedKey(c) === key);
};

function moved({ values, source }: RuleContext, value: ReactionValue, role: Span, first: TermValue): readonly Fix[] {
  const to = chargesOf(values, value, first)[0]?.charge;
  if (!to) return [];
  const before = /,\s*$/.exec(source.text.slice(0, role.start));
  if (!before) return [];
  return [
    {
      title: `Mark ${to.name.text} as limiting`,
      edits: [{ span: { start: before.index, end: role.end }, text: '' }, addFact(source, to.entry, 'limiting')],
    },
  ];
}
