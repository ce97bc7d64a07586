/**
 * `npm run pictures`: the demo workshop as a person sees it, light and dark, into fixtures/pictures. The README shows them, and a
 * change of look is seen by making them anew.
 *
 * Another picture is one line in the list: its name, and how to get there from the opened page.
 */
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { buildPage } from '../../electron/build.ts';
import { startApp } from './app.ts';
import { launchBrowser } from './chromium.ts';

type Picture = Readonly<{ name: string; show(page: Page): Promise<unknown> }>;

const rooms = ['Shelf', 'Bench', 'Offcuts', 'Stockroom', 'Course', 'Day-book', 'Reckoner'] as const;

const pictures: readonly Picture[] = rooms.map((room, index) => ({
  name: room.toLowerCase(),
  show: (page) => page.keyboard.press(`Control+${index + 1}`),
}));

const folder = join(import.meta.dirname, '..', '..', 'fixtures', 'pictures');
mkdirSync(folder, { recursive: true });
await buildPage();
const browser = await launchBrowser();
try {
  for (const theme of ['light', 'dark'] as const) {
    const app = await startApp(browser, { demo: true, theme, size: { width: 1280, height: 800 } });
    for (const { name, show } of pictures) {
      await show(app.page);
      await settled(app.page);
      await app.page.screenshot({ path: join(folder, `${name}-${theme}.png`) });
      console.log(`fixtures/pictures/${name}-${theme}.png`);
    }
    for (const complaint of app.complaints) console.error(complaint);
    if (app.complaints.length > 0) process.exitCode = 1;
    await app.close();
  }
} finally {
  await browser.close();
}

/** Fonts are there and nothing has been asked for a moment. */
async function settled(page: Page): Promise<void> {
  await page.waitForLoadState('networkidle');
  await page.evaluate(() => document.fonts.ready);
  await page.waitForTimeout(150);
}
