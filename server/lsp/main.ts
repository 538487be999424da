/** Starts the server under Node: `--node-ipc` for an editor that forks it, `--stdio` for any other. */
import { Console } from 'node:console';
import { existsSync } from 'node:fs';
import { readdir, readFile, stat } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { PassThrough } from 'node:stream';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { createConnection, ProposedFeatures } from 'vscode-languageserver/node';
import { version } from '../../package.json';
import { CONFIG_NAME } from '../settings';
import { type Host, type Scanned, serve } from './server';

/** Bounds of the first look into a folder: a home directory opened by mistake must not keep the server busy. */
const MOST_FOLDERS = 20_000;
const MOST_PAGES = 5_000;
const LARGEST_PAGE = 8 * 1024 * 1024;
const SKIPPED = new Set(['node_modules', 'bower_components']);

/** What came with the last bytes is answered before the end of the input ends the process, ms. */
const LAST_WORDS = 100;

const connection = process.argv.includes('--stdio')
  ? createConnection(ProposedFeatures.all, inputWithoutHaste(), process.stdout)
  : createConnection(ProposedFeatures.all);
// Standard output belongs to the protocol.
globalThis.console = new Console(process.stderr, process.stderr);

const host: Host = {
  version,
  read,
  async *scan(folder) {
    if (folder.startsWith('file:')) yield* below(fileURLToPath(folder));
  },
  async config(folder) {
    if (!folder.startsWith('file:')) return undefined;
    for (let path = fileURLToPath(folder); ; path = dirname(path)) {
      if (existsSync(join(path, CONFIG_NAME))) return read(pathToFileURL(join(path, CONFIG_NAME)).href);
      if (existsSync(join(path, '.git')) || dirname(path) === path) return undefined;
    }
  },
  rulePage: (family, code) => {
    const page = join(__dirname, '..', 'server', 'rules', family, `${code}.md`);
    return existsSync(page) ? pathToFileURL(page).href : undefined;
  },
};

serve(connection, host);

/** Standard input whose end is heard a little later than its last message. */
function inputWithoutHaste(): NodeJS.ReadableStream {
  const input = new PassThrough();
  process.stdin.pipe(input, { end: false });
  process.stdin.on('end', () => setTimeout(() => input.end(), LAST_WORDS));
  return input;
}

/** A file as text; undefined when it cannot be read, is too large or is not UTF-8. */
async function read(uri: string): Promise<string | undefined> {
  if (!uri.startsWith('file:')) return undefined;
  try {
    const path = fileURLToPath(uri);
    if ((await stat(path)).size > LARGEST_PAGE) return undefined;
    return new TextDecoder('utf-8', { fatal: true }).decode(await readFile(path));
  } catch {
    return undefined;
  }
}

/** Files ending in `.tare`, and the folders that begin a notebook of their own; follows no links, so that it ends. */
async function* below(root: string): AsyncGenerator<Scanned> {
  const folders = [root];
  let pages = 0;
  for (let i = 0; i < folders.length && i < MOST_FOLDERS; i++) {
    const folder = folders[i]!;
    const entries = await readdir(folder, { withFileTypes: true }).catch(() => []);
    if (i > 0 && entries.some(({ name }) => name === CONFIG_NAME || name === '.git'))
      yield { notebook: pathToFileURL(folder).href };
    for (const entry of entries) {
      const path = join(folder, entry.name);
      if (entry.isDirectory()) {
        if (!entry.name.startsWith('.') && !SKIPPED.has(entry.name)) folders.push(path);
      } else if (entry.isFile() && entry.name.endsWith('.tare') && pages < MOST_PAGES) {
        pages++;
        const { href: uri } = pathToFileURL(path);
        yield { uri, text: await read(uri) };
      }
    }
  }
}
