/**
 * The files the server knows: open documents as syntax trees, not as texts, and the pages on disk round them.
 *
 * Each workspace folder is a notebook of its own: registers of one folder are not seen from another. A page outside
 * all folders (unsaved, or opened by itself) stands alone. What is open in the editor wins over what is on disk.
 */
import { edit, offsetAt, pageAt, parse } from '../../grammar/parse';
import type { Position, Range, SourceFile } from '../../grammar/tree';
import { DEFAULTS, type Settings } from '../settings';
import type { Snapshot } from '../snapshot';
import { createWorkspace, type Workspace } from '../workspace';

/** Where the last change ended. */
export interface Edited {
  readonly line: number;
  readonly page: number;
  readonly block: number;
}

export interface Document {
  readonly uri: string;
  readonly version: number;
  readonly source: SourceFile;
  readonly edited?: Edited;
  /** The statement there is still being written: nobody has said that the writer has paused. */
  readonly typing: boolean;
}

/** One change as the protocol sends it: without a range it replaces the whole text. */
export interface Change {
  readonly range?: Range;
  readonly text: string;
}

export interface Hints {
  readonly enabled: boolean;
  readonly charges: boolean;
  readonly products: boolean;
  readonly elapsed: boolean;
}

export interface Preferences {
  readonly engine: Settings;
  readonly hints: Hints;
}

export const PREFERENCES: Preferences = {
  engine: DEFAULTS,
  hints: { enabled: true, charges: true, products: true, elapsed: false },
};

interface Notebook {
  /** Address of its folder without a slash at the end, or of its only document. */
  readonly root: string;
  /** All addresses in it begin so, in their one true spelling. */
  readonly stem: string;
  readonly folder: boolean;
  workspace: Workspace;
  preferences: Preferences;
}

export class Documents {
  readonly #open = new Map<string, Document>();
  readonly #notebooks = new Map<string, Notebook>();
  /** The spelling under which a file is known, by its one true address. */
  readonly #spellings = new Map<string, string>();
  #standAlone: Preferences = PREFERENCES;

  constructor(private readonly onRuleFailure: (code: string, error: unknown) => void) {}

  get open(): ReadonlyMap<string, Document> {
    return this.#open;
  }

  get folders(): readonly string[] {
    return [...this.#notebooks.values()].filter((n) => n.folder).map((n) => n.root);
  }

  addFolder(address: string): void {
    const root = withoutSlash(address);
    if (this.#notebooks.get(root)?.folder) return;
    this.#notebooks.set(root, this.#emptyNotebook(root, true, PREFERENCES));
    for (const uri of this.#open.keys()) this.#settle(uri);
  }

  removeFolder(address: string): void {
    const root = withoutSlash(address);
    const gone = this.#notebooks.get(root);
    if (!gone?.folder) return;
    this.#notebooks.delete(root);
    for (const uri of gone.workspace.files.keys()) if (!this.#open.has(uri)) this.#spellings.delete(trueAddress(uri));
    for (const uri of this.#open.keys()) this.#settle(uri);
  }

  /** Settings of a folder, or of all that stands alone. */
  configure(root: string | undefined, preferences: Preferences): void {
    if (root === undefined) this.#standAlone = preferences;
    for (const notebook of this.#notebooks.values()) {
      if (root === undefined ? notebook.folder : notebook.root !== root) continue;
      // What has not changed must not look new: all pages would be judged again.
      if (JSON.stringify(notebook.preferences) === JSON.stringify(preferences)) continue;
      notebook.preferences = preferences;
      notebook.workspace = notebook.workspace.with(new Map(), preferences.engine);
    }
  }

  preferences(uri: string): Preferences {
    return this.#notebook(uri).preferences;
  }

  workspace(uri: string): Workspace {
    return this.#notebook(uri).workspace;
  }

  /** Undefined for a file that nobody has opened or found. */
  snapshot(uri: string): Snapshot | undefined {
    const workspace = this.workspace(uri);
    return workspace.files.has(uri) ? workspace.snapshot(uri) : undefined;
  }

  /** Open documents of the same notebook. */
  neighbours(uri: string): readonly string[] {
    const home = this.#notebook(uri);
    return [...this.#open.keys()].filter((other) => other !== uri && this.#notebook(other) === home);
  }

  /** For the log: the path in its folder, never more. */
  shownPath(uri: string): string {
    const { folder, stem } = this.#notebook(uri);
    return folder ? trueAddress(uri).slice(stem.length) : uri.slice(0, uri.indexOf(':'));
  }

  inFolder(uri: string): boolean {
    return this.#notebook(uri).folder;
  }

  didOpen(uri: string, version: number, text: string): void {
    const key = trueAddress(uri);
    const known = this.#spellings.get(key);
    if (known !== undefined && known !== uri) this.#put(known, undefined);
    this.#spellings.set(key, uri);
    const source = parse(text);
    this.#open.set(uri, { uri, version, source, typing: false });
    this.#put(uri, source);
  }

  didChange(uri: string, version: number, changes: readonly Change[]): void {
    const before = this.#open.get(uri);
    if (!before) return;
    let source = before.source;
    let end: Position | undefined;
    for (const change of changes) {
      source = change.range ? edit(source, change.range, change.text) : parse(change.text);
      end = change.range && endOf(change.range.start, change.text);
    }
    const edited = end && placeOf(source, end);
    this.#open.set(uri, { uri, version, source, ...(edited && { edited }), typing: edited !== undefined });
    this.#put(uri, source);
  }

  /** The writer has paused. */
  rested(uri: string): void {
    const document = this.#open.get(uri);
    if (document) this.#open.set(uri, { ...document, typing: false });
  }

  /** What was typed still counts for the folder until `onDisk` says what was saved. */
  didClose(uri: string): void {
    this.#open.delete(uri);
    const home = this.#notebook(uri);
    if (home.folder) return;
    this.#spellings.delete(trueAddress(uri));
    this.#notebooks.delete(home.root);
  }

  /** Files found, changed or gone on disk; what is open in the editor is not touched. Says whether anything changed. */
  onDisk(texts: Iterable<readonly [uri: string, text: string | undefined]>): boolean {
    const changes = new Map<Notebook, Map<string, SourceFile | undefined>>();
    for (const [found, text] of texts) {
      const key = trueAddress(found);
      const uri = this.#spellings.get(key) ?? found;
      const home = this.#notebook(uri);
      if (this.#open.has(uri) || !home.folder) continue;
      if (text === undefined) this.#spellings.delete(key);
      else this.#spellings.set(key, uri);
      const files = changes.get(home) ?? new Map<string, SourceFile | undefined>();
      changes.set(home, files.set(uri, text === undefined ? undefined : parse(text)));
    }
    for (const [home, files] of changes) home.workspace = home.workspace.with(files);
    return changes.size > 0;
  }

  /** Puts an open document where it belongs after the folders have changed. */
  #settle(uri: string): void {
    const home = this.#notebook(uri);
    for (const other of this.#notebooks.values())
      if (other !== home && other.workspace.files.has(uri))
        other.workspace = other.workspace.with(new Map([[uri, undefined]]));
    this.#put(uri, this.#open.get(uri)?.source);
    if (home.folder) this.#notebooks.delete(uri);
  }

  #put(uri: string, source: SourceFile | undefined): void {
    const home = this.#notebook(uri);
    home.workspace = home.workspace.with(new Map([[uri, source]]));
  }

  #notebook(uri: string): Notebook {
    const address = trueAddress(uri);
    let innermost: Notebook | undefined;
    for (const notebook of this.#notebooks.values()) {
      if (!notebook.folder || !address.startsWith(notebook.stem)) continue;
      if (!innermost || notebook.stem.length > innermost.stem.length) innermost = notebook;
    }
    if (innermost) return innermost;
    const alone = this.#notebooks.get(uri) ?? this.#emptyNotebook(uri, false, this.#standAlone);
    this.#notebooks.set(uri, alone);
    return alone;
  }
  #emptyNotebook(root: string, folder: boolean, preferences: Preferences): Notebook {
    const workspace = createWorkspace(preferences.engine, this.onRuleFailure);
    return { root, stem: `${trueAddress(root)}/`, folder, workspace, preferences };
  }
}

const withoutSlash = (address: string): string => address.replace(/\/+$/, '');

/** One address for all spellings of a file: `file:///C%3A/a%20b` and `file:///c:/a b`. */
export function trueAddress(uri: string): string {
  try {
    return decodeURIComponent(uri).replace(
      /^file:\/\/\/([A-Z]):/,
      (_, drive: string) => `file:///${drive.toLowerCase()}:`,
    );
  } catch {
    return uri;
  }
}

function endOf(start: Position, text: string): Position {
  const lines = text.split(/\r\n|\r|\n/);
  const last = lines.at(-1)!.length;
  return lines.length === 1
    ? { line: start.line, character: start.character + last }
    : { line: start.line + lines.length - 1, character: last };
}

function placeOf(source: SourceFile, position: Position): Edited | undefined {
  const offset = offsetAt(source, position);
  const page = pageAt(source, position.line);
  const placed = source.pages[page];
  if (!placed) return undefined;
  const within = offset - placed.at;
  const block = placed.page.blocks.findLastIndex(({ at }) => at <= within);
  return { line: position.line, page, block };
}
