import { readFileSync } from 'node:fs';
import { defineConfig } from 'vitest/config';

/** Tables and registers as text, as esbuild's text loader puts them into the bundle. */
const asText = {
  name: 'as-text',
  enforce: 'pre' as const,
  load(id: string) {
    return /\.(csv|tare)$/.test(id) ? `export default ${JSON.stringify(readFileSync(id, 'utf8'))}` : undefined;
  },
};

export default defineConfig({
  plugins: [asText],
  test: { include: ['tests/**/*.test.ts'], exclude: ['tests/e2e/**'], testTimeout: 30_000 },
});
