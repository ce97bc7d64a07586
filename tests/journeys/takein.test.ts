import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, onTestFinished, test } from 'vitest';
import { expectNoAxeFindings, openApp } from './journey.ts';

const demoList = join(import.meta.dirname, '..', '..', 'fixtures', 'demo', 'shelf-list.csv');

/** A folder for a new workshop, gone after the test. */
function ownFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'kettlestitch-takein-'));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  return join(folder, 'own');
}

test('the demo list is taken into an empty workshop: one bad row mended, the rest left, and one undo takes it out again', async () => {
  const { page, desk } = await openApp({ workshop: ownFolder() });
  const books = () => desk.place.workshop?.raw.prepare('SELECT count(*) FROM book').pluck().get();
  await page.getByRole('button', { name: 'Take in a list' }).first().click();
  await page.getByRole('heading', { name: 'Take in a list' }).waitFor();
  await expectNoAxeFindings(page);

  await page.getByLabel('List file').setInputFiles(demoList);
  await page.getByRole('heading', { name: '6 rows to mend' }).waitFor();
  expect(await page.getByLabel('What is wrong', { exact: true }).inputValue()).toBe('condition');
  await expectNoAxeFindings(page);

  // Leaving the room does not lose the list; by keyboard alone from here on.
  await page.keyboard.press('Control+2');
  await page.keyboard.press('Control+1');
  await page.goBack();
  await page.goBack();
  const cell = page.getByRole('listitem', { name: 'Line 19' }).getByLabel('H x W x T');
  expect(await cell.inputValue()).toBe('-225 x 143 x 30 mm');
  await cell.fill('225 x 143 x 30 mm');
  await cell.press('Enter');
  await page.getByText('Line 19 can be taken in now.').waitFor();
  await page.getByRole('heading', { name: '5 rows to mend' }).waitFor();

  const file = page.waitForEvent('download');
  await page.getByRole('button', { name: 'Save them as a file', exact: true }).press('Enter');
  expect((await file).suggestedFilename()).toBe('shelf-list to mend.csv');

  await page.getByRole('button', { name: 'Take in 213 books' }).press('Enter');
  await page.getByRole('heading', { name: '213 books are in' }).waitFor();
  expect(books()).toBe(213);
  await expectNoAxeFindings(page);
  await page.keyboard.press('Control+z');
  await page.getByText('Undone: Take in 213 books from shelf-list.csv').waitFor();
  expect(books()).toBe(0);
});

test('a file that is no list is refused in a sentence, and another can be chosen', async () => {
  const { page } = await openApp({ workshop: ownFolder(), expected: [/422/] });
  await page.getByRole('button', { name: 'Take in a list' }).first().click();
  const choose = page.getByLabel('List file');
  await choose.setInputFiles({ name: 'empty.csv', mimeType: 'text/csv', buffer: Buffer.from('') });
  await page.getByText('The file is empty.').waitFor();
  await choose.evaluate((input: HTMLInputElement) => {
    const files = new DataTransfer();
    files.items.add(new File([new Uint8Array(22 * 1024 * 1024)], 'big.csv'));
    input.files = files.files;
    input.dispatchEvent(new Event('change', { bubbles: true }));
  });
  await page.getByText('big.csv has 22 MB; up to 20 MB can be taken in at once.').waitFor();
  await choose.setInputFiles({ name: 'small.csv', mimeType: 'text/csv', buffer: Buffer.from('Title\nMosses') });
  await page.getByRole('button', { name: 'Take in one book' }).waitFor();
});
