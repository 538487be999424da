import { expect, test } from 'vitest';
import { namesInText } from '../../../server/model/names-in-text';
import { matterIn, refusedBy, stockStream, stockStreams } from '../../../server/model/streams';

const names = (text: string, ...known: readonly string[]) => namesInText(text, new Set(known)).map((n) => n.text);

test.each([
  ['45 mL ether and methanol', ['ether', 'methanol']],
  ['200 mL dichloromethane washes', ['dichloromethane']],
  ['6 mL forerun and still residue', []],
  ['70 mL water washes with the spare acetic acid', ['water', 'acetic acid']],
  ['40 mL N,N-dimethylformamide, THF (wet)', ['N,N-dimethylformamide', 'THF']],
  ['washes with 2 M hydrochloric acid', ['hydrochloric acid']],
  ['1 g filter with palladium on carbon, kept wet with water', ['palladium', 'carbon', 'water']],
  ['filtrate with CuSO4 and NaN3', ['CuSO4', 'NaN3']],
  // Words that are names only by chance, and metals that begin a salt's name.
  ['what can be had after tea', []],
  ['sodium 3-phenoxycinnamate washes', []],
  ['sodium, kept under oil', ['sodium']],
  // What is gone.
  ['sodium azide destroyed with nitrite', []],
  ['free of dichloromethane', []],
  ['quenched lithium aluminium hydride in ethyl acetate', ['ethyl acetate']],
])('%s', (text, expected) => {
  expect(names(text)).toEqual(expected);
});

test('names of the page come first, the longest wins', () => {
  expect(names('50 mL ester 7 in toluene', 'ester 7')).toEqual(['ester 7', 'toluene']);
  expect(names('palladium on carbon', 'palladium on carbon')).toEqual(['palladium on carbon']);
});

test('offsets hold the text', () => {
  const text = '45 mL ether and methanol';
  for (const name of namesInText(text, new Set())) expect(text.slice(name.start, name.end)).toBe(name.text);
});

test.each([
  ['halogenated organics', ['halogenated organics']],
  ['non-halogenated solvents', ['non-halogenated organics']],
  ['organic solvents', ['non-halogenated organics', 'halogenated organics']],
  ['metals and mercury', ['heavy metals', 'mercury']],
  ['oxidizers', ['oxidisers']],
  ['aqueous acids', ['acids']],
])('what a list means by %s', (phrase, kinds) => {
  expect(matterIn(phrase)).toEqual(kinds);
});

test('the stock list is of one mind: no stream refuses what it takes, each name is one stream', () => {
  expect(stockStreams().length).toBeGreaterThan(10);
  for (const stream of stockStreams())
    expect(
      stream.takes.filter((kind) => refusedBy(stream).has(kind)),
      stream.name,
    ).toEqual([]);
  const all = stockStreams().flatMap(({ name, also }) => [name, ...also.map(({ text }) => text)]);
  expect(new Set(all).size).toBe(all.length);
  expect(stockStream('Non-Halogenated  Solvents')?.name).toBe('non-halogenated organic');
});
