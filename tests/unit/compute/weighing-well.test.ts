/** Buoyancy, how small a mass can be, series of readings: against published numbers. */
import { describe, expect, test } from 'vitest';
import { inVacuo } from '../../../server/compute/buoyancy';
import { deviationOf, minimumWeight, relativeSpread } from '../../../server/compute/precision';
import { secondsBetween } from '../../../server/compute/series';
import { Decimal } from '../../../server/quantity/decimal';
import { exact, type Held, isHeld, type Result, uncertainty } from '../../../server/quantity/held';
import { show } from '../../../server/quantity/show';
import { notebook, uriOf } from '../../kit/notebook';

const pageOf = (text: string, files: Readonly<Record<string, string>> = {}) =>
  notebook({ ...files, 'page.tare': `experiment TB-1: a\ndate: 2026-03-04\nauthor: MK\n${text}` })
    .snapshot(uriOf('page.tare'))
    .page(1);
const heldOf = (result: Result | undefined): Held => {
  if (!isHeld(result)) throw new Error(JSON.stringify(result));
  return result;
};
const mass = (g: string) => exact('mass', g);
const density = (d: string) => exact('density', d);
const rounded = (value: Decimal, places: number) =>
  value.toDecimalPlaces(places, Decimal.ROUND_HALF_EVEN).toFixed(places);

describe('buoyancy', () => {
  // Worked examples. Skoog, West, Holler, Crouch, Fundamentals of Analytical Chemistry, example 2-1 (from memory):
  // 9.9700 g − 7.6500 g of a liquid of 0.92 g/mL against steel of 8.0 is 2.3227 g. Operating instructions of an analytical
  // balance (manualshelf.com, "automate 210d", page 84): aluminium of 2.7 g/mL shown as 2000.000 mg is 2000.589 mg.
  // Too little by 0.105 % (water), 0.135 % (0.80 g/mL), 0.045 % (2.0 g/mL): the formula of OIML D 28 at its reference values.
  test.each([
    ['2.3200', '0.92', 4, '2.3227'],
    ['2.000000', '2.7', 6, '2.000589'],
    ['100.000', '1.0', 3, '100.105'],
    ['100.000', '0.80', 3, '100.135'],
    ['100.000', '2.0', 3, '100.045'],
    // What is as dense as the weights is what it shows (the definition of conventional mass).
    ['41.2070', '8.0', 7, '41.2070000'],
  ])('%s g shown, of %s g/mL', (shown, rho, places, expected) => {
    expect(rounded(inVacuo(mass(shown), density(rho))!.value, places)).toBe(expected);
  });

  // Correction factors Z in µL/mg of ISO 8655-6 at 1013 hPa, as printed in a manual of pipettes (Gilson Pipetman,
  // appendix 2): the volume of water that a balance shows as 1 mg. Densities of water: Tanaka et al., Metrologia 38
  // (2001) 301, to 10⁻⁶ g/mL.
  test.each([
    ['15', '0.999103', '1.0020'],
    ['18', '0.998598', '1.0025'],
    ['20', '0.998207', '1.0029'],
    ['22', '0.997774', '1.0033'],
    ['25', '0.997048', '1.0040'],
    ['28', '0.996237', '1.0048'],
    ['30', '0.995650', '1.0054'],
  ])('water at %s °C', (_, rho, z) => {
    const volume = inVacuo(mass('1.0000'), density(rho))!.value.div(rho);
    expect(Math.abs(volume.toNumber() - Number(z))).toBeLessThanOrEqual(0.00006);
  });

  test('a feather as light as air has no mass that a balance could tell', () => {
    expect(inVacuo(mass('1.0'), density('0.0012'))).toBeUndefined();
    expect(inVacuo(mass('1.0'), density('0.001'))).toBeUndefined();
  });

  test('the uncertainty of the air counts, once: 10 % of 1.2 kg/m³ over √3 on 1/0.8 − 1/8 mL/g', () => {
    const u = uncertainty(inVacuo(mass('100.000'), density('0.80'))!);
    expect(u).toBeCloseTo(((0.00012 / Math.sqrt(3)) * 100 * (1 / 0.8 - 1 / 8)) / (1 - 0.0015) ** 2, 4);
  });

  const LIQUID = 'substance test liquid: C6H14, density 0.80 g/mL\n';
  test('is applied where the statement asks for it, and the net stays what the balance showed', () => {
    const { values } = pageOf(`${LIQUID}charge test liquid: net 10.0000 g, correct for buoyancy\n`);
    expect(show(heldOf(values.charges[0]!.mass))).toBe('10.0135 g');
    expect(heldOf(values.charges[0]!.weighing!.net).value.toString()).toBe('10');
    expect(heldOf(values.charges[0]!.mass).working.note).toContain('OIML D 28');
  });

  test('is never applied by itself', () => {
    const { values } = pageOf(`${LIQUID}charge test liquid: net 10.0000 g\n`);
    expect(heldOf(values.charges[0]!.mass).value.toString()).toBe('10');
  });

  test('of every weighing on a balance that says so, where a density is known, and says where none is', () => {
    const { values } = pageOf(
      `${LIQUID}substance tar: mixture\nbalance A-1: readability 0.0001 g, correct for buoyancy\ncharge test liquid: net 10.0000 g\ncharge tar: net 10.0000 g\n`,
    );
    expect(show(heldOf(values.charges[0]!.mass))).toBe('10.0135 g');
    const tar = heldOf(values.charges[1]!.mass);
    expect(tar.value.toString()).toBe('10');
    expect(tar.working.note).toBe('not corrected for buoyancy: no density of tar');
  });

  test('without a density there is no corrected mass, and the reason is said', () => {
    const { values } = pageOf('substance tar: C40H60\ncharge tar: net 10.0000 g, correct for buoyancy\n');
    expect(values.charges[0]!.mass).toMatchObject({ missing: 'density-missing' });
  });

  test('a claimed mass is the corrected one, a claimed net the one that was shown', () => {
    const found = (claims: string) =>
      pageOf(`${LIQUID}charge test liquid: net 10.0000 g (${claims}), correct for buoyancy\n`).findings.map(
        (f) => f.code,
      );
    expect(found('10.0135 g')).toEqual([]);
    expect(found('10.0000 g')).toEqual(['claim-mismatch']);
  });
});

describe('how small a mass can be', () => {
  const balance = (facts: string) => pageOf(`balance B: ${facts}\n`).page.balances[0]!;
  // USP general chapter 41 (1 August 2019): s = 0.00015 g needs 0.30000 g; where s is below 0.41 d that counts, so that no
  // balance goes below 820 d (summary of the changes by a maker of balances, sartorius.com). Limit of 2 s ÷ m: 0.10 %.
  test.each([
    ['repeatability 0.00015 g', '0.3'],
    ['readability 0.0001 g, repeatability 0.00015 g', '0.3'],
    ['readability 0.0001 g', '0.082'],
    ['readability 0.1 mg, repeatability 0.01 mg', '0.082'],
    ['readability 0.001 g', '0.82'],
    ['readability 0.01 mg', '0.0082'],
  ])('%s', (facts, least) => {
    expect(minimumWeight(balance(facts))!.value.toString()).toBe(least);
    expect(relativeSpread(mass(least), balance(facts))!.value.toString()).toBe('0.001');
  });

  test('a balance that declares neither has none', () => {
    expect(deviationOf(balance('capacity 200 g'))).toBeUndefined();
    expect(minimumWeight(balance('capacity 200 g'))).toBeUndefined();
  });

  // JCGM 100:2008, F.2.2.1: a resolution of d alone gives 0.29 d; EURAMET cg-18 takes d ÷ √12 for the load and for zero.
  test('a net of two readings has the rounding of both: 0.41 d', () => {
    const { values } = pageOf(
      'balance B: readability 0.001 g, repeatability 0 g\nweigh water: tare 1.000 g, gross 2.000 g\n',
    );
    expect(uncertainty(heldOf(values.weighs[0]!.weighing!.net))).toBeCloseTo(0.000408, 6);
  });
});

describe('a series', () => {
  const weighing = (readings: string) => pageOf(`weigh ash: tare 22.4101 g, ${readings}\n`).values.weighs[0]!.weighing!;

  test('has a loss and a rate for each step', () => {
    const { series } = weighing('gross 24.4101 g at 09:00, gross 24.2101 g at 11:00, gross 24.2001 g at 12:30');
    expect(series.map(({ change, perHour }) => [show(change), rounded(perHour!.value, 4)])).toEqual([
      ['-0.2000 g', '0.1000'],
      ['-10.0 mg', '0.0067'],
    ]);
    expect(series.map(({ elapsed }) => elapsed)).toEqual([7200, 5400]);
  });

  test('runs over midnight, and has no rate where a clock falls by less than half a day', () => {
    expect(secondsBetween(23 * 3600, 3600)).toBe(7200);
    expect(secondsBetween(11 * 3600, 10 * 3600)).toBeUndefined();
    expect(secondsBetween(undefined, 5)).toBeUndefined();
  });

  test('of one reading there is none', () => {
    expect(weighing('gross 24.4101 g').series).toEqual([]);
  });

  test('a bare percentage is the loss of the whole series', () => {
    const found = (claim: string) =>
      pageOf(
        `weigh ash: tare 22.4101 g, gross 24.4101 g at 09:00, gross 24.2101 g at 11:00, gross 24.2096 g at 12:30 (${claim})\n`,
      ).findings.map(({ code }) => code);
    expect(found('10.03 %')).toEqual([]);
    expect(found('11.03 %')).toEqual(['claim-mismatch']);
  });
});

describe('tares of a vessel over pages and registers', () => {
  const REGISTER = 'vessel F-12: 50 mL flask, tare 41.207 g\n';
  const earlier = (id: string, date: string, tare: string) =>
    `experiment ${id}: drying\ndate: ${date}\nauthor: MK\nvessel F-12: 50 mL flask, tare ${tare} g\n`;

  test('that of a register is used, with its place', () => {
    const { values } = pageOf('product ester: gross 54.881 g, in F-12\n', { 'vessels.tare': REGISTER });
    const { tare, net } = values.weighings.find(({ entry }) => entry.keyword === 'product')!;
    expect(heldOf(net).value.toString()).toBe('13.674');
    expect(tare!.reading.datum.origin).toMatchObject({ from: 'there', where: 'vessels.tare' });
  });

  test('drift is told from the last page before this one', () => {
    const files = {
      'a.tare': earlier('TB-0', '2026-02-01', '41.207'),
      'b.tare': earlier('TB-2', '2026-02-20', '41.245'),
      'c.tare': earlier('TB-3', '2026-05-01', '43.000'),
    };
    const found = (tare: string) =>
      pageOf(`product ester: tare ${tare} g, gross 54.881 g, in F-12\n`, files)
        .findings.filter(({ code }) => code === 'tare-drift')
        .map(({ message }) => message);
    expect(found('41.245')).toEqual([]);
    expect(found('41.207')[0]).toMatch(/TB-2, 2026-02-20, 38 mg apart/);
  });

  test('drift against a register is told, too', () => {
    const page = pageOf('product ester: tare 41.300 g, gross 54.881 g, in F-12\n', { 'vessels.tare': REGISTER });
    expect(page.findings.map(({ code }) => code)).toContain('tare-drift');
  });
});
