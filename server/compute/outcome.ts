/** What a page turned out to be, for the pages that build on it: what it made, and what it took. */

import { foldName } from '../../grammar/names';
import type { BatchRef, Material } from '../model/page';
import type { Outcome } from '../model/world';
import { held, type Result } from '../quantity/held';
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
    taken: [
      ...values.charges.flatMap((c) => takenOf(batchOf(c), c.mass)),
      ...values.solutions.flatMap(({ solution, soluteMass }) =>
        solution.where.kind === 'page' && solution.strength?.kind === 'made-up'
          ? takenOf(madeElsewhere(solution.solute?.target), soluteMass)
          : [],
      ),
      // What was taken out of the product itself.
      ...values.samples.flatMap(({ within, mass }) => (within ? takenOf({ id }, mass) : [])),
      ...values.used.flatMap(({ name, mass }) => (isMadeHere(name.target, values) ? takenOf({ id }, mass) : [])),
    ],
  };
}

const isMadeHere = (target: Material | undefined, { products }: Values): boolean =>
  target !== undefined && products.some(({ product }) => product.name.target === target);

function takenOf(batch: Pick<BatchRef, 'id' | 'label'> | undefined, result: Result): Outcome['taken'] {
  if (!batch) return [];
  const mass = held(result)?.value.toNumber();
  return [{ id: batch.id, ...(batch.label && { label: batch.label }), ...(mass !== undefined && { mass }) }];
}

const madeElsewhere = (material: Material | undefined): BatchRef | undefined =>
  material?.kind === 'substance' ? material.made : undefined;

/** The batch a charge names, else the page that its substance is from. */
const batchOf = ({ charge }: ChargeValue): BatchRef | undefined => charge.batch ?? madeElsewhere(charge.name.target);

/** The batch a product's route comes from: that of the limiting reactant, else of any reactant with one. */
export function batchBehind(
  reaction: ReactionValue | undefined,
  charges: readonly ChargeValue[],
): BatchRef | undefined {
  const own = charges.filter((c) => c.term && batchOf(c) && c.reaction?.reaction === reaction?.reaction);
  const from = own.find((c) => c.term === reaction?.limiting?.term.term) ?? own[0];
  return from && batchOf(from);
}
