/** What other pages may see of a page, from its text alone. */
import { describe, expect, it } from 'vitest';
import { parse } from '../../../grammar/parse';
import { readDefinitions } from '../../../server/model/definitions';
import { summarise } from '../../../server/model/summary';

const summaryOf = (text: string, uri = 'u') => {
  const { page } = parse(text).pages.at(-1)!;
  return summarise(page, uri, readDefinitions(page, { where: { kind: 'page' } }));
};
const HEAD = 'experiment TB-1: Title\ndate: 2026-03-04\n';

describe('a summary', () => {
  it('of a page without an ID is none', () => expect(summaryOf('substance it: C6H6\n')).toBeUndefined());

  it('head, tares, products, batches taken', () => {
    const summary = summaryOf(
      `${HEAD}vessel F-12: flask, tare 41.207 g\nweigh F-13: tare 20.1 g\nsubstance it: C6H6\n` +
        'charge that: 1 g, from TB-9; 2 g, from TB-8/V-1\nproduct it: 5 g, label V-3\nproduct other: 1 g\n',
    )!;
    expect([summary.id, summary.title, summary.date]).toEqual(['TB-1', 'Title', '2026-03-04']);
    expect(summary.tares.map((t) => [t.key, t.digits, t.unit, t.entry])).toEqual([
      ['f-12', '41.207', 'g', 'vessel f-12'],
      ['f-13', '20.1', 'g', 'weigh f-13'],
    ]);
    expect(summary.products.map((p) => [p.name, p.label, p.substance?.formula?.text])).toEqual([
      ['it', 'V-3', 'C6H6'],
      ['other', undefined, undefined],
    ]);
    expect(summary.takes.map((t) => [t.id, t.label])).toEqual([
      ['TB-9', undefined],
      ['TB-8', 'V-1'],
    ]);
  });

  it.each([
    ['weighed with a product', 'product it: tare 41.207 g, gross 50 g, in F-12'],
    ['weighed with a charge', 'charge it: tare 41.207 g, gross 50 g, in F-12'],
    ['weighed on its own', 'weigh it: tare 41.207 g, gross 50 g, in F-12'],
  ])('a tare %s', (_, line) =>
    expect(summaryOf(HEAD + line)!.tares.map((t) => [t.key, t.digits])).toEqual([['f-12', '41.207']]),
  );

  it('of a vessel weighed more than once the last counts', () =>
    expect(
      summaryOf(`${HEAD}vessel F-12: flask, tare 41.207 g\nweigh F-12: tare 41.300 g`)!.tares.map((t) => t.digits),
    ).toEqual(['41.300']));

  it('a tare that is cited, or no mass, is none of this page', () =>
    expect(
      summaryOf(`${HEAD}vessel F-12: flask, tare 41.207 g from TB-9\nvessel F-13: flask, tare 41 mL`)!.tares,
    ).toEqual([]));

  it('a tare without a vessel is nobody’s', () =>
    expect(summaryOf(`${HEAD}product it: tare 41.207 g, gross 50 g`)!.tares).toEqual([]));
});

describe('the fingerprint', () => {
  const base = `${HEAD}vessel F-12: flask, tare 41.207 g\nproduct it: 5 g\ncharge that: 1 g, from TB-9\n`;
  const same = (a: string, b: string, uri = 'u') => summaryOf(a)!.fingerprint === summaryOf(b, uri)!.fingerprint;
  it.each([
    ['prose', base.replace('product', 'Some prose here.\n\nproduct')],
    ['a number that nobody sees', base.replace('product it: 5 g', 'product it: 6 g')],
    ['text before the page', `note: hello\n\n${base}`],
  ])('does not change with %s', (_, text) => expect(same(base, text)).toBe(true));
  it.each([
    ['a tare', base.replace('41.207', '41.208')],
    ['its unit', base.replace('41.207 g', '41.207 mg')],
    ['a product’s name', base.replace('product it', 'product its')],
    ['a label', base.replace('5 g', '5 g, label V-1')],
    ['the substance of a product', `${base}substance it: C6H6\n`],
    ['the date', base.replace('03-04', '03-05')],
    ['the title', base.replace('Title', 'Titles')],
    ['a batch', base.replace('TB-9', 'TB-8')],
  ])('changes with %s', (_, text) => expect(same(base, text)).toBe(false));
  it('changes with the file', () => expect(same(base, base, 'other')).toBe(false));
});
