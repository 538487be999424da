/** Tells what a page wrote itself from what was filled in. */
import type { Span } from '../../grammar/tree';
import type { Datum, FormulaFact, Substance } from '../model/page';

/** Facts that come from the handbook have no place on the page. */
export const isWritten = (fact: { readonly span: Span } | undefined): boolean =>
  fact !== undefined && fact.span.end > fact.span.start;

export interface OwnFacts {
  readonly formula?: FormulaFact;
  readonly density?: Datum;
}

/** Formula and density as the page has them. */
export function ownFacts({ formula, density }: Substance): OwnFacts {
  return {
    ...(formula && isWritten(formula) && { formula }),
    ...(density && isWritten(density) && { density }),
  };
}
