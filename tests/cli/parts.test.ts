import { describe, expect, test } from 'vitest';
import { cells, printable, underlined } from '../../server/cli/cells';
import { readConfig } from '../../server/cli/config';
import { decode } from '../../server/cli/files';
import { useColor } from '../../server/cli/terminal';
import { errorPlace, logLine } from '../../server/log';
import { rulePage } from '../../server/rules/page';
import type { Rule } from '../../server/rules/rule';

describe('display cells (Unicode Standard Annex #11)', () => {
  test.each([
    ['15.0 mL', 7],
    ['20 °C', 5],
    // U+6C34 is W in EastAsianWidth.txt, U+FF21 is F: two cells each.
    ['水', 2],
    ['\uFF21', 2],
    // U+0301 is Mn: it stands on the letter before.
    ['e\u0301', 1],
    ['\u{1F9EA}', 2],
    ['\u200B', 0],
  ])('%j takes %i', (text, width) => expect(cells(text)).toBe(width));
});

describe('what reaches a terminal', () => {
  test('control sequences become pictures', () => expect(printable('a\u001B[31mb\u0007')).toBe('a␛[31mb␇'));
  test('a character that turns the order of digits is named', () =>
    expect(printable('12\u202E34')).toBe('12<U+202E>34'));
  test('carets stand under wide characters', () => {
    const { text, carets } = underlined('charge 水: 15.0 mg', 10, 17);
    expect(cells(text.slice(0, 10))).toBe(carets.indexOf('^'));
    expect(carets.trim()).toBe('^^^^^^^');
  });
  test('a line of a million characters is cut to a window round the place', () => {
    const line = `${'x'.repeat(500_000)}12.2 g${'y'.repeat(500_000)}`;
    const { text, carets } = underlined(line, 500_000, 500_006);
    expect(text.length).toBeLessThan(130);
    expect([...text].slice(carets.indexOf('^'), carets.lastIndexOf('^') + 1).join('')).toBe('12.2 g');
  });
});

describe('reading bytes', () => {
  const problem = (bytes: Buffer) => {
    const reading = decode(bytes);
    return 'problem' in reading ? reading.problem : undefined;
  };
  test('a byte order mark is no text', () => expect(decode(Buffer.from('\uFEFFx'))).toEqual({ text: 'x' }));
  test('Latin-1 is refused with its line', () =>
    expect(problem(Buffer.from('a\nb\n20 °C\n', 'latin1'))).toMatch(/not UTF-8 \(line 3\)/));
  test('UTF-16 is named', () => expect(problem(Buffer.from('\uFEFFx', 'utf16le'))).toMatch(/UTF-16/));
  test('a sequence cut off at the end is refused', () =>
    expect(problem(Buffer.from('°').subarray(0, 1))).toMatch(/line 1/));
});

describe('tarebook.json', () => {
  const codes = ['claim-mismatch', 'claim-rounding'];
  test('comments and trailing commas', () => {
    const text = '// lab\n{"rules": {"severity": {"claim-rounding": "off", /* loud */ }, "hrmsPpm": 3,}, }';
    expect(readConfig(text, codes)).toEqual({
      settings: { severity: { 'claim-rounding': 'off' }, hrmsPpm: 3 },
      warnings: [],
    });
  });
  test('what looks like a comment in a string is none', () =>
    expect(readConfig('{"$schema": "https://example.org/a,}"}', codes).warnings).toEqual([]));
  test('unknown keys and rules are warnings', () =>
    expect(readConfig('{"rule": {}, "rules": {"severity": {"claim-mismach": "off"}}}', codes).warnings).toEqual([
      'unknown key "rule" (did you mean "rules"?)',
      'unknown rule "claim-mismach" (did you mean "claim-mismatch"?)',
    ]));
  test.each([
    ['{', SyntaxError],
    ['[]', TypeError],
    ['{"rules": {"severity": {"claim-mismatch": "loud"}}}', TypeError],
    ['{"rules": {"hrmsPpm": -1}}', TypeError],
  ])('%s is refused', (text, error) => expect(() => readConfig(text, codes)).toThrow(error));
});

describe('colour (no-color.org: NO_COLOR present and not empty)', () => {
  test.each([
    ['auto', {}, true, true],
    ['auto', {}, false, false],
    ['auto', { TERM: 'dumb' }, true, false],
    ['auto', { NO_COLOR: '1' }, true, false],
    ['auto', { NO_COLOR: '' }, true, true],
    ['auto', { FORCE_COLOR: '1' }, false, true],
    ['auto', { NO_COLOR: '1', FORCE_COLOR: '1' }, true, false],
    ['always', { NO_COLOR: '1' }, false, true],
    ['never', { FORCE_COLOR: '1' }, true, false],
  ] as const)('%s %j terminal %s: %s', (choice, env, terminal, expected) =>
    expect(useColor(choice, env, terminal)).toBe(expected),
  );
});

describe('the log', () => {
  test('one line, quoted where it must be', () =>
    expect(logLine('register', { file: 'my registers/a "b".tare', state: 'read' })).toBe(
      'register file="my registers/a \\"b\\".tare" state=read',
    ));
  test('the place of an error without its message', () => {
    const place = errorPlace(new TypeError('isopentyl acetate 13.674 g'));
    expect(place).toMatch(/^TypeError at parts\.test\.ts:\d+:\d+$/);
    expect(errorPlace('isopentyl acetate')).toBe('string');
  });
});

test('the page of a rule holds its reasons, examples and sources', () => {
  const rule: Rule = {
    code: 'net-mismatch',
    family: 'weighing',
    severity: 'error',
    fixable: 'sometimes',
    title: 'The net mass is not gross minus tare',
    why: 'Plain subtraction.',
    help: 'Look at the printout.',
    examples: [{ name: 'fences inside', wrong: '\n```\nprintout\n```\nwrong\n', right: 'right\n' }],
    sources: [],
    *check() {},
  };
  expect(rulePage(rule)).toBe(`# net-mismatch

**The net mass is not gross minus tare.**

Family: Weighing · Severity: error · Quick fix: where one can be worked out

## Why

Plain subtraction.

## What to do

Look at the printout.

## Example: fences inside

Wrong:

\`\`\`\`tare
\`\`\`
printout
\`\`\`
wrong
\`\`\`\`

Right:

\`\`\`tare
right
\`\`\`

## Sources

- common practice, no source

## Changing it

In \`tarebook.json\`: \`{"rules": {"severity": {"net-mismatch": "warning"}}}\`, or \`"off"\`.
Under the statement, with the reason: \`accept net-mismatch: …\`.
`);
});
