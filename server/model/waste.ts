/** Where things went: `waste`, `neutralise` and `sample`, as written. */
import { foldName } from '../../grammar/names';
import type { Fact, Statement } from '../../grammar/tree';
import {
  batchOf,
  datumOf,
  datumWith,
  factsOf,
  isQuantity,
  isWord,
  type Place,
  restOf,
  spanAt,
  textFact,
  textOf,
  textWith,
} from './facts';
import { findSoluteInHandbook } from './handbook';
import { namesInText } from './names-in-text';
import type { BatchRef, Datum, Entry, NameRef, Sample, TextFact } from './page';

/** `waste STREAM: what, how much`. */
export interface Waste {
  readonly entry: Entry;
  readonly stream: TextFact;
  readonly key: string;
  /** All that stands after the colon. */
  readonly text: TextFact;
  /** Masses and volumes, in written order. */
  readonly quantities: readonly Datum[];
  /** `density 0.79 g/mL`, of the waste itself. */
  readonly density?: Datum;
  /** Substances that the text names. */
  readonly contents: readonly WasteContent[];
  /** The quantity is of this and of nothing else: `25 mL methanol`. */
  readonly pure?: NameRef;
}

export interface WasteContent {
  readonly name: NameRef;
  readonly concentrated: boolean;
}

/** `neutralise WHAT: with …, to pH 7`. */
export interface Neutralisation {
  readonly entry: Entry;
  /** What was neutralised: a substance, or a text such as `wash water`. */
  readonly what: NameRef;
  readonly with?: NameRef;
  /** How much of the reagent, where that is written. */
  readonly quantity?: Datum;
  readonly strength?: Datum;
  /** The pH that was reached. */
  readonly pH?: Datum;
  readonly from?: BatchRef;
}

/** How a reader resolves a name, and remembers that it was used. */
export interface Names {
  /** Resolves without remembering. */
  find(text: string, span: TextFact['span']): NameRef;
  use(text: string, span: TextFact['span']): NameRef;
}

/** `known`: keys of the names the page uses elsewhere. */
export function readWaste(
  statement: Statement,
  entry: Entry,
  place: Place,
  known: ReadonlySet<string>,
  names: Names,
): Waste | undefined {
  const text = bodyText(statement, place);
  if (!statement.subject?.text || !text) return undefined;
  const facts = factsOf(statement);
  const contents = namesInText(text.text, known).map(({ text: name, start, end, concentrated }): WasteContent => {
    const span = { start: text.span.start + start, end: text.span.start + end };
    return { name: names.use(name, span), concentrated };
  });
  const density = datumWith(facts, 'density', place);
  const stream = textFact(statement.subject, place);
  const pure = contents.length === 1 && isPure(facts, place, contents[0]!.name) ? contents[0]!.name : undefined;
  return {
    entry,
    stream,
    key: foldName(stream.text),
    text,
    quantities: facts.flatMap((fact) => (fact.key === undefined ? quantitiesOf(fact, place) : [])),
    ...(density && { density }),
    contents: contents.filter(({ name }) => name.target),
    ...(pure?.target && { pure }),
  };
}

/** From the first fact to the end of the statement, as written: offsets in it are offsets on the page. */
function bodyText(statement: Statement, place: Place): TextFact | undefined {
  const facts = factsOf(statement);
  const first = facts[0];
  if (!first) return undefined;
  const span = spanAt(place, { start: first.span.start, end: statement.span.end });
  return { text: place.text.slice(first.span.start, statement.span.end), span };
}

const quantitiesOf = (fact: Fact, place: Place): Datum[] =>
  fact.parts.filter(isQuantity).flatMap((node) => {
    const datum = datumOf(node, place);
    const kind = datum?.quantity.unit?.kind;
    return datum && (kind === 'mass' || kind === 'volume') ? [datum] : [];
  });

/** One fact, a quantity and a name right behind it (`of` may stand between). */
function isPure(facts: readonly Fact[], place: Place, name: NameRef): boolean {
  const own = facts.filter((fact) => fact.key === undefined);
  const fact = own[0];
  if (own.length !== 1 || !fact || !isQuantity(fact.parts[0])) return false;
  const from = isWord(fact.parts[1], 'of') ? 2 : 1;
  return textOf(fact.parts, from, fact.parts.length, place)?.text === name.text;
}

/** `with 12.0 g sodium carbonate`, `with sodium carbonate, 12.0 g`, `with 2 M sodium hydroxide`, `excess`. */
export function readNeutralisation(
  statement: Statement,
  entry: Entry,
  place: Place,
  names: Names,
): Neutralisation | undefined {
  if (!statement.subject?.text) return undefined;
  const facts = factsOf(statement);
  const subject = textFact(statement.subject, place);
  const fact = facts.find((f) => f.key === 'with') ?? facts.find((f) => f.parts.some((part) => isWord(part, 'with')));
  const start = fact?.key === 'with' ? 0 : (fact?.parts.findIndex((part) => isWord(part, 'with')) ?? -1) + 1;
  const parts = fact?.parts.slice(start) ?? [];
  const data = parts.filter(isQuantity).flatMap((node) => datumOf(node, place) ?? []);
  const reagent = fact && nameAmong(fact, start, place);
  const others = facts.filter((f) => f.key === undefined && f !== fact).flatMap((f) => quantitiesAny(f, place));
  const amount = [...data, ...others].find(isAmount);
  const strength = data.find((datum) => isStrength(datum));
  const pH = datumWith(facts, 'to pH', place);
  const from = batchOf(textWith(facts, 'from', place));
  const resolve = (name: TextFact): NameRef =>
    names.find(name.text, name.span).target ? names.use(name.text, name.span) : { text: name.text, span: name.span };
  return {
    entry,
    what: resolve(subject),
    ...(reagent && { with: reagentOf(reagent, fact, start, place, names, resolve) }),
    ...(amount && { quantity: amount }),
    ...(strength && { strength }),
    ...(pH && { pH }),
    ...(from && { from }),
  };
}

/** With its strength if that is a name of its own (`2 M hydrochloric acid`); of an open name the substance. */
function reagentOf(
  reagent: TextFact,
  fact: Fact,
  start: number,
  place: Place,
  names: Names,
  resolve: (name: TextFact) => NameRef,
): NameRef {
  const known = resolve(reagent);
  if (known.target) return known;
  const whole = textOf(fact.parts, start, fact.parts.length, place);
  const sold = whole && names.find(whole.text, whole.span);
  if (sold?.target) return sold;
  const solute = findSoluteInHandbook(reagent.text);
  return solute ? { ...names.find(solute.name, reagent.span), text: reagent.text } : known;
}

/** The words of a fact from an index on, quantities, `of` and `in SOLVENT` left out. */
function nameAmong(fact: Fact, start: number, place: Place): TextFact | undefined {
  let from = start;
  let until = fact.parts.length;
  for (let i = start; i < fact.parts.length; i++) {
    const part = fact.parts[i]!;
    if (!isQuantity(part) && !isWord(part, 'of')) continue;
    if (i <= from) from = i + 1;
    else {
      until = i;
      break;
    }
  }
  return textOf(fact.parts, from, until, place);
}

const quantitiesAny = (fact: Fact, place: Place): Datum[] =>
  fact.parts.filter(isQuantity).flatMap((node) => datumOf(node, place) ?? []);

const isAmount = ({ quantity }: Datum): boolean =>
  ['mass', 'volume', 'amount'].includes(quantity.unit?.kind ?? 'number');
const isStrength = ({ quantity }: Datum): boolean =>
  ['concentration', 'equivalentConcentration', 'massFraction', 'ratio', 'massPerVolume'].includes(
    quantity.unit?.kind ?? 'number',
  );

/** `for` what, or `kept`. */
export function samplePurpose(statement: Statement, place: Place): Pick<Sample, 'purpose' | 'kept'> {
  const facts = factsOf(statement);
  const purpose = facts.find((fact) => fact.key === 'for');
  const text = purpose && restOf(purpose, place);
  return { ...(text && { purpose: text }), kept: facts.some((fact) => fact.key === 'kept') };
}
