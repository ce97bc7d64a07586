/**
 * The Bench with a week of 40 invented books: how soon there is a plan, how near two seconds bring it to the best of a minute (`--long`), how
 * soon stopping shows the best, and how long the page's frames are while the engine works and while a bar is dragged.
 * `npm run -s measure -- bench [--books 40] [--long]`. Prints one JSON line.
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { createRouterClient } from '@orpc/server';
import type { Page } from 'playwright-core';
import { benchWeek } from '../../core/schedule/bench-week.ts';
import { build } from '../../core/schedule/build.ts';
import { check } from '../../core/schedule/check.ts';
import { improve } from '../../core/schedule/improve.ts';
import type { Objective, Plan, Problem } from '../../core/schedule/problem.ts';
import { toolKinds } from '../../core/treatment/treatment.ts';
import { buildPage } from '../../electron/build.ts';
import { booksToPlan } from '../../electron/desk/bench-books.ts';
import { weekFrame } from '../../electron/desk/bench-frame.ts';
import type { Desk } from '../../electron/desk/desk.ts';
import { router } from '../../electron/desk/router.ts';
import { listTools } from '../../electron/store/bench.ts';
import { createWorkshop } from '../../electron/store/workshop.ts';
import { startApp } from '../journeys/app.ts';
import { putBooksOnShelf } from '../journeys/books.ts';
import { launchBrowser } from '../journeys/chromium.ts';

const stops = 5;
const frameSeconds = 3;

export async function measure(args: readonly string[]): Promise<void> {
  const { values } = parseArgs({
    args: [...args],
    options: { books: { type: 'string', default: '40' }, long: { type: 'boolean', default: false } },
  });
  const count = Number(values.books);
  if (!Number.isInteger(count) || count < 1 || count > 200) {
    console.error('Say how many, 1 to 200: npm run -s measure -- bench [--books 40] [--long]');
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
    made.value.close();
    const app = await startApp(browser, { workshop, size: { width: 1280, height: 800 } });
    const { desk, page } = app;
    const client = createRouterClient(router, { context: desk });
    for (const kind of toolKinds)
      await client.bench.saveTool({ kind, name: `The ${kind}`, capacity: kind === 'weights' ? 8 : 2, note: '' });
    const bookIds = putBooksOnShelf(desk, count);
    const startsOn = mondayAfter(desk.now());

    const problem = problemOf(desk, startsOn, bookIds);
    const engine = measureEngine(problem, values.long);
    const stopMs: number[] = [];
    for (let round = 0; round < stops; round++) stopMs.push(await timeStop(client, startsOn, bookIds));
    const frames = await timeFrames(page);
    const complaints = app.complaints.length;
    await app.close();
    console.log(
      JSON.stringify({
        books: count,
        tasks: problem.tasks.length,
        ...engine,
        stopMs: rounded(middle(stopMs)),
        stopMsMost: rounded(Math.max(...stopMs)),
        framesMsP95: rounded(share(frames.planning, 0.95)),
        framesMsMost: rounded(Math.max(...frames.planning)),
        frames: frames.planning.length,
        dragFramesMsP95: rounded(share(frames.dragging, 0.95)),
        dragFramesMsMost: rounded(Math.max(...frames.dragging)),
        complaints,
      }),
    );
  } finally {
    await browser.close();
    rmSync(folder, { recursive: true, force: true });
  }
}

function problemOf(desk: Desk, startsOn: string, bookIds: readonly string[]): Problem {
  const store = desk.place.workshop;
  if (!store) throw new Error('no workshop is open');
  const frame = weekFrame(store, startsOn, desk.now());
  if (!frame.ok) throw new Error(frame.refusal.sentence);
  const tools = listTools(store.db);
  const books = booksToPlan(store, frame.value, {
    bookIds,
    tools,
    underWay: [],
    pins: new Map(),
    aside: new Set(),
  });
  if (!books.ok) throw new Error(books.refusal.sentence);
  const week = benchWeek(books.value, tools, frame.value.hands, frame.value);
  if (!week.ok) throw new Error(week.refusal.sentence);
  return week.value.problem;
}

/** The first plan in a process that has not planned before, then warm; the search for two seconds and, where wanted, a minute. */
function measureEngine(problem: Problem, long: boolean) {
  const times = Array.from({ length: 6 }, () => {
    const began = performance.now();
    const plan = build(problem, { seed: 1 });
    if (!plan.ok) throw new Error(plan.refusal.sentence);
    return { ms: performance.now() - began, plan: plan.value };
  });
  const first = times[0]!;
  const short = search(problem, first.plan, 2);
  const figures = {
    firstPlanMs: rounded(first.ms),
    firstPlanMsWarm: rounded(middle(times.slice(1).map((one) => one.ms))),
    gapAfter2s: thousandths(short.gap),
    schedulesIn2s: short.stats.schedules,
  };
  if (!long) return figures;
  const best = search(problem, first.plan, 60);
  return {
    ...figures,
    gapAfter60s: thousandths(best.gap),
    above60sBest: thousandths(above(short.objective, best.objective)),
  };
}

function search(problem: Problem, from: Plan, seconds: number): Plan {
  const until = performance.now() + seconds * 1000;
  const steps = improve(problem, from, { seed: 1, shouldStop: () => performance.now() >= until });
  for (;;) {
    const step = steps.next();
    if (!step.done) continue;
    const [wrong] = check(problem, step.value);
    if (wrong) throw new Error(wrong.sentence);
    return step.value;
  }
}

/** How much worse in the first part that differs, as a fraction of the better plan's. */
function above(plan: Objective, best: Objective): number {
  const part = (['lateness', 'completion', 'finish'] as const).find((name) => plan[name] !== best[name]);
  return part === undefined ? 0 : (plan[part] - best[part]) / best[part];
}

type Client = ReturnType<typeof createRouterClient<typeof router, Record<never, never>>>;

/** From asking to stop to having the saved best. */
async function timeStop(client: Client, startsOn: string, bookIds: readonly string[]): Promise<number> {
  const pieces = await client.bench.plan({ startsOn, bookIds: [...bookIds], seconds: 30 });
  let asked = 0;
  let pieceCount = 0;
  for await (const piece of pieces) {
    if (piece.kind === 'done') return performance.now() - asked;
    pieceCount += 1;
    if (pieceCount !== 8) continue;
    asked = performance.now();
    void client.bench.stop();
  }
  throw new Error('planning ended without a plan');
}

async function timeFrames(page: Page): Promise<Readonly<{ planning: number[]; dragging: number[] }>> {
  await page.reload();
  await page.getByRole('navigation', { name: 'Rooms' }).waitFor();
  await page.keyboard.press('Control+2');
  await page.getByRole('button', { name: 'The week after' }).click();
  await page.locator('.week-bar').first().waitFor();
  await page.getByRole('button', { name: 'Choose the books' }).click();
  const plan = page.getByRole('button', { name: 'Plan the week', exact: true });
  await plan.waitFor();
  await collectFrames(page);
  await plan.click();
  await page.waitForTimeout(frameSeconds * 1000);
  const planning = await framesOf(page);
  await page.getByRole('button', { name: 'Stop, keep the best' }).waitFor({ state: 'detached', timeout: 30_000 });

  // The new plan is drawn once the room has asked again; a bar of the old picture cannot be held.
  await page.waitForLoadState('networkidle');
  await page.waitForTimeout(500);
  const bar = page.locator('.week-hands.week-can-move .week-body').first();
  await bar.scrollIntoViewIfNeeded();
  const box = await bar.boundingBox();
  if (!box) throw new Error('there is no bar to drag');
  await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
  await page.mouse.down();
  await collectFrames(page);
  for (let step = 1; step <= 120; step++) await page.mouse.move(box.x + step * 3, box.y + 6);
  const dragging = await framesOf(page);
  await page.keyboard.press('Escape');
  await page.mouse.up();
  return { planning, dragging };
}

async function collectFrames(page: Page): Promise<void> {
  await page.evaluate(() => {
    const kept = window as unknown as { frames: number[] };
    const frames: number[] = [];
    kept.frames = frames;
    let last = performance.now();
    const next = (at: number) => {
      if (kept.frames !== frames) return;
      frames.push(at - last);
      last = at;
      requestAnimationFrame(next);
    };
    requestAnimationFrame(next);
  });
}

async function framesOf(page: Page): Promise<number[]> {
  return page.evaluate(() => {
    const kept = window as unknown as { frames: number[] };
    const { frames } = kept;
    kept.frames = [];
    return frames.slice(1);
  });
}

/** The Monday of next week, so that all of its hours are to come. */
function mondayAfter(instant: number): string {
  const day = new Date(instant);
  day.setUTCDate(day.getUTCDate() - ((day.getUTCDay() + 6) % 7) + 7);
  return day.toISOString().slice(0, 10);
}

function middle(values: readonly number[]): number {
  return share(values, 0.5);
}

function share(values: readonly number[], part: number): number {
  const sorted = values.toSorted((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(part * sorted.length))] ?? Number.NaN;
}

function rounded(ms: number): number {
  return Math.round(ms * 10) / 10;
}

function thousandths(fraction: number): number {
  return Math.round(fraction * 1000) / 1000;
}
