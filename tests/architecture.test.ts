/** Imports point down the list of layers; heavy packages have one home; the engine reads nothing but its arguments. */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative, sep } from 'node:path';
import { transform } from 'esbuild';
import { describe, expect, test } from 'vitest';

const ROOT = join(import.meta.dirname, '..');

/** From the bottom to the top; a folder, or files of `server/`. */
const LAYERS: readonly (readonly string[])[] = [
  ['grammar/'],
  ['server/quantity/'],
  ['server/chem/'],
  ['server/model/'],
  ['server/compute/'],
  ['server/rules/'],
  ['server/snapshot.ts', 'server/routes.ts', 'server/workspace.ts', 'server/prove.ts'],
  ['server/features/'],
  ['server/lsp/', 'server/cli/'],
];
/** Import nothing of ours; anybody may import them. */
const APART = ['server/settings.ts', 'server/log.ts'];

const HOMES: Readonly<Record<string, string>> = {
  '@noble/hashes': 'server/model/digest.ts',
  chevrotain: 'grammar/',
  'decimal.js': 'server/quantity/decimal.ts',
  openchemlib: 'server/chem/structure.ts',
  'vscode-languageserver': 'server/lsp/',
  'vscode-languageserver-textdocument': 'server/lsp/',
  commander: 'server/cli/',
  'vscode-languageclient': 'client/',
  vscode: 'client/',
};

const TOP = [
  ...['README.md', 'DEVELOPERS.md', 'CHANGELOG.md', 'LICENSE'],
  ...['package.json', 'package-lock.json', 'tsconfig.json', 'biome.json', 'esbuild.mjs', 'vitest.config.ts'],
  ...['.ci', '.github', '.vscode', '.vscodeignore', '.editorconfig', '.gitattributes', '.gitignore', '.nvmrc'],
  ...['.pre-commit-hooks.yaml', 'tarebook.schema.json'],
  ...['grammar', 'server', 'client', 'tests', 'samples'],
];
/** Made by tools, never committed. */
const MADE = ['.git', 'node_modules', 'dist', 'coverage'];

interface Source {
  readonly path: string;
  readonly text: string;
  /** Without comments and types. */
  readonly code: string;
  /** Of our own files with their ending; of packages by name. */
  readonly imports: readonly string[];
}

const IMPORT = /^(?:import|export)\b(?:[^;'`]*\bfrom)?\s*'([^']+)'|\bimport\('([^']+)'\)/gm;

async function read(path: string): Promise<Source> {
  const text = readFileSync(join(ROOT, path), 'utf8');
  const { code } = await transform(text, { loader: 'ts', legalComments: 'none', charset: 'utf8' });
  const bare = text.replace(/\/\*[\s\S]*?\*\//g, '').replace(/^\s*\/\/.*$/gm, '');
  const found = [...bare.matchAll(IMPORT)].map((match) => (match[1] ?? match[2])!);
  return { path, text, code, imports: found.map((name) => resolve(path, name)) };
}

function resolve(path: string, name: string): string {
  if (!name.startsWith('.')) return name;
  const target = relative(ROOT, join(ROOT, dirname(path), name))
    .split(sep)
    .join('/');
  return (
    [target, `${target}.ts`, `${target}/index.ts`].find(
      (file) => /\.\w+$/.test(file) && existsSync(join(ROOT, file)),
    ) ?? target
  );
}

const sources = await Promise.all(
  ['grammar', 'server', 'client']
    .flatMap((folder) =>
      readdirSync(join(ROOT, folder), { recursive: true, encoding: 'utf8' }).map(
        (file) => `${folder}/${file.split(sep).join('/')}`,
      ),
    )
    .filter((file) => file.endsWith('.ts') && !file.endsWith('.d.ts'))
    .sort()
    .map(read),
);

const layerOf = (path: string): number => LAYERS.findIndex((homes) => homes.some((home) => path.startsWith(home)));
const isOurs = (name: string): boolean => /^(?:grammar|server|client|tests)\//.test(name);
const top = LAYERS.length - 1;
const below = sources.filter(({ path }) => layerOf(path) < top && !path.startsWith('client/'));

test('every source file has a layer', () => {
  const lost = sources.filter(({ path }) => layerOf(path) < 0 && !APART.includes(path) && !path.startsWith('client/'));
  expect(lost.map(({ path }) => path)).toEqual([]);
  expect(sources.length).toBeGreaterThan(20);
});

test('imports point down', () => {
  const wrong = sources
    .filter(({ path }) => !path.startsWith('client/'))
    .flatMap(({ path, imports }) =>
      imports
        .filter(isOurs)
        .filter((name) => !APART.includes(name) && !name.startsWith('server/data/'))
        .filter((name) => APART.includes(path) || layerOf(name) < 0 || layerOf(name) > layerOf(path))
        .map((name) => `${path} imports ${name}`),
    );
  expect(wrong).toEqual([]);
});

test('editor server and command line do not import each other', () => {
  const wrong = sources.flatMap(({ path, imports }) =>
    imports
      .filter((name) => /^server\/(?:lsp|cli)\//.test(path) && /^server\/(?:lsp|cli)\//.test(name))
      .filter((name) => name.split('/')[1] !== path.split('/')[1])
      // `tarebook serve` starts the server
      .filter((name) => !name.startsWith('server/lsp/'))
      .map((name) => `${path} imports ${name}`),
  );
  expect(wrong).toEqual([]);
});

test('the client imports types of the protocol and nothing else of ours', () => {
  const wrong = sources
    .filter(({ path }) => path.startsWith('client/'))
    .flatMap(({ path, imports }) =>
      imports
        .filter((name) => isOurs(name) && !name.startsWith('client/') && name !== 'server/lsp/protocol.ts')
        .map((name) => `${path} imports ${name}`),
    );
  expect(wrong).toEqual([]);
});

describe('heavy packages have one home', () => {
  test.each(Object.entries(HOMES))('%s in %s', (name, home) => {
    const users = sources.filter(({ imports }) => imports.some((i) => i === name || i.startsWith(`${name}/`)));
    expect(users.map(({ path }) => path).filter((path) => !path.startsWith(home))).toEqual([]);
  });

  test('no other package is used', () => {
    const names = new Set(sources.flatMap(({ imports }) => imports).filter((name) => !isOurs(name)));
    const known = (name: string) =>
      name.startsWith('node:') ||
      name === 'package.json' ||
      Object.keys(HOMES).some((p) => name === p || name.startsWith(`${p}/`));
    expect([...names].filter((name) => !known(name))).toEqual([]);
  });
});

describe('below the edges nothing is read but the arguments', () => {
  const WORLD: readonly (readonly [what: string, pattern: RegExp])[] = [
    ['a clock', /\bnew Date\b|\bDate\.(?:now|parse)\b|\bperformance\./],
    ['chance', /\bMath\.random\b|\bcrypto\b/],
    ['the environment', /\bprocess\.\w|\bglobalThis\b|\brequire\(/],
    ['a timer or the network', /\bset(?:Timeout|Interval|Immediate)\(|\bfetch\(/],
    ['the locale', /\.toLocale\w+\(|\bIntl\./],
    ['the console', /\bconsole\./],
  ];
  test.each(WORLD)('%s', (_, pattern) => {
    expect(below.filter(({ code }) => pattern.test(code)).map(({ path }) => path)).toEqual([]);
  });

  test('no module of the platform', () => {
    const wrong = below.filter(({ imports }) => imports.some((name) => name.startsWith('node:')));
    expect(wrong.map(({ path }) => path)).toEqual([]);
  });
});

describe('numbers', () => {
  test('are rounded for the eye in one file', () => {
    const rounding =
      /\.(?:toFixed|toPrecision|toExponential|toDecimalPlaces|toSignificantDigits|toDP|toSD)\(|\bMath\.round\(/;
    const users = sources.filter(({ code }) => rounding.test(code)).map(({ path }) => path);
    expect(users.filter((path) => path !== 'server/quantity/show.ts')).toEqual([]);
  });
});

test('the top of the tree holds what it is meant to hold', () => {
  const entries = readdirSync(ROOT).filter((name) => !MADE.includes(name) && !name.endsWith('.vsix'));
  expect(entries.filter((name) => !TOP.includes(name))).toEqual([]);
});
