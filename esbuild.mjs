// Bundles the editor client, the language server and the command line, each into one file that needs no node_modules.
// openchemlib is a file of its own, shared by the last two: it is two thirds of their size, and few pages need it.
// Usage: node esbuild.mjs [FOLDER]   (default: dist)
import { chmod, readdir, readFile, writeFile } from 'node:fs/promises';
import { build } from 'esbuild';

const folder = process.argv[2] ?? 'dist';

const common = {
  bundle: true,
  platform: 'node',
  format: 'cjs',
  target: 'node20',
  minify: true,
  legalComments: 'none',
  loader: { '.csv': 'text', '.tare': 'text' },
  external: ['vscode'],
  metafile: true,
  logLevel: 'warning',
};

/** Turns `import { Molecule } from 'openchemlib'` into a load of ./openchemlib.js at the first use of `Molecule`. */
const structuresOnDemand = {
  name: 'structures-on-demand',
  setup(bundle) {
    bundle.onResolve({ filter: /^openchemlib$/ }, ({ path }) => ({ path, namespace: 'on-demand' }));
    bundle.onLoad({ filter: /.*/, namespace: 'on-demand' }, async () => ({
      contents: Object.keys(await import('openchemlib'))
        .map((name) => `get ${name}() { return require('./openchemlib.js').${name}; },`)
        .join('\n')
        .replace(/^/, 'module.exports = {\n')
        .concat('\n};'),
      loader: 'js',
    }));
    bundle.onResolve({ filter: /^\.\/openchemlib\.js$/, namespace: 'on-demand' }, ({ path }) => ({
      path,
      external: true,
    }));
  },
};

/** The licences of all packages that went into the bundles, as most of them ask of whoever passes them on. */
async function notices(inputs) {
  const packages = new Set(inputs.flatMap((input) => input.match(/.*node_modules\/(?:@[^/]+\/)?[^/]+/) ?? []));
  const texts = [...packages].sort().map(async (home) => {
    const { name, version, license } = JSON.parse(await readFile(`${home}/package.json`, 'utf8'));
    const file = (await readdir(home)).find((entry) => /^licen[cs]e/i.test(entry));
    return `${name} ${version} (${license})\n\n${file ? (await readFile(`${home}/${file}`, 'utf8')).trim() : ''}\n`;
  });
  return (await Promise.all(texts)).join(`\n${'-'.repeat(80)}\n\n`);
}

const results = await Promise.all([
  build({ ...common, entryPoints: ['client/extension.ts'], outfile: `${folder}/client.js` }),
  build({ ...common, entryPoints: ['openchemlib'], outfile: `${folder}/openchemlib.js` }),
  build({
    ...common,
    entryPoints: ['server/lsp/main.ts'],
    outfile: `${folder}/server.js`,
    plugins: [structuresOnDemand],
  }),
  build({
    ...common,
    entryPoints: ['server/cli/main.ts'],
    outfile: `${folder}/cli.js`,
    plugins: [structuresOnDemand],
    banner: { js: '#!/usr/bin/env node' },
  }),
]);
await chmod(`${folder}/cli.js`, 0o755);
await writeFile(
  `${folder}/third-party-notices.txt`,
  await notices(results.flatMap(({ metafile }) => Object.keys(metafile.inputs))),
);
