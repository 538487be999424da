// Bundles the editor client, the language server and the command line, each into one file.
import { build } from 'esbuild';

const common = {
  bundle: true,
  platform: 'node',
  format: 'cjs',
  target: 'node20',
  minify: true,
  legalComments: 'none',
  loader: { '.csv': 'text', '.tare': 'text' },
  external: ['vscode'],
  logLevel: 'warning',
};

await Promise.all([
  build({ ...common, entryPoints: ['client/extension.ts'], outfile: 'dist/client.js' }),
  build({ ...common, entryPoints: ['server/lsp/main.ts'], outfile: 'dist/server.js' }),
  build({ ...common, entryPoints: ['server/cli/main.ts'], outfile: 'dist/cli.js', banner: { js: '#!/usr/bin/env node' } }),
]);
