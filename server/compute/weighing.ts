/** Net masses: plain subtraction of readings, as decimals. */
import { foldName } from '../../grammar/names';
import type { Balance, Entry, Page, Reading, Vessel, WeighingFacts } from '../model/page';
import { add, type Held, type Result, subtract, unknown } from '../quantity/held';
import type { Readings } from './readings';
import { seriesOf } from './series';
import type { WeighingValue } from './values';

/** A tare of a vessel recorded somewhere on the page, in the order of the text. */
interface TareHere {
  readonly key: string;
  readonly reading: Reading;
  readonly block: number;
  readonly balance?: Balance;
}

export interface Tares {
  /** The tare that holds for a weighing at a block: the last one before it, else the first after it, else a register's. */
  find(key: string, block: number): { readonly reading: Reading; readonly balance?: Balance } | undefined;
}

export function collectTares(page: Page): Tares {
  const tares: TareHere[] = [];
  const enter = (key: string, readings: readonly Reading[], block: number, balance?: Balance): void => {
    // Of a series the last counts: later ones stand behind.
    for (const reading of readings)
      if (reading.what === 'tare') tares.push({ key, reading, block, ...(balance && { balance }) });
  };
  for (const vessel of page.vessels) enter(vessel.key, vessel.tares, vessel.entry.block);
  for (const owner of [...page.weighs, ...page.charges, ...page.products, ...page.recovered]) {
    const { weighing } = owner.amount;
    const key = ('vessel' in owner ? owner.vessel?.key : undefined) ?? vesselKey(weighing);
    if (key) enter(key, weighing.readings, owner.entry.block, weighing.balance?.target);
  }
  tares.sort((a, b) => a.block - b.block);
  return {
    find(key, block) {
      const own = tares.filter((tare) => tare.key === key);
      return own.findLast((tare) => tare.block <= block) ?? own[0];
    },
  };
}

/** Of a vessel that is written, declared or not. */
const vesselKey = ({ vessel }: WeighingFacts): string | undefined =>
  vessel && (vessel.target?.key ?? foldName(vessel.text));

export interface WeighingOwner {
  readonly entry: Entry;
  readonly subject: string;
  /** A weighing of this vessel itself. */
  readonly vessel?: Vessel;
}

export function weigh(
  facts: WeighingFacts,
  owner: WeighingOwner,
  tares: Tares,
  readings: Readings,
): WeighingValue | undefined {
  const last = (what: Reading['what']): Reading | undefined =>
    facts.readings.findLast((reading) => reading.what === what);
  if (facts.readings.length === 0) return undefined;
  const balance = facts.balance?.target;
  const vessel = owner.vessel ?? facts.vessel?.target;
  const value = (reading: Reading | undefined): Held | undefined => {
    const held = reading && readings(reading.datum, balance);
    return held?.kind === 'mass' ? held : undefined;
  };
  const gross = last('gross');
  const tareHere = last('tare');
  const key = vessel?.key ?? vesselKey(facts);
  const registered = vessel?.tares.at(-1);
  const elsewhere =
    !tareHere && gross && key
      ? (tares.find(key, owner.entry.block) ?? (registered && { reading: registered, balance: undefined }))
      : undefined;
  const tareReading = tareHere ?? elsewhere?.reading;
  const tare = tareHere
    ? value(tareHere)
    : elsewhere && readings(elsewhere.reading.datum, elsewhere.balance ?? balance);
  const parts = {
    before: value(last('before')),
    after: value(last('after')),
    residue: value(last('residue')),
    gross: value(gross),
    tare: tare?.kind === 'mass' ? tare : undefined,
    net: value(last('net')),
  };
  const { how, net } = netOf(parts, owner.subject, vessel?.name ?? facts.vessel?.text);
  return {
    entry: owner.entry,
    subject: owner.subject,
    how,
    ...(vessel && { vessel }),
    ...(balance && { balance }),
    ...(parts.tare && tareReading && { tare: { held: parts.tare, reading: tareReading, elsewhere: !tareHere } }),
    ...(parts.gross && gross && { gross: { held: parts.gross, reading: gross } }),
    ...(parts.before && { before: parts.before }),
    ...(parts.after && { after: parts.after }),
    ...(parts.residue && { residue: parts.residue }),
    net,
    readings: facts.readings,
    series: SERIES.map((what) => seriesOf(facts.readings, what, value)).find(({ length }) => length > 0) ?? [],
  };
}

/** What is read again and again: the filled vessel, the empty one, what the balance shows by itself. */
const SERIES: readonly Reading['what'][] = ['gross', 'tare', 'net'];

interface Parts {
  readonly [what: string]: Held | undefined;
}

function netOf(p: Parts, subject: string, vessel: string | undefined): { how: WeighingValue['how']; net: Result } {
  const less = (a: Held, b: Held, sa: string, sb: string): Held =>
    subtract(a, b, {
      formula: `${sa} − ${sb}`,
      inputs: [
        { symbol: sa, held: a },
        { symbol: sb, held: b },
      ],
    });
  const lessResidue = (net: Held): Held => (p.residue ? less(net, p.residue, 'net', 'residue') : net);
  if (p.gross && p.tare) return { how: 'difference', net: lessResidue(less(p.gross, p.tare, 'gross', 'tare')) };
  if (p.net) return { how: 'net', net: lessResidue(p.net) };
  if (p.before && p.after) return { how: 'dispensed', net: lessResidue(less(p.before, p.after, 'before', 'after')) };
  if (p.before && p.residue) return { how: 'dispensed', net: less(p.before, p.residue, 'before', 'residue') };
  if (p.gross)
    return {
      how: 'incomplete',
      net: unknown('tare-missing', vessel ? `the tare of ${vessel}` : `the tare for ${subject}`),
    };
  if (p.tare) return { how: 'none', net: unknown('gross-missing', `a gross for ${subject}`) };
  if (p.before || p.after) {
    return {
      how: 'incomplete',
      net: unknown('gross-missing', `the reading ${p.before ? 'after' : 'before'} dispensing ${subject}`),
    };
  }
  return { how: 'none', net: unknown('amount-missing', `a reading of ${subject}`) };
}

/** Σ of several nets of one substance: `weighed`. */
export function sumOf(values: readonly Held[]): Held | undefined {
  const [first, ...rest] = values;
  let acc = first;
  for (const value of rest) {
    if (!acc) break;
    acc = add(acc, value, {
      formula: 'm₁ + m₂',
      inputs: [
        { symbol: 'm₁', held: acc },
        { symbol: 'm₂', held: value },
      ],
    });
  }
  return acc;
}
