/** What the readmes show is true: their pages are analysed, their commands, links and settings exist. */
import { existsSync, readFileSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { describe, expect, test } from 'vitest';
import { KEYWORDS } from '../grammar/vocabulary';
import { lineOf, readFixtures } from './kit/fixture';
import { findingsOf, notebook } from './kit/notebook';

const root = resolve(import.meta.dirname, '..');
const read = (file: string): string => readFileSync(join(root, file), 'utf8');
const manifest = JSON.parse(read('package.json'));
const READMES = ['README.md', 'samples/README.md', 'DEVELOPERS.md'];

const blocks = READMES.flatMap((file) =>
  readFixtures(read(file)).flatMap(({ title, files }) =>
    files.map((page, index) => ({ ...page, name: `${file}, ${title}, ${index + 1}` })),
  ),
);

// Hints on how a page is written are no part of what a short example shows.
describe.each(blocks)('$name', ({ text, marks }) => {
  test('gives the findings that are marked in it, and no other', () => {
    const found = findingsOf(notebook({ 'page.tare': text }), 'page.tare').filter(
      ({ finding: { severity } }) => severity === 'error' || severity === 'warning',
    );
    expect(found.map(({ finding: { code }, start }) => `${code}, line ${lineOf(text, start)}`)).toEqual(
      marks.map(({ code, start }) => `${code}, line ${lineOf(text, start)}`),
    );
    for (const [index, { start, end, says = '' }] of marks.entries()) {
      expect([found[index]!.start, found[index]!.end]).toEqual([start, end]);
      expect(found[index]!.finding.message).toContain(says);
    }
  });
});

test('there are pages in the readmes', () => {
  expect(blocks.filter(({ name }) => name.startsWith('README.md')).length).toBeGreaterThanOrEqual(3);
  expect(blocks.some(({ marks }) => marks.length > 0)).toBe(true);
});

describe.each(READMES)('%s', (file) => {
  const text = read(file);

  test('links to files that are there', () => {
    const links = [...text.matchAll(/\]\(([^)#]+)[^)]*\)/g)].map(([, link]) => link!);
    const local = links.filter((link) => !/^https?:/.test(link));
    expect(local.filter((link) => !existsSync(resolve(root, dirname(file), link)))).toEqual([]);
  });

  test('names scripts that exist', () => {
    const scripts = [...text.matchAll(/npm run ([a-z0-9:-]+)/g)].map(([, script]) => script!);
    expect(scripts.filter((script) => !(script in manifest.scripts))).toEqual([]);
  });

  test('shows no SVG, which the marketplace refuses', () => {
    expect(text).not.toMatch(/!\[[^\]]*\]\([^)]*\.svg/);
  });
});

describe('README.md', () => {
  const text = read('README.md');

  test('lists every setting with its default', () => {
    const settings = manifest.contributes.configuration.flatMap((section: { properties: Record<string, object> }) =>
      Object.entries(section.properties),
    ) as [string, { default: unknown }][];
    const rows = new Map([...text.matchAll(/^\|\s*`(tarebook\.[\w.]+)`\s*\|\s*`([^`]*)`/gm)].map(([, k, v]) => [k, v]));
    const wanted = settings.map(([key, { default: value }]) => [
      key,
      typeof value === 'string' ? value : JSON.stringify(value),
    ]);
    expect([...rows].sort()).toEqual(wanted.sort());
  });

  test('writes statements that the language has', () => {
    const shown = [...text.matchAll(/`([a-z]+)(?: [^`:]*)?:(?: [^`]*)?`/g)].map(([, keyword]) => keyword!);
    expect(shown.length).toBeGreaterThan(8);
    expect(shown.filter((keyword) => !(keyword in KEYWORDS) && keyword !== 'tarebook')).toEqual([]);
  });
});

test('the readme of the samples has a row for every page', () => {
  const rows = [...read('samples/README.md').matchAll(/^\|\s*`(tb-[\w-]+)`/gm)].map(([, name]) => `${name}.tare`);
  expect(rows.filter((name) => !existsSync(join(root, 'samples', name)))).toEqual([]);
  expect(rows.length).toBeGreaterThanOrEqual(10);
});
