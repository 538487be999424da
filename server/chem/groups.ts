import { lazy } from './table';

/** What an abbreviation stands for: element symbols and how many of each. */
export type Composition = readonly (readonly [symbol: string, count: number])[];

// Abbreviations as the synthesis literature uses them (common practice; the compositions are those of the groups'
// IUPAC names). Pr and Ac are element symbols too and stand apart, see `isGroup`. Ts is always tosyl: nobody has
// weighed tennessine.
const GROUPS = `
Me CH3, Et C2H5, Bu C4H9, Ph C6H5, Bn C7H7, Bz C7H5O, Tol C7H7, Mes C9H11, Cy C6H11, Cp C5H5, Cp* C10H15, Fc C10H9Fe,
Ts C7H7O2S, Ms CH3O2S, Tf CF3O2S, Tr C19H15, Trt C19H15, PMB C8H9O, Boc C5H9O2, Cbz C8H7O2, Fmoc C15H11O2,
Alloc C4H5O2, Troc C3H2Cl3O2, Piv C5H9O, TMS C3H9Si, TES C6H15Si, TBS C6H15Si, TBDMS C6H15Si, TIPS C9H21Si,
TBDPS C16H19Si, MOM C2H5O, MEM C4H9O2, SEM C6H15OSi, THP C5H9O, THF C4H8O, DMF C3H7NO, DMSO C2H6OS, DME C4H10O2,
TFA C2HF3O2, Py C5H5N, Bpin C6H12BO2, B2pin2 C12H24B2O4`;

// Read only where a ligand or a solvate begins: after an opening bracket or a dot.
const LIGANDS = `
py C5H5N, bpy C10H8N2, bipy C10H8N2, phen C12H8N2, en C2H8N2, tmeda C6H16N2, acac C5H7O2, dba C17H14O, cod C8H12,
COD C8H12, nbd C7H8, cot C8H8, dppm C25H22P2, dppe C26H24P2, dppp C27H26P2, dppb C28H28P2, dppf C34H28FeP2,
binap C44H32P2, BINAP C44H32P2, thf C4H8O, dme C4H10O2, dmf C3H7NO, dmso C2H6OS, dmap C7H10N2, tfa C2HF3O2`;

const ALKYLS = `
Pr C3H7, iPr C3H7, nPr C3H7, cPr C3H5, Bu C4H9, iBu C4H9, nBu C4H9, sBu C4H9, tBu C4H9, Ac C2H3O`;

export const compositionOf = (flat: string): Composition =>
  [...flat.matchAll(/([A-Z][a-z]?)(\d*)/g)].map(([, symbol = '', count]) => [symbol, Number(count || 1)] as const);

const table = (text: string) =>
  lazy(
    () =>
      new Map(
        text.split(',').map((entry) => {
          const [name = '', flat = ''] = entry.trim().split(' ');
          return [name, compositionOf(flat)] as const;
        }),
      ),
  );

const groups = table(GROUPS);
const ligands = table(LIGANDS);
const alkyls = table(ALKYLS);

/** Names by first letter, the longest first, so that `TBDMS` is met before `TBS`. */
function byInitial(names: Iterable<string>): ReadonlyMap<string, readonly string[]> {
  const found = new Map<string, string[]>();
  for (const name of [...names].sort((a, b) => b.length - a.length)) {
    const list = found.get(name.charAt(0));
    if (list) list.push(name);
    else found.set(name.charAt(0), [name]);
  }
  return found;
}
const groupNames = lazy(() => byInitial(groups().keys()));
const ligandNames = lazy(() => byInitial(ligands().keys()));

/** The abbreviation that begins at an offset, if one does. `ligand`: whether a ligand may begin here. */
export function groupAt(text: string, at: number, ligand: boolean): { name: string; parts: Composition } | undefined {
  const initial = text.charAt(at);
  const known = (names: readonly string[] | undefined) => names?.find((name) => text.startsWith(name, at));
  const asLigand = ligand ? known(ligandNames().get(initial)) : undefined;
  // No letter follows a ligand: (en)3, [Ir(COD)Cl]2.
  if (asLigand && !/[a-zA-Z]/.test(text.charAt(at + asLigand.length))) {
    return { name: asLigand, parts: ligands().get(asLigand)! };
  }
  const name = known(groupNames().get(initial));
  return name ? { name, parts: groups().get(name)! } : undefined;
}

/** A propyl or butyl with its prefix, `iPr`, `t-Bu`, at an offset. */
export function alkylAt(text: string, at: number): { name: string; parts: Composition } | undefined {
  const hyphen = text.charAt(at + 1) === '-' ? 1 : 0;
  const parts = alkyls().get(text.charAt(at) + text.slice(at + 1 + hyphen, at + 3 + hyphen));
  return parts && { name: text.slice(at, at + 3 + hyphen), parts };
}

/** Propyl or acetyl, whose abbreviations are element symbols. */
export const ambiguous = (symbol: string): Composition | undefined =>
  symbol === 'Pr' || symbol === 'Ac' ? alkyls().get(symbol) : undefined;

/** One neighbour of an ambiguous symbol: an element symbol, `group`, or a bracket or other mark; its count. */
export interface Neighbour {
  readonly what: string;
  readonly count: number;
}

/**
 * Whether `Pr` or `Ac` is propyl or acetyl here, and not praseodymium or actinium.
 *
 * It is the group
 * - right after C, H, N, O, P, S, Si or another group: `EtOAc`, `NaOAc`, `PhNHAc`, `Ti(OPr)4`;
 * - right before another group: `AcPh`;
 * - right before a single H, C, N, O, S, P, halogen, Li, Mg or Zn: `AcOH`, `Ac2O`, `AcCl`, `PrNH2`, `PrMgBr`;
 *   also before O2H (`AcO2H`).
 * It stays the element elsewhere, so in `PrCl3`, `Pr2O3`, `Pr6O11`, `Pr(NO3)3`, `PrNi5`, and in `PrN`, `PrP`, `PrS`,
 * `PrC` with nothing behind and in `PrOCl`, `PrOF`, `PrOBr`, which are solids of the lanthanide.
 */
export function isGroup(
  own: number,
  before: Neighbour | undefined,
  next: Neighbour | undefined,
  afterNext: Neighbour | undefined,
): boolean {
  if (before && /^(?:C|H|N|O|P|S|Si|group)$/.test(before.what)) return true;
  if (!next) return false;
  if (next.what === 'group') return true;
  if (next.what === 'O' && next.count === 2) return afterNext?.what === 'H';
  if (next.count !== 1 || !/^(?:H|C|N|O|S|P|F|Cl|Br|I|Li|Mg|Zn)$/.test(next.what)) return false;
  if (/^[CNPS]$/.test(next.what) && own === 1) return afterNext !== undefined;
  if (next.what === 'O' && own === 1) return !/^(?:F|Cl|Br)$/.test(afterNext?.what ?? '');
  return true;
}
