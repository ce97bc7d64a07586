import { createRouterClient } from '@orpc/server';
import type { Page } from 'playwright-core';
import sharp from 'sharp';
import { expect, test } from 'vitest';
import { router } from '../../electron/desk/router.ts';
import { putBooksOnShelf } from './books.ts';
import { expectNoAxeFindings, openApp } from './journey.ts';

const row = '[role="listbox"][aria-label^="Books"] [role="option"]';

async function openShelf(options: Parameters<typeof openApp>[0] = {}) {
  const app = await openApp({ demo: true, ...options });
  await app.page.locator(row).first().waitFor();
  return app;
}

function pane(page: Page) {
  return page.getByRole('region', { name: 'The book' });
}

async function titleOf(page: Page, at: number): Promise<string> {
  return ((await page.locator(row).nth(at).locator('.row-title').textContent()) ?? '').trim();
}

/** Waits until the quiet sentence says this. */
async function said(page: Page, words: RegExp): Promise<void> {
  await page.locator('.sentence').getByText(words).waitFor();
}

test('from the first screen a person comes to a ranked shelf, every book with its reason and its spine', async () => {
  const { page } = await openApp();
  await page.getByRole('button', { name: 'Open the demo workshop' }).click();
  await page.locator(row).first().waitFor();
  expect(await page.locator(row).first().getAttribute('aria-posinset')).toBe('1');
  expect(Number(await page.locator(row).first().getAttribute('aria-setsize'))).toBeGreaterThan(150);
  expect(await page.locator('.row-why').first().textContent()).not.toBe('');
  const spines = page.getByRole('group', { name: /^Spines/ }).getByRole('button');
  await spines.nth(20).waitFor();
  await page.locator(row).nth(2).click();
  const title = await titleOf(page, 2);
  await pane(page).getByRole('heading', { level: 2, name: title }).waitFor();
  expect(await pane(page).locator('.reasons tbody tr').count()).toBe(4);
  await expectNoAxeFindings(page);
});

test('an empty workshop says what the shelf is for and takes the first book at once', async () => {
  const { page } = await openApp();
  await page.getByRole('button', { name: 'Start an empty workshop' }).click();
  await page.getByRole('heading', { name: 'The shelf is empty' }).waitFor();
  await expectNoAxeFindings(page);
  await page.getByRole('button', { name: 'Put in a book' }).click();
  await page.locator('input:focus').waitFor();
  await page.keyboard.type('Rambles in Dorset');
  await page.getByLabel('Height × width × thickness').fill('7 1/2 x 5 x 1 1/4 in');
  await page.getByLabel('Format').fill('crown 8vo');
  await page.getByLabel('Lot').fill('Attic sale');
  await page.getByLabel('Place').fill('Case 2');
  await page.keyboard.press('Enter');
  await said(page, /“Rambles in Dorset” is on the shelf/);
  // Typing goes on in the title; lot, place and format are still there.
  await page.keyboard.type('Ferns of the Combe');
  expect(await page.getByLabel('Format').inputValue()).toBe('crown 8vo');
  await page.keyboard.press('Enter');
  await said(page, /Ferns of the Combe/);
  await page.locator('.row-title', { hasText: 'Ferns of the Combe' }).click();
  await pane(page).getByText('from Attic sale').waitFor();
  await page.locator('.row-title', { hasText: 'Rambles' }).click();
  await pane(page).locator('.pane-facts').getByText('190.5 mm').waitFor();
  await expectNoAxeFindings(page);
});

test('a book is surveyed by keys, its treatment agreed, and both taken back with a sentence that says so', async () => {
  const { page, desk } = await openApp();
  await page.getByRole('button', { name: 'Start an empty workshop' }).click();
  await page.getByRole('heading', { name: 'The shelf is empty' }).waitFor();
  putBooksOnShelf(desk);
  await page.reload();
  await page.locator('.row-title', { hasText: 'Ferns of the North Combe' }).click();
  const entry = pane(page).getByLabel(/^Add a finding/);
  await entry.fill('joi spl 3 x2: from the head');
  await pane(page).getByText('joints split, severe, 2: from the head').waitFor();
  await entry.press('Enter');
  await pane(page).getByRole('button', { name: 'Change joints split' }).waitFor();
  expect(await entry.inputValue()).toBe('');

  await entry.fill('windows broken');
  await entry.press('Enter');
  await pane(page).getByText('is not a part and a damage known here').waitFor();
  expect(await entry.inputValue()).toBe('windows broken');
  await entry.fill('');

  await pane(page).locator('.step').first().waitFor();
  expect(await pane(page).locator('.step .notice-caution').count()).toBeGreaterThan(0);
  await pane(page).getByRole('button', { name: 'Agree to this treatment' }).click();
  await pane(page).getByRole('heading', { name: 'Agreed treatment' }).waitFor();
  await expectNoAxeFindings(page);

  await page.keyboard.press('Control+z');
  await said(page, /^Undone: Agree to the treatment of “Ferns of the North Combe”/);
  await pane(page).getByRole('heading', { name: 'Proposed treatment' }).waitFor();
  await page.keyboard.press('Control+z');
  await said(page, /^Undone: Note joints split/);
  await pane(page).getByRole('button', { name: 'Change joints split' }).waitFor({ state: 'detached' });
  await page.keyboard.press('Control+Shift+z');
  await said(page, /^Done again: Note joints split/);
  await pane(page).getByRole('button', { name: 'Change joints split' }).waitFor();

  // A photograph is added, a ring put round the damage by keys, and both stand in the record that goes with the book.
  const buffer = await sharp({ create: { width: 480, height: 360, channels: 3, background: '#3f5a3a' } })
    .jpeg()
    .toBuffer();
  const photographs = pane(page).locator('#pane-photographs');
  await photographs.getByLabel('Add photographs').setInputFiles({ name: 'spine.jpg', mimeType: 'image/jpeg', buffer });
  await photographs.getByRole('button', { name: 'Photograph: before' }).click();
  const dialog = page.getByRole('dialog');
  await dialog.getByRole('button', { name: 'Ring' }).click();
  const move = dialog.getByRole('button', { name: 'Move ring 1' });
  await move.focus();
  await page.keyboard.press('Shift+ArrowDown');
  await dialog.getByLabel('Words at ring 1').fill('split from the head');
  await dialog.locator('.mark-words', { hasText: 'split from the head' }).waitFor();
  await expectNoAxeFindings(page);
  await dialog.getByRole('button', { name: 'Close' }).click();
  await photographs.getByText('a mark').waitFor();
  await photographs.getByRole('link', { name: 'Its treatment record' }).click();
  const paper = page.getByRole('region', { name: 'How the record reads now' });
  await paper.getByRole('img', { name: 'before treatment' }).waitFor();
  await page.getByLabel('Condition after').fill('Opens freely.');
  await paper.getByText('Opens freely.').waitFor();
});

test('a hazard keeps a book from its treatment until somebody writes down what was decided', async () => {
  const { page } = await openShelf({ expected: [/422/] });
  await page.getByLabel('Hazard', { exact: true }).selectOption('undecided');
  await page
    .locator('.toolbar-total')
    .getByText(/^\d\d? books?$/)
    .waitFor();
  await page.locator(row).first().click();
  const hazards = pane(page).getByRole('region', { name: 'Hazards' });
  await hazards.getByText('ask an accredited conservator').waitFor();
  const open = await hazards.getByRole('button', { name: 'Clear it' }).count();
  expect(open).toBeGreaterThan(0);
  await hazards.getByRole('button', { name: 'Clear it' }).first().click();
  await hazards.getByText('Write down what you looked at').waitFor();
  for (let left = open; left > 0; left--) {
    await hazards
      .getByLabel(/^What you looked at/)
      .first()
      .fill('Swabbed at the bench: no colour came off.');
    await hazards.getByRole('button', { name: 'Clear it' }).first().click();
    await hazards
      .getByText('no colour came off')
      .nth(open - left)
      .waitFor();
  }
  await expectNoAxeFindings(page);
  const agree = pane(page).getByRole('button', { name: 'Agree to this treatment' });
  if ((await agree.count()) > 0) expect(await agree.isEnabled()).toBe(true);
});

test('a field keeps what is typed as it is typed, and what is refused stays in it with the reason', async () => {
  const { page } = await openShelf();
  await page.locator(row).first().click();
  const height = pane(page).getByLabel('Height', { exact: true });
  await height.fill('minus three');
  await height.blur();
  await pane(page).locator('.field-trouble').waitFor();
  expect(await height.inputValue()).toBe('minus three');
  await height.fill('8 3/4 in');
  await pane(page).locator('.saved-told', { hasText: 'kept' }).first().waitFor();
  expect(await height.inputValue()).toMatch(/^222\.[23] mm$/);
  await pane(page).locator('.pane-facts').getByText('8 3/4 in').waitFor();
});

test('by keyboard alone: to the list, down it, open, through the book and out; mark, change many, and back', async () => {
  const { page } = await openShelf();
  await page.getByRole('searchbox', { name: 'Search the shelf' }).focus();
  await page.keyboard.press('ArrowDown');
  await page.keyboard.press('ArrowDown');
  await page.keyboard.press('Enter');
  const second = await titleOf(page, 1);
  await pane(page).getByRole('heading', { level: 2, name: second }).waitFor();
  // The pane follows the list.
  await page.keyboard.press('ArrowDown');
  const third = await titleOf(page, 2);
  await pane(page).getByRole('heading', { level: 2, name: third }).waitFor();
  await page.keyboard.press('Escape');
  await pane(page).waitFor({ state: 'detached' });

  await page.keyboard.press('End');
  const books = await page.locator(row).first().getAttribute('aria-setsize');
  await page.locator(`${row}[aria-posinset="${books}"].row-active`).waitFor();
  await page.keyboard.press('Home');
  await page.locator(`${row}[aria-posinset="1"].row-active`).waitFor();
  await page.keyboard.press('Space');
  await page.keyboard.press('Shift+ArrowDown');
  const marked = page.getByRole('region', { name: 'Marked books' });
  await marked.getByText('2 marked').waitFor();
  await expectNoAxeFindings(page);
  await marked.getByLabel('Change', { exact: true }).selectOption('place');
  await marked.getByLabel('To').fill('Top shelf');
  await marked.getByRole('button', { name: 'Change all 2' }).press('Enter');
  await said(page, /^2 books changed/);
  await page.locator('.row-about', { hasText: 'Top shelf' }).nth(1).waitFor();
  await page.keyboard.press('Control+z');
  await page.locator('.row-about', { hasText: 'Top shelf' }).first().waitFor({ state: 'detached' });
});

test('letters typed in the list search it at once, and Ctrl+K finds a book from any room', async () => {
  const { page } = await openShelf();
  const title = await titleOf(page, 4);
  await page.keyboard.press('Control+5');
  await page.keyboard.press('Control+k');
  const field = page.getByRole('combobox', { name: /^Find a book/ });
  await field.fill(title);
  await page.getByRole('option').filter({ hasText: title }).first().waitFor();
  await expectNoAxeFindings(page);
  await page.keyboard.press('Enter');
  await pane(page).getByRole('heading', { level: 2 }).waitFor();
  await page.keyboard.press('Escape');
  await page.locator('[role="listbox"]').focus();
  await page.keyboard.type('sermon');
  expect(await page.getByRole('searchbox', { name: 'Search the shelf' }).inputValue()).toBe('sermon');
  await page.keyboard.type(' zzz');
  await page.getByText('No book answers this').waitFor();
  await page.getByRole('button', { name: 'Show all' }).click();
  await page.locator(row).first().waitFor();
});

test.each([
  ['1024 × 700', { width: 1024, height: 700 }],
  ['390 × 844', { width: 390, height: 844 }],
] as const)(
  'at %s a row says why it stands there, every room is in sight, the details never cover the list',
  async (_, size) => {
    const { page } = await openShelf({ size });
    expect(await page.locator(row).first().locator('.row-reason').isVisible()).toBe(true);
    const rooms = page.getByRole('navigation', { name: 'Rooms' }).getByRole('link');
    for (const room of await rooms.all()) {
      const box = await room.boundingBox();
      expect((box?.x ?? size.width) + (box?.width ?? 0)).toBeLessThanOrEqual(size.width);
    }
    await expectNoAxeFindings(page);
    const overflow = () =>
      page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
    expect(await overflow()).toBe(0);
    await page.locator(row).nth(1).click();
    await pane(page).getByRole('heading', { level: 2 }).waitFor();
    expect(await overflow()).toBe(0);
    const list = await page.locator('[role="listbox"]').boundingBox();
    const details = await pane(page).boundingBox();
    if (list !== null && details !== null) expect(details.x).toBeGreaterThanOrEqual(list.x + list.width - 1);
    await expectNoAxeFindings(page);
    await pane(page)
      .getByRole('button', { name: /^Close/ })
      .click();
    await page.locator(row).first().waitFor();
  },
);

test('the theme follows the system until a person says otherwise', async () => {
  const { page } = await openShelf({ theme: 'dark' });
  const ground = () => page.evaluate(() => getComputedStyle(document.body).backgroundColor);
  const dark = await ground();
  await page.emulateMedia({ colorScheme: 'light' });
  expect(await ground()).not.toBe(dark);
  await page.getByRole('button', { name: /^Theme: As the system/ }).click();
  await page.getByRole('button', { name: /^Theme: Light/ }).click();
  expect(await ground()).toBe(dark);
  await page.reload();
  await page.locator(row).first().waitFor();
  expect(await ground()).toBe(dark);
});

test('the workshop is told its hours, its units and what is urgent, and the shelf follows', async () => {
  const { page } = await openShelf();
  const before = await page.locator('.row-title').allTextContents();
  await page.getByRole('link', { name: 'How we work' }).click();
  await page.getByRole('heading', { name: 'How this workshop works' }).waitFor();
  await expectNoAxeFindings(page);
  const saturday = page.getByLabel('Saturday');
  await saturday.fill('10-9');
  await saturday.blur();
  await page.getByText('“10-9” ends before it begins.').waitFor();
  await saturday.fill('10-12.30');
  await saturday.blur();
  await page.locator('.saved-told', { hasText: 'kept' }).first().waitFor();
  expect(await saturday.inputValue()).toBe('10:00–12:30');
  await page.getByLabel('Measures in').selectOption('in');
  await page.getByLabel('decay').selectOption('0');
  await page.getByLabel('use').selectOption('10');
  await page.locator('.saved-told', { hasText: 'kept' }).nth(1).waitFor();
  await page.keyboard.press('Control+1');
  await page.locator(row).first().click();
  await pane(page)
    .locator('.pane-facts')
    .getByText(/^\d+( \d+\/\d+)? in/)
    .first()
    .waitFor();
  await expect.poll(() => page.locator('.row-title').allTextContents()).not.toEqual(before);
});

test('a title without end takes three lines until all of it is asked for, and a book nobody surveyed says so', async () => {
  const { page, desk } = await openShelf();
  const client = createRouterClient(router, { context: desk });
  const { book } = await client.shelf.create({ title: 'On hedges and their keeping '.repeat(140) });
  await page.evaluate((id) => {
    location.hash = `#/shelf/${id}`;
  }, book.id);
  const heading = pane(page).getByRole('heading', { level: 2 });
  await heading.getByText('On hedges').waitFor();
  const height = async () => (await heading.locator('.clamped').boundingBox())?.height ?? 0;
  const short = await height();
  expect(short).toBeLessThan(120);
  await heading.getByRole('button', { name: 'Show all' }).click();
  expect(await height()).toBeGreaterThan(2 * short);
  await pane(page).getByText('survey first', { exact: true }).waitFor();
  await pane(page)
    .getByText(/Score 0 until it is surveyed/)
    .waitFor();
  await page.getByRole('searchbox', { name: 'Search the shelf' }).fill('on hedges and their keeping');
  const only = page.locator(row, { hasText: 'On hedges' }).first();
  await only.getByText('survey first', { exact: true }).waitFor();
  await only.getByText('not known yet', { exact: true }).waitFor();
  await expectNoAxeFindings(page);
});
