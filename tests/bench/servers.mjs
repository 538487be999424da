// The servers that are compared, and where the peers are installed. All of them answer pulled diagnostics.
//   around     how many lines beside the edited one may carry its finding
//   typed      the character typed in a burst and before a request
import { execFileSync } from 'node:child_process';
import { existsSync, mkdirSync, writeFileSync } from 'node:fs';
import { homedir } from 'node:os';
import { join } from 'node:path';

const cache = process.env.TAREBOOK_BENCH_CACHE || join(homedir(), '.cache', 'tarebook-bench');
const PEERS = ['vscode-langservers-extracted@4.10.0']; // the CSS and JSON servers of VS Code, MIT
const peer = (name) => [process.execPath, join(cache, 'node_modules', '.bin', name), '--stdio'];
const text = { type: 'string' };
const schema = {
  type: 'array',
  items: {
    type: 'object',
    required: ['id', 'title', 'amount'],
    additionalProperties: false,
    properties: {
      id: { type: 'string', pattern: '^TB-[0-9]+$' },
      title: { type: 'string', minLength: 3 },
      note: text,
      amount: { type: 'number', minimum: 0 },
      unit: { enum: ['g', 'mL', 'mmol'] },
      tags: { type: 'array', items: text },
      steps: { type: 'array', items: { type: 'object', properties: { at: text, text } } },
    },
  },
};

export const servers = (root) => ({
  floor: {
    command: [process.execPath, join(import.meta.dirname, 'floor-server.mjs'), '--stdio'],
    document: 'floor',
    language: 'tarebook',
    ending: 'tare',
    around: 0,
    typed: 'a',
  },
  css: {
    command: peer('vscode-css-language-server'),
    document: 'css',
    language: 'css',
    ending: 'css',
    around: 1,
    typed: 'a',
    options: { provideFormatter: true },
    settings: { css: { validate: true } },
  },
  json: {
    command: peer('vscode-json-language-server'),
    document: 'json',
    language: 'json',
    ending: 'json',
    around: 1,
    typed: 'a',
    options: { provideFormatter: true },
    settings: {
      json: {
        validate: { enable: true },
        format: { enable: true },
        resultLimit: 100000,
        schemas: [{ fileMatch: ['*.json'], url: 'bench://schema.json', schema }],
      },
    },
  },
  tarebook: {
    command: [process.execPath, join(root, 'dist', 'cli.js'), 'serve', '--stdio'],
    document: 'tare',
    language: 'tarebook',
    ending: 'tare',
    around: 0,
    typed: '1',
  },
});

/** Installs the peers once, outside the project. */
export function installPeers() {
  if (existsSync(join(cache, 'node_modules', '.bin', 'vscode-json-language-server'))) return;
  mkdirSync(cache, { recursive: true });
  writeFileSync(join(cache, 'package.json'), '{ "private": true }\n');
  const flags = ['--ignore-scripts', '--no-audit', '--no-fund', '--loglevel=error'];
  execFileSync('npm', ['install', ...flags, ...PEERS], { cwd: cache, stdio: ['ignore', 'ignore', 'inherit'] });
}
