/** Statement trees → page. One small reader per keyword; names are resolved, nothing is computed. */
import { foldName } from '../../grammar/names';
import type { Fact, Leg, PageSource, Span, Statement, Term } from '../../grammar/tree';
import type { AmountWord, FactKey } from '../../grammar/vocabulary';
import { AMOUNT_WORDS, FACTS } from '../../grammar/vocabulary';
import type { Kind } from '../quantity/kinds';
import { amended, placeOf, type ReadBlock } from './amend';
import { type Consideration, readConsideration, withDecision } from './consider';
import { type Definitions, readings } from './definitions';
import { type Measured, readMeasured, readTest, readUsed, type Test, type Used } from './evidence';
import {
  batchOf,
  claimsOf,
  datumOf,
  datumWith,
  entryOf,
  factsOf,
  factWith,
  isQuantity,
  isWord,
  legsOf,
  type Place,
  quantityOf,
  restOf,
  spanAt,
  textFact,
  textOf,
  textWith,
} from './facts';
import { deliveredBy, glassTexts, measuredWith, resolveGlassware } from './glassware';
import type {
  Accept,
  Amount,
  Charge,
  Claim,
  Datum,
  Entry,
  Measurement,
  Mention,
  NameRef,
  Page,
  Plan,
  Product,
  Reaction,
  ReactionTerm,
  Recovered,
  Role,
  Sample,
  TextFact,
  Weigh,
  WeighingFacts,
} from './page';
import { createScope, type Scope } from './scope';
import { readSignature, type Signature } from './signature';
import { readTitration, type Titration } from './titration';
import { type Names, type Neutralisation, readNeutralisation, readWaste, samplePurpose, type Waste } from './waste';
import type { World } from './world';

interface Draft {
  readonly reactions: Reaction[];
  readonly plans: Plan[];
  readonly charges: Charge[];
  readonly weighs: Weigh[];
  readonly products: Product[];
  readonly considerations: Consideration[];
  readonly recovered: Recovered[];
  readonly samples: Sample[];
  readonly wastes: Waste[];
  readonly neutralisations: Neutralisation[];
  readonly titrations: Titration[];
  readonly measurements: Measurement[];
  readonly tests: Test[];
  readonly measured: Measured[];
  readonly used: Used[];
  readonly accepts: Accept[];
  readonly mentions: Mention[];
  readonly claims: Claim[];
}

interface Line {
  readonly statement: Statement;
  readonly entry: Entry;
  readonly place: Place;
  readonly scope: Scope;
  readonly draft: Draft;
}

/** `blocks`: the page as amended, unless what was signed is asked for. */
export function readPage(
  source: PageSource,
  definitions: Definitions,
  world: World,
  blocks: readonly ReadBlock[] = amended(source).blocks,
): Page {
  const scope = createScope(definitions, world);
  const draft: Draft = {
    reactions: [],
    plans: [],
    charges: [],
    weighs: [],
    products: [],
    considerations: [],
    recovered: [],
    samples: [],
    wastes: [],
    neutralisations: [],
    titrations: [],
    measurements: [],
    tests: [],
    measured: [],
    used: [],
    accepts: [],
    mentions: [],
    claims: [],
  };
  const head: { -readonly [K in 'id' | 'title' | 'date' | 'author' | 'signed']?: Page[K] } = {};
  declare(scope, definitions, draft);
  const wastes: Line[] = [];
  const signatures: Signature[] = [];
  blocks.forEach((placed, index) => {
    const { block } = placed;
    const statement = block.statement;
    if (!statement) return;
    const place = placeOf(placed);
    const entry = entryOf(statement, index, place, block.clock);
    const body = statement.body.kind === 'text' ? textFact(statement.body.text, place) : undefined;
    switch (statement.keyword) {
      case 'experiment':
        if (statement.subject) {
          head.id = textFact(statement.subject, place);
          draft.mentions.push(
            mention('page', statement.subject.text, spanAt(place, statement.subject.span), 'declared'),
          );
        }
        if (body) head.title = body;
        break;
      case 'date':
      case 'author':
        if (body?.text && !head[statement.keyword]) head[statement.keyword] = body;
        break;
      case 'signed':
      case 'witnessed':
        if (statement.keyword === 'signed') head.signed ??= entry;
        signatures.push(readSignature(statement, entry, place));
        break;
      case 'waste':
        // Read last: the names that the page uses may stand below it. In a register it declares a stream.
        if (head.id) wastes.push({ statement, entry, place, scope, draft });
        break;
      default:
        READERS[statement.keyword]?.({ statement, entry, place, scope, draft });
    }
  });
  for (const solution of scope.solutions) draft.claims.push(...solution.claims);
  readWastes(wastes, draft);
  return {
    ...head,
    substances: scope.substances,
    solutions: scope.solutions,
    vessels: definitions.vessels,
    balances: definitions.balances,
    signatures,
    amendments: amended(source).amendments,
    ...draft,
  };
}

const mention = (what: Mention['what'], name: string, span: Span, role: Mention['role']): Mention => ({
  what,
  name,
  key: foldName(name),
  span,
  role,
});

function declare(scope: Scope, definitions: Definitions, draft: Draft): void {
  const { mentions } = draft;
  for (const s of scope.substances) {
    mentions.push(mention('substance', s.name, s.span, 'declared'));
    if (s.made && s.entry) mentions.push(mention('page', s.made.id, s.made.span, 'used'));
  }
  for (const s of scope.solutions) {
    mentions.push(mention('substance', s.name, s.span, 'declared'));
    for (const ref of [s.solute, s.solvent, ...(s.parts ?? []).map((part) => part.name)]) {
      if (ref && ref.span.end > ref.span.start)
        mentions.push(mention('substance', ref.target?.name ?? ref.text, ref.span, 'used'));
    }
  }
  for (const v of definitions.vessels) {
    mentions.push(mention('vessel', v.name, v.span, 'declared'));
    for (const tare of v.tares) if (tare.from) mentions.push(mention('page', tare.from.id, tare.from.span, 'used'));
  }
  for (const b of definitions.balances) mentions.push(mention('balance', b.name, b.span, 'declared'));
}

type Reader = (line: Line) => void;

const READERS: { readonly [keyword: string]: Reader } = {
  reaction: readReaction,
  plan: readPlan,
  charge: readCharge,
  weigh: readWeigh,
  product: readProduct,
  recovered: readRecovered,
  sample: readSample,
  measure: readMeasurement,
  accept: readAccept,
  titrate: readTitrate,
  neutralise: readNeutralised,
  consider: readConsider,
  decided: readDecided,
  test: readTestLine,
};

/** The page's own names are known when all else is read. */
function readWastes(lines: readonly Line[], draft: Draft): void {
  if (lines.length === 0) return;
  const known = new Set(draft.mentions.filter(({ what }) => what === 'substance').map(({ key }) => key));
  for (const line of lines) {
    const waste = readWaste(line.statement, line.entry, line.place, known, namesOf(line));
    if (waste) draft.wastes.push(waste);
  }
}

const namesOf = (line: Line): Names => ({
  find: (text, span) => line.scope.name(text, span),
  use: (text, span) => use(line, text, span),
});

function readNeutralised(line: Line): void {
  const found = readNeutralisation(line.statement, line.entry, line.place, namesOf(line));
  if (found) line.draft.neutralisations.push(found);
}

/** A name used in a statement: resolved, and remembered for references. */
function use(line: Line, text: string, span: Span): NameRef {
  const ref = line.scope.name(text, span);
  line.draft.mentions.push(mention('substance', ref.target?.name ?? text, span, 'used'));
  return ref;
}

const subjectOf = (line: Line): TextFact | undefined =>
  line.statement.subject?.text ? textFact(line.statement.subject, line.place) : undefined;

const NAMING: ReadonlySet<FactKey> = new Set<FactKey>(['of', 'against', 'with', 'from']);

/** The known names in the facts of a test, for references. Its own name is none. */
function readNamed(line: Line): void {
  const { statement, place } = line;
  const names = factsOf(statement).map((fact) => {
    if (fact.key !== undefined) return NAMING.has(fact.key) ? restOf(fact, place) : undefined;
    const at = fact.parts.findIndex((part) => isWord(part, 'with') || isWord(part, 'against'));
    return at < 0 ? undefined : textOf(fact.parts, at + 1, fact.parts.length, place);
  });
  for (const name of names) if (name && line.scope.name(name.text, name.span).target) use(line, name.text, name.span);
}

function readConsider(line: Line): void {
  const { statement, entry, place, scope, draft } = line;
  const found = readConsideration(statement, entry, place, {
    find: scope.name,
    use: (text, span) => useKnown(line, text, span),
  });
  if (found) draft.considerations.push(found);
}

/** What was decided holds for all that was considered since the decision before. */
function readDecided({ statement, entry, place, draft }: Line): void {
  const text = statement.body.kind === 'text' ? textFact(statement.body.text, place) : undefined;
  if (!text?.text) return;
  const { considerations } = draft;
  for (let i = considerations.length - 1; i >= 0 && !considerations[i]!.decided; i--)
    considerations[i] = withDecision(considerations[i]!, { entry, text });
}

/** A name that stands for itself where nobody knows it: remembered only if it is known. */
function useKnown(line: Line, text: string, span: Span): NameRef {
  const ref = line.scope.name(text, span);
  return ref.target ? use(line, text, span) : ref;
}

function readTitrate(line: Line): void {
  const { statement, entry, place, scope, draft } = line;
  const titration = readTitration({
    statement,
    entry,
    place,
    use: (text, span) => useKnown(line, text, span),
    solute: (text, span) => {
      useKnown(line, text, span);
      return scope.solute(text, span);
    },
    weighing: (facts) => readWeighing(facts, line, scope),
    glassware: (texts) => resolveGlassware(texts, scope.vessel),
  });
  if (!titration) return;
  draft.titrations.push(titration);
  draft.claims.push(...titration.claims, ...titration.runs.flatMap((run) => run.claims));
}

/** A test, with what was taken for it. */
function readTestLine(line: Line): void {
  const { statement, entry, place, scope, draft } = line;
  readNamed(line);
  const test = readTest(statement, entry, place, scope.name);
  if (!test) return;
  draft.tests.push(test);
  for (const { substance, amounts } of test.legs) {
    const name = substance ?? draft.products.at(-1)?.name;
    if (name) draft.used.push(...amounts.map((amount) => ({ entry, name, amount })));
  }
}

// ── reactions ────────────────────────────────────────────────────────────────────────────────────────────────────

function readReaction(line: Line): void {
  const { statement, place, draft, entry } = line;
  const facts = factsOf(statement);
  const equation = facts[0]?.equation;
  const subject = subjectOf(line);
  const id = subject?.text ?? `R${draft.reactions.length + 1}`;
  if (subject) draft.mentions.push(mention('reaction', id, subject.span, 'declared'));
  if (!equation) return;
  const side = (terms: readonly Term[]): ReactionTerm[] => terms.map((term) => readTerm(term, line));
  draft.reactions.push({
    entry,
    id,
    left: side(equation.left),
    right: side(equation.right),
    equation: {
      text: place.text.slice(equation.span.start, equation.span.end).replace(/\s+/g, ' ').trim(),
      span: spanAt(place, equation.span),
    },
    arrow: equation.arrow.text,
    resolution: facts.some((fact) => fact.key === 'resolution'),
  });
}

function readTerm(term: Term, line: Line): ReactionTerm {
  const name = textFact(term.name, line.place);
  return {
    name: term.rest ? { text: name.text, span: name.span } : use(line, name.text, name.span),
    coefficient: coefficientOf(term.coefficient?.text ?? '1'),
    span: spanAt(line.place, term.span),
    ...(term.state && { state: term.state }),
    rest: term.rest,
  };
}

/** `2`, `1/2` or `0.5`, exactly. */
function coefficientOf(text: string): ReactionTerm['coefficient'] {
  const fraction = /^(\d+)\s*\/\s*(\d+)$/.exec(text);
  if (fraction && BigInt(fraction[2]!) > 0n)
    return { text, numerator: BigInt(fraction[1]!), denominator: BigInt(fraction[2]!) };
  const decimal = /^(\d+)(?:\.(\d*))?$/.exec(text);
  if (!decimal) return { text, numerator: 1n, denominator: 1n };
  const digits = decimal[2] ?? '';
  return { text, numerator: BigInt(`${decimal[1]}${digits}`), denominator: 10n ** BigInt(digits.length) };
}

// ── amounts ──────────────────────────────────────────────────────────────────────────────────────────────────────

const TAKEN: ReadonlySet<Kind> = new Set<Kind>([
  'mass',
  'volume',
  'amount',
  'equivalents',
  'amountRatio',
  'equivalentAmount',
]);
const isAmountWord = (key: FactKey | undefined): key is AmountWord =>
  (AMOUNT_WORDS as readonly string[]).includes(key ?? '');
const isRole = (key: FactKey | undefined): key is Role & FactKey =>
  key === 'excess' || (key !== undefined && FACTS[key].kind === 'role');

function readAmount(facts: readonly Fact[], line: Line): Amount {
  const { place, scope } = line;
  const quantities: Datum[] = [];
  const glass = deliveredBy(resolveGlassware(glassTexts(facts, place), scope.vessel));
  let word: Amount['word'];
  let strength: Amount['strength'];
  for (const fact of facts) {
    const stage = fact.key !== undefined && FACTS[fact.key].kind === 'stage';
    const first = fact.parts[0];
    if ((fact.key === undefined || stage) && isQuantity(first)) {
      const datum = datumOf(first, place);
      if (datum && TAKEN.has(datum.quantity.unit?.kind ?? 'number')) {
        quantities.push(measuredWith(datum, glass));
        strength ??= strengthOf(fact, place);
      }
    } else if (isAmountWord(fact.key) && fact.parts.length === 0 && !word) {
      word = { word: fact.key, span: spanAt(place, fact.keySpan ?? fact.span) };
    }
  }
  // `then 5.0 mL`: no known word, but a measured amount all the same.
  if (quantities.length === 0 && !word && readings(facts, place).length === 0) {
    for (const fact of facts) {
      const node = fact.key === undefined ? fact.parts.find(isQuantity) : undefined;
      const datum = node && datumOf(node, place);
      if (datum && TAKEN.has(datum.quantity.unit?.kind ?? 'number')) {
        quantities.push(datum);
        break;
      }
    }
  }
  // `5.0 g, excess` is a role; alone it is the amount.
  const counted = quantities.length > 0 && word?.word === 'excess' ? undefined : word;
  return {
    quantities,
    weighing: readWeighing(facts, line, scope),
    ...(counted && { word: counted }),
    ...(factWith(facts, 'correct for buoyancy') && { buoyancy: true }),
    ...(strength && { strength }),
  };
}

/** `4.00 mL of 2.5 M in hexanes` */
function strengthOf(fact: Fact, place: Place): Amount['strength'] {
  const of = fact.parts.findIndex((part) => isWord(part, 'of'));
  const node = of < 0 ? undefined : fact.parts[of + 1];
  const datum = isQuantity(node) ? datumOf(node, place) : undefined;
  if (!datum) return undefined;
  const solvent = isWord(fact.parts[of + 2], 'in') ? textOf(fact.parts, of + 3, fact.parts.length, place) : undefined;
  return { datum, ...(solvent && { solvent }) };
}

function readWeighing(facts: readonly Fact[], line: Line, scope: Scope): WeighingFacts {
  const { place, draft } = line;
  const found = readings(facts, place);
  for (const reading of found)
    if (reading.from) draft.mentions.push(mention('page', reading.from.id, reading.from.span, 'used'));
  const inFact = factWith(facts, 'in');
  const on = factWith(facts, 'on');
  const vessel = inFact ? restOf(inFact, place) : behindReading(facts, 'in', place);
  const target = vessel && scope.vessel(vessel.text);
  // `in toluene` is a solvent; without readings only a known vessel counts.
  // Behind a reading `in total` is no vessel, `in beaker 4` is one.
  const named = inFact !== undefined || /\d/.test(vessel?.text ?? '');
  const isVessel = vessel && (target || (found.length > 0 && named && !scope.name(vessel.text, vessel.span).target));
  const balance = on ? restOf(on, place) : behindReading(facts, 'on', place);
  const balanceTarget = balance && scope.balance(balance.text);
  if (vessel && isVessel) draft.mentions.push(mention('vessel', target?.name ?? vessel.text, vessel.span, 'used'));
  if (balance && balanceTarget) draft.mentions.push(mention('balance', balanceTarget.name, balance.span, 'used'));
  const used = balanceTarget ?? (found.length > 0 ? scope.onlyBalance : undefined);
  return {
    readings: found,
    ...(vessel &&
      isVessel && {
        vessel: { ...vessel, fact: inFact ? spanAt(place, inFact.span) : vessel.span, ...(target && { target }) },
      }),
    ...(used && { balance: { text: used.name, span: balance?.span ?? used.span, target: used } }),
  };
}

/** The place named behind a reading in its own fact: `gross 54.881 g in F-12 on B-2`. */
function behindReading(facts: readonly Fact[], word: 'in' | 'on', place: Place): TextFact | undefined {
  for (const fact of facts) {
    if (fact.key === undefined || !READINGS.has(fact.key) || !isQuantity(fact.parts[0])) continue;
    const from = fact.parts.findIndex((part) => isWord(part, word));
    if (from < 0) continue;
    const next = fact.parts.findIndex(
      (part, i) => i > from + 1 && PLACE_WORDS.has(part.kind === 'word' ? part.text : ''),
    );
    return textOf(fact.parts, from + 1, next < 0 ? fact.parts.length : next, place);
  }
  return undefined;
}

const READINGS: ReadonlySet<FactKey> = new Set<FactKey>(['tare', 'gross', 'net', 'before', 'after', 'residue']);
const PLACE_WORDS: ReadonlySet<string> = new Set(['in', 'on', 'at', 'from']);

// ── statements ───────────────────────────────────────────────────────────────────────────────────────────────────

function readCharge(line: Line): void {
  const { statement, entry, draft, place } = line;
  const subject = subjectOf(line);
  if (!subject) return;
  const name = use(line, subject.text, subject.span);
  const legs = legsOf(statement);
  for (const leg of legs.length > 0 ? legs : [EMPTY_LEG]) {
    const facts = leg.facts;
    const { claims } = claimsOf(facts, place);
    const amount = readAmount(facts, line);
    const at = facts.filter((fact) => fact.key === 'at').flatMap((fact) => quantityOf(fact) ?? []);
    const data = at.flatMap((node) => datumOf(node, place) ?? []);
    const temperature = data.find((d) => d.quantity.unit?.kind === 'temperature');
    const pressure = data.find((d) => d.quantity.unit?.kind === 'pressure');
    const batch = batchOf(textWith(facts, 'from', place));
    const lot = textWith(facts, 'lot', place);
    if (batch) draft.mentions.push(mention('page', batch.id, batch.span, 'used'));
    draft.claims.push(...claims);
    draft.charges.push({
      entry,
      name,
      amount,
      roles: facts
        .filter((fact) => isRole(fact.key) && !(fact.key === 'excess' && amount.word?.word === 'excess'))
        .map((fact) => ({ role: fact.key as Role, span: spanAt(place, fact.keySpan ?? fact.span) })),
      ...(temperature && { temperature }),
      ...(pressure && { pressure }),
      ...(batch && { batch }),
      ...(lot && { lot }),
      claims,
    });
  }
}

const EMPTY_LEG: Leg = { span: { start: 0, end: 0 }, facts: [] };

function readWeigh(line: Line): void {
  const { statement, entry, draft, place, scope } = line;
  const subject = subjectOf(line);
  if (!subject) return;
  const facts = factsOf(statement);
  const vessel = scope.vessel(subject.text);
  const { claims } = claimsOf(facts, place);
  draft.claims.push(...claims);
  const name = vessel ? { text: subject.text, span: subject.span } : use(line, subject.text, subject.span);
  if (vessel && vessel.entry.block !== entry.block) {
    draft.mentions.push(mention('vessel', vessel.name, subject.span, 'used'));
  }
  draft.weighs.push({ entry, name, ...(vessel && { vessel }), amount: readAmount(facts, line), claims });
}

function readProduct(line: Line): void {
  const { statement, entry, draft, place } = line;
  const facts = factsOf(statement);
  const subject = subjectOf(line);
  const last = draft.reactions.at(-1)?.right.find((term) => !term.rest);
  if (!subject && !last) return;
  const name = subject ? use(line, subject.text, subject.span) : { ...last!.name, span: entry.mark };
  const { claims } = claimsOf(facts, place);
  draft.claims.push(...claims);
  const stages = facts.filter((fact) => fact.key !== undefined && FACTS[fact.key].kind === 'stage');
  const stage = stages.findLast((fact) => !PARTS.has(fact.key!));
  const part = stages.find((fact) => PARTS.has(fact.key!) && fact.key !== 'label');
  const label = textWith(facts, 'label', place);
  const purity = datumWith(facts, 'purity', place);
  const measured = readMeasured(legsOf(statement), place, entry, name);
  draft.measured.push(...measured.map((m) => ({ ...m, stage: stage?.key ?? 'product' })));
  draft.products.push({
    entry,
    name,
    amount: readAmount(facts, line),
    ...(stage && { stage: { text: stage.key!, span: spanAt(place, stage.keySpan ?? stage.span) } }),
    ...(part && { part: { text: place.text.slice(part.span.start, part.span.end), span: spanAt(place, part.span) } }),
    ...(label && { label }),
    ...(purity && { purity }),
    contains: facts.filter((fact) => fact.key === 'contains').flatMap((fact) => readContained(fact, line) ?? []),
    claims,
  });
}

const PARTS: ReadonlySet<string> = new Set<FactKey>(['first crop', 'second crop', 'third crop', 'fractions', 'label']);

/** `contains ethyl acetate 8 wt%` */
function readContained(fact: Fact, line: Line): { name: NameRef; fraction: Datum } | undefined {
  const at = fact.parts.findIndex(isQuantity);
  const node = fact.parts[at];
  const name = textOf(fact.parts, 0, at, line.place);
  const fraction = isQuantity(node) ? datumOf(node, line.place) : undefined;
  return name && fraction ? { name: use(line, name.text, name.span), fraction } : undefined;
}

function readRecovered(line: Line): void {
  const { statement, entry, draft, place } = line;
  const subject = subjectOf(line);
  if (!subject) return;
  const facts = factsOf(statement);
  const { claims } = claimsOf(facts, place);
  draft.claims.push(...claims);
  const purity = datumWith(facts, 'purity', place);
  draft.recovered.push({
    entry,
    name: use(line, subject.text, subject.span),
    amount: readAmount(facts, line),
    ...(purity && { purity }),
    claims,
  });
}

function readPlan(line: Line): void {
  const { statement, entry, draft, place } = line;
  const subject = subjectOf(line);
  if (!subject || statement.body.kind === 'text') return;
  const facts = factsOf(statement);
  const nodes = facts.find((fact) => fact.key === undefined && quantityOf(fact))?.parts.filter(isQuantity) ?? [];
  const quantity = nodes[0] && datumOf(nodes[0], place);
  const atFact = factWith(facts, 'at');
  const said = facts.find((fact) => fact.parts.some((part) => isWord(part, 'yield')));
  const yieldNode = nodes[1] ?? [atFact, said].flatMap((fact) => (fact && quantityOf(fact)) ?? []).at(0);
  const expected = yieldNode && datumOf(yieldNode, place);
  const from = textWith(facts, 'from', place);
  const source = from && useKnown(line, from.text, from.span);
  draft.plans.push({
    entry,
    name: use(line, subject.text, subject.span),
    ...(quantity && { quantity }),
    ...(expected?.quantity.unit?.kind === 'ratio' && { yield: expected }),
    ...(source?.target && { source }),
    roles: facts.flatMap((fact) => (isRole(fact.key) ? [fact.key] : [])),
    balances: line.scope.balances,
  });
}

function readSample(line: Line): void {
  const { statement, entry, draft, place } = line;
  const subject = subjectOf(line);
  if (!subject) return;
  const first = factsOf(statement)[0];
  const node = first?.parts.find(isQuantity);
  const quantity = node && datumOf(node, place);
  const of = first?.parts.findIndex((part) => isWord(part, 'of')) ?? -1;
  const name = first && of >= 0 ? textOf(first.parts, of + 1, first.parts.length, place) : undefined;
  draft.samples.push({
    entry,
    id: subject.text,
    ...(quantity && { quantity }),
    ...(name && { name: use(line, name.text, name.span) }),
    ...samplePurpose(statement, place),
  });
}

function readMeasurement(line: Line): void {
  const { statement, entry, draft, place } = line;
  const subject = subjectOf(line);
  if (!subject || statement.body.kind === 'text') return;
  const facts = factsOf(statement);
  const { claims, elements } = claimsOf(facts, place);
  draft.claims.push(...claims);
  const hrms = readHrms(factWith(facts, 'HRMS'), facts, place);
  const combustion = readCombustion(facts, place);
  const name = use(line, subject.text, subject.span);
  draft.measured.push(...readMeasured(legsOf(statement), place, entry, name));
  draft.used.push(...readUsed(legsOf(statement), place, entry, name));
  draft.measurements.push({
    entry,
    name,
    ...(hrms && { hrms }),
    ...(combustion.length > 0 && { combustion }),
    claims,
    elementClaims: elements,
  });
}

/** `HRMS [M+Na]+ found 153.0886`, `found` in the same fact or as the next one. */
function readHrms(fact: Fact | undefined, facts: readonly Fact[], place: Place): Measurement['hrms'] {
  if (!fact) return undefined;
  const word = fact.parts.findIndex((part) => isWord(part) && /^\[?\d*M\b/.test(part.text));
  const until = fact.parts.findIndex((part, i) => i > word && (isQuantity(part) || isWord(part, 'found')));
  const adduct = word < 0 ? undefined : textOf(fact.parts, word, until < 0 ? fact.parts.length : until, place);
  const foundFact = factWith(facts, 'found');
  const node = fact.parts.findLast(isQuantity) ?? (foundFact && quantityOf(foundFact));
  const found = node && datumOf(node, place);
  return adduct && found ? { adduct, found } : undefined;
}

/** `combustion C 60.02, H 4.51`: an element and a number a fact, up to the first that is not. */
function readCombustion(facts: readonly Fact[], place: Place): { element: string; percent: Datum }[] {
  const start = facts.findIndex((fact) => fact.key === 'combustion');
  if (start < 0) return [];
  const out: { element: string; percent: Datum }[] = [];
  for (const fact of facts.slice(start)) {
    if (fact.key !== undefined && fact.key !== 'combustion') break;
    let element: string | undefined;
    for (const part of fact.parts) {
      if (isWord(part)) element = /^[A-Z][a-z]?$/.test(part.text) ? part.text : element;
      else if (isQuantity(part) && element) {
        const percent = datumOf(part, place);
        if (percent) out.push({ element, percent });
        element = undefined;
      }
    }
  }
  return out;
}

function readAccept(line: Line): void {
  const { statement, entry, draft, place } = line;
  const subject = subjectOf(line);
  if (!subject) return;
  const wholePage = / on the page$/.test(subject.text);
  const rule = wholePage ? subject.text.replace(/ on the page$/, '') : subject.text;
  const reason = statement.body.kind === 'text' ? textFact(statement.body.text, place) : undefined;
  draft.accepts.push({
    entry,
    rule: { text: rule, span: { start: subject.span.start, end: subject.span.start + rule.length } },
    ...(reason?.text && { reason }),
    wholePage,
  });
}
