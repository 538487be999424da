/** Finds and reads pages on the disk. What cannot be read becomes a {@link Problem}; nothing here throws. */
import { isUtf8 } from 'node:buffer';
import { type Dirent, existsSync, readdirSync, readFileSync, realpathSync, statSync } from 'node:fs';
import { dirname, isAbsolute, join, relative, resolve, sep } from 'node:path';

/** Something that could not be read, and why, in words for a person. */
export interface Problem {
  /** As shown: relative to the current folder. */
  readonly path: string;
  readonly message: string;
}

/** A page file that was asked for. */
export interface Target {
  /** Absolute. */
  readonly file: string;
  /** Relative to the current folder, with `/`. */
  readonly path: string;
  /** The folder it was found under: the named one, or its own. */
  readonly base: string;
}

export interface Discovery {
  /** In code-point order of their paths, each file once. */
  readonly targets: readonly Target[];
  readonly problems: readonly Problem[];
  /** Named folders without a single page. */
  readonly empty: readonly string[];
}

export const CONFIG_NAME = 'tarebook.json';
const ENDING = '.tare';
const SKIPPED: ReadonlySet<string> = new Set(['.git', 'node_modules']);

/** UTF-8 keeps the order of code points; UTF-16, in which strings compare, does not. */
export const byCodePoint = (a: string, b: string): number => Buffer.compare(Buffer.from(a), Buffer.from(b));

/** A path for people and documents: relative to the current folder, with `/` on every system. */
export const shownPath = (file: string, cwd: string): string => (relative(cwd, file) || '.').split(sep).join('/');

/** The page files that `paths` name: files as they are, folders searched for `.tare`. */
export function discover(paths: readonly string[], cwd: string): Discovery {
  const targets = new Map<string, Target>();
  const problems: Problem[] = [];
  const empty: string[] = [];
  const addFile = (file: string, base: string): void => {
    const real = realPath(file);
    if (!targets.has(real)) targets.set(real, { file, path: shownPath(file, cwd), base });
  };
  for (const named of paths) {
    const absolute = resolve(cwd, named);
    const path = shownPath(absolute, cwd);
    const kind = kindOf(absolute);
    if (kind === 'file') addFile(absolute, dirname(absolute));
    else if (kind === 'folder') {
      const unreadable = (folder: string, message: string): void => {
        problems.push({ path: shownPath(folder, cwd), message });
      };
      const files = [...walk(absolute, { unreadable })];
      if (files.length === 0) empty.push(path);
      for (const file of files) addFile(file, absolute);
    } else problems.push({ path, message: kind });
  }
  const sorted = [...targets.values()].sort((a, b) => byCodePoint(a.path, b.path));
  return { targets: sorted, problems, empty };
}

/** `file`, `folder`, or why it is neither. */
function kindOf(path: string): string {
  try {
    const stats = statSync(path);
    return stats.isDirectory() ? 'folder' : 'file';
  } catch (error) {
    return reasonOf(error);
  }
}

export interface WalkOptions {
  readonly unreadable: (path: string, why: string) => void;
  /** By the names in it: leave this subfolder and all below it out. */
  readonly leaveOut?: (names: readonly string[]) => boolean;
}

/** All page files under a folder, in name order. A folder is entered once, however many links lead to it. */
export function walk(folder: string, options: WalkOptions): Generator<string> {
  return walkInto(folder, options, new Set([realPath(folder)]), true);
}

function* walkInto(folder: string, options: WalkOptions, seen: Set<string>, top: boolean): Generator<string> {
  let entries: readonly Dirent[];
  try {
    entries = readdirSync(folder, { withFileTypes: true }).sort((a, b) => byCodePoint(a.name, b.name));
  } catch (error) {
    options.unreadable(folder, reasonOf(error));
    return;
  }
  if (!top && options.leaveOut?.(entries.map((entry) => entry.name))) return;
  for (const entry of entries) {
    if (SKIPPED.has(entry.name)) continue;
    const path = join(folder, entry.name);
    if (entry.isDirectory() || (entry.isSymbolicLink() && kindOf(path) === 'folder')) {
      const real = realPath(path);
      if (seen.has(real)) continue;
      seen.add(real);
      yield* walkInto(path, options, seen, false);
    } else if (entry.name.endsWith(ENDING)) yield path;
  }
}

export type Reading = { readonly text: string } | { readonly problem: string };

export function readPage(file: string): Reading {
  try {
    if (!statSync(file).isFile()) return { problem: 'is neither a file nor a folder' };
    return decode(readFileSync(file));
  } catch (error) {
    return { problem: reasonOf(error) };
  }
}

export function readStandardInput(): Reading {
  try {
    return decode(readFileSync(0));
  } catch (error) {
    return { problem: reasonOf(error) };
  }
}

/** UTF-8 and nothing else: a guessed encoding could turn one digit or unit into another. A byte order mark is left out. */
export function decode(bytes: Uint8Array): Reading {
  if ((bytes[0] === 0xff && bytes[1] === 0xfe) || (bytes[0] === 0xfe && bytes[1] === 0xff))
    return { problem: 'is UTF-16, not UTF-8; save it as UTF-8' };
  if (isUtf8(bytes)) return { text: new TextDecoder().decode(bytes) };
  return { problem: `is not UTF-8 (line ${firstBadLine(bytes)}); save it as UTF-8` };
}

/** A line feed is never part of a longer UTF-8 sequence, so lines can be looked at one by one. */
function firstBadLine(bytes: Uint8Array): number {
  let start = 0;
  for (let line = 1; ; line++) {
    const feed = bytes.indexOf(0x0a, start);
    if (feed < 0 || !isUtf8(bytes.subarray(start, feed))) return line;
    start = feed + 1;
  }
}

function realPath(path: string): string {
  try {
    return realpathSync(path);
  } catch {
    return path;
  }
}

const REASONS: Readonly<Record<string, string>> = {
  ENOENT: 'no such file or folder',
  EACCES: 'no permission to read it',
  EPERM: 'no permission to read it',
  ELOOP: 'its links lead round in a circle',
  ENAMETOOLONG: 'the name is too long',
  ENOTDIR: 'no such file or folder',
  ERR_FS_FILE_TOO_LARGE: 'is too large to be read',
  ERR_STRING_TOO_LONG: 'is too large to be read',
};

export function reasonOf(error: unknown): string {
  const code = (error as { code?: unknown } | null)?.code;
  if (typeof code !== 'string') return 'cannot be read';
  return REASONS[code] ?? `cannot be read (${code})`;
}

// ── the notebook a page belongs to ───────────────────────────────────────────────────────────────────────────────

const MARKS: readonly string[] = [CONFIG_NAME, '.git'];

/** The nearest folder from the file upwards that holds `tarebook.json` or `.git`. */
export function rootOf(file: string): string | undefined {
  for (let folder = dirname(file); ; folder = dirname(folder)) {
    if (MARKS.some((mark) => existsSync(join(folder, mark)))) return folder;
    if (dirname(folder) === folder) return undefined;
  }
}

/** How many pages and folders of a notebook are looked at besides those that were asked for. */
export const NEIGHBOUR_LIMIT = 5000;

/**
 * The other pages and registers of a notebook: all under its folder, without folders that are notebooks of their own.
 * Bounded, since the folder may be a home directory under version control; `limited` says that there may be more.
 */
export function neighbours(folder: string): { readonly files: readonly string[]; readonly limited: boolean } {
  const files: string[] = [];
  let folders = 0;
  const leaveOut = (names: readonly string[]): boolean =>
    ++folders > NEIGHBOUR_LIMIT || MARKS.some((mark) => names.includes(mark));
  for (const file of walk(folder, { unreadable: () => {}, leaveOut })) {
    if (files.length === NEIGHBOUR_LIMIT) return { files, limited: true };
    files.push(file);
  }
  return { files, limited: folders > NEIGHBOUR_LIMIT };
}

/** True for a path inside a folder. */
export function isWithin(file: string, folder: string): boolean {
  const inside = relative(folder, file);
  return inside !== '' && inside.split(sep)[0] !== '..' && !isAbsolute(inside);
}
