import { createRouterClient } from '@orpc/server';
import { expect, test } from 'vitest';
import { calculations } from '../../core/trade/reckoner.ts';
import { router } from '../../electron/desk/router.ts';
import { expectNoAxeFindings, openApp } from './journey.ts';

test('every calculation is reached, filled in and answered from the keyboard alone', async () => {
  const { page } = await openApp({ demo: true });
  await page.getByRole('navigation', { name: 'Rooms' }).waitFor();
  await page.keyboard.press('Control+7');
  const list = page.getByRole('navigation', { name: 'Calculations' });
  await list.waitFor();
  const nameInHand = () =>
    page.evaluate(() => (document.activeElement as HTMLInputElement | null)?.labels?.[0]?.textContent ?? 'nothing');
  for (const { title, fields, id } of calculations) {
    await list.getByRole('link', { name: title, exact: true }).focus();
    await page.keyboard.press('Enter');
    await page.getByRole('article').getByRole('heading', { name: title, exact: true }).waitFor();
    // The fields are the next things Tab comes to after the list, in the order they are shown.
    await list.getByRole('link').last().focus();
    for (const [place, field] of Object.values(fields).entries()) {
      await page.keyboard.press('Tab');
      const name = field.kind === 'number' && field.unit !== '' ? `${field.label}, ${field.unit}` : field.label;
      expect(await nameInHand(), `${id}, field ${place + 1}`).toBe(name);
      if (field.kind === 'choice' || place > 0) continue;
      await page.keyboard.press('Control+a');
      await page.keyboard.type(field.usual);
    }
    await page.locator('.figures dd').first().waitFor();
    expect(await page.locator('.field-trouble').count(), id).toBe(0);
    await page.keyboard.press('Tab');
    expect(await page.evaluate(() => document.activeElement?.tagName), id).toMatch(/BUTTON|SELECT|SECTION|DIV/);
  }
});

test('a case is drawn, changed, refused in words, printed and sent to a book, whose measures then differ', async () => {
  const { page, desk } = await openApp({ demo: true });
  const book = createRouterClient(router, { context: desk }).shelf.create({
    title: 'Walks by the Lower Ember',
    heightMm: 190,
    widthMm: 125,
    thicknessMm: 32,
    binding: 'half cloth',
  });
  await page.getByRole('navigation', { name: 'Rooms' }).waitFor();
  await page.keyboard.press('Control+7');
  const drawing = page.getByRole('img', { name: /Case, lying flat/ });
  await drawing.waitFor();
  const said = await drawing.getAttribute('aria-label');
  await page.getByLabel('Height of the block').fill('250');
  await expect.poll(() => drawing.getAttribute('aria-label')).not.toBe(said);
  await page.getByLabel('Squares').fill('40 mm');
  await page.getByText(/Squares of 40 mm are out of all reason/).waitFor();
  await page.getByLabel('Squares').fill('wide');
  await page.getByLabel('Turn-in').fill('');
  await expect.poll(() => page.locator('.field-trouble').count()).toBe(2);
  expect(await page.getByLabel('Turn-in').getAttribute('aria-invalid')).toBe('true');
  expect((await page.locator('.field-trouble').allTextContents()).join(' ')).not.toMatch(/Squares:|Turn-in:/);
  await page.getByLabel('Turn-in').fill('19 mm');
  await page.getByLabel('Squares').fill('5');
  await drawing.waitFor();
  await expectNoAxeFindings(page);
  await page.setViewportSize({ width: 390, height: 844 });
  await expectNoAxeFindings(page);
  await page.setViewportSize({ width: 1280, height: 800 });

  const printed = page.waitForEvent('download');
  await page.getByRole('button', { name: 'Print at its own size' }).click();
  expect((await printed).suggestedFilename()).toBe('case.pdf');
  const saved = page.waitForEvent('download');
  await page.getByRole('button', { name: 'Save the drawing' }).click();
  expect((await saved).suggestedFilename()).toBe('case.svg');

  await page.getByRole('button', { name: 'Send to a book' }).click();
  const dialog = page.getByRole('dialog');
  await dialog.getByRole('button').first().waitFor();
  await expectNoAxeFindings(page);
  await dialog.getByLabel('Find the book').fill('lower ember');
  await dialog.getByRole('button', { name: /Walks by the Lower Ember/ }).click();
  await page.getByText(/Case kept with/).waitFor();

  await page.goto(`${page.url().split('#')[0]}#/shelf/${(await book).book.id}`);
  const measures = page.locator('#pane-measures');
  await measures
    .getByText(/differs in height of the block, squares/)
    .first()
    .click();
  const kept = measures.getByRole('img', { name: /Case, lying flat/ });
  await kept.waitFor();
  await expectNoAxeFindings(page);
  await measures.getByText('Where this book differs').first().click();
  await measures.getByRole('button', { name: 'Back to the book’s own measures' }).first().click();
  await measures
    .getByText(/differs in/)
    .first()
    .waitFor({ state: 'detached' });

  const before = await kept.getAttribute('aria-label');
  const description = page.locator('#pane-description');
  await description.getByLabel('Height').fill('260 mm');
  await description.getByLabel('Height').press('Enter');
  await expect.poll(() => kept.getAttribute('aria-label')).not.toBe(before);
  expect(await kept.getAttribute('aria-label')).toContain('board 260 mm');
});
