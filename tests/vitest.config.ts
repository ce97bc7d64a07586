import { existsSync, statfsSync } from 'node:fs';
import { defineConfig } from 'vitest/config';

/** Where the system keeps files in memory: every change of a workshop waits for its disk, and the tests make thousands. */
const inMemory = '/dev/shm';

function hasRoom(folder: string): boolean {
  if (!existsSync(folder)) return false;
  const { bavail, bsize } = statfsSync(folder);
  return bavail * bsize > 2 * 1024 ** 3;
}

// Fast ones first: arithmetic and engines, then the shell on a real database, then a person's journeys in a real browser.
export default defineConfig({
  test: {
    root: new URL('..', import.meta.url).pathname,
    reporters: ['default', './tests/tally.ts'],
    // Files of one worker share their modules: none keeps anything between tests but the browser's connection.
    // Journeys wait more than they work, so every core may have one.
    maxWorkers: '100%',
    env: hasRoom(inMemory) ? { TMPDIR: inMemory } : {},
    projects: [
      {
        test: {
          name: 'core',
          isolate: false,
          include: ['tests/core/**/*.test.ts'],
          sequence: { groupOrder: 0 },
          testTimeout: 30_000,
        },
      },
      {
        test: {
          name: 'electron',
          isolate: false,
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
          isolate: false,
          include: ['tests/journeys/**/*.test.ts'],
          sequence: { groupOrder: 2 },
          globalSetup: ['tests/journeys/build-page.ts'],
          // A slow machine is waited for; what never comes still fails.
          expect: { poll: { timeout: 15_000 } },
          testTimeout: 90_000,
          hookTimeout: 60_000,
        },
      },
    ],
  },
});
