/**
 * `npm run pictures`: the demo workshop as a person sees it, light and dark, into fixtures/pictures. The README shows them, and a
 * change of look is seen by making them anew.
 *
 * Another picture is one line in the list: its name, and how to get there from the opened page.
 */
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { createRouterClient } from '@orpc/server';
import type { Page } from 'playwright-core';
import { buildPage } from '../../electron/build.ts';
import type { Desk } from '../../electron/desk/desk.ts';
import { router } from '../../electron/desk/router.ts';
import { addDays, mondayOf } from '../../renderer/bench/time.ts';
import { startApp } from './app.ts';
import { launchBrowser } from './chromium.ts';

type Picture = Readonly<{ name: string; show(page: Page): Promise<unknown> }>;

const pictures: readonly Picture[] = [
  { name: 'shelf', show: (page) => page.keyboard.press('Control+1') },
  {
    name: 'book',
    async show(page) {
      await page.keyboard.press('Control+1');
      await page.locator('.beside-list').getByText('The Orchard of Crowhythe', { exact: true }).last().click();
    },
  },
  {
    name: 'bench',
    async show(page) {
      await page.keyboard.press('Control+2');
      await page.getByRole('button', { name: 'The week after' }).click();
      await page.locator('.week-bar').first().waitFor();
    },
  },
  { name: 'offcuts', show: (page) => enter(page, 3, 'offcuts') },
  { name: 'stockroom', show: (page) => enter(page, 4, 'stockroom') },
  { name: 'course', show: (page) => enter(page, 5, 'course') },
  { name: 'day-book', show: (page) => enter(page, 6, 'day-book') },
  { name: 'reckoner', show: (page) => enter(page, 7, 'reckoner') },
];

/** Goes to a room by its number and waits until it shows something of its own. */
async function enter(page: Page, number: number, key: string): Promise<void> {
  await page.keyboard.press(`Control+${number}`);
  await page.locator(`main#room[data-room="${key}"] :is(h2, table, form, section, ul):visible`).first().waitFor();
}

/** The week planned and the course allocated and laid out, so that the rooms show what they are for. */
async function prepare(desk: Desk): Promise<void> {
  const client = createRouterClient(router, { context: desk });
  const startsOn = addDays(mondayOf(desk.now(), 'Europe/London'), 7);
  const { chosen } = await client.bench.choose({ startsOn, handMinutes: 1200, keep: [], leave: [] });
  const bookIds = chosen.map(({ bookId }) => bookId);
  for await (const _ of await client.bench.plan({ startsOn, bookIds, seconds: 2 }));
  const [line] = await client.course.list();
  if (!line) return;
  for await (const _ of await client.course.allocate({ courseId: line.id, seconds: 20 }));
  for await (const _ of await client.course.plan({ courseId: line.id, seconds: 3 }));
}

const folder = join(import.meta.dirname, '..', '..', 'fixtures', 'pictures');
mkdirSync(folder, { recursive: true });
await buildPage();
const browser = await launchBrowser();
try {
  for (const theme of ['light', 'dark'] as const) {
    const app = await startApp(browser, { demo: true, theme, size: { width: 1280, height: 800 } });
    await prepare(app.desk);
    await app.page.reload();
    await app.page.getByRole('navigation', { name: 'Rooms' }).waitFor();
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
