/** What is computed on a page of a few lines. */
import type { Values } from '../../../server/compute/values';
import { isHeld, type Result, uncertainty } from '../../../server/quantity/held';
import { notebook, uriOf } from '../../kit/notebook';

/** Values of a page that stands alone, with these lines under its head. */
export function valuesOf(text: string, others: Readonly<Record<string, string>> = {}): Values {
  const page = `experiment X-1: test\ndate: 2026-03-02\nauthor: MK\n${text}\n`;
  return notebook({ 'page.tare': page, ...others })
    .snapshot(uriOf('page.tare'))
    .page(1).values;
}

/** In the base unit of its kind; the reason in words where there is no value. */
export const worth = (result: Result | undefined): number | string =>
  isHeld(result) ? result.value.toNumber() : (result?.missing ?? 'nothing');

/** The exact decimal. */
export const digitsOf = (result: Result | undefined): string =>
  isHeld(result) ? result.value.toFixed() : (result?.missing ?? 'nothing');

export const uOf = (result: Result | undefined): number => (isHeld(result) ? uncertainty(result) : Number.NaN);

export const chargeOf = (values: Values, name: string) => {
  const found = values.charges.find((c) => c.charge.name.text === name);
  if (!found) throw new Error(`No charge of ${name}`);
  return found;
};

export const reactionOf = (values: Values, id = 'R1') => {
  const found = values.reactions.find((r) => r.reaction.id === id);
  if (!found) throw new Error(`No reaction ${id}`);
  return found;
};
