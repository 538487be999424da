/** `consider STEP of NAME: …`: what a purification would need and lose, as written. */
import type { Fact, Statement } from '../../grammar/tree';
import type { Kind } from '../quantity/kinds';
import { datumOf, factsOf, isQuantity, isWord, type Place, textFact, textOf } from './facts';
import type { Datum, Entry, NameRef, TextFact } from './page';
import type { Names } from './waste';

export type Step = 'distillation' | 'recrystallisation' | 'chromatography' | 'sublimation' | 'washing';

/** How much of it dissolves, at which temperature. */
export interface Solubility {
  readonly datum: Datum;
  readonly temperature?: Datum;
}

export interface Decision {
  readonly entry: Entry;
  readonly text: TextFact;
}

export interface Consideration {
  readonly entry: Entry;
  /** As written: `recrystallising`; `known` where it is one that can be worked out. */
  readonly step: TextFact;
  readonly known?: Step;
  readonly name: NameRef;
  /** What would go in, where the line says so: a mass or a volume. */
  readonly start?: Datum;
  readonly solvent?: NameRef;
  /** A mass or a volume. */
  readonly solventAmount?: Datum;
  readonly solubilities: readonly Solubility[];
  /** What stays in the apparatus: a volume or a mass. */
  readonly holdUp?: Datum;
  /** A mass or a share of what went in. */
  readonly mixed?: Datum;
  /** A mass, or a share of what would come out. */
  readonly loss?: Datum;
  readonly decided?: Decision;
}

export const withDecision = (consideration: Consideration, decided: Decision): Consideration => ({
  ...consideration,
  decided,
});

const STEPS: readonly (readonly [RegExp, Step])[] = [
  [/distill/i, 'distillation'],
  [/crystalli[sz]/i, 'recrystallisation'],
  [/chromatograph|column/i, 'chromatography'],
  [/sublim/i, 'sublimation'],
  [/wash|triturat|slurr/i, 'washing'],
];

const SOLUBILITIES: ReadonlySet<Kind> = new Set<Kind>(['density', 'massRatio', 'massPerVolume']);
const AMOUNTS: ReadonlySet<Kind> = new Set<Kind>(['mass', 'volume']);
const SHARES: ReadonlySet<Kind> = new Set<Kind>(['ratio', 'massFraction']);

/** Undefined without a name behind `of`. */
export function readConsideration(
  statement: Statement,
  entry: Entry,
  place: Place,
  names: Names,
): Consideration | undefined {
  const { subject } = statement;
  const of = subject?.text.indexOf(' of ') ?? -1;
  if (!subject || of < 1) return undefined;
  const { span } = textFact(subject, place);
  const step: TextFact = { text: subject.text.slice(0, of), span: { start: span.start, end: span.start + of } };
  const text = subject.text.slice(of + ' of '.length);
  const known = STEPS.find(([spelling]) => spelling.test(step.text))?.[1];
  const name = names.use(text, { start: span.end - text.length, end: span.end });
  const draft: Draft = { solubilities: [] };
  for (const fact of factsOf(statement)) readFact(fact, draft, known, place, names);
  return { entry, step, ...(known && { known }), name, ...draft };
}

type Draft = {
  -readonly [K in 'start' | 'solvent' | 'solventAmount' | 'holdUp' | 'mixed' | 'loss']?: Consideration[K];
} & { readonly solubilities: Solubility[] };

function readFact(fact: Fact, draft: Draft, known: Step | undefined, place: Place, names: Names): void {
  const at = fact.parts.findIndex(isQuantity);
  const data = fact.parts.filter(isQuantity).flatMap((node) => datumOf(node, place) ?? []);
  const [first] = data;
  const kind = first?.quantity.unit?.kind;
  const words = fact.parts.filter((part) => isWord(part)).map(({ text }) => text.toLowerCase());
  if (kind && SOLUBILITIES.has(kind) && (fact.key === 'solubility' || fact.key === undefined)) {
    draft.solubilities.push(...solubilitiesIn(data));
  } else if (fact.key === 'loss') {
    if (kind && (SHARES.has(kind) || kind === 'mass')) draft.loss ??= first!;
  } else if (fact.key === 'hold-up' || (fact.key === undefined && words.includes('residue'))) {
    if (kind && AMOUNTS.has(kind)) draft.holdUp ??= first!;
  } else if (fact.key === undefined && words.includes('mixed')) {
    if (kind && (SHARES.has(kind) || kind === 'mass')) draft.mixed ??= first!;
  } else if (fact.key === 'from' || fact.key === 'in' || fact.key === undefined) {
    const amount = kind && AMOUNTS.has(kind) ? first! : undefined;
    const solvent = solventOf(fact, at, place, names);
    if (solvent) {
      draft.solvent ??= solvent;
      // `5.0 g in ethanol`: that much of the substance.
      const behind = fact.parts[at + 1];
      if (amount && kind === 'mass' && (isWord(behind, 'in') || isWord(behind, 'from'))) draft.start ??= amount;
      else if (amount) draft.solventAmount ??= amount;
    } else if (amount && isSolventVolume(kind, known)) draft.solventAmount ??= amount;
    else if (amount && fact.key === undefined) draft.start ??= amount;
  }
}

/** Each with the temperature behind it: `40 g/100 mL at 78 °C and 1.5 g/100 mL at 0 °C`. */
function solubilitiesIn(data: readonly Datum[]): Solubility[] {
  const found: Solubility[] = [];
  for (const datum of data) {
    const kind = datum.quantity.unit?.kind;
    const last = found.at(-1);
    if (kind && SOLUBILITIES.has(kind)) found.push({ datum });
    else if (kind === 'temperature' && last && !last.temperature)
      found[found.length - 1] = { ...last, temperature: datum };
  }
  return found;
}

/** A volume without a name is that of the liquid to be distilled, else of the solvent. */
const isSolventVolume = (kind: Kind | undefined, known: Step | undefined): boolean =>
  kind === 'volume' && (known === 'recrystallisation' || known === 'washing');

/** `from ethanol`, `from 20 mL water`, `3 × 20 mL of cold ethanol`: a name that somebody knows. */
function solventOf(fact: Fact, at: number, place: Place, names: Names): NameRef | undefined {
  const behind = at < 0 ? 0 : at + 1;
  for (let from = behind; from < fact.parts.length; from++) {
    const text = textOf(fact.parts, from, fact.parts.length, place);
    if (text && names.find(text.text, text.span).target) return names.use(text.text, text.span);
  }
  return undefined;
}
