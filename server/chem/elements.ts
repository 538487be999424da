import weights from '../data/atomic-weights.csv';
import isotopes from '../data/isotopes.csv';
import { Decimal } from '../quantity/decimal';
import { lazy, readTable } from './table';

export interface Element {
  /** Atomic number. */
  readonly Z: number;
  readonly symbol: string;
  /** English name as IUPAC spells it: aluminium, caesium, sulfur. */
  readonly name: string;
  /** Standard atomic weight to compute with (g/mol): CIAAW 2021/2024, the abridged value where the standard is an
      interval. Absent for elements without stable isotopes. */
  readonly weight?: Decimal;
  /** Standard uncertainty of `weight` in g/mol. */
  readonly u: number;
}

export interface Nuclide {
  /** Mass number and symbol, `13C`. */
  readonly label: string;
  readonly symbol: string;
  readonly massNumber: number;
  /** Exact mass in Da (AME2020). */
  readonly mass: Decimal;
  /** Standard uncertainty of `mass` in Da. */
  readonly u: number;
  /** Working mole fraction in nature; 0 for a nuclide that does not occur there. */
  readonly abundance: number;
}

type WeightColumn = 'Z' | 'symbol' | 'name' | 'working_value' | 'working_u';
type IsotopeColumn =
  | 'label'
  | 'symbol'
  | 'mass_number'
  | 'exact_mass_Da'
  | 'exact_mass_u'
  | 'abundance'
  | 'most_abundant';

/** All 118 elements by symbol. */
export const elements: () => ReadonlyMap<string, Element> = lazy(
  () =>
    new Map(
      readTable<WeightColumn>(weights).map((row) => [
        row.symbol,
        {
          Z: Number(row.Z),
          symbol: row.symbol,
          name: row.name,
          ...(row.working_value && { weight: new Decimal(row.working_value) }),
          u: Number(row.working_u),
        },
      ]),
    ),
);

const isotopeTable = lazy(() => {
  const nuclides = new Map<string, Nuclide>();
  const main = new Map<string, Nuclide>();
  for (const row of readTable<IsotopeColumn>(isotopes)) {
    const nuclide: Nuclide = {
      label: row.label,
      symbol: row.symbol,
      massNumber: Number(row.mass_number),
      mass: new Decimal(row.exact_mass_Da),
      u: Number(row.exact_mass_u),
      abundance: Number(row.abundance),
    };
    nuclides.set(row.label, nuclide);
    if (row.most_abundant === 'yes') main.set(row.symbol, nuclide);
  }
  return { nuclides, main };
});

/** All nuclides with a known mass by label, `13C`. */
export const nuclides = (): ReadonlyMap<string, Nuclide> => isotopeTable().nuclides;

/** The most abundant isotope of an element, the one a monoisotopic mass counts; undefined where none is natural. */
export const mostAbundant = (symbol: string): Nuclide | undefined => isotopeTable().main.get(symbol);

/** The element of a key of a composition: `13C` is `C`. */
export const elementOf = (key: string): string => key.replace(/^\d+/, '');

// No standard draws the line between metals and the rest; here the metalloids B, Si, Ge, As, Sb and Te are no metals
// (common practice, no source).
const notMetals = lazy(
  () => new Set('H He B C N O F Ne Si P S Cl Ar Ge As Se Br Kr Sb Te I Xe At Rn Ts Og'.split(' ')),
);

export const isMetal = (symbol: string): boolean => elements().has(symbol) && !notMetals().has(symbol);

/** Fluorine, chlorine, bromine, iodine: what makes waste halogenated. */
export const isHalogen = (symbol: string): boolean => /^(?:F|Cl|Br|I)$/.test(symbol);
