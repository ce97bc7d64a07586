import { join } from 'node:path';
import { expect, test } from 'vitest';
import { readSurveyed } from '../../electron/store/books.ts';
import { remainingSteps } from '../../electron/store/remaining.ts';
import { book, material, plan, planTask } from '../../electron/store/schema.ts';
import { temporaryFolder } from '../electron/test-desk.ts';
import { putBooksOnShelf } from './books.ts';
import { expectNoAxeFindings, openApp } from './journey.ts';

const day = 86_400_000;

test('a shortage is seen, ordered by its day, received in part, counted and taken away as lists', async () => {
  const { page, desk } = await openApp({ demo: true, expected: [/422/] });
  putBooksOnShelf(desk);
  planThreeDaysOn('The Tidewater Almanack');
  await page.reload();
  await page.getByRole('navigation', { name: 'Rooms' }).waitFor();
  await page.keyboard.press('Control+4');
  await page.getByRole('heading', { name: 'The cupboard' }).waitFor();

  // Found by typing, opened by Enter.
  await page.getByLabel('Find in the cupboard').fill('mull');
  await page.getByRole('link', { name: 'Mull, starched' }).press('Enter');
  const pane = page.getByRole('region', { name: 'The material' });
  await pane.getByRole('img', { name: /^Balance over 90 days/ }).waitFor();
  await pane.getByText('The Tidewater Almanack').first().waitFor();
  await expectNoAxeFindings(page);

  // A stock-take that differs is asked why.
  await pane.getByRole('radio', { name: 'Counted' }).check();
  await pane.getByLabel('How much is there, m').fill('0,005');
  await pane.getByText('3.5 m less than the ledger says.').waitFor();
  await pane.getByRole('button', { name: 'Enter', exact: true }).click();
  await pane
    .getByRole('alert')
    .getByText(/Say what you think became of the difference/)
    .waitFor();
  await pane.getByLabel('What became of the difference').fill('Lent to a friend');
  await pane.getByRole('button', { name: 'Enter', exact: true }).click();
  await pane.getByText(/“The Tidewater Almanack” \(.*\) finds .* too little\. Ordered today/).waitFor();
  await pane.getByText('Why so much and then').click();
  await pane.getByText(/more would bring it back to nothing missing/).waitFor();
  await expectNoAxeFindings(page);

  await pane.getByRole('button', { name: 'Note 1 pack as ordered' }).click();
  await pane.getByRole('heading', { name: 'On its way' }).waitFor();
  await pane.getByRole('button', { name: 'It came: Mull, starched' }).click();
  await pane.getByLabel('How much came, m').fill('2');
  await pane.getByLabel('The rest is still coming').check();
  await pane.getByRole('button', { name: 'Put it in' }).click();
  await page.getByText('2.01 m of Mull, starched on hand.').waitFor();
  await pane.getByText('3 m due').waitFor();

  // A wrong line stays and is answered.
  await pane
    .getByRole('button', { name: /^This is wrong: .* counted/ })
    .first()
    .click();
  await pane.getByLabel('What was wrong with it').fill('It was on the roller');
  await pane.getByRole('button', { name: 'Enter the opposite' }).click();
  await page.getByText('5.5 m of Mull, starched on hand.').waitFor();
  await page.keyboard.press('Control+z');
  await page.getByText('Undone: Answer a wrong line, Mull, starched').waitFor();

  // Esc closes, the arrows go through the list, and nothing in it is cut off on a narrow page.
  await page.keyboard.press('Escape');
  await pane.waitFor({ state: 'detached' });
  await page.getByLabel('Find in the cupboard').fill('');
  const links = page.locator('.cupboard [data-material]');
  await links.first().press('End');
  expect(await links.last().evaluate((link) => link === document.activeElement)).toBe(true);
  await page.setViewportSize({ width: 390, height: 844 });
  expect(await page.evaluate(() => document.querySelector('.room')!.scrollWidth)).toBeLessThanOrEqual(390);
  await page.setViewportSize({ width: 1280, height: 800 });

  await page.getByRole('button', { name: 'Orders', exact: true }).click();
  await page.getByRole('heading', { name: 'The order list' }).waitFor();
  await page.getByRole('region', { name: 'On its way' }).getByText('Mull, starched').waitFor();
  await expectNoAxeFindings(page);
  for (const [button, name] of [
    ['Print the order list', /^orders-\d{4}-\d\d-\d\d\.pdf$/],
    ['Orders as CSV', /^orders-\d{4}-\d\d-\d\d\.csv$/],
  ] as const) {
    const download = page.waitForEvent('download');
    await page.getByRole('button', { name: button }).click();
    expect((await download).suggestedFilename()).toMatch(name);
  }

  // A lot comes in by hand with its number and its day, and stands at the front of the room until it is written off.
  await page.getByRole('button', { name: 'Cupboard', exact: true }).click();
  await page.getByLabel('Find in the cupboard').fill('methyl');
  await page.getByRole('link', { name: 'Methylcellulose powder' }).press('Enter');
  await pane.getByRole('heading', { name: 'Methylcellulose powder' }).waitFor();
  await pane.getByRole('radio', { name: 'Put in' }).check();
  await pane.getByLabel('How much came, g').fill('25');
  await pane.getByLabel('Batch number').fill('MC 7');
  await pane.getByLabel('Best before').fill('2020-01-31');
  await pane.getByRole('button', { name: 'Enter', exact: true }).click();
  const front = page.getByRole('region', { name: 'Use first' });
  await front.getByText('no. MC 7').waitFor();
  await pane.getByRole('region', { name: 'Lots' }).getByText('best before 31 Jan 2020').waitFor();
  await expectNoAxeFindings(page);
  await front.getByRole('button', { name: /^Write it off/ }).click();
  await front.waitFor({ state: 'detached' });

  // A step finished at the bench is booked out by one key, and what it used stands in the day-book.
  finishFirstStep();
  await page.keyboard.press('Control+6');
  await page.reload();
  const uses = page.getByRole('region', { name: 'Used, as planned' });
  const accept = uses.getByRole('button', { name: /^As planned: / });
  await accept.waitFor();
  await expectNoAxeFindings(page);
  await accept.press('Enter');
  await uses.waitFor({ state: 'detached' });
  await page.getByText(/materials? used$/).click();
  await page
    .getByRole('button', { name: /^This is wrong: / })
    .first()
    .waitFor();
  await page.getByRole('button', { name: 'A period' }).click();
  await page.getByRole('heading', { name: 'Estimated and actual' }).waitFor();
  await expectNoAxeFindings(page);
  await page.keyboard.press('Control+z');
  await page.getByText(/^Undone: Book out the materials of /).waitFor();

  /** The first planned step that needs any material is done. */
  function finishFirstStep(): void {
    const store = desk.place.workshop!;
    const tasks = store.db.select().from(planTask).all();
    const [surveyed] = readSurveyed(store.db, [tasks[0]!.bookId!]);
    const needing = remainingSteps(store.db, surveyed!).find(({ needs }) => needs.some(({ kind }) => kind !== 'mull'));
    const task = tasks.find(({ operationId }) => operationId === needing?.operationId)!;
    const done = store.write('Finish a step', (change) =>
      change.update(planTask, task.id, { state: 'finished', finishedAt: desk.now() }),
    );
    expect(done.ok).toBe(true);
  }

  /** The hand-work of a book on one day of the running weeks, as the Bench would plan it. */
  function planThreeDaysOn(title: string): void {
    const store = desk.place.workshop!;
    const found = store.db
      .select()
      .from(book)
      .all()
      .find((row) => row.title === title)!;
    const startAt = desk.now() + 3 * day;
    const monday = new Date(startAt - ((new Date(startAt).getUTCDay() + 6) % 7) * day).toISOString().slice(0, 10);
    const steps = remainingSteps(store.db, readSurveyed(store.db, [found.id])[0]!);
    const done = store.write('Plan the week', (change) => {
      const planId = change.insert(plan, { kind: 'week', startsOn: monday, madeAt: desk.now(), seed: 1, quality: {} });
      for (const [position, step] of steps.entries()) {
        const { operationId, name } = step;
        const times = { startAt: startAt + position, endAt: startAt + position + 1 };
        const rest = { label: name, kind: 'hands', tools: [], waitsFor: '', state: 'planned' };
        change.insert(planTask, { planId, bookId: found.id, operationId, position, ...times, ...rest });
      }
    });
    expect(done.ok).toBe(true);
  }
});

test('an empty cupboard says what it is for, and the first material is added with its mistakes put right in place', async () => {
  const { page, desk } = await openApp({ workshop: join(temporaryFolder(), 'Elm Yard'), expected: [/422/] });
  await page.getByRole('navigation', { name: 'Rooms' }).waitFor();
  await page.keyboard.press('Control+4');
  await page.getByRole('heading', { name: 'The cupboard is empty' }).waitFor();
  await expectNoAxeFindings(page);
  await page.getByRole('button', { name: 'Add the first material' }).click();
  const form = page.getByRole('region', { name: 'A new material' });
  await form.getByLabel('Name').fill('Kraft paper');
  await form.getByLabel('A pack holds, sheet').fill('-10');
  await form.getByLabel(/^Price of a pack/).fill('9.80');
  await form.getByLabel('Sheet height, mm').fill('1000');
  await form.getByLabel('Sheet width, mm').fill('700');
  await form.getByRole('button', { name: 'Keep' }).click();
  await form.getByRole('alert').getByText('A pack must hold something').waitFor();
  await expectNoAxeFindings(page);
  await form.getByLabel('A pack holds, sheet').fill('10');
  await form.getByRole('button', { name: 'Keep' }).click();
  await page.getByRole('region', { name: 'The material' }).getByRole('heading', { name: 'Kraft paper' }).waitFor();
  expect(desk.place.workshop?.db.select().from(material).all()).toMatchObject([
    { packMillionths: 10_000_000, packPriceMinor: 980, sheetHeightUm: 1_000_000 },
  ]);
});
