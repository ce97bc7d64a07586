import { test } from 'vitest';
import { expectNoAxeFindings, openApp } from './journey.ts';

test('people of a course tell what they need, are given beds, written to, ticked off, and erased for good', async () => {
  const { page } = await openApp({ demo: true, expected: [/422/] });
  await page.getByRole('navigation', { name: 'Rooms' }).waitFor();
  await page.keyboard.press('Control+5');
  await page.getByRole('heading', { name: 'Cloth bindings, a week at the bench' }).waitFor();
  await page.getByRole('button', { name: 'People', exact: true }).click();

  // A room against a stated need is refused; everybody who can be is placed, and meals are counted.
  await page.getByRole('button', { name: /^What Casimir Hale told/ }).click();
  const told = page.getByRole('dialog', { name: 'What Casimir Hale told' });
  await told.getByLabel('step-free').check();
  await told.getByLabel('Must not eat').fill('walnuts');
  await expectNoAxeFindings(page);
  await told.getByRole('button', { name: 'Keep', exact: true }).click();
  await page.getByText('What Casimir Hale told is kept.').waitFor();
  await page.getByRole('button', { name: 'Residence', exact: true }).click();
  await page.getByLabel('Name of the room').fill('Loft');
  await page.getByLabel('Beds', { exact: true }).fill('9');
  await page.getByRole('button', { name: 'Add the room' }).click();
  await page.getByText('Loft is kept.').waitFor();
  await page.getByLabel('Room of Casimir Hale').selectOption({ label: 'Loft' });
  await page.getByText('Loft is not step-free, which Casimir Hale needs.').waitFor();
  await page.getByRole('button', { name: 'Place everybody' }).click();
  await page.getByText('No room is step-free, as Casimir Hale needs.').waitFor();
  await page.getByText('1 of 5 have no bed yet.').waitFor();
  await page.getByText('Casimir Hale: walnuts').first().waitFor();
  await expectNoAxeFindings(page);

  // An unknown field is refused with its place.
  await page.getByRole('button', { name: 'Letters', exact: true }).click();
  await page.getByLabel('Name of the letter').fill('Welcome');
  await page.getByLabel('Text', { exact: true }).fill('Dear {nmae},');
  await page.getByRole('button', { name: 'Keep the letter' }).click();
  await page.getByText('There is no field {nmae}, named on line 1, at letter 6.').waitFor();
  await expectNoAxeFindings(page);

  await page.getByRole('button', { name: 'During and after', exact: true }).click();
  await page.getByRole('button', { name: 'Casimir Hale, Tip in a loose leaf: not yet' }).click();
  await page.getByRole('button', { name: 'Casimir Hale, Tip in a loose leaf: with help' }).waitFor();
  await expectNoAxeFindings(page);
  await page.getByRole('button', { name: 'Programme', exact: true }).click();
  await page.getByRole('heading', { name: 'Talks and free time' }).waitFor();
  await expectNoAxeFindings(page);

  await page.getByRole('button', { name: 'People', exact: true }).click();
  await page.getByRole('button', { name: /^What Beatrix Colne told/ }).click();
  const gone = page.getByRole('dialog', { name: 'What Beatrix Colne told' });
  await gone.getByRole('button', { name: 'Erase for good' }).click();
  await gone.getByLabel('Type the name, Beatrix Colne').fill('Beatrix Colne');
  await gone.getByRole('button', { name: 'Erase Beatrix Colne for good' }).click();
  const erased = page.getByRole('dialog', { name: 'Erased for good' });
  await erased.getByText(/undo cannot bring them back/).waitFor();
  await expectNoAxeFindings(page);
  await erased.getByRole('button', { name: 'Close' }).click();
  await page.getByText('8 confirmed. ').waitFor();
  await page.keyboard.press('Control+z');
  await page.getByText(/^Undone: /).waitFor();
  await page.getByText('8 confirmed. ').waitFor();
}, 120_000);
