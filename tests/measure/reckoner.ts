/**
 * How long one change in the Reckoner takes: for each calculation the arithmetic with its drawing laid out, in milliseconds at the middle and
 * at the 95th per cent of 100 changes; with `page` also 40 in the real page, from the key's event until the changed answer stands in the document and
 * has been laid out. Prints a JSON line for each and one for all: `npm run -s measure -- reckoner [page]`.
 */
import type { Page } from 'playwright-core';
import { measureWords, pictureOf } from '../../core/trade/picture.ts';
import { calculations } from '../../core/trade/reckoner.ts';
import { buildPage } from '../../electron/build.ts';
import { startApp } from '../journeys/app.ts';
import { launchBrowser } from '../journeys/chromium.ts';

const changes = 100;
const pageChanges = 40;

export async function measure([where]: readonly string[]): Promise<void> {
  const inPage = where === 'page' ? await measurePage() : new Map<string, readonly number[]>();
  const worst = { arithmetic: 0, page: 0 };
  for (const { id } of calculations) {
    const arithmetic = measureArithmetic(id);
    const page = inPage.get(id);
    worst.arithmetic = Math.max(worst.arithmetic, at(arithmetic, 0.95));
    worst.page = Math.max(worst.page, page === undefined ? 0 : at(page, 0.95));
    console.log(
      JSON.stringify({
        calculation: id,
        arithmeticP50Ms: at(arithmetic, 0.5),
        arithmeticP95Ms: at(arithmetic, 0.95),
        ...(page === undefined ? {} : { pageP50Ms: at(page, 0.5), pageP95Ms: at(page, 0.95) }),
      }),
    );
  }
  console.log(
    JSON.stringify({
      calculations: calculations.length,
      changes,
      worstArithmeticP95Ms: worst.arithmetic,
      ...(inPage.size === 0 ? {} : { worstPageP95Ms: worst.page }),
    }),
  );
}

function measureArithmetic(id: string): readonly number[] {
  const calculation = calculations.find((one) => one.id === id);
  const [key, field] = Object.entries(calculation?.fields ?? {}).find(([, one]) => one.kind !== 'choice') ?? [];
  const words = measureWords('mm', true);
  const taken: number[] = [];
  for (let change = 0; change < changes + 20; change++) {
    const typed = key === undefined || field === undefined ? {} : { [key]: nudged(field.usual, change) };
    const from = performance.now();
    const answer = calculation?.reckon(typed, { unit: 'mm' });
    if (answer?.ok && answer.value.drawing !== undefined) pictureOf(answer.value.drawing, 6, words);
    // The first ones warm the machine up.
    if (change >= 20) taken.push(performance.now() - from);
  }
  return taken;
}

/** The same value with its last figure going round, so that every change is one. */
function nudged(usual: string, change: number): string {
  return /\d/.test(usual) ? usual.replace(/\d(?=[^\d]*$)/, String(1 + (change % 9))) : `${usual} ${change}`;
}

async function measurePage(): Promise<ReadonlyMap<string, readonly number[]>> {
  await buildPage();
  const browser = await launchBrowser();
  const app = await startApp(browser, { demo: true });
  try {
    const { page } = app;
    await page.getByRole('navigation', { name: 'Rooms' }).waitFor();
    const home = page.url().split('#')[0];
    const taken = new Map<string, readonly number[]>();
    for (const { id, fields } of calculations) {
      await page.goto(`${home}#/reckoner/${id}`);
      await page.locator('.figures dd').first().waitFor();
      const field = Object.values(fields).find((one) => one.kind !== 'choice');
      if (field !== undefined)
        taken.set(
          id,
          await changesIn(
            page,
            Array.from({ length: pageChanges + 20 }, (_, change) => nudged(field.usual, change)),
          ),
        );
    }
    return taken;
  } finally {
    await app.close();
    await browser.close();
  }
}

/** Sets the first field to each value as typing does, and times it until the page shows what follows. */
function changesIn(page: Page, values: readonly string[]): Promise<readonly number[]> {
  return page.evaluate(async (all) => {
    const box = document.querySelector<HTMLInputElement>('.reckoning-fields input, .reckoning-fields textarea');
    const shown = document.querySelector('.reckoning');
    if (box === null || shown === null) return [];
    const proto = box instanceof HTMLTextAreaElement ? HTMLTextAreaElement.prototype : HTMLInputElement.prototype;
    const set = Object.getOwnPropertyDescriptor(proto, 'value')?.set;
    const taken: number[] = [];
    for (const [place, value] of all.entries()) {
      const from = performance.now();
      let last = from;
      const watcher = new MutationObserver(() => {
        shown.getBoundingClientRect();
        last = performance.now();
      });
      watcher.observe(shown, { subtree: true, childList: true, characterData: true, attributes: true });
      set?.call(box, value);
      box.dispatchEvent(new Event('input', { bubbles: true }));
      // What is put off comes within the next turns; none comes after this.
      await new Promise((done) => setTimeout(done, 60));
      watcher.disconnect();
      if (place >= 20) taken.push(last - from);
    }
    return taken;
  }, values);
}

function at(taken: readonly number[], share: number): number {
  const sorted = taken.toSorted((one, other) => one - other);
  return Math.round((sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? 0) * 100) / 100;
}
