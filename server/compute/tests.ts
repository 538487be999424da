/** Classification tests: what the page's structures should show, what was seen, and what follows from it. */
import { judgeConclusion, type Verdict } from '../chem/conclusion';
import { type Observed, readObservation } from '../chem/observation';
import {
  type Expectation,
  expectedOf,
  type KnownLeg,
  type KnownTest,
  knownTests,
  mayMislead,
  type Outcome,
  testsNamed,
} from '../chem/tests';
import type { Test, TestLeg } from '../model/evidence';
import type { NameRef, Page, Substance } from '../model/page';
import { materialKey } from '../model/scope';
import { toBase, unitOf } from '../quantity/units';
import { type Structure, structureOf } from './structures';
import { formulaOf } from './substance';

/** A substance of the page that the test is held against. */
export interface Asked {
  readonly substance: Substance;
  readonly role: 'tested' | 'starting material' | 'by-product';
  readonly structure?: Structure;
  /** Undefined: nothing is foretold, or there is no structure. */
  readonly expected?: Expectation;
}

export type Unusual =
  | { readonly what: 'cold' | 'hot'; readonly leg: TestLeg }
  | { readonly what: 'short' | 'long'; readonly leg: TestLeg };

export interface TestLegValue {
  readonly leg: TestLeg;
  readonly observed?: Observed;
  /** Of the legs of one substance together: `no precipitate; on boiling, a white one` is a slow positive. */
  readonly outcome?: Outcome;
  readonly expected?: Expectation;
  /** What was seen against what the structure should show. */
  readonly structure: Verdict;
  /** What was seen against what was concluded. */
  readonly conclusion: Verdict;
  /** `contradicts` if either does. */
  readonly verdict: Verdict;
}

export interface TestValue {
  readonly test: Test;
  readonly known?: KnownTest;
  readonly tested?: Asked;
  readonly others: readonly Asked[];
  /** Whether the test can tell what is tested from its main starting material; undefined where a structure lacks. */
  readonly discriminates?: boolean;
  readonly legs: readonly TestLegValue[];
  readonly unusual: readonly Unusual[];
}

export function testValues(page: Page): TestValue[] {
  return page.tests.map((test) => testValue(test, page));
}

function testValue(test: Test, page: Page): TestValue {
  const candidates = testsNamed(test.name.text).length > 0 ? testsNamed(test.name.text) : testsNamed(shortName(test));
  const named = substanceOf(test.legs.find(({ substance }) => substance)?.substance) ?? productOf(page);
  if (candidates.length === 0) return { test, others: [], legs: test.legs.map(unread), unusual: [] };
  const structure = named && structureOf(named);
  const known =
    candidates.length === 1
      ? candidates[0]!
      : candidates.find((candidate) => named && expectedOf(candidate, subjectOf(named, structure)));
  if (!known) return { test, others: [], legs: test.legs.map(unread), unusual: [] };
  const tested = named && asked(known, named, 'tested');
  const others = tested ? companions(page, tested.substance).map(([s, role]) => asked(known, s, role)) : [];
  const discriminates = tellsApart(tested, others);
  const legs = legValues(test, known, tested, others);
  return {
    test,
    known,
    ...(tested && { tested }),
    others,
    ...(discriminates !== undefined && { discriminates }),
    legs,
    unusual: legs.flatMap((leg) => unusual(known, leg)),
  };
}

/** `ferric chloride in methanol`, `bromine (in CCl4)`: the reagent without its solvent. */
const shortName = ({ name }: Test): string => name.text.replace(/\s+(?:in|with|on)\s.*$|\s*\([^()]*\)$/, '');

const unread = (leg: TestLeg): TestLegValue => ({
  leg,
  structure: 'unclear',
  conclusion: 'unclear',
  verdict: 'unclear',
});

const substanceOf = (name: NameRef | undefined): Substance | undefined =>
  name?.target?.kind === 'substance' ? name.target : undefined;

/** The page's product: the last that was weighed, else the first of the last equation. */
function productOf(page: Page): Substance | undefined {
  return (
    substanceOf(page.products.at(-1)?.name) ?? substanceOf(page.reactions.at(-1)?.right.find((t) => !t.rest)?.name)
  );
}

/** What stands with it in the equations that make it. */
function companions(page: Page, substance: Substance): (readonly [Substance, Asked['role']])[] {
  const key = materialKey(substance);
  const found = new Map<string, readonly [Substance, Asked['role']]>();
  for (const { left, right } of page.reactions) {
    const makes = right.some(({ name }) => name.target && materialKey(name.target) === key);
    if (!makes) continue;
    for (const [terms, role] of [[left, 'starting material'] as const, [right, 'by-product'] as const]) {
      for (const { name } of terms) {
        const other = substanceOf(name);
        if (other && materialKey(other) !== key && !found.has(materialKey(other)))
          found.set(materialKey(other), [other, role]);
      }
    }
  }
  return [...found.values()];
}

const subjectOf = (substance: Substance, structure: Structure | undefined) => ({
  name: substance.name,
  ...(structure && { smiles: structure.smiles }),
  ...(substance.cas && { cas: substance.cas.text }),
});

function asked(test: KnownTest, substance: Substance, role: Asked['role']): Asked {
  const structure = structureOf(substance);
  const expected = expectedOf(test, subjectOf(substance, structure));
  return { substance, role, ...(structure && { structure }), ...(expected && { expected }) };
}

/** The same answer, or a slow one beside a positive, is no difference that a test tube shows for sure. */
const shows = (result: Outcome): boolean => result === 'positive' || result === 'slow';

/** Whether two substances answer alike; undefined where nothing is foretold of one of them. */
export function alike(a: Asked, b: Asked): boolean | undefined {
  if (!a.expected || !b.expected) return undefined;
  return shows(a.expected.result) === shows(b.expected.result) && !differAsSlow(a.expected.result, b.expected.result);
}

/** Quick and slow are told apart by the clock: that is what Lucas and silver nitrate are for. */
const differAsSlow = (a: Outcome, b: Outcome): boolean => (a === 'slow') !== (b === 'slow') && shows(a) && shows(b);

/**
 * From the starting material that makes most of it, by carbon, of those that anything is foretold of: the others are
 * charged in excess and washed or boiled away.
 */
function tellsApart(tested: Asked | undefined, others: readonly Asked[]): boolean | undefined {
  if (!tested?.expected) return undefined;
  if (tested.expected.result === 'blank') return false;
  const [main] = others
    .filter(({ role, expected }) => role === 'starting material' && expected)
    .sort((a, b) => carbons(b.substance) - carbons(a.substance));
  const same = main && alike(tested, main);
  return same === undefined ? undefined : !same;
}

/**
 * Other tests in which the substance and its main starting material should differ, or, where it has none, that it should
 * answer: what would confirm it. At most three, positive ones first.
 */
export function confirming({ known, tested, others }: TestValue): readonly KnownTest[] {
  if (!tested?.structure) return [];
  const materials = others
    .filter(({ role, structure }) => role === 'starting material' && structure)
    .sort((a, b) => carbons(b.substance) - carbons(a.substance));
  // What this test cannot tell apart comes first.
  const main = materials.find((other) => alike(tested, other)) ?? materials[0];
  const candidates = knownTests().flatMap((test) => {
    const own = test === known ? undefined : asked(test, tested.substance, 'tested').expected?.result;
    if (!own || own === 'blank') return [];
    const other = main && asked(test, main.substance, 'starting material').expected?.result;
    const differ = main ? other !== undefined && other !== 'blank' && shows(own) !== shows(other) : own === 'positive';
    return differ ? [{ test, positive: own === 'positive' }] : [];
  });
  return candidates
    .sort((a, b) => Number(b.positive) - Number(a.positive))
    .slice(0, 3)
    .map(({ test }) => test);
}

const carbons = (substance: Substance): number => formulaOf(substance)?.counts.get('C')?.toNumber() ?? 0;

function legValues(
  test: Test,
  known: KnownTest,
  tested: Asked | undefined,
  others: readonly Asked[],
): readonly TestLegValue[] {
  const read = test.legs.map(({ observation }) => observation && readObservation(known, observation.text));
  const legsOfPage: readonly KnownLeg[] = [tested, ...others].flatMap((a) => a?.expected?.legs ?? []);
  return test.legs.map((leg, i): TestLegValue => {
    // A leg may name another substance than the test's first one: then the structures are that one's.
    const own = substanceOf(leg.substance);
    const about = own && own !== tested?.substance ? asked(known, own, 'tested') : tested;
    const together = test.legs.flatMap((other, j) =>
      j <= i && other.substance?.target === leg.substance?.target ? (read[j]?.outcome ?? []) : [],
    );
    const later = test.legs.some(
      (other, j) =>
        j > i && other.substance?.target === leg.substance?.target && read[j] && read[j].outcome !== 'negative',
    );
    const outcome = combined(together);
    const expected = about?.expected;
    // Nothing yet, and something in a later leg: this one settles nothing.
    const open = outcome === undefined || (outcome === 'negative' && later);
    const compared: Verdict = open || !expected ? 'unclear' : compare(expected.result, outcome);
    const seen = outcome === 'positive' || outcome === 'negative' ? outcome : undefined;
    const misled = seen && about?.structure && mayMislead(known, seen, subjectOf(about.substance, about.structure));
    const structure: Verdict = compared === 'contradicts' && misled ? 'unclear' : compared;
    const conclusion: Verdict =
      outcome !== undefined && leg.conclusion && expected?.result !== 'blank'
        ? judgeConclusion(known, leg.conclusion.text, outcome, legsOfPage)
        : 'unclear';
    return {
      leg,
      ...(read[i] && { observed: read[i] }),
      ...(outcome && { outcome }),
      ...(expected && { expected }),
      structure,
      conclusion,
      verdict: verdictOf(structure, conclusion, expected !== undefined),
    };
  });
}

/** Where a structure foretells something, a conclusion alone does not make the observation fit it. */
function verdictOf(structure: Verdict, conclusion: Verdict, foretold: boolean): Verdict {
  if (structure === 'contradicts' || conclusion === 'contradicts') return 'contradicts';
  return foretold ? structure : conclusion;
}

/** The last word counts; a positive after a negative came late. */
function combined(outcomes: readonly Outcome[]): Outcome | undefined {
  const last = outcomes.at(-1);
  return last === 'positive' && outcomes.includes('negative') ? 'slow' : last;
}

function compare(expected: Outcome, observed: Outcome): Verdict {
  if (expected === 'blank' || observed === 'blank') return 'unclear';
  if (expected === observed) return 'supports';
  // A slow test that showed nothing, and a negative one that came at last, are what false answers look like.
  if (expected === 'slow') return observed === 'positive' ? 'supports' : 'unclear';
  if (observed === 'slow') return expected === 'positive' ? 'supports' : 'unclear';
  return 'contradicts';
}

/** Outside the usual temperature; too short for a negative, too long for a positive that did not come at once. */
function unusual(test: KnownTest, { leg, observed }: TestLegValue): Unusual[] {
  const found: Unusual[] = [];
  const temperature = leg.temperature?.quantity;
  if (temperature?.unit && !temperature.course) {
    const celsius = (number: typeof temperature.number): number =>
      toBase(number.value, temperature.unit!)
        .minus(unitOf('°C').offset ?? 0)
        .toNumber();
    const low = celsius(temperature.number);
    const high = temperature.to ? celsius(temperature.to) : low;
    if (high < test.from) found.push({ what: 'cold', leg });
    if (low > test.to) found.push({ what: 'hot', leg });
  }
  const time = leg.time?.quantity;
  if (time?.unit && observed && !observed.atOnce) {
    const seconds = toBase((time.to ?? time.number).value, time.unit).toNumber();
    if (observed.outcome === 'negative' && seconds < test.positiveWithin) found.push({ what: 'short', leg });
    if (shows(observed.outcome) && seconds > test.slowWithin) found.push({ what: 'long', leg });
  }
  return found;
}
