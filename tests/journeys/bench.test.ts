import { createRouterClient } from '@orpc/server';
import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import type { Week, WeekTask } from '../../core/contract/bench.ts';
import type { Desk } from '../../electron/desk/desk.ts';
import { router } from '../../electron/desk/router.ts';
import { planTask } from '../../electron/store/schema.ts';
import { putBooksOnShelf } from './books.ts';
import { expectNoAxeFindings, openApp } from './journey.ts';

const minute = 60_000;

test('a week is chosen, planned, begun and printed', async () => {
  const { page, desk } = await openApp({ demo: true });
  putBooksOnShelf(desk);
  await toBench(page);

  await page.getByRole('button', { name: 'The week after' }).click();
  await page.getByRole('button', { name: 'Choose the books' }).first().click();
  const choose = page.getByRole('region', { name: 'Choose the books' });
  const leaveOut = choose.getByRole('button', { name: /^Leave out: / });
  const title = ((await leaveOut.first().getAttribute('aria-label')) ?? '').slice('Leave out: '.length);
  await leaveOut.first().click();
  await choose.getByRole('button', { name: `Leave out: ${title}`, exact: true }).waitFor({ state: 'detached' });
  await expectNoAxeFindings(page);
  await choose.getByRole('button', { name: 'Plan the week' }).click();

  await page.getByRole('button', { name: 'Stop, keep the best' }).click();
  await page.getByText('The last book is out').waitFor();
  await page.getByText(/of 100 simulated weeks/).waitFor();
  expect(await page.locator('.week-bar').count()).toBeGreaterThan(10);

  const now = page.getByRole('region', { name: 'What to do now' });
  await now.getByRole('button', { name: 'Start' }).click();
  await now.getByText(/so far/).waitFor();
  await now.getByRole('button', { name: 'Finish' }).click();
  // Undone only once it is done: a key pressed sooner would take back the start.
  await now.getByText(/so far/).waitFor({ state: 'detached' });
  expect(
    desk.place.workshop?.db
      .select()
      .from(planTask)
      .all()
      .some((task) => task.state === 'finished'),
  ).toBe(true);
  await page.keyboard.press('Control+z');
  await page.getByText(/Undone: Finish/).waitFor();

  const sheets = page.getByRole('region', { name: 'Print' });
  for (const [button, file] of [
    ['Print the week', /^bench-week-\d{4}-\d\d-\d\d\.pdf$/],
    ['Print the day', /^bench-day-\d{4}-\d\d-\d\d\.pdf$/],
  ] as const) {
    const download = page.waitForEvent('download');
    await sheets.getByRole('button', { name: button }).click();
    expect((await download).suggestedFilename()).toMatch(file);
  }
});

test('a step is moved by keys, by hand and with its book, pinned, set aside, and all of it taken back', async () => {
  const { page, desk } = await openApp({ demo: true, size: { width: 1600, height: 1000 } });
  const startsOn = nextWeek(desk);
  const hands = (await plan(desk, startsOn, putBooksOnShelf(desk).slice(0, 5))).filter((task) => task.kind === 'hands');
  const last = hands.at(-1)!;
  await showNextWeek(page);

  const bar = page.getByRole('button', { name: `${last.label}, ${last.book}:` });
  await bar.focus();
  await page.keyboard.press('Enter');
  await page.getByRole('complementary').getByText('Likely out').waitFor();
  await page.keyboard.press('Shift+ArrowRight');
  const moved = page.getByRole('region', { name: 'What moved' });
  await moved
    .getByText(/: .* \d\d:\d\d → \w{3} \d\d:\d\d/)
    .first()
    .waitFor();
  await bar.and(page.locator(':focus')).waitFor();
  expect(await startOf(desk, startsOn, last)).toBeGreaterThan(last.startAt);
  await expectNoAxeFindings(page);
  await moved.getByRole('button', { name: 'Take it back' }).click();
  await expect.poll(() => startOf(desk, startsOn, last)).toBe(last.startAt);
  // The page has the plan of before again: a key on a step of the other would be refused.
  await moved.waitFor({ state: 'detached' });

  await bar.press('p');
  await page.getByText(/^planned, pinned$/).waitFor();
  await bar.press('p');
  await page.getByText(/^planned$/).waitFor();
  await bar.press('a');
  await page.getByRole('button', { name: 'Take the book up again' }).waitFor();
  await bar.press('a');
  await page.getByRole('button', { name: 'Set the book aside' }).waitFor();

  // A finger along time moves what it holds; up and down it scrolls the page.
  expect(await page.locator('svg.week-movable').evaluate((svg) => getComputedStyle(svg).touchAction)).toBe('pan-y');
  // By hand: the bar half a day's width to the right, then the book by its title.
  const before = await startOf(desk, startsOn, last);
  await drag(page, bar.locator('.week-body'), 70);
  await moved.getByRole('heading', { name: `Moved ${last.label}, ${last.book}.` }).waitFor();
  expect(await startOf(desk, startsOn, last)).toBeGreaterThan(before);
  const other = hands.find((task) => task.bookId !== last.bookId)!;
  const was = await startOf(desk, startsOn, other);
  await drag(page, page.locator(`[data-lane="${other.bookId}"] text`), 150);
  await moved.getByRole('heading', { name: `Moved ${other.book}.` }).waitFor();
  expect(await startOf(desk, startsOn, other)).toBeGreaterThan(was);

  const next = hands.find((task) => task.bookId !== last.bookId && task.bookId !== other.bookId)!;
  const first = page.getByRole('button', { name: `${next.label}, ${next.book}:` });
  await first.focus();
  await page.keyboard.press('Enter');
  await page.keyboard.press('Space');
  await page.getByText('Started; the clock runs.').waitFor();
  await page.keyboard.press('Space');
  await page.getByText('Paused; the minutes the clock counted are in the day-book.').waitFor();
  await page.keyboard.press('Enter');
  await page.getByText('Finished; the minutes the clock counted are in the day-book.').waitFor();
  await page.keyboard.press('Escape');
  expect(await page.getByRole('complementary').count()).toBe(0);
});

test('a plan the clock has left behind is planned on, and a press that is due says so everywhere', async () => {
  const { page, desk } = await openApp({ demo: true });
  const client = createRouterClient(router, { context: desk });
  await client.workshop.setHabits({ weekHours: Array.from({ length: 7 }, () => [[0, 1439]]), daysOff: [] });
  const startsOn = mondayBefore(desk.now());
  const tasks = await plan(desk, startsOn, putBooksOnShelf(desk).slice(0, 3));
  const late = tasks.find((task) => task.kind === 'hands')!;
  const pressed = tasks.find((task) => task.kind === 'pressing')!;
  desk.place.workshop?.write('Let the clock run on', (change) => {
    change.update(planTask, late.id, { startAt: late.startAt - 50 * minute, endAt: late.endAt - 50 * minute });
    change.update(planTask, pressed.id, {
      state: 'started',
      startedAt: desk.now() - 90 * minute,
      startAt: desk.now() - 90 * minute,
      endAt: desk.now() - 5 * minute,
      heldUntil: desk.now() - 5 * minute,
    });
  });
  await toBench(page);

  const due = page.getByRole('status').filter({ hasText: pressed.book });
  await due.getByText(/is due out of .* since/).waitFor();
  expect(await page.title()).toMatch(/^\(1 due\) Bench/);
  await page.getByText(/should have begun \d+ min ago/).waitFor();
  await expectNoAxeFindings(page);
  await page.getByRole('button', { name: 'Plan the rest anew' }).click();
  await page.getByRole('region', { name: 'What moved' }).getByText('Planned the rest anew.').waitFor();
  expect(await page.getByText(/should have begun/).count()).toBe(0);

  await page.getByText('Keys and sound').click();
  await page.getByLabel('Ring when something is due').check();
  await page.keyboard.press('Control+1');
  await due.getByRole('button', { name: `Take it out: ${pressed.book}` }).click();
  await expect.poll(() => page.title()).toMatch(/^Shelf/);
});

test('forty books can be read: every lane is there, the days stay in sight, nothing runs out of the page', async () => {
  const { page, desk } = await openApp({ demo: true });
  const startsOn = nextWeek(desk);
  const tasks = await plan(desk, startsOn, putBooksOnShelf(desk, 40));
  expect(new Set(tasks.map((task) => task.bookId)).size).toBe(40);
  await showNextWeek(page);
  await page.getByLabel('fortnight').check();
  await expect.poll(() => page.locator('.week-lane-book').count()).toBeGreaterThan(30);
  const titles = await page.locator('.week-lane-book').allTextContents();
  expect(new Set(titles).size).toBe(titles.length);

  for (const width of [1600, 1024, 390]) {
    await page.setViewportSize({ width, height: 800 });
    await page.locator('.week-lane').last().scrollIntoViewIfNeeded();
    const { head, room, wide } = await page.evaluate(() => {
      const top = (selector: string) => document.querySelector(selector)!.getBoundingClientRect().top;
      const { scrollWidth, clientWidth } = document.querySelector('.room')!;
      return { head: top('.week-head'), room: top('.room'), wide: scrollWidth - clientWidth };
    });
    expect(Math.abs(head - room), `the days at ${width} px`).toBeLessThan(2);
    expect(wide, `what runs out of the page at ${width} px`).toBe(0);
  }
  await expectNoAxeFindings(page);
});

async function toBench(page: Page): Promise<void> {
  await page.reload();
  await page.getByRole('navigation', { name: 'Rooms' }).waitFor();
  await page.keyboard.press('Control+2');
}

async function showNextWeek(page: Page): Promise<void> {
  await toBench(page);
  await page.getByRole('button', { name: 'The week after' }).click();
  await page.locator('.week-bar').first().waitFor();
}

/** The Monday after this week's. */
function nextWeek(desk: Desk): string {
  return mondayBefore(desk.now() + 7 * 24 * 60 * minute);
}

function mondayBefore(instant: number): string {
  const day = new Date(instant);
  day.setUTCDate(day.getUTCDate() - ((day.getUTCDay() + 6) % 7));
  return day.toISOString().slice(0, 10);
}

async function plan(desk: Desk, startsOn: string, bookIds: readonly string[]): Promise<readonly WeekTask[]> {
  const client = createRouterClient(router, { context: desk });
  for await (const piece of await client.bench.plan({ startsOn, bookIds: [...bookIds], seconds: 0.1 }))
    if (piece.kind === 'done') return piece.week.plan?.tasks ?? [];
  throw new Error('planning ended without a plan');
}

async function startOf(desk: Desk, startsOn: string, task: WeekTask): Promise<number> {
  const week: Week = await createRouterClient(router, { context: desk }).bench.week({ startsOn });
  const same = week.plan?.tasks.find(
    (one) => one.bookId === task.bookId && one.operationId === task.operationId && one.kind === task.kind,
  );
  return same?.startAt ?? 0;
}

async function drag(page: Page, what: ReturnType<Page['locator']>, by: number): Promise<void> {
  await what.scrollIntoViewIfNeeded();
  const box = await what.boundingBox();
  if (!box) throw new Error('there is nothing to drag');
  const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
  await page.mouse.move(x, y);
  await page.mouse.down();
  await page.mouse.move(x + by / 2, y, { steps: 3 });
  await page.mouse.move(x + by, y, { steps: 3 });
  await page.mouse.up();
}
