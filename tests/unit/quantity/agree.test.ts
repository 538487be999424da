/** The tolerance: half of the last digit written, and what rounding the molar masses can move. Rounding arithmetic. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { agree, agreeWithAny, reproduces } from '../../../server/quantity/agree';
import { Decimal } from '../../../server/quantity/decimal';
import { exact, type Held } from '../../../server/quantity/held';
import type { Kind } from '../../../server/quantity/kinds';
import { digits } from '../../../server/quantity/show';
import { unitOf } from '../../../server/quantity/units';
import { read, typed } from './typed';

const judge = (text: string, kind: Kind, value: Decimal.Value, more: { u?: number; slack?: number } = {}) =>
  agree(typed(text), { ...read(kind, value, more.u ?? 0), slack: more.slack ?? 0 });

describe('a claim against a value', () => {
  it.each([
    // written, kind, value in the base unit, verdict
    ['12.15 g', 'mass', '12.15', 'exact'],
    ['12.150 g', 'mass', '12.15', 'exact'],
    ['12.1 g', 'mass', '12.149', 'rounded'],
    ['12.2 g', 'mass', '12.151', 'rounded'],
    // A tie may be either neighbour.
    ['12.1 g', 'mass', '12.15', 'rounded'],
    ['12.2 g', 'mass', '12.15', 'rounded'],
    ['-0.5 g', 'mass', '-0.45', 'rounded'],
    ['12.2 g', 'mass', '12.1499', 'nearly'],
    ['12.1 g', 'mass', '12.1501', 'nearly'],
    ['12.0 g', 'mass', '12.1', 'nearly'],
    ['12.2 g', 'mass', '12.1', 'nearly'],
    ['12.0 g', 'mass', '12.1001', 'no'],
    ['12.3 g', 'mass', '12.1', 'no'],
    // Other units, and prefixes that do not fit.
    ['138 mmol', 'amount', '0.13783', 'rounded'],
    ['0.138 mol', 'amount', '0.13783', 'rounded'],
    ['138 mol', 'amount', '0.13783', 'no'],
    ['12.15 mg', 'mass', '12.15', 'no'],
    ['15.0 mL', 'volume', '15.04', 'rounded'],
    ['15 mL', 'volume', '15.49', 'rounded'],
    ['15 cm³', 'volume', '15.49', 'rounded'],
    ['76.2 %', 'ratio', '0.76204', 'rounded'],
    ['76 %', 'ratio', '0.76204', 'rounded'],
    ['76.2 %', 'ratio', '0.7629', 'nearly'],
    ['76.2 %', 'ratio', '0.7640', 'no'],
    ['2.5 equiv', 'equivalents', '2.5244', 'rounded'],
    ['5 mol%', 'amountRatio', '0.0504', 'rounded'],
    ['25 °C', 'temperature', '298.15', 'exact'],
    ['25 °C', 'temperature', '298.6', 'rounded'],
    ['25 °C', 'temperature', '299.2', 'no'],
    ['77 °F', 'temperature', '298.15', 'rounded'],
    ['96 % w/w', 'massFraction', '0.96', 'exact'],
    // Trailing zeros and exponents are digits like any other.
    ['1200 g', 'mass', '1249', 'no'],
    ['1.2e3 g', 'mass', '1249', 'rounded'],
    // One unit of a single figure is no matter of rounding.
    ['2 equiv', 'equivalents', '1.2', 'no'],
    ['2 equiv', 'equivalents', '1.45', 'no'],
    ['2 equiv', 'equivalents', '1.5', 'rounded'],
    ['7 equiv', 'equivalents', '6.2', 'nearly'],
    ['0.001 g', 'mass', '0.0004', 'no'],
    ['0.000 g', 'mass', '0.0004', 'rounded'],
    ['0.00 g', 'mass', '0', 'exact'],
    ['-1.0 g', 'mass', '1.0', 'no'],
  ] as const)('%s of %s %s: %s', (text, kind, value, verdict) => expect(judge(text, kind, value)).toBe(verdict));

  it('a bare number is compared as it stands', () => {
    expect(judge('1.4002', 'number', '1.40021')).toBe('rounded');
    expect(judge('60.00', 'number', '60.004')).toBe('rounded');
  });

  it('a double would have got these wrong', () => {
    expect(judge('0.3 g', 'mass', new Decimal('0.1').times(3))).toBe('exact');
    expect(judge('1.005 g', 'mass', '1.0055')).toBe('rounded');
    expect(judge('1.006 g', 'mass', '1.0055')).toBe('rounded');
  });
});

describe('ranges', () => {
  it.each([
    ['75–77 %', '0.76', 'rounded'],
    ['75–77 %', '0.775', 'rounded'],
    ['75–77 %', '0.78', 'rounded'],
    ['75–77 %', '0.7801', 'no'],
    ['75–77 %', '0.7399', 'no'],
    ['77–75 %', '0.76', 'rounded'],
    ['75.0–77 %', '0.78', 'rounded'],
    ['75.0–77.0 %', '0.78', 'no'],
  ])('%s of %s: %s', (text, value, verdict) => expect(judge(text, 'ratio', value)).toBe(verdict));
});

describe('slack and uncertainty', () => {
  it('what rounding the molar masses can move is allowed, in the unit as written', () => {
    expect(judge('17.95 g', 'mass', '17.9440')).toBe('nearly');
    expect(judge('17.95 g', 'mass', '17.9440', { slack: 0.001 })).toBe('rounded');
    expect(judge('17950 mg', 'mass', '17.9490')).toBe('nearly');
    expect(judge('17950 mg', 'mass', '17.9490', { slack: 0.0005 })).toBe('rounded');
  });

  it('a measurement uncertainty is no tolerance', () => {
    expect(judge('13.647 g', 'mass', '13.674', { u: 0.5 })).toBe('no');
    expect(judge('13.675 g', 'mass', '13.674', { u: 0.5 })).toBe('nearly');
  });

  it('a difference of two readings has none: one digit off is off', () => {
    expect(judge('13.674 g', 'mass', '13.674')).toBe('exact');
    expect(judge('13.676 g', 'mass', '13.674')).toBe('no');
  });

  it.each([
    // u = 0.15 %: its first digit is the first decimal, one more is kept, a third is too many
    ['76.2 %', 'rounded'],
    ['76.20 %', 'rounded'],
    ['76.204 %', 'over-precise'],
    ['76.2043 %', 'over-precise'],
    ['76.21 %', 'nearly'],
  ])('%s of 76.2043 ± 0.15 %% is %s', (text, verdict) =>
    expect(judge(text, 'ratio', '0.762043', { u: 0.0015 })).toBe(verdict),
  );

  it('few figures are never too many, and an exact value bears any', () => {
    expect(judge('0.762 %', 'ratio', '0.00762043', { u: 0.5 })).toBe('rounded');
    expect(judge('76.2043 %', 'ratio', '0.762043')).toBe('exact');
  });
});

describe('several right answers', () => {
  const values = ['12.15', '12.40'].map((v) => exact('mass', v));
  it('the best verdict counts', () => {
    expect(agreeWithAny(typed('12.4 g'), values)).toBe('exact');
    expect(agreeWithAny(typed('12.2 g'), values)).toBe('rounded');
    expect(agreeWithAny(typed('12.3 g'), values)).toBe('nearly');
    expect(agreeWithAny(typed('13.0 g'), values)).toBe('no');
    expect(agreeWithAny(typed('13.0 g'), [])).toBe('no');
  });
});

describe('a slip reproduces a number to its last digit', () => {
  it('without slack', () => {
    expect(reproduces(typed('17.95 g'), new Decimal('17.945'), unitOf('g'))).toBe(true);
    expect(reproduces(typed('17.95 g'), new Decimal('17.9449'), unitOf('g'))).toBe(false);
    expect(reproduces(typed('76.2'), new Decimal('76.24'), undefined)).toBe(true);
  });
});

describe('for any value', () => {
  const value = fc
    .tuple(fc.integer({ min: -999_999_999, max: 999_999_999 }), fc.integer({ min: -9, max: 3 }))
    .map(([m, e]) => new Decimal(m).times(new Decimal(10).pow(e)));
  const of = (v: Decimal): Held => exact('mass', v);

  it('its own rounding agrees, at whatever place', () => {
    fc.assert(
      fc.property(value, fc.integer({ min: -8, max: 0 }), (v, place) => {
        const verdict = agree(typed(`${digits(v, place)} g`), of(v));
        expect(['exact', 'rounded']).toContain(verdict);
      }),
      { numRuns: 500 },
    );
  });

  it('two units of the last digit away never agrees', () => {
    fc.assert(
      fc.property(value, fc.integer({ min: -8, max: 0 }), fc.constantFrom(2, -2, 3, 17), (v, place, off) => {
        const shifted = v.plus(new Decimal(10).pow(place).times(off));
        expect(agree(typed(`${digits(shifted, place)} g`), of(v))).toBe('no');
      }),
      { numRuns: 500 },
    );
  });
});
