/**
 * What a page declares: substances, solutions, vessels and balances, as written. Names inside them are not yet
 * resolved, so that a page's declarations depend on its text alone.
 */
import { foldName } from '../../grammar/names';
import type { Fact, PageSource, Statement } from '../../grammar/tree';
import { parseFormula } from '../chem/formula';
import type { Decimal } from '../quantity/decimal';
import { amended, placeOf, type ReadBlock } from './amend';
import {
  batchOf,
  claimsOf,
  datumOf,
  datumWith,
  type Elsewhere,
  entryName,
  entryOf,
  factsOf,
  factWith,
  isQuantity,
  isWord,
  legsOf,
  type Place,
  quantityOf,
  restOf,
  secondsOf,
  spanAt,
  textOf,
  textWith,
} from './facts';
import { type GlassText, glassTexts } from './glassware';
import type {
  Balance,
  Claim,
  Datum,
  Entry,
  FormulaFact,
  Reading,
  State,
  Strength,
  Substance,
  TextFact,
  Vessel,
  Where,
} from './page';
import { readStream, type Stream } from './streams';

/** A solution whose solute and solvent are still names. */
export interface SolutionDraft {
  readonly name: string;
  readonly key: string;
  readonly also: readonly TextFact[];
  readonly where: Where;
  readonly span: TextFact['span'];
  readonly entry: Entry;
  readonly strength?: Strength;
  readonly solute?: TextFact;
  readonly solvent?: TextFact;
  /** Mixed from several: what came after the first. */
  readonly parts?: readonly { readonly datum: Datum; readonly name: TextFact; readonly of?: Datum }[];
  readonly glass?: readonly GlassText[];
  readonly density?: Datum;
  readonly densityAt?: Datum;
  readonly claims: readonly Claim[];
}

export interface Definitions {
  readonly substances: readonly Substance[];
  readonly solutions: readonly SolutionDraft[];
  readonly vessels: readonly Vessel[];
  readonly balances: readonly Balance[];
  /** Of a register or a file's head. */
  readonly streams: readonly Stream[];
}

/** Where the page stands for those who read it: on it, or from elsewhere. */
export interface Viewpoint {
  readonly where: Where;
  readonly elsewhere?: Elsewhere;
}

/** `blocks`: the page as amended, unless what was signed is asked for. */
export function readDefinitions(
  source: PageSource,
  view: Viewpoint,
  blocks: readonly ReadBlock[] = amended(source).blocks,
): Definitions {
  const substances: Substance[] = [];
  const solutions: SolutionDraft[] = [];
  const vessels: Vessel[] = [];
  const balances: Balance[] = [];
  const streams: Stream[] = [];
  /** `weigh F-12: tare 41.207 g`: a vessel although no line declares it. */
  const weighed: Vessel[] = [];
  blocks.forEach((placed, index) => {
    const { block } = placed;
    const statement = block.statement;
    if (!statement?.subject || statement.subject.text === '') return;
    const place: Place = {
      ...placeOf(placed),
      ...(view.elsewhere && { elsewhere: { ...view.elsewhere, entry: entryName(statement) } }),
    };
    const entry = entryOf(statement, index, place, block.clock);
    switch (statement.keyword) {
      case 'substance':
        substances.push(readSubstance(statement, entry, place, view.where));
        break;
      case 'solution':
        solutions.push(readSolution(statement, entry, place, view.where));
        break;
      case 'vessel':
        vessels.push(readVessel(statement, entry, place, view.where));
        break;
      case 'balance':
        balances.push(readBalance(statement, entry, place, view.where));
        break;
      case 'waste': {
        const stream = readStream(statement, entry, place, view.where);
        if (stream) streams.push(stream);
        break;
      }
      case 'weigh':
        if (isEmptyVessel(statement, place))
          weighed.push({ ...nameOf(statement, place), where: view.where, entry, tares: [] });
        break;
    }
  });
  const declared = new Set(vessels.map((vessel) => vessel.key));
  for (const vessel of weighed) if (!declared.has(vessel.key)) vessels.push(vessel);
  return { substances, solutions, vessels, balances, streams };
}

/** Nothing but a tare was read, and in nothing else. */
function isEmptyVessel(statement: Statement, place: Place): boolean {
  const facts = factsOf(statement);
  const found = readings(facts, place);
  return found.length > 0 && found.every((reading) => reading.what === 'tare') && !factWith(facts, 'in');
}

const nameOf = (statement: Statement, place: Place) => ({
  name: statement.subject?.text ?? '',
  key: foldName(statement.subject?.text ?? ''),
  span: statement.subject ? spanAt(place, statement.subject.span) : { start: place.at, end: place.at },
});

const alsoOf = (facts: readonly Fact[], place: Place): TextFact[] =>
  facts.filter((fact) => fact.key === 'also').flatMap((fact) => restOf(fact, place) ?? []);

function readSubstance(statement: Statement, entry: Entry, place: Place, where: Where): Substance {
  const facts = factsOf(statement);
  const x = datumWith(facts, 'x', place)?.quantity.number.value;
  const first = facts[0];
  const formulaText =
    first && !first.key && first.parts.length > 0 && !isQuantity(first.parts[0]) ? restOf(first, place) : undefined;
  const repeat = textWith(facts, 'repeat unit', place);
  const density = factWith(facts, 'density');
  const state = textWith(facts, 'state', place)?.text;
  const made = batchOf(textWith(facts, 'from', place));
  const smiles = textWith(facts, 'SMILES', place);
  const racemate = textWith(facts, 'racemate of', place);
  const cas = textWith(facts, 'CAS', place);
  const lot = textWith(facts, 'lot', place);
  const supplier = textWith(facts, 'supplier', place);
  return {
    kind: 'substance',
    ...nameOf(statement, place),
    also: alsoOf(facts, place),
    where,
    entry,
    ...(formulaText && looksMeant(formulaText.text) && { formula: formulaFact(formulaText, x) }),
    ...(smiles && { smiles }),
    ...optional('molarMass', datumWith(facts, 'molar mass', place)),
    ...densityOf(density, facts, place),
    ...optional('purity', datumWith(facts, 'purity', place)),
    ...(cas && { cas }),
    ...(lot && { lot }),
    ...(supplier && { supplier }),
    ...optional('mp', datumWith(facts, 'mp', place)),
    ...optional('bp', datumWith(facts, 'bp', place)),
    ...optional('bpAt', pressureOf(factWith(facts, 'bp'), place)),
    hazards: (textWith(facts, 'hazard', place)?.text ?? '')
      .split(/[\s,]+/)
      .filter((code) => /^(?:EUH|H)\d{3}/.test(code)),
    ...(isState(state) && { state }),
    ...optional('loading', datumWith(facts, 'loading', place)),
    ...optional('wet', datumWith(facts, 'wet', place)),
    ...(repeat && { repeatUnit: formulaFact(repeat, x) }),
    ...(racemate && { racemateOf: racemate }),
    ...(made && { made }),
  };
}

/** The first fact is the formula unless it is plainly a remark in words (`white powder`). */
const looksMeant = (text: string): boolean =>
  !/\s/.test(text) && /^[A-Z([0-9+*·.,{a-z\]\p{L}]/u.test(text) && /[A-Z]/.test(text);

export function formulaFact(fact: TextFact, x?: Decimal): FormulaFact {
  const result = parseFormula(fact.text, x);
  return result.ok ? { ...fact, formula: result.formula } : { ...fact, problem: result.problem, at: result.at };
}

const isState = (text: string | undefined): text is State =>
  text === 'solid' || text === 'liquid' || text === 'gas' || text === 'mixture' || text === 'aqueous';

const optional = <K extends string>(key: K, datum: Datum | undefined): { [P in K]?: Datum } =>
  (datum ? { [key]: datum } : {}) as { [P in K]?: Datum };

/** `bp 71 °C at 12 mmHg` */
function pressureOf(fact: Fact | undefined, place: Place): Datum | undefined {
  const data = fact?.parts.filter(isQuantity).flatMap((node) => datumOf(node, place) ?? []);
  return data?.find(({ quantity }) => quantity.unit?.kind === 'pressure');
}

/** `density 0.810 g/mL at 20 °C`, or the temperature as a fact of its own right after it. */
function densityOf(
  fact: Fact | undefined,
  facts: readonly Fact[],
  place: Place,
): { density?: Datum; densityAt?: Datum } {
  if (!fact) return {};
  const nodes = fact.parts.filter(isQuantity);
  const density = nodes[0] && datumOf(nodes[0], place);
  const next = facts[facts.indexOf(fact) + 1];
  const atNode = nodes[1] ?? (next?.key === 'at' ? quantityOf(next) : undefined);
  const at = atNode && datumOf(atNode, place);
  return { ...(density && { density }), ...(at && { densityAt: at }) };
}

function readSolution(statement: Statement, entry: Entry, place: Place, where: Where): SolutionDraft {
  const facts = factsOf(statement);
  const first = facts[0];
  const saturated = first?.key === 'saturated';
  const node = first && !first.key ? first.parts.find(isQuantity) : undefined;
  // Without a number it must say `in`: `sodium hydroxide in water`, strength to be found by titration.
  const named = node || saturated || (first && !first.key && first.parts.slice(1).some((part) => isWord(part, 'in')));
  const split = first && named ? splitAtIn(first, node ? first.parts.indexOf(node) + 1 : 0, place) : {};
  const { solventAmount, of, ...names } = split;
  const datum = node && datumOf(node, place);
  const to = datumWith(facts, 'made up to', place);
  const parts = legsOf(statement)
    .slice(1)
    .flatMap((leg) => partOf(leg.facts[0], place) ?? []);
  const glass = glassTexts(facts, place);
  return {
    ...nameOf(statement, place),
    also: alsoOf(facts, place),
    where,
    entry,
    ...names,
    ...(saturated
      ? { strength: { kind: 'saturated' as const } }
      : datum && { strength: strengthOf(datum, to, solventAmount, of) }),
    ...(parts.length > 0 && { parts }),
    ...(glass.length > 0 && { glass }),
    ...densityOf(factWith(facts, 'density'), facts, place),
    claims: claimsOf(facts, place).claims,
  };
}

/** A mass, volume or amount is what was weighed in; anything else is a strength. */
function strengthOf(
  datum: Datum,
  to: Datum | undefined,
  solventAmount: Datum | undefined,
  of: Datum | undefined,
): Strength {
  if (isTaken(datum))
    return {
      kind: 'made-up',
      solute: datum,
      ...(of && { of }),
      ...(to ? { to } : solventAmount && { solventAmount }),
    };
  return { kind: 'written', datum };
}

const isTaken = ({ quantity }: Datum): boolean =>
  quantity.unit?.kind === 'mass' || quantity.unit?.kind === 'volume' || quantity.unit?.kind === 'amount';

/** A leg after the first: `50.0 mL stock B`, with or without the solvent that all share. */
function partOf(fact: Fact | undefined, place: Place): { datum: Datum; name: TextFact; of?: Datum } | undefined {
  const first = fact?.parts[0];
  const datum = fact && fact.key === undefined && isQuantity(first) ? datumOf(first, place) : undefined;
  if (!fact || !datum || !isTaken(datum)) return undefined;
  const { solute, of } = splitAtIn(fact, 1, place);
  return solute && { datum, name: solute, ...(of && { of }) };
}

/** `sulfuric acid in water`, `sodium chloride in 95.0 g water`: the last `in` splits. */
function splitAtIn(
  fact: Fact,
  from: number,
  place: Place,
): { solute?: TextFact; solvent?: TextFact; solventAmount?: Datum; of?: Datum } {
  let split = -1;
  for (let i = fact.parts.length - 1; i > from; i--) {
    if (isWord(fact.parts[i], 'in')) {
      split = i;
      break;
    }
  }
  const start = isWord(fact.parts[from], 'of') ? from + 1 : from;
  const stock = fact.parts[start];
  const of = isQuantity(stock) ? datumOf(stock, place) : undefined;
  const solute = textOf(fact.parts, of ? start + 1 : start, split < 0 ? fact.parts.length : split, place);
  const measured = split < 0 ? undefined : fact.parts[split + 1];
  const solventAmount = isQuantity(measured) ? datumOf(measured, place) : undefined;
  const rest = split + (solventAmount ? 2 : 1);
  const from2 = isWord(fact.parts[rest], 'of') ? rest + 1 : rest;
  const solvent = split < 0 ? undefined : textOf(fact.parts, from2, fact.parts.length, place);
  return {
    ...(solute && { solute }),
    ...(solvent && { solvent }),
    ...(solventAmount && isTaken(solventAmount) && { solventAmount }),
    ...(of && { of }),
  };
}

function readVessel(statement: Statement, entry: Entry, place: Place, where: Where): Vessel {
  const facts = factsOf(statement);
  const first = facts[0];
  const description = first && !first.key ? restOf(first, place)?.text : undefined;
  const tares = readings(facts, place).filter((reading) => reading.what === 'tare');
  const empty = facts.find((fact) => fact.key === 'tare' && !fact.parts.some(isQuantity));
  return {
    ...nameOf(statement, place),
    where,
    entry,
    tares,
    ...(description && { description }),
    ...(empty && { emptyTare: spanAt(place, empty.span) }),
  };
}

function readBalance(statement: Statement, entry: Entry, place: Place, where: Where): Balance {
  const facts = factsOf(statement);
  const checked = textWith(facts, 'checked', place);
  return {
    ...nameOf(statement, place),
    where,
    entry,
    ...optional('readability', datumWith(facts, 'readability', place)),
    ...optional('repeatability', datumWith(facts, 'repeatability', place)),
    ...optional('capacity', datumWith(facts, 'capacity', place)),
    ...optional('minimum', datumWith(facts, 'minimum', place)),
    ...(checked && { checked }),
    buoyancy: factWith(facts, 'correct for buoyancy') !== undefined,
  };
}

const WEIGHED: Readonly<Record<string, Reading['what']>> = {
  tare: 'tare',
  gross: 'gross',
  net: 'net',
  before: 'before',
  after: 'after',
  residue: 'residue',
};

/** The balance readings among facts; an `at hh:mm` behind a reading is its time, in the fact or as the next one. */
export function readings(facts: readonly Fact[], place: Place): Reading[] {
  const out: Reading[] = [];
  facts.forEach((fact, i) => {
    const what = fact.key && WEIGHED[fact.key];
    if (!what) return;
    const node = fact.parts.find(isQuantity);
    const datum = node && datumOf(node, place);
    if (!node || !datum) return;
    const next = facts[i + 1];
    const seconds =
      clockAfter(fact, place) ?? (next?.key === 'at' ? secondsOf(restOf(next, place)?.text ?? '') : undefined);
    const cited = citation(fact, fact.parts.indexOf(node), place);
    out.push({
      what,
      datum,
      word: spanAt(place, fact.keySpan ?? fact.span),
      ...(seconds !== undefined && { seconds }),
      ...(cited && { from: cited }),
    });
  });
  return out;
}

function clockAfter(fact: Fact, place: Place): number | undefined {
  const at = fact.parts.findIndex((part) => isWord(part, 'at'));
  return at < 0 ? undefined : secondsOf(textOf(fact.parts, at + 1, at + 2, place)?.text ?? '');
}

/** `tare 27.236 g from HO-305` */
function citation(fact: Fact, after: number, place: Place) {
  return isWord(fact.parts[after + 1], 'from')
    ? batchOf(textOf(fact.parts, after + 2, fact.parts.length, place))
    : undefined;
}
