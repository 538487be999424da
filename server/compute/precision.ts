/**
 * How small a mass a balance can weigh: USP general chapter 41 asks that twice the standard deviation of repeated
 * weighings is at most 0.10 % of the smallest net mass, with 0.41 steps of the display for any smaller deviation.
 */
import type { Balance, Datum } from '../model/page';
import { Decimal } from '../quantity/decimal';
import { divide, exact, type Held, multiply } from '../quantity/held';
import { toBase } from '../quantity/units';

/** √2 · 0.29 of a step: two rounded readings. */
const FLOOR = new Decimal('0.41');
const LIMIT = new Decimal('0.001');

const grams = (datum: Datum | undefined): Decimal | undefined => {
  const quantity = datum?.quantity;
  return quantity?.unit?.kind === 'mass' ? toBase(quantity.number.value, quantity.unit) : undefined;
};

/** Standard deviation of a weighing as the chapter counts it, g; undefined where the balance declares nothing. */
export function deviationOf(balance: Balance): Held | undefined {
  const s = grams(balance.repeatability);
  const d = grams(balance.readability);
  const floor = d?.times(FLOOR);
  if (s && (!floor || s.gte(floor))) return exact('mass', s, balance.repeatability!.origin);
  if (!floor || !d) return undefined;
  const step = exact('mass', d, balance.readability!.origin);
  const share = exact('number', FLOOR);
  return multiply('mass', share, step, {
    formula: '0.41 · d',
    inputs: [{ symbol: 'd', held: step }],
  });
}

/** 2 s ÷ m of a net mass, 1. */
export function relativeSpread(net: Held, balance: Balance): Held | undefined {
  const s = deviationOf(balance);
  if (!s || net.value.lte(0)) return undefined;
  const inputs = [
    { symbol: 's', held: s },
    { symbol: 'm', held: net },
  ];
  return divide('ratio', s, net, { formula: '2 · s ÷ m', inputs }, 2);
}

/** 2 s ÷ 0.10 %, g. */
export function minimumWeight(balance: Balance): Held | undefined {
  const s = deviationOf(balance);
  return (
    s && divide('mass', s, exact('ratio', LIMIT), { formula: '2 · s ÷ 0.001', inputs: [{ symbol: 's', held: s }] }, 2)
  );
}
