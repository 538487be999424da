/** Every formula that is written out on a page: in declarations, and where a formula stands for a name. */
import type { Span } from '../../grammar/tree';
import { type Formula, looksLikeFormula, parseFormula } from '../chem/formula';
import type { Entry, NameRef, Page } from '../model/page';
import { isWritten } from './declared';

export interface WrittenFormula {
  readonly formula: Formula;
  readonly text: string;
  readonly span: Span;
  readonly block: number;
  readonly inEquation: boolean;
}

export function* writtenFormulas(page: Page): Generator<WrittenFormula> {
  for (const { entry, formula, repeatUnit } of page.substances) {
    for (const fact of [formula, repeatUnit]) {
      if (entry && fact?.formula && isWritten(fact))
        yield { formula: fact.formula, text: fact.text, span: fact.span, block: entry.block, inEquation: false };
    }
  }
  for (const { left, right, entry } of page.reactions)
    for (const { name } of [...left, ...right]) yield* asFormula(name, entry, true);
  const seen = new Set<number>();
  for (const { name, entry } of [...page.charges, ...page.products, ...page.recovered]) {
    if (seen.has(name.span.start)) continue;
    seen.add(name.span.start);
    yield* asFormula(name, entry, false);
  }
}

/** A name that is declared is a name, whatever it looks like. */
function* asFormula({ text, span, target }: NameRef, entry: Entry, inEquation: boolean): Generator<WrittenFormula> {
  if (span.end - span.start !== text.length || !looksLikeFormula(text)) return;
  if (target && target.where.kind !== 'formula' && target.name === text) return;
  const parsed = parseFormula(text);
  if (parsed.ok) yield { formula: parsed.formula, text, span, block: entry.block, inEquation };
}
