/** Where an uncertainty comes from, in one line: `u from: 15.0 mL 92 %, density 7 %`. */
import { budget } from '../../quantity/budget';
import { Decimal } from '../../quantity/decimal';
import type { Held } from '../../quantity/held';
import { digits } from '../../quantity/show';

const MOST = 3;
const LEAST_SHARE = 0.01;

/** The largest parts as shares of u²; nothing where one makes up all of it. */
export function uncertaintyFrom(held: Held | undefined): string | undefined {
  const parts = held ? budget(held) : [];
  const shown = parts.filter(({ share }) => share >= LEAST_SHARE).slice(0, MOST);
  if (shown.length < 2) return undefined;
  return `u from: ${shown.map(({ name, share }) => `${name} ${digits(new Decimal(share * 100), 0)} %`).join(', ')}`;
}
