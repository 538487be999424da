/** The same thing elsewhere on the page. */
import type { Position, Range } from '../../grammar/tree';
import type { Snapshot } from '../snapshot';
import { entityAt, occurrencesOn, placeAt } from './entities';

export interface Highlight {
  readonly range: Range;
  /** Declared here, not only used. */
  readonly write: boolean;
}

export function highlights(snapshot: Snapshot, at: Position): readonly Highlight[] {
  const place = placeAt(snapshot.source, at);
  const found = entityAt(snapshot, place);
  if (!found) return [];
  return occurrencesOn(snapshot, place.page, found.entity).map(({ span, role }) => ({
    range: snapshot.range(place.page, span),
    write: role === 'declared',
  }));
}
