/** Which structure a substance has: its own SMILES, else that of the handbook's substance of the same name and formula. */
import { foldName } from '../../grammar/names';
import { parseFormula, sameComposition } from '../chem/formula';
import { findInHandbook } from '../model/handbook';
import type { Substance } from '../model/page';

export interface Structure {
  readonly smiles: string;
  /** `handbook`: the page gives no SMILES; name and formula are those of the handbook's entry. */
  readonly from: 'page' | 'handbook';
}

export function structureOf(substance: Substance): Structure | undefined {
  if (substance.smiles) return { smiles: substance.smiles.text, from: 'page' };
  if (substance.repeatUnit || substance.state === 'mixture') return undefined;
  const found = findInHandbook(substance.name);
  const entry = found?.kind === 'one' && found.entry.kind === 'substance' ? found.entry : undefined;
  if (!entry?.smiles) return undefined;
  const key = foldName(substance.name);
  if (![entry.name, ...entry.synonyms].some((name) => foldName(name) === key)) return undefined;
  if (substance.formula) {
    const book = entry.formula === undefined ? undefined : parseFormula(entry.formula);
    const own = substance.formula.formula;
    if (!own || !book?.ok || !sameComposition(own, book.formula)) return undefined;
  }
  return { smiles: entry.smiles, from: 'handbook' };
}
