/** The ledger of a page, its neutralisations and samples, and the routes over pages, as keys of the computed document. */
import type { UnitSymbol } from '../../grammar/vocabulary';
import type { LedgerStream, LedgerValue, SampleValue } from '../compute/ledger';
import type { NeutralisationValue } from '../compute/neutralise';
import type { Entry } from '../model/page';
import { type Held, isHeld, type Result } from '../quantity/held';
import { machine, machineU } from '../quantity/show';
import type { Branch } from '../routes';

type LineOf = (offset: number) => number;

const number = (result: Result | undefined, unit: UnitSymbol): number | null =>
  isHeld(result) ? machine(result, unit) : null;

const lineIn = (entry: Entry, lineOf: LineOf): number => lineOf(entry.mark.start);

export function ledgerJson(ledger: LedgerValue, lineOf: LineOf): object {
  const gas = ledger.lines.filter(({ as, mass }) => as === 'gas' && isHeld(mass));
  return {
    in_g: number(ledger.in, 'g'),
    out_g: number(ledger.out, 'g'),
    unaccounted_g: number(ledger.unaccounted, 'g'),
    u_unaccounted_g: isHeld(ledger.unaccounted) ? machineU(ledger.unaccounted, 'g') : null,
    ...(gas.length > 0 && { gas: gas.map(({ what, mass }) => ({ name: what, mass_g: number(mass, 'g') })) }),
    ...(ledger.open.length > 0 && {
      open: ledger.open.map(({ what, as, entry, mass }) => ({
        what,
        as,
        line: lineIn(entry, lineOf),
        needs: isHeld(mass) ? null : mass.what,
      })),
    }),
    ...(ledger.used.length > 0 && {
      used: ledger.used.map(({ name, entry, mass }) => ({
        name: name.text,
        line: lineIn(entry, lineOf),
        mass_g: number(mass, 'g'),
      })),
    }),
    streams: ledger.streams.map(streamJson),
  };
}

const streamJson = ({ name, mass, volume, contents }: LedgerStream): object => ({
  name,
  mass_g: number(mass, 'g'),
  volume_mL: number(volume, 'mL'),
  contents,
});

export const sampleJson = ({ sample, mass, volume, amount }: SampleValue, lineOf: LineOf): object => ({
  id: sample.id,
  line: lineIn(sample.entry, lineOf),
  substance: sample.name?.text ?? null,
  mass_g: number(mass, 'g'),
  volume_mL: number(volume, 'mL'),
  amount_mol: number(amount, 'mol'),
  for: sample.purpose?.text ?? null,
  kept: sample.kept,
});

export function neutralisationJson(value: NeutralisationValue, lineOf: LineOf): object {
  const { neutralisation, gas, heat, short } = value;
  return {
    subject: neutralisation.what.text,
    line: lineIn(neutralisation.entry, lineOf),
    reagent: neutralisation.with?.text ?? null,
    protons_mol: number(value.there, 'mol'),
    protons_at_most: !value.certain,
    needed_mol: number(value.needed, 'mol'),
    needed_g: number(value.neededMass, 'g'),
    needed_mL: number(value.neededVolume, 'mL'),
    added_mol: number(value.added, 'mol'),
    short_mol: short ? number(short, 'mol') : null,
    gas: gas ? { name: gas.gas, amount_mol: number(gas.amount, 'mol'), volume_L: number(gas.volume, 'L') } : null,
    heat_kJ: heat ? plainNumber(heat) : null,
  };
}

const plainNumber = (held: Held): number => held.value.toNumber();

export const routeJson = ({ product, pages, yield: share, longest }: Branch): object => ({
  product,
  pages,
  steps: pages.length,
  overall_yield_percent: share === undefined ? null : share * 100,
  longest,
});
