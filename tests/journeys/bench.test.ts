import { expect, test } from 'vitest';
import { entry } from '../../electron/store/schema.ts';
import { putBooksOnShelf } from './books.ts';
import { expectNoAxeFindings, openApp } from './journey.ts';

test('a week is chosen, planned, begun and printed', async () => {
  const { page, desk } = await openApp({ demo: true });
  putBooksOnShelf(desk);
  await page.reload();
  await page.getByRole('navigation', { name: 'Rooms' }).waitFor();
  await page.keyboard.press('Control+2');

  await page.getByRole('button', { name: 'The week after' }).click();
  await page.getByRole('button', { name: 'Choose the books' }).first().click();
  const choose = page.getByRole('region', { name: 'Choose the books' });
  await choose.getByText('Ferns of the North Combe').waitFor();
  await choose.getByRole('button', { name: 'Leave out: Practical Hedging' }).click();
  await choose
    .getByRole('button', { name: 'Put in: Practical Hedging' })
    .or(choose.getByText('No other set'))
    .first()
    .waitFor();
  await expectNoAxeFindings(page);
  await choose.getByRole('button', { name: 'Plan the week' }).click();

  await page.getByRole('button', { name: 'Stop, keep the best' }).click();
  await page.getByText('The last book is out').waitFor();
  await page.getByText(/weeks in 100 like this one hold/).waitFor();
  const bars = page.locator('.week-bar');
  expect(await bars.count()).toBeGreaterThan(10);
  await bars.first().press('Enter');
  const pane = page.getByRole('complementary').filter({ hasText: 'Why then' });
  await pane.waitFor();
  await expectNoAxeFindings(page);

  const now = page.getByRole('region', { name: 'What to do now' });
  await now.getByRole('button', { name: 'Start' }).click();
  await now.getByText(/so far/).waitFor();
  await now.getByRole('button', { name: 'Finish' }).click();
  await expect.poll(() => desk.place.workshop?.db.select().from(entry).all().length).toBeLessThanOrEqual(1);
  await page.keyboard.press('Control+z');
  await page.getByText(/Undone: Finish/).waitFor();

  const download = page.waitForEvent('download');
  await page.getByRole('button', { name: 'Print the week' }).click();
  expect((await download).suggestedFilename()).toMatch(/^bench-week-\d{4}-\d\d-\d\d\.pdf$/);
});
