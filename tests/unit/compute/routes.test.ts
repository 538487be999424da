/** Yields over several pages: plain products of plain numbers. */
import { describe, expect, it } from 'vitest';
import type { Outcome } from '../../../server/model/world';
import { branchesOf, routeTo } from '../../../server/routes';
import type { Workspace } from '../../../server/workspace';
import { notebook, uriOf } from '../../kit/notebook';

type Made = Outcome['made'][number];
const made = (name: string, share?: number, from?: string): Made => {
  const [id = '', label] = from?.split('/') ?? [];
  return {
    name,
    key: name,
    ...(share !== undefined && { yield: share }),
    ...(from && { from: { id, ...(label && { label }) } }),
  };
};
const page = (id: string, products: readonly Made[], taken: readonly string[] = []): Outcome => ({
  uri: 'u',
  id,
  made: products,
  taken: taken.map((text) => {
    const [batch = '', label] = text.split('/');
    return { id: batch, ...(label && { label }) };
  }),
});
const route = (pages: readonly Outcome[], id: string) => {
  const outcome = pages.find((p) => p.id === id)!;
  return routeTo((wanted) => pages.filter((p) => p.id === wanted), outcome, outcome.made[0]!);
};
const branches = (pages: readonly Outcome[]) => branchesOf(pages, (id) => pages.filter((p) => p.id === id));

describe('the way to a product', () => {
  it('of one page is its yield', () =>
    expect(route([page('A', [made('x', 0.5)])], 'A')).toEqual({ pages: ['A'], product: 'x', yield: 0.5 }));
  it('over three pages', () =>
    expect(
      route([page('A', [made('x', 0.5)]), page('B', [made('y', 0.8, 'A')]), page('C', [made('z', 0.5, 'B')])], 'C'),
    ).toEqual({
      pages: ['A', 'B', 'C'],
      product: 'z',
      yield: 0.2,
    }));
  it('by a label', () => {
    const first = page('A', [
      { ...made('x', 0.5), label: 'V-1' },
      { ...made('x', 0.25), label: 'V-2' },
    ]);
    expect(route([first, page('B', [made('y', 1, 'A/V-2')])], 'B')?.yield).toBe(0.25);
    expect(route([first, page('B', [made('y', 1, 'A/V-3')])], 'B')).toBeUndefined();
  });
  it.each([
    ['a step without a yield', [page('A', [made('x')]), page('B', [made('y', 0.8, 'A')])]],
    ['a page that is not there', [page('B', [made('y', 0.8, 'Z')])]],
    ['a page that made nothing', [page('A', []), page('B', [made('y', 0.8, 'A')])]],
    [
      'two pages with one ID',
      [page('A', [made('x', 0.5)]), page('A', [made('x', 0.6)]), page('B', [made('y', 0.8, 'A')])],
    ],
    ['itself', [page('B', [made('y', 0.8, 'B')])]],
    ['a circle', [page('A', [made('x', 0.5, 'B')]), page('B', [made('y', 0.8, 'A')])]],
  ])('%s: unknown', (_, pages) => expect(route(pages, 'B')).toBeUndefined());
});

describe('branches', () => {
  const pages = [
    page('A', [made('a', 0.5)]),
    page('B', [made('b', 0.8)], ['A']),
    page('C', [made('c', 0.9)]),
    page('D', [made('d', 0.5)], ['B', 'C']),
  ];
  it('all ways to the last product, the longest marked', () =>
    expect(branches(pages)).toEqual([
      { pages: ['A', 'B', 'D'], product: 'd', yield: expect.closeTo(0.2, 12), longest: true },
      { pages: ['C', 'D'], product: 'd', yield: expect.closeTo(0.45, 12), longest: false },
    ]));
  it('of ways equally long the one with the least yield', () =>
    expect(
      branches([page('A', [made('a', 0.9)]), page('B', [made('b', 0.2)]), page('C', [made('c', 1)], ['A', 'B'])]).map(
        (b) => [b.pages[0], b.longest],
      ),
    ).toEqual([
      ['A', false],
      ['B', true],
    ]));
  it('a step without a yield leaves the way without one', () =>
    expect(branches([page('A', [made('a')]), page('B', [made('b', 0.5)], ['A'])])[0]).toEqual({
      pages: ['A', 'B'],
      product: 'b',
      longest: true,
    }));
  it('a page that takes nothing is no end of a route', () =>
    expect(branches([page('A', [made('a', 0.5)])])).toEqual([]));
  it('circles end, and a page takes no step twice', () => {
    expect(branches([page('A', [made('a', 0.5)], ['B']), page('B', [made('b', 0.5)], ['A'])])).toEqual([]);
    expect(
      branches([
        page('A', [made('a', 0.5)], ['B']),
        page('B', [made('b', 0.5)], ['A']),
        page('C', [made('c', 0.5)], ['A']),
      ]).map((b) => b.pages),
    ).toEqual([['B', 'A', 'C']]);
  });
  it('a batch taken twice is one way', () =>
    expect(branches([page('A', [made('a', 0.5)]), page('B', [made('b', 0.5)], ['A', 'A'])])).toHaveLength(1));
  it('ways that meet and part again are bounded', () => {
    const layers = Array.from({ length: 20 }, (_, i) =>
      [0, 1].map((k) => page(`P${i}-${k}`, [made('x', 0.9)], i > 0 ? [`P${i - 1}-0`, `P${i - 1}-1`] : [])),
    ).flat();
    expect(branches(layers).length).toBeLessThanOrEqual(200);
  });
});

const overallOf = (workspace: Workspace, name: string): number | undefined =>
  workspace.snapshot(uriOf(name)).page(1).values.products[0]!.overall?.value.toNumber();

describe('over pages of a notebook', () => {
  const files = {
    'a.tare':
      'experiment A-1: first\nreaction R1: C7H8O -> C7H6O + H2\ncharge C7H8O: 10.0 mmol\nproduct C7H6O: 8.0 mmol\n',
    'b.tare':
      'experiment B-1: second\nreaction R1: C7H6O + HCN -> C8H7NO\ncharge C7H6O: 4.0 mmol, from A-1\ncharge HCN: excess\nproduct C8H7NO: 2.0 mmol\n',
  };
  it('the overall yield', () => {
    const workspace = notebook(files);
    expect(workspace.outcomes('B-1')[0]!.made[0]).toMatchObject({ yield: 0.5, from: { id: 'A-1' } });
    expect(overallOf(workspace, 'b.tare')).toBeCloseTo(0.4, 12);
    expect(overallOf(workspace, 'a.tare')).toBeUndefined();
  });
  it('what was taken and made, by mass', () => {
    const workspace = notebook({
      'a.tare': 'experiment A-1: first\nproduct NaCl: 5.0 g\n',
      'b.tare': 'experiment B-1: second\ncharge NaCl: 2.0 g, from A-1\n',
    });
    expect(workspace.outcomes('A-1')[0]!.made[0]!.mass).toBe(5);
    expect(workspace.outcomes('B-1')[0]!.taken).toEqual([{ id: 'A-1', mass: 2 }]);
    expect(workspace.snapshot(uriOf('b.tare')).page(1).world.batch('A-1')).toMatchObject({
      made: 5,
      taken: [{ page: 'B-1', mass: 2 }],
    });
  });
  it('pages that take from each other have none, and nothing hangs', () => {
    const workspace = notebook({
      'a.tare': files['a.tare'].replace('10.0 mmol', '10.0 mmol, from B-1'),
      'b.tare': files['b.tare'],
    });
    expect(overallOf(workspace, 'b.tare')).toBeUndefined();
  });
});
