import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { expectNoAxeFindings, openApp } from './journey.ts';

const rooms = ['Shelf', 'Bench', 'Offcuts', 'Stockroom', 'Course', 'Day-book', 'Reckoner'];

test('the first start offers the demo, and opens it at the Shelf', async () => {
  const { page, desk } = await openApp();
  await page.getByRole('heading', { name: 'Kettlestitch' }).waitFor();
  await expectNoAxeFindings(page);
  await page.getByRole('button', { name: 'Open the demo workshop' }).click();
  const rail = page.getByRole('navigation', { name: 'Rooms' });
  await rail.waitFor();
  expect(await rail.getByRole('link').allInnerTexts()).toEqual(rooms);
  expect(existsSync(join(desk.demoFolder, 'workshop.sqlite'))).toBe(true);
  expect(await rail.getByRole('link', { name: 'Shelf' }).getAttribute('aria-current')).toBe('page');
});

test('Ctrl+1 to Ctrl+7 go to the seven rooms, and axe finds nothing in any of them in either theme', async () => {
  const { page } = await openApp({ demo: true });
  const rail = page.getByRole('navigation', { name: 'Rooms' });
  await rail.waitFor();
  for (const [index, room] of rooms.entries()) {
    await page.keyboard.press(`Control+${index + 1}`);
    await rail.locator('[aria-current=page]', { hasText: room }).waitFor();
    await page.waitForLoadState('networkidle');
    await expectNoAxeFindings(page);
  }
});

test('a used address opens nothing, and says where a new one comes from', async () => {
  const { page } = await openApp({ expected: [/401/] });
  const home = page.url();
  await page.context().clearCookies();
  await page.goto(home);
  await page.getByRole('heading', { name: 'This workshop is locked' }).waitFor();
  await page.goto(`${home}enter#key=used`);
  await page.getByRole('heading', { name: 'This workshop is locked' }).waitFor();
  expect(page.url()).toBe(`${home}enter`);
});

test('a file too large to take in is refused in a sentence the page can show, not by a broken connection', async () => {
  const { page } = await openApp({ expected: [/413/] });
  const answer = await page.evaluate(async () => {
    const body = JSON.stringify({ json: { folder: '/x', name: 'x'.repeat(34 * 1024 * 1024) } });
    const headers = { 'content-type': 'application/json' };
    const reply = await fetch('/ask/workshop/create', { method: 'POST', headers, body });
    return { status: reply.status, said: await reply.json() };
  });
  expect(answer.status).toBe(413);
  expect(answer.said.json.message).toMatch(/^This is larger than the 32 MB .*Nothing was kept/);
});
