import text from '../data/constants.csv';
import { Decimal } from '../quantity/decimal';
import { lazy, readTable } from './table';

const values = lazy(
  () => new Map(readTable<'symbol' | 'value'>(text).map((row) => [row.symbol, new Decimal(row.value)] as const)),
);

/**
 * A constant of nature or a conventional value by its symbol in `data/constants.csv` (CODATA 2022), in the unit that
 * the table gives: `constant('R')` is the molar gas constant in J mol⁻¹ K⁻¹.
 */
export function constant(symbol: string): Decimal {
  const value = values().get(symbol);
  if (!value) throw new Error(`no constant ${symbol} in constants.csv`);
  return value;
}
