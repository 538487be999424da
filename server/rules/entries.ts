/** Finds what belongs to one entry of a page. */
import type { ClaimValue, Values } from '../compute/values';
import type { Amount, Entry, Page, WeighingFacts } from '../model/page';

/** The amount of a charge, product, recovered or weigh statement. */
export function amountOf(page: Page, entry: Entry): Amount | undefined {
  for (const list of [page.products, page.charges, page.weighs, page.recovered]) {
    const owner = list.find((one) => one.entry === entry);
    if (owner) return owner.amount;
  }
  return undefined;
}

export const weighingOf = (page: Page, entry: Entry): WeighingFacts | undefined => amountOf(page, entry)?.weighing;

/** A net mass that is claimed of an entry: labelled so, or a bare mass. */
export function netClaimOf(values: Values, entry: Entry): ClaimValue | undefined {
  const claims = values.claims.filter((c) => c.owner === entry && c.claim.quantity.unit?.kind === 'mass');
  return claims.find((c) => c.property === 'net' || c.claim.label === 'net') ?? claims.find((c) => !c.claim.label);
}
