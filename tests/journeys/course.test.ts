import { expect, test } from 'vitest';
import { expectNoAxeFindings, openApp } from './journey.ts';

test('a course is put together: copies allocated, the week laid out, a person changed, one more course planned', async () => {
  const { page } = await openApp({ demo: true, expected: [/422/] });
  await page.getByRole('navigation', { name: 'Rooms' }).waitFor();
  await page.keyboard.press('Control+5');
  await page.getByRole('heading', { name: 'Cloth bindings, a week at the bench' }).waitFor();
  await page.getByRole('heading', { name: 'The week is not laid out yet' }).waitFor();
  await expectNoAxeFindings(page);

  await page.getByRole('button', { name: 'Allocate the copies' }).click();
  await page
    .getByText(/7 of 8 meet all 5 required operations; Philippa Dunmore watches “.*” \(PVA adhesive\)\./)
    .waitFor({ timeout: 40_000 });
  await page.getByRole('button', { name: 'Lay out the week' }).click();
  await page.getByText('All work is done and dry by the last hour of the course.').waitFor({ timeout: 40_000 });

  // A bar opens beside the picture, with its cautions.
  await page.getByRole('radio', { name: /^Mon/ }).check();
  const bar = page.getByRole('button', { name: /^Demonstration: Surface clean/ });
  await bar.focus();
  await page.keyboard.press('Enter');
  await page.getByRole('complementary', { name: /^Demonstration: Surface clean/ }).waitFor();
  await expectNoAxeFindings(page);

  await page.getByRole('button', { name: 'Who meets what' }).click();
  await page.getByRole('rowheader', { name: /Philippa Dunmore/ }).waitFor();
  expect(await page.getByRole('img', { name: 'watches', exact: true }).count()).toBeGreaterThanOrEqual(2);
  expect(await page.getByRole('img', { name: 'must meet it and does not', exact: true }).count()).toBe(1);
  await expectNoAxeFindings(page);

  await page.getByRole('button', { name: 'Kit', exact: true }).click();
  await page.getByRole('columnheader', { name: 'To order' }).waitFor();

  // A copy that PVA is used on is refused to the one who must not meet it.
  await page.getByRole('button', { name: 'Copies', exact: true }).click();
  const row = page.getByRole('row', { name: /Reback in cloth/ }).first();
  await row.getByRole('combobox').selectOption({ label: 'Philippa Dunmore' });
  await page
    .getByRole('alert')
    .getByText(/PVA adhesive, which Philippa Dunmore must not meet/)
    .waitFor();
  await expectNoAxeFindings(page);

  await page.getByRole('button', { name: 'People', exact: true }).click();
  await page.getByRole('button', { name: 'Casimir Hale', exact: true }).click();
  const person = page.getByRole('dialog', { name: 'Casimir Hale' });
  await person.getByLabel('Must not meet (allergies)').fill('peanuts');
  await person.getByRole('button', { name: 'Keep', exact: true }).click();
  await page.getByText(/Casimir Hale: peanuts\. No material goes by these words/).waitFor();

  // What was said belongs to its view and its room.
  await page.getByText('Casimir Hale is kept.').waitFor();
  await page.getByRole('button', { name: 'Money', exact: true }).click();
  expect(await page.locator('.sentence p').count()).toBe(0);
  await page.keyboard.press('Control+z');
  await page.getByText(/^Undone: /).waitFor();
  await page.keyboard.press('Control+4');
  await page.getByRole('heading', { name: 'The cupboard' }).waitFor();
  expect(await page.locator('.sentence p').count()).toBe(0);
  await page.keyboard.press('Control+5');

  // On a narrow page the checks that are well wait for a tap, and no view is wider than the page.
  await page.setViewportSize({ width: 390, height: 844 });
  const well = page.getByText('8 confirmed at 8 benches.');
  await page.getByRole('heading', { name: /^\d fit · \d to look at$/ }).waitFor();
  expect(await well.isVisible()).toBe(false);
  await page.getByRole('button', { name: 'Show all' }).click();
  await well.waitFor();
  for (const name of ['Copies', 'Kit', 'Who meets what', 'People']) {
    await page.getByRole('button', { name, exact: true }).click();
    await page.getByRole('region', { name }).waitFor();
    expect(await page.evaluate(() => document.querySelector('.room')!.scrollWidth)).toBeLessThanOrEqual(390);
  }
  await expectNoAxeFindings(page);
  await page.setViewportSize({ width: 1280, height: 800 });

  await page.getByRole('button', { name: 'Syllabus', exact: true }).click();
  await page.getByRole('button', { name: /^Put on: .*box/i }).click();
  await page.getByRole('button', { name: /^Take off: .*box/i }).waitFor();
  await expectNoAxeFindings(page);
  await page.getByRole('button', { name: 'Money', exact: true }).click();
  await page
    .getByText(/It pays from 4 people/)
    .first()
    .waitFor();
  await expectNoAxeFindings(page);

  await page.getByRole('button', { name: 'Plan another' }).click();
  await page.getByLabel('Hours of a day').fill('nine to five');
  await page.getByLabel('Title').fill('Leather for two');
  await page.getByRole('button', { name: 'Plan this course' }).click();
  await page.getByText('Write sittings as 9:15-12:30, 13:30-17:00.').waitFor();
  await page.getByLabel('Hours of a day').fill('9:00-12:00, 13:00-16.30');
  await page.getByLabel('Like a past course').selectOption({ index: 1 });
  await expectNoAxeFindings(page);
  await page.getByRole('button', { name: 'Plan this course' }).click();
  await page.getByRole('heading', { name: 'Leather for two' }).waitFor();
  await page.getByText('Nobody is confirmed yet.').waitFor();
}, 120_000);
