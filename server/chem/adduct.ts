import text from '../data/hrms-adducts.csv';
import type { Decimal } from '../quantity/decimal';
import { type Formula, parseFormula } from './formula';
import { ELECTRON_MASS, exactMass } from './mass';
import { lazy, readTable } from './table';

export interface Adduct {
  /** As IUPAC prints it, with the true minus sign: `[M−H]−`. */
  readonly label: string;
  /** As it is typed: `[M-H]-`. */
  readonly ascii: string;
  /** In elementary charges. */
  readonly charge: number;
  readonly remark: string;
}

type Column = 'label' | 'label_ascii' | 'charge' | 'remark';

/** The usual ions of electrospray and electron ionisation, for completion. `adductMz` reads others as well. */
export const adducts: () => readonly Adduct[] = lazy(() =>
  readTable<Column>(text).map((row) => ({
    label: row.label,
    ascii: row.label_ascii,
    charge: Number(row.charge),
    remark: row.remark,
  })),
);

/** What a label without brackets means: `M+H` is `[M+H]+`. Where two ions share the inside, the first: `M−H` is the
    deprotonated molecule, not the loss of hydride. */
const insides = lazy(() => {
  const found = new Map<string, Adduct>();
  for (const adduct of [...adducts()].sort((a, b) => Number(a.ascii === '[M-H]+') - Number(b.ascii === '[M-H]+'))) {
    const inside = /^\[(.*M.+)\]/.exec(adduct.ascii)?.[1];
    if (inside && !found.has(inside)) found.set(inside, adduct);
  }
  return found;
});

/** Solvents and counter-ions in the shorthand of mass spectrometry, where it is no formula. */
const SHORTHAND: Readonly<Record<string, string>> = {
  ACN: 'C2H3N',
  FA: 'CH2O2',
  HAc: 'C2H4O2',
  TFA: 'C2HF3O2',
  IPA: 'C3H8O',
};

interface Reading {
  readonly multiplicity: number;
  readonly terms: readonly { readonly sign: 1 | -1; readonly formula: Formula; readonly times: number }[];
  readonly charge: number;
}

/**
 * m/z of an ion made from a molecule: (n·m + gained − lost − z·mₑ)/|z|, with the most abundant isotopes and the mass of
 * the electron counted. M is the neutral sum of the atoms, so `[M]+` of a formula that is written with its charge is
 * that ion.
 *
 * @param adduct `[M+H]+`, `[2M−H]-`, `[M]+•`, `M+Na`; `-` or `−`, blanks and the radical dot do not matter
 * @returns m/z in Da per elementary charge and the label as IUPAC prints it; undefined for what cannot be read, or
 * when the formula has no exact mass
 */
export function adductMz(
  f: Formula,
  adduct: string,
): { readonly mz: Decimal; readonly charge: number; readonly label: string } | undefined {
  const typed = normalise(adduct);
  const reading = read(typed);
  const mass = exactMass(f);
  if (!reading || !mass) return undefined;
  const { multiplicity, terms, charge } = reading;
  let sum = mass.times(multiplicity).minus(ELECTRON_MASS.times(charge));
  for (const { sign, formula, times } of terms) {
    const change = exactMass(formula);
    if (!change) return undefined;
    sum = sum.plus(change.times(sign * times));
  }
  return { mz: sum.div(Math.abs(charge)), charge, label: print(typed) };
}

/** m/z of an ion whose formula is written with its charge, `C9H9O4+`: the electrons are counted. */
export function ionMz(f: Formula): Decimal | undefined {
  if (f.charge === 0) return undefined;
  return exactMass(f)?.minus(ELECTRON_MASS.times(f.charge)).div(Math.abs(f.charge));
}

/** Ascii signs, square brackets, no blanks, radical dot last; the charge added where it goes without saying. */
function normalise(adduct: string): string {
  const typed = adduct
    .slice(0, 80)
    .replace(/\s/g, '')
    .replace(/[−–‐‑⁻]/g, '-')
    .replace(/⁺/g, '+')
    .replace(/[²³⁴]/g, (c) => ({ '²': '2', '³': '3', '⁴': '4' })[c] ?? c)
    .replace(/^\((.*)\)/, '[$1]')
    .replace(/\]\^/, ']')
    .replace(/[•·∙⋅˙*.]/g, '.');
  const radical = typed.replace(/^(\[?M\]?)\.?(\d*[+-])\.?$/, (whole, m: string, sign: string) =>
    whole.includes('.') || !m.startsWith('[') ? `[M]${sign}.` : whole,
  );
  if (radical.startsWith('[')) return radical;
  return insides().get(radical)?.ascii ?? radical.replace(/^(.*[^+-])([+-])$/, '[$1]$2');
}

function read(label: string): Reading | undefined {
  const found = /^\[(\d{0,2})M((?:[+-][^+-]+)*)\](\d{0,2})([+-])\.?$/.exec(label);
  if (!found) return undefined;
  const [, multiplicity, changes = '', magnitude, sign] = found;
  const charge = Number(magnitude || 1) * (sign === '+' ? 1 : -1);
  if (charge === 0 || multiplicity === '0') return undefined;
  const terms: Reading['terms'][number][] = [];
  for (const [, direction, times, name = ''] of changes.matchAll(/([+-])(\d{0,2})([^+-]+)/g)) {
    const parsed = parseFormula(SHORTHAND[name] ?? name);
    if (!parsed.ok) return undefined;
    terms.push({ sign: direction === '+' ? 1 : -1, formula: parsed.formula, times: Number(times || 1) });
  }
  return { multiplicity: Number(multiplicity || 1), terms, charge };
}

const print = (ascii: string): string => ascii.replaceAll('-', '−').replace(/\.$/, '•');
