/**
 * `titrate SOLUTION: against STANDARD` and `titrate WHAT: ALIQUOT with SOLUTION`, one run a leg.
 *
 * In the first the solution named is in the burette and its strength is looked for; in the second the other one is in
 * the burette and its strength is known.
 */
import type { Fact, Leg, Span, Statement } from '../../grammar/tree';
import {
  claimsOf,
  datumOf,
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
import { deliveredBy, type GlassText, type Glassware, glassTexts, glasswareOf, measuredWith } from './glassware';
import type { Claim, Datum, Entry, NameRef, TextFact, WeighingFacts } from './page';

/** What left the burette: its two readings, or their difference as written. */
export type Delivered =
  | { readonly kind: 'readings'; readonly from: Datum; readonly to: Datum; readonly span: Span }
  | { readonly kind: 'volume'; readonly datum: Datum; readonly span: Span };

export interface TitrationRun {
  /** The leg. */
  readonly span: Span;
  /** Standard or sample of this run; without one the statement's aliquot holds. */
  readonly portion?: Datum;
  /** The same by readings of a balance: `before 14.8102 g, after 14.4035 g`. */
  readonly weighing: WeighingFacts;
  readonly delivered?: Delivered;
  readonly claims: readonly Claim[];
}

export interface Titration {
  readonly entry: Entry;
  readonly name: NameRef;
  readonly way: 'against' | 'with';
  /** The standard (`against`) or the titrant (`with`). */
  readonly other: NameRef;
  /** `with 0.1000 mol/L sodium hydroxide`: a titrant that has no line of its own. */
  readonly strength?: Datum;
  /** What reacts in WHAT: `of acetic acid`. */
  readonly analyte?: NameRef;
  readonly aliquot?: Datum;
  readonly blank?: Delivered;
  readonly indicator?: TextFact;
  readonly burette?: Glassware;
  readonly runs: readonly TitrationRun[];
  /** Claims that belong to no single run: `(mean 0.1013 mol/L)`. */
  readonly claims: readonly Claim[];
}

export interface TitrationSource {
  readonly statement: Statement;
  readonly entry: Entry;
  readonly place: Place;
  use(text: string, span: Span): NameRef;
  /** A name behind a strength. */
  solute(text: string, span: Span): NameRef;
  weighing(facts: readonly Fact[]): WeighingFacts;
  glassware(texts: readonly GlassText[]): readonly Glassware[];
}

/** Undefined while it does not say against or with what. */
export function readTitration(source: TitrationSource): Titration | undefined {
  const { statement, entry, place } = source;
  const legs = legsOf(statement);
  const facts = legs.flatMap((leg) => leg.facts);
  const other = otherOf(facts, place);
  if (!statement.subject?.text || !other) return undefined;
  const subject = textFact(statement.subject, place);
  const glass = source.glassware(glassTexts(facts, place));
  const burette = glass.find((g) => g.kind === 'burette');
  const portions = deliveredBy(glass.filter((g) => g.kind !== 'burette'));
  const aliquot = aliquotOf(facts, place);
  const blankFact = factWith(facts, 'blank');
  // The burette's limit of error belongs to the titre; in the blank it would cancel against that.
  const blank = blankFact && deliveredIn(blankFact, place, undefined);
  const indicator = textWith(facts, 'indicator', place);
  const analyte = facts.find((fact) => fact.key === 'of');
  const analyteName = analyte && restOf(analyte, place);
  const runs: TitrationRun[] = [];
  const claims: Claim[] = [];
  for (const leg of legs) {
    const run = readRun(leg, source, portions, burette);
    const group = runs.length + 1;
    for (const claim of claimsOf(leg.facts, place).claims) {
      const own = { ...claim, group: claim.group + group * GROUPS };
      if (run && !OF_ALL.has(claim.label ?? '')) run.claims.push(own);
      else claims.push(own);
    }
    if (run) runs.push(run);
  }
  return {
    entry,
    name: source.use(subject.text, subject.span),
    way: other.way,
    other: (other.strength ? source.solute : source.use)(other.name.text, other.name.span),
    ...(other.strength && { strength: other.strength }),
    ...(analyteName && { analyte: source.use(analyteName.text, analyteName.span) }),
    ...(aliquot && { aliquot: measuredWith(aliquot, portions) }),
    ...(blank && { blank }),
    ...(indicator && { indicator }),
    ...(burette && { burette }),
    runs,
    claims,
  };
}

/** Groups of different runs stay apart: no statement has as many groups a leg. */
const GROUPS = 100;
/** What is claimed of all runs together. */
const OF_ALL: ReadonlySet<string> = new Set(['mean', 's', 'sd', 'SD', 'RSD', 'rsd', 'RSD =', 's =']);

function otherOf(
  facts: readonly Fact[],
  place: Place,
): { way: Titration['way']; name: TextFact; strength?: Datum } | undefined {
  const against = textWith(facts, 'against', place);
  if (against) return { way: 'against', name: against };
  for (const fact of facts) {
    const from =
      fact.key === 'with' ? 0 : fact.key === undefined ? fact.parts.findIndex((part) => isWord(part, 'with')) + 1 : -1;
    if (from < 0 || (from === 0 && fact.key !== 'with')) continue;
    const whole = textOf(fact.parts, from, fact.parts.length, place);
    if (!whole || glasswareOf(whole.text, '')) continue;
    const first = fact.parts[from];
    const strength = isQuantity(first) ? datumOf(first, place) : undefined;
    const named = strength && STRENGTHS.has(strength.quantity.unit?.kind ?? '');
    const name = named ? textOf(fact.parts, from + 1, fact.parts.length, place) : whole;
    if (name) return { way: 'with', name, ...(named && { strength }) };
  }
  return undefined;
}

const STRENGTHS: ReadonlySet<string> = new Set(['concentration', 'equivalentConcentration', 'massFraction']);

/** The first amount that opens a fact without a word of its own. */
function aliquotOf(facts: readonly Fact[], place: Place): Datum | undefined {
  for (const fact of facts) {
    const first = fact.parts[0];
    const datum = fact.key === undefined && isQuantity(first) ? datumOf(first, place) : undefined;
    if (datum && (datum.quantity.unit?.kind === 'volume' || datum.quantity.unit?.kind === 'mass')) return datum;
  }
  return undefined;
}

function readRun(
  leg: Leg,
  source: TitrationSource,
  pipette: Glassware | undefined,
  burette: Glassware | undefined,
): (TitrationRun & { readonly claims: Claim[] }) | undefined {
  const { place } = source;
  const portionNode = leg.facts.flatMap((fact) => (fact.key === 'run' ? (quantityOf(fact) ?? []) : []))[0];
  const portion = portionNode && datumOf(portionNode, place);
  const poured = leg.facts.find((fact) => fact.key === 'titre' || fact.key === 'burette');
  const delivered = poured && deliveredIn(poured, place, burette);
  const weighing = source.weighing(leg.facts);
  if (!portion && !delivered && weighing.readings.length === 0) return undefined;
  return {
    span: spanAt(place, leg.span),
    weighing,
    ...(portion && { portion: measuredWith(portion, pipette) }),
    ...(delivered && { delivered }),
    claims: [],
  };
}

/** `burette 0.05 to 24.83 mL`, `titre 24.78 mL` */
function deliveredIn(fact: Fact, place: Place, burette: Glassware | undefined): Delivered | undefined {
  const node = quantityOf(fact);
  const datum = node && datumOf(node, place);
  if (!datum) return undefined;
  const { quantity, span, origin } = datum;
  if (!quantity.to || (fact.key === 'titre' && !quantity.course))
    return { kind: 'volume', datum: measuredWith(datum, burette), span };
  const { to, ...one } = quantity;
  const end = { ...one, number: to, course: false };
  return {
    kind: 'readings',
    from: { quantity: { ...one, course: false }, origin, span },
    to: { quantity: end, origin, span },
    span,
  };
}
