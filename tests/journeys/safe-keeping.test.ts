import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { expectNoAxeFindings, openApp } from './journey.ts';

test('a workshop is backed up, gone back to after a look, packed, brought back elsewhere, and printed from one page', async () => {
  const { page, folder, desk } = await openApp({ demo: true });
  await page.getByRole('link', { name: 'Safe keeping' }).click();
  await page.getByRole('button', { name: 'Back up now' }).click();
  await page.getByText('A backup is made, and was opened').waitFor();

  await page.getByRole('link', { name: 'How we work' }).click();
  await page.getByLabel('Its name').fill('Changed by mistake');
  await page.getByLabel('Its name').press('Enter');
  await expect.poll(() => page.title()).toContain('Changed by mistake');

  await page.getByRole('link', { name: 'Safe keeping', exact: true }).first().click();
  await page
    .getByRole('button', { name: /^Go back to/ })
    .first()
    .click();
  const dialog = page.getByRole('dialog');
  await dialog.getByText('the workshop’s own settings become as before').waitFor();
  await dialog.getByRole('button', { name: 'Go back', exact: true }).click();
  await page.getByText('before you went back').waitFor();
  await expect.poll(() => page.title()).not.toContain('Changed by mistake');

  const zip = join(folder, 'workshop.zip');
  await page.getByLabel('Write it to this file').fill(zip);
  await page.getByRole('button', { name: 'Make the zip' }).click();
  await page.getByText('The workshop is in').waitFor();
  expect(existsSync(zip)).toBe(true);
  await page.getByLabel('The zip on this machine').fill(zip);
  await page.getByRole('button', { name: 'See what it holds' }).click();
  await page.getByText('212 books, no photographs').waitFor();
  await expectNoAxeFindings(page);
  await page.getByLabel('Into this new folder').fill(join(folder, 'back'));
  await page.getByRole('button', { name: 'Unpack and open it' }).click();
  await page.locator('main[data-room=shelf]').waitFor();
  expect(desk.place.workshop?.folder).toBe(join(folder, 'back'));

  await page.getByRole('link', { name: 'Prints' }).click();
  const download = page.waitForEvent('download');
  await page.getByRole('button', { name: 'Meals and needs' }).click();
  expect((await download).suggestedFilename()).toMatch(/\.pdf$/);
  await expectNoAxeFindings(page);
});
