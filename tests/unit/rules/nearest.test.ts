import { expect, test } from 'vitest';
import { edits, nearest } from '../../../server/rules/nearest';

test.each([
  ['charge', 'charge', 0],
  ['chrage', 'charge', 1],
  ['charg', 'charge', 1],
  ['chharge', 'charge', 1],
  ['charbe', 'charge', 1],
  ['kitten', 'sitting', 3],
  ['', 'ab', 2],
])('from %s to %s it takes %i', (a, b, distance) => {
  expect(edits(a, b)).toBe(distance);
  expect(edits(b, a)).toBe(distance);
});

test('the nearest word, none that is far, and nothing for a word that is known', () => {
  const words = ['charge', 'product', 'substance', 'tare'];
  expect(nearest('chrage', words)).toBe('charge');
  expect(nearest('subtsancce', words)).toBe('substance');
  expect(nearest('chargers', words)).toBeUndefined();
  expect(nearest('tare', words)).toBeUndefined();
});
