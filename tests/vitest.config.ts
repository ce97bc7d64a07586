import { defineConfig } from 'vitest/config';

// Fast ones first: arithmetic and engines, then the shell on a real database, then a person's journeys in a real browser.
export default defineConfig({
  test: {
    root: new URL('..', import.meta.url).pathname,
    reporters: ['default', './tests/tally.ts'],
    // Journeys wait more than they work, so every core may have one.
    maxWorkers: '100%',
    projects: [
      {
        test: { name: 'core', include: ['tests/core/**/*.test.ts'], sequence: { groupOrder: 0 }, testTimeout: 30_000 },
      },
      {
        test: {
          name: 'electron',
          include: ['tests/electron/**/*.test.ts'],
          globalSetup: ['tests/electron/build-shell.ts'],
          sequence: { groupOrder: 1 },
          testTimeout: 30_000,
          hookTimeout: 60_000,
        },
      },
      {
        test: {
          name: 'journeys',
          include: ['tests/journeys/**/*.test.ts'],
          sequence: { groupOrder: 2 },
          globalSetup: ['tests/journeys/build-page.ts'],
          testTimeout: 60_000,
          hookTimeout: 60_000,
        },
      },
    ],
  },
});
