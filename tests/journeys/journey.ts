/**
 * What a journey starts from:
 *
 *     test('a list is taken in', async () => {
 *       const { page } = await openApp({ demo: true });
 *       await page.getByRole('link', { name: 'Shelf' }).click();
 *       await expectNoAxeFindings(page);
 *     });
 *
 * A journey fails on any console or page error. Where one belongs to the story, say so: `openApp({ expected: [/413/] })`.
 */
import { type Browser, chromium, type Page } from 'playwright-core';
import { expect, inject, onTestFinished } from 'vitest';
import { type App, type AppOptions, axeFindings, startApp } from './app.ts';

let browser: Promise<Browser> | null = null;

/** Starts the program and opens its page; all is closed, and complaints are held against the test, when it ends. */
export async function openApp(options: AppOptions & Readonly<{ expected?: readonly RegExp[] }> = {}): Promise<App> {
  browser ??= chromium.connect(inject('browserAddress'));
  const made = inject('demoFolder');
  const app = await startApp(await browser, { ...options, demoFolder: made === '' ? undefined : made });
  onTestFinished(async () => {
    await app.close();
    const complaints = app.complaints.filter((line) => !options.expected?.some((pattern) => pattern.test(line)));
    expect(complaints, 'the page complained').toEqual([]);
  });
  return app;
}

/** Holds the page as it stands, in both themes, against every rule of axe. */
export async function expectNoAxeFindings(page: Page): Promise<void> {
  expect(await axeFindings(page)).toEqual([]);
}
