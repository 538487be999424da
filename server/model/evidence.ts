/** Tests and measured properties as written: `test Tollens: at 50 °C, no mirror => no aldehyde`, `measure X: mp 121 °C`. */
import type { Fact, Leg, QuantityNode, Span, Statement } from '../../grammar/tree';
import { readQuantity } from '../quantity/written';
import { datumOf, isQuantity, isWord, legsOf, type Place, restOf, spanAt, textFact, textOf } from './facts';
import type { Datum, Entry, NameRef, TextFact } from './page';

/** One `test` statement. */
export interface Test {
  readonly entry: Entry;
  /** Its own name: `Tollens`, `2,4-DNP`. */
  readonly name: TextFact;
  readonly legs: readonly TestLeg[];
}

export interface TestLeg {
  readonly span: Span;
  /** `of SUBSTANCE`, said here or in a leg before. */
  readonly substance?: NameRef;
  /** `at 50 °C` */
  readonly temperature?: Datum;
  /** `for 5 min` */
  readonly time?: Datum;
  /** What was taken of the substance. */
  readonly amounts: readonly Datum[];
  readonly observation?: TextFact;
  readonly conclusion?: TextFact;
}

export type MeasuredKind = 'mp' | 'bp' | 'refractive index' | 'Rf' | 'optical rotation' | '1H NMR';

/** One measured property of a `measure`, `product`, `recovered` or `sample` statement. */
export interface Measured {
  readonly entry: Entry;
  readonly name: NameRef;
  readonly kind: MeasuredKind;
  /** The fact, without its claims. */
  readonly span: Span;
  /** Stage of the product line it stands in. */
  readonly stage?: string;
  /** As read: a range of temperatures, an index, an angle, an Rf. */
  readonly value?: Datum;
  readonly temperature?: Datum;
  readonly pressure?: Datum;
  readonly spot?: Datum;
  readonly front?: Datum;
  /** Of the polarimeter tube. */
  readonly length?: Datum;
  readonly concentration?: Datum;
  /** The line of a spectrum. */
  readonly text?: TextFact;
  readonly literature?: Literature;
}

/** `(lit. 72 °C at 12 mmHg)` */
export interface Literature {
  readonly value: Datum;
  readonly temperature?: Datum;
  readonly pressure?: Datum;
}

/** What was taken for a test or a measurement of a substance. */
export interface Used {
  readonly entry: Entry;
  readonly name: NameRef;
  readonly amount: Datum;
}

type LookUp = (text: string, span: Span) => NameRef;

export function readTest(statement: Statement, entry: Entry, place: Place, lookUp: LookUp): Test | undefined {
  if (!statement.subject?.text || statement.body.kind === 'text') return undefined;
  const legs: TestLeg[] = [];
  let substance: NameRef | undefined;
  for (const leg of legsOf(statement)) {
    const read = readLeg(leg, place, lookUp, substance);
    substance = read.substance;
    legs.push(read);
  }
  return { entry, name: textFact(statement.subject, place), legs };
}

function readLeg(leg: Leg, place: Place, lookUp: LookUp, before: NameRef | undefined): TestLeg {
  const amounts: Datum[] = [];
  const seen: TextFact[] = [];
  let substance = before;
  let temperature: Datum | undefined;
  let time: Datum | undefined;
  for (const fact of leg.facts) {
    const first = fact.parts.find(isQuantity);
    const datum = first && datumOf(first, place);
    const kind = datum?.quantity.unit?.kind;
    if (fact.key === 'of') {
      const taken = takenOf(fact, place, lookUp);
      substance = taken.name ?? substance;
      if (taken.amount) amounts.push(taken.amount);
    } else if (fact.key === 'at' && kind === 'temperature') temperature ??= datum;
    else if (fact.key === 'for' && kind === 'time') time ??= datum;
    else if (fact.key === 'by' || fact.key === 'from') continue;
    else if (fact.key === undefined && isQuantity(fact.parts[0]) && isSample(fact, place, lookUp, substance))
      amounts.push(datum!);
    else {
      const text = saidBy(fact, place);
      if (text) seen.push(text);
    }
  }
  const [head] = seen;
  return {
    span: spanAt(place, leg.span),
    amounts,
    ...(substance && { substance }),
    ...(temperature && { temperature }),
    ...(time && { time }),
    ...(head && {
      observation: {
        text: seen.map(({ text }) => text).join(', '),
        span: { start: head.span.start, end: seen.at(-1)!.span.end },
      },
    }),
    ...(leg.conclusion?.text && { conclusion: textFact(leg.conclusion, place) }),
  };
}

/** `of methyl salicylate`, `of 20 mg of methyl salicylate`, `of methyl salicylate in ethanol`. */
function takenOf(fact: Fact, place: Place, lookUp: LookUp): { name?: NameRef; amount?: Datum } {
  const node = isQuantity(fact.parts[0]) ? fact.parts[0] : undefined;
  const amount = node && datumOf(node, place);
  const from = node ? (isWord(fact.parts[1], 'of') ? 2 : 1) : 0;
  const whole = textOf(fact.parts, from, fact.parts.length, place);
  if (!whole) return { ...(amount && { amount }) };
  const solvent = fact.parts.findIndex((part, i) => i > from && isWord(part, 'in'));
  const short = solvent < 0 ? undefined : textOf(fact.parts, from, solvent, place);
  const full = lookUp(whole.text, whole.span);
  const name = full.target || !short ? full : lookUp(short.text, short.span);
  return { name, ...(amount && { amount }) };
}

/** A mass alone is that of the substance; a volume, or an amount of something, may be the reagent's. */
function isSample(fact: Fact, place: Place, lookUp: LookUp, substance: NameRef | undefined): boolean {
  const node = fact.parts[0] as QuantityNode;
  const kind = readQuantity(node, place.at)?.unit?.kind;
  const next = fact.parts[1];
  if (isWord(next, 'of')) {
    const name = textOf(fact.parts, 2, fact.parts.length, place);
    const target = name && lookUp(name.text, name.span).target;
    return (kind === 'mass' || kind === 'volume') && target !== undefined && target === substance?.target;
  }
  return kind === 'mass' && (next === undefined || isWord(next, 'in'));
}

/** The words of a fact with the one it begins with: `with 3 drops more`. */
function saidBy(fact: Fact, place: Place): TextFact | undefined {
  const rest = restOf(fact, place);
  if (!fact.key || !fact.keySpan) return rest;
  const key = place.text.slice(fact.keySpan.start, fact.keySpan.end);
  return {
    text: rest ? `${key} ${rest.text}` : key,
    span: { ...spanAt(place, fact.keySpan), ...(rest && { end: rest.span.end }) },
  };
}

// ── measured properties ──────────────────────────────────────────────────────────────────────────────────────────

type Draft = { -readonly [K in keyof Measured]: Measured[K] };

const MEASURED: ReadonlySet<string> = new Set<MeasuredKind>([
  'mp',
  'bp',
  'refractive index',
  'Rf',
  'optical rotation',
  '1H NMR',
]);

export function readMeasured(legs: readonly Leg[], place: Place, entry: Entry, name: NameRef): Measured[] {
  return legs.flatMap((leg) => readMeasuredLeg(leg, place, { entry, name }));
}

function readMeasuredLeg(leg: Leg, place: Place, base: Pick<Measured, 'entry' | 'name'>): Measured[] {
  const drafts: Draft[] = [];
  let current: Draft | undefined;
  const begin = (kind: MeasuredKind, fact: Fact): Draft => {
    const last = fact.parts.at(-1)?.span.end ?? fact.keySpan?.end ?? fact.span.end;
    current = { ...base, kind, span: spanAt(place, { start: fact.span.start, end: last }) };
    drafts.push(current);
    return current;
  };
  for (const fact of leg.facts) {
    const data = fact.parts.filter(isQuantity).flatMap((node) => datumOf(node, place) ?? []);
    const [first] = data;
    const kind = first?.quantity.unit?.kind;
    const label = fact.key ?? (isWord(fact.parts[0]) ? fact.parts[0].text : undefined);
    if (fact.key === 'spot') {
      if (first) begin('Rf', fact).spot = first;
    } else if (fact.key === 'front') {
      for (const draft of drafts) if (draft.kind === 'Rf') put(draft, 'front', first);
    } else if (fact.key === 'Rf') {
      const open = drafts.find((draft) => draft.kind === 'Rf' && draft.spot && !draft.value);
      if (first) (open ?? begin('Rf', fact)).value = first;
    } else if (fact.key === '1H NMR') {
      const text = restOf(fact, place);
      if (text) begin('1H NMR', fact).text = text;
    } else if (fact.key !== undefined && MEASURED.has(fact.key)) {
      if (first) readInto(begin(fact.key as MeasuredKind, fact), data);
    } else if (label === 'length' && kind === 'length') {
      put(current, 'length', first);
    } else if (label === 'concentration' || label === 'c' || label === 'neat' || label === 'density') {
      put(current, 'concentration', first);
    } else if (fact.key === 'at') {
      if (kind === 'temperature') put(current, 'temperature', first);
      if (kind === 'pressure') put(current, 'pressure', first);
    } else if (fact.key !== undefined && fact.key !== 'in' && fact.key !== 'by') current = undefined;
    readClaims(fact, place, current);
  }
  return drafts;
}

function readInto(draft: Draft, data: readonly Datum[]): void {
  const [value, ...rest] = data;
  put(draft, 'value', value);
  put(
    draft,
    'temperature',
    rest.find((d) => d.quantity.unit?.kind === 'temperature'),
  );
  put(
    draft,
    'pressure',
    rest.find((d) => d.quantity.unit?.kind === 'pressure'),
  );
}

type Slot = 'value' | 'temperature' | 'pressure' | 'front' | 'length' | 'concentration';

/** The first that is written counts. */
function put(draft: Draft | undefined, slot: Slot, datum: Datum | undefined): void {
  if (draft && datum) draft[slot] ??= datum;
}

/** `(lit. 1.5365 at 20 °C)`; `bp 71 °C (12 mmHg)`. */
function readClaims(fact: Fact, place: Place, draft: Draft | undefined): void {
  if (!draft) return;
  for (const group of fact.claims) {
    const literature = group.facts.findIndex(({ key }) => key === 'lit.');
    const of = literature < 0 ? group.facts : group.facts.slice(literature);
    const data = of.flatMap(({ parts }) => parts.filter(isQuantity).flatMap((node) => datumOf(node, place) ?? []));
    const [value, ...rest] = data;
    if (!value) continue;
    const temperature = rest.find((d) => d.quantity.unit?.kind === 'temperature');
    const pressure = rest.find((d) => d.quantity.unit?.kind === 'pressure');
    if (literature >= 0)
      draft.literature ??= { value, ...(temperature && { temperature }), ...(pressure && { pressure }) };
    else if (value.quantity.unit?.kind === 'pressure' && draft.kind === 'bp') put(draft, 'pressure', value);
  }
}

/** Masses of the substance that a `measure` line says were taken: `2.1 mg`. */
export function readUsed(legs: readonly Leg[], place: Place, entry: Entry, name: NameRef): Used[] {
  return legs
    .flatMap((leg) => leg.facts)
    .flatMap((fact) => {
      const [node] = fact.parts;
      if (fact.key !== undefined || fact.parts.length !== 1 || !isQuantity(node)) return [];
      const amount = datumOf(node, place);
      return amount?.quantity.unit?.kind === 'mass' ? [{ entry, name, amount }] : [];
    });
}
