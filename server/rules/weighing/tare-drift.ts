import { foldName } from '../../../grammar/names';
import type { Balance, Entry, Reading } from '../../model/page';
import type { TareElsewhere } from '../../model/world';
import { Decimal } from '../../quantity/decimal';
import { exact } from '../../quantity/held';
import { show } from '../../quantity/show';
import { toBase, unitOf } from '../../quantity/units';
import { originOf, weighingOf } from '../entries';
import { type Found, type RuleContext, rule } from '../rule';
import { sentences } from '../wording';

export default rule({
  code: 'tare-drift',
  family: 'weighing',
  severity: 'information',
  fixable: 'never',
  title: 'One vessel, two tares',
  why: `A dry vessel weighs the same from one day to the next, within the repeatability of the balance. A larger difference is a
stirring bar or stopper that was on the balance one time and not the other, residue, or another vessel under the same name.
Two steps of the display, or three times a stated repeatability, are let pass. Beyond a stated repeatability the finding is a
warning. A tare cited from another page must be the one that page records.`,
  help: `Use the tare that was read for this weighing, with the same parts on the vessel. If the vessel is another one, give it
another name.`,
  examples: [
    {
      name: 'a stirring bar',
      wrong: `experiment TB-101: Drift
date: 2026-03-11
author: MK
vessel F-12: 50 mL, tare 41.207 g
product benzoic acid: tare 43.118 g, gross 45.334 g, in F-12
                           ^^^^^^^^ tare-drift: 1.911 g apart
`,
    },
    {
      name: 'a cited tare that the page does not have',
      wrong: `experiment TB-102: Drift
date: 2026-03-11
author: MK
product benzoic acid: tare 27.326 g from HO-305, gross 29.334 g, in beaker 4
                           ^^^^^^^^ tare-drift: 27.236 g
`,
      files: {
        'earlier.tare': `experiment HO-305: Drying the beakers
date: 2026-03-02
author: HO
vessel beaker 4: 100 mL, tare 27.236 g
`,
      },
    },
    {
      name: 'near misses: the last digit, a series to constant mass, another day',
      right: `experiment TB-103: Drift
date: 2026-03-11
author: MK
vessel F-12: 50 mL, tare 41.207 g
vessel C-1: crucible, tare 22.4150 g at 09:10, tare 22.4102 g at 10:15, tare 22.4101 g at 11:20
product benzoic acid: tare 41.208 g, gross 43.334 g, in F-12
`,
      files: {
        'earlier.tare': `experiment TB-099: Earlier
date: 2026-03-02
author: MK
vessel F-12: 50 mL, tare 41.206 g
`,
      },
    },
  ],
  sources: ['common practice, no source'],
  *check(context) {
    const { page, world } = context;
    const last = new Map<string, Tare>();
    for (const tare of taresOf(context)) {
      const cited = tare.reading.from && world.page(tare.reading.from.id)[0]?.tares.filter((t) => t.key === tare.key);
      const source = cited?.[cited.length - 1];
      if (source && tare.reading.from) {
        const there = { ...source, id: tare.reading.from.id, uri: world.page(tare.reading.from.id)[0]!.uri };
        if (!value(tare).eq(valueThere(there))) yield report(context, tare, there, 'warning');
        continue;
      }
      const before = last.get(tare.key);
      last.set(tare.key, tare);
      if (before) {
        const severity = drift(value(tare).minus(value(before)).abs(), [tare, before]);
        if (severity) yield report(context, tare, before, severity);
        continue;
      }
      const date = page.date?.text;
      const there = world
        .tares(tare.key)
        .find((t) => (t.id === undefined && !t.date) || (t.date && date && t.date < date));
      const severity = there && drift(value(tare).minus(valueThere(there)).abs(), [tare]);
      if (there && severity) yield report(context, tare, there, severity);
    }
  },
});

interface Tare {
  readonly key: string;
  readonly name: string;
  readonly reading: Reading;
  readonly entry: Entry;
  readonly balance?: Balance;
}

/** The tares of the page in order; of a series only the last. */
function taresOf({ page, values }: RuleContext): readonly Tare[] {
  const tares: Tare[] = [];
  const add = (entry: Entry, name: string, readings: readonly Reading[]): void => {
    const reading = readings.findLast((r) => r.what === 'tare' && r.datum.quantity.unit?.kind === 'mass');
    const weighing = values.weighings.find((w) => w.entry === entry);
    const balance = weighing?.balance ?? (page.balances.length === 1 ? page.balances[0] : undefined);
    if (reading) tares.push({ key: foldName(name), name, reading, entry, ...(balance && { balance }) });
  };
  for (const vessel of page.vessels) add(vessel.entry, vessel.name, vessel.tares);
  for (const { entry, readings } of values.weighings) {
    if (entry.keyword === 'vessel') continue;
    const name = weighingOf(page, entry)?.vessel?.text ?? page.weighs.find((w) => w.entry === entry)?.vessel?.name;
    if (name) add(entry, name, readings);
  }
  return tares.sort((a, b) => a.reading.datum.span.start - b.reading.datum.span.start);
}

const value = ({ reading }: Tare): Decimal => {
  const { number, unit } = reading.datum.quantity;
  return toBase(number.value, unit ?? unitOf('g'));
};

const valueThere = (tare: TareElsewhere): Decimal => {
  const unit = tare.unit === 'mg' || tare.unit === 'kg' ? unitOf(tare.unit) : unitOf('g');
  return toBase(new Decimal(tare.digits), unit);
};

/** Undefined where the difference may be the balance. */
function drift(difference: Decimal, tares: readonly Tare[]): 'information' | 'warning' | undefined {
  const steps = tares.map(({ reading: { datum } }) =>
    Decimal.pow(10, datum.quantity.number.place).times(datum.quantity.unit?.factor ?? 1),
  );
  const repeatability = tares[0]?.balance?.repeatability?.quantity;
  const known = repeatability?.unit && toBase(repeatability.number.value, repeatability.unit).times(3);
  const quiet = Decimal.max(Decimal.max(...steps).times(2), known ?? 0);
  if (difference.lte(quiet)) return undefined;
  return known ? 'warning' : 'information';
}

function report(
  { text }: RuleContext,
  tare: Tare,
  other: Tare | TareElsewhere,
  severity: 'information' | 'warning',
): Found {
  const here = 'reading' in other;
  const apart = value(tare)
    .minus(here ? value(other) : valueThere(other))
    .abs();
  const written = here ? text(other.reading.datum.span) : `${other.digits} ${other.unit}`;
  const where = here ? 'above' : `on ${[other.id ?? 'the register', other.date].filter(Boolean).join(', ')}`;
  const origin = here ? other.reading.datum.origin : originOf(other);
  return {
    span: tare.reading.datum.span,
    block: tare.entry.block,
    severity,
    message: sentences(
      `The tare of ${tare.name} is ${text(tare.reading.datum.span)} here and ${written} ${where}, ${show(exact('mass', apart))} apart.`,
      tare.reading.from
        ? 'Cite the reading as that page has it.'
        : 'Stirring bar, stopper, residue or another vessel? Use the reading that belongs to this weighing.',
    ),
    related: [{ origin, message: `tare ${written}` }],
    rests: [tare.reading.datum.span],
  };
}
