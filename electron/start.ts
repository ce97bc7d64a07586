/** `npm start`: the desktop window where there can be one, else the same page in the person's own browser. */
import { spawn } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import type { BrowserShell } from './browser.ts';
import type { StartOptions } from './workplace.ts';

const signals = ['SIGINT', 'SIGTERM', 'SIGHUP'] as const;
const [major = 0] = process.versions.node.split('.').map(Number);
if (major < 24) {
  console.error(
    `Kettlestitch needs Node 24 or newer; this is Node ${process.versions.node}. Start it with "npm start".`,
  );
  process.exit(1);
}
// Only now: the database's library crashes without a word on an older Node.
const { readFlags } = await import('./workplace.ts');
const options = readFlags(process.argv.slice(2));
if (typeof options === 'string') {
  console.error(options);
  process.exit(1);
}
const noWindow = options.browser ? 'You asked for the browser.' : whyNoWindow();
if (noWindow === null) await openWindow();
else await serveBrowser(noWindow, options);

/** Why the desktop window cannot open here, in one line; null when it can. */
function whyNoWindow(): string | null {
  if (desktopProgram() === null) {
    return 'No desktop window: Electron has not been fetched yet (npx install-electron fetches it, with a network).';
  }
  const { DISPLAY, WAYLAND_DISPLAY } = process.env;
  if (process.platform === 'linux' && !DISPLAY && !WAYLAND_DISPLAY)
    return 'No desktop window: there is no display here.';
  return null;
}

/** Electron's executable, looked for without importing its package, which would start a download. */
function desktopProgram(): string | null {
  const folder = dirname(createRequire(import.meta.url).resolve('electron/package.json'));
  const named = join(folder, 'path.txt');
  if (!existsSync(named)) return null;
  const program = join(process.env.ELECTRON_OVERRIDE_DIST_PATH ?? join(folder, 'dist'), readFileSync(named, 'utf8'));
  return existsSync(program) ? program : null;
}

async function openWindow(): Promise<void> {
  const { buildPage, buildShell } = await import('./build.ts');
  await Promise.all([buildPage(), buildShell()]);
  const program = desktopProgram() as string;
  const child = spawn(program, [join(import.meta.dirname, '..'), ...process.argv.slice(2)], { stdio: 'inherit' });
  for (const signal of signals) process.on(signal, () => child.kill(signal));
  child.on('exit', (code) => process.exit(code ?? 1));
}

async function serveBrowser(because: string, options: StartOptions): Promise<void> {
  const { buildPage, builtPage } = await import('./build.ts');
  const { devicePace, openBrowserShell } = await import('./browser.ts');
  const { readPageFiles } = await import('./page-files.ts');
  const { router } = await import('./desk/router.ts');
  const { keepBackups } = await import('./desk/archive.ts');
  const { closeDesk, logStrays, makeDesk, openFirst, usualFolders } = await import('./workplace.ts');
  console.log(because);

  await buildPage();
  const folders = usualFolders();
  const desk = makeDesk('browser', folders);
  logStrays(desk);
  keepBackups(desk);
  let shell: BrowserShell | null = null;
  // From here on there may be an open database: Ctrl+C closes it before it ends the program.
  const close = () => {
    for (const signal of signals) process.off(signal, close);
    void Promise.resolve(shell?.close()).finally(() => {
      closeDesk(desk);
      process.exit(0);
    });
  };
  for (const signal of signals) process.on(signal, close);

  const refused = await openFirst(desk, folders, options);
  if (refused !== null) console.log(refused);
  const page = readPageFiles(builtPage);
  desk.sharing.serveWith(({ host, port, keys }) =>
    openBrowserShell({
      context: { ...desk, remote: true },
      router,
      page,
      port,
      shared: { host, keys, pace: devicePace },
    }),
  );
  const served = await openBrowserShell({ context: desk, router, page, port: options.port ?? 0 }).catch(
    (error: NodeJS.ErrnoException) => {
      closeDesk(desk);
      console.error(error.code === 'EADDRINUSE' ? `Port ${options.port} is taken; choose another.` : error.message);
      process.exit(1);
    },
  );
  shell = served;
  console.log(`Open this address in your browser; it works once:\n\n    ${served.newAddress()}\n`);
  console.log('Press Enter for a new address, Ctrl+C to close the workshop.');
  process.stdin.on('data', () => console.log(`    ${served.newAddress()}`));
}
