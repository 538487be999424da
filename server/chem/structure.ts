import { Molecule, SmilesParser, SSSearcher } from 'openchemlib';
import foundCsv from '../data/handbook-patterns.csv';
import patternsCsv from '../data/patterns.csv';
import { Decimal } from '../quantity/decimal';
import { elements, nuclides } from './elements';
import { hill } from './formula';
import { lazy, readTable } from './table';

export type StructureFormula =
  | {
      readonly ok: true;
      /** Hill formula with nuclides and net charge, as `parseFormula` reads it: `C2H3O2^-`. */
      readonly formula: string;
      readonly charge: number;
    }
  | { readonly ok: false; readonly problem: string };

// Bracket atoms say their hydrogens; others are filled up to their valence.
const SMILES_ATOM = /\[(\d*)([A-Za-z][a-z]?)[^\]]*?\]|Cl|Br|[BCNOPSFIbcnops]/g;
const BRACKET_HYDROGENS = /^\[\d*(?:[A-Z][a-z]?|[a-z]{1,2})@{0,2}(?:H(\d*))?/;
const LONGEST = 4000;

/**
 * Molecular formula of a SMILES, several components with full stops added up. Coordinates and stereo are never worked
 * out: that is what makes a first structure slow (350 ms against 3 ms).
 */
export function structureFormula(smiles: string): StructureFormula {
  const molecule = read(smiles);
  return molecule instanceof Molecule ? sum(molecule, smiles) : { ok: false, problem: molecule };
}

/**
 * A question to one structure: does it contain a SMARTS pattern? The structure is read once for any number of
 * patterns. It knows nothing of sterics, solubility or mixtures. Alternatives `[$(…),$(…)]` are not understood.
 *
 * @returns undefined for a SMILES that cannot be read; the question answers undefined for a pattern that cannot
 */
export function patternsIn(smiles: string): Question | undefined {
  const found = beforehand().found.get(smiles);
  if (!found) return searchIn(smiles);
  let search: Question | undefined;
  return (smarts) => {
    const index = beforehand().patterns.get(smarts);
    if (index !== undefined) return found.has(index);
    search ??= searchIn(smiles);
    return search?.(smarts);
  };
}

type Question = (smarts: string) => boolean | undefined;

/**
 * The handbook's structures and the patterns of our tables were put to each other beforehand: loading the library and
 * its first search cost more than all the rest of checking a page.
 */
const beforehand = lazy(() => ({
  patterns: new Map(readTable<'smarts'>(patternsCsv).map(({ smarts }, index) => [smarts, index])),
  found: new Map(
    readTable<'smiles' | 'patterns'>(foundCsv).map(({ smiles, patterns }) => [
      smiles,
      new Set(patterns.split(' ').filter(Boolean).map(Number)),
    ]),
  ),
}));

/** The same question, put to the structure itself. */
export function searchIn(smiles: string): Question | undefined {
  const molecule = read(smiles);
  if (!(molecule instanceof Molecule)) return undefined;
  const searcher = new SSSearcher();
  searcher.setMolecule(molecule);
  return (smarts) => {
    const pattern = fragmentOf(smarts);
    if (!pattern) return undefined;
    searcher.setFragment(pattern);
    return searcher.isFragmentInMolecule();
  };
}

/** Patterns come from tables: each is read once. */
const fragments = new Map<string, Molecule | undefined>();

function fragmentOf(smarts: string): Molecule | undefined {
  if (!fragments.has(smarts)) {
    let pattern: Molecule | undefined;
    try {
      pattern = new SmilesParser({ smartsMode: 'smarts' }).parseMolecule(smarts, {
        noCoordinates: true,
        noStereo: true,
      });
      pattern.setFragment(true);
    } catch {
      pattern = undefined;
    }
    fragments.set(smarts, pattern);
  }
  return fragments.get(smarts);
}

/**
 * Hydrogens on nitrogen, oxygen, sulfur, phosphorus and halogen: those that a proton spectrum may not show. Undefined
 * for a SMILES that cannot be read.
 */
export function labileHydrogens(smiles: string): number | undefined {
  const molecule = read(smiles);
  if (!(molecule instanceof Molecule)) return undefined;
  const written = [...smiles.matchAll(SMILES_ATOM)].map(([atom]) => atom);
  let sum = 0;
  for (let i = 0; i < molecule.getAllAtoms(); i++) {
    if (!LABILE.has(molecule.getAtomLabel(i))) continue;
    const bracket = BRACKET_HYDROGENS.exec(written[i] ?? '');
    sum += bracket ? (bracket[1] === undefined ? 0 : Number(bracket[1] || 1)) : molecule.getImplicitHydrogens(i);
  }
  return sum;
}

const LABILE: ReadonlySet<string> = new Set(['N', 'O', 'S', 'P', 'F', 'Cl', 'Br', 'I', 'Se']);

/** The molecule, or what is wrong. */
function read(smiles: string): Molecule | string {
  const problem = refuse(smiles);
  if (problem) return problem;
  try {
    const molecule = Molecule.fromSmiles(smiles, { noCoordinates: true, noStereo: true });
    molecule.ensureHelperArrays(Molecule.cHelperNeighbours);
    return molecule;
  } catch (error) {
    return `This SMILES cannot be read${reason(error)}`;
  }
}

function refuse(smiles: string): string | undefined {
  if (smiles.trim() === '') return 'There is no SMILES here';
  if (smiles.length > LONGEST) return 'This SMILES is too long';
  if (/\s/.test(smiles)) return 'A SMILES has no blanks in it';
  if (smiles.includes('*')) return 'A structure with “*” for any atom has no formula';
  let depth = 0;
  for (const char of smiles) {
    depth += char === '(' ? 1 : char === ')' ? -1 : 0;
    if (depth < 0) return 'A bracket of this SMILES is not opened';
  }
  return depth > 0 ? 'A bracket of this SMILES is not closed' : undefined;
}

const reason = (error: unknown): string => {
  const said = /SmilesParser: (.*)/.exec(error instanceof Error ? error.message : String(error))?.[1];
  return said ? `: ${said}` : '';
};

function sum(molecule: Molecule, smiles: string): StructureFormula {
  const written = [...smiles.matchAll(SMILES_ATOM)].map(([atom]) => atom);
  const atoms = molecule.getAllAtoms();
  // The reader keeps the order of the text. It gives a bare [Al] three hydrogens, so brackets are taken at their word.
  const sameAtoms = written.length === atoms;
  const counts = new Map<string, number>();
  const add = (key: string, n: number): void => {
    if (n > 0) counts.set(key, (counts.get(key) ?? 0) + n);
  };
  let charge = 0;
  for (let i = 0; i < atoms; i++) {
    const mass = molecule.getAtomMass(i);
    const key = `${mass || ''}${molecule.getAtomLabel(i)}`;
    if (!(mass ? nuclides() : elements()).has(key)) return { ok: false, problem: `“${key}” has no formula` };
    add(key, 1);
    const bracket = sameAtoms ? BRACKET_HYDROGENS.exec(written[i]!) : undefined;
    const hydrogens = bracket ? (bracket[1] === undefined ? 0 : Number(bracket[1] || 1)) : undefined;
    add('H', hydrogens ?? molecule.getImplicitHydrogens(i));
    charge += molecule.getAtomCharge(i);
  }
  if (counts.size === 0) return { ok: false, problem: 'There is no SMILES here' };
  const composition = new Map([...counts].map(([key, n]) => [key, new Decimal(n)] as const));
  return { ok: true, formula: hill({ text: smiles, counts: composition, charge }), charge };
}
