/**
 * How long a cutting plan of 200 pieces takes to be drawn in the real page: from the end of its answer until it stands in the document and has
 * been laid out, in milliseconds at the middle and at the 95th per cent of 20 plans. One JSON
 * line for 200 labels out of one sheet, one for 200 boards of ten sizes: `npm run -s measure -- offcuts`.
 */
import type { Page } from 'playwright-core';
import type { MaterialInput } from '../../core/contract/stockroom.ts';
import { buildPage } from '../../electron/build.ts';
import { type App, startApp } from '../journeys/app.ts';
import { launchBrowser } from '../journeys/chromium.ts';

const plans = 20;

type Case = Readonly<{
  name: string;
  kind: 'label paper' | 'greyboard';
  parts: readonly (readonly [number, number, number])[];
}>;

const cases: readonly Case[] = [
  { name: '200 labels out of one sheet', kind: 'label paper', parts: [[32, 46, 200]] },
  {
    name: '200 boards of ten sizes',
    kind: 'greyboard',
    parts: Array.from({ length: 10 }, (_, step) => [150 + 11 * step, 95 + 7 * step, 20] as const),
  },
];

export async function measure(): Promise<void> {
  await buildPage();
  const browser = await launchBrowser();
  const app = await startApp(browser, { demo: true });
  try {
    await app.page.getByRole('navigation', { name: 'Rooms' }).waitFor();
    for (const one of cases) console.log(JSON.stringify(await measured(app, one)));
  } finally {
    await app.close();
    await browser.close();
  }
}

async function measured({ page }: App, { name, kind, parts }: Case) {
  await stockUp(page, kind);
  await page.goto(`${page.url().split('#')[0]}#/offcuts/cut`);
  await page.reload();
  await page.getByLabel('Material').selectOption(kind);
  if (await page.getByLabel('Cut all').count()) await page.getByLabel('Cut all').uncheck();
  await page.getByText('Add a piece', { exact: true }).click();
  for (const [height, width, copies] of parts) {
    await page.getByLabel('Height', { exact: true }).fill(String(height));
    await page.getByLabel('Width', { exact: true }).fill(String(width));
    await page.getByLabel('Copies', { exact: true }).fill(String(copies));
    await page.getByRole('button', { name: 'Add to the list' }).click();
  }
  const taken: number[] = [];
  for (let plan = 0; plan < plans; plan++) taken.push(await drawn(page));
  const sorted = taken.toSorted((one, other) => one - other);
  const at = (share: number) => Math.round(sorted[Math.floor(share * (sorted.length - 1))]! * 10) / 10;
  const pieces = await page.locator('.cut-piece').count();
  return { case: name, pieces, sheets: await page.locator('.cut-sheet').count(), p50Ms: at(0.5), p95Ms: at(0.95) };
}

/** Enough sheets of the kind, kept as a person would: this is the demo's copy. */
async function stockUp(page: Page, kind: Case['kind']): Promise<void> {
  const material: MaterialInput = {
    name: `${kind} to measure by`,
    kind,
    unit: 'sheet',
    packQuantity: 1,
    packPriceMinor: 100,
    supplier: '',
    leadDays: 1,
    shelfLifeDays: null,
    sheetHeightMm: kind === 'greyboard' ? 1000 : 700,
    sheetWidthMm: kind === 'greyboard' ? 700 : 500,
    grain: 'long',
    caliperMm: null,
    colour: '',
    place: '',
    note: '',
  };
  await page.evaluate(async (body) => {
    const asked = async (path: string, json: unknown) => {
      const answer = await fetch(`/ask/${path}`, {
        method: 'POST',
        headers: { 'content-type': 'application/json' },
        body: JSON.stringify({ json }),
      });
      if (!answer.ok) throw new Error(`${path}: ${await answer.text()}`);
      return ((await answer.json()) as { json: { id: string } }).json;
    };
    const { id } = await asked('stockroom/saveMaterial', body);
    await asked('stockroom/addMovement', { materialId: id, kind: 'in', quantity: 200, reason: 'To measure by' });
  }, material);
}

/** Plans once more and answers how long the drawing took from the end of the answer. */
function drawn(page: Page): Promise<number> {
  return page.evaluate(async () => {
    const button = [...document.querySelectorAll('button')].find((one) => /^Plan \d+ line/.test(one.textContent));
    const room = document.querySelector('.cut-columns');
    if (!button || !room) throw new Error('nothing to plan');
    performance.clearResourceTimings();
    let last = 0;
    const watcher = new MutationObserver(() => {
      if (document.querySelector('.cut-sheet') === null) return;
      room.getBoundingClientRect();
      last = performance.now();
    });
    watcher.observe(room, { subtree: true, childList: true, attributes: true, characterData: true });
    button.click();
    const answered = () =>
      performance.getEntriesByType('resource').find(({ name }) => name.includes('planCut')) as
        | PerformanceResourceTiming
        | undefined;
    while (answered() === undefined) await new Promise((done) => setTimeout(done, 20));
    // What is put off comes within the next turns.
    await new Promise((done) => setTimeout(done, 400));
    watcher.disconnect();
    return last - (answered()?.responseEnd ?? 0);
  });
}
