/**
 * Volumetric glassware with its class: how far the volume that it measures may be off.
 *
 * Glassware counts only where its class is written (`with 25 mL pipette class A`), or where a vessel is named whose
 * description has one. Limits are those of the table in `data/`; ISO unless ASTM is written.
 */
import { foldName } from '../../grammar/names';
import type { Fact, Span } from '../../grammar/tree';
import { lazy, readTable } from '../chem/table';
import tolerancesCsv from '../data/tolerances.csv';
import { Decimal } from '../quantity/decimal';
import { type Place, spanAt } from './facts';
import type { Datum, Vessel } from './page';

export type GlassKind = 'flask' | 'pipette' | 'burette' | 'cylinder';

export interface Glassware {
  readonly kind: GlassKind;
  /** `100 mL volumetric flask, ISO 1042 class A`. */
  readonly name: string;
  /** mL */
  readonly nominal: Decimal;
  /** Limit of error, mL. */
  readonly tolerance: Decimal;
  /** The table remembers this limit and no published table was compared. */
  readonly fromMemory: boolean;
  /** One piece of glass is one source of error, however often it is used: named vessels by name, others by place. */
  readonly identity: string;
}

/** What a statement says of its glassware, before a vessel's name is looked up. */
export interface GlassText {
  readonly text: string;
  readonly span: Span;
}

const ITEMS: readonly (readonly [RegExp, GlassKind, string])[] = [
  [/\bvolumetric flask\b/i, 'flask', 'volumetric flask'],
  [/\b(?:one-mark |volumetric |transfer |bulb )?pip(?:ette|et)\b/i, 'pipette', 'one-mark pipette'],
  [/\bbure(?:tte|t)\b/i, 'burette', 'burette'],
  [/\b(?:graduated|measuring) cylinder\b/i, 'cylinder', 'graduated cylinder'],
];

type Column =
  | 'item'
  | 'standard'
  | 'class'
  | 'nominal'
  | 'nominal_unit'
  | 'tolerance_plus_minus'
  | 'tolerance_unit'
  | 'source';

const rows = lazy(() =>
  readTable<Column>(tolerancesCsv).filter((row) => row.nominal_unit === 'mL' && row.tolerance_unit === 'mL'),
);

/**
 * The glassware that a text describes with its class: `25 mL pipette class A`, `50 mL ASTM burette, class B`.
 *
 * @returns undefined when size, kind or class is not written, or when the table has no such size
 */
export function glasswareOf(text: string, identity: string): Glassware | undefined {
  const size = /(\d+(?:\.\d+)?)\s?(mL|ml|L)\b/.exec(text);
  const grade = /\bclass\s+(AS?|B)\b/i.exec(text)?.[1]?.toUpperCase().charAt(0);
  const found = ITEMS.find(([pattern]) => pattern.test(text));
  if (!size?.[1] || !grade || !found) return undefined;
  const [, kind, item] = found;
  const nominal = new Decimal(size[1]).times(size[2] === 'L' ? 1000 : 1);
  const wanted = /\bASTM\b/.test(text) ? 'ASTM' : 'ISO';
  // Burettes stand with each graduation: the coarsest of a size is the usual one, and the widest limit.
  const row = rows()
    .filter(
      (r) => r.item.startsWith(item) && r.standard.startsWith(wanted) && r.class === grade && nominal.eq(r.nominal),
    )
    .sort((a, b) => Number(b.tolerance_plus_minus) - Number(a.tolerance_plus_minus))[0];
  return (
    row && {
      kind,
      name: `${row.nominal} mL ${item.replace('one-mark ', '')}, ${row.standard} class ${row.class}`,
      nominal,
      tolerance: new Decimal(row.tolerance_plus_minus),
      fromMemory: row.source === 'memory',
      identity,
    }
  );
}

const WORDS = /(?:^|\s)(?:with|in|using|on)\s+(.+)$/;

/** The parts of facts that may name glassware: what stands behind `with` or `in`. */
export function glassTexts(facts: readonly Fact[], place: Place): GlassText[] {
  return facts.flatMap((fact) => {
    const span = spanAt(place, fact.span);
    const raw = place.text.slice(fact.span.start, fact.span.end).replace(/\s+/g, ' ').trim();
    const text = WORDS.exec(raw)?.[1];
    // `made up to 250.0 mL in 250 mL volumetric flask class A`: the last `in` or `with` before the size.
    const described = /(?:\bin|\bwith|\busing)\s+(?:a\s+)?(\d[^,;]*\bclass\s+(?:AS?|B)\b[^,;]*)$/i.exec(raw)?.[1];
    return text ? [{ text: described ?? text, span }] : [];
  });
}

/** Glassware of a statement, each text either describing it or naming a vessel that does. */
export function resolveGlassware(
  texts: readonly GlassText[],
  vessel: (text: string) => Vessel | undefined,
): readonly Glassware[] {
  return texts.flatMap(({ text, span }) => {
    const described = glasswareOf(text, `at ${span.start}`);
    if (described) return [described];
    const named = vessel(text);
    const known = named?.description && glasswareOf(named.description, `vessel ${foldName(named.name)}`);
    return known ? [known] : [];
  });
}

/** A volume as measured with a piece of glassware. */
export function measuredWith(datum: Datum, glass: Glassware | undefined): Datum {
  return glass && datum.quantity.unit?.kind === 'volume' ? { ...datum, glassware: glass } : datum;
}

/** The piece that delivered a volume: a pipette, else a burette, else a cylinder. */
export const deliveredBy = (glass: readonly Glassware[]): Glassware | undefined =>
  glass.find((g) => g.kind === 'pipette') ??
  glass.find((g) => g.kind === 'burette') ??
  glass.find((g) => g.kind === 'cylinder');
