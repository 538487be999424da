/** What a page turned out to be, for the pages that build on it: what it made, and what it took. */

import { foldName } from '../../grammar/names';
import type { Outcome } from '../model/world';
import { held } from '../quantity/held';
import type { Values } from './values';

export function outcomeOf(values: Values, uri: string, id: string): Outcome {
  return {
    uri,
    id,
    made: values.products
      .filter((p) => !p.superseded)
      .map((p) => {
        const mass = held(p.mass)?.value.toNumber();
        const yields = (p.stageYield ?? held(p.yield))?.value.toNumber();
        const from = batchBehind(p, values);
        const label = p.product.label?.text;
        return {
          name: p.product.name.text,
          key: foldName(p.product.name.text),
          ...(label && { label }),
          ...(mass !== undefined && { mass }),
          ...(yields !== undefined && { yield: yields }),
          ...(from && { from }),
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
function batchBehind(product: Values['products'][number], values: Values): { id: string; label?: string } | undefined {
  const own = values.charges.filter((c) => c.reaction?.reaction === product.reaction?.reaction && c.term);
  const limiting = own.find((c) => c.term === product.reaction?.limiting?.term.term && c.charge.batch);
  const batch = (limiting ?? own.find((c) => c.charge.batch))?.charge.batch;
  return batch && { id: batch.id, ...(batch.label && { label: batch.label }) };
}
