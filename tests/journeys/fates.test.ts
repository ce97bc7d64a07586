import { expect, test } from 'vitest';
import { book } from '../../electron/store/schema.ts';
import { expectNoAxeFindings, openApp } from './journey.ts';

test('the fates of the shelf are weighed together, looked through, accepted and taken back', async () => {
  const { page, desk } = await openApp({ demo: true });
  await page.getByRole('navigation', { name: 'Rooms' }).waitFor();
  await page.keyboard.press('Control+1');
  await page.getByRole('button', { name: 'Decide fates together' }).click();
  await page.getByRole('heading', { name: 'Decide fates together' }).waitFor();

  const hours = page.getByRole('textbox', { name: 'Bench hours' });
  await hours.fill('many');
  await page.getByText('Give hours as a number').waitFor();
  await hours.fill('60');
  await page.getByRole('button', { name: 'Weigh the shelf' }).click();
  await page.getByText(/No other plan is worth more|The best found so far/).waitFor();
  await expectNoAxeFindings(page);

  const fateOf = () => {
    const rows = desk.place.workshop?.db
      .select({ id: book.id, fate: book.fate, locked: book.fateLocked })
      .from(book)
      .all();
    return new Map(rows?.map((row) => [row.id, row]));
  };
  const before = fateOf();
  const first = page.getByRole('checkbox', { name: /^Take it for/ }).first();
  await first.uncheck();
  await page.getByRole('link', { name: 'Back to the list' }).click();
  await page.goBack();
  expect(await first.isChecked()).toBe(false);

  await page.getByRole('button', { name: /^Accept for/ }).click();
  await page.getByText(/decided\. Ctrl\+Z/).waitFor();
  await page.getByRole('button', { name: 'Nothing to accept' }).waitFor();
  const after = fateOf();
  const changed = [...after.values()].filter((row) => row.fate !== before.get(row.id)?.fate);
  expect(changed.length).toBeGreaterThan(0);
  expect(changed.every((row) => !row.locked)).toBe(true);

  await page.keyboard.press('Control+z');
  await page.getByText(/Undone: Decide the fates/).waitFor();
  expect(fateOf()).toEqual(before);
});
