/** Where a standard uncertainty comes from. */
import type { Held, Leaf, Origin } from './held';

export interface BudgetPart {
  /** The reading or table value: `15.0 mL`, `density 0.810 g/mL`, `atomic weights`. */
  readonly name: string;
  /** Share in the square of the combined standard uncertainty, 0 to 1. */
  readonly share: number;
  /** Its own contribution to the standard uncertainty, in the base unit of the value. */
  readonly u: number;
}

/**
 * The parts of a combined standard uncertainty, largest first; their squares add up to its square (JCGM 100:2008,
 * 5.1.2). One reading that came in more than once is one part with its signs kept, so that what cancels is not there.
 * The atomic weights are independent of each other and shown as one.
 *
 * @returns nothing for an exact number
 */
export function budget(held: Held): readonly BudgetPart[] {
  const sums = new Map<string, { readonly leaf: Leaf; value: number }>();
  for (const [leaf, part] of held.parts) {
    const key = `${leaf.name}\n${placeOf(leaf.origin)}`;
    const known = sums.get(key);
    if (known) known.value += part;
    else sums.set(key, { leaf, value: part });
  }
  const squares = new Map<string, number>();
  let total = 0;
  for (const [key, { leaf, value }] of sums) {
    const group = isAtomicWeight(leaf) ? ATOMIC_WEIGHTS : key;
    squares.set(group, (squares.get(group) ?? 0) + value * value);
    total += value * value;
  }
  if (total === 0) return [];
  return [...squares]
    .filter(([, square]) => square > 0)
    .map(([key, square]) => ({
      name: sums.get(key)?.leaf.name ?? key,
      share: square / total,
      u: Math.sqrt(square),
    }))
    .sort((a, b) => b.share - a.share);
}

const ATOMIC_WEIGHTS = 'atomic weights';
const isAtomicWeight = ({ name, origin }: Leaf): boolean => origin.from === 'table' && name.startsWith('atomic weight');

function placeOf(origin: Origin): string {
  switch (origin.from) {
    case 'here':
      return `${origin.start}-${origin.end}`;
    case 'there':
      return `${origin.uri ?? origin.where} ${origin.entry ?? ''} ${origin.start}-${origin.end}`;
    case 'handbook':
      return `${origin.entry} ${origin.source}`;
    case 'table':
      return origin.source;
    case 'rule':
      return origin.says;
  }
}
