import { expect, test } from 'vitest';
import { semanticTokens, TOKEN_MODIFIERS, TOKEN_TYPES } from '../../../server/features/semantic-tokens';
import { notebook, PAGE } from './notebook';

function tokens(text: string, range?: { first: number; last: number }): readonly string[] {
  const lines = text.split(/\r?\n/);
  const asked = range && { start: { line: range.first, character: 0 }, end: { line: range.last, character: 0 } };
  return semanticTokens(notebook({ [PAGE]: text }).snapshot(PAGE), asked).map(
    ({ line, character, length, type, modifiers }) =>
      `${lines[line]!.slice(character, character + length)} ${[type, ...modifiers].join('.')}`,
  );
}

test('declared, known and unknown names', () => {
  const text =
    'experiment TB-1: a\nsubstance ester: C7H14O2\ncharge ester: 5 g\ncharge toluene: 5 mL\ncharge unobtainium: 5 g\n';
  expect(tokens(text).filter((token) => /class|namespace/.test(token))).toEqual([
    'TB-1 namespace.declaration',
    'ester class.declaration',
    'ester class',
    'toluene class.defaultLibrary',
    'unobtainium class.unknown',
  ]);
});

test('measured and claimed numbers, units, facts, roles', () => {
  expect(tokens('experiment A: a\ncharge water: 2 × 15.0 mL (29.9 g), limiting, at 25–30 °C\n').slice(2)).toEqual([
    'charge keyword',
    'water class.defaultLibrary',
    '2 number',
    '15.0 number',
    'mL unit',
    '29.9 number.claim',
    'g unit.claim',
    'limiting modifier',
    'at property',
    '25 number',
    '30 number',
    '°C unit',
  ]);
});

test('vessel, balance, batch, equation', () => {
  const text =
    'experiment A: a\nbalance B-2: readability 0.001 g\nvessel F-12: tare 41.207 g\nreaction R1: 2 water -> ice\nproduct ice:\n  gross 54.881 g, in F-12, on B-2, from C-1\n';
  const found = tokens(text);
  for (const token of [
    'B-2 variable.declaration',
    'F-12 variable.declaration',
    'R1 function.declaration',
    '2 number',
    '-> operator',
    'F-12 variable',
    'B-2 variable',
    'in property',
  ])
    expect(found).toContain(token);
});

test('prose, the log, plain text and spectra have none', () => {
  expect(
    tokens('experiment A: a 5 mL thing\naim: 5 g of it\nProse with 5 mL of water.\n09:00 Water, 5 mL.\n## Water 5\n'),
  ).toEqual(['experiment keyword', 'A namespace.declaration', 'aim keyword']);
});

test('no token goes over a line or overlaps another, whatever the line ends', () => {
  const text =
    'experiment A: a\r\nsubstance very long name: C2H6O,\r\n  density 0.8 g/mL at 20 °C\r\ncharge very long name: 5.0 mL (4.0 g,\r\n  12 mmol)\r\n';
  const found = semanticTokens(notebook({ [PAGE]: text }).snapshot(PAGE));
  const lines = text.split('\r\n');
  let last = { line: 0, end: 0 };
  expect(found.length).toBeGreaterThan(10);
  for (const { line, character, length, type, modifiers } of found) {
    expect(character + length).toBeLessThanOrEqual(lines[line]!.length);
    expect(line > last.line || character >= last.end).toBe(true);
    expect(TOKEN_TYPES).toContain(type);
    for (const modifier of modifiers) expect(TOKEN_MODIFIERS).toContain(modifier);
    last = { line, end: character + length };
  }
});

test('a range gives the tokens of its lines', () => {
  const text = 'experiment A: a\ncharge water: 5 mL\nexperiment B: b\ncharge ethanol: 6 mL\n';
  expect(tokens(text, { first: 3, last: 3 })).toEqual([
    'charge keyword',
    'ethanol class.defaultLibrary',
    '6 number',
    'mL unit',
  ]);
  expect(tokens(text, { first: 0, last: 4 })).toEqual(tokens(text));
});
