import type { PageSource, Span } from '../../../grammar/tree';
import type { UnitSymbol } from '../../../grammar/vocabulary';
import type { ChargeValue } from '../../compute/values';
import { agree } from '../../quantity/agree';
import { type Held, held } from '../../quantity/held';
import { toBase, unitOf } from '../../quantity/units';
import type { Quantity } from '../../quantity/written';
import { quantityOf } from '../claimed';
import { isBeside } from '../names';
import { rule } from '../rule';
import { sentences } from '../wording';

export default rule({
  code: 'log-disagrees',
  family: 'claims',
  severity: 'hint',
  fixable: 'never',
  title: 'The log has another quantity than the charge line',
  why: `The log says how much of a substance went in, and the \`charge\` line says something else. Prose is hard to read for a
machine, so this is only looked at on a signed page, for a substance that has one charge line and one quantity of that kind
right beside its name in the log. A smaller quantity is taken for a portion, unless it has the same digits.`,
  help: 'See which of the two was typed wrongly. On a signed page say it with `amend`.',
  examples: [
    {
      name: 'two digits swapped between log and charge',
      wrong: `experiment TB-361: Ester
date: 2026-03-11
author: MK
charge benzoic acid: 12.4 g
charge ethanol: 50 mL
09:40 Put 14.2 g of benzoic acid into the flask.
          ^^^^^^ log-disagrees: 12.4 g
signed: MK, 2026-03-11 17:20
`,
      right: `experiment TB-361: Ester
date: 2026-03-11
author: MK
charge benzoic acid: 12.4 g
charge ethanol: 50 mL
09:40 Put 12.4 g of benzoic acid into the flask.
signed: MK, 2026-03-11 17:20
`,
    },
    {
      name: 'near misses: a portion, the same in other units, not signed yet, a rinse',
      right: `experiment TB-362: Ester
date: 2026-03-11
author: MK
charge benzoic acid: 12.4 g
charge acetic anhydride: 25 mL
charge ethanol: 50 mL, solvent
09:40 Put 12400 mg of benzoic acid into the flask; 5 mL acetic anhydride at once, the rest dropwise.
09:55 Rinsed with 100 mL ethanol.
signed: MK, 2026-03-11 17:20

experiment TB-363: Ester
date: 2026-03-12
author: MK
charge benzoic acid: 12.4 g
09:40 Put 14.2 g of benzoic acid into the flask.
`,
    },
  ],
  sources: ['common practice, no source'],
  *check({ page, values, source }) {
    if (!page.signed) return;
    for (const value of values.charges) {
      const { charge } = value;
      if (isBeside(charge) || values.charges.some((c) => c !== value && c.charge.name.text === charge.name.text))
        continue;
      const put = measured(value);
      if (!put) continue;
      const said = mentions(source, charge.name.text, put.kind);
      const [only] = said;
      if (!only || said.length > 1 || agree(only.quantity, put) !== 'no' || isPortion(only.quantity, put)) continue;
      const written = charge.amount.quantities[0]!;
      yield {
        span: only.span,
        block: only.block,
        message: sentences(
          `The log has ${only.text} of ${charge.name.text}, the charge line ${written.quantity.number.text} ${written.quantity.unit?.symbol}.`,
          'One of the two was typed wrongly.',
        ),
        slip: 'log-differs',
        related: [{ origin: written.origin, message: 'the charge line' }],
        rests: [written.span],
      };
    }
  },
});

/** The one mass or volume that the line gives. */
function measured({ charge, mass, volume }: ChargeValue): Held | undefined {
  const { quantities, weighing } = charge.amount;
  const [only] = quantities;
  if (!only || quantities.length > 1 || weighing.readings.length > 0) return undefined;
  const { unit, about, count, to } = only.quantity;
  if (about || count || to) return undefined;
  return unit?.kind === 'mass' ? held(mass) : unit?.kind === 'volume' ? held(volume) : undefined;
}

interface Mention {
  readonly text: string;
  readonly quantity: Quantity;
  readonly span: Span;
  readonly block: number;
}

const UNITS: Readonly<Record<string, readonly UnitSymbol[]>> = {
  mass: ['kg', 'g', 'mg', 'µg'],
  volume: ['L', 'mL', 'µL'],
};

/** Quantities right beside the name in the log: `14.2 g of benzoic acid`, `benzoic acid (14.2 g)`. */
function mentions({ blocks }: PageSource, name: string, kind: string): readonly Mention[] {
  const words = name.replace(/[.*+?^$(){}|[\]\\]/g, '\\$&').replace(/\s+/g, '\\s+');
  const number = `(?<![\\d.,×]\\s?)(\\d+(?:\\.\\d+)?)\\s?(${UNITS[kind]?.join('|')})(?![\\p{L}\\d/])`;
  const beside = new RegExp(
    `${number}\\s+(?:of\\s+)?(?:the\\s+)?${words}(?![\\p{L}\\d-])|(?<![\\p{L}\\d-])${words}\\s*[(,:]?\\s*${number}`,
    'giu',
  );
  return blocks.flatMap(({ block, at }, index) =>
    block.kind !== 'log' || block.statement
      ? []
      : [...block.text.matchAll(beside)].flatMap((found): Mention[] => {
          const [digits, unit] = found[1] === undefined ? [found[3]!, found[4]!] : [found[1], found[2]!];
          // Names compare without regard to case, units do not.
          if (!UNITS[kind]!.includes(unit as UnitSymbol)) return [];
          // The number stands first or last, and the name may hold digits, too.
          const from = found.index + (found[1] === undefined ? found[0].lastIndexOf(digits) : 0);
          const text = block.text.slice(from, block.text.indexOf(unit, from + digits.length) + unit.length);
          const start = at + from;
          return [
            {
              text,
              quantity: quantityOf(digits, unitOf(unit as UnitSymbol)),
              span: { start, end: start + text.length },
              block: index,
            },
          ];
        }),
  );
}

/** Less than what was charged, and not the same digits in another order. */
function isPortion({ number, unit }: Quantity, put: Held): boolean {
  const said = toBase(number.value, unit!);
  const digits = (text: string): string => [...text.replace(/\D/g, '').replace(/^0+|0+$/g, '')].sort().join('');
  return said.lt(put.value) && digits(said.toString()) !== digits(put.value.toString());
}
