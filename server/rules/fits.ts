/** What kinds of quantity belong where, and whether a fact is one that a statement begins with. */
import type { Fact } from '../../grammar/tree';
import type { FactKey, Keyword } from '../../grammar/vocabulary';
import type { Kind } from '../quantity/kinds';
import { unitOf } from '../quantity/units';

const MASS: readonly Kind[] = ['mass'];
const SHARE: readonly Kind[] = ['ratio', 'massFraction', 'volumeFraction', 'amountRatio', 'massPerVolume', 'massRatio'];
const DELIVERED: readonly Kind[] = ['volume', 'mass'];

/** The kinds that the number right after a known word can have; words with a choice too wide to check are not here. */
export const FACT_KINDS: { readonly [K in FactKey]?: readonly Kind[] } = {
  tare: MASS,
  gross: MASS,
  net: MASS,
  before: MASS,
  after: MASS,
  residue: MASS,
  readability: MASS,
  repeatability: MASS,
  capacity: MASS,
  minimum: MASS,
  density: ['density', 'massPerVolume'],
  'molar mass': ['molarMass'],
  purity: SHARE,
  wet: SHARE,
  loading: ['ratio', 'massFraction', 'molality', 'other'],
  mp: ['temperature'],
  bp: ['temperature'],
  'made up to': DELIVERED,
  titre: DELIVERED,
  burette: DELIVERED,
  spot: ['length'],
  front: ['length'],
};

/** In words, to follow `is` or `needs`. */
export const KIND_WORDS: { readonly [K in Kind]?: string } = {
  mass: 'a mass',
  volume: 'a volume',
  amount: 'an amount of substance',
  equivalentAmount: 'an amount of equivalents',
  concentration: 'a concentration',
  equivalentConcentration: 'a concentration',
  molality: 'a molality',
  density: 'a mass per volume',
  massPerVolume: 'a mass per volume',
  molarMass: 'a mass per amount of substance',
  ratio: 'a share in %',
  massFraction: 'a share in %',
  volumeFraction: 'a share by volume',
  amountRatio: 'a share by amount',
  massRatio: 'a ratio of masses',
  equivalents: 'a number of equivalents',
  temperature: 'a temperature',
  pressure: 'a pressure',
  time: 'a time',
  length: 'a length',
  angle: 'an angle',
  energy: 'an energy',
};

/** Statements whose first fact is how much. */
export const AMOUNT_STATEMENTS: ReadonlySet<Keyword> = new Set<Keyword>([
  'charge',
  'product',
  'recovered',
  'weigh',
  'sample',
  'plan',
]);

const AMOUNT_KINDS: readonly Kind[] = ['mass', 'volume', 'amount', 'equivalents', 'amountRatio'];
const WEIGHED: ReadonlySet<string> = new Set(['tare', 'gross', 'net', 'before', 'after']);
const OF_SUBSTANCE: ReadonlySet<string> = new Set(['SMILES', 'density', 'molar mass', 'CAS']);

/** Whether a fact is one that a statement of this keyword would begin with; strict, because prose is asked too. */
export function opens(keyword: Keyword, fact: Fact | undefined): boolean {
  if (!fact) return false;
  const first = fact.parts[0];
  const unit = first?.kind === 'quantity' ? first.unit : undefined;
  const kind = unit && unitOf(unit.symbol).kind;
  if (AMOUNT_STATEMENTS.has(keyword)) {
    if (fact.key) return WEIGHED.has(fact.key) && kind === 'mass';
    return kind !== undefined && AMOUNT_KINDS.includes(kind);
  }
  switch (keyword) {
    case 'substance':
      if (fact.key) return OF_SUBSTANCE.has(fact.key);
      return first?.kind === 'word' && /^(?:[A-Z][a-z]?\d*){2,}$/.test(first.text) && /\d/.test(first.text);
    case 'solution':
      return !fact.key && unit !== undefined;
    case 'vessel':
      return fact.key === 'tare' && kind === 'mass';
    case 'balance':
      return fact.key !== undefined && FACT_KINDS[fact.key] === MASS && kind === 'mass';
    case 'reaction':
      return fact.equation !== undefined;
    case 'measure':
      return fact.key !== undefined && (unit !== undefined || fact.spectrum === true);
    case 'waste':
      return !fact.key && kind !== undefined && AMOUNT_KINDS.includes(kind);
    default:
      return false;
  }
}

/** Words whose value is a text: a number in it is part of a name, a place or a code. */
const TEXT_KEYS: ReadonlySet<FactKey> = new Set<FactKey>([
  ...(['lot', 'supplier', 'CAS', 'label', 'also', 'from', 'hazard', 'SMILES', 'by', 'in', 'on', 'indicator'] as const),
  ...(['repeat unit', 'racemate of', 'checked'] as const),
]);

export const isText = (fact: Fact): boolean => fact.key !== undefined && TEXT_KEYS.has(fact.key);
