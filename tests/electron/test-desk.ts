/** A desk for tests: folders of its own, a log that can be read, and a clock that stands still unless it is moved. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { onTestFinished } from 'vitest';
import type { Desk } from '../../electron/desk/desk.ts';
import { memoryLog } from '../../electron/log.ts';
import { makeSharing } from '../../electron/sharing.ts';

export type TestDesk = Desk & Readonly<{ folder: string; log: ReturnType<typeof memoryLog>; clock: { now: number } }>;

/** Noon on Monday 4 May 2026, UTC. */
export const testNow = Date.UTC(2026, 4, 4, 12);

/** An empty folder that is gone after the test. */
export function temporaryFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'kettlestitch-'));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}

/** A desk with no workshop open; whatever the test opens is closed after it. */
export function testDesk(shell: Desk['shell'] = 'browser'): TestDesk {
  const folder = temporaryFolder();
  const clock = { now: testNow };
  const desk: TestDesk = {
    shell,
    remote: false,
    sharing: makeSharing(
      folder,
      () => clock.now,
      () => [{ name: 'this machine', address: '127.0.0.1' }],
    ),
    version: '0.0.0-test',
    place: { workshop: null },
    now: () => clock.now,
    log: memoryLog(),
    suggestedFolder: join(folder, 'workshop'),
    demoFolder: join(folder, 'demo'),
    folder,
    clock,
  };
  onTestFinished(() => desk.place.workshop?.close());
  return desk;
}
