import { expect, test } from 'vitest';
import { keptSample } from '../../electron/store/backlog.ts';
import { finding } from '../../electron/store/schema.ts';
import { expectNoAxeFindings, openApp } from './journey.ts';

test('the backlog is sized up: a sample is drawn, printed as a walk, surveyed, and tells hours and hazards with a range', async () => {
  const { page, desk } = await openApp({ demo: true });
  await page.getByRole('navigation', { name: 'Rooms' }).waitFor();
  await page.keyboard.press('Control+1');
  await page.getByRole('button', { name: 'Size up the backlog' }).click();
  await page.getByRole('combobox', { name: 'A share known within' }).selectOption('0.2');
  await page.getByRole('combobox', { name: 'Drawn' }).selectOption('nothing');
  await page.getByText(/a backlog without end would take 24\.0/).waitFor();
  await expectNoAxeFindings(page);
  await page.getByRole('button', { name: 'Draw the books' }).click();
  await page.getByText(/0 of \d+ drawn books are surveyed/).waitFor();

  const download = page.waitForEvent('download');
  await page.getByRole('button', { name: 'Print the walk' }).click();
  expect((await download).suggestedFilename()).toMatch(/^survey-walk-.*\.pdf$/);

  const store = desk.place.workshop!;
  const drawn = keptSample(store.db)?.strata.flatMap((stratum) => stratum.drawn) ?? [];
  store.write('Survey the walk', (change) => {
    for (const [at, bookId] of drawn.entries()) {
      const damage = at % 2 === 0 ? 'split' : 'loose';
      change.insert(finding, { bookId, part: 'joints', damage, severity: at % 3 === 0 ? 3 : 1, count: null, note: '' });
    }
  });
  await page.reload();
  await page.getByText(`${drawn.length} of ${drawn.length} drawn books are surveyed`).waitFor();
  await page.getByText('Books under a hazard').waitFor();
  await page.getByText('The books, along the shelves').click();
  expect(await page.getByRole('img', { name: 'surveyed' }).count()).toBe(drawn.length);
  await expectNoAxeFindings(page);
});
