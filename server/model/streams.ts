/**
 * Waste streams: what a container takes and what must not go in. A site declares its own in a register, `waste STREAM:
 * takes halogenated organics, not cyanides`; the usual names are in a stock list. A stream that nobody declared is not
 * judged.
 */
import { foldName } from '../../grammar/names';
import type { Fact, Statement } from '../../grammar/tree';
import { lazy, readTable } from '../chem/table';
import streamsCsv from '../data/streams.csv';
import { factsOf, type Place, restOf, spanAt, textFact } from './facts';
import type { Entry, TextFact, Where } from './page';

/** What a stream can take or refuse. */
export const MATTER = [
  'halogenated organics',
  'non-halogenated organics',
  'heavy metals',
  'mercury',
  'oxidisers',
  'cyanides',
  'azides',
  'sulfides',
  'fluorides',
  'acids',
  'bases',
  'salts',
  'water',
  'water-reactives',
  'inorganic solids',
  'organic solids',
] as const;
export type Matter = (typeof MATTER)[number];

export interface Stream {
  readonly name: string;
  readonly key: string;
  readonly also: readonly TextFact[];
  readonly takes: readonly Matter[];
  readonly not: readonly Matter[];
  /** What was written after `takes` and `not`, for a reader. */
  readonly says: string;
  readonly where: Where;
  readonly span: TextFact['span'];
  /** Absent for the stock list. */
  readonly entry?: Entry;
}

/** Kinds of matter that a stream which says what it takes does not take unless it says so. */
const SPECIAL: readonly Matter[] = [
  'halogenated organics',
  'heavy metals',
  'mercury',
  'oxidisers',
  'cyanides',
  'azides',
];

/** What must not go into a stream: what it refuses and, where it says what it takes, the special kinds left out. */
export function refusedBy({ takes, not, entry }: Stream): ReadonlySet<Matter> {
  // The stock list says all that it refuses.
  const left = takes.length === 0 || !entry ? [] : SPECIAL.filter((kind) => !takes.includes(kind));
  return new Set([...not, ...left]);
}

const PHRASES: readonly (readonly [pattern: RegExp, kinds: readonly Matter[]])[] = [
  [/\b(?:non-?\s?halogenated|halogen-free)\b/, ['non-halogenated organics']],
  [/halogen|chlorinated/, ['halogenated organics']],
  [/\binorganic\b/, ['inorganic solids']],
  [/\borganic solid/, ['organic solids']],
  [/\borganic|solvent/, ['non-halogenated organics', 'halogenated organics']],
  [/\bmercury\b/, ['mercury']],
  [/\bmetals?\b/, ['heavy metals']],
  [/oxidi[sz]/, ['oxidisers']],
  [/cyanide/, ['cyanides']],
  [/azide/, ['azides']],
  [/sul(?:f|ph)ide|thiol|odour|odor/, ['sulfides']],
  [/fluoride|hydrofluoric/, ['fluorides']],
  [/water[- ]reactive|hydride|organometallic/, ['water-reactives']],
  [/\bacid/, ['acids']],
  [/\bbas(?:e|es|ic)\b|alkali/, ['bases']],
  [/\bsalts?\b/, ['salts']],
  [/\b(?:water|aqueous)\b/, ['water']],
  [/\bsolids?\b|silica/, ['inorganic solids', 'organic solids']],
];

/** `halogenated organics and metals` → the kinds it names; a phrase that names one kind of organics names no other. */
export function matterIn(phrase: string): readonly Matter[] {
  const found: Matter[] = [];
  for (const part of phrase.toLowerCase().split(/\s*(?:,|;|\band\b|\bor\b|\/)\s*/)) {
    const first = PHRASES.find(([pattern]) => pattern.test(part));
    if (first) found.push(...first[1]);
  }
  return [...new Set(found)];
}

/** A `waste` statement of a register that declares a stream; undefined for one that says where something went. */
export function readStream(statement: Statement, entry: Entry, place: Place, where: Where): Stream | undefined {
  const facts = factsOf(statement);
  if (!statement.subject?.text || !facts.some((fact) => fact.key === 'takes' || fact.key === 'not')) return undefined;
  const takes: string[] = [];
  const not: string[] = [];
  // What follows without a word of its own goes on with the list: `takes acids, bases, not cyanides, azides`.
  let list: string[] | undefined;
  for (const fact of facts) {
    list = fact.key === 'takes' ? takes : fact.key === 'not' ? not : fact.key === undefined ? list : undefined;
    const text = restOf(fact, place)?.text;
    if (list && text) list.push(text);
  }
  const subject = textFact(statement.subject, place);
  return {
    name: subject.text,
    key: foldName(subject.text),
    also: facts.flatMap((fact: Fact) => (fact.key === 'also' ? (restOf(fact, place) ?? []) : [])),
    takes: takes.flatMap(matterIn),
    not: not.flatMap(matterIn),
    says: [takes.length > 0 && `takes ${takes.join(', ')}`, not.length > 0 && `not ${not.join(', ')}`]
      .filter(Boolean)
      .join('; '),
    where,
    entry,
    span: spanAt(place, statement.subject.span),
  };
}

const stock = lazy((): ReadonlyMap<string, Stream> => {
  const rows = readTable<'name' | 'also' | 'takes' | 'not'>(streamsCsv);
  const nowhere = { start: 0, end: 0 };
  return new Map(
    rows.flatMap(({ name, also, takes, not }) => {
      const others = also.split(';').filter(Boolean);
      const stream: Stream = {
        name,
        key: foldName(name),
        also: others.map((text) => ({ text, span: nowhere })),
        takes: takes.split(';').filter(Boolean) as Matter[],
        not: not.split(';').filter(Boolean) as Matter[],
        says: `takes ${takes.replaceAll(';', ', ')}; not ${not.replaceAll(';', ', ')}`,
        where: { kind: 'handbook', source: 'stock list of stream names' },
        span: nowhere,
      };
      return [name, ...others].map((text): [string, Stream] => [foldName(text), stream]);
    }),
  );
});

/** A usual stream name, or another word for it. */
export const stockStream = (name: string): Stream | undefined => stock().get(foldName(name));
export const stockStreams = (): readonly Stream[] => [...new Set(stock().values())];
