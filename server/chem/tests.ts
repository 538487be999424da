/** The classification tests of qualitative organic analysis, and what a structure should show in each. */
import { foldName } from '../../grammar/names';
import legsCsv from '../data/qualitative-legs.csv';
import testsCsv from '../data/qualitative-tests.csv';
import { patternsIn } from './structure';
import { lazy, readTable } from './table';

/** `blank`: the sample colours the blank, so that the test means nothing. */
export type Outcome = 'positive' | 'slow' | 'negative' | 'blank';

export interface KnownLeg {
  /** Who gives it: `aromatic aldehyde`. */
  readonly feature: string;
  readonly result: Outcome;
  readonly observation: string;
  /** Parts that any structure may match: `smarts:`, `cas:` or `name:`. */
  readonly pattern: readonly string[];
}

export interface KnownTest {
  readonly id: string;
  readonly name: string;
  readonly reagent: string;
  readonly conditions: string;
  /** Usual temperatures, °C. */
  readonly from: number;
  readonly to: number;
  /** A positive shows within this many seconds, a slow one within `slowWithin`. */
  readonly positiveWithin: number;
  readonly slowWithin: number;
  readonly falsePositives: string;
  readonly falseNegatives: string;
  readonly caution: string;
  readonly source: string;
  readonly legs: readonly KnownLeg[];
}

/** What a test is asked about; whatever is known of it. */
export interface Subject {
  readonly smiles?: string;
  readonly cas?: string;
  readonly name?: string;
}

export interface Expectation {
  readonly result: Outcome;
  /** Those that foretell it; at least one. */
  readonly legs: readonly KnownLeg[];
}

type TestColumn =
  | 'test'
  | 'name'
  | 'aliases'
  | 'reagent'
  | 'conditions'
  | 'temp_min_C'
  | 'temp_max_C'
  | 'time_positive_s'
  | 'time_slow_s'
  | 'false_positives'
  | 'false_negatives'
  | 'caution'
  | 'source';

const SOURCES: Readonly<Record<string, string>> = {
  textbooks: 'standard qualitative organic analysis, the textbooks cited from memory',
  practice: 'common practice, no source',
};

const table = lazy(() => {
  const legs = new Map<string, KnownLeg[]>();
  for (const row of readTable<'test' | 'feature' | 'pattern' | 'result' | 'observation'>(legsCsv)) {
    const leg: KnownLeg = {
      feature: row.feature,
      result: row.result as Outcome,
      observation: row.observation,
      pattern: row.pattern.split(';;'),
    };
    const known = legs.get(row.test);
    if (known) known.push(leg);
    else legs.set(row.test, [leg]);
  }
  const byName = new Map<string, KnownTest[]>();
  const all = readTable<TestColumn>(testsCsv).map((row): KnownTest => {
    const test: KnownTest = {
      id: row.test,
      name: row.name,
      reagent: row.reagent,
      conditions: row.conditions,
      from: Number(row.temp_min_C),
      to: Number(row.temp_max_C),
      positiveWithin: Number(row.time_positive_s),
      slowWithin: Number(row.time_slow_s),
      falsePositives: row.false_positives,
      falseNegatives: row.false_negatives,
      caution: row.caution,
      source: SOURCES[row.source] ?? row.source,
      legs: legs.get(row.test) ?? [],
    };
    for (const name of [row.name, ...row.aliases.split(';')]) {
      const key = testKey(name);
      const known = byName.get(key);
      if (!known) byName.set(key, [test]);
      else if (!known.includes(test)) known.push(test);
    }
    return test;
  });
  return { all, byName };
});

export const knownTests = (): readonly KnownTest[] => table().all;

/** Without `test`, `reagent`, possessives and `the`; case and blanks do not matter. */
function testKey(name: string): string {
  return foldName(name)
    .toLowerCase()
    .replace(/[’'`´]s?\b/g, '')
    .replace(/\b(?:the|test|tests|reagent|solution)\b/g, ' ')
    .replace(/\biron\(iii\)/g, 'ferric')
    .replace(/\biron\(ii\)/g, 'ferrous')
    .replace(/\bhydrogen carbonate\b/g, 'hydrogencarbonate')
    .replace(/sulph/g, 'sulf')
    .replace(/\s+/g, ' ')
    .trim();
}

/** Tests that go by a name or an alias; several when they share it (silver nitrate, in ethanol or in nitric acid). */
export function testsNamed(name: string): readonly KnownTest[] {
  return table().byName.get(testKey(name)) ?? [];
}

const questions = new Map<string, ((smarts: string) => boolean | undefined) | undefined>();
/** A notebook asks about a handful of structures; more are read again. */
const MOST_STRUCTURES = 200;

function patternsOf(smiles: string): ((smarts: string) => boolean | undefined) | undefined {
  if (questions.has(smiles)) return questions.get(smiles);
  const ask = patternsIn(smiles);
  const answers = new Map<string, boolean | undefined>();
  const cached = ask
    ? (smarts: string): boolean | undefined => {
        if (!answers.has(smarts)) answers.set(smarts, ask(smarts));
        return answers.get(smarts);
      }
    : undefined;
  if (questions.size >= MOST_STRUCTURES) questions.clear();
  questions.set(smiles, cached);
  return cached;
}

/** Whether a structure holds a pattern; false for a SMILES that cannot be read. */
export const hasPattern = (smiles: string, smarts: string): boolean => patternsOf(smiles)?.(smarts) === true;

const ORDER: readonly Outcome[] = ['blank', 'positive', 'slow', 'negative'];

/**
 * What the table foretells: of the legs that a structure matches, blank beats positive beats slow beats negative.
 * Undefined where no leg matches: nothing is foretold. The patterns know nothing of sterics, solubility or mixtures.
 */
export function expectedOf(test: KnownTest, subject: Subject): Expectation | undefined {
  const legs = test.legs.filter((leg) => leg.pattern.some((part) => matches(part, subject)));
  const result = ORDER.find((outcome) => legs.some((leg) => leg.result === outcome));
  return result && { result, legs: legs.filter((leg) => leg.result === result) };
}

type Classes = readonly (readonly [named: RegExp, smarts: readonly string[]])[];

/** Classes of compound as the lists of false answers name them. */
const FALSE_POSITIVES: Classes = [
  [/phenol/, ['c[OX2H1]']],
  [/aniline|aromatic amine|\bamines?\b/, ['[NX3;H2]', '[NX3;H1]', 'c[NX3]']],
  [/aldehyde/, ['[CX3H1](=O)']],
  [/\benols?\b|1,3-diketone|acetoacetate/, ['[CX3](=O)[CX4;H2,H1][CX3]=O']],
  [/thiol/, ['[SX2H1]']],
  [/alcohols? on standing|allylic and benzylic alcohols/, ['[CX4;H2,H1][OX2H1]']],
  [/hydroxyketone/, ['[CX3](=O)[CX4][OX2H1]']],
  [/hydrazine/, ['[NX3][NX3]']],
  [/acetals/, ['[CX4]([OX2][#6])[OX2][#6]']],
  [/acid halides|anhydrides/, ['[CX3](=O)[Cl,Br]', '[CX3](=O)[OX2][CX3]=O']],
  [/carboxylic acids/, ['[CX3](=O)[OX2H1]']],
  [/alkynes/, ['C#C']],
  [/nitro(?: compounds|phenols)/, ['[N+](=O)[O-]']],
  [/formic acid/, ['[CX3H1](=O)[OX2]']],
  [/ethers/, ['[#6][OX2][#6]']],
  [/1,2-dihalides|alpha-halo ketones/, ['[Cl,Br,I][#6][#6][Cl,Br,I]', '[CX3](=O)[#6][Cl,Br,I]']],
  [/methyl ketones/, ['[CX4;H3][CX3](=O)[#6]']],
  [/hydrolysed to one of these/, ['[CX3](=O)[OX2][CX4;H2][CX4;H3]', '[CX3](=O)[OX2][CX4;H1][CX4;H3]']],
];

const LONG_CHAIN = '[CX4;H2][CX4;H2][CX4;H2][CX4;H2][CX4;H2][CX4;H2]';
const FALSE_NEGATIVES: Classes = [
  [/electron-poor alkenes/, ['[CX3]=[CX3][CX3]=O', '[CX3]=[CX3]C#N']],
  [/tetrasubstituted/, ['[CX3]([#6])([#6])=[CX3]([#6])[#6]']],
  [/hindered/, ['[CX4;H0]([#6])([#6])([#6])[CX3]=O', 'cc([CX4;H0])c[OX2H1]']],
  [/nitrophenols/, ['[N+](=O)[O-]']],
  [/hydroquinone/, ['[OX2H1]c1ccc([OX2H1])cc1']],
  [/quinones/, ['O=C1C=CC(=O)C=C1']],
  [/carbonates, urethanes/, ['[OX2,NX3][CX3](=O)[OX2][#6]']],
  [/hydroxy-substituted benzaldehydes/, ['[CX3H1](=O)c1ccc([OX2H1])cc1', '[CX3H1](=O)c1ccccc1[OX2H1]']],
  [/long-chain|insoluble/, [LONG_CHAIN]],
];

/** Every SMARTS pattern that a test can ask for. */
export const testPatterns = (): readonly string[] => [
  ...knownTests().flatMap(({ legs }) =>
    legs.flatMap(({ pattern }) => pattern.filter((p) => p.startsWith('smarts:')).map((p) => p.slice('smarts:'.length))),
  ),
  ...[...FALSE_POSITIVES, ...FALSE_NEGATIVES].flatMap(([, smarts]) => smarts),
];

/**
 * Whether a structure is of a class that is known for false answers: the table then foretells too little for a verdict.
 */
export function mayMislead(test: KnownTest, seen: 'positive' | 'negative', { smiles }: Subject): boolean {
  if (smiles === undefined) return false;
  const [classes, listed] =
    seen === 'positive' ? [FALSE_POSITIVES, test.falsePositives] : [FALSE_NEGATIVES, test.falseNegatives];
  return classes.some(([named, smarts]) => named.test(listed) && smarts.some((s) => hasPattern(smiles, s)));
}

function matches(part: string, { smiles, cas, name }: Subject): boolean {
  const at = part.indexOf(':');
  const value = part.slice(at + 1);
  switch (part.slice(0, at)) {
    case 'smarts':
      return smiles !== undefined && hasPattern(smiles, value);
    case 'cas':
      return cas !== undefined && value.split(' ').includes(cas);
    case 'name':
      return name !== undefined && foldName(name) === foldName(value);
    default:
      return false;
  }
}
