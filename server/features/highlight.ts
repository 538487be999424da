/** The same thing elsewhere on the page. */
import type { Position, Range } from '../../grammar/tree';
import type { Snapshot } from '../snapshot';
import { entityAt, occurrencesOn } from './entities';

export interface Highlight {
  readonly range: Range;
  /** Declared here, not only used. */
  readonly write: boolean;
}

export function highlights(snapshot: Snapshot, at: Position): readonly Highlight[] {
  const found = entityAt(snapshot, at);
  if (!found) return [];
  return occurrencesOn(snapshot, found.page, found.entity).map(({ span, role }) => ({
    range: snapshot.range(found.page, span),
    write: role === 'declared',
  }));
}
