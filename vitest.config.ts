import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    projects: [
      {
        test: {
          name: 'node',
          include: ['tests/{unit,published,properties}/**/*.test.ts'],
          environment: 'node',
          testTimeout: 60_000,
          hookTimeout: 60_000,
          pool: 'forks',
          // Nothing in these files leaves anything behind; a worker loads the modules once.
          isolate: false,
          maxWorkers: 2,
        },
      },
      {
        test: {
          name: 'browser',
          include: ['tests/browser/**/*.test.ts'],
          environment: 'node',
          testTimeout: 120_000,
          hookTimeout: 120_000,
          pool: 'forks',
          fileParallelism: false,
          // Waiting costs nothing where the page is quick; on a loaded machine a second is short.
          expect: { poll: { timeout: 20_000, interval: 50 } },
        },
      },
    ],
  },
});
