import { execFileSync, fork, spawnSync } from 'node:child_process';
import {
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';
import { createVSIX, listFiles } from '@vscode/vsce';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';

const root = resolve(import.meta.dirname, '..');
const read = (file: string) => readFileSync(join(root, file), 'utf8');
const manifest = JSON.parse(read('package.json'));

/** A folder outside the project with what is packaged and nothing else: no sources, no node_modules. */
let home: string;
let archive: string;

beforeAll(async () => {
  home = mkdtempSync(join(tmpdir(), 'tarebook-package-'));
  execFileSync(process.execPath, ['esbuild.mjs', join(home, 'dist')], {
    cwd: root,
    stdio: ['ignore', 'ignore', 'pipe'],
  });
  for (const file of await listFiles({ cwd: root, packageManager: 0 })) {
    if (file.startsWith('dist/')) continue;
    mkdirSync(dirname(join(home, file)), { recursive: true });
    cpSync(join(root, file), join(home, file));
  }
  cpSync(join(root, '.vscodeignore'), join(home, '.vscodeignore'));
  const { 'vscode:prepublish': _, ...scripts } = manifest.scripts;
  writeFileSync(join(home, 'package.json'), JSON.stringify({ ...manifest, scripts }));
  archive = join(home, 'tarebook.vsix');
  const quiet = { allowMissingRepository: true, rewriteRelativeLinks: false };
  await createVSIX({ cwd: home, packagePath: archive, dependencies: false, ...quiet });
}, 60_000);

afterAll(() => rmSync(home, { recursive: true, force: true }));

/** The names in a zip archive, from its central directory (PKWARE APPNOTE 6.3.10, 4.3.12 and 4.3.16). */
function names(zip: Buffer): string[] {
  const end = zip.lastIndexOf('PK\x05\x06', undefined, 'latin1');
  const found: string[] = [];
  for (let at = zip.readUInt32LE(end + 16); zip.readUInt32LE(at) === 0x02014b50; ) {
    const [name, extra, comment] = [zip.readUInt16LE(at + 28), zip.readUInt16LE(at + 30), zip.readUInt16LE(at + 32)];
    found.push(zip.toString('utf8', at + 46, at + 46 + name));
    at += 46 + name + extra + comment;
  }
  return found.sort();
}

describe('the archive', () => {
  test('holds exactly what is meant to ship', () => {
    const rulePage = /^extension\/server\/rules\/[a-z]+\/[a-z0-9-]+\.md$/;
    const pictures = [...read('README.md').matchAll(/\]\((client\/media\/[^)]+)\)/g)].map(
      ([, file]) => `extension/${file}`,
    );
    const expected = [
      ...pictures,
      '[Content_Types].xml',
      'extension.vsixmanifest',
      'extension/LICENSE.txt',
      'extension/changelog.md',
      'extension/client/icons/file-dark.svg',
      'extension/client/icons/file-light.svg',
      'extension/client/icons/icon.png',
      'extension/client/language-configuration.json',
      'extension/client/snippets.json',
      'extension/client/tarebook.tmLanguage.json',
      'extension/dist/cli.js',
      'extension/dist/client.js',
      'extension/dist/openchemlib.js',
      'extension/dist/server.js',
      'extension/dist/third-party-notices.txt',
      'extension/package.json',
      'extension/readme.md',
      'extension/server/cli/compute.schema.json',
    ];
    expect(names(readFileSync(archive)).filter((name) => !rulePage.test(name))).toEqual(expected.sort());
  });

  test('has the page of every rule', () => {
    const pages = readdirSync(join(root, 'server/rules'), { recursive: true, encoding: 'utf8' })
      .filter((file) => /^[a-z]+\/[a-z0-9-]+\.md$/.test(file))
      .map((file) => `extension/server/rules/${file}`);
    expect(names(readFileSync(archive))).toEqual(expect.arrayContaining(pages));
  });

  test('is under 2 MB', () => expect(statSync(archive).size).toBeLessThan(2e6));

  test('has every file that the manifest names', () => {
    const text = JSON.stringify([manifest.main, manifest.bin, manifest.icon, manifest.contributes]);
    const named = [...text.matchAll(/"(?:\.\/)?((?:client|dist)\/[^"]+)"/g)].map(([, file]) => file ?? '');
    expect(named.length).toBeGreaterThan(6);
    expect(named.filter((file) => !existsSync(join(home, file)))).toEqual([]);
  });

  test('names the licence of each bundled library', () => {
    const notices = readFileSync(join(home, 'dist/third-party-notices.txt'), 'utf8');
    for (const [name, version] of Object.entries(manifest.dependencies))
      expect(notices).toContain(`${name} ${version} (`);
  });
});

describe('the bundles, with no node_modules', () => {
  const cli = (args: string[], input?: string) =>
    spawnSync(process.execPath, [join(home, 'dist/cli.js'), ...args], { cwd: home, encoding: 'utf8', input });

  test('the command line says its version', () => {
    expect(cli(['--version'])).toMatchObject({ status: 0, stdout: `tarebook ${manifest.version}\n`, stderr: '' });
  });

  test('the command line checks a page with a structure in it', () => {
    const page = 'experiment T-1: bundle\nsubstance ethanol: C2H6O, SMILES CCO, density 0.789 g/mL\n';
    expect(cli(['check', '-'], page)).toMatchObject({ status: 0, stderr: '' });
  });

  test('the server answers the editor over IPC', async () => {
    const server = fork(join(home, 'dist/server.js'), ['--node-ipc'], { cwd: home, silent: true });
    try {
      const answer = new Promise((ok, no) => {
        server.on('message', (message: { id?: number }) => message.id === 1 && ok(message));
        server.on('exit', (code) => no(new Error(`The server ended with ${code}`)));
      });
      const params = { processId: process.pid, rootUri: null, capabilities: {} };
      server.send({ jsonrpc: '2.0', id: 1, method: 'initialize', params });
      await expect(answer).resolves.toMatchObject({ result: { capabilities: { hoverProvider: expect.anything() } } });
    } finally {
      server.kill();
    }
  });

  test('the command line serves any editor over stdio, and ends when told to', () => {
    const frame = (message: object) => {
      const body = JSON.stringify({ jsonrpc: '2.0', ...message });
      return `Content-Length: ${Buffer.byteLength(body)}\r\n\r\n${body}`;
    };
    const params = { processId: null, rootUri: null, capabilities: {} };
    const talk = [
      { id: 1, method: 'initialize', params },
      { method: 'initialized', params: {} },
      { id: 2, method: 'shutdown' },
      { method: 'exit' },
    ];
    const { status, stdout } = cli(['serve', '--stdio'], talk.map(frame).join(''));
    expect(status).toBe(0);
    expect(stdout).toContain('"capabilities":{');
  });
});

describe('the manifest', () => {
  test('agrees with the lock file and the changelog on the version', () => {
    expect(JSON.parse(read('package-lock.json')).version).toBe(manifest.version);
    expect(/^## (\S+)/m.exec(read('CHANGELOG.md'))?.[1]).toBe(manifest.version);
  });

  test('the problem matcher reads the compact format', () => {
    const [matcher] = manifest.contributes.problemMatchers;
    const line = new RegExp(matcher.pattern.regexp);
    const fields = (text: string) => line.exec(text)?.slice(1);
    expect(fields('samples/a b.tare:12:8: error claim-mismatch The mass is written 12.2 mg.')).toEqual([
      'samples/a b.tare',
      '12',
      '8',
      'error',
      'claim-mismatch',
      'The mass is written 12.2 mg.',
    ]);
    expect(fields('C:\\lab\\a.tare:1:1: information page-head-missing No date.')?.slice(2, 5)).toEqual([
      '1',
      'info',
      'page-head-missing',
    ]);
    expect(fields('3 errors, 1 warning on 2 pages')).toBeUndefined();
  });
});

describe('the language configuration', () => {
  const config = JSON.parse(read('client/language-configuration.json'));

  test.each([
    '4-(dimethylamino)pyridine',
    'N,N-dimethylformamide',
    '(S)-citronellal',
    'copper(II)',
    'bis(4-methoxybenzylidene)acetone',
    'TB-014',
    'CuSO4·5H2O',
    '15.0',
    'µg',
  ])('one word: %s', (word) => {
    const pattern = new RegExp(config.wordPattern.pattern, `g${config.wordPattern.flags}`);
    expect(`of ${word}, (${word}) ${word}: x`.match(pattern)).toEqual(['of', word, word, word, 'x']);
  });

  test.each([
    ['product isopentyl acetate:', true],
    ['09:40 charge water:', true],
    ['Then I wrote:', false],
    ['charge water: 20 mL', false],
  ])('Enter after "%s" indents: %s', (line, indents) => {
    expect(new RegExp(config.onEnterRules[0].beforeText).test(line)).toBe(indents);
  });
});
