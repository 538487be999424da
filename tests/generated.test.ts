/**
 * What is generated is current: the colouring grammar, the rule pages, the table of rules, the list of rules.
 * `npm run generate` writes them; here a stale or missing file fails.
 */
import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { searchIn } from '../server/chem/structure';
import { testPatterns } from '../server/chem/tests';
import { groupPatterns, handbookGroupsTable } from '../server/compute/reactive-groups';
import { colouring } from '../server/features/colouring';
import { findInHandbook, handbookNames } from '../server/model/handbook';
import { rulePage } from '../server/rules/page';
import type { Family, Rule } from '../server/rules/rule';

const RULES = join(import.meta.dirname, '../server/rules');
/** A later family may rest on what an earlier one has already doubted. */
const FAMILIES: readonly Family[] = [
  'reading',
  'units',
  'weighing',
  'substance',
  'reaction',
  'claims',
  'yield',
  'evidence',
  'ledger',
  'page',
];

const folders = readdirSync(RULES, { withFileTypes: true }).filter((entry) => entry.isDirectory());
const files = FAMILIES.filter((family) => folders.some((folder) => folder.name === family)).flatMap((family) =>
  readdirSync(join(RULES, family))
    .filter((file) => file.endsWith('.ts'))
    .sort()
    .map((file) => ({ family, code: file.slice(0, -'.ts'.length) })),
);
const rules = await Promise.all(
  files.map(async ({ family, code }) => (await import(`../server/rules/${family}/${code}.ts`)).default as Rule),
);

test('the colouring grammar', async () => {
  await expect(`${JSON.stringify(colouring(), null, 2)}\n`).toMatchFileSnapshot('../client/tarebook.tmLanguage.json');
});

describe("patterns in the handbook's structures", () => {
  const patterns = [...new Set([...testPatterns(), ...groupPatterns()])].sort();
  const cell = (text: string) => (/[",]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text);

  test('are listed', async () => {
    await expect(`smarts\n${patterns.map(cell).join('\n')}\n`).toMatchFileSnapshot('../server/data/patterns.csv');
  });

  test('are those that a search finds', async () => {
    const structures = handbookNames().flatMap(({ name }) => {
      const found = findInHandbook(name);
      return found?.kind === 'one' && found.entry.kind === 'substance' ? (found.entry.smiles ?? []) : [];
    });
    const rows = [...new Set(structures)].flatMap((smiles) => {
      const has = searchIn(smiles);
      return has ? [`${cell(smiles)},${patterns.flatMap((p, i) => (has(p) ? [i] : [])).join(' ')}`] : [];
    });
    await expect(`smiles,patterns\n${rows.join('\n')}\n`).toMatchFileSnapshot('../server/data/handbook-patterns.csv');
  });
});

test("reactive groups of the handbook's substances", async () => {
  await expect(handbookGroupsTable()).toMatchFileSnapshot('../server/data/handbook-groups.csv');
});

describe('rules', () => {
  test('stand in the file and the folder that are named after them', () => {
    expect(rules.map(({ family, code }) => ({ family, code }))).toEqual(files);
    expect(folders.map((folder) => folder.name).filter((name) => !FAMILIES.includes(name as Family))).toEqual([]);
  });

  test('are listed', async () => {
    await expect(index()).toMatchFileSnapshot('../server/rules/index.ts');
  });

  test('have a table', async () => {
    await expect(table()).toMatchFileSnapshot('../server/rules/README.md');
  });

  test.each(rules)('$code has a page', async (rule) => {
    await expect(rulePage(rule)).toMatchFileSnapshot(`../server/rules/${rule.family}/${rule.code}.md`);
  });

  test('no page is left of a rule that is gone', () => {
    const known = new Set(files.map(({ family, code }) => `${family}/${code}.md`));
    const pages = folders.flatMap(({ name }) =>
      readdirSync(join(RULES, name))
        .filter((file) => file.endsWith('.md'))
        .map((file) => `${name}/${file}`),
    );
    expect(pages.filter((page) => !known.has(page))).toEqual([]);
  });
});

/** `net-mismatch` → `netMismatch`. */
const camel = (code: string): string => code.replace(/-(\w)/g, (_, letter: string) => letter.toUpperCase());

function index(): string {
  return [
    '// Generated from the folders by `npm run generate`.',
    ...files
      .map(({ family, code }) => `import ${camel(code)} from './${family}/${code}';`)
      .concat("import type { Rule } from './rule';")
      .sort((a, b) => (from(a) < from(b) ? -1 : 1)),
    '',
    '/** All rules; a family may rest on what those before it have doubted. */',
    'export const RULES: readonly Rule[] = [',
    ...files.map(({ code }) => `  ${camel(code)},`),
    '];',
    '',
  ].join('\n');
}

/** The path an import line names: the linter wants imports in its order. */
const from = (line: string): string => line.slice(line.indexOf("'"));

function table(): string {
  const rows = rules.map(
    (rule) =>
      `| [\`${rule.code}\`](${rule.family}/${rule.code}.md) | ${rule.family} | ${rule.severity} | ${rule.fixable} | ${rule.title} |`,
  );
  return [
    '# Rules',
    '',
    'Generated from the rules by `npm run generate`. The severity is the one without settings.',
    '',
    '| code | family | severity | quick fix | what is wrong |',
    '| --- | --- | --- | --- | --- |',
    ...rows,
    '',
  ].join('\n');
}
