/**
 * The handbook that ships: pure substances, and the solutions that are sold or made up every week. Nothing is
 * parsed on import; the first question builds an index from names to lines, and a line becomes an entry when
 * somebody asks for it. Sources and doubts of every value: `server/data/README.md`.
 */
import { foldFormula, foldName } from '../../grammar/names';
import { parseFormula } from '../chem/formula';
import { equivalentsPerMole } from '../chem/normality';
import { lazy } from '../chem/table';
import solutionsCsv from '../data/commercial-solutions.csv';
import sourcesCsv from '../data/sources.csv';
import substancesCsv from '../data/substances.csv';
import {
  concentrated,
  readStrength,
  respell,
  soluteOfTrade,
  type WrittenStrength,
  withoutCondition,
} from './handbook-spelling';

/** A value as printed. */
export interface HandbookValue {
  readonly digits: string;
  readonly unit: 'g/mL' | '°C';
  /** Temperature of the value in °C, as digits. */
  readonly at?: string;
  /** For a reader: where it comes from and what it was compared with. */
  readonly source: string;
  /** From memory only, or the tables differ. */
  readonly doubtful: boolean;
}

/** pKa values in water at about 25 °C, one for each step; for superacids and carbon acids an estimate. */
export interface HandbookAcidity {
  /** Of the substance as an acid, or of the acid whose salt it is. */
  readonly acid: readonly string[];
  /** Of the conjugate acid, where the substance is a base. */
  readonly conjugateAcid: readonly string[];
  readonly source: string;
  readonly doubtful: boolean;
}

export interface HandbookSubstance {
  readonly kind: 'substance';
  readonly name: string;
  readonly synonyms: readonly string[];
  /** In Hill order. Absent for mixtures. */
  readonly formula?: string;
  /** As a bottle shows it, where that is not the Hill order: `NaOH`, `CuSO4·5H2O`. */
  readonly written?: string;
  readonly smiles?: string;
  readonly cas?: string;
  /** At 20 °C. */
  readonly state?: 'solid' | 'liquid' | 'gas';
  readonly density?: HandbookValue;
  readonly mp?: HandbookValue;
  /** At about 101 kPa. */
  readonly bp?: HandbookValue;
  readonly pKa?: HandbookAcidity;
  /** H statements, the usual ones; no legal classification. */
  readonly hazards: readonly string[];
  readonly hazardSource: string;
  readonly wasteClass?: string;
  readonly note?: string;
  /** Of the identity: name, formula, structure, CAS number. */
  readonly source: string;
}

export interface HandbookSolution {
  readonly kind: 'solution';
  readonly name: string;
  readonly synonyms: readonly string[];
  /** Name of a substance; not every solute has an entry of its own. */
  readonly solute: string;
  /** In Hill order. */
  readonly soluteFormula?: string;
  readonly solvent: string;
  readonly strength: { readonly digits: string; readonly unit: '% w/w' | 'mol/L' };
  /** Absent where only the name said how strong the solution is. */
  readonly density?: HandbookValue;
  readonly source: string;
  readonly doubtful: boolean;
}

export type HandbookEntry = HandbookSubstance | HandbookSolution;

export type HandbookAnswer =
  | { readonly kind: 'one'; readonly entry: HandbookEntry }
  | { readonly kind: 'several'; readonly names: readonly string[] };

/**
 * What a name stands for: a name, a synonym, a formula as usually written (exactly), another spelling of these,
 * or a solution whose strength is in its name. `several`: the name leaves it open (xylene, hydrochloric acid).
 */
export function findInHandbook(name: string): HandbookAnswer | undefined {
  const known = lookUp(name);
  if (known) return known;
  const strength = readStrength(name);
  return strength && findSolution(name, strength);
}

/** What a formula in Hill order stands for; `several` where isomers share it and none has it as its usual name. */
export function findFormulaInHandbook(hill: string): HandbookAnswer | undefined {
  return usualFormula(handbook().byFormula(hill));
}

/** The substance in a solution that is named without a strength: hydrochloric acid → hydrogen chloride. */
export function findSoluteInHandbook(name: string): HandbookSubstance | undefined {
  const found = lookUp(soluteOfTrade(foldName(name)) ?? name);
  return found?.kind === 'one' && found.entry.kind === 'substance' ? found.entry : undefined;
}

/** The first words of all names, in small letters: a text is looked up only where a name can begin. */
export function handbookOpenings(): ReadonlySet<string> {
  return handbook().openings();
}

/** Every entry by its own name, for completion; the formula as a bottle shows it. */
export function handbookNames(): readonly HandbookName[] {
  return handbook().list();
}

export interface HandbookName {
  readonly name: string;
  readonly formula?: string;
  readonly kind: 'substance' | 'solution';
}

/**
 * Formulas that several entries share and that yet name one of them, because the others are only forms of it:
 * silica gel and kieselguhr are silica, paraformaldehyde is a polymer of formaldehyde.
 */
const USUAL_FORMULA: Readonly<Record<string, string>> = { O2Si: 'silicon dioxide', CH2O: 'formaldehyde' };

function lookUp(name: string): HandbookAnswer | undefined {
  return lookUpAsWritten(name) ?? lookUpAsWritten(withoutCondition(name));
}

function lookUpAsWritten(name: string): HandbookAnswer | undefined {
  const { byName, byFormula } = handbook();
  const key = foldName(name);
  return (
    answer(byName(key)) ??
    usualFormula(byFormula(foldFormula(name))) ??
    first(respell(key), (spelling) => answer(byName(spelling)))
  );
}

function usualFormula(entries: readonly HandbookEntry[]): HandbookAnswer | undefined {
  const usual = entries.find((e) => e.kind === 'substance' && e.name === USUAL_FORMULA[e.formula ?? '']);
  return answer(usual ? [usual] : entries);
}

function answer(entries: readonly HandbookEntry[]): HandbookAnswer | undefined {
  if (entries.length === 0) return undefined;
  return entries.length === 1
    ? { kind: 'one', entry: entries[0]! }
    : { kind: 'several', names: entries.map((e) => e.name) };
}

/** A solution of the table with this solute, strength and solvent; else one that the name alone describes. */
function findSolution(
  name: string,
  { solute: written, solvent, strength }: WrittenStrength,
): HandbookAnswer | undefined {
  if (strength === 'conc.') return lookUp(concentrated(written));
  const solute = findSoluteInHandbook(written);
  if (strength === 'saturated') return solute && lookUp(`saturated ${solute.name}`);
  // Only where 1 N is 1 mol/L can the number stay as it was written.
  if (strength.unit === 'N' && !hasOneEquivalent(solute)) return undefined;
  const unit = strength.unit.startsWith('%') ? '% w/w' : 'mol/L';
  const into = solvent ? (findSoluteInHandbook(solvent)?.name ?? foldName(solvent)) : solventUnsaid(written, solute);
  const sold = handbook().solutionsOf(solute ? [solute.name] : solutesNamed(written));
  const listed = sold.filter(
    (s) =>
      s.strength.unit === unit &&
      Number(s.strength.digits) === Number(strength.digits) &&
      (!into || s.solvent === into),
  );
  // A bare % may be by mass or by volume.
  if (listed.length > 0 || !solute || !into || strength.unit === '%') return answer(listed);
  const entry: HandbookSolution = {
    kind: 'solution',
    name: name.trim(),
    synonyms: [],
    solute: solute.name,
    ...(solute.formula && { soluteFormula: solute.formula }),
    solvent: into,
    strength: { digits: strength.digits, unit },
    source: 'strength as written in the name',
    doubtful: false,
  };
  return { kind: 'one', entry };
}

function hasOneEquivalent(solute: HandbookSubstance | undefined): boolean {
  const parsed = solute?.formula ? parseFormula(solute.formula) : undefined;
  return parsed?.ok === true && equivalentsPerMole(parsed.formula) === 1;
}

/** Solutes that have no entry of their own, by the solutions that hold them. */
function solutesNamed(name: string): readonly string[] {
  const found = lookUp(name);
  if (found?.kind !== 'several') return [name];
  const entries = found.names.map((n) => lookUp(n)).map((a) => (a?.kind === 'one' ? a.entry : undefined));
  return entries.flatMap((e) => (e?.kind === 'solution' ? [e.solute] : []));
}

/** Water goes without saying for a solution with a trade name, and for salts, acids and bases that stand it. */
function solventUnsaid(name: string, solute: HandbookSubstance | undefined): 'water' | undefined {
  if (soluteOfTrade(foldName(name))) return 'water';
  return solute && isInorganic(solute) && solute.wasteClass !== 'water-reactive' ? 'water' : undefined;
}

const isInorganic = (substance: HandbookSubstance): boolean => !/C(?![a-z])/.test(substance.formula ?? 'C');

interface Handbook {
  readonly byName: (key: string) => readonly HandbookEntry[];
  readonly byFormula: (formula: string) => readonly HandbookEntry[];
  readonly solutionsOf: (solutes: readonly string[]) => readonly HandbookSolution[];
  readonly list: () => readonly HandbookName[];
  readonly openings: () => ReadonlySet<string>;
}

const handbook = lazy(open);

function open(): Handbook {
  const substances = rows(substancesCsv);
  const solutionRows = rows(solutionsCsv);
  const all = `${substances}\n${solutionRows}`.split('\n');
  const count = all.length - solutionRows.split('\n').length;
  const kept = new Map<number, HandbookEntry>();
  const entry = (row: number): HandbookEntry => {
    const known = kept.get(row) ?? (row < count ? readSubstance(all[row]!) : readSolution(all[row]!));
    kept.set(row, known);
    return known;
  };
  // Small letters are a first sieve; whether capitals had to be kept (D- is not d-) is looked at for the few that pass.
  const names = lazy(() => index(`${substances}\n${solutionRows}`.toLowerCase(), 0, 3));
  const formulas = lazy(() => index(substances, 3, 2));
  const isNamed = (row: number, key: string) =>
    cells(all[row]!, 3)
      .flatMap(list)
      .some((name) => foldName(name) === key);
  const solutions = lazy(() => all.slice(count).map((_, i) => entry(count + i) as HandbookSolution));
  return {
    byName: (key) =>
      [names().get(key.toLowerCase()) ?? []]
        .flat()
        .filter((row) => isNamed(row, key))
        .map(entry),
    byFormula: (formula) => [formulas().get(formula) ?? []].flat().map(entry),
    openings: lazy(() => new Set([...names().keys()].map((name) => name.split(' ', 1)[0]!))),
    solutionsOf: (solutes) => solutions().filter((s) => solutes.includes(s.solute)),
    list: lazy(() =>
      all.map((line, row): HandbookName => {
        const [name, , , formula, written] = cells(line, 5);
        if (row >= count) return { name: name!, kind: 'solution' };
        const shown = list(written)[0] ?? formula;
        return { name: name!, ...(shown && { formula: shown }), kind: 'substance' };
      }),
    ),
  };
}

function readSubstance(line: string): HandbookSubstance {
  const [name, synonyms, , formula, written, smiles, cas, state, density, at, mp, bp, acid, base, ...rest] =
    cells(line);
  const [hazards, agreed, added, waste, note, identity, sDensity, sMp, sBp, sAcidity, sHazards] = rest;
  const shown = list(written)[0];
  const hazardSource = [
    source('hazards', sHazards).source,
    agreed && `the Japanese national classification (NITE) agrees on ${agreed}`,
    added && `it adds ${added}`,
  ];
  return {
    kind: 'substance',
    name: name!,
    synonyms: list(synonyms),
    ...(formula && { formula }),
    ...(shown && { written: shown }),
    ...(smiles && { smiles }),
    ...(cas && { cas }),
    ...(state && { state: state as 'solid' | 'liquid' | 'gas' }),
    ...(density && { density: { digits: density, unit: 'g/mL' as const, at: at!, ...source('density', sDensity) } }),
    ...(mp && { mp: { digits: mp, unit: '°C' as const, ...source('point', sMp) } }),
    ...(bp && { bp: { digits: bp, unit: '°C' as const, ...source('point', sBp) } }),
    ...((acid || base) && { pKa: { acid: list(acid), conjugateAcid: list(base), ...source('pka', sAcidity) } }),
    hazards: hazards ? hazards.split(' ') : [],
    hazardSource: hazardSource.filter(Boolean).join('; '),
    ...(waste && { wasteClass: waste }),
    ...(note && { note }),
    source: source('identity', identity).source,
  };
}

function readSolution(line: string): HandbookSolution {
  const [name, synonyms, , solute, formula, solvent, digits, unit, density, at, , from] = cells(line);
  const origin = source('solution', from);
  return {
    kind: 'solution',
    name: name!,
    synonyms: list(synonyms),
    solute: solute!,
    ...(formula && { soluteFormula: formula }),
    solvent: solvent!,
    strength: { digits: digits!, unit: unit as '% w/w' | 'mol/L' },
    ...(density && { density: { digits: density, unit: 'g/mL' as const, at: at!, ...origin } }),
    ...origin,
  };
}

/** Source codes stand in the tables as `code` or `code=detail`, several joined by `;`. */
function source(group: string, codes = ''): { readonly source: string; readonly doubtful: boolean } {
  const texts = list(codes).map((code) => {
    const [key, detail = ''] = code.split('=');
    const [text, doubtful] = sources().get(`${group} ${key}`)!;
    return { text: text.replace('{}', detail), doubtful };
  });
  return { source: texts.map((t) => t.text).join('; '), doubtful: texts.every((t) => t.doubtful) };
}

const sources = lazy(
  () =>
    new Map(
      rows(sourcesCsv)
        .split('\n')
        .map((line) => cells(line))
        .map(([code, text, doubt]) => [code!, [text!, doubt === 'yes'] as const]),
    ),
);

function rows(csv: string): string {
  return csv.slice(csv.indexOf('\n') + 1).trimEnd();
}

/** The first cells of a line; no cell of these tables holds a line break. */
function cells(line: string, most = Number.POSITIVE_INFINITY): readonly string[] {
  const found: string[] = [];
  let at = 0;
  while (found.length < most && at <= line.length) {
    const quoted = line.charCodeAt(at) === QUOTE;
    const end = quoted ? closingQuote(line, at) : line.indexOf(',', at);
    const stop = end < 0 ? line.length : end;
    found.push(quoted ? line.slice(at + 1, stop).replaceAll('""', '"') : line.slice(at, stop));
    at = stop + (quoted ? 2 : 1);
  }
  return found;
}

const QUOTE = 0x22;

function closingQuote(line: string, open: number): number {
  let end = line.indexOf('"', open + 1);
  while (line.charCodeAt(end + 1) === QUOTE) end = line.indexOf('"', end + 2);
  return end;
}

function list(cell: string | undefined): readonly string[] {
  return cell ? cell.split(';') : [];
}

type Index = ReadonlyMap<string, number | readonly number[]>;

/**
 * Which rows have a key in the lists of some cells, for every key. This runs before the first answer, so it
 * walks the text once and makes nothing but keys.
 */
function index(rows: string, skip: number, take: number): Index {
  const found = new Map<string, number | number[]>();
  for (let at = 0, row = 0; at < rows.length; at = nextRow(rows, at), row++) {
    let from = at;
    for (let cell = 0; cell < skip + take; cell++) {
      const quoted = rows.charCodeAt(from) === QUOTE;
      const end = quoted ? closingQuote(rows, from) : rows.indexOf(',', from);
      const text = cell < skip || end === from ? '' : rows.slice(quoted ? from + 1 : from, end);
      if (text.includes(';')) for (const key of text.split(';')) put(found, key, row);
      else if (text !== '') put(found, text, row);
      from = end + (quoted ? 2 : 1);
    }
  }
  return found;
}

function nextRow(rows: string, at: number): number {
  const end = rows.indexOf('\n', at);
  return end < 0 ? rows.length : end + 1;
}

function put(index: Map<string, number | number[]>, key: string, row: number): void {
  const known = index.get(key);
  if (known === undefined) index.set(key, row);
  else if (typeof known === 'number') index.set(key, [known, row]);
  else known.push(row);
}

function first<T, U>(values: readonly T[], of: (value: T) => U | undefined): U | undefined {
  for (const value of values) {
    const found = of(value);
    if (found !== undefined) return found;
  }
  return undefined;
}
