import { defineConfig } from 'vitest/config';
import { LongestFirst } from './longest-first.ts';
import { pureFolders } from './pure-folders.ts';

const pure = pureFolders.map((folder) => `tests/${folder}/**/*.test.ts`);

export default defineConfig({
  root: new URL('..', import.meta.url).pathname,
  test: {
    globalSetup: ['tests/build-once.ts'],
    setupFiles: ['tests/seed.ts'],
    testTimeout: 60_000,
    hookTimeout: 60_000,
    maxWorkers: 3,
    sequence: { sequencer: LongestFirst },
    projects: [
      { extends: true, test: { name: 'pure', include: pure, isolate: false } },
      { extends: true, test: { name: 'shell', include: ['tests/**/*.test.ts'], exclude: pure } },
    ],
  },
});
