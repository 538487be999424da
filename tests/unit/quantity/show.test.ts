/** Rounding as in NIST SP 811 (2008) B.7.1, ties to even; how many digits: common practice, GUM 7.2.6 (memory). */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { UnitSymbol } from '../../../grammar/vocabulary';
import { agree } from '../../../server/quantity/agree';
import { Decimal } from '../../../server/quantity/decimal';
import { divide, exact, type Held, multiply, subtract, uncertainty } from '../../../server/quantity/held';
import type { Kind } from '../../../server/quantity/kinds';
import {
  digits,
  machine,
  machineU,
  plain,
  type ShowOptions,
  show,
  showNumber,
  suitableUnit,
} from '../../../server/quantity/show';
import { unitsOfKind } from '../../../server/quantity/units';
import { read, rectangular, typed } from './typed';

describe('rounding', () => {
  it.each([
    // The three examples of SP 811 B.7.1 (memory), and a five followed by nothing or by something.
    ['6.9749515', -2, '6.97'],
    ['6.9749515', -3, '6.975'],
    ['6.9749515', -6, '6.974952'],
    ['6.9749505', -6, '6.974950'],
    ['12.25', -1, '12.2'],
    ['12.35', -1, '12.4'],
    ['12.250000001', -1, '12.3'],
    ['-12.25', -1, '-12.2'],
    ['0.5', 0, '0'],
    ['1.5', 0, '2'],
    ['-0.5', 0, '0'],
    ['-0.004', -2, '0.00'],
    ['9.996', -2, '10.00'],
    ['1249.5', 2, '1250'],
    ['5', -3, '5.000'],
    ['0', -2, '0.00'],
  ])('%s at 10^%i is %s', (value, at, shown) => expect(digits(new Decimal(value), at)).toBe(shown));

  it('has no exponent where it can be read without one', () => {
    expect(plain(new Decimal('1e15'))).toBe('1000000000000000');
    expect(plain(new Decimal('1.5e-9'))).toBe('0.0000000015');
    expect(plain(new Decimal('1e-40'))).toBe('1e-40');
    expect(digits(new Decimal('1e-40'), -45)).toBe('1e-40');
    expect(digits(new Decimal('1.25e12'), 0)).toBe('1250000000000');
  });
});

const V = read('volume', '15.0', rectangular(0.1), 3);
const rho = read('density', '0.810', rectangular(0.001), 3);
const of = (symbols: readonly [string, Held][], formula: string) => ({
  formula,
  inputs: symbols.map(([symbol, held]) => ({ symbol, held })),
});
const mass = multiply(
  'mass',
  V,
  rho,
  of(
    [
      ['V', V],
      ['ρ', rho],
    ],
    'V · ρ',
  ),
);

describe('how many digits', () => {
  it('a value: to the first digit of u, at most one beyond the figures of the readings', () => {
    expect(show(mass)).toBe('12.15 g');
    // u = 0.0003: the readings carry three figures, one guard digit
    const sharp = multiply('mass', read('volume', '15.0', 1e-9, 3), read('density', '0.8123', 1e-9, 4), {
      formula: 'V · ρ',
      inputs: [],
    });
    expect(show(sharp)).toBe('12.18 g');
    // u = 0.5 mmol: the first decimal is its first digit
    const vague = { ...read('amount', '0.348267', 0.0005, 6), working: { formula: 'm ÷ M', inputs: [] } };
    expect(show(vague)).toBe('348.3 mmol');
  });

  it('a claim: the figures of the readings', () => {
    // 12.15 is a tie: the even neighbour
    expect(show(mass, { as: 'claim' })).toBe('12.2 g');
    expect(show({ ...mass, figures: 4 }, { as: 'claim' })).toBe('12.15 g');
    // however uncertain they are
    expect(show({ ...read('mass', '12.34', 0.5, 4), working: { formula: 'V · ρ', inputs: [] } }, { as: 'claim' })).toBe(
      '12.34 g',
    );
  });

  it('a difference of readings keeps their last place', () => {
    const gross = read('mass', '54.881', 0.001, 5);
    const tare = read('mass', '41.207', 0.001, 5);
    const net = subtract(
      gross,
      tare,
      of(
        [
          ['gross', gross],
          ['tare', tare],
        ],
        'gross − tare',
      ),
    );
    expect([show(net), show(net, { as: 'claim' })]).toEqual(['13.674 g', '13.674 g']);
    const close = subtract(gross, read('mass', '54.878', 0.001, 5), { formula: 'gross − tare', inputs: [] });
    expect(show(close, { as: 'claim' })).toBe('3 mg');
    expect(show(close, { unit: 'g' })).toBe('0.003 g');
    expect(show(subtract(gross, gross, { formula: 'gross − tare', inputs: [] }))).toBe('0.000 g');
  });

  it('a reading as it is, an exact number with all its digits up to six', () => {
    expect(show(V)).toBe('15.0 mL');
    expect(show(exact('number', 3))).toBe('3');
    expect(show(exact('number', new Decimal(1).div(3)))).toBe('0.333333');
    expect(
      show({
        ...exact('molarMass', '88.150'),
        parts: new Map([[{ name: 'C', origin: { from: 'rule', says: '' } }, 0.006]]),
      }),
    ).toBe('88.15 g/mol');
  });

  it('with its uncertainty, rounded alike', () => {
    expect(
      show({ ...read('amount', '0.3482673', 0.0005, 9), working: { formula: 'm ÷ M', inputs: [] } }, { u: true }),
    ).toBe('348.3 ± 0.5 mmol');
    expect(show(exact('number', 3), { u: true })).toBe('3');
  });

  it('a temperature keeps the digits it was written with', () => {
    // 25 °C is known to a degree; in kelvin that is three figures
    const t = read('temperature', '298.15', rectangular(1), 3);
    expect(show(t)).toBe('25 °C');
    expect(show(t, { unit: 'K' })).toBe('298 K');
    expect(show(read('temperature', '195.15', rectangular(1), 3))).toBe('-78 °C');
    expect(show(read('temperature', '273.15', rectangular(1), 3))).toBe('0 °C');
  });
});

describe('the unit that suits a size', () => {
  it.each([
    ['mass', '0', 'g'],
    ['mass', '12500', 'kg'],
    ['mass', '10000', 'kg'],
    ['mass', '9999', 'g'],
    ['mass', '0.1', 'g'],
    ['mass', '0.0999', 'mg'],
    ['mass', '0.0001', 'mg'],
    ['mass', '0.00009', 'µg'],
    ['mass', '-12', 'g'],
    ['volume', '1000', 'L'],
    ['volume', '999', 'mL'],
    ['volume', '0.099', 'µL'],
    ['amount', '1', 'mol'],
    ['amount', '0.999', 'mmol'],
    ['amount', '0.00009', 'µmol'],
    ['concentration', '0.1', 'mol/L'],
    ['concentration', '0.0009', 'mmol/L'],
    ['ratio', '0.762', '%'],
    ['equivalents', '2.5', 'equiv'],
    ['amountRatio', '0.05', 'mol%'],
    ['temperature', '298.15', '°C'],
    ['time', '60', 's'],
    ['time', '600', 'min'],
    ['time', '7200', 'h'],
    ['density', '0.81', 'g/mL'],
    ['molarMass', '88.15', 'g/mol'],
    ['number', '3', ''],
  ] as const)('%s of %s in base units: %s', (kind, value, unit) =>
    expect(suitableUnit(read(kind, value)).symbol).toBe(unit),
  );

  it('may be asked for', () => {
    expect(show(mass, { unit: 'mg' })).toBe('12150 mg');
    expect(showNumber(mass, { unit: 'mg' })).toBe('12150');
    expect(showNumber(exact('number', 3))).toBe('3');
    expect(showNumber(V)).toBe('15.0');
  });
});

describe('for the machine', () => {
  it('in full, in the unit that is asked for', () => {
    const third = divide('ratio', exact('number', 1), exact('number', 3), { inputs: [] })!;
    expect(machine(third, '%')).toBe(100 / 3);
    expect(machine(mass, 'g')).toBe(12.15);
    expect(machineU(mass, 'mg')).toBeCloseTo(uncertainty(mass) * 1000, 12);
    expect(machine(exact('mass', '1e400'), 'g')).toBeNull();
  });
});

// ── for any value ────────────────────────────────────────────────────────────────────────────────────────────────

const KINDS: readonly Kind[] = [
  'mass',
  'volume',
  'amount',
  'concentration',
  'density',
  'molarMass',
  'ratio',
  'equivalents',
  'amountRatio',
  'time',
  'temperature',
  'pressure',
  'number',
];
const anyHeld = fc
  .record({
    kind: fc.constantFrom(...KINDS),
    mantissa: fc.integer({ min: -999_999_999, max: 999_999_999 }),
    exponent: fc.integer({ min: -12, max: 4 }),
    figures: fc.oneof(fc.integer({ min: 1, max: 9 }), fc.constant(Number.POSITIVE_INFINITY)),
    u: fc.oneof(fc.constant(0), fc.double({ min: 1e-12, max: 0.5, noNaN: true })),
    formula: fc.constantFrom(undefined, 'm ÷ M', 'a − b'),
  })
  .map(({ kind, mantissa, exponent, figures, u, formula }): Held => {
    const value = new Decimal(mantissa).times(new Decimal(10).pow(exponent));
    const size = Math.max(value.abs().toNumber(), 1e-9);
    return { ...read(kind, value, u * size, figures), working: { inputs: [], ...(formula && { formula }) } };
  });

describe('shown, then read again', () => {
  const NUMBER = /^-?\d+(?:\.\d+)?(?: ± \d+(?:\.\d+)?)?$/;
  const check = (held: Held, options: ShowOptions) => {
    const text = show(held, options);
    const verdict = agree(typed(text), held);
    expect(['exact', 'rounded', 'over-precise'], `${text} for ${held.value}`).toContain(verdict);
    expect(showNumber(held, options)).toMatch(NUMBER);
    expect(text).not.toMatch(/^-0(?:\.0*)?(?:\s|$)/);
  };

  it('agrees with what it came from, as a value and as a claim', () => {
    fc.assert(
      fc.property(anyHeld, fc.constantFrom('value' as const, 'claim' as const), fc.boolean(), (held, as, u) =>
        check(held, { as, u }),
      ),
      { numRuns: 2000 },
    );
  });

  it('agrees in every unit of its kind', () => {
    const readable = (unit: UnitSymbol): boolean => {
      try {
        return typed(`1 ${unit}`).unit?.symbol === unit;
      } catch {
        return false;
      }
    };
    fc.assert(
      fc.property(anyHeld, fc.nat(), (held, nth) => {
        const units = unitsOfKind(held.kind).filter(readable);
        if (units.length > 0) check(held, { unit: units[nth % units.length]! });
      }),
      { numRuns: 1000 },
    );
  });

  it('the uncertainty of a shown value is not finer than the value', () => {
    fc.assert(
      fc.property(anyHeld, (held) => {
        const [value, spread] = show(held, { u: true, unit: unitsOfKind(held.kind)[0] ?? '' }).split(' ± ');
        if (spread === undefined) return;
        const decimals = (text: string): number => /\.(\d+)/.exec(text)?.[1]?.length ?? 0;
        expect(decimals(spread)).toBeGreaterThanOrEqual(decimals(value!));
      }),
      { numRuns: 500 },
    );
  });
});
