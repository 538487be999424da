/**
 * The one formatter: the only place where a number is rounded. Ties go to even (NIST SP 811 B.7); a number is always
 * valid input again.
 */
import type { UnitSymbol } from '../../grammar/vocabulary';
import { Decimal } from './decimal';
import type { Held } from './held';
import { place, uncertainty } from './held';
import type { Kind } from './kinds';
import type { Unit } from './units';
import { toUnit, unitOf } from './units';

export interface ShowOptions {
  /** The unit to show in; by default the one that suits the size. */
  readonly unit?: UnitSymbol | '';
  /**
   * `value` (default): to the first digit of the uncertainty, at most one digit beyond the figures of the readings.
   * `claim`: only the figures of the readings, as a chemist writes them into a page.
   */
  readonly as?: 'value' | 'claim';
  /** At most so many figures, for a table that is looked at and not computed with. */
  readonly figures?: number;
  /** With the standard uncertainty: `348.3 ± 0.5 mmol`. */
  readonly u?: boolean;
}

/** A held value with its unit: `348.3 mmol`, `84.5 %`. */
export function show(held: Held, options: ShowOptions = {}): string {
  const unit = unitFor(held, options);
  const number = numberIn(unit, held, options);
  return unit.symbol === '' ? number : `${number} ${unit.symbol}`;
}

/** The number alone, in the given unit. */
export const showNumber = (held: Held, options: ShowOptions = {}): string =>
  numberIn(unitFor(held, options), held, options);

const unitFor = (held: Held, options: ShowOptions): Unit => unitOf(options.unit ?? defaultUnit(held));

function numberIn(unit: Unit, held: Held, options: ShowOptions): string {
  const value = toUnit(held.value, unit);
  const u = uncertainty(held) / Math.abs(unit.factor.toNumber());
  const least = placeToShow(held, value, unit, u, options.as ?? 'value');
  if (options.u && u > 0) {
    // Beside its uncertainty a computed value ends where that begins; a reading keeps the place it was read to.
    const first = Math.floor(Math.log10(u));
    return `${digits(value, isRead(held) ? Math.max(least, first) : first)} ± ${digits(new Decimal(u), first)}`;
  }
  return digits(value, options.figures ? Math.max(least, (value.isZero() ? 0 : value.e) - options.figures + 1) : least);
}

/** Rounded half to even at a power of ten, with the zeros that belong to it; never above the unit's place. */
export function digits(value: Decimal, at: number): string {
  const decimals = Math.max(0, -at);
  if (decimals > 30) return plain(value);
  const text = value.toDecimalPlaces(decimals, Decimal.ROUND_HALF_EVEN).toFixed(decimals);
  return /^-0(?:\.0*)?$/.test(text) ? text.slice(1) : text;
}

/** All the digits a decimal has, without an exponent where that stays readable. */
export function plain(value: Decimal): string {
  return value.e > 20 || value.e < -12 ? value.toString() : value.toFixed();
}

/** For the machine: the value in a unit as a JSON number, at full double precision. */
export function machine(held: Held, unit: UnitSymbol | ''): number | null {
  const value = toUnit(held.value, unitOf(unit)).toNumber();
  return Number.isFinite(value) ? value : null;
}

/** Standard uncertainty in a unit, for the machine. */
export function machineU(held: Held, unit: UnitSymbol | ''): number | null {
  const u = uncertainty(held) / Math.abs(unitOf(unit).factor.toNumber());
  return Number.isFinite(u) ? u : null;
}

function placeToShow(held: Held, value: Decimal, unit: Unit, u: number, as: 'value' | 'claim'): number {
  // Exact numbers: all their digits up to six decimals.
  if (held.figures === Number.POSITIVE_INFINITY) {
    const own = -Math.min(6, value.decimalPlaces());
    return u > 0 ? Math.max(own, Math.floor(Math.log10(u))) : own;
  }
  // Figures count from the base unit; an offset would change how many there are, the place stays.
  const byFigures = unit.offset ? place(held) : value.isZero() ? Math.min(0, place(held)) : value.e - held.figures + 1;
  const uncertain = u > 0 ? Math.floor(Math.log10(u)) : Number.NEGATIVE_INFINITY;
  // A difference of readings keeps their last place, guard digits would be noise.
  const guard = as === 'claim' || isRead(held) ? 0 : 1;
  return Math.max(byFigures - guard, as === 'claim' ? byFigures : uncertain);
}

/** A reading, or a difference of readings. */
const isRead = ({ working: { formula } }: Held): boolean => formula === undefined || DIFFERENCES.test(formula);

const DIFFERENCES = /^[^·÷×/]*[−+][^·÷×/]*$/u;

function defaultUnit(held: Held): UnitSymbol | '' {
  const size = held.value.abs().toNumber();
  return DEFAULTS[held.kind]?.(size) ?? '';
}

/** Base units: mass g, volume mL, amount mol, concentration mol/L. */
const DEFAULTS: { readonly [K in Kind]?: (size: number) => UnitSymbol } = {
  mass: (g) => (g === 0 ? 'g' : g >= 10_000 ? 'kg' : g >= 0.1 ? 'g' : g >= 1e-4 ? 'mg' : 'µg'),
  volume: (mL) => (mL === 0 ? 'mL' : mL >= 1000 ? 'L' : mL >= 0.1 ? 'mL' : 'µL'),
  amount: (mol) => (mol === 0 ? 'mmol' : mol >= 1 ? 'mol' : mol >= 1e-4 ? 'mmol' : 'µmol'),
  equivalentAmount: () => 'mol',
  concentration: (c) => (c >= 1e-3 || c === 0 ? 'mol/L' : 'mmol/L'),
  equivalentConcentration: () => 'N',
  density: () => 'g/mL',
  molality: () => 'mol/kg',
  molarMass: () => 'g/mol',
  ratio: () => '%',
  massFraction: () => '% w/w',
  volumeFraction: () => '% v/v',
  massPerVolume: () => '% w/v',
  amountRatio: () => 'mol%',
  equivalents: () => 'equiv',
  temperature: () => '°C',
  pressure: () => 'kPa',
  time: (s) => (s >= 7200 ? 'h' : s >= 120 ? 'min' : 's'),
  length: () => 'mm',
};

/** The unit that suits a size, for those who write a value into a page. */
export const suitableUnit = (held: Held): Unit => unitOf(defaultUnit(held));
