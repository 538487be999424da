/** The language server: one line per request. It reads the snapshot, calls the feature and answers. */
import {
  type CancellationToken,
  type ClientCapabilities,
  type CodeAction,
  type CodeActionParams,
  type CompletionItem,
  type CompletionList,
  type Connection,
  type Diagnostic,
  DidChangeConfigurationNotification,
  DidChangeWatchedFilesNotification,
  type DocumentDiagnosticReport,
  DocumentHighlightKind,
  type DocumentSymbol,
  ErrorCodes,
  FileChangeType,
  type FileEvent,
  type InitializeParams,
  type InitializeResult,
  InsertTextFormat,
  LSPErrorCodes,
  type MarkupContent,
  MarkupKind,
  ResponseError,
  type SymbolInformation,
  TextDocumentSyncKind,
  type TextEdit,
  type WorkspaceEdit,
} from 'vscode-languageserver/node';
import type { Position, Range } from '../../grammar/tree';
import { codeActions } from '../features/code-actions';
import { completion } from '../features/completion';
import { definition } from '../features/definition';
import { folding } from '../features/folding';
import { highlights } from '../features/highlight';
import { hover } from '../features/hover';
import { inlayHints } from '../features/inlay-hints';
import { references } from '../features/references';
import { prepareRename, rename } from '../features/rename';
import { pageTokens, semanticTokens, TOKEN_MODIFIERS, TOKEN_TYPES } from '../features/semantic-tokens';
import { pageSymbols, type SymbolNode, symbols } from '../features/symbols';
import { type Events, errorPlace, type Logger, logLine } from '../log';
import { RULES } from '../rules';
import { CONFIG_NAME, type SeverityName, withoutComments } from '../settings';
import type { Snapshot } from '../snapshot';
import type { Workspace } from '../workspace';
import { completionKind, type DiagnosticContext, encodeTokens, plainText, symbolKind } from './convert';
import { Documents, PREFERENCES, type Preferences } from './documents';
import { DiagnosticView, GRACE, inSlices, judge, type View } from './schedule';

export type Scanned =
  /** A page or a register; without a text when it cannot be read. */
  | { readonly uri: string; readonly text: string | undefined }
  /** A folder inside that is a notebook of its own. */
  | { readonly notebook: string };

/** What the server needs of the machine it runs on. */
export interface Host {
  readonly version: string;
  /** What lies below a folder. */
  scan(folder: string): AsyncIterable<Scanned>;
  /** The project's settings that hold for a folder: its own, or those of the nearest folder above. */
  config(folder: string): Promise<string | undefined>;
  read(uri: string): Promise<string | undefined>;
  /** Address of the page that explains a rule, if it came along. */
  rulePage(family: string, code: string): string | undefined;
}

/** Work over this is named in the log, ms. */
const SLOW = 50;
/** A notebook on a slow disk must not keep its first page waiting for longer than this, ms. */
const PATIENCE = 500;
/** Pause before other open pages are asked for again, ms. */
const SETTLE = 300;

const ACTION_KINDS = [
  'quickfix',
  'refactor.rewrite.tarebook.fillClaims',
  'refactor.rewrite.tarebook.addDigest',
  'refactor.rewrite.tarebook.amend',
  'refactor.rewrite.tarebook.scale',
  'source.fixAll.tarebook',
  'source.fillClaims.tarebook',
];

const FAMILIES = new Map(RULES.map(({ code, family }) => [code, family]));

export function serve(connection: Connection, host: Host): void {
  new Server(connection, host).listen();
}

/** What is known of the client and of one open document's findings. */
interface Shown {
  readonly view: DiagnosticView;
  /** Of the last answer or publish. */
  diagnostics: readonly Diagnostic[];
  /** The writer has not been told everything yet. */
  heldBack: boolean;
  resultId: number;
  /** The state that is being judged for a publish. */
  judging?: Workspace;
  resting?: ReturnType<typeof setTimeout>;
}

class Server {
  readonly #documents = new Documents((rule, error) => this.#log('rule-failed', { rule, error: errorPlace(error) }));
  readonly #shown = new Map<string, Shown>();
  readonly #log: Logger;
  #client: ClientCapabilities = {};
  #state: 'new' | 'running' | 'shut down' = 'new';
  #folders: readonly string[] = [];
  #options: unknown;
  #ready: Promise<void> = Promise.resolve();
  #refreshing: ReturnType<typeof setTimeout> | undefined;

  constructor(
    private readonly connection: Connection,
    private readonly host: Host,
  ) {
    this.#log = (event, fields) => connection.console[loudness(event)](logLine(event, fields));
  }

  listen(): void {
    const { connection } = this;
    connection.onInitialize((params) => this.#initialize(params));
    connection.onInitialized(() => this.#initialized());
    connection.onShutdown(() => {
      this.#state = 'shut down';
      for (const { resting } of this.#shown.values()) clearTimeout(resting);
      clearTimeout(this.#refreshing);
    });

    connection.onDidOpenTextDocument(({ textDocument: { uri, version, text } }) =>
      this.#guard('didOpen', () => {
        this.#documents.didOpen(uri, version, text);
        this.#changed(uri);
      }),
    );
    connection.onDidChangeTextDocument(({ textDocument: { uri, version }, contentChanges }) =>
      this.#guard('didChange', () => {
        this.#documents.didChange(uri, version, contentChanges);
        this.#changed(uri);
      }),
    );
    connection.onDidCloseTextDocument(({ textDocument: { uri } }) => this.#closed(uri));
    connection.onDidChangeWatchedFiles(({ changes }) => this.#watched(changes));
    connection.onDidChangeConfiguration(({ settings }) => this.#configure(settings ?? this.#options));

    connection.languages.diagnostics.on((params, token) =>
      this.#pull(params.textDocument.uri, params.previousResultId, token),
    );
    this.#answer(connection.onHover, 'hover', null, ({ position }, snapshot) => {
      const found = hover(snapshot, position);
      return found && { range: found.range, contents: this.#markup(found.markdown) };
    });
    this.#answer(connection.onCompletion, 'completion', null, ({ textDocument: { uri }, position }, snapshot) =>
      this.#complete(uri, position, snapshot),
    );
    this.#answer(connection.onDocumentSymbol, 'documentSymbol', [], ({ textDocument: { uri } }, snapshot) => {
      const tree = symbols(snapshot);
      const nested = this.#client.textDocument?.documentSymbol?.hierarchicalDocumentSymbolSupport;
      return nested ? tree.map(symbolTree) : [...flatSymbols(tree, uri)];
    });
    this.#answer(connection.onDefinition, 'definition', null, ({ textDocument: { uri }, position }) => {
      const found = definition(this.#documents.workspace(uri), uri, position);
      if (!this.#client.textDocument?.definition?.linkSupport) return found.map(({ uri, range }) => ({ uri, range }));
      return found.map(({ uri, range, origin }) => ({
        targetUri: uri,
        targetRange: range,
        targetSelectionRange: range,
        ...(origin && { originSelectionRange: origin }),
      }));
    });
    this.#answer(connection.onReferences, 'references', null, ({ textDocument: { uri }, position, context }) => [
      ...references(this.#documents.workspace(uri), uri, position, context.includeDeclaration),
    ]);
    this.#answer(connection.onDocumentHighlight, 'documentHighlight', null, ({ position }, snapshot) =>
      highlights(snapshot, position).map(({ range, write }) => ({
        range,
        kind: write ? DocumentHighlightKind.Write : DocumentHighlightKind.Read,
      })),
    );
    this.#answer(connection.onFoldingRanges, 'foldingRange', [], (_, snapshot) =>
      folding(snapshot).map(({ start, end, kind }) => ({ startLine: start, endLine: end, ...(kind && { kind }) })),
    );
    this.#answer(connection.languages.semanticTokens.on, 'semanticTokens', NO_TOKENS, (_, snapshot) =>
      tokens(snapshot),
    );
    this.#answer(connection.languages.semanticTokens.onRange, 'semanticTokens', NO_TOKENS, ({ range }, snapshot) =>
      tokens(snapshot, range),
    );
    this.#answer(connection.languages.inlayHint.on, 'inlayHint', [], ({ textDocument: { uri }, range }, snapshot) => {
      const { hints } = this.#documents.preferences(uri);
      if (!hints.enabled) return [];
      const { typing, edited } = this.#documents.open.get(uri) ?? {};
      return inlayHints(snapshot, range, hints, typing ? edited?.line : undefined).map((hint) => ({
        position: hint.position,
        label: hint.label,
        tooltip: hint.tooltip,
        paddingLeft: true,
        ...(hint.edit && { textEdits: [{ range: hint.edit.range, newText: hint.edit.text }] }),
      }));
    });
    this.#answer(connection.onCodeAction, 'codeAction', [], (params) => this.#actions(params));
    connection.onCodeActionResolve((action) => this.#resolve(action));
    this.#answer(connection.onPrepareRename, 'prepareRename', null, ({ textDocument: { uri }, position }) => {
      const found = prepareRename(this.#documents.workspace(uri), uri, position);
      return 'refused' in found ? refusal(found.refused) : found;
    });
    this.#answer(connection.onRenameRequest, 'rename', null, ({ textDocument: { uri }, position, newName }) =>
      this.#rename(uri, position, newName),
    );
    connection.listen();
  }

  // ── life ───────────────────────────────────────────────────────────────────────────────────────────────────────

  #initialize(params: InitializeParams): InitializeResult {
    this.#state = 'running';
    this.#client = params.capabilities;
    this.#options = params.initializationOptions;
    this.#folders = (params.workspaceFolders ?? (params.rootUri ? [{ uri: params.rootUri }] : [])).map(
      ({ uri }) => uri,
    );
    for (const folder of this.#folders) this.#documents.addFolder(folder);
    return {
      serverInfo: { name: 'tarebook', version: this.host.version },
      capabilities: {
        positionEncoding: 'utf-16',
        textDocumentSync: { openClose: true, change: TextDocumentSyncKind.Incremental },
        ...(this.#pulls && { diagnosticProvider: { interFileDependencies: true, workspaceDiagnostics: false } }),
        hoverProvider: true,
        completionProvider: { triggerCharacters: [':', ',', '('] },
        codeActionProvider: { codeActionKinds: ACTION_KINDS, resolveProvider: true },
        inlayHintProvider: true,
        documentSymbolProvider: true,
        definitionProvider: true,
        referencesProvider: true,
        documentHighlightProvider: true,
        foldingRangeProvider: true,
        renameProvider: this.#client.textDocument?.rename?.prepareSupport ? { prepareProvider: true } : true,
        semanticTokensProvider: {
          legend: { tokenTypes: [...TOKEN_TYPES], tokenModifiers: [...TOKEN_MODIFIERS] },
          full: true,
          range: true,
        },
        workspace: { workspaceFolders: { supported: true, changeNotifications: true } },
      },
    };
  }

  async #initialized(): Promise<void> {
    const { workspace } = this.#client;
    this.#log('started', { version: this.host.version });
    if (workspace?.didChangeConfiguration?.dynamicRegistration)
      void this.connection.client.register(DidChangeConfigurationNotification.type, { section: 'tarebook' });
    if (workspace?.didChangeWatchedFiles?.dynamicRegistration)
      void this.connection.client.register(DidChangeWatchedFilesNotification.type, {
        watchers: [{ globPattern: '**/*.tare' }, { globPattern: `**/${CONFIG_NAME}` }],
      });
    if (workspace?.workspaceFolders)
      this.connection.workspace.onDidChangeWorkspaceFolders(({ added, removed }) => {
        const gone = new Set(removed.map(({ uri }) => uri));
        this.#folders = [...this.#folders.filter((uri) => !gone.has(uri)), ...added.map(({ uri }) => uri)];
        void this.#readAgain();
      });
    const reading = this.#readAll(this.#folders);
    this.#ready = Promise.race([reading, new Promise<void>((resolve) => setTimeout(resolve, PATIENCE).unref?.())]);
    await reading;
    this.#judgeAll();
  }

  /** The folders have changed, or where one notebook ends and the next begins. */
  async #readAgain(): Promise<void> {
    for (const folder of this.#documents.folders) this.#documents.removeFolder(folder);
    for (const folder of this.#folders) this.#documents.addFolder(folder);
    await this.#readAll(this.#folders);
    this.#judgeAll();
  }

  async #readAll(folders: readonly string[]): Promise<void> {
    for (const folder of folders) {
      const found: (readonly [string, string | undefined])[] = [];
      for await (const file of this.host.scan(folder)) {
        if ('notebook' in file) this.#documents.addFolder(file.notebook);
        else {
          found.push([file.uri, file.text]);
          if (file.text === undefined)
            this.#log('register', { file: this.#documents.shownPath(file.uri), state: 'unreadable' });
        }
      }
      this.#documents.onDisk(found);
    }
    await this.#configure(this.#options);
  }

  /** Reads the settings: of the project, else from the client where it answers, else as they were sent. */
  async #configure(sent: unknown): Promise<void> {
    this.#options = sent;
    const roots = [undefined, ...this.#documents.folders];
    const asked = this.#client.workspace?.configuration
      ? await this.connection.workspace
          .getConfiguration(roots.map((scopeUri) => ({ section: 'tarebook', ...(scopeUri && { scopeUri }) })))
          .catch(() => [])
      : roots.map(() => (sent as { tarebook?: unknown } | undefined)?.tarebook ?? sent);
    for (const [i, root] of roots.entries()) {
      const project = root === undefined ? undefined : await this.host.config(root);
      const preferences = readPreferences(asked[i], project);
      this.#documents.configure(root, preferences);
      const rules = Object.keys(preferences.engine.severity).length;
      this.#log('settings', { rules, from: project === undefined ? 'editor' : CONFIG_NAME });
    }
    this.#judgeAll();
  }

  // ── documents ──────────────────────────────────────────────────────────────────────────────────────────────────

  #changed(uri: string): void {
    const shown = this.#shownFor(uri);
    clearTimeout(shown.resting);
    if (this.#documents.open.get(uri)?.typing) shown.resting = setTimeout(() => this.#rested(uri), GRACE);
    if (!this.#pulls) void this.#push(uri);
    if (this.#documents.neighbours(uri).length > 0) this.#refreshSoon(uri);
  }

  #rested(uri: string): void {
    this.#documents.rested(uri);
    this.#refresh('inlayHint');
    if (!this.#shown.get(uri)?.heldBack) return;
    if (this.#pulls) this.#refresh('diagnostics');
    else void this.#push(uri);
  }

  async #closed(uri: string): Promise<void> {
    clearTimeout(this.#shown.get(uri)?.resting);
    this.#shown.delete(uri);
    this.#documents.didClose(uri);
    if (!this.#pulls) void this.connection.sendDiagnostics({ uri, diagnostics: [] });
    if (this.#documents.inFolder(uri) && this.#documents.onDisk([[uri, await this.host.read(uri)]])) this.#judgeAll();
  }

  async #watched(changes: readonly FileEvent[]): Promise<void> {
    const isConfig = ({ uri }: FileEvent) => uri.endsWith(`/${CONFIG_NAME}`);
    const config = changes.filter(isConfig);
    if (config.some(({ type }) => type !== FileChangeType.Changed)) return this.#readAgain();
    if (config.length > 0) await this.#configure(this.#options);
    const texts = await Promise.all(
      changes
        .filter((change) => !isConfig(change))
        .map(async ({ uri, type }) => {
          const text = type === FileChangeType.Deleted ? undefined : await this.host.read(uri);
          if (type === FileChangeType.Deleted && !this.#pulls)
            void this.connection.sendDiagnostics({ uri, diagnostics: [] });
          return [uri, text] as const;
        }),
    );
    if (this.#documents.onDisk(texts)) this.#judgeAll();
  }

  // ── findings ───────────────────────────────────────────────────────────────────────────────────────────────────

  get #pulls(): boolean {
    return this.#client.textDocument?.diagnostic !== undefined;
  }

  #shownFor(uri: string): Shown {
    const known = this.#shown.get(uri);
    if (known) return known;
    const { publishDiagnostics, diagnostic } = this.#client.textDocument ?? {};
    const can = { ...publishDiagnostics, ...diagnostic };
    const context: DiagnosticContext = {
      uri,
      support: {
        related: can.relatedInformation ?? false,
        tags: can.tagSupport !== undefined,
        description: can.codeDescriptionSupport ?? false,
        data: can.dataSupport ?? false,
      },
      rulePage: (code) => {
        const family = FAMILIES.get(code);
        return family && this.host.rulePage(family, code);
      },
      locate: (origin) => this.#documents.workspace(uri).locate(origin),
      anchor: ({ uri: file, page }) => {
        const source = this.#documents.workspace(uri).files.get(file ?? '');
        return page === undefined ? source?.pages[0]?.page : source;
      },
    };
    const made: Shown = {
      view: new DiagnosticView(context, (code) => FAMILIES.get(code)),
      diagnostics: [],
      heldBack: false,
      resultId: 0,
    };
    this.#shown.set(uri, made);
    return made;
  }

  /** Judges a document as it stands. Undefined when it has changed meanwhile or nobody wants to know any more. */
  async #judge(uri: string, cancelled: () => boolean): Promise<{ version: number; view: View } | undefined> {
    await this.#ready;
    const document = this.#documents.open.get(uri);
    const shown = this.#shown.get(uri);
    const workspace = this.#documents.workspace(uri);
    const snapshot = this.#documents.snapshot(uri);
    if (!document || !shown || !snapshot) return undefined;
    const began = performance.now();
    const stop = () => cancelled() || this.#documents.workspace(uri) !== workspace;
    const afresh = (page: number) => this.#guard('prepare', () => this.#prepare(snapshot, page));
    const findings = await inSlices(judge(snapshot, shown.view, document.edited?.page, afresh), stop);
    if (!findings) return undefined;
    const view = shown.view.compose(snapshot, findings, this.#documents.open.get(uri) ?? document, this.#grace);
    shown.heldBack = view.heldBack;
    const ms = Math.ceil(performance.now() - began);
    if (ms > SLOW) this.#log('slow', { what: 'findings', ms });
    const { length } = view.diagnostics;
    this.#log('analysed', { file: this.#documents.shownPath(uri), pages: snapshot.pageCount, findings: length, ms });
    return { version: document.version, view };
  }

  /** Outline and colours of a page just read: asked for next, and of a long file not everything is kept. */
  #prepare(snapshot: Snapshot, page: number): void {
    if (this.#client.textDocument?.documentSymbol) pageSymbols(snapshot, page);
    if (this.#client.textDocument?.semanticTokens) pageTokens(snapshot, page);
  }

  /** A client that pulls and cannot be told to pull again would never see what was held back. */
  get #grace(): boolean {
    return !this.#pulls || this.#client.workspace?.diagnostics?.refreshSupport === true;
  }

  /** Publishes; `always` also when nothing has changed, so that every version gets its answer. */
  async #push(uri: string, always = true): Promise<void> {
    try {
      await this.#ready;
      const shown = this.#shown.get(uri);
      const workspace = this.#documents.workspace(uri);
      if (!shown || shown.judging === workspace) return;
      shown.judging = workspace;
      const judged = await this.#judge(uri, () => this.#state === 'shut down');
      if (shown.judging === workspace) delete shown.judging;
      if (!judged) return;
      const { diagnostics } = judged.view;
      if (!always && sameDiagnostics(diagnostics, shown.diagnostics)) return;
      const { version } = judged;
      shown.diagnostics = diagnostics;
      await this.connection.sendDiagnostics({ uri, version, diagnostics: [...diagnostics] });
      this.#log('published', { file: this.#documents.shownPath(uri), version, findings: diagnostics.length });
    } catch (error) {
      this.#failed('publish', error);
    }
  }

  async #pull(
    uri: string,
    previous: string | undefined,
    token: CancellationToken,
  ): Promise<DocumentDiagnosticReport | ResponseError<{ retriggerRequest: boolean }>> {
    try {
      const judged = await this.#judge(uri, () => token.isCancellationRequested);
      const shown = this.#shown.get(uri);
      if (!judged || !shown) {
        if (!this.#documents.open.has(uri)) return { kind: 'full', items: [] };
        this.#log('cancelled', { request: 'diagnostic' });
        return new ResponseError(LSPErrorCodes.ServerCancelled, 'The page has changed.', { retriggerRequest: true });
      }
      const { diagnostics } = judged.view;
      if (!sameDiagnostics(diagnostics, shown.diagnostics)) shown.resultId++;
      shown.diagnostics = diagnostics;
      const resultId = String(shown.resultId);
      return resultId === previous
        ? { kind: 'unchanged', resultId }
        : { kind: 'full', resultId, items: [...diagnostics] };
    } catch (error) {
      this.#failed('diagnostic', error);
      return { kind: 'full', items: [] };
    }
  }

  /** Something behind all pages has changed: a register, the settings, the folders. */
  #judgeAll(): void {
    if (this.#state !== 'running' || this.#documents.open.size === 0) return;
    if (!this.#pulls) for (const uri of this.#documents.open.keys()) void this.#push(uri, false);
    this.#refresh('diagnostics', 'inlayHint', 'semanticTokens');
  }

  /** An open page may be the register or the batch that another open page rests on. */
  #refreshSoon(uri: string): void {
    if (!this.#pulls) for (const other of this.#documents.neighbours(uri)) void this.#push(other, false);
    clearTimeout(this.#refreshing);
    this.#refreshing = setTimeout(() => this.#refresh('diagnostics', 'inlayHint', 'semanticTokens'), SETTLE);
  }

  #refresh(...what: readonly ('diagnostics' | 'inlayHint' | 'semanticTokens')[]): void {
    if (this.#state !== 'running') return;
    for (const feature of what) {
      if (!this.#client.workspace?.[feature]?.refreshSupport || (feature === 'diagnostics' && !this.#pulls)) continue;
      Promise.resolve(this.connection.languages[feature].refresh()).catch(() => {});
    }
  }

  // ── requests ───────────────────────────────────────────────────────────────────────────────────────────────────

  /** Registers a request that is answered from the snapshot of its document; whatever goes wrong, the answer is empty. */
  #answer<P extends { readonly textDocument: { readonly uri: string } }, R>(
    on: (handler: (params: P, token: CancellationToken) => R | ResponseError<void>) => unknown,
    name: string,
    empty: R,
    handle: (params: P, snapshot: Snapshot) => R | ResponseError<void> | undefined,
  ): void {
    on((params, token) => {
      if (this.#state !== 'running')
        return new ResponseError(
          this.#state === 'new' ? ErrorCodes.ServerNotInitialized : ErrorCodes.InvalidRequest,
          `The server is ${this.#state === 'new' ? 'not initialized' : 'shut down'}.`,
        );
      if (token.isCancellationRequested) return new ResponseError(LSPErrorCodes.RequestCancelled, 'Cancelled.');
      return (
        this.#guard(name, () => {
          const snapshot = this.#documents.snapshot(params.textDocument.uri);
          return snapshot && handle(params, snapshot);
        }) ?? empty
      );
    });
  }

  #guard<T>(name: string, action: () => T): T | undefined {
    const began = performance.now();
    try {
      return action();
    } catch (error) {
      this.#failed(name, error);
      return undefined;
    } finally {
      const ms = Math.ceil(performance.now() - began);
      if (ms > SLOW) this.#log('slow', { what: name, ms });
    }
  }

  #failed(request: string, error: unknown): void {
    this.#log('request-failed', { request, error: errorPlace(error) });
  }

  #markup(markdown: string): MarkupContent {
    const formats = this.#client.textDocument?.hover?.contentFormat;
    return formats === undefined || formats.includes(MarkupKind.Markdown)
      ? { kind: MarkupKind.Markdown, value: markdown }
      : { kind: MarkupKind.PlainText, value: plainText(markdown) };
  }

  #complete(uri: string, position: Position, snapshot: Snapshot): CompletionList {
    const { completionItem } = this.#client.textDocument?.completion ?? {};
    const snippets = completionItem?.snippetSupport ?? false;
    const { items, incomplete } = completion(snapshot, this.#documents.workspace(uri), position, { snippets });
    const shown = items.map(
      (item): CompletionItem => ({
        label: item.label,
        kind: completionKind(item.kind),
        textEdit: { range: item.range, newText: item.text },
        insertTextFormat: item.snippet ? InsertTextFormat.Snippet : InsertTextFormat.PlainText,
        ...(item.filterText !== undefined && { filterText: item.filterText }),
        ...(item.sortText !== undefined && { sortText: item.sortText }),
        ...(completionItem?.labelDetailsSupport
          ? {
              labelDetails: {
                ...(item.detail && { detail: ` ${item.detail}` }),
                ...(item.description && { description: item.description }),
              },
            }
          : item.detail && { detail: item.detail }),
        ...(item.documentation && { documentation: { kind: MarkupKind.Markdown, value: item.documentation } }),
        ...(item.additional && { additionalTextEdits: item.additional.map(textEdit) }),
      }),
    );
    return { isIncomplete: incomplete, items: shown };
  }

  #actions({ textDocument: { uri }, range, context }: CodeActionParams): CodeAction[] {
    const version = this.#documents.open.get(uri)?.version ?? null;
    const lazy = this.#client.textDocument?.codeAction?.resolveSupport?.properties.includes('edit') ?? false;
    const preferred = this.#client.textDocument?.codeAction?.isPreferredSupport ?? false;
    const dropped = (rule: string, why: string) => this.#log('fix-unproven', { rule, why });
    return codeActions(this.#documents.workspace(uri), uri, range, context.only, dropped).map((action) => {
      const { finding } = action;
      const edits = action.edits.map((edit) => (action.snippet ? this.#snippetEdit(edit) : textEdit(edit)));
      const data: ActionData = { uri, version, edits };
      return {
        title: action.title,
        kind: action.kind,
        diagnostics: context.diagnostics.filter((d) => d.code === finding?.code && d.message === finding?.message),
        ...(preferred && action.preferred && { isPreferred: true }),
        ...(lazy ? { data } : { edit: this.#workspaceEdit(data) }),
      };
    });
  }

  /** The edit travels with the action; what is decided here is whether it still fits the text. */
  #resolve(action: CodeAction): CodeAction {
    const data = action.data as ActionData | undefined;
    if (!data || this.#documents.open.get(data.uri)?.version !== (data.version ?? undefined)) return action;
    return { ...action, edit: this.#workspaceEdit(data) };
  }

  /** With its stops where the client can jump to them, else with empty slots. */
  #snippetEdit({ range, text }: { readonly range: Range; readonly text: string }): SomeEdit {
    const { snippetEditSupport, documentChanges } = this.#client.workspace?.workspaceEdit ?? {};
    return snippetEditSupport && documentChanges
      ? { range, snippet: { kind: 'snippet', value: text } }
      : { range, newText: emptied(text) };
  }

  #workspaceEdit({ uri, version, edits }: ActionData): WorkspaceEdit {
    return this.#client.workspace?.workspaceEdit?.documentChanges
      ? { documentChanges: [{ textDocument: { uri, version }, edits: [...edits] }] }
      : { changes: { [uri]: edits.filter((edit): edit is TextEdit => 'newText' in edit) } };
  }

  #rename(uri: string, position: Position, newName: string): WorkspaceEdit | ResponseError<void> {
    const found = rename(this.#documents.workspace(uri), uri, position, newName);
    if ('refused' in found) return refusal(found.refused);
    const byFile = [...found].map(([file, edits]) => [file, edits.map(textEdit)] as const);
    if (!this.#client.workspace?.workspaceEdit?.documentChanges) return { changes: Object.fromEntries(byFile) };
    return {
      documentChanges: byFile.map(([file, edits]) => ({
        textDocument: { uri: file, version: this.#documents.open.get(file)?.version ?? null },
        edits,
      })),
    };
  }
}

/** The editor shows it beside the name. */
const refusal = (why: string): ResponseError<void> => new ResponseError(LSPErrorCodes.RequestFailed, why);

type SomeEdit =
  | TextEdit
  | { readonly range: Range; readonly snippet: { readonly kind: 'snippet'; readonly value: string } };

interface ActionData {
  readonly uri: string;
  readonly version: number | null;
  readonly edits: readonly SomeEdit[];
}

const textEdit = ({ range, text }: { readonly range: Range; readonly text: string }): TextEdit => ({
  range,
  newText: text,
});

/** `tare ${1} g` → `tare  g`: a slot to fill, never a word that nobody chose. */
const emptied = (snippet: string): string =>
  snippet.replace(/\$\{\d+(?:[:|](?:[^}\\]|\\.)*)?\}|\$\d+/g, '').replace(/\\([$}\\])/g, '$1');

const NO_TOKENS = { data: [] };

const tokens = (snapshot: Snapshot, range?: Range) => ({
  data: encodeTokens(semanticTokens(snapshot, range), TOKEN_TYPES, TOKEN_MODIFIERS),
});

const symbolTree = (node: SymbolNode): DocumentSymbol => ({
  name: node.name,
  detail: node.detail,
  kind: symbolKind(node.kind),
  range: node.range,
  selectionRange: node.selection,
  children: node.children.map(symbolTree),
});

function* flatSymbols(nodes: readonly SymbolNode[], uri: string, container?: string): Generator<SymbolInformation> {
  for (const { name, kind, range, children } of nodes) {
    yield { name, kind: symbolKind(kind), location: { uri, range }, ...(container && { containerName: container }) };
    yield* flatSymbols(children, uri, name);
  }
}

/** Shifted copies of the same finding differ; what the reader sees does not. */
function sameDiagnostics(a: readonly Diagnostic[], b: readonly Diagnostic[]): boolean {
  return a.length === b.length && a.every((found, i) => found === b[i] || sameDiagnostic(found, b[i]!));
}

const sameDiagnostic = (a: Diagnostic, b: Diagnostic): boolean =>
  a.code === b.code &&
  a.message === b.message &&
  a.severity === b.severity &&
  a.range.start.line === b.range.start.line &&
  a.range.start.character === b.range.start.character &&
  a.range.end.line === b.range.end.line &&
  a.range.end.character === b.range.end.character;

const loudness = (event: keyof Events): 'info' | 'warn' | 'log' => {
  if (event === 'request-failed' || event === 'rule-failed' || event === 'slow') return 'warn';
  return event === 'started' || event === 'settings' || event === 'register' ? 'info' : 'log';
};

const SEVERITY_NAMES: ReadonlySet<unknown> = new Set<SeverityName>(['off', 'hint', 'information', 'warning', 'error']);

/**
 * Section `tarebook` of the editor's settings, and over it what the project says, so that lab and reviewer see the same.
 * What does not fit counts as not said; the command line names it.
 */
export function readPreferences(section: unknown, project = '{}'): Preferences {
  const own = record(section);
  const file = parsed(project);
  const hints = { ...record(own.hints), ...record(file.hints) };
  const said = (key: keyof Preferences['hints']) =>
    typeof hints[key] === 'boolean' ? hints[key] : PREFERENCES.hints[key];
  const rules = { ...record(own.rules), ...record(file.rules) };
  const severity = { ...severities(own.rules), ...severities(file.rules) };
  const { hrmsPpm } = rules;
  return {
    engine: { ...PREFERENCES.engine, severity, ...(typeof hrmsPpm === 'number' && hrmsPpm > 0 && { hrmsPpm }) },
    hints: {
      enabled: said('enabled'),
      charges: said('charges'),
      products: said('products'),
      elapsed: said('elapsed'),
    },
  };
}

function severities(rules: unknown): Record<string, SeverityName> {
  const entries = Object.entries(record(record(rules).severity));
  return Object.fromEntries(entries.filter(([, name]) => SEVERITY_NAMES.has(name))) as Record<string, SeverityName>;
}

function parsed(text: string): Readonly<Record<string, unknown>> {
  try {
    return record(JSON.parse(withoutComments(text)));
  } catch {
    return {};
  }
}

const record = (value: unknown): Readonly<Record<string, unknown>> =>
  typeof value === 'object' && value !== null ? (value as Record<string, unknown>) : {};
