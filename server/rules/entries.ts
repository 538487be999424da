/** Finds what belongs to one entry of a page. */
import type { PageSource } from '../../grammar/tree';
import type { FactKey } from '../../grammar/vocabulary';
import type { ClaimValue, Values } from '../compute/values';
import type { Amount, Charge, Entry, Page, Product, Recovered, Weigh, WeighingFacts } from '../model/page';
import type { TareElsewhere } from '../model/world';
import type { Origin } from '../quantity/held';

/** What has an amount of a material. */
export type Owner = Charge | Product | Recovered | Weigh;

function findOwner(page: Page, is: (entry: Entry) => boolean): Owner | undefined {
  for (const owners of [page.charges, page.products, page.recovered, page.weighs]) {
    const owner = owners.find((one) => is(one.entry));
    if (owner) return owner;
  }
  return undefined;
}

export const ownerAt = (page: Page, block: number): Owner | undefined => findOwner(page, (e) => e.block === block);

/** The amount of a charge, product, recovered or weigh statement. */
export const amountOf = (page: Page, entry: Entry): Amount | undefined => findOwner(page, (e) => e === entry)?.amount;

export const weighingOf = (page: Page, entry: Entry): WeighingFacts | undefined => amountOf(page, entry)?.weighing;

/** A net mass that is claimed of an entry: labelled so, or a bare mass. */
export function netClaimOf(values: Values, entry: Entry): ClaimValue | undefined {
  const claims = values.claims.filter((c) => c.owner === entry && c.claim.quantity.unit?.kind === 'mass');
  return claims.find((c) => c.property === 'net' || c.claim.label === 'net') ?? claims.find((c) => !c.claim.label);
}

export const originOf = ({ uri, id, date, vessel, entry, span }: TareElsewhere): Origin => ({
  from: 'there',
  where: [id ?? vessel, date].filter(Boolean).join(', '),
  uri,
  ...(id && { page: id }),
  entry,
  start: span.start,
  end: span.end,
});

/** Whether a fact with this word and a number stands in the statement, readable or not. */
export function isWritten(key: FactKey, source: PageSource, entry: Entry): boolean {
  const statement = source.blocks[entry.block]?.block.statement;
  if (statement?.keyword !== entry.keyword || statement.body.kind !== 'facts') return false;
  const facts = statement.body.legs.flatMap((leg) => leg.facts);
  return facts.some((fact) => fact.key === key && fact.parts.some((part) => part.kind === 'quantity'));
}
