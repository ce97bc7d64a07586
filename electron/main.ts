/** The desktop: one program, one window, the page from our own scheme, its questions answered over the one port it is handed. */
import { fileURLToPath } from 'node:url';
import { app, dialog, ipcMain, Menu, type MessagePortMain, protocol, session } from 'electron';
import { devicePace, openBrowserShell } from './browser.ts';
import { keepBackups } from './desk/archive.ts';
import type { Desk } from './desk/desk.ts';
import { answerPhotograph } from './desk/photographs.ts';
import { router } from './desk/router.ts';
import { type PageFiles, readPageFiles } from './page-files.ts';
import { mayNavigate, pageHeaders, pageScheme } from './security.ts';
import { answerPort } from './transports.ts';
import { guardPages, guardSession, openWindow } from './window.ts';
import { closeDesk, logStrays, makeDesk, openFirst, readFlags, usualFolders } from './workplace.ts';

// This file runs only as it is built, beside its preload and the built page.
const preload = fileURLToPath(new URL('./preload.cjs', import.meta.url));
const pageFolder = fileURLToPath(new URL('../renderer', import.meta.url));

if (app.requestSingleInstanceLock()) start();
else app.quit();

function start(): void {
  app.enableSandbox();
  guardPages(app);
  protocol.registerSchemesAsPrivileged([
    { scheme: pageScheme, privileges: { standard: true, secure: true, supportFetchAPI: true } },
  ]);
  if (process.platform !== 'darwin') Menu.setApplicationMenu(null);
  app
    .whenReady()
    .then(open)
    .catch((error: unknown) => {
      dialog.showErrorBox('Kettlestitch cannot start', String(error));
      app.exit(1);
    });
}

async function open(): Promise<void> {
  const options = readFlags(process.argv.slice(app.isPackaged ? 1 : 2));
  if (typeof options === 'string') {
    dialog.showErrorBox('Kettlestitch cannot start like this', options);
    app.exit(1);
    return;
  }
  const folders = usualFolders();
  const desk = makeDesk('desktop', folders);
  logStrays(desk);
  keepBackups(desk);
  const page = readPageFiles(pageFolder);
  desk.sharing.serveWith(({ host, port, keys }) =>
    openBrowserShell({
      context: { ...desk, remote: true },
      router,
      page,
      port,
      shared: { host, keys, pace: devicePace },
    }),
  );
  protocol.handle(pageScheme, (request) => answerPage(page, desk, request));
  guardSession(session.defaultSession);

  let current: MessagePortMain | null = null;
  ipcMain.on('kettlestitch:port', (event) => {
    const [port] = event.ports;
    const frame = event.senderFrame;
    const isOurs = frame !== null && frame.parent === null && mayNavigate(frame.url);
    if (!isOurs || port === undefined || event.ports.length !== 1) {
      desk.log.note('A port offered by something other than the workshop’s page was refused.');
      return;
    }
    // A page that was loaded anew: what its predecessor still waited for is stopped.
    current?.close();
    current = port;
    answerPort(port, router, desk);
  });

  const refused = await openFirst(desk, folders, options);
  if (refused !== null) dialog.showErrorBox('The workshop was not opened', refused);
  let window = openWindow(preload);
  app.on('second-instance', () => {
    if (window.isMinimized()) window.restore();
    window.focus();
  });
  app.on('activate', () => {
    if (window.isDestroyed()) window = openWindow(preload);
  });
  app.on('window-all-closed', () => app.quit());
  app.on('will-quit', () => closeDesk(desk));
}

/** A file of the page, with the page's rules on it; anything else does not exist. */
async function answerPage(page: PageFiles, desk: Desk, request: Request): Promise<Response> {
  const headers = pageHeaders('nowhere');
  const { pathname } = new URL(request.url);
  if (request.method === 'GET' && mayNavigate(request.url) && pathname.startsWith('/photographs/')) {
    const picture = await answerPhotograph(desk, pathname);
    if (picture !== null) {
      return new Response(new Uint8Array(picture), { headers: { ...headers, 'content-type': 'image/jpeg' } });
    }
  }
  const file = request.method === 'GET' && mayNavigate(request.url) ? page.get(pathname) : undefined;
  if (file === undefined) return new Response('There is no such file in the page.', { status: 404, headers });
  return new Response(file.body, { headers: { ...headers, 'content-type': file.mediaType } });
}
