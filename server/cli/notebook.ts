/**
 * From paths to snapshots. A page is never checked alone: the registers and the other pages of its notebook are read
 * too, so that a file says the same whether it is named itself or found in a folder.
 *
 * A notebook is the nearest folder upwards that holds `tarebook.json` or `.git`. Files without such a folder form one
 * notebook with all that lies under the named folders (or beside the named files).
 */
import { existsSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { parse } from '../../grammar/parse';
import type { SourceFile } from '../../grammar/tree';
import { errorPlace, logLine } from '../log';
import { RULES } from '../rules';
import { DEFAULTS, type Settings, type SeverityName } from '../settings';
import type { Snapshot } from '../snapshot';
import { createWorkspace, type Workspace } from '../workspace';
import { readConfig } from './config';
import {
  CONFIG_NAME,
  discover,
  isWithin,
  NEIGHBOUR_LIMIT,
  neighbours,
  type Problem,
  readPage,
  readStandardInput,
  reasonOf,
  rootOf,
  shownPath,
  type Target,
} from './files';
import { UsageError } from './terminal';

/** A page file that was asked for, read. */
export interface Opened {
  readonly path: string;
  readonly text: string;
  readonly snapshot: Snapshot;
  /** The notebook it lies in. */
  readonly workspace: Workspace;
}

export type Entry =
  | { readonly kind: 'page'; readonly opened: Opened }
  | { readonly kind: 'problem'; readonly problem: Problem };

export interface Request {
  readonly paths: readonly string[];
  readonly cwd: string;
  /** The name that standard input goes by. */
  readonly stdinFilename?: string | undefined;
  /** Over what `tarebook.json` says. */
  readonly severity?: Readonly<Record<string, SeverityName>>;
  /** For standard error: what a person should know and no document carries. */
  readonly note: (line: string) => void;
  /** For standard error with `--verbose`. */
  readonly detail: (line: string) => void;
}

const STDIN_NAME = 'stdin.tare';

/**
 * In code-point order of the paths; each page is analysed when it is reached.
 * @throws UsageError when a `tarebook.json` cannot be used.
 */
export function open(request: Request): Iterable<Entry> {
  const { cwd, note, detail } = request;
  const fromStdin = request.paths.includes('-');
  // Standard input without a name lies nowhere, so nothing lies beside it.
  const alone = fromStdin && request.stdinFilename === undefined;
  const found = fromStdin ? standardInput(request) : discover(request.paths, cwd);
  for (const path of found.empty) note(`no .tare files in ${path}`);

  const problems: Problem[] = [...found.problems];
  const notebooks = new Map<string | undefined, { target: Target; text: string }[]>();
  for (const target of found.targets) {
    const reading = fromStdin ? readStandardInput() : readPage(target.file);
    if ('problem' in reading) {
      problems.push({ path: target.path, message: reading.problem });
      continue;
    }
    const root = alone ? undefined : rootOf(target.file);
    const pages = notebooks.get(root) ?? [];
    notebooks.set(root, pages);
    pages.push({ target, text: reading.text });
  }

  const onFailure = (code: string, error: unknown): void =>
    detail(logLine('rule-failed', { rule: code, error: errorPlace(error) }));
  const pages = [...notebooks].flatMap(([root, members]) => {
    const settings = settingsOf(root, request);
    const folders = root === undefined ? [...new Set(members.map(({ target }) => target.base))] : [root];
    const files = new Map<string, SourceFile>(members.map(({ target, text }) => [uriOf(target.file), parse(text)]));
    for (const folder of alone ? [] : outermost(folders)) {
      let others = 0;
      const near = neighbours(folder);
      if (near.limited)
        note(`${shownPath(folder, cwd)} is large: only its first ${NEIGHBOUR_LIMIT} pages were read for names`);
      for (const file of near.files) {
        const uri = uriOf(file);
        if (files.has(uri)) continue;
        const reading = readPage(file);
        if ('problem' in reading) detail(`${shownPath(file, cwd)}: ${reading.problem}`);
        else {
          files.set(uri, parse(reading.text));
          others++;
        }
      }
      detail(`${others} other pages and registers read in ${shownPath(folder, cwd)}`);
    }
    const workspace = createWorkspace(settings, onFailure).with(files);
    return members.map(({ target, text }) => ({
      path: target.path,
      open: (): Entry => ({
        kind: 'page',
        opened: { path: target.path, text, snapshot: workspace.snapshot(uriOf(target.file)), workspace },
      }),
    }));
  });
  const failed = problems.map((problem) => ({ path: problem.path, open: (): Entry => ({ kind: 'problem', problem }) }));
  const all = [...pages, ...failed].sort((a, b) => Buffer.compare(Buffer.from(a.path), Buffer.from(b.path)));
  return lazily(all);
}

function* lazily(all: readonly { readonly open: () => Entry }[]): Generator<Entry> {
  for (const item of all) yield item.open();
}

function standardInput({ stdinFilename, cwd }: Request): ReturnType<typeof discover> {
  const file = resolve(cwd, stdinFilename ?? STDIN_NAME);
  return {
    targets: [
      { file, path: stdinFilename === undefined ? STDIN_NAME : shownPath(file, cwd), base: resolve(file, '..') },
    ],
    problems: [],
    empty: [],
  };
}

const outermost = (folders: readonly string[]): readonly string[] =>
  folders.filter((folder) => !folders.some((other) => isWithin(folder, other)));

const uriOf = (file: string): string => pathToFileURL(file).href;

function settingsOf(root: string | undefined, { cwd, severity, note }: Request): Settings {
  const base = root === undefined ? DEFAULTS : fromFile(join(root, CONFIG_NAME), cwd, note);
  return { ...base, severity: { ...base.severity, ...severity } };
}

function fromFile(file: string, cwd: string, note: Request['note']): Settings {
  if (!existsSync(file)) return DEFAULTS;
  const path = shownPath(file, cwd);
  let text: string;
  try {
    text = readFileSync(file, 'utf8');
  } catch (error) {
    throw new UsageError(`${path}: ${reasonOf(error)}`);
  }
  try {
    const { settings, warnings } = readConfig(
      text,
      RULES.map((rule) => rule.code),
    );
    for (const warning of warnings) note(`${path}: ${warning}`);
    return settings;
  } catch (error) {
    throw new UsageError(`${path}: ${error instanceof Error ? error.message : 'cannot be read'}`);
  }
}
