/** Products and quotients that say their own working: the symbol beside each factor stands in the formula. */
import type { Decimal } from './decimal';
import { divide, type Held, multiply, type Working } from './held';
import type { Kind } from './kinds';

/** A formula with the held values behind its symbols. */
export const working = (formula: string, ...inputs: readonly (readonly [symbol: string, held: Held])[]): Working => ({
  formula,
  inputs: inputs.map(([symbol, held]) => ({ symbol, held })),
});

/** a · b; `factor` turns the product of the base units into the base unit of `kind`. */
export const times = (kind: Kind, a: Held, sa: string, b: Held, sb: string, factor: Decimal.Value = 1): Held =>
  multiply(kind, a, b, working(`${sa} · ${sb}`, [sa, a], [sb, b]), factor);

/** a ÷ b, likewise; undefined when b is zero. */
export const over = (
  kind: Kind,
  a: Held,
  sa: string,
  b: Held,
  sb: string,
  factor: Decimal.Value = 1,
): Held | undefined => divide(kind, a, b, working(`${sa} ÷ ${sb}`, [sa, a], [sb, b]), factor);
