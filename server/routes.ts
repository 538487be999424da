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

/** One way to a product, from a page that takes nothing of another to the page that made it. */
export interface Branch {
  /** Pages from the first to the last. */
  readonly pages: readonly string[];
  readonly product: string;
  /** 1; undefined where a step has no yield. */
  readonly yield?: number;
  /** The longest linear way to this product; of ways equally long the one with the least yield. */
  readonly longest: boolean;
}

/** Ways that meet and part again multiply; more than this of one product tell nobody anything. */
const MOST_BRANCHES = 100;

/**
 * All ways to the products at the end of routes: pages that take batches and whose own nobody of them takes.
 *
 * @param ends pages to look at
 * @param outcomes pages by ID, those of the whole notebook
 */
export function branchesOf(ends: readonly Outcome[], outcomes: (id: string) => readonly Outcome[]): readonly Branch[] {
  const makers = ends.filter(({ made }) => made.length > 0);
  const taken = new Set(makers.flatMap((page) => page.taken.filter(({ id }) => id !== page.id).map(({ id }) => id)));
  return makers
    .filter((page) => page.taken.length > 0 && !taken.has(page.id))
    .flatMap((page) =>
      [
        ...new Map(page.made.filter(({ label }) => label === undefined).map((made) => [made.key, made])).values(),
      ].flatMap((made) => branchesTo(page, made, outcomes)),
    );
}

interface Step {
  readonly id: string;
  readonly yield?: number;
}

function branchesTo(
  page: Outcome,
  made: Outcome['made'][number],
  outcomes: (id: string) => readonly Outcome[],
): readonly Branch[] {
  const found: Omit<Branch, 'longest'>[] = [];
  const walk = (at: Outcome, of: Outcome['made'][number], behind: readonly Step[]): void => {
    if (found.length >= MOST_BRANCHES) return;
    const steps: readonly Step[] = [{ id: at.id, ...(of.yield !== undefined && { yield: of.yield }) }, ...behind];
    let first = true;
    for (const batch of distinct(at.taken)) {
      const sources = outcomes(batch.id);
      const source = sources.length === 1 ? sources[0] : undefined;
      const from = source?.made.find((m) => batch.label === undefined || m.label === batch.label);
      if (!source || !from || steps.some(({ id }) => id === source.id)) continue;
      first = false;
      walk(source, from, steps);
    }
    if (first && steps.length > 1)
      found.push({ pages: steps.map(({ id }) => id), product: made.name, ...overall(steps) });
  };
  walk(page, made, []);
  const longest = [...found].sort((a, b) => b.pages.length - a.pages.length || (a.yield ?? 0) - (b.yield ?? 0))[0];
  return found.map((branch) => ({ ...branch, longest: branch === longest }));
}

const distinct = (taken: Outcome['taken']): Outcome['taken'] => [
  ...new Map(taken.map((batch) => [`${batch.id}/${batch.label ?? ''}`, batch])).values(),
];

function overall(steps: readonly Step[]): { yield?: number } {
  let product = 1;
  for (const step of steps) {
    if (step.yield === undefined) return {};
    product *= step.yield;
  }
  return { yield: product };
}
