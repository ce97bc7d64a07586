import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Browser, Page } from 'playwright-core';
import sharp from 'sharp';
import { build } from 'vite';
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import { buildShell } from '../../../electron/build.ts';
import { launchBrowser } from '../../journeys/chromium.ts';
import { type Double, makeDouble } from './electron-double.ts';

const stage = vi.hoisted(() => ({ double: null as unknown, page: '' }));
vi.mock('electron', () => {
  const names = ['app', 'BrowserWindow', 'ipcMain', 'Menu', 'protocol', 'session', 'dialog', 'shell'];
  const module: Record<string, unknown> = {};
  for (const name of names) {
    Object.defineProperty(module, name, {
      enumerable: true,
      get: () => (stage.double as Double | null)?.electron[name],
    });
  }
  return module;
});
// The probe page stands in for the whole page; everything else is what is built and shipped.
vi.mock('../../../dist/electron/page-files.mjs', async (original) => {
  const { readPageFiles } = await original<typeof import('../../../electron/page-files.ts')>();
  return { readPageFiles: () => readPageFiles(stage.page) };
});
const builtMain = new URL('../../../dist/electron/main.mjs', import.meta.url).href;

/** What the probe page leaves on its window. */
type Probed = { probe: Pick<typeof import('../../../renderer/app/client.ts'), 'client' | 'readTrouble'> };

let browser: Browser;
let folder: string;
let double: Double;
let page: Page;

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'kettlestitch-desktop-'));
  stage.page = join(folder, 'page');
  const root = fileURLToPath(new URL('probe', import.meta.url));
  await buildShell();
  await build({
    configFile: false,
    root,
    logLevel: 'error',
    build: { outDir: stage.page, emptyOutDir: true, assetsInlineLimit: 0, modulePreload: { polyfill: false } },
  });
  browser = await launchBrowser();
  process.env.KETTLESTITCH_STATE = join(folder, 'state');
  process.env.KETTLESTITCH_HOME = folder;
  process.argv = ['electron', '.'];
  double = makeDouble(browser);
  stage.double = double;
  await import(/* @vite-ignore */ builtMain);
  page = await double.window();
}, 60_000);

afterAll(async () => {
  await browser?.close();
  rmSync(folder, { recursive: true, force: true });
});

describe('the desktop window', () => {
  test('has no Node, no guests, and its page in a sandbox of its own', () => {
    expect(double.app.sandboxed).toBe(true);
    expect(double.options).toHaveLength(1);
    expect(double.options[0]?.webPreferences).toMatchObject({
      contextIsolation: true,
      sandbox: true,
      nodeIntegration: false,
      nodeIntegrationInWorker: false,
      nodeIntegrationInSubFrames: false,
      webviewTag: false,
      webSecurity: true,
    });
    for (const loosened of ['allowRunningInsecureContent', 'experimentalFeatures', 'enableBlinkFeatures'])
      expect(double.options[0]?.webPreferences).not.toHaveProperty(loosened);
    expect(double.schemes).toEqual([
      { scheme: 'kettlestitch', privileges: { standard: true, secure: true, supportFetchAPI: true } },
    ]);
    expect(double.errors).toEqual([]);
  });

  test('hands its page one function, and nothing else of the shell', async () => {
    expect(await page.evaluate(() => Object.keys((window as never as { kettlestitch: object }).kettlestitch))).toEqual([
      'connect',
    ]);
    expect(
      await page.evaluate(() => [typeof (globalThis as never as { require: unknown }).require, typeof process]),
    ).toEqual(['undefined', 'undefined']);
  });

  test('answers what the page asks through exactly one port', async () => {
    const error = await page.evaluate(async () => {
      const { client, readTrouble } = (window as never as Probed).probe;
      return client.workshop.open({ folder: '' }).catch(readTrouble);
    });
    expect(error).toEqual({ kind: 'refused', sentence: 'Say which folder.', field: 'folder' });
    expect(double.ports).toHaveLength(1);
  });

  test('makes and opens a workshop on the disk with what is shipped', async () => {
    const made = await page.evaluate(async () => {
      const { client } = (window as never as Probed).probe;
      return client.workshop.openDemo();
    });
    expect(made).toMatchObject({ shell: 'desktop', open: { isDemo: true } });
    expect(existsSync(join(folder, 'Kettlestitch demo', 'workshop.sqlite'))).toBe(true);
  });

  test('keeps a photograph and shows it in the page, and none that is not kept', async () => {
    const picture = sharp({ create: { width: 800, height: 600, channels: 3, background: '#345' } });
    const base64 = (await picture.jpeg().toBuffer()).toString('base64');
    const sizes = await page.evaluate(async (bytes) => {
      const { client } = (window as never as Probed).probe;
      const { rows } = await client.shelf.list({ words: '', filter: {}, sort: 'attention', offset: 0, limit: 1 });
      const subject = { kind: 'book', bookId: rows[0]?.id ?? '' } as const;
      const added = { subject, fileName: 'spine.jpg', base64: bytes, stage: 'before', caption: '' } as const;
      const { hash } = await client.photographs.add(added);
      const widthOf = async (address: string) => {
        const image = new Image();
        image.src = address;
        await image.decode().catch(() => undefined);
        return image.naturalWidth;
      };
      return [await widthOf(`/photographs/${hash}/small`), await widthOf(`/photographs/${'0'.repeat(64)}/small`)];
    }, base64);
    expect(sizes).toEqual([360, 0]);
  });

  test('gives no second port to whoever asks again', async () => {
    await page.evaluate(() => (window as never as { kettlestitch: { connect(): void } }).kettlestitch.connect());
    expect(double.ports).toHaveLength(1);
  });

  test('refuses a port offered by a frame or another page', async () => {
    for (const senderFrame of [
      { url: 'https://example.org/', parent: null },
      { url: 'kettlestitch://workshop/', parent: {} },
      { url: 'kettlestitch://elsewhere/', parent: null },
      null,
    ]) {
      const port = { start: vi.fn(), on: vi.fn(), postMessage: vi.fn(), close: vi.fn() };
      double.ipcMain.emit('kettlestitch:port', { ports: [port], senderFrame });
      expect(port.start).not.toHaveBeenCalled();
    }
  });
});

describe('the page’s policy', () => {
  test('lets no inline script run', async () => {
    expect(await page.evaluate(() => document.documentElement.dataset.inline)).toBeUndefined();
    await page.evaluate(() => {
      const script = document.createElement('script');
      script.textContent = 'document.documentElement.dataset.inline = "ran later"';
      document.body.append(script);
    });
    expect(await page.evaluate(() => document.documentElement.dataset.inline)).toBeUndefined();
  });

  test('lets no text become program', async () => {
    const tried = await page.evaluate(() => {
      const button = document.createElement('button');
      button.setAttribute('onclick', 'document.documentElement.dataset.handler = "ran"');
      document.body.append(button);
      button.click();
      return document.documentElement.dataset.handler;
    });
    expect(tried).toBeUndefined();
  });

  test('lets nothing out: no request, no picture, no frame', async () => {
    const tried = await page.evaluate(async () => {
      const failed = (asked: Promise<unknown>) =>
        asked.then(
          () => 'went out',
          () => 'refused',
        );
      const image = new Image();
      const loaded = new Promise((resolve, reject) => {
        image.onload = resolve;
        image.onerror = reject;
      });
      image.src = 'https://example.org/a.png';
      const frame = document.createElement('iframe');
      frame.src = 'https://example.org/';
      document.body.append(frame);
      return [await failed(fetch('https://example.org/')), await failed(fetch('/index.html')), await failed(loaded)];
    });
    expect(tried).toEqual(['refused', 'refused', 'refused']);
    expect(double.leaked).toEqual([]);
  });
});

test('a request the policy would let through still goes nowhere but to the page', async () => {
  for (const address of ['https://example.org/', 'http://127.0.0.1:1/', 'file:///etc/passwd', 'ws://example.org/']) {
    expect(await double.cancels(address), address).toBe(true);
  }
  expect(await double.cancels('kettlestitch://workshop/assets/app.js')).toBe(false);
  expect(await double.cancels('blob:kettlestitch://workshop/0')).toBe(false);
});

describe('going elsewhere', () => {
  test('by a link stays here, and is asked about when it is https', async () => {
    const home = page.url();
    for (const address of ['https://example.org/a', 'http://example.org/b', 'https://someone@example.org/c']) {
      await page.evaluate((to) => {
        location.href = to;
      }, address);
      await vi.waitFor(() => expect(page.url()).toBe(home));
      await page.evaluate(() => new Promise((resolve) => setTimeout(resolve, 50)));
    }
    expect(page.url()).toBe(home);
    expect(double.asked).toEqual(['https://example.org/a']);
    expect(double.opened).toEqual([]);
    expect(double.leaked).toEqual([]);
  });

  test('in a new window opens none, and the person’s own browser only on their word', async () => {
    double.asked.length = 0;
    double.replies.push(0);
    await page.evaluate(() => void window.open('https://example.org/leaflet'));
    await vi.waitFor(() => expect(double.opened).toEqual(['https://example.org/leaflet']));
    await page.evaluate(() => void window.open('http://example.org/plain'));
    await page.evaluate(() => new Promise((resolve) => setTimeout(resolve, 100)));
    expect(double.asked).toEqual(['https://example.org/leaflet']);
    expect(double.opened).toEqual(['https://example.org/leaflet']);
    await vi.waitFor(() => expect(page.context().pages()).toEqual([page]));
  });

  test('is granted nothing on the way: no permission, no device', () => {
    const answer = vi.fn();
    double.session.request(...([null, 'media', answer] as never[]));
    expect(answer).toHaveBeenCalledWith(false);
    expect(double.session.check()).toBe(false);
    expect(double.session.device()).toBe(false);
  });
});

describe('a page loaded anew', () => {
  test('gets a new port, and the old one is closed', async () => {
    await page.reload();
    const answered = await page.evaluate(async () => {
      const { client } = (window as never as Probed).probe;
      return client.workshop.open({ folder: '' }).catch((error: Error) => error.message);
    });
    expect(answered).toBe('Say which folder.');
    expect(double.ports.map((port) => port.closed)).toEqual([true, false]);
  });
});

test('quitting closes the workshop, so that its folder can be copied', () => {
  const { quits } = double.app;
  (double.electron.app as { quit(): void }).quit();
  expect(double.app.quits).toBe(quits + 1);
  expect(existsSync(join(folder, 'Kettlestitch demo', 'workshop.sqlite-wal'))).toBe(false);
});

test('a second start hands over to the first and opens nothing', async () => {
  const second = makeDouble(browser, false);
  stage.double = second;
  vi.resetModules();
  await import(/* @vite-ignore */ builtMain);
  expect(second.app.quits).toBe(1);
  expect(second.options).toEqual([]);
  stage.double = double;
});
