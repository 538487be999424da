/**
 * Correct pages are quiet: the samples, the published cases, and pages full of chemists' habits. No error and no
 * warning of any rule; of the families that look at how a page is written, nothing at all.
 */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join, relative, sep } from 'node:path';
import { describe, expect, test } from 'vitest';
import { RULES } from '../server/rules';
import type { Family } from '../server/rules/rule';
import { readCases } from './cases/read';
import { lineOf } from './kit/fixture';
import { findingsOf, notebook } from './kit/notebook';

const STRICT: ReadonlySet<Family> = new Set<Family>(['reading', 'units', 'weighing', 'page']);
const familyOf = new Map(RULES.map((rule) => [rule.code, rule.family]));

/** The `.tare` files below a folder, by their path from it; none when there is no such folder. */
function pagesBelow(folder: string): Readonly<Record<string, string>> {
  if (!existsSync(folder)) return {};
  const paths = readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && entry.name.endsWith('.tare'))
    .map((entry) => join(entry.parentPath, entry.name))
    .sort();
  return Object.fromEntries(
    paths.map((path) => [relative(folder, path).split(sep).join('/'), readFileSync(path, 'utf8')]),
  );
}

function noise(files: Readonly<Record<string, string>>, name: string): readonly string[] {
  return findingsOf(notebook(files), name)
    .filter(
      ({ finding: { severity, code } }) =>
        severity === 'error' || severity === 'warning' || STRICT.has(familyOf.get(code)!),
    )
    .map(
      (f) => `${f.finding.severity} ${f.finding.code}: ${f.finding.message} | line ${lineOf(files[name]!, f.start)}`,
    );
}

const quiet = pagesBelow(join(import.meta.dirname, 'fixtures/quiet'));
const samples = Object.fromEntries(
  Object.entries(pagesBelow(join(import.meta.dirname, '../samples'))).filter(
    ([name]) => !name.startsWith('with-mistakes/'),
  ),
);

test('there are pages to be quiet about', () => {
  expect(Object.keys(quiet).length).toBeGreaterThanOrEqual(15);
});

describe('habits', () => {
  test.each(Object.keys(quiet))('%s', (name) => {
    expect(noise({ [name]: quiet[name]! }, name)).toEqual([]);
  });

  test.each(Object.keys(quiet))('%s, with the line ends of Windows', (name) => {
    expect(noise({ [name]: quiet[name]!.replaceAll('\n', '\r\n') }, name)).toEqual([]);
  });
});

describe.runIf(Object.keys(samples).length > 0)('samples, one notebook together', () => {
  test.each(Object.keys(samples))('%s', (name) => {
    expect(noise(samples, name)).toEqual([]);
  });
});

const CASES = join(import.meta.dirname, 'cases');
const cases = readdirSync(CASES)
  .filter((file) => file.endsWith('.md'))
  .flatMap((file) => readCases(readFileSync(join(CASES, file), 'utf8')));

/** A case that expects a finding has its slip on purpose, or in print; every other page is somebody's correct work. */
describe('published cases', () => {
  test.each(cases.filter(({ checks }) => checks.every((check) => check.kind !== 'finding')))('$id', ({ page }) => {
    expect(noise({ 'page.tare': page }, 'page.tare')).toEqual([]);
  });
});
