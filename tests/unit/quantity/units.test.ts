import { describe, expect, it } from 'vitest';
import { unitAt } from '../../../grammar/tokens';
import { UNITS, type UnitRow, type UnitSymbol } from '../../../grammar/vocabulary';
import { readTable } from '../../../server/chem/table';
import { Decimal } from '../../../server/quantity/decimal';
import { BASE_UNITS, type Kind } from '../../../server/quantity/kinds';
import { toBase, toUnit, unitOf, unitsOfKind } from '../../../server/quantity/units';
import unitsCsv from '../../data/units.csv';

/**
 * Each row has its own source (SI Brochure 9th ed., NIST SP 811 Appendix B, CODATA 2022, common practice); the column
 * `definition` is the arithmetic that gives the factor.
 */
const rows = readTable<
  'symbol' | 'accepted' | 'wrong_but_common' | 'dimension' | 'factor_to_SI' | 'offset' | 'SI_unit' | 'definition'
>(unitsCsv);
type Row = (typeof rows)[number];

/** Our kind for a dimension, and how many of our base unit make one SI unit. */
const KINDS: Readonly<Record<string, readonly [kind: Kind, perSI: Decimal.Value]>> = {
  mass: ['mass', 1000],
  volume: ['volume', '1e6'],
  amount: ['amount', 1],
  'amount of equivalents': ['equivalentAmount', 1],
  'amount concentration': ['concentration', '0.001'],
  'equivalent concentration': ['equivalentConcentration', '0.001'],
  molality: ['molality', 1],
  density: ['density', '0.001'],
  'mass concentration': ['density', '0.001'],
  'molar mass': ['molarMass', 1000],
  ratio: ['ratio', 1],
  'mass fraction': ['massFraction', 1],
  'volume fraction': ['volumeFraction', 1],
  'mass ratio': ['massRatio', 1],
  time: ['time', 1],
  temperature: ['temperature', 1],
  pressure: ['pressure', '0.001'],
  'gauge pressure': ['pressure', '0.001'],
  energy: ['energy', '0.001'],
  length: ['length', 1000],
  angle: ['angle', new Decimal(180).div('3.141592653589793')],
};
/** Units whose kind says more than their dimension. */
const SPECIAL: Readonly<Record<string, readonly [kind: Kind, perSI: Decimal.Value]>> = {
  equiv: ['equivalents', 1],
  'mol%': ['amountRatio', 1],
  '% w/v': ['massPerVolume', '0.001'],
};
const kindOf = ({ symbol, dimension }: Row): readonly [Kind, Decimal.Value] =>
  SPECIAL[symbol] ?? KINDS[dimension] ?? ['other', 1];

/** Numbers, `*`, `/`, `^` and brackets. */
function worth(definition: string): Decimal {
  const tokens = definition.match(/\d+(?:\.\d+)?(?:e[+-]?\d+)?|[*/^()]/g) ?? [];
  let at = 0;
  const atom = (): Decimal => {
    if (tokens[at] !== '(') return new Decimal(tokens[at++]!);
    at++;
    const inside = product();
    at++;
    return inside;
  };
  const power = (): Decimal => {
    const base = atom();
    if (tokens[at] !== '^') return base;
    at++;
    return base.pow(atom());
  };
  const product = (): Decimal => {
    let value = power();
    while (tokens[at] === '*' || tokens[at] === '/')
      value = tokens[at++] === '*' ? value.times(power()) : value.div(power());
    return value;
  };
  return product();
}

const relative = (a: Decimal, b: Decimal): number => a.minus(b).div(b).abs().toNumber();

describe('the published factors', () => {
  it('are there for every unit of the vocabulary, and no more', () => {
    expect(rows.map(({ symbol }) => symbol).sort()).toEqual(Object.keys(UNITS).sort());
  });

  it.each(rows.map((row) => [row.symbol, row] as const))('%s', (symbol, row) => {
    const [kind, perSI] = kindOf(row);
    const unit = unitOf(symbol as UnitSymbol);
    expect(unit.symbol).toBe(symbol);
    expect(unit.kind).toBe(kind);
    expect(relative(unit.factor, worth(row.definition).times(perSI))).toBeLessThan(1e-12);
    expect(relative(worth(row.definition), new Decimal(row.factor_to_SI))).toBeLessThan(1e-11);
  });

  it('offsets: °C and °F from the SI Brochure and SP 811 B.8, gauge pressures from one atmosphere', () => {
    const offsets = rows.filter(({ symbol }) => unitOf(symbol as UnitSymbol).offset).map(({ symbol }) => symbol);
    expect(offsets.sort()).toEqual(['barg', 'psig', '°C', '°F']);
    for (const row of rows.filter(({ offset }) => offset !== '')) {
      const unit = unitOf(row.symbol as UnitSymbol);
      // The table's offset is in the unit itself for °F, in kelvin for °C: T = (t + offset) · factor.
      for (const t of [-40, 0, 32, 100]) {
        const kelvin = new Decimal(row.offset).plus(t).times(worth(row.definition));
        expect(toBase(new Decimal(t), unit).minus(kelvin).abs().toNumber()).toBeLessThan(1e-12);
      }
    }
    expect(toBase(new Decimal(0), unitOf('barg')).toString()).toBe('101.325');
    expect(toBase(new Decimal(0), unitOf('psig')).toString()).toBe('101.325');
  });
});

describe('fixed points', () => {
  it.each([
    // 98.6 °F is 37.0 °C, −40 is −40, 0 °C is 273.15 K: SI Brochure 2.3.1 and SP 811 B.8.
    ['98.6', '°F', '37', '°C'],
    ['-40', '°F', '-40', '°C'],
    ['0', '°C', '273.15', 'K'],
    ['760', 'Torr', '1', 'atm'],
    ['1', 'atm', '101.325', 'kPa'],
    ['1', 'bar', '100', 'kPa'],
    ['5', '% w/v', '5', '% w/v'],
    ['60', 'min', '1', 'h'],
    ['2.54', 'cm', '1', 'in'],
    ['16', 'oz', '1', 'lb'],
    ['1', 'g/cm³', '1000', 'kg/m³'],
    ['1', 'mmol/mL', '1', 'M'],
  ] as const)('%s %s is %s %s', (a, from, b, to) => {
    const there = toUnit(toBase(new Decimal(a), unitOf(from)), unitOf(to));
    expect(there.minus(b).abs().toNumber()).toBeLessThan(1e-20);
  });
});

describe('there and back', () => {
  const values = ['0', '1', '-1', '12.20', '0.000123456789', '9.99e20', '1e-9', '123456.789'].map(
    (v) => new Decimal(v),
  );
  it.each(Object.keys(UNITS) as UnitSymbol[])('%s', (symbol) => {
    const unit = unitOf(symbol);
    for (const value of values) {
      const back = toUnit(toBase(value, unit), unit);
      // A power of ten comes back exactly, anything else within the last of 34 digits (of the larger of offset and value).
      const size = Decimal.max(value.abs(), (unit.offset ?? new Decimal(0)).div(unit.factor).abs(), '1e-9');
      const off = back.minus(value).abs().div(size).toNumber();
      expect(off, `${value} ${symbol}`).toBeLessThan(unit.inverse && !unit.offset ? 1e-300 : 1e-31);
    }
  });

  it('has the exact inverse of powers of ten, and of nothing else', () => {
    for (const symbol of Object.keys(UNITS) as UnitSymbol[]) {
      const { factor, inverse } = unitOf(symbol);
      if (inverse) expect(factor.times(inverse).toString(), symbol).toBe('1');
      else expect(/^10*$/.test(factor.toFixed()) || /^0\.0*1$/.test(factor.toFixed()), symbol).toBe(false);
    }
  });
});

describe('the list of a kind', () => {
  it('holds its units in the order of the vocabulary', () => {
    expect(unitsOfKind('mass').slice(0, 3)).toEqual(['kg', 'g', 'mg']);
    const all = (Object.keys(BASE_UNITS) as Kind[]).flatMap((kind) => unitsOfKind(kind));
    expect([...all].sort()).toEqual(Object.keys(UNITS).sort());
  });

  it('a bare number has a unit of its own', () => {
    expect(unitOf('')).toMatchObject({ symbol: '', kind: 'number' });
    expect(toBase(new Decimal('1.4002'), unitOf('')).toString()).toBe('1.4002');
  });
});

/** Spellings of the table that the language reads otherwise; `-` is not read as a unit. */
const OTHERWISE: Readonly<Record<string, string>> = {
  // The right spelling of another unit: case and meaning count.
  'g gr': 'gr',
  't T': 'T',
  'Da D': 'D',
  'mmol mM': 'mM',
  'mol/kg m': 'm',
  'g/mol amu': 'Da',
  'min m': 'm',
  'd D': 'D',
  'mmHg mm': 'mm',
  'Å A': 'A',
  // After a number the trade means the other one.
  'C C': '°C',
  'eq eq': 'equiv',
  'eq Eq': 'equiv',
  // Several units, an element, or a word: asked, never guessed.
  'g G': '-',
  'lb #': '-',
  'L lit': '-',
  'cL Cl': '-',
  'ft³ cf': '-',
  'µmol uM': '-',
  'eq val': '-',
  'mM MM': '-',
  'µM uM': '-',
  'N n': '-',
  '‰ ppt': '-',
  's S': '-',
  'h H': '-',
  'wk w': '-',
  'µmHg micron': '-',
  'µmHg microns': '-',
  'µmHg µ': '-',
  'kgf/cm² at': '-',
  'kgf/cm² ata': '-',
  'cal Cal': '-',
  'kcal Cal': '-',
  'W w': '-',
  'V v': '-',
  'mm MM': '-',
  'µm micron': '-',
  'µm microns': '-',
  'µm µ': '-',
  'in in': '-',
  "ft '": '-',
  'Hz cps': '-',
  'cP cps': '-',
  '° cm² g⁻¹ deg mL g-1 dm-1': '-',
  '° cm² g⁻¹ ° mL g⁻¹ dm⁻¹ (÷ 10)': '-',
};

describe('the spellings of the table', () => {
  const read = (written: string): string | undefined => {
    const found = unitAt(written, 0);
    return found && found.end === written.length ? found.value.symbol : undefined;
  };
  const list = (cell: string): string[] => cell.split(';').filter(Boolean);
  const spelt = rows.flatMap((row) =>
    [row.symbol, ...list(row.accepted), ...list(row.wrong_but_common)].map(
      (spelling) => [spelling, row.symbol] as const,
    ),
  );

  it('read as their unit, but for those listed here', () => {
    const other = spelt.flatMap(([spelling, symbol]) => {
      const got = read(spelling);
      return got === symbol ? [] : [[`${symbol} ${spelling}`, got ?? '-'] as const];
    });
    expect(Object.fromEntries(other)).toEqual(OTHERWISE);
  });

  // SP 811 and the SI Brochure allow `l`; the language writes `L` and hints at the prefixed small letter.
  it('calls a correct one wrong only for the small letter l of a prefixed litre', () => {
    const wrong = rows.flatMap(({ symbol, accepted }) =>
      [symbol, ...list(accepted)].filter((spelling) => {
        const found = unitAt(spelling, 0);
        return found?.end === spelling.length && found.value.symbol === symbol && found.value.wrong;
      }),
    );
    expect(wrong.filter((spelling) => !/[dcmnµμ]l(?:$|\/)/.test(spelling))).toEqual([]);
    expect(wrong).toContain('ml');
  });

  it('all of the vocabulary lead to a unit with a factor', () => {
    for (const [symbol, row] of Object.entries(UNITS) as [UnitSymbol, UnitRow][]) {
      for (const spelling of [...(row.also ?? []), ...(row.wrong ?? [])]) {
        const got = read(spelling);
        expect(got, spelling).toBe(symbol);
        expect(unitOf(got as UnitSymbol).factor.gt(0)).toBe(true);
      }
    }
  });
});
