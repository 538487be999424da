import { Decimal } from 'decimal.js';

// 34 digits (decimal128): more than any balance, few enough to stay fast. Ties go to even (NIST SP 811 B.7).
// The exponent range is that of the default, so 10^400 is a number and not infinity.
Decimal.set({ precision: 34, rounding: Decimal.ROUND_HALF_EVEN });

export { Decimal };
export const ZERO = new Decimal(0);
export const ONE = new Decimal(1);

const powers = new Map<number, Decimal>();

/** A power of ten, exactly. */
export function powerOfTen(exponent: number): Decimal {
  let power = powers.get(exponent);
  if (!power) {
    power = new Decimal(`1e${exponent}`);
    if (Math.abs(exponent) < 40) powers.set(exponent, power);
  }
  return power;
}
