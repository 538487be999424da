/** Whatever is on a page, and however far it is typed: rules do not throw, and what they say can be shown. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { findingsOf, notebook } from '../kit/notebook';

const QUIET = join(import.meta.dirname, '../fixtures/quiet');
const pages = readdirSync(QUIET).map((name) => readFileSync(join(QUIET, name), 'utf8'));
const lines = pages.flatMap((page) => page.split('\n'));
const PAGE = 'page.tare';

function check(text: string): void {
  for (const { finding, start, end, fixes } of findingsOf(notebook({ [PAGE]: text }), PAGE)) {
    const where = `${finding.code} in ${JSON.stringify(text.slice(start, end))}: ${finding.message}`;
    expect(start < end && end <= text.length, where).toBe(true);
    expect(text.slice(start, end), where).not.toMatch(/[\r\n]/);
    expect(finding.message, where).toMatch(/^[^\r\n]{10,}$/);
    expect(finding.message, where).not.toMatch(/undefined|NaN|\[object/);
    for (const { edits } of fixes)
      for (const { span } of edits)
        expect(0 <= span.start && span.start <= span.end && span.end <= text.length, where).toBe(true);
  }
}

test('while a page is typed', () => {
  fc.assert(
    fc.property(fc.constantFrom(...pages), fc.double({ min: 0, max: 1, noNaN: true }), (page, share) => {
      check(page.slice(0, Math.floor(page.length * share)));
    }),
    { numRuns: 120 },
  );
});

test('with lines of any pages in any order, some of them cut, doubled or spoilt', () => {
  const spoilt = fc
    .tuple(
      fc.constantFrom(...lines),
      fc.nat(),
      fc.nat(),
      fc.constantFrom('', ',', '(', ')', ';', '5', '.', '–', 'g', ' '),
    )
    .map(([line, a, b, put]) => line.slice(0, a % (line.length + 1)) + put + line.slice(b % (line.length + 1)));
  fc.assert(
    fc.property(fc.array(fc.oneof(fc.constantFrom(...lines), spoilt), { maxLength: 25 }), (chosen) => {
      check(`experiment TB-900: Any\n${chosen.join('\n')}\n`);
    }),
    { numRuns: 150 },
  );
});

test('prose in any order is quiet', () => {
  const prose = readFileSync(join(QUIET, 'prose.tare'), 'utf8')
    .split('\n')
    .slice(4)
    .filter((line) => line !== '' && !/^(?:\d|```|charge whatever|tare )/.test(line));
  fc.assert(
    fc.property(fc.shuffledSubarray(prose), (chosen) => {
      const found = findingsOf(notebook({ [PAGE]: `experiment TB-901: Prose\n${chosen.join('\n')}\n` }), PAGE);
      expect(found.map((f) => f.finding.message)).toEqual([]);
    }),
    { numRuns: 60 },
  );
});
