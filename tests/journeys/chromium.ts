/**
 * A real browser for journeys and pictures: the one `CHROMIUM_PATH` names, else the headless Chromium that comes as a package.
 * The package's own list of flags switches web security off; those flags are left out, since the page's rules are what is tried here.
 */
import { existsSync, mkdtempSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { type Browser, type BrowserServer, chromium, type LaunchOptions } from 'playwright-core';
import packageJson from '../../package.json' with { type: 'json' };

const tooTrusting = [
  '--disable-web-security',
  '--allow-running-insecure-content',
  '--disable-site-isolation-trials',
  '--single-process',
];

/** Starts the browser; the caller closes it. */
export async function launchBrowser(): Promise<Browser> {
  return chromium.launch(await launchOptions());
}

/** Starts the browser for several processes to connect to; the caller closes it. */
export async function serveBrowser(): Promise<BrowserServer> {
  return chromium.launchServer({ ...(await launchOptions()), host: '127.0.0.1' });
}

async function launchOptions(): Promise<LaunchOptions> {
  const named = process.env.CHROMIUM_PATH;
  if (named !== undefined && named !== '') return { executablePath: named, args: ['--no-sandbox'] };
  if (process.platform !== 'linux') {
    throw new Error('The packaged Chromium runs on Linux only; name a Chromium or Chrome in CHROMIUM_PATH.');
  }
  const { folder, executablePath, args } = await unpacked();
  return {
    executablePath,
    args: args.filter((arg) => !tooTrusting.includes(arg)),
    env: { ...(process.env as Record<string, string>), FONTCONFIG_PATH: join(folder, 'fonts') },
  };
}

/** Unpacks the packaged browser once a version, whole or not at all, however many processes ask at once, wherever they keep their own files. */
async function unpacked() {
  const folder = join('/tmp', `kettlestitch-chromium-${packageJson.devDependencies['@sparticuz/chromium']}`);
  const { default: packaged } = await import('@sparticuz/chromium');
  if (!existsSync(folder)) {
    const staging = mkdtempSync(`${folder}-`);
    const usual = process.env.TMPDIR;
    process.env.TMPDIR = staging;
    try {
      await packaged.executablePath();
    } finally {
      if (usual === undefined) delete process.env.TMPDIR;
      else process.env.TMPDIR = usual;
    }
    writeFileSync(join(staging, 'fonts', 'fonts.conf'), fontList(folder));
    try {
      renameSync(staging, folder);
    } catch {
      // Another process was faster.
      rmSync(staging, { recursive: true, force: true });
    }
  }
  return { folder, executablePath: join(folder, 'chromium'), args: packaged.args };
}

/** Where the package's one font is. Without any, the browser ends at the first input field. */
function fontList(folder: string): string {
  return `<?xml version="1.0"?>
<!DOCTYPE fontconfig SYSTEM "fonts.dtd">
<fontconfig>
  <dir>${join(folder, 'fonts', 'fonts')}</dir>
  <dir>/usr/share/fonts</dir>
  <cachedir>${join(folder, 'fonts-cache')}</cachedir>
</fontconfig>
`;
}
