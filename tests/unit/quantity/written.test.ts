import { describe, expect, it } from 'vitest';
import { readQuantity } from '../../../server/quantity/written';
import { nodeOf, typed } from './typed';

// What counts as a significant figure: common practice; the language reads the last digit written as significant.
describe('a number as typed', () => {
  it.each([
    ['12.20 g', '12.2', -2, 4],
    ['12.2 g', '12.2', -1, 3],
    ['0.0120 g', '0.012', -4, 3],
    ['250 mL', '250', 0, 3],
    ['0 g', '0', 0, 1],
    ['0.00 g', '0', -2, 1],
    ['000.50 g', '0.5', -2, 2],
    ['1.20e-3 mol', '0.0012', -5, 3],
    ['1.2E3 g', '1200', 2, 2],
    ['1.2e+3 g', '1200', 2, 2],
    ['1.2 × 10^-3 mol', '0.0012', -4, 2],
    ['1.2 × 10⁻³ mol', '0.0012', -4, 2],
    ['−78 °C', '-78', 0, 2],
    ['-78 °C', '-78', 0, 2],
    ['+5 °C', '5', 0, 1],
    ['12\u2009345.6 g', '12345.6', -1, 6],
    ['12\u202f345 g', '12345', 0, 5],
    ['1.4002', '1.4002', -4, 5],
    ['12.345678901234567890123456789012 g', '12.345678901234567890123456789012', -30, 32],
  ])('%j', (text, value, place, figures) => {
    const { number } = typed(text);
    expect([number.value.toFixed(), number.place, number.figures]).toEqual([value, place, figures]);
  });

  it('keeps what no double could hold', () => {
    expect(typed('1e400 g').number.value.e).toBe(400);
    expect(typed('9.99e-400 g').number.value.isZero()).toBe(false);
    expect(typed(`${'1'.repeat(60)} g`).number.value.toFixed()).toBe('1'.repeat(60));
    expect(typed('0.1 g').number.value.times(3).toFixed()).toBe('0.3');
  });

  // Faulty, but with one reading: the rule of number formats asks for another form.
  it.each([
    ['1,0 g', '1', -1, 2],
    ['0,125 g', '0.125', -3, 3],
    ['1,234.5 g', '1234.5', -1, 5],
    ['.5 g', '0.5', -1, 1],
  ])('%j can only mean one number', (text, value, place, figures) => {
    const { number } = typed(text);
    expect([number.value.toFixed(), number.place, number.figures]).toEqual([value, place, figures]);
  });

  it.each(['1,234 g', '1.2.3 g', '1e9999999 g', '1e99999999999999999999 g'])('%j has no single reading', (text) =>
    expect(readQuantity(nodeOf(text))).toBeUndefined(),
  );
});

describe('a quantity as typed', () => {
  it('concise uncertainty counts in the last digits (GUM 7.2.2)', () => {
    expect(typed('12.345(6) g').plusMinus!.value.toFixed()).toBe('0.006');
    expect(typed('100.02147(35) g').plusMinus!.value.toFixed()).toBe('0.00035');
    expect(typed('1.20(3)e-3 mol').plusMinus!.value.toFixed()).toBe('0.00003');
  });

  it('±, ranges, courses, counts, about', () => {
    expect(typed('25.00 ± 0.03 mL')).toMatchObject({ plusMinus: { text: '0.03' }, about: false, course: false });
    expect(typed('133–135 °C')).toMatchObject({ to: { text: '135' }, course: false });
    expect(typed('133-135 °C').to?.text).toBe('135');
    expect(typed('−78 to −90 °C').to?.value.toString()).toBe('-90');
    expect(typed('20 to 80 °C').course).toBe(true);
    expect(typed('2 × 25 mL')).toMatchObject({ count: { text: '2' }, number: { text: '25' } });
    for (const text of ['~5 mL', '≈5 mL', 'ca. 5 mL']) expect(typed(text).about, text).toBe(true);
  });

  it('keeps its places, counted from the page', () => {
    const { number, unit, start, end } = readQuantity(nodeOf('15.0 mL'), 100)!;
    expect([number.start - 100, number.end - 100, start - 100, end - 100]).toEqual([10, 14, 10, 17]);
    expect(unit?.symbol).toBe('mL');
  });

  it('is nothing when one of its numbers is nothing', () => {
    for (const text of ['5 ± 1,234 g', '1–1,234 g', '5 to 1,234 g', '5 × 1,234 g', '5 ± 1.2.3 g'])
      expect([text, readQuantity(nodeOf(text))]).toEqual([text, undefined]);
  });
});
