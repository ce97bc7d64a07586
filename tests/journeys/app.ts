/** The whole program on a folder of its own, in a real browser: the built page, the browser shell, the desk, a database. */
import { cpSync, existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createRouterClient } from '@orpc/server';
import axe from 'axe-core';
import type { Browser, Page } from 'playwright-core';
import { openBrowserShell } from '../../electron/browser.ts';
import { builtPage } from '../../electron/build.ts';
import type { Desk } from '../../electron/desk/desk.ts';
import { router } from '../../electron/desk/router.ts';
import { readPageFiles } from '../../electron/page-files.ts';
import { closeDesk, makeDesk, openFirst } from '../../electron/workplace.ts';

export type AppOptions = Readonly<{
  /** Start in the demo workshop. */
  demo?: boolean;
  /** Start in this workshop folder; it is made if it is not there. */
  workshop?: string;
  size?: Readonly<{ width: number; height: number }>;
  theme?: 'light' | 'dark';
  /** A demo workshop made earlier, copied instead of made anew. */
  demoFolder?: string | undefined;
}>;

export type App = Readonly<{
  page: Page;
  desk: Desk;
  /** A folder of this app's own; `join(folder, 'other')` is free for a second workshop. */
  folder: string;
  /** Console errors, page errors and failed requests so far, oldest first. */
  complaints: string[];
  close(): Promise<void>;
}>;

export async function startApp(browser: Browser, options: AppOptions = {}): Promise<App> {
  const folder = mkdtempSync(join(tmpdir(), 'kettlestitch-journey-'));
  const folders = { state: join(folder, 'state'), home: folder };
  const desk = makeDesk('browser', folders);
  const complaints: string[] = [];
  if (options.demo && options.demoFolder !== undefined && existsSync(options.demoFolder)) {
    cpSync(options.demoFolder, desk.demoFolder, { recursive: true });
  }
  const refused = await openFirst(desk, folders, {
    browser: true,
    demo: options.demo ?? false,
    workshop: options.workshop ?? null,
    port: null,
  });
  if (refused !== null) complaints.push(`not opened: ${refused}`);

  const shell = await openBrowserShell({ context: desk, router, page: readPageFiles(builtPage) });
  const context = await browser.newContext({
    viewport: options.size ?? { width: 1280, height: 800 },
    colorScheme: options.theme ?? 'light',
    reducedMotion: 'reduce',
    locale: 'en-GB',
    timezoneId: 'Europe/London',
  });
  const page = await context.newPage();
  page.setDefaultTimeout(20_000);
  page.on('console', (message) => {
    if (message.type() === 'error') complaints.push(`console: ${message.text()}`);
  });
  page.on('pageerror', (error) => complaints.push(`page: ${error.stack ?? error.message}`));
  await page.goto(shell.newAddress());
  await page.waitForURL(`http://127.0.0.1:${shell.port}/`);

  return {
    page,
    desk,
    folder,
    complaints,
    async close() {
      await context.close();
      await shell.close();
      closeDesk(desk);
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

/** Makes the demo workshop in `folder`, for many apps to start from copies of it. Throws the refusal's sentence. */
export async function makeDemoIn(folder: string): Promise<string> {
  const desk = makeDesk('browser', { state: join(folder, 'state'), home: folder });
  try {
    await createRouterClient(router, { context: desk }).workshop.openDemo();
    return desk.demoFolder;
  } finally {
    closeDesk(desk);
  }
}

/**
 * What axe finds on the page as it stands, in both themes; a line a finding, with the elements it is about.
 * The dark theme is asked for contrast alone: names, roles and order do not change with the colours.
 */
export async function axeFindings(page: Page): Promise<string[]> {
  const found: string[] = [];
  for (const [colorScheme, rules] of [
    ['light', null],
    ['dark', ['color-contrast', 'link-in-text-block']],
  ] as const) {
    await page.emulateMedia({ colorScheme });
    // Not a script element: the page's own policy refuses those.
    if (!(await page.evaluate(() => 'axe' in globalThis))) await page.evaluate(axe.source);
    const violations = await page.evaluate(async (only) => {
      const here = globalThis as unknown as { axe: typeof import('axe-core') };
      const options = only === null ? {} : { runOnly: { type: 'rule' as const, values: [...only] } };
      return (await here.axe.run(document, { ...options, resultTypes: ['violations'] })).violations;
    }, rules);
    for (const { id, help, nodes } of violations) {
      const where = nodes.map(
        (node) => `${node.target.join(' ')} ${node.failureSummary?.split('\n')[1]?.trim() ?? ''}`,
      );
      found.push(`${colorScheme}: ${id} (${help}): ${where.join('; ')}`);
    }
  }
  return found;
}
