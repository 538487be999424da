import { expect, test } from 'vitest';
import { readFixtures, readMarked } from '../../kit/fixture';

test('carets mark the text above them and leave the text', () => {
  const page = readMarked(
    'note: a\ncharge x: 5 µg (2 mg)\n               ^^^^ claim-mismatch: 5 µg\n          ^^^^ unit-kind\nend\n',
  );
  expect(page.text).toBe('note: a\ncharge x: 5 µg (2 mg)\nend\n');
  expect(page.marks.map((m) => [m.code, page.text.slice(m.start, m.end), m.says])).toEqual([
    ['claim-mismatch', '(2 m', '5 µg'],
    ['unit-kind', '5 µg', undefined],
  ]);
});

test('cursor and range are places, not text', () => {
  const page = readMarked('charge ⟦acetic acid⟧: 20‸ mL\n‸');
  expect(page.text).toBe('charge acetic acid: 20 mL\n');
  expect(page.ranges.map((r) => page.text.slice(r.start, r.end))).toEqual(['acetic acid']);
  expect(page.cursors).toEqual([22, 26]);
});

test('a mark that means nothing is an error', () => {
  expect(() => readMarked('ab\n    ^^ some-code\n')).toThrow('No text above');
  expect(() => readMarked('^^ some-code\n')).toThrow('No text above');
  expect(() => readMarked('a⟧')).toThrow('never began');
  expect(() => readMarked('⟦a')).toThrow('not closed');
});

test('a heading with pages is a fixture', () => {
  const [first, second] = readFixtures(
    '# File\nprose\n\n## One\nwhy\n```tare\na\n^ x-y\n```\n```tare other.tare\nb\n```\n```tare after\nc\n```\n## Two\n```tare\nd\n```\n',
  );
  expect(first).toMatchObject({ title: 'One', prose: 'why', line: 4, after: 'c\n' });
  expect(first!.files.map((f) => [f.name, f.text, f.marks.length])).toEqual([
    ['page.tare', 'a\n', 1],
    ['other.tare', 'b\n', 0],
  ]);
  expect(second).toMatchObject({ title: 'Two', prose: '' });
  expect(second).not.toHaveProperty('after');
});
