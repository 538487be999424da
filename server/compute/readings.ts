/**
 * From a datum to a held value with its standard uncertainty. One datum gives one value however often it is asked for,
 * so that a tare used twice, or a density used for two charges, correlates by itself.
 */
import type { Glassware } from '../model/glassware';
import type { Balance, Datum } from '../model/page';
import { Decimal } from '../quantity/decimal';
import { exact, type Held, type Leaf, reading } from '../quantity/held';
import type { Kind } from '../quantity/kinds';
import { toBase } from '../quantity/units';

const SQRT12 = Math.sqrt(12);
const SQRT3 = Math.sqrt(3);
/** `~`, `ca.` and drops: common practice, no source. */
const ABOUT = 0.1;
/**
 * A balance whose repeatability is not declared: the floor of two rounded readings, √2 · 0.29 d
 * (United States Pharmacopeia general chapter 41 uses the same 0.41 d).
 */
const REPEATABILITY_FLOOR = 0.41;

export interface Readings {
  (datum: Datum, balance?: Balance): Held;
  /** A volume between two readings of a piece of glassware. */
  between(volume: Held, glass: Glassware): Held;
}

export function createReadings(): Readings {
  const known = new Map<Datum, Held>();
  /** One piece of glass errs the same way each time it is filled. */
  const pieces = new Map<string, Leaf>();
  // The limit of error of a class, rectangular (JCGM 100 4.3.7), stands for all of the reading's uncertainty: it covers
  // the mark or the graduation. A written `±` is added to it.
  const inGlass = (volume: Held, glass: Glassware, times: number, own: Held['parts'] | undefined): Held => {
    const leaf = pieces.get(glass.identity) ?? { name: glass.name, origin: { from: 'table', source: glass.name } };
    pieces.set(glass.identity, leaf);
    const u = (glass.tolerance.toNumber() / SQRT3) * times;
    return {
      ...volume,
      parts: new Map([...(own ?? []), [leaf, u]]),
      working: { ...volume.working, note: glassNote(glass) },
    };
  };
  const readings = (datum: Datum, balance?: Balance): Held => {
    let value = known.get(datum);
    if (!value) {
      value = toHeld(datum, balance);
      const { glassware, quantity } = datum;
      if (glassware) {
        const own = quantity.plusMinus ? value.parts : undefined;
        value = inGlass(value, glassware, quantity.count?.value.toNumber() ?? 1, own);
      }
      known.set(datum, value);
    }
    return value;
  };
  return Object.assign(readings, { between: (volume: Held, glass: Glassware) => inGlass(volume, glass, 1, undefined) });
}

/** `100 mL volumetric flask, ISO 1042 class A: ±0.1 mL, from memory`. */
const glassNote = ({ name, tolerance, fromMemory }: Glassware): string =>
  `${name}: ±${tolerance} mL (rectangular)${fromMemory ? ', limit from memory: look into the standard' : ''}`;

/** The middle of a range, with the uncertainty that `±`, the balance or the written digits give. */
function toHeld(datum: Datum, balance: Balance | undefined): Held {
  const { quantity } = datum;
  const { unit } = quantity;
  const kind: Kind = unit?.kind ?? 'number';
  const typed =
    quantity.to && !quantity.course ? quantity.number.value.plus(quantity.to.value).div(2) : quantity.number.value;
  const counted = quantity.count ? typed.times(quantity.count.value) : typed;
  const value = unit ? toBase(counted, unit) : counted;
  const written = writtenText(datum);
  const leaf: Leaf = { name: kind === 'density' ? 'density' : written, origin: datum.origin };
  const scale = unit ? Math.abs(unit.factor.toNumber()) : 1;
  const u = scale * (quantity.count?.value.toNumber() ?? 1) * typedUncertainty(datum, balance, scale);
  const { figures, place } = quantity.number;
  // 25 °C is known to one kelvin: three figures of 298 K.
  const carried = unit?.offset ? Math.max(1, value.e - (place + unit.factor.e) + 1) : figures;
  return reading(kind, value, u, carried, leaf, written);
}

/** Standard uncertainty in the unit as typed. */
function typedUncertainty(datum: Datum, balance: Balance | undefined, scale: number): number {
  const { quantity } = datum;
  if (quantity.plusMinus) return quantity.plusMinus.value.abs().toNumber();
  if (quantity.to && !quantity.course) {
    return quantity.to.value.minus(quantity.number.value).abs().toNumber() / 2 / SQRT3;
  }
  if (quantity.about || quantity.unit?.symbol === 'drops') return quantity.number.value.abs().toNumber() * ABOUT;
  const byBalance = balance && quantity.unit?.kind === 'mass' ? balanceUncertainty(balance) : undefined;
  if (byBalance !== undefined) return byBalance / scale;
  return 10 ** quantity.number.place / SQRT12;
}

/**
 * Standard uncertainty of one reading of a balance, g: repeatability and readability (rectangular, JCGM 100 F.2.2.1).
 * Undefined when the balance declares neither.
 */
export function balanceUncertainty(balance: Balance): number | undefined {
  const d = grams(balance.readability);
  const s = grams(balance.repeatability) ?? (d === undefined ? undefined : REPEATABILITY_FLOOR * d);
  return s === undefined ? undefined : Math.hypot(s, (d ?? 0) / SQRT12);
}

function grams(datum: Datum | undefined): number | undefined {
  const unit = datum?.quantity.unit;
  return datum && unit?.kind === 'mass' ? toBase(datum.quantity.number.value, unit).toNumber() : undefined;
}

/** As typed, in one line: `2 × 25 mL`, `25.00 ± 0.03 mL`. */
export function writtenText(datum: Datum): string {
  const { quantity } = datum;
  const count = quantity.count ? `${quantity.count.text} × ` : '';
  // The bracket of `12.345(6)` stands in the number's own text already.
  const apart = quantity.plusMinus && quantity.plusMinus.start !== quantity.number.start;
  const plusMinus = apart ? ` ± ${quantity.plusMinus.text}` : '';
  const to = quantity.to ? (quantity.course ? ` to ${quantity.to.text}` : `–${quantity.to.text}`) : '';
  const unit = quantity.unit?.symbol ? ` ${quantity.unit.symbol}` : '';
  return `${quantity.about ? '~' : ''}${count}${quantity.number.text}${plusMinus}${to}${unit}`;
}

/** A number taken for certain, as written in a claim: for working on from it. */
export function asWritten(datum: { readonly quantity: Datum['quantity'] }): Held {
  const { number, unit } = datum.quantity;
  return exact(unit?.kind ?? 'number', unit ? toBase(number.value, unit) : number.value);
}

export const one = (): Held => exact('ratio', new Decimal(1));
