/** Shares in a combined variance: JCGM 100:2008 (GUM) 5.1.2 and, for readings used twice, 5.2. */
import { describe, expect, it } from 'vitest';
import { budget } from '../../../server/quantity/budget';
import { Decimal } from '../../../server/quantity/decimal';
import {
  add,
  exact,
  type Held,
  type Leaf,
  multiply,
  reading,
  subtract,
  uncertainty,
} from '../../../server/quantity/held';
import { leaf } from './typed';

const W = { inputs: [] };
const read = (kind: Held['kind'], value: string, u: number, of: Leaf): Held =>
  reading(kind, new Decimal(value), u, 4, of);

describe('the budget of an uncertainty', () => {
  it('puts the largest part first, and the squares add up', () => {
    const a = read('mass', '10', 0.3, leaf('a'));
    const b = read('mass', '10', 0.4, leaf('b'));
    const parts = budget(add(a, b, W));
    expect(parts.map(({ name }) => name)).toEqual(['b', 'a']);
    expect(parts[0]!.share).toBeCloseTo(0.64, 12);
    expect(parts[1]!.u).toBeCloseTo(0.3, 12);
    expect(Math.hypot(...parts.map((part) => part.u))).toBeCloseTo(uncertainty(add(a, b, W)), 12);
  });

  it('merges one reading that came in as two values, and leaves out what cancels', () => {
    const shared = { from: 'handbook', entry: 'acetone', source: 'a table' } as const;
    const a = read('mass', '5', 0.2, { name: 'density', origin: shared });
    const b = read('mass', '5', 0.2, { name: 'density', origin: { ...shared } });
    expect(budget(add(a, b, W))).toEqual([{ name: 'density', share: 1, u: 0.4 }]);
    expect(budget(subtract(a, b, W))).toEqual([]);
  });

  it('shows the atomic weights as one, as independent parts', () => {
    const weight = (symbol: string) => ({
      name: `atomic weight of ${symbol}`,
      origin: { from: 'table', source: 'CIAAW' } as const,
    });
    const sum = add(read('molarMass', '12', 0.03, weight('C')), read('molarMass', '16', 0.04, weight('O')), W);
    expect(budget(sum)).toEqual([{ name: 'atomic weights', share: 1, u: 0.05 }]);
  });

  it('has nothing to say of an exact number', () => {
    expect(budget(multiply('number', exact('number', 2), exact('number', 3), W))).toEqual([]);
  });
});
