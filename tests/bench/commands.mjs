// The command line: a cold check of one page against a bare start of Node, and whole notebooks of growing size.
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { notebook } from './notebook.mjs';

function time(args) {
  const from = performance.now();
  const { status, stderr } = spawnSync(process.execPath, args, { encoding: 'utf8', maxBuffer: 1e9 });
  const took = performance.now() - from;
  if (status !== 0)
    throw new Error(`node ${args.slice(0, 3).join(' ')} … ended with ${status}: ${stderr.slice(0, 300)}`);
  return took;
}

function withFolder(run) {
  const folder = mkdtempSync(join(tmpdir(), 'tarebook-bench-'));
  try {
    return run(folder);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

const check = (cli, ...paths) => [cli, 'check', '--exit-zero', ...paths];

/** Samples in ms: bare Node, `--version`, and `check` of one page, taken in turns. */
export function coldStart(cli, runs) {
  return withFolder((folder) => {
    const page = join(folder, 'page.tare');
    writeFileSync(page, notebook({ pages: 1 }).text);
    const commands = {
      'node -e 0': ['-e', '0'],
      'tarebook --version': [cli, '--version'],
      'tarebook check': check(cli, page),
    };
    const samples = Object.fromEntries(Object.keys(commands).map((name) => [name, []]));
    for (let k = 0; k < runs; k++) for (const [name, args] of Object.entries(commands)) samples[name].push(time(args));
    return samples;
  });
}

/** Time in ms to check a folder of `pages` pages, one file each, and a register beside them. */
export function wholeNotebook(cli, pages) {
  return withFolder((folder) => {
    const [register, ...files] = notebook({ pages }).text.split(/^(?=experiment )/m);
    writeFileSync(join(folder, 'register.tare'), register);
    files.forEach((text, k) => {
      writeFileSync(join(folder, `page-${String(k + 1).padStart(5, '0')}.tare`), text);
    });
    return time(check(cli, '--format', 'json', folder));
  });
}
