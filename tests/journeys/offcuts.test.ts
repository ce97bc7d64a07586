import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { colourDifference } from '../../core/salvage/colour.ts';
import { book, hazard } from '../../electron/store/schema.ts';
import { putBooksOnShelf } from './books.ts';
import { expectNoAxeFindings, openApp } from './journey.ts';

/** A picture drawn in the page: cloth of Lab 32, 11, 16 (CSS means D50) on the left, a card of L* 50 on the right. */
async function brownBesideGrey(page: Page) {
  const address = await page.evaluate(() => {
    const canvas = document.createElement('canvas');
    canvas.width = 200;
    canvas.height = 100;
    const context = canvas.getContext('2d')!;
    context.fillStyle = 'lab(32 11 16)';
    context.fillRect(0, 0, 100, 100);
    context.fillStyle = 'lab(50 0 0)';
    context.fillRect(100, 0, 100, 100);
    return canvas.toDataURL('image/png');
  });
  return { name: 'cloth.png', mimeType: 'image/png', buffer: Buffer.from(address.split(',')[1] ?? '', 'base64') };
}

test('the drawer is searched, a match found and kept, and the piece followed into its book', async () => {
  const { page, desk } = await openApp({ demo: true });
  putBooksOnShelf(desk);
  await page.reload();
  await page.getByRole('navigation', { name: 'Rooms' }).waitFor();
  await page.keyboard.press('Control+3');

  await page.getByText('21 of 21 pieces').waitFor();
  await page.getByLabel('Find').fill('pebble');
  await page.getByText('2 of 21 pieces').waitFor();
  expect(await page.locator('.piece').count()).toBe(2);
  await expectNoAxeFindings(page);
  await page.getByLabel('Find').fill('');

  await page.getByRole('button', { name: 'Put in a piece' }).click();
  await page.getByLabel('Height', { exact: true }).fill('a hand');
  await page.getByLabel('Width', { exact: true }).fill('320');
  await page.getByLabel('Colour in words').fill('brown');
  await page.getByLabel('Pattern').selectOption('morocco');
  await page.getByText('Measure the colour from a photograph').click();
  await page.getByLabel('Photograph', { exact: true }).setInputFiles(await brownBesideGrey(page));
  await page.getByLabel('cloth: width, %').fill('20');
  await page.getByRole('button', { name: 'Measure', exact: true }).click();
  await page.getByText('spread over the patch ΔE00 0.').waitFor();
  await expectNoAxeFindings(page);
  await page.getByRole('button', { name: 'Use this colour' }).click();
  const [l, a, b] = (await page.getByLabel('Colour as Lab, D50').inputValue()).split(', ').map(Number);
  expect(colourDifference([l!, a!, b!], [32, 11, 16])).toBeLessThan(1);
  await page.getByLabel('Years').fill('1850-1880');
  await page.getByRole('button', { name: 'Keep', exact: true }).click();
  await page.getByRole('alert').first().waitFor();
  await page.getByLabel('Height', { exact: true }).fill('16 in');
  await page.getByRole('button', { name: 'Keep', exact: true }).click();
  await page.getByRole('heading', { name: 'brown morocco book cloth, 406 × 320 mm' }).waitFor();
  await page.getByRole('heading', { name: 'Books it would suit' }).waitFor();
  await expectNoAxeFindings(page);

  await page.getByRole('link', { name: 'Find a match' }).click();
  await page.getByRole('link', { name: 'Nine Winters at Sea: book cloth' }).click();
  const pane = page.getByRole('region', { name: 'Pieces for the book' });
  await pane.getByRole('button', { name: 'Keep it for this book: brown morocco book cloth, 406 × 320 mm' }).click();
  await pane.getByRole('button', { name: /Kept for this book/ }).waitFor();
  await expectNoAxeFindings(page);
  await page.getByRole('button', { name: 'Share the drawer out among all' }).click();
  await page.getByRole('heading', { name: 'Shared out' }).waitFor();

  await page.getByRole('link', { name: 'Plan cuts' }).click();
  await page.getByLabel('Material').selectOption('book cloth');
  await page.getByLabel('Cut all').click();
  await page.getByLabel(/^Cut .* for Nine Winters at Sea$/).click();
  await page.getByRole('button', { name: 'Plan 1 line' }).click();
  await page.getByRole('region', { name: 'Sheet 1' }).getByText('brown morocco book cloth').waitFor();
  await page.getByText('Cut away from the hand that holds').waitFor();
  await expectNoAxeFindings(page);
  const download = page.waitForEvent('download');
  await page.getByRole('button', { name: 'Print the cutting sheet' }).click();
  expect((await download).suggestedFilename()).toBe('cutting-book-cloth.pdf');
  await page.getByRole('button', { name: 'It is cut: book it' }).click();
  await page.getByText(/remnants? into the drawer/).waitFor();

  await page.getByRole('link', { name: 'Drawer' }).click();
  await page.getByLabel('Standing').selectOption('used');
  await page.getByRole('link', { name: /brown morocco.*406.4 mm × 320 mm/ }).click();
  await page.getByText('now in').waitFor();
  await page.keyboard.press('Control+z');
  await page.getByText(/Undone: Cut 1 piece of book cloth/).waitFor();
});

test('a wreck is broken for what it yields, and one under a hazard is not', async () => {
  const { page, desk } = await openApp({ demo: true });
  const store = desk.place.workshop!;
  const green = store.db
    .select()
    .from(book)
    .all()
    .find((row) => row.shelfMark === 'W 1')!;
  const written = store.write('Note a hazard', (change) =>
    change.insert(hazard, { bookId: green.id, kind: 'arsenical green', state: 'raised', reason: '', decision: '' }),
  );
  expect(written.ok).toBe(true);
  await page.reload();
  await page.getByRole('navigation', { name: 'Rooms' }).waitFor();
  await page.keyboard.press('Control+3');
  await page.getByRole('link', { name: 'Wrecks' }).click();
  await page.getByRole('link', { name: green.title }).click();
  await page.getByText('Possible arsenical green: not to be broken for salvage').waitFor();
  expect(await page.getByRole('button', { name: /^Break it/ }).count()).toBe(0);

  await page.getByRole('link', { name: 'The Clockmaker of Tarn Dally' }).click();
  const pane = page.getByRole('region', { name: 'The wreck' });
  await pane.getByText('Keep dust low').waitFor();
  await expectNoAxeFindings(page);
  await pane.getByLabel('back free endpaper').click();
  await pane.getByRole('button', { name: 'Break it: 4 pieces' }).click();
  await page.getByText('4 pieces of The Clockmaker of Tarn Dally in the drawer.').waitFor();
});
