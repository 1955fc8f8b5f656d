import { defineConfig } from 'vitest/config';
import { LongestFirst } from './longest-first.ts';

export default defineConfig({
  root: new URL('..', import.meta.url).pathname,
  test: {
    include: ['tests/**/*.test.ts'],
    globalSetup: ['tests/build-once.ts'],
    setupFiles: ['tests/seed.ts'],
    testTimeout: 60_000,
    hookTimeout: 60_000,
    maxWorkers: 2,
    sequence: { sequencer: LongestFirst },
  },
});
