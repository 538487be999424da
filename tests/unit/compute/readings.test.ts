/**
 * Standard uncertainties of single readings. Rectangular distributions for digits and readability: JCGM 100:2008 (GUM)
 * 4.3.7 and F.2.2.1; √2 · 0.29 d as the floor of repeatability: United States Pharmacopeia ⟨41⟩. 10 % for `~`, `ca.` and
 * drops: common practice, no source.
 */
import { describe, expect, it } from 'vitest';
import { createReadings, writtenText } from '../../../server/compute/readings';
import type { Balance, Datum } from '../../../server/model/page';
import { place, uncertainty } from '../../../server/quantity/held';
import { typed } from '../quantity/typed';
import { uOf, valuesOf, worth } from './page';

const datum = (text: string): Datum => {
  const quantity = typed(text);
  return { quantity, origin: { from: 'here', start: 0, end: text.length }, span: { start: 0, end: text.length } };
};
const heldOf = (text: string) => createReadings()(datum(text));

describe('u of a reading', () => {
  it.each([
    // 0.29 of the last digit
    ['12.20 g', 12.2, 0.0029],
    ['12.2 g', 12.2, 0.029],
    ['250 mL', 250, 0.29],
    ['348 mmol', 0.348, 0.00029],
    ['1.20e-3 mol', 0.0012, 0.0000029],
    // what is written counts as one standard uncertainty
    ['25.00 ± 0.03 mL', 25, 0.03],
    ['12.345(6) g', 12.345, 0.006],
    ['25.0 ± 0.5 mg', 0.025, 0.0005],
    // roughly
    ['~5 mL', 5, 0.5],
    ['ca. 5 mL', 5, 0.5],
    ['4 drops', 0.2, 0.02],
    // a range is rectangular about its middle
    ['133–135 °C', 134 + 273.15, 1 / Math.sqrt(3)],
    ['2 × 25 mL', 50, 0.58],
    ['25 °C', 298.15, 0.29],
    ['77 °F', 298.15, 0.16],
  ])('%s', (text, value, u) => {
    const held = heldOf(text);
    expect(held.value.toNumber()).toBeCloseTo(value, 10);
    expect(Number(uncertainty(held).toPrecision(2)) / Number(u.toPrecision(2))).toBeCloseTo(1, 12);
  });

  it('a course begins at its first number', () => expect(heldOf('20 to 80 °C').value.toNumber()).toBe(293.15));

  it.each([
    ['25 °C', 0, 3],
    ['25.0 °C', -1, 4],
    ['−78 °C', 0, 3],
    ['0 °C', 0, 3],
    ['12.20 g', -2, 4],
    ['77 °F', -1, 4],
  ])('%s is known to 10^%i of its base unit: %i figures', (text, at, figures) => {
    const held = heldOf(text);
    expect([place(held), held.figures]).toEqual([at, figures]);
  });

  it('one datum is one reading, two of the same digits are two', () => {
    const readings = createReadings();
    const [a, b] = [datum('5.0 g'), datum('5.0 g')];
    expect(readings(a)).toBe(readings(a));
    expect([...readings(a).parts.keys()][0]).not.toBe([...readings(b).parts.keys()][0]);
  });
});

describe('as typed', () => {
  it.each(['12.20 g', '~5 mL', '2 × 25 mL', '25.00 ± 0.03 mL', '133–135 °C', '20 to 80 °C', '12.345(6) g', '1.4002'])(
    '%s',
    (text) => expect(writtenText(datum(text))).toBe(text),
  );
  it('with the unit as it is to be written', () => expect(writtenText(datum('5 ml'))).toBe('5 mL'));
});

describe('u of a balance', () => {
  const uWith = (facts: string): number =>
    uOf(valuesOf(`balance B-2: ${facts}\nweigh salt: gross 54.881 g, tare 41.207 g, on B-2`).weighings[0]!.net) /
    Math.SQRT2;

  it.each([
    // d = s = 0.001 g: √(0.001² + 0.00029²)
    ['readability 0.001 g, repeatability 0.001 g', Math.hypot(0.001, 0.001 / Math.sqrt(12))],
    ['readability 1 mg, repeatability 1 mg', Math.hypot(0.001, 0.001 / Math.sqrt(12))],
    ['readability 0.01 g', Math.hypot(0.0041, 0.01 / Math.sqrt(12))],
    ['repeatability 0.002 g', 0.002],
    // says nothing of it: the digits count
    ['capacity 220 g', 0.001 / Math.sqrt(12)],
  ])('%s', (facts, u) => expect(uWith(facts)).toBeCloseTo(u, 12));

  it('√2 for the two readings of a net: 0.0015 g', () => {
    const net = valuesOf(
      'balance B-2: readability 0.001 g, repeatability 0.001 g\nweigh salt: gross 54.881 g, tare 41.207 g',
    ).weighings[0]!.net;
    expect(worth(net)).toBe(13.674);
    expect(uOf(net)).toBeCloseTo(0.00147, 5);
  });

  it('a written ± wins over the balance', () => {
    const net = valuesOf(
      'balance B-2: readability 0.1 g\nweigh salt: gross 54.881 ± 0.003 g, tare 41.207 ± 0.004 g, on B-2',
    ).weighings[0]!.net;
    expect(uOf(net)).toBeCloseTo(0.005, 12);
  });

  it('has no say over volumes', () => {
    const balance = { readability: datum('0.1 g') } as Balance;
    expect(uncertainty(createReadings()(datum('15.0 mL'), balance))).toBeCloseTo(0.1 / Math.sqrt(12), 12);
  });
});
