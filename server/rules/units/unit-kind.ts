import type { FactKey } from '../../../grammar/vocabulary';
import type { Page } from '../../model/page';
import type { Kind } from '../../quantity/kinds';
import { unitOf } from '../../quantity/units';
import { ownerAt } from '../entries';
import { AMOUNT_STATEMENTS, FACT_KINDS, KIND_WORDS } from '../fits';
import { rule } from '../rule';
import { type PlacedQuantity, quantitiesIn, shift } from '../walk';
import { sentences } from '../wording';

export default rule({
  code: 'unit-kind',
  family: 'units',
  severity: 'error',
  fixable: 'never',
  title: 'The unit is of another kind than the fact needs',
  why: `A balance shows a mass, a density is a mass per volume, a purity is a share. A number in a unit of another kind is a slip
of the keyboard (\`m\` for \`mL\`) or stands in the wrong place, and cannot be used.`,
  help: 'Correct the unit, or move the number to the fact it belongs to.',
  examples: [
    {
      name: 'a volume on a balance, a density in grams, metres of alcohol',
      wrong: `experiment TB-411: Kinds
date: 2026-03-11
author: MK
substance ethanol: C2H6O, density 0.789 g
                                  ^^^^^^^ unit-kind: a mass
weigh sodium chloride: tare 12.345 g, gross 14.561 mL
                                            ^^^^^^^^^ unit-kind: a volume
charge ethanol: 15.0 m
                ^^^^^^ unit-kind: a length
`,
      right: `experiment TB-411: Kinds
date: 2026-03-11
author: MK
substance ethanol: C2H6O, density 0.789 g/mL
weigh sodium chloride: tare 12.345 g, gross 14.561 g
charge ethanol: 15.0 mL
`,
    },
    {
      name: 'near misses: times and temperatures in remarks, gas by pressure, strength before volume',
      right: `experiment TB-412: Kinds
date: 2026-03-11
author: MK
substance water gas: state gas, density 0.598 g/L
charge hydrogen: 1 atm, atmosphere
charge sand: 1 cm layer, additive
charge light: 24 h
charge molecular sieves: 4 Å, 2 g, drying agent
sample S-1: 5 min, for TLC
charge ethanol: 15.0 mL, 20 °C, 5 min, after 10 min
charge hydrochloric acid: 2.0 M, 15 mL, quench
product benzoic acid: 2.00 g, before 2 h in the oven, 3 cm needles
`,
    },
  ],
  sources: ['common practice, no source'],
  *check({ page, source, text }) {
    for (const placed of quantitiesIn(source)) {
      const { node, index, fact, claim, statement, block, at } = placed;
      if (!node.unit || claim || index > 0) continue;
      const { kind } = unitOf(node.unit.symbol);
      const wrong = fact.key ? isWrongFact(fact.key, kind, placed) : isWrongAmount(kind, placed, page);
      if (!wrong) continue;
      const span = shift(node.span, at);
      const needed = fact.key
        ? `${fact.key} needs ${KIND_WORDS[FACT_KINDS[fact.key]![0]!]}`
        : statement.keyword === 'weigh'
          ? 'weigh needs a mass'
          : statement.keyword === 'solution'
            ? 'solution needs a strength or what went in'
            : `${statement.keyword} needs a mass, a volume or an amount`;
      yield {
        span,
        block,
        message: sentences(
          `${text(span)} is ${KIND_WORDS[kind] ?? 'of another kind'}; ${needed}.`,
          'Correct the unit.',
        ),
        doubts: [span],
      };
    }
  },
});

/** `after 10 min`, `before 2 h`: a time after a word for readings begins a remark. */
const REMARK_KINDS: ReadonlySet<Kind> = new Set<Kind>(['time', 'temperature']);
const REMARK_KEYS: ReadonlySet<FactKey> = new Set<FactKey>(['before', 'after', 'residue']);

function isWrongFact(key: FactKey, kind: Kind, { node, fact, index }: PlacedQuantity): boolean {
  const kinds = FACT_KINDS[key];
  if (!kinds || kinds.includes(kind)) return false;
  if (REMARK_KEYS.has(key) && (REMARK_KINDS.has(kind) || fact.parts.length > index + 1)) return false;
  // A relative mass is a molar mass to whoever writes Da.
  return !(key === 'molar mass' && (node.unit?.symbol === 'Da' || node.unit?.symbol === 'kDa'));
}

/** Kinds that no amount has; a gas may be charged by its pressure. */
const NEVER_AMOUNT: ReadonlySet<Kind> = new Set<Kind>(['time', 'temperature', 'angle', 'energy']);

/**
 * `1 cm layer` says how it was put in: only a number that stands alone can be an amount in a wrong unit. A time may be
 * how long (`charge light: 24 h`, `sample S-1: 5 min`) unless a material is charged; a length may be that of a wire or a
 * pore (`4 Å`), but a metre is always a slip.
 */
function isWrongAmount(kind: Kind, { statement, fact, block, node }: PlacedQuantity, page: Page): boolean {
  const { keyword, body } = statement;
  if (body.kind !== 'facts' || body.legs[0]?.facts[0] !== fact || fact.parts[1]?.kind === 'word') return false;
  if (!AMOUNT_STATEMENTS.has(keyword) && keyword !== 'solution') return false;
  if (kind === 'length') return node.unit?.symbol === 'm';
  if (!NEVER_AMOUNT.has(kind) && !(keyword === 'weigh' && kind === 'volume')) return false;
  return ownerAt(page, block)?.name.target !== undefined;
}
