/** Before any journey: the page is built if its sources are newer, the browser unpacked, the demo workshop made once. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { TestProject } from 'vitest/node';
import { buildPage } from '../../electron/build.ts';
import { makeDemoIn } from './app.ts';
import { launchBrowser } from './chromium.ts';

declare module 'vitest' {
  interface ProvidedContext {
    /** Empty when the demo could not be made; journeys that need it then make it themselves and fail with the reason. */
    demoFolder: string;
  }
}

export async function setup(project: TestProject): Promise<() => void> {
  const folder = mkdtempSync(join(tmpdir(), 'kettlestitch-demo-'));
  const [demoFolder] = await Promise.all([
    makeDemoIn(folder).catch(() => ''),
    buildPage(),
    launchBrowser().then((browser) => browser.close()),
  ]);
  project.provide('demoFolder', demoFolder);
  return () => rmSync(folder, { recursive: true, force: true });
}
