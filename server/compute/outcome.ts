/** What a page turned out to be, for the pages that build on it: what it made, and what it took. */

import { foldName } from '../../grammar/names';
import type { BatchRef } from '../model/page';
import type { Outcome } from '../model/world';
import { held } from '../quantity/held';
import type { ChargeValue, ReactionValue, Values } from './values';

export function outcomeOf(values: Values, uri: string, id: string): Outcome {
  return {
    uri,
    id,
    made: values.products
      .filter((p) => !p.superseded)
      .map((p) => {
        const mass = held(p.mass)?.value.toNumber();
        const yields = (p.stageYield ?? held(p.yield))?.value.toNumber();
        const from = batchBehind(p.reaction, values.charges);
        const label = p.product.label?.text;
        return {
          name: p.product.name.text,
          key: foldName(p.product.name.text),
          ...(label && { label }),
          ...(mass !== undefined && { mass }),
          ...(yields !== undefined && { yield: yields }),
          ...(from && { from: { id: from.id, ...(from.label && { label: from.label }) } }),
        };
      }),
    taken: values.charges.flatMap((c) => {
      if (!c.charge.batch) return [];
      const mass = held(c.mass)?.value.toNumber();
      const { id: batch, label } = c.charge.batch;
      return [{ id: batch, ...(label && { label }), ...(mass !== undefined && { mass }) }];
    }),
  };
}

/** The batch a product's route comes from: that of the limiting reactant, else of any reactant with one. */
export function batchBehind(
  reaction: ReactionValue | undefined,
  charges: readonly ChargeValue[],
): BatchRef | undefined {
  const own = charges.filter((c) => c.term && c.charge.batch && c.reaction?.reaction === reaction?.reaction);
  return (own.find((c) => c.term === reaction?.limiting?.term.term) ?? own[0])?.charge.batch;
}
