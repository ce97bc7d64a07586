/**
 * As much of Electron as the shell uses, on a real Chromium: pages really load through the protocol handler, under the headers it
 * gives, with the built preload in front; navigations, new windows and requests really happen and are put to the shell's handlers.
 *
 * What it cannot show: process isolation. The preload runs in the page's own world here, and the custom scheme is played by an https
 * origin that exists nowhere.
 */
import { EventEmitter } from 'node:events';
import { readFileSync } from 'node:fs';
import type { Browser, BrowserContext, Page, Request as PageRequest, Route } from 'playwright-core';

const stage = 'https://workshop.kettlestitch.invalid';
const scheme = 'kettlestitch://workshop';
const toStage = (url: string) => url.replace(scheme, stage);
const fromStage = (url: string) => url.replace(stage, scheme);

type Handler = (request: Request) => Response | Promise<Response>;
type WindowOptions = Readonly<{ webPreferences: Readonly<Record<string, unknown> & { preload: string }> }>;

class Contents extends EventEmitter {
  openHandler: (details: { url: string }) => { action: string } = () => ({ action: 'allow' });
  setWindowOpenHandler(handler: Contents['openHandler']): void {
    this.openHandler = handler;
  }
}

/** The other end of a port the page posted. */
class PortMain extends EventEmitter {
  closed = false;
  private readonly page: Page;
  private readonly id: number;
  private started = false;
  private readonly early: unknown[] = [];
  constructor(page: Page, id: number) {
    super();
    this.page = page;
    this.id = id;
  }
  start(): void {
    this.started = true;
    for (const data of this.early.splice(0)) this.emit('message', { data });
  }
  take(data: unknown): void {
    if (this.closed) return;
    if (this.started) this.emit('message', { data });
    else this.early.push(data);
  }
  postMessage(data: unknown): void {
    if (this.closed || this.page.isClosed()) return;
    void this.page
      .evaluate(([id, said]) => (globalThis as never as StagedPage).toPort(id as number, said), [this.id, data])
      .catch(() => {});
  }
  close(): void {
    this.closed = true;
    this.emit('close');
  }
}

type StagedPage = { toPort(id: number, data: unknown): void };

/** What a double recorded and what a test may do to it. */
export type Double = Readonly<{
  electron: Record<string, unknown>;
  /** The window the shell opened, once its page has loaded. */
  window(): Promise<Page>;
  options: WindowOptions[];
  schemes: { scheme: string; privileges: object }[];
  ports: PortMain[];
  /** Requests the shell let through to the network, which there must be none of. */
  leaked: string[];
  asked: string[];
  opened: string[];
  errors: string[];
  app: EventEmitter & { quits: number; sandboxed: boolean };
  ipcMain: EventEmitter;
  session: Record<'request' | 'check' | 'device', (...args: never[]) => unknown>;
  /** Whether the shell's own rule, behind the page's policy, cancels a request for this address. */
  cancels(url: string): Promise<boolean>;
  /** What the person answers when asked: 0 the first button. */
  replies: number[];
}>;

/** A window that is still opening has no frame yet: it is not this page's. */
function isOf(page: Page, request: PageRequest): boolean {
  try {
    return request.frame().page() === page;
  } catch {
    return false;
  }
}

export function makeDouble(browser: Browser, isFirstInstance = true): Double {
  const handlers = new Map<string, Handler>();
  let onBeforeRequest: (details: { url: string }, answer: (verdict: { cancel: boolean }) => void) => void = (
    _d,
    answer,
  ) => answer({ cancel: false });
  let showWindow: (page: Page) => void = () => {};
  const shown = new Promise<Page>((resolve) => {
    showWindow = resolve;
  });
  const app = Object.assign(new EventEmitter(), {
    quits: 0,
    sandboxed: false,
    isPackaged: false,
    requestSingleInstanceLock: () => isFirstInstance,
    enableSandbox() {
      app.sandboxed = true;
    },
    whenReady: () => Promise.resolve(),
    quit() {
      app.quits += 1;
      app.emit('will-quit');
    },
    exit() {
      app.quits += 1;
    },
  });
  const ipcMain = new EventEmitter();
  const session: Record<string, (...args: never[]) => unknown> = {};
  const double = {
    options: [] as WindowOptions[],
    schemes: [] as { scheme: string; privileges: object }[],
    ports: [] as PortMain[],
    leaked: [] as string[],
    asked: [] as string[],
    opened: [] as string[],
    errors: [] as string[],
    replies: [] as number[],
  };

  const cancels = (url: string) =>
    new Promise<boolean>((resolve) => onBeforeRequest({ url }, ({ cancel }) => resolve(cancel)));

  class BrowserWindow extends EventEmitter {
    static all: BrowserWindow[] = [];
    static fromWebContents = (contents: Contents) =>
      BrowserWindow.all.find((one) => one.webContents === contents) ?? null;
    readonly webContents = new Contents();
    private readonly preload: string;
    constructor(options: WindowOptions) {
      super();
      this.preload = options.webPreferences.preload;
      double.options.push(options);
      BrowserWindow.all.push(this);
      app.emit('web-contents-created', {}, this.webContents);
    }
    show(): void {}
    focus(): void {}
    isMinimized = () => false;
    isDestroyed = () => false;
    async loadURL(url: string): Promise<void> {
      const context = await browser.newContext();
      await preparePage(context, this.preload);
      const page = await context.newPage();
      // Chromium has made the denied window by the time it can be refused; Electron does not make it.
      context.on('page', (other) => void other.close());
      await context.route('**/*', (route) => this.pass(route, page, url));
      await page.goto(toStage(url), { waitUntil: 'load' });
      this.emit('ready-to-show');
      showWindow(page);
    }
    /** Puts one request of this window's pages to the shell, as Electron would. */
    private async pass(route: Route, page: Page, home: string): Promise<void> {
      const request = route.request();
      const url = fromStage(request.url());
      if (request.isNavigationRequest() && !isOf(page, request)) {
        const { action } = this.webContents.openHandler({ url });
        if (action !== 'deny') double.leaked.push(url);
        return route.abort();
      }
      if (request.isNavigationRequest() && url !== home) {
        let stays = false;
        const event = { url, preventDefault: () => (stays = true) };
        this.webContents.emit(
          request.frame() === page.mainFrame() ? 'will-navigate' : 'will-frame-navigate',
          event,
          url,
        );
        // Status 204 is how a browser is told to stay where it is.
        if (stays) return route.fulfill({ status: 204 });
      }
      if (await cancels(url)) return route.abort();
      const handler = handlers.get(new URL(url).protocol.slice(0, -1));
      if (handler === undefined) {
        double.leaked.push(url);
        return route.abort();
      }
      const response = await handler(new Request(url, { method: request.method() }));
      await route.fulfill({
        status: response.status,
        headers: Object.fromEntries(response.headers),
        body: Buffer.from(await response.arrayBuffer()),
      });
    }
  }

  async function preparePage(context: BrowserContext, preload: string): Promise<void> {
    const ports = new Map<number, PortMain>();
    await context.exposeBinding('toMain', ({ page, frame }, channel: string, id: number) => {
      const port = new PortMain(page, id);
      ports.set(id, port);
      double.ports.push(port);
      const senderFrame = { url: fromStage(frame.url()), parent: frame.parentFrame() };
      ipcMain.emit(channel, { ports: [port], senderFrame });
    });
    await context.exposeBinding('fromPort', (_source, id: number, data: unknown) => ports.get(id)?.take(data));
    await context.addInitScript(`(() => {
      if (window.top !== window) return;
      const ports = [];
      window.toPort = (id, data) => ports[id].postMessage(data);
      const electron = {
        contextBridge: {
          exposeInMainWorld(name, api) {
            Object.defineProperty(window, name, { value: Object.freeze({ ...api }), enumerable: true });
          },
        },
        ipcRenderer: {
          postMessage(channel, message, [port]) {
            const id = Math.floor(Math.random() * 2 ** 50);
            ports[id] = port;
            const told = window.toMain(channel, id);
            port.onmessage = async (event) => { await told; window.fromPort(id, event.data); };
          },
        },
      };
      const require = (name) => {
        if (name !== 'electron') throw new Error('A sandboxed preload has no module ' + name);
        return electron;
      };
      ((require) => {
        ${readFileSync(preload, 'utf8')}
      })(require);
    })()`);
  }

  const electron = {
    app,
    BrowserWindow,
    ipcMain,
    Menu: { setApplicationMenu: () => {} },
    protocol: {
      registerSchemesAsPrivileged: (schemes: { scheme: string; privileges: object }[]) =>
        double.schemes.push(...schemes),
      handle: (name: string, handler: Handler) => handlers.set(name, handler),
    },
    session: {
      defaultSession: {
        setPermissionRequestHandler: (handler: never) => (session.request = handler),
        setPermissionCheckHandler: (handler: never) => (session.check = handler),
        setDevicePermissionHandler: (handler: never) => (session.device = handler),
        webRequest: { onBeforeRequest: (handler: typeof onBeforeRequest) => (onBeforeRequest = handler) },
      },
    },
    dialog: {
      showErrorBox: (title: string, words: string) => double.errors.push(`${title}: ${words}`),
      showMessageBox: async (_window: unknown, { detail }: { detail: string }) => {
        double.asked.push(detail);
        return { response: double.replies.shift() ?? 1 };
      },
    },
    shell: {
      openExternal: async (url: string) => {
        double.opened.push(url);
      },
    },
    contextBridge: {},
    ipcRenderer: {},
  };
  return { ...double, cancels, electron, app, ipcMain, session: session as Double['session'], window: () => shown };
}
