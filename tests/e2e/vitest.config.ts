import { defineConfig } from 'vitest/config';

// One workbench at a time: two browsers and two editors on a small machine disturb each other's waiting.
export default defineConfig({
  test: {
    root: import.meta.dirname,
    include: ['*.test.mjs'],
    fileParallelism: false,
    testTimeout: 60_000,
    hookTimeout: 120_000,
  },
});
