/** Working for a reader of a page: where the inputs of a step stand, and what there is to note of them. */
import type { Range, Span } from '../../grammar/tree';
import type { Held } from '../quantity/held';
import type { Places } from '../quantity/steps';
import type { Snapshot } from '../snapshot';

/** Places as a reader of this page sees them; what stands in `own` needs no place. */
export function placesOn(snapshot: Snapshot, page: number, own?: Span): Places {
  return (origin) => {
    switch (origin.from) {
      case 'here': {
        if (own && origin.start >= own.start && origin.end <= own.end) return undefined;
        return `line ${lineOf(snapshot.range(page, origin))}`;
      }
      case 'there':
        return origin.where;
      case 'handbook':
        return origin.doubtful ? 'handbook, from memory' : 'handbook';
      case 'rule':
        return origin.says;
      case 'table':
        return undefined;
    }
  };
}

export const lineOf = (range: Range): number => range.start.line + 1;

/** Notes of the steps, and the sources of handbook values: `Density of acetic acid: CRC Handbook …`. */
export function footnotes(values: Iterable<Held>): string[] {
  const lines = new Set<string>();
  const seen = new Set<Held>();
  const walk = (h: Held): void => {
    if (seen.has(h)) return;
    seen.add(h);
    const { origin, note, inputs } = h.working;
    // Of a molar mass the note is only its formula.
    if (note && h.kind !== 'molarMass') lines.add(note);
    if (origin?.from === 'handbook') lines.add(`${origin.entry}: ${origin.source}`);
    for (const input of inputs) walk(input.held);
  };
  for (const value of values) walk(value);
  return [...lines];
}
