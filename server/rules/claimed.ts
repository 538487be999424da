/** What the rules of claims say about a number in parentheses: what it should be, and where that comes from. */
import type { Span } from '../../grammar/tree';
import type { UnitSymbol } from '../../grammar/vocabulary';
import type { ClaimValue, MeasurementValue, Values } from '../compute/values';
import { agree } from '../quantity/agree';
import { Decimal } from '../quantity/decimal';
import type { Held } from '../quantity/held';
import type { Kind } from '../quantity/kinds';
import { digits, show, suitableUnit } from '../quantity/show';
import { filledIn, shown } from '../quantity/steps';
import { toUnit, type Unit, unitOf } from '../quantity/units';
import type { Quantity } from '../quantity/written';
import { type Finding, readingsOf } from './rule';

/**
 * The value as the writer of a claim would have written it: in the same unit with the same decimals; where nobody
 * would write that (5220.00 mg), with the same figures in the unit that suits.
 */
export function corrected(written: Quantity, value: Held): string {
  const own = written.unit ?? unitOf('');
  const { place, figures } = written.number;
  const there = toUnit(value.value, own);
  const kept = there.e - place + 1;
  if (kept >= 1 && Math.abs(kept - figures) <= 1) return writtenTo(value, own, place);
  const suitable = suitableUnit(value);
  const readable = there.abs().gte('0.1') && there.abs().lt(1000);
  const unit = readable || suitable.kind !== own.kind ? own : suitable;
  return writtenTo(value, unit, toUnit(value.value, unit).e - figures + 1);
}

const PREFIXED: readonly (readonly UnitSymbol[])[] = [
  ['kg', 'g', 'mg', 'µg', 'ng'],
  ['kmol', 'mol', 'mmol', 'µmol', 'nmol'],
  ['L', 'mL', 'µL', 'nL'],
  ['M', 'mM', 'µM', 'nM'],
  ['mol/L', 'mmol/L'],
];

/** The number as it stands, with the prefix that makes it right; undefined where there is none. */
export function otherPrefix(written: Quantity, value: Held): string | undefined {
  const own = written.unit?.symbol;
  const row = PREFIXED.find((units) => units.some((unit) => unit === own));
  return row
    ?.filter((unit) => unit !== own)
    .map((unit) => ({ unit, verdict: agree({ ...written, unit: unitOf(unit) }, value) }))
    .filter(({ verdict }) => verdict === 'exact' || verdict === 'rounded')
    .map(({ unit }) => `${written.number.text} ${unit}`)[0];
}

/** Down to a place, or less far when the readings do not carry that many digits. */
function writtenTo(value: Held, unit: Unit, place: number): string {
  const there = toUnit(value.value, unit);
  for (let at = place; at <= there.e; at++) {
    const text = digits(there, at);
    if (agree(quantityOf(text, unit), value) !== 'over-precise') return unit.symbol ? `${text} ${unit.symbol}` : text;
  }
  return show(value, { unit: unit.symbol });
}

/** A number in digits as somebody might have typed it. */
export function quantityOf(text: string, unit: Unit): Quantity {
  const value = new Decimal(text);
  const place = -(text.split('.')[1]?.length ?? 0);
  const figures = text.replace(/\D/g, '').replace(/^0+/, '').length;
  return {
    number: { text, value, place, figures: Math.max(1, figures), start: 0, end: 0 },
    ...(unit.symbol && { unit }),
    course: false,
    about: false,
    start: 0,
    end: 0,
  };
}

/** How the value comes about, to stand before `is`: `5.00 mL × 1.044 g/mL`, `[M+H]+ of C4H8O2`. */
export function basis(values: Values, { property, owner, claim, subject, value }: ClaimValue): string {
  const worked = 'value' in value ? filledIn(value) : undefined;
  if (worked !== undefined && worked.length <= LONGEST_WORKING) return worked;
  const measured = (kind: MeasurementValue['kind']): MeasurementValue | undefined =>
    values.measurements.find((m) => m.measurement.entry === owner && m.kind === kind);
  switch (property) {
    case 'm/z':
      return `${measured('HRMS')?.adduct ?? 'm/z'} of ${subject}`;
    case 'element':
      return `${elementOf(values, claim)} in ${subject}`;
    case 'mass':
    case 'volume':
    case 'amount':
      return worked === undefined ? `the ${property} measured` : `the ${property}`;
    default:
      return `the ${property} of ${subject}`;
  }
}

const elementOf = ({ page }: Values, claim: ClaimValue['claim']): string =>
  page.measurements.flatMap((m) => m.elementClaims).find((e) => e.claim === claim)?.element ?? 'the share';

const LONGEST_WORKING = 90;

const WORDS: { readonly [K in Kind]?: string } = {
  mass: 'mass',
  volume: 'volume',
  amount: 'amount',
  density: 'density',
  molarMass: 'molar mass',
  concentration: 'concentration',
  equivalentConcentration: 'concentration',
  temperature: 'temperature',
  pressure: 'pressure',
};

/** More places than these are not shown. */
const MOST_RELATED = 6;

/** The readings that a value rests on, as places to look at. */
export function relatedTo(value: Held): NonNullable<Finding['related']> {
  return [...readingsOf(value)]
    .filter(({ origin }) => origin.from === 'here' || origin.from === 'there')
    .slice(0, MOST_RELATED)
    .map(({ held, origin }) => ({ origin, message: [WORDS[held.kind], shown(held)].filter(Boolean).join(' ') }));
}

/** Text of this page that a value rests on. */
export const restsOf = (value: Held): readonly Span[] =>
  [...readingsOf(value)].flatMap(({ origin }) => (origin.from === 'here' ? [origin] : []));
