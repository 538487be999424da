import { expect, test } from 'vitest';
import { folding } from '../../../server/features/folding';
import { notebook, PAGE } from './notebook';

const folds = (text: string) =>
  folding(notebook({ [PAGE]: text }).snapshot(PAGE)).map(({ start, end }) => [start, end]);

test('a page, a heading up to the next of its level, a statement that goes on', () => {
  const text = [
    'experiment TB-014: Ester', // 0
    'product ester:',
    '  gross 54.881 g',
    '',
    '## Work-up', // 4
    'Washed.',
    '### Drying',
    'Dried.',
    '',
    '## Waste', // 9
    'None.',
    '',
    'experiment TB-015: Next', // 12
    'Nothing yet.',
    '',
  ].join('\n');
  expect(folds(text)).toEqual([
    [0, 10],
    [1, 2],
    [4, 7],
    [6, 7],
    [9, 10],
    [12, 13],
  ]);
});

test('entries of the log one under the other fold as one; an entry with more text folds inside it', () => {
  const text =
    'experiment A: a\n09:00 One\n09:10 Two\n  and more\n09:20 charge water: 5 mL\n\n10:00 Alone\n\n11:00 Alone\n  but long\n';
  expect(folds(text)).toEqual([
    [0, 9],
    [1, 4],
    [2, 3],
    [8, 9],
  ]);
});

test('a fence', () => {
  expect(folds('experiment A: a\n```\nprinted\ncharge water: 5 mL\n```\nafter\n')).toEqual([
    [0, 5],
    [1, 4],
  ]);
});

test('the head of a file folds no page', () => {
  expect(folds('substance a: CH4\nsubstance b: C2H6\n')).toEqual([]);
});

test('lines end as they like', () => {
  expect(folds('experiment A: a\r\nproduct b:\r\n  5 g\r\n')).toEqual([
    [0, 2],
    [1, 2],
  ]);
});
