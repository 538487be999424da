import { Decimal } from '../quantity/decimal';
import { constant } from './constants';
import { elements, mostAbundant, nuclides } from './elements';
import { type Formula, hillOrder } from './formula';

/** Mass of the electron in Da (CODATA 2022). */
export const ELECTRON_MASS = constant('m_e_u');

export interface MassPart {
  /** Element symbol or nuclide. */
  readonly symbol: string;
  readonly count: Decimal;
  /** Weight of one atom in g/mol. */
  readonly weight: Decimal;
  /** Standard uncertainty of `weight` in g/mol. */
  readonly u: number;
}

export interface MolarMass {
  /** In g/mol. */
  readonly value: Decimal;
  /** In Hill order. */
  readonly parts: readonly MassPart[];
}

/**
 * Standard atomic weight in g/mol with its standard uncertainty (CIAAW 2021 with the revisions of 2024; the abridged
 * value for elements whose standard is an interval), or the exact mass of a nuclide (`13C`; AME2020). Undefined for an
 * element without a standard weight.
 */
export function atomicWeight(key: string): { readonly value: Decimal; readonly u: number } | undefined {
  const element = elements().get(key);
  if (element) return element.weight && { value: element.weight, u: element.u };
  const nuclide = /^\d/.test(key) ? nuclides().get(key) : undefined;
  return nuclide && { value: nuclide.mass, u: nuclide.u };
}

/**
 * Molar mass, the sum of the atomic weights. Electrons of an ion are not counted (at most 0.002 g/mol). Undefined when
 * an element has no standard atomic weight, and for the electron.
 */
export function molarMass(f: Formula): MolarMass | undefined {
  if (f.counts.size === 0) return undefined;
  const parts: MassPart[] = [];
  let value = new Decimal(0);
  for (const symbol of hillOrder(f.counts)) {
    const weight = atomicWeight(symbol);
    if (!weight) return undefined;
    const count = f.counts.get(symbol)!;
    parts.push({ symbol, count, weight: weight.value, u: weight.u });
    value = value.plus(count.times(weight.value));
  }
  return { value, parts };
}

/**
 * Exact (monoisotopic) mass in Da: most abundant isotopes, neutral sum of the atoms, no correction for the electrons of
 * an ion. Undefined for fractional counts and for elements that have no natural isotope.
 */
export function exactMass(f: Formula): Decimal | undefined {
  if (f.counts.size === 0) return undefined;
  let sum = new Decimal(0);
  for (const [key, count] of f.counts) {
    const nuclide = /^\d/.test(key) ? nuclides().get(key) : mostAbundant(key);
    if (!nuclide || !count.isInteger()) return undefined;
    sum = sum.plus(count.times(nuclide.mass));
  }
  return sum;
}

/** Mass fraction (0 to 1) of each element or nuclide, in Hill order; empty when there is no molar mass. */
export function massFractions(f: Formula): ReadonlyMap<string, Decimal> {
  const mass = molarMass(f);
  if (!mass || mass.value.isZero()) return new Map();
  return new Map(mass.parts.map((part) => [part.symbol, part.count.times(part.weight).div(mass.value)]));
}
