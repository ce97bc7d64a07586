/** Before any journey: the page is built if its sources are newer, the one browser for all of them started, the demo workshop made once. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { TestProject } from 'vitest/node';
import { buildPage } from '../../electron/build.ts';
import { makeDemoIn } from './app.ts';
import { serveBrowser } from './chromium.ts';

declare module 'vitest' {
  interface ProvidedContext {
    /** Empty when the demo could not be made; journeys that need it then make it themselves and fail with the reason. */
    demoFolder: string;
    browserAddress: string;
  }
}

export async function setup(project: TestProject): Promise<() => Promise<void>> {
  const folder = mkdtempSync(join(tmpdir(), 'kettlestitch-demo-'));
  const [demoFolder, , browser] = await Promise.all([makeDemoIn(folder).catch(() => ''), buildPage(), serveBrowser()]);
  project.provide('demoFolder', demoFolder);
  project.provide('browserAddress', browser.wsEndpoint());
  return async () => {
    await browser.close();
    rmSync(folder, { recursive: true, force: true });
  };
}
