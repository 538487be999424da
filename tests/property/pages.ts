/** Pages that the property tests start from, and a notebook in which a rule that throws is heard. */
import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { parse } from '../../grammar/parse';
import type { Values } from '../../server/compute/values';
import type { Finding } from '../../server/rules/rule';
import { createWorkspace, type Workspace } from '../../server/workspace';
import { readCases } from '../cases/read';
import { uriOf } from '../kit/notebook';

const tests = resolve(import.meta.dirname, '..');

/** The `.tare` files below a folder of the project, by their path from it. */
function pagesBelow(folder: string): ReadonlyMap<string, string> {
  const names = readdirSync(folder, { recursive: true, encoding: 'utf8' }).map((name) => name.replaceAll('\\', '/'));
  return new Map(
    names
      .filter((name) => name.endsWith('.tare'))
      .sort()
      .map((name) => [name, readFileSync(join(folder, name), 'utf8')]),
  );
}

/** The samples, registers and pages with mistakes included. */
export const SAMPLES = pagesBelow(join(tests, '../samples'));

/** The pages of the published cases that hold no slip, each a notebook of its own. */
export const CASES: ReadonlyMap<string, string> = new Map(
  readdirSync(join(tests, 'cases'))
    .filter((name) => name.endsWith('.md'))
    .flatMap((name) => readCases(readFileSync(join(tests, 'cases', name), 'utf8')))
    .filter(({ checks }) => checks.every(({ kind }) => kind !== 'finding'))
    .map(({ id, page }) => [id, page]),
);

/** Pages full of chemists' habits, each a notebook of its own. */
export const HABITS = pagesBelow(join(tests, 'fixtures/quiet'));

export const strictWorkspace = (): Workspace =>
  createWorkspace(undefined, (code, error) => {
    throw new Error(`The rule ${code} failed`, { cause: error });
  });

export const notebookOf = (files: ReadonlyMap<string, string>): Workspace =>
  strictWorkspace().with(new Map([...files].map(([name, text]) => [uriOf(name), parse(text)])));

/** Each notebook that there is: the samples together, every other page alone. */
export const NOTEBOOKS: ReadonlyMap<string, ReadonlyMap<string, string>> = new Map([
  ['samples', SAMPLES],
  ...[...CASES, ...HABITS].map(([name, text]) => [name, new Map([[name, text]])] as const),
]);

/** Findings of all pages of a file. */
export function findingsIn(workspace: Workspace, name: string): readonly Finding[] {
  const snapshot = workspace.snapshot(uriOf(name));
  return Array.from({ length: snapshot.pageCount }, (_, page) => snapshot.findings(page)).flat();
}

/** What was computed on each page of a file. */
export function valuesIn(workspace: Workspace, name: string): readonly Values[] {
  const snapshot = workspace.snapshot(uriOf(name));
  return Array.from({ length: snapshot.pageCount }, (_, page) => snapshot.page(page).values);
}

/** Values of a page of one experiment that stands alone. */
export const valuesOf = (text: string): Values => valuesIn(notebookOf(new Map([['page.tare', text]])), 'page.tare')[1]!;
