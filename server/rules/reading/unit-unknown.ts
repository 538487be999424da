import { UNITS, type UnitRow, type UnitSymbol } from '../../../grammar/vocabulary';
import { AMOUNT_STATEMENTS, FACT_KINDS } from '../fits';
import { edits } from '../nearest';
import { rule } from '../rule';
import { quantitiesIn, shift } from '../walk';
import { replaceFix, sentences } from '../wording';

export default rule({
  code: 'unit-unknown',
  family: 'reading',
  severity: 'warning',
  fixable: 'sometimes',
  title: 'The unit is not known',
  why: `A number whose unit is not known cannot be used. Only the word right after a number that opens a fact is looked at,
where an amount or a reading is expected, and only if it is one slip away from a unit or follows a number with decimals: two
portions and three boiling chips are no units and need none.`,
  help: 'Correct the unit. If it is right and yet unknown, write the amount in a unit that is known, and the other as a remark.',
  examples: [
    {
      name: 'a letter too many',
      wrong: `experiment TB-361: Units
date: 2026-03-11
author: MK
charge ethanol: 20.0 mll, solvent
                     ^^^ unit-unknown: mL
`,
      right: `experiment TB-361: Units
date: 2026-03-11
author: MK
charge ethanol: 20.0 mL, solvent
`,
    },
    {
      name: 'near misses: things that are counted',
      right: `experiment TB-362: Counted
date: 2026-03-11
author: MK
charge boiling chips: 3 pieces
charge ethanol: 20.0 mL, 2 portions, solvent
charge silica: 2 lumps of the old batch
product benzoic acid: 5.00 g, 2 crops
`,
    },
  ],
  sources: ['common practice, no source'],
  *check({ source }) {
    for (const { node, index, fact, claim, statement, block, at } of quantitiesIn(source)) {
      if (node.unit || index > 0 || claim || node.number.defect === 'malformed') continue;
      const expected = fact.key ? FACT_KINDS[fact.key] !== undefined : AMOUNT_STATEMENTS.has(statement.keyword);
      const word = fact.parts[1];
      if (!expected || word?.kind !== 'word' || ORDINARY.has(word.text)) continue;
      const meant = nearestUnit(word.text);
      const measured =
        node.number.text.includes('.') && fact.parts.length === 2 && /^[a-zµμ][\w/µμ·⁻¹²³-]*$/.test(word.text);
      if (!meant && !measured) continue;
      const span = shift(word.span, at);
      yield {
        span,
        block,
        message: sentences(
          `${node.number.text} ${word.text}: "${word.text}" is no unit that is known, so the number is not used.`,
          meant ? `Did you mean ${meant}?` : 'Write the amount in a known unit.',
        ),
        doubts: [shift(node.span, at)],
        ...(meant && { fixes: [replaceFix(span, word.text, meant)] }),
      };
    }
  },
});

/** The units of amounts that people type every day, and every spelling of an amount. */
const COMMON: readonly UnitSymbol[] = [
  'mL',
  'µL',
  'mg',
  'kg',
  'mmol',
  'µmol',
  'mol',
  'equiv',
  'drops',
  'mol%',
  'g/mL',
  'g/mol',
];
const AMOUNTS = (Object.keys(UNITS) as UnitSymbol[]).filter((symbol) => (UNITS[symbol] as UnitRow).amount);

const SPELT_OUT: readonly (readonly [string, UnitSymbol])[] = [
  ['gram', 'g'],
  ['grams', 'g'],
  ['gms', 'g'],
  ['litre', 'L'],
  ['litres', 'L'],
  ['liters', 'L'],
  ['moles', 'mol'],
];

/** Words as near to a unit as a slip. */
const ORDINARY: ReadonlySet<string> = new Set([
  'crops',
  'props',
  'all',
  'mug',
  'keg',
  'peg',
  'my',
  'me',
  'mold',
  'mole',
  'moll',
]);

function nearestUnit(word: string): UnitSymbol | undefined {
  const lower = word.toLowerCase();
  const same = AMOUNTS.find((symbol) => symbol.toLowerCase() === lower);
  if (same || lower.length < 2) return same;
  const near = COMMON.find(
    (symbol) => (symbol.length > 2 || lower.length > 2) && edits(lower, symbol.toLowerCase()) === 1,
  );
  return near ?? SPELT_OUT.find(([word]) => edits(lower, word) === 1)?.[1];
}
