/**
 * Numbers that somebody else worked out and printed, and slips that somebody made: what `tarebook compute` says of each
 * page must be what the source says, within half a unit of its last printed place (0.6 of it; more where a case says why).
 */
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { compute } from '../../server/cli/compute';
import { type Case, type Check, readCases } from './read';

const files = readdirSync(import.meta.dirname).filter((name) => name.endsWith('.md'));
const sources = files.map((name) => ({
  name,
  cases: readCases(readFileSync(join(import.meta.dirname, name), 'utf8')),
}));

const home = mkdtempSync(join(tmpdir(), 'tarebook-cases-'));
afterAll(() => rmSync(home, { recursive: true, force: true }));

interface Finding {
  readonly code: string;
  readonly severity: string;
  readonly message: string;
  readonly slip: string | null;
  readonly range: { readonly start: { readonly line: number } };
  readonly fixes: readonly string[];
}

interface Computed {
  readonly experiments: readonly { readonly id: string | null }[];
  readonly diagnostics: readonly Finding[];
}

/** Each case is a notebook of its own. */
function computed({ id, page }: Case): Computed {
  const folder = join(home, id);
  mkdirSync(folder);
  writeFileSync(join(folder, 'tarebook.json'), '{}');
  writeFileSync(join(folder, 'page.tare'), page);
  let text = '';
  const exit = compute([folder], {}, { cwd: folder, write: (part: string) => (text += part), note: fail } as never);
  expect(exit).toBe(0);
  return JSON.parse(text).files[0];
}

const fail = (line: string): never => {
  throw new Error(line);
};

const fold = (text: unknown): string => String(text).normalize('NFC').toLowerCase().replace(/\s+/g, ' ').trim();
const squeeze = (text: string): string => text.replace(/\s+/g, '').replace(/→/g, '->');

/** `charges[name=acetic acid].amount_mol`; `name` also matches `substance`, `subject` and `id`. A name may hold brackets. */
function at(root: unknown, path: string): unknown {
  let value = root;
  for (let i = 0; i < path.length; ) {
    const end = path[i] === '[' ? closing(path, i) : i + /^\.?[^.[]+/.exec(path.slice(i))![0].length;
    const step = path.slice(i, end);
    value = step.startsWith('[') ? element(value, step.slice(1, -1)) : member(value, step.replace(/^\./, ''));
    i = end;
  }
  return value;
}

function closing(path: string, open: number): number {
  let depth = 0;
  for (let i = open; i < path.length; i++) {
    if (path[i] === '[') depth++;
    if (path[i] === ']' && --depth === 0) return i + 1;
  }
  throw new Error(`A bracket is not closed: ${path}`);
}

const member = (value: unknown, key: string): unknown => (value as Record<string, unknown> | undefined)?.[key];

function element(list: unknown, selector: string): unknown {
  if (!Array.isArray(list)) return undefined;
  if (/^\d+$/.test(selector)) return list[Number(selector)];
  const key = selector.slice(0, selector.indexOf('='));
  const wanted = fold(selector.slice(key.length + 1));
  const keys = key === 'name' ? ['name', 'substance', 'subject', 'id'] : [key];
  return list.find((item) => keys.some((k) => item[k] !== undefined && fold(item[k]) === wanted));
}

/** What is wrong with one check; nothing when it holds. */
function failure(check: Check, { experiments, diagnostics }: Computed): string | undefined {
  const found = () =>
    diagnostics.map((d) => `${d.code}, line ${d.range.start.line + 1}${d.slip ? `, ${d.slip}` : ''}: ${d.message}`);
  switch (check.kind) {
    case 'none': {
      const hit = diagnostics.filter((d) => (check.code ? d.code === check.code : d.severity === 'error'));
      return hit.length > 0 ? `expected no ${check.code ?? 'error'}, found ${found()}` : undefined;
    }
    case 'finding': {
      const { codes, line, slip, fix } = check;
      const fits = diagnostics.some(
        (d) =>
          codes.includes(d.code) &&
          (line === undefined || d.range.start.line + 1 === line) &&
          (slip === undefined || d.slip === slip) &&
          (fix === undefined || d.fixes.some((title) => squeeze(title).includes(squeeze(fix)))),
      );
      return fits ? undefined : `expected ${JSON.stringify(check)}, found [${found().join(' | ')}]`;
    }
    case 'value': {
      const page = check.experiment
        ? experiments.find((e) => fold(e.id) === fold(check.experiment))
        : experiments.at(0);
      const value = at(page, check.path);
      const holds =
        typeof check.value === 'number'
          ? typeof value === 'number' && Math.abs(value - check.value) <= check.tolerance * (1 + 1e-9)
          : typeof check.value === 'string'
            ? fold(value) === fold(check.value)
            : value === check.value;
      return holds ? undefined : `${check.path}: expected ${check.value} ± ${check.tolerance}, computed ${value}`;
    }
  }
}

describe.each(sources)('$name', ({ cases }) => {
  test.each(cases.map((one) => [one.id, one] as const))('%s', (_, one) => {
    const document = computed(one);
    expect(one.checks.flatMap((check) => failure(check, document) ?? [])).toEqual([]);
  });
});

test('every case has an ID of its own', () => {
  const ids = sources.flatMap(({ cases }) => cases.map(({ id }) => id));
  expect(ids.length).toBeGreaterThan(100);
  expect(new Set(ids).size).toBe(ids.length);
});
