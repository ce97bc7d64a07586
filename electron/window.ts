/** The one window, and what no window may do: go elsewhere, open others, host guests, be granted anything. */
import { type App, BrowserWindow, dialog, type Session, shell, type WebContents } from 'electron';
import { mayAskToOpen, mayNavigate, pageOrigin } from './security.ts';

/** Opens the page in a window that has nothing of Node and shares nothing with the preload but one function. */
export function openWindow(preload: string): BrowserWindow {
  const window = new BrowserWindow({
    title: 'Kettlestitch',
    width: 1280,
    height: 860,
    minWidth: 480,
    minHeight: 480,
    show: false,
    backgroundColor: '#f7f4ee',
    webPreferences: {
      preload,
      contextIsolation: true,
      sandbox: true,
      nodeIntegration: false,
      nodeIntegrationInWorker: false,
      nodeIntegrationInSubFrames: false,
      webviewTag: false,
      webSecurity: true,
      spellcheck: false,
    },
  });
  window.once('ready-to-show', () => window.show());
  void window.loadURL(`${pageOrigin}/`);
  return window;
}

/** Guards every page the program ever makes, this window's and any other. */
export function guardPages(app: App): void {
  app.on('web-contents-created', (_event, contents) => {
    const stay = (event: { preventDefault(): void; url?: string }, address?: string) => {
      const to = event.url ?? address ?? '';
      if (mayNavigate(to)) return;
      event.preventDefault();
      void offerOutside(contents, to);
    };
    contents.on('will-navigate', stay);
    contents.on('will-frame-navigate', stay);
    contents.on('will-redirect', stay);
    contents.on('will-attach-webview', (event) => event.preventDefault());
    contents.setWindowOpenHandler(({ url }) => {
      void offerOutside(contents, url);
      return { action: 'deny' };
    });
  });
}

/** Denies every permission and device, and every request that is not for the page itself: the workshop needs no network. */
export function guardSession(session: Session): void {
  session.setPermissionRequestHandler((_contents, _permission, answer) => answer(false));
  session.setPermissionCheckHandler(() => false);
  session.setDevicePermissionHandler(() => false);
  session.webRequest.onBeforeRequest((details, answer) => {
    const url = URL.parse(details.url);
    const own = mayNavigate(details.url) || url?.protocol === 'blob:' || url?.protocol === 'data:';
    answer({ cancel: !own && url?.protocol !== 'devtools:' });
  });
}

/** Asks before an https address is opened in the person's own browser; anything else is refused without a word. */
async function offerOutside(contents: WebContents, address: string): Promise<void> {
  if (!mayAskToOpen(address)) return;
  const window = BrowserWindow.fromWebContents(contents);
  if (window === null) return;
  const { response } = await dialog.showMessageBox(window, {
    type: 'question',
    message: 'Open this address in your browser?',
    detail: address,
    buttons: ['Open', 'Stay here'],
    defaultId: 1,
    cancelId: 1,
  });
  if (response === 0) await shell.openExternal(address);
}
