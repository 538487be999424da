/**
 * What each unit of the vocabulary is worth, in the base unit of its kind. Factors from the SI Brochure (9th ed.) and
 * NIST SP 811 Appendix B; a drop (0.05 mL) is a convention of the trade.
 */
import type { UnitSymbol } from '../../grammar/vocabulary';
import { Decimal, ONE, powerOfTen } from './decimal';
import type { Kind } from './kinds';

export interface Unit {
  /** The form to write; empty for a bare number. */
  readonly symbol: UnitSymbol | '';
  readonly kind: Kind;
  /** Base units in one of it. */
  readonly factor: Decimal;
  /** Of a factor that is a power of ten: cheaper than a division, and as exact. */
  readonly inverse?: Decimal;
  /** Added after the factor: degrees Celsius and Fahrenheit, gauge pressures. */
  readonly offset?: Decimal;
}

type Row = readonly [kind: Kind, factor: string, offset?: string];
const row = (...r: Row): Row => r;

/** A Record, so that a unit of the vocabulary cannot be missing. Kind `other`: SI unit, read but not computed with. */
const ROWS: Record<UnitSymbol, Row> = {
  kg: row('mass', '1000'),
  g: row('mass', '1'),
  mg: row('mass', '0.001'),
  µg: row('mass', '0.000001'),
  ng: row('mass', '0.000000001'),
  t: row('mass', '1000000'),
  Da: row('mass', '1.66053906892e-24'),
  oz: row('mass', '28.349523125'),
  lb: row('mass', '453.59237'),
  gr: row('mass', '0.06479891'),
  'm³': row('volume', '1000000'),
  'dm³': row('volume', '1000'),
  'cm³': row('volume', '1'),
  'mm³': row('volume', '0.001'),
  L: row('volume', '1000'),
  dL: row('volume', '100'),
  cL: row('volume', '10'),
  mL: row('volume', '1'),
  µL: row('volume', '0.001'),
  nL: row('volume', '0.000001'),
  drops: row('volume', '0.05'),
  gal: row('volume', '3785.411784'),
  'imp gal': row('volume', '4546.09'),
  qt: row('volume', '946.352946'),
  pt: row('volume', '473.176473'),
  'fl oz': row('volume', '29.5735295625'),
  'ft³': row('volume', '28316.846592'),
  mol: row('amount', '1'),
  mmol: row('amount', '0.001'),
  µmol: row('amount', '0.000001'),
  nmol: row('amount', '0.000000001'),
  pmol: row('amount', '1e-12'),
  kmol: row('amount', '1000'),
  lbmol: row('amount', '453.59237'),
  eq: row('equivalentAmount', '1'),
  equiv: row('equivalents', '1'),
  'mol%': row('amountRatio', '0.01'),
  M: row('concentration', '1'),
  mM: row('concentration', '0.001'),
  µM: row('concentration', '0.000001'),
  N: row('equivalentConcentration', '1'),
  'mol/L': row('concentration', '1'),
  'mmol/L': row('concentration', '0.001'),
  'mol/m³': row('concentration', '0.001'),
  'mmol/mL': row('concentration', '1'),
  'mol/kg': row('molality', '1'),
  'mmol/g': row('molality', '1'),
  'g/mL': row('density', '1'),
  'g/cm³': row('density', '1'),
  'kg/m³': row('density', '0.001'),
  'kg/L': row('density', '1'),
  'g/L': row('density', '0.001'),
  'mg/mL': row('density', '0.001'),
  'mg/L': row('density', '0.000001'),
  'µg/mL': row('density', '0.000001'),
  'g/mol': row('molarMass', '1'),
  'kg/mol': row('molarMass', '1000'),
  kDa: row('mass', '1.66053906892e-21'),
  '%': row('ratio', '0.01'),
  '% w/w': row('massFraction', '0.01'),
  '% w/v': row('massPerVolume', '0.01'),
  '% v/v': row('volumeFraction', '0.01'),
  '‰': row('ratio', '0.001'),
  ppm: row('ratio', '0.000001'),
  ppb: row('ratio', '0.000000001'),
  s: row('time', '1'),
  min: row('time', '60'),
  h: row('time', '3600'),
  d: row('time', '86400'),
  wk: row('time', '604800'),
  ms: row('time', '0.001'),
  µs: row('time', '0.000001'),
  K: row('temperature', '1'),
  '°C': row('temperature', '1', '273.15'),
  '°F': row('temperature', '0.5555555555555555555555555555555556', '255.3722222222222222222222222222222'),
  Pa: row('pressure', '0.001'),
  hPa: row('pressure', '0.1'),
  kPa: row('pressure', '1'),
  MPa: row('pressure', '1000'),
  bar: row('pressure', '100'),
  mbar: row('pressure', '0.1'),
  atm: row('pressure', '101.325'),
  Torr: row('pressure', '0.1333223684210526315789473684210526'),
  mTorr: row('pressure', '0.0001333223684210526315789473684210526'),
  mmHg: row('pressure', '0.133322387415'),
  µmHg: row('pressure', '0.000133322387415'),
  inHg: row('pressure', '3.386388640341'),
  psi: row('pressure', '6.894757293168361336722673445346891'),
  psig: row('pressure', '6.894757293168361336722673445346891', '101.325'),
  cmH2O: row('pressure', '0.0980665'),
  'kgf/cm²': row('pressure', '98.0665'),
  J: row('energy', '0.001'),
  kJ: row('energy', '1'),
  cal: row('energy', '0.004184'),
  kcal: row('energy', '4.184'),
  eV: row('energy', '1.602176634e-22'),
  'kJ/mol': row('other', '1000'), // molar energy
  'kcal/mol': row('other', '4184'), // molar energy
  'J/g': row('other', '1000'), // specific energy
  W: row('other', '1'), // power
  mW: row('other', '0.001'), // power
  V: row('other', '1'), // potential
  mV: row('other', '0.001'), // potential
  A: row('other', '1'), // current
  mA: row('other', '0.001'), // current
  C: row('other', '1'), // charge
  'F/mol': row('other', '1'), // charge ratio
  'mA/cm²': row('other', '10'), // current density
  m: row('length', '1000'),
  dm: row('length', '100'),
  cm: row('length', '10'),
  mm: row('length', '1'),
  µm: row('length', '0.001'),
  nm: row('length', '0.000001'),
  Å: row('length', '0.0000001'),
  in: row('length', '25.4'),
  ft: row('length', '304.8'),
  'cm²': row('other', '0.0001'), // area
  Hz: row('other', '1'), // frequency
  MHz: row('other', '1000000'), // frequency
  rpm: row('other', '0.01666666666666666666666666666666667'), // rotational frequency
  'cm⁻¹': row('other', '100'), // wavenumber
  '°': row('angle', '1'),
  'mL/min': row('other', '0.00000001666666666666666666666666666666667'), // volume flow
  'mL/h': row('other', '0.0000000002777777777777777777777777777777778'), // volume flow
  'µL/min': row('other', '0.00000000001666666666666666666666666666666667'), // volume flow
  'L/min': row('other', '0.00001666666666666666666666666666666667'), // volume flow
  sccm: row('other', '0.0000007435838900911718926255921538902965'), // amount flow
  'g/min': row('other', '0.00001666666666666666666666666666666667'), // mass flow
  'K/min': row('other', '0.01666666666666666666666666666666667'), // heating rate
  mPa·s: row('other', '0.001'), // viscosity
  cP: row('other', '0.001'), // viscosity
  cSt: row('other', '0.000001'), // kinematic viscosity
  'mN/m': row('other', '0.001'), // surface tension
  'dyn/cm': row('other', '0.001'), // surface tension
  'S/m': row('other', '1'), // conductivity
  'µS/cm': row('other', '0.0001'), // conductivity
  'L/(mol·cm)': row('other', '0.1'), // molar absorption coefficient
  '° cm² g⁻¹': row('other', '0.001745329251994329444444444444444444'), // specific rotation
  D: row('other', '3.335640951981520495755767144749185e-30'), // dipole moment
  Bq: row('other', '1'), // activity
  MBq: row('other', '1000000'), // activity
  Ci: row('other', '37000000000'), // activity
  mCi: row('other', '37000000'), // activity
  'Ci/mmol': row('other', '3.7e+13'), // molar activity
  U: row('other', '0.00000001666666666666666666666666666666667'), // catalytic activity
  kat: row('other', '1'), // catalytic activity
  'mol/h': row('other', '0.0002777777777777777777777777777777778'), // amount flow
  'g/g': row('massRatio', '1'),
  'mg/kg': row('massRatio', '0.000001'),
  'mL/g': row('other', '0.001'), // specific volume
  nM: row('concentration', '0.000000001'),
  'g/100 mL': row('density', '0.01'),
  'g/100 g': row('massRatio', '0.01'),
  'g/dL': row('density', '0.01'),
  meq: row('equivalentAmount', '0.001'),
  'meq/g': row('other', '1'), // equivalents per mass
  'L/mol': row('other', '0.001'), // molar volume
  'J/(g·K)': row('other', '1000'), // specific heat capacity
  'J/(mol·K)': row('other', '1'), // molar entropy or heat capacity
  's⁻¹': row('other', '1'), // rate constant
  'L/(mol·s)': row('other', '0.001'), // rate constant, second order
  'mW/cm²': row('other', '10'), // irradiance
  barg: row('pressure', '100', '101.325'),
  'L/h': row('other', '0.0000002777777777777777777777777777777778'), // volume flow
  'kg/h': row('other', '0.0002777777777777777777777777777777778'), // mass flow
  T: row('other', '1'), // magnetic flux density
};

const NUMBER: Unit = { symbol: '', kind: 'number', factor: ONE };

const built = new Map<string, Unit>();

/** The unit of a symbol; a bare number for the empty one. */
export function unitOf(symbol: UnitSymbol | ''): Unit {
  if (symbol === '') return NUMBER;
  let unit = built.get(symbol);
  if (!unit) {
    const [kind, factor, offset] = ROWS[symbol];
    const value = new Decimal(factor);
    unit = {
      symbol,
      kind,
      factor: value,
      ...(value.precision() === 1 && value.eq(powerOfTen(value.e)) && { inverse: powerOfTen(-value.e) }),
      ...(offset && { offset: new Decimal(offset) }),
    };
    built.set(symbol, unit);
  }
  return unit;
}

/** A value typed in a unit, in the base unit of its kind. */
export function toBase(value: Decimal, unit: Unit): Decimal {
  const scaled = unit.factor.eq(1) ? value : value.times(unit.factor);
  return unit.offset ? scaled.plus(unit.offset) : scaled;
}

/** A value in base units, in a unit. */
export function toUnit(value: Decimal, unit: Unit): Decimal {
  const shifted = unit.offset ? value.minus(unit.offset) : value;
  if (unit.factor.eq(1)) return shifted;
  return unit.inverse ? shifted.times(unit.inverse) : shifted.div(unit.factor);
}

/** Units of a kind, in the order of the vocabulary. */
export const unitsOfKind = (kind: Kind): readonly UnitSymbol[] =>
  (Object.keys(ROWS) as UnitSymbol[]).filter((symbol) => ROWS[symbol][0] === kind);
