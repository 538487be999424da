import type { FactKey } from '../../../grammar/vocabulary';
import { ownerAt } from '../entries';
import { AMOUNT_STATEMENTS, FACT_KINDS, KIND_WORDS } from '../fits';
import { type RuleContext, rule } from '../rule';
import { type PlacedQuantity, quantitiesIn, shift } from '../walk';
import { sentences } from '../wording';

export default rule({
  code: 'unit-missing',
  family: 'units',
  severity: 'error',
  fixable: 'never',
  title: 'The number has no unit',
  why: `A reading without a unit cannot be used: grams and milligrams differ by a thousand. The tool does not guess one; where the
trade leaves the unit out (density, molar mass, mp, bp) the finding is a warning. A bare
number is right where something is counted (boiling chips: 3) or has no unit (a refractive index, a pKa).`,
  help: 'Write the unit that the display or the label showed.',
  examples: [
    {
      name: 'a reading, an amount and a density',
      wrong: `experiment TB-401: Units
date: 2026-03-11
author: MK
substance ethanol: C2H6O, density 0.789
                                  ^^^^^ unit-missing: density
weigh sodium chloride: tare 12.345, gross 14.561 g
                            ^^^^^^ unit-missing: a mass
charge sodium chloride: 2.216
                        ^^^^^ unit-missing
`,
      right: `experiment TB-401: Units
date: 2026-03-11
author: MK
substance ethanol: C2H6O, density 0.789 g/mL
weigh sodium chloride: tare 12.345 g, gross 14.561 g
charge sodium chloride: 2.216 g
`,
    },
    {
      name: 'near misses: counted things, numbers without a unit, a range with one unit',
      right: `experiment TB-402: No units
date: 2026-03-11
author: MK
substance benzoic acid: C7H6O2, pKa 4.20, purity 99.5 %
charge boiling chips: 3
charge benzoic acid: 2 × 1.25 g, 2 portions
product benzoic acid: 2.00 g, mp 121–123 °C, fractions 4–7, dr 12:1
measure benzoic acid: Rf 0.42 in ethyl acetate
`,
    },
  ],
  sources: ['SI Brochure, 9th edition, section 5.4: a value is a number and a unit (from memory)'],
  *check(context) {
    for (const placed of quantitiesIn(context.source)) {
      const { node, index, fact, claim, block, at, statement } = placed;
      if (node.unit || claim || index > 0 || node.number.defect === 'malformed') continue;
      // A word after the number: a unit that is not known, or something counted.
      if (fact.parts[index + 1]?.kind === 'word') continue;
      const expected = fact.key ? needsUnit(fact.key, placed) : isAmount(context, placed);
      if (!expected) continue;
      const span = shift(node.span, at);
      const needed = fact.key
        ? `${fact.key} needs ${KIND_WORDS[FACT_KINDS[fact.key]![0]!]}`
        : `${statement.keyword} needs a mass, a volume or an amount`;
      yield {
        span,
        block,
        ...(fact.key && UNDERSTOOD.has(fact.key) && { severity: 'warning' as const }),
        message: isGroup(placed)
          ? sentences(
              `${context.text({ start: span.start, end: at + fact.parts[1]!.span.end })} is read as two numbers, the first without a unit.`,
              'Write a large number without the blank, or with a thin space.',
            )
          : sentences(`${context.text(span)} has no unit; ${needed}.`, 'Write the unit that was read.'),
        doubts: [span],
      };
    }
  },
});

/** The trade leaves these units out, and hardly anybody takes them for others: not used, but no contradiction. */
const UNDERSTOOD: ReadonlySet<FactKey> = new Set<FactKey>(['density', 'molar mass', 'mp', 'bp']);

/** Words whose number always has a unit; after others a bare number may be a count or a share. */
const ALWAYS: ReadonlySet<FactKey> = new Set<FactKey>([
  ...([
    'tare',
    'gross',
    'net',
    'readability',
    'repeatability',
    'capacity',
    'minimum',
    'density',
    'molar mass',
  ] as const),
  ...(['mp', 'bp', 'made up to', 'titre', 'burette', 'spot', 'front'] as const),
]);

/** A reading before or after dispensing is one if the other stands there, too; else `after 2` may be a remark. */
const PAIRS: { readonly [K in FactKey]?: FactKey } = { before: 'after', after: 'before' };

function needsUnit(key: FactKey, { statement }: PlacedQuantity): boolean {
  const pair = PAIRS[key];
  if (!pair) return ALWAYS.has(key);
  return (
    statement.body.kind === 'facts' && statement.body.legs.some((leg) => leg.facts.some((fact) => fact.key === pair))
  );
}

/** A bare number as the amount of a known material; of an unknown one only with decimals, because things are counted whole. */
function isAmount({ page }: RuleContext, { statement, fact, block, node }: PlacedQuantity): boolean {
  if (!AMOUNT_STATEMENTS.has(statement.keyword) || statement.keyword === 'plan' || statement.keyword === 'sample')
    return false;
  if (statement.body.kind !== 'facts' || statement.body.legs[0]?.facts[0] !== fact) return false;
  return ownerAt(page, block)?.name.target !== undefined || /[.,e]/.test(node.number.text);
}

/** `12 500 mg`: a blank between groups of digits. */
function isGroup({ node, fact }: PlacedQuantity): boolean {
  const next = fact.parts[1];
  return next?.kind === 'quantity' && /^\d{1,3}$/.test(node.number.text) && /^\d{3}(?!\d)/.test(next.number.text);
}
