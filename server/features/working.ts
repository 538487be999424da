/** Working for a reader: each step with its numbers, and behind each number of another place where it was written. */
import type { Range, Span } from '../../grammar/tree';
import type { Held, Origin } from '../quantity/held';
import { show } from '../quantity/show';
import { shown } from '../quantity/steps';
import type { Snapshot } from '../snapshot';

/** `line 8`, `TB-009`, `handbook`; undefined where nobody asks: on the statement itself, an atomic weight. */
export type Places = (origin: Origin) => string | undefined;

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

/** The right-hand side with numbers for symbols: `20.0 mL × 1.049 g/mL (line 8)`; undefined for a reading. */
export function filledIn(held: Held, places: Places): string | undefined {
  const { formula, inputs } = held.working;
  if (formula === undefined) return undefined;
  const bySymbol = new Map(inputs.map((input) => [input.symbol, input.held]));
  return formula
    .split(' ')
    .map((token) => {
      // `(R` is a bracket and a symbol, `n(limiting)` a symbol.
      const whole = bySymbol.has(token);
      const [, open = '', symbol = '', close = ''] = (!whole && /^(\(*)(.*?)(\)*)$/u.exec(token)) || ['', '', token];
      const input = bySymbol.get(symbol);
      if (!input) return token === '·' ? '×' : token;
      const place = input.working.origin && places(input.working.origin);
      return `${open}${shown(input)}${place ? ` (${place})` : ''}${close}`;
    })
    .join(' ');
}

/** `20.0 mL × 1.049 g/mL (line 8) = 20.98 g`. */
export function step(held: Held, places: Places): string {
  const right = filledIn(held, places);
  return right === undefined ? shown(held) : `${right} = ${show(held)}`;
}

/** The last step and those before it, in the order a reader works them; at most `limit`. */
export function steps(held: Held, places: Places, limit = 4): string[] {
  return derived(held)
    .slice(-limit)
    .map((h) => step(h, places));
}

/** The value itself and everything worked out on the way to it, inputs first. */
function derived(held: Held): Held[] {
  const found: Held[] = [];
  const seen = new Set<Held>();
  const walk = (h: Held): void => {
    if (seen.has(h) || h.working.formula === undefined) return;
    seen.add(h);
    for (const input of h.working.inputs) walk(input.held);
    // Atomic weights times counts fill a line and tell nobody anything.
    if (h === held || h.kind !== 'molarMass') found.push(h);
  };
  walk(held);
  return found;
}

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
