/**
 * Many photographs of one book, in a real browser: `npm run -s measure -- photographs --count 5000 [--seed 1]`. All are different pictures
 * made here. Times are taken in the page: from the click on the book to its first photographs drawn, and from each turn of the list to what is in
 * sight drawn; all are turned through. Memory is the resident set of the program, in a process of its own, and of the page's.
 */
import { spawn } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import type { Browser, Page } from 'playwright-core';
import sharp from 'sharp';
import { buildPage } from '../../electron/build.ts';
import { examinePhotograph, keepOriginal, keepThumbnail } from '../../electron/files/photographs.ts';
import { book } from '../../electron/store/schema.ts';
import { photograph } from '../../electron/store/schema-photographs.ts';
import { createWorkshop, type Workshop } from '../../electron/store/workshop.ts';
import { launchBrowser } from '../journeys/chromium.ts';

export async function measure(args: readonly string[]): Promise<void> {
  const { values } = parseArgs({
    args: [...args],
    options: { count: { type: 'string', default: '5000' }, seed: { type: 'string', default: '1' } },
  });
  const count = Number(values.count);
  const seed = Number(values.seed);
  if (!Number.isInteger(count) || count < 100 || !Number.isInteger(seed)) {
    console.error('Say how many, 100 or more: npm run -s measure -- photographs --count 5000 [--seed 1]');
    process.exitCode = 2;
    return;
  }
  const folder = mkdtempSync(join(tmpdir(), 'kettlestitch-measure-'));
  await buildPage();
  const browser = await launchBrowser();
  try {
    const home = join(folder, 'workshop');
    const made = createWorkshop(home, { name: 'Measured', timeZone: 'Europe/London', currency: 'GBP' });
    if (!made.ok) throw new Error(made.refusal.sentence);
    const keeping = performance.now();
    await fill(made.value, count, seed);
    const keepMs = (performance.now() - keeping) / count;
    made.value.close();

    const program = await started(home, join(folder, 'state'));
    try {
      const page = await browser.newPage({ viewport: { width: 1280, height: 800 } });
      await page.goto(program.address);
      await page.locator('.row-title').first().waitFor();
      const before = await memory(browser, program.pid);
      const openMs = await opened(page);
      const turns = await turned(page);
      const after = await memory(browser, program.pid);
      const figures = { count, keepMs, openMs, turnMsMost: turns.most, came: turns.came };
      const rounded = Object.entries(figures).map(([key, value]) => [key, Math.round(value * 10) / 10]);
      const mb = {
        serverMbBefore: before.server,
        serverMb: after.server,
        pageMbBefore: before.page,
        pageMb: after.page,
      };
      console.log(JSON.stringify({ ...Object.fromEntries(rounded), ...mb }));
    } finally {
      await program.end();
    }
  } finally {
    await browser.close();
    rmSync(folder, { recursive: true, force: true });
  }
}

/** Each picture another colour and another grain, so that no two are the same file. */
async function fill(store: Workshop, count: number, seed: number): Promise<void> {
  type Row = Pick<typeof photograph.$inferInsert, 'hash' | 'mediaType' | 'widthPx' | 'heightPx' | 'bytes' | 'caption'>;
  const rows: Row[] = [];
  for (let index = 0; index < count; index++) {
    const n = index + seed * count;
    const background = { r: n % 256, g: (n >> 8) % 256, b: (n * 7) % 256 };
    const picture = sharp({ create: { width: 640, height: 480, channels: 3, background } });
    const line = Buffer.from(
      `<svg width="640" height="480"><path d="M0 ${n % 480} 640 ${(n * 13) % 480}" stroke="#fff"/></svg>`,
    );
    const bytes = await picture
      .composite([{ input: line }])
      .jpeg()
      .toBuffer();
    const seen = await examinePhotograph(bytes, 'UTC');
    if (!seen.ok) throw new Error(seen.refusal.sentence);
    keepOriginal(store.folder, seen.value);
    await keepThumbnail(store.folder, seen.value.hash, seen.value.thumbnail);
    const { hash, mediaType, widthPx, heightPx } = seen.value;
    rows.push({ hash, mediaType, widthPx, heightPx, bytes: bytes.length, caption: `Picture ${index + 1}` });
  }
  const written = store.write('Measured', (change) => {
    const bookId = change.insert(book, {
      ...{
        title: 'Much photographed',
        author: '',
        imprint: '',
        dateText: '1860',
        format: '',
        pagesText: '',
        colour: '',
      },
      ...{ fateLocked: false, stage: 'waiting', use: 'reference', significance: 1, scarcity: 'common' },
      ...{ completeness: 'unknown', note: '', createdAt: 0 },
    });
    for (const [at, row] of rows.entries()) {
      change.insert(photograph, { ...row, bookId, addedAt: at, stage: 'before', fileName: `${at}.jpg`, marks: [] });
    }
  });
  if (!written.ok) throw new Error(written.refusal.sentence);
}

/** From the click to the first twelve pictures drawn. */
async function opened(page: Page): Promise<number> {
  const from = performance.now();
  await page.locator('.row-title').first().click();
  await page.locator('.photographs').scrollIntoViewIfNeeded();
  await page.waitForFunction((wanted) => {
    const pictures = [...document.querySelectorAll<HTMLImageElement>('.photographs-one img')];
    return pictures.filter((one) => one.complete && one.naturalWidth > 0).length >= wanted;
  }, 12);
  return performance.now() - from;
}

/** Turns through the whole list, each time until all that is in sight is drawn: the most a turn took, and how many pictures there were. */
async function turned(page: Page): Promise<Readonly<{ most: number; came: number }>> {
  let most = 0;
  let came = await cameNow(page);
  const next = page.getByRole('button', { name: 'The next photographs' });
  while (await next.isEnabled()) {
    const from = performance.now();
    const first = await page.locator('.photographs-one img').first().getAttribute('src');
    await next.click();
    await page.waitForFunction((before) => {
      const pictures = [...document.querySelectorAll<HTMLImageElement>('.photographs-one img')];
      const inSight = pictures.filter((one) => {
        const { top, bottom } = one.getBoundingClientRect();
        return bottom > 0 && top < innerHeight;
      });
      const changed = pictures[0]?.getAttribute('src') !== before;
      return changed && inSight.every((one) => one.complete && one.naturalWidth > 0);
    }, first);
    most = Math.max(most, performance.now() - from);
    came += await cameNow(page);
  }
  return { most, came };
}

/** Waits until every picture of the turn has come, in sight or not; how many there are. */
async function cameNow(page: Page): Promise<number> {
  return page.evaluate(async () => {
    const pictures = [...document.querySelectorAll<HTMLImageElement>('.photographs-one img')];
    const came = (one: HTMLImageElement) => one.complete && one.naturalWidth > 0;
    for (const one of pictures) one.loading = 'eager';
    while (!pictures.every(came)) await new Promise((resolve) => setTimeout(resolve, 5));
    return pictures.length;
  });
}

/** The program in a process of its own. */
async function started(workshop: string, state: string) {
  const script = fileURLToPath(new URL('photographs-program.ts', import.meta.url));
  const child = spawn(process.execPath, [script, workshop, state], { stdio: ['ignore', 'pipe', 'inherit'] });
  const address = await new Promise<string>((resolve, reject) => {
    child.on('exit', (code) => reject(new Error(`The program ended with ${code}.`)));
    child.stdout.once('data', (words) => resolve(String(words).trim()));
  });
  const end = () => new Promise((resolve) => child.on('exit', resolve).kill('SIGTERM'));
  return { address, pid: child.pid ?? 0, end };
}

/** Resident megabytes of the program and of the page, on Linux; null elsewhere. */
async function memory(browser: Browser, program: number) {
  const session = await browser.newBrowserCDPSession();
  const { processInfo } = (await session.send('SystemInfo.getProcessInfo')) as {
    processInfo: readonly { type: string; id: number }[];
  };
  await session.detach();
  const pages = processInfo.filter(({ type }) => type === 'renderer').map(({ id }) => residentMb(id) ?? 0);
  return { server: residentMb(program), page: Math.max(...pages) || null };
}

function residentMb(id: number): number | null {
  try {
    const [, kilobytes] = /VmRSS:\s+(\d+) kB/.exec(readFileSync(`/proc/${id}/status`, 'utf8')) ?? [];
    return kilobytes === undefined ? null : Math.round(Number(kilobytes) / 1000);
  } catch {
    return null;
  }
}
