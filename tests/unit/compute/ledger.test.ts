/** The ledger: what went in, what left; sums beside each. */
import { describe, expect, test } from 'vitest';
import type { LedgerValue } from '../../../server/compute/ledger';
import { isHeld, type Result, uncertainty } from '../../../server/quantity/held';
import { notebook, uriOf } from '../../kit/notebook';

const valuesOf = (page: string) => notebook({ 'a.tare': page }).snapshot(uriOf('a.tare')).page(1).values;
const ledgerOf = (page: string): LedgerValue => valuesOf(page).ledger!;
const num = (result: Result | undefined): number | undefined => (isHeld(result) ? result.value.toNumber() : undefined);

const PAGE = `experiment L-1: a balance that closes
balance B-2: readability 0.001 g, repeatability 0.001 g
substance A: C6H6O, state solid
substance B: C6H6O2, state solid
vessel F-1: flask, tare 40.000 g, on B-2
charge A: net 10.000 g, on B-2
charge toluene: net 86.000 g, on B-2, solvent
charge argon: balloon, atmosphere
product B: gross 47.000 g, in F-1, on B-2, dried
recovered A: net 1.500 g, on B-2
waste non-halogenated organic: 85.0 g toluene and residues
`;

describe('what goes in comes out', () => {
  // 96.000 − (7.000 + 1.500 + 85.0) = 2.500 g
  test('the difference has a mass and an uncertainty', () => {
    const ledger = ledgerOf(PAGE);
    expect([num(ledger.in), num(ledger.out), num(ledger.unaccounted)]).toEqual([96, 93.5, 2.5]);
    // Written to 0.1 g: 0.1/√12 = 0.0289 g; balance √(1 + 1/12) mg a reading, one each for two charges, gross, tare, recovered.
    const b2 = 0.001 * Math.sqrt(1 + 1 / 12);
    expect(uncertainty(ledger.unaccounted as never)).toBeCloseTo(Math.hypot(0.1 / Math.sqrt(12), b2 * Math.sqrt(5)), 6);
    expect(ledger.open).toEqual([]);
  });

  test('what tests took is listed, comes off the batch, and is no exit of its own', () => {
    const page = `${PAGE}test sodium hydrogencarbonate: of B, 50 mg, at 22 °C, no gas\n`;
    const ledger = ledgerOf(page);
    expect(ledger.used.map(({ name, mass }) => [name.text, num(mass)])).toEqual([['B', 0.05]]);
    expect(num(ledger.unaccounted)).toBe(2.5);
    const { world } = notebook({ 'a.tare': page }).snapshot(uriOf('a.tare')).page(1);
    expect(world.batch('L-1')).toMatchObject({ made: 7, taken: [{ page: 'L-1', mass: 0.05 }] });
  });

  test('a blanket of gas is not asked for; an excess leaves it open', () => {
    expect(ledgerOf(PAGE).lines.map(({ what }) => what)).not.toContain('argon');
    const open = ledgerOf(PAGE.replace('net 86.000 g, on B-2, solvent', 'excess'));
    expect(num(open.in)).toBeUndefined();
    expect(num(open.unaccounted)).toBeUndefined();
    expect(open.open.map(({ what }) => what)).toEqual(['toluene']);
  });

  test('a volume of waste has a mass only with a density', () => {
    const waste = (line: string) => ledgerOf(PAGE.replace(/waste .*/, line)).streams[0]!;
    expect(num(waste('waste organic can: 100 mL toluene and residues').mass)).toBeUndefined();
    expect(num(waste('waste organic can: 100 mL toluene and residues, density 0.870 g/mL').mass)).toBe(87);
    // Toluene alone: the handbook's 0.867 g/mL at 20 °C.
    expect(num(waste('waste organic can: 100 mL toluene').mass)).toBeCloseTo(86.7, 1);
    expect(num(waste('waste organic can: 100 mL toluene').volume)).toBe(100);
  });

  test('a sample from a weighed product is part of it; one taken before is not', () => {
    const after = ledgerOf(`${PAGE}sample S-1: 50 mg of B, for NMR\n`);
    expect(num(after.out)).toBe(93.5);
    const before = ledgerOf(PAGE.replace('product B:', 'sample S-1: 50 mg of B, for NMR\nproduct B:'));
    expect(num(before.out)).toBe(93.55);
    const { samples } = valuesOf(`${PAGE}sample S-1: 50 mg of B, for NMR, kept\n`);
    expect(samples[0]?.sample).toMatchObject({ kept: true, purpose: { text: 'NMR' } });
  });

  // CaCO3 100.086 g/mol -> CaO + CO2 44.009 g/mol; 10.0 g gives 4.397 g of gas.
  test('a gaseous by-product leaves as gas', () => {
    const ledger = ledgerOf(`experiment L-2: lime
reaction R1: CaCO3 -> CaO + CO2
charge CaCO3: 10.00 g, limiting
product CaO: 5.50 g
`);
    const gas = ledger.lines.find(({ as }) => as === 'gas');
    expect(gas?.what).toBe('CO2');
    expect(num(gas?.mass)).toBeCloseTo(4.397, 3);
    expect(num(ledger.unaccounted)).toBeCloseTo(10 - 5.5 - 4.397, 3);
  });

  test('a later stage replaces an earlier one', () => {
    const ledger = ledgerOf(PAGE.replace('product B: gross', 'product B: 9.0 g, crude\nproduct B: gross'));
    expect(num(ledger.out)).toBe(93.5);
  });

  test('no ledger where nothing comes out, and streams add up by name', () => {
    expect(valuesOf('experiment L-3: nothing\ncharge toluene: 5 g\n').ledger).toBeUndefined();
    const ledger = ledgerOf(`${PAGE}waste Non-Halogenated  Organic: 10.0 g rinsings\n`);
    expect(ledger.streams).toHaveLength(1);
    expect(num(ledger.streams[0]!.mass)).toBe(95);
  });
});
