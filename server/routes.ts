/** Yields over several pages: each product times the yields of the batches it came from. */
import type { Outcome } from './model/world';

export interface Route {
  /** Pages from the first to the last. */
  readonly pages: readonly string[];
  readonly product: string;
  /** 1 */
  readonly yield: number;
}

/** The way to a product; undefined when a step has no yield, or when the pages lead back to themselves. */
export function routeTo(
  outcomes: (id: string) => readonly Outcome[],
  outcome: Outcome,
  made: Outcome['made'][number],
  seen: readonly string[] = [],
): Route | undefined {
  if (made.yield === undefined || seen.includes(outcome.id)) return undefined;
  const here: Route = { pages: [outcome.id], product: made.name, yield: made.yield };
  if (!made.from) return here;
  const { id, label } = made.from;
  const makers = outcomes(id);
  // Two pages with one ID: nobody knows which batch was meant.
  if (makers.length !== 1) return undefined;
  const batch = makers[0]!.made.filter((m) => label === undefined || m.label === label);
  const before = batch[0] && routeTo(outcomes, makers[0]!, batch[0], [...seen, outcome.id]);
  return before && { pages: [...before.pages, outcome.id], product: made.name, yield: before.yield * made.yield };
}
