/** A small client of its own, so that the tests see what goes over the wire and nothing a library makes of it. */
import { type ChildProcess, execFileSync, spawn } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';

const root = resolve(import.meta.dirname, '../..');

// biome-ignore lint/suspicious/noExplicitAny: messages are whatever the other side sends; the tests say what they expect
type Json = any;

export interface Message {
  readonly id?: number;
  readonly method?: string;
  readonly params?: Json;
  readonly result?: Json;
  readonly error?: { readonly code: number; readonly message: string };
}

/** The real bundle in a folder outside the project, and notebooks beside it. */
export class Bench {
  readonly home = mkdtempSync(join(tmpdir(), 'tarebook-lsp-'));
  #folders = 0;

  build(): void {
    execFileSync(process.execPath, ['esbuild.mjs', join(this.home, 'dist')], {
      cwd: root,
      stdio: ['ignore', 'ignore', 'pipe'],
    });
  }

  dispose(): void {
    rmSync(this.home, { recursive: true, force: true });
  }

  folder(files: Readonly<Record<string, string>> = {}): string {
    const folder = join(this.home, `notebook ${++this.#folders}`);
    mkdirSync(folder);
    for (const [name, text] of Object.entries(files)) {
      mkdirSync(dirname(join(folder, name)), { recursive: true });
      writeFileSync(join(folder, name), text);
    }
    return folder;
  }

  start(...more: readonly string[]): Client {
    return new Client(
      spawn(process.execPath, [join(this.home, 'dist/server.js'), '--stdio', ...more], { stdio: 'pipe' }),
    );
  }
}

export const uriOf = (folder: string, name: string): string => pathToFileURL(join(folder, name)).href;

/** What editors of today announce; `push` takes what an old one does. */
export const PULL = {
  workspace: {
    configuration: true,
    workspaceFolders: true,
    workspaceEdit: { documentChanges: true },
    didChangeConfiguration: { dynamicRegistration: true },
    didChangeWatchedFiles: { dynamicRegistration: true },
    diagnostics: { refreshSupport: true },
    inlayHint: { refreshSupport: true },
  },
  textDocument: {
    publishDiagnostics: {
      relatedInformation: true,
      versionSupport: true,
      codeDescriptionSupport: true,
      dataSupport: true,
      tagSupport: { valueSet: [1, 2] },
    },
    diagnostic: { dynamicRegistration: false },
    hover: { contentFormat: ['markdown', 'plaintext'] },
    completion: { completionItem: { snippetSupport: true, labelDetailsSupport: true } },
    documentSymbol: { hierarchicalDocumentSymbolSupport: true },
  },
} as const;

export const PUSH = {
  workspace: PULL.workspace,
  textDocument: { ...PULL.textDocument, diagnostic: undefined },
} as const;

export class Client {
  readonly received: Message[] = [];
  readonly exited: Promise<number | null>;
  stderr = '';
  /** Section `tarebook`, as the editor would answer. */
  settings: Json = null;
  #next = 0;
  #buffer = Buffer.alloc(0);
  readonly #waiting: { readonly fits: (message: Message) => boolean; readonly done: (message: Message) => void }[] = [];

  constructor(private readonly process: ChildProcess) {
    process.stdout!.on('data', (chunk: Buffer) => this.#take(chunk));
    process.stderr!.on('data', (chunk: Buffer) => {
      this.stderr += chunk;
    });
    this.exited = new Promise((done) => process.on('exit', done));
  }

  #take(chunk: Buffer): void {
    this.#buffer = Buffer.concat([this.#buffer, chunk]);
    for (;;) {
      const head = this.#buffer.indexOf('\r\n\r\n');
      if (head < 0) return;
      const length = /Content-Length: (\d+)/i.exec(this.#buffer.toString('latin1', 0, head))?.[1];
      if (length === undefined) throw new Error('Something else than the protocol on standard output');
      const end = head + 4 + Number(length);
      if (this.#buffer.length < end) return;
      const message: Message = JSON.parse(this.#buffer.toString('utf8', head + 4, end));
      this.#buffer = this.#buffer.subarray(end);
      this.#receive(message);
    }
  }

  #receive(message: Message): void {
    this.received.push(message);
    if (message.method && message.id !== undefined) this.send({ id: message.id, result: this.#reply(message) });
    for (const waiting of [...this.#waiting]) {
      if (!waiting.fits(message)) continue;
      this.#waiting.splice(this.#waiting.indexOf(waiting), 1);
      waiting.done(message);
    }
  }

  #reply({ method, params }: Message): Json {
    return method === 'workspace/configuration' ? params.items.map(() => this.settings) : null;
  }

  send(message: Json): void {
    const body = Buffer.from(JSON.stringify({ jsonrpc: '2.0', ...message }));
    this.process.stdin!.write(`Content-Length: ${body.length}\r\n\r\n`);
    this.process.stdin!.write(body);
  }

  notify(method: string, params: Json): void {
    this.send({ method, params });
  }

  /** The whole answer, with an error if it is one. */
  async ask(method: string, params: Json): Promise<Message> {
    const id = ++this.#next;
    const answer = this.next((message) => message.id === id && message.method === undefined, `an answer to ${method}`);
    this.send({ id, method, params });
    return answer;
  }

  async request(method: string, params: Json): Promise<Json> {
    const { result, error } = await this.ask(method, params);
    if (error) throw new Error(`${method}: ${error.message}`);
    return result;
  }

  /** The next message that fits, from now on. */
  next(fits: (message: Message) => boolean, what: string, patience = 8000): Promise<Message> {
    return new Promise((done, fail) => {
      const timer = setTimeout(() => fail(new Error(`Waited in vain for ${what}. ${this.stderr}`)), patience);
      this.#waiting.push({
        fits,
        done: (message) => {
          clearTimeout(timer);
          done(message);
        },
      });
    });
  }

  /** Publishes of a document from now on: the first that fits. */
  async published(uri: string, fits: (diagnostics: Json[], version?: number) => boolean = () => true): Promise<Json> {
    const { params } = await this.next(
      ({ method, params }) =>
        method === 'textDocument/publishDiagnostics' && params.uri === uri && fits(params.diagnostics, params.version),
      `findings of ${uri}`,
    );
    return params;
  }

  async initialize(folder?: string, capabilities: Json = PUSH): Promise<Json> {
    const uri = folder === undefined ? null : pathToFileURL(folder).href;
    const result = await this.request('initialize', {
      processId: process.pid,
      rootUri: uri,
      workspaceFolders: uri && [{ uri, name: 'notebook' }],
      capabilities,
    });
    this.notify('initialized', {});
    return result;
  }

  open(uri: string, text: string, version = 1): void {
    this.notify('textDocument/didOpen', { textDocument: { uri, languageId: 'tarebook', version, text } });
  }

  change(uri: string, version: number, ...contentChanges: readonly Json[]): void {
    this.notify('textDocument/didChange', { textDocument: { uri, version }, contentChanges });
  }

  async stop(): Promise<void> {
    if (this.process.exitCode !== null) return;
    await this.ask('shutdown', null).catch(() => {});
    this.notify('exit', null);
    await this.exited;
  }
}

/** A range on one line. */
export const span = (line: number, start: number, end = start): Json => ({
  start: { line, character: start },
  end: { line, character: end },
});

/** Line and character of a text in another; UTF-16, as the protocol counts. */
export function positionOf(text: string, needle: string, into = 0): Json {
  const at = text.indexOf(needle);
  if (at < 0) throw new Error(`No ${needle} in the page`);
  const before = text.slice(0, at + into).split(/\r\n|\r|\n/);
  return { line: before.length - 1, character: before.at(-1)!.length };
}
