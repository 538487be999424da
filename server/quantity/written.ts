import type { NumberNode, QuantityNode } from '../../grammar/tree';
import { Decimal, powerOfTen } from './decimal';
import type { Unit } from './units';
import { unitOf } from './units';

/** A number as typed: `12.20` has the value 12.2, two places and four figures. */
export interface Written {
  readonly text: string;
  readonly value: Decimal;
  /** Power of ten of the last digit typed: −2 for `12.20`, −5 for `1.20e-3`. */
  readonly place: number;
  readonly figures: number;
  readonly start: number;
  readonly end: number;
}

/** Undefined when the form has no single reading (`1,234`). Leading zeros are no figures; `0.00` has one. */
export function readNumber(node: NumberNode, base = 0): Written | undefined {
  if (node.digits === undefined) return undefined;
  const match = /^([+-]?)(\d+)(?:\.(\d*))?(?:e([+-]?\d+))?$/i.exec(node.digits);
  if (!match) return undefined;
  const [, , whole = '', fraction = '', exponent = '0'] = match;
  const power = Number(exponent);
  // decimal.js holds exponents up to 9e15; beyond that nothing is a quantity.
  if (!Number.isSafeInteger(power) || Math.abs(power) > 1e6) return undefined;
  const value = new Decimal(node.digits);
  const place = power - fraction.length;
  return {
    text: node.text,
    value,
    place,
    figures: Math.max(1, `${whole}${fraction}`.replace(/^0+/, '').length),
    start: base + node.span.start,
    end: base + node.span.end,
  };
}

/** A quantity as typed, its spans from the page's start. */
export interface Quantity {
  readonly number: Written;
  readonly plusMinus?: Written;
  /** Upper end of a range, or the end of a course. */
  readonly to?: Written;
  readonly course: boolean;
  readonly about: boolean;
  readonly count?: Written;
  readonly unit?: Unit;
  readonly start: number;
  readonly end: number;
}

/** Undefined when one of its numbers has no single reading. `base` is where the block starts on the page. */
export function readQuantity(node: QuantityNode, base = 0): Quantity | undefined {
  const number = readNumber(node.number, base);
  if (!number) return undefined;
  const plusMinus = node.plusMinus ? readNumber(node.plusMinus, base) : concise(node.number, number, base);
  const to = node.to && readNumber(node.to, base);
  const count = node.count && readNumber(node.count, base);
  if ((node.plusMinus && !plusMinus) || (node.to && !to) || (node.count && !count)) return undefined;
  return {
    number,
    ...(plusMinus && { plusMinus }),
    ...(to && { to }),
    ...(count && { count }),
    course: node.course,
    about: node.about,
    ...(node.unit && { unit: unitOf(node.unit.symbol) }),
    start: base + node.span.start,
    end: base + node.span.end,
  };
}

/** `12.345(6)`: the bracket counts in units of the last digit. */
function concise(node: NumberNode, number: Written, base: number): Written | undefined {
  if (node.concise === undefined) return undefined;
  return {
    text: node.concise,
    value: new Decimal(node.concise).times(powerOfTen(number.place)),
    place: number.place,
    figures: node.concise.length,
    start: base + node.span.start,
    end: base + node.span.end,
  };
}
