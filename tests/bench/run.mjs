// npm run bench -- [--quick] [--only floor,json,tarebook] [--sizes 100,1000] [--out FILE.json]
// See README.md for what the columns mean and how to read them.
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { parseArgs } from 'node:util';
import { coldStart, wholeNotebook } from './commands.mjs';
import { installPeers, servers } from './servers.mjs';
import { session } from './session.mjs';

const root = resolve(import.meta.dirname, '..', '..');
const cli = join(root, 'dist', 'cli.js');
const { values } = parseArgs({
  options: { quick: { type: 'boolean' }, only: { type: 'string' }, sizes: { type: 'string' }, out: { type: 'string' } },
});
const quick = values.quick ?? false;
const sizes = (values.sizes ?? (quick ? '1000,10000' : '100,1000,10000,50000')).split(',').map(Number);
const rounds = quick ? 1 : 2;
const all = servers(root);
const names = values.only?.split(',') ?? Object.keys(all);
const pages = quick ? [100, 1000] : [100, 1000, 10_000];

const sorted = (samples) => samples.filter(Number.isFinite).sort((a, b) => a - b);
const median = (samples) => sorted(samples)[(sorted(samples).length - 1) >> 1];
const least = (samples) => sorted(samples)[0];
const show = (x) => (x === undefined ? '-' : x >= 100 ? x.toFixed(0) : x >= 10 ? x.toFixed(1) : x.toFixed(2));

function print(rows, columns) {
  const width = (column) => Math.max(column.length, ...rows.map((row) => String(row[column]).length));
  const line = (cells) =>
    cells
      .map((cell, k) => (k ? String(cell).padStart(width(columns[k])) : String(cell).padEnd(width(columns[k]))))
      .join('  ');
  console.log([line(columns), ...rows.map((row) => line(columns.map((column) => row[column])))].join('\n'));
}

/** Minima and medians of all rounds, and what the median edit costs in edits of the floor. */
function summary(runs) {
  const of = (name, size, key) =>
    runs.filter((run) => run.name === name && run.size === size).flatMap((run) => run[key] ?? []);
  const ratio = (mine, base) => (mine && base ? `${show(mine / base)}×` : '-');
  return sizes.flatMap((size) =>
    names.map((name) => {
      const medians = ['init', 'open', 'burst', 'hover', 'complete', 'symbols', 'hints', 'format', 'peak'];
      return {
        server: name,
        lines: size,
        ...Object.fromEntries(medians.map((key) => [key, show(median(of(name, size, key)))])),
        edit: show(median(of(name, size, 'edit'))),
        'least edit': show(least(of(name, size, 'edit'))),
        'edit cpu': show(least(of(name, size, 'editCpu'))),
        'to floor': ratio(median(of(name, size, 'edit')), median(of('floor', size, 'edit'))),
      };
    }),
  );
}

if (names.includes('tarebook') && !existsSync(cli)) throw new Error(`${cli} is missing: run npm run build first.`);
if (names.includes('css') || names.includes('json')) installPeers();
const began = performance.now();
const runs = [];
for (let round = 0; round < rounds; round++)
  // Another server goes first in each round: whoever follows a heavy one finds a warm machine.
  for (const size of sizes)
    for (const name of names.map((_, k) => names[(k + round) % names.length])) {
      const load = Number(readFileSync('/proc/loadavg', 'latin1').split(' ')[0]);
      const run = { name, size, round, load, ...(await session(all[name], size, 1)) };
      runs.push(run);
      const failed = Object.entries(run.failed).map(([step, why]) => `${step}: ${why}`);
      const seconds = ((performance.now() - began) / 1000).toFixed(0);
      console.error(`${seconds} s  ${name} ${size} lines: edit ${show(median(run.edit))} ms  ${failed.join('; ')}`);
    }

const rows = summary(runs);
print(rows, [
  'server',
  'lines',
  'init',
  'open',
  'edit',
  'least edit',
  'edit cpu',
  'to floor',
  'burst',
  'hover',
  'complete',
  'symbols',
  'hints',
  'format',
  'peak',
]);

const commands = {};
if (names.includes('tarebook')) {
  commands.cold = coldStart(cli, quick ? 7 : 15);
  const bare = least(commands.cold['node -e 0']);
  console.log();
  print(
    Object.entries(commands.cold).map(([command, samples]) => ({
      command,
      least: show(least(samples)),
      median: show(median(samples)),
      'to node': `${show(least(samples) / bare)}×`,
    })),
    ['command', 'least', 'median', 'to node'],
  );
  commands.notebooks = pages.map((count) => ({ pages: count, ms: wholeNotebook(cli, count) }));
  console.log();
  print(
    commands.notebooks.map(({ pages: count, ms }) => ({ pages: count, check: show(ms), 'per page': show(ms / count) })),
    ['pages', 'check', 'per page'],
  );
}
console.log(`\nAll times in ms, peak in MiB. ${((performance.now() - began) / 1000).toFixed(0)} s in all.`);
if (values.out) writeFileSync(values.out, JSON.stringify({ node: process.version, rows, runs, commands }, null, 1));
process.exitCode = runs.some((run) => run.name === 'tarebook' && Object.keys(run.failed).length) ? 1 : 0;
