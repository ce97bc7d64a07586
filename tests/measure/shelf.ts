/**
 * The Shelf as a person meets it, in a real browser on a workshop of many invented books: `npm run -s measure -- shelf --books 100000`.
 * Times are taken in the page: from the start of loading to the first rows, from a key to its answer standing in the list, from a scroll to
 * the rows of that place. A frame is blank where any part of the list's window is not covered by rows.
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import type { Page } from 'playwright-core';
import { buildPage } from '../../electron/build.ts';
import { createWorkshop } from '../../electron/store/workshop.ts';
import { startApp } from '../journeys/app.ts';
import { launchBrowser } from '../journeys/chromium.ts';
import { fillShelf } from './shelf-books.ts';

export async function measure(args: readonly string[]): Promise<void> {
  const { values } = parseArgs({
    args: [...args],
    options: { books: { type: 'string', default: '100000' }, seed: { type: 'string', default: '1' } },
  });
  const books = Number(values.books);
  const seed = Number(values.seed);
  if (!Number.isInteger(books) || books < 1000 || !Number.isInteger(seed)) {
    console.error('Say how many, 1000 or more: npm run -s measure -- shelf --books 100000 [--seed 1]');
    process.exitCode = 2;
    return;
  }
  const folder = mkdtempSync(join(tmpdir(), 'kettlestitch-measure-'));
  await buildPage();
  const browser = await launchBrowser();
  try {
    const workshop = join(folder, 'workshop');
    const made = createWorkshop(workshop, { name: 'Measured', timeZone: 'Europe/London', currency: 'GBP' });
    if (!made.ok) throw new Error(made.refusal.sentence);
    fillShelf(made.value, books, seed);
    made.value.close();

    const started = performance.now();
    const app = await startApp(browser, { workshop, size: { width: 1280, height: 800 } });
    await app.page.locator('[role="option"]').first().waitFor();
    const startMs = performance.now() - started;
    const open = await openings(app.page);
    const keys = await keystrokes(app.page);
    const scroll = await scrolling(app.page);
    const complaints = app.complaints.length;
    await app.close();
    console.log(
      JSON.stringify({
        books,
        openMs: round(middle(open)),
        openMsMost: round(Math.max(...open)),
        startMs: round(startMs),
        keystrokes: keys.length,
        keystrokeMsP95: round(share(keys, 0.95)),
        keystrokeMsMedian: round(middle(keys)),
        scrollMsP95: round(share(scroll.settled, 0.95)),
        scrollMsMost: round(Math.max(...scroll.settled)),
        frames: scroll.frames.length,
        frameMsP95: round(share(scroll.frames, 0.95)),
        blankFrames: scroll.blank,
        complaints,
      }),
    );
  } finally {
    await browser.close();
    rmSync(folder, { recursive: true, force: true });
  }
}

/** The page loaded anew, several times: from the start of loading to the first frame with rows. */
async function openings(page: Page): Promise<number[]> {
  const times: number[] = [];
  for (let time = 0; time < 7; time++) {
    await page.reload({ waitUntil: 'commit' });
    times.push(
      await page.evaluate(
        () =>
          new Promise<number>((resolve) => {
            const look = () =>
              document.querySelector('[role="option"]') === null
                ? requestAnimationFrame(look)
                : resolve(performance.now());
            look();
          }),
      ),
    );
  }
  return times;
}

/** Typed at the speed of a quick hand; the empty field between them is not counted. */
const typed = [
  'rambles in dorset',
  'orchard',
  'the birds of ',
  'm0421',
  'kershaw 18',
  'quayle letters',
  'blue morocco',
  'zz',
];

async function keystrokes(page: Page): Promise<number[]> {
  const field = page.getByRole('searchbox', { name: 'Search the shelf' });
  await field.click();
  await page.evaluate(() => {
    const here = globalThis as unknown as { answered: number[] };
    here.answered = [];
    const list = document.querySelector('[role="listbox"]') as HTMLElement;
    let asked = 0;
    document.querySelector('[type="search"]')?.addEventListener(
      'input',
      () => {
        asked = performance.now();
      },
      { capture: true },
    );
    new MutationObserver(() => {
      if (asked === 0 || list.getAttribute('aria-busy') !== 'false') return;
      here.answered.push(performance.now() - asked);
      asked = 0;
    }).observe(list, { attributeFilter: ['aria-busy'] });
  });
  const all: number[] = [];
  for (const words of typed) {
    await field.pressSequentially(words, { delay: 130 });
    await page.waitForTimeout(400);
    all.push(...(await page.evaluate(() => (globalThis as unknown as { answered: number[] }).answered.splice(0))));
    await field.fill('');
    await page.waitForTimeout(400);
    await page.evaluate(() => (globalThis as unknown as { answered: number[] }).answered.splice(0));
  }
  return all;
}

type Scrolled = Readonly<{ settled: number[]; frames: number[]; blank: number }>;

/** Pulls the list along for some seconds, then throws it to places far apart, watching every frame. */
async function scrolling(page: Page): Promise<Scrolled> {
  await page.reload();
  await page.locator('[role="option"]').first().waitFor();
  return page.evaluate(async () => {
    const box = document.querySelector('[role="listbox"]') as HTMLElement;
    const rows = document.querySelector('.list-rows') as HTMLElement;
    const rowHeight = (rows.firstElementChild as HTMLElement).offsetHeight;
    const frames: number[] = [];
    const settled: number[] = [];
    let blank = 0;
    const frame = () => new Promise<number>((resolve) => requestAnimationFrame(resolve));
    const right = () => Number(rows.dataset.from) === Math.floor(box.scrollTop / rowHeight);
    const covered = () => {
      const window = box.getBoundingClientRect();
      const drawn = rows.getBoundingClientRect();
      return drawn.top <= window.top + 1 && drawn.bottom >= window.top + box.clientHeight - 1;
    };
    let last = await frame();
    async function pass(): Promise<void> {
      const now = await frame();
      frames.push(now - last);
      last = now;
      if (!covered()) blank += 1;
    }
    for (let step = 0; step < 240; step++) {
      const from = performance.now();
      box.scrollTop += step % 60 < 40 ? 130 : 900;
      await pass();
      while (!right() && performance.now() - from < 2000) await pass();
      settled.push(performance.now() - from);
    }
    const far = box.scrollHeight - box.clientHeight;
    for (let jump = 0; jump < 60; jump++) {
      const from = performance.now();
      box.scrollTop = Math.round(far * ((jump * 0.618) % 1));
      await pass();
      while (!right() && performance.now() - from < 2000) await pass();
      settled.push(performance.now() - from);
    }
    return { settled, frames, blank };
  });
}

function share(times: readonly number[], part: number): number {
  const sorted = times.toSorted((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.ceil(part * sorted.length) - 1)] ?? Number.NaN;
}

function middle(times: readonly number[]): number {
  return share(times, 0.5);
}

function round(ms: number): number {
  return Math.round(ms * 10) / 10;
}
