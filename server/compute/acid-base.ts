/** How many protons a substance gives or takes, from its groups, its pKa values and its formula. */
import { parseFormula } from '../chem/formula';
import { equivalentsPerMole } from '../chem/normality';
import { findInHandbook, type HandbookSubstance } from '../model/handbook';
import type { Substance } from '../model/page';
import { groupsOf } from './reactive-groups';
import { formulaOf } from './substance';

/** Carbonic acid leaves as gas, so both protons of a carbonate count below this pH; pKa 6.35 and 10.33. */
const CARBONATE_HALFWAY = 8.3;
const STRONG_ACIDS: ReadonlySet<string> = new Set(
  '7647-01-0 10035-10-6 10034-85-2 7697-37-2 7601-90-3 7664-93-9'.split(' '),
);
const OXIDES: Readonly<Record<string, number>> = { CaO: 2, BaO: 2, MgO: 2 };

export interface Protons {
  readonly kind: 'acid' | 'base';
  /** In one mole, to the pH asked for. */
  readonly count: number;
  /** Fully ionised in water: the heat of neutralisation is that of water being formed. */
  readonly strong: boolean;
}

/**
 * Acid or base, and how many protons a mole gives or takes up to `pH`; without a pH all that a titration to the usual
 * end point counts. Undefined for what is neither, or where nobody knows how many.
 */
export function protonsOf(substance: Substance, pH?: number): Protons | undefined {
  const groups = groupsOf(substance);
  const book = bookOf(substance);
  const formula = formulaOf(substance) ?? parsed(book?.formula);
  const acid = ACIDS.some((group) => groups.has(group));
  if (acid) {
    const cas = substance.cas?.text ?? book?.cas;
    const below = pH === undefined ? undefined : book?.pKa?.acid.filter((pKa) => Number(pKa) < pH).length;
    const count =
      (below !== undefined && (book?.pKa?.acid.length ?? 0) > 0 ? below : undefined) ??
      (formula && equivalentsPerMole(formula, 'acid')) ??
      book?.pKa?.acid.length;
    return count ? { kind: 'acid', count, strong: cas !== undefined && STRONG_ACIDS.has(cas) } : undefined;
  }
  const carbonate = groups.has('carbonate');
  if (carbonate || groups.has('base-hydrogencarbonate')) {
    const count = formula && equivalentsPerMole(formula, 'base');
    if (!count) return undefined;
    return { kind: 'base', count: carbonate && pH !== undefined && pH > CARBONATE_HALFWAY ? 1 : count, strong: false };
  }
  if (groups.has('base-inorganic') || groups.has('amine') || groups.has('ammonia-ammonium')) {
    const conjugate = book?.pKa?.conjugateAcid ?? [];
    const hydroxide = isHydroxide(substance, book);
    if (conjugate.length > 0 && !hydroxide) {
      const count = conjugate.filter((pKa) => Number(pKa) > (pH ?? 7)).length;
      return count > 0 ? { kind: 'base', count, strong: false } : undefined;
    }
    const count = (formula && equivalentsPerMole(formula, 'base')) ?? OXIDES[book?.written ?? book?.formula ?? ''];
    return count && (hydroxide || groups.has('base-inorganic'))
      ? { kind: 'base', count, strong: hydroxide }
      : undefined;
  }
  return undefined;
}

const ACIDS = ['acid-mineral-nonoxidising', 'acid-oxidising', 'acid-organic'];

function isHydroxide(substance: Substance, book: HandbookSubstance | undefined): boolean {
  const formula = formulaOf(substance) ?? parsed(book?.formula);
  const dry = formula?.hydrate?.dry ?? formula;
  const count = (key: string): number => dry?.counts.get(key)?.toNumber() ?? 0;
  const carbon = count('C') > 0 || count('N') > 0;
  return dry !== undefined && !carbon && dry.counts.size === 3 && count('O') > 0 && count('O') === count('H');
}

function parsed(formula: string | undefined) {
  const result = formula === undefined ? undefined : parseFormula(formula);
  return result?.ok ? result.formula : undefined;
}

/** The handbook's entry for a substance by one of its names or its formula. */
export function bookOf(substance: Substance): HandbookSubstance | undefined {
  for (const name of [substance.name, ...substance.also.map(({ text }) => text), substance.formula?.text ?? '']) {
    const found = name === '' ? undefined : findInHandbook(name);
    if (found?.kind === 'one' && found.entry.kind === 'substance') return found.entry;
  }
  return undefined;
}
