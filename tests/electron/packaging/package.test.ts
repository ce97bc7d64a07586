import { spawnSync } from 'node:child_process';
import { cpSync, existsSync, mkdirSync, mkdtempSync, readdirSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { extractAll } from '@electron/asar';
import { FuseState, FuseV1Options, getCurrentFuseWire } from '@electron/fuses';
import { Arch, build, Platform } from 'electron-builder';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { prepareToPack } from '../../../electron/packaging/prepare.ts';
import { packaging, packedLimitBytes } from '../../../electron/packaging/settings.ts';
import packageJson from '../../../package.json' with { type: 'json' };

/**
 * Electron's own program cannot be fetched everywhere the tests run, so a file with nothing in it but Electron's row of fuses stands in
 * for it. Everything packed around it is what a person would get.
 */
const fuseSentinel = 'dL7pKGdnNz796PbbjQWNKmHXBZaB9tsX';
const hereOnly = process.platform === 'linux' && process.arch === 'x64';

let folder: string;
let packed: string;
let opened: string;

beforeAll(async () => {
  if (!hereOnly) return;
  folder = mkdtempSync(join(tmpdir(), 'kettlestitch-packed-'));
  const standIn = join(folder, 'electron');
  mkdirSync(join(standIn, 'resources'), { recursive: true });
  mkdirSync(join(standIn, 'locales'));
  const fuses = Buffer.concat([Buffer.from(fuseSentinel), Buffer.from([1, 9]), Buffer.from('101100001')]);
  writeFileSync(join(standIn, 'electron'), fuses, { mode: 0o755 });
  writeFileSync(join(standIn, 'LICENSE'), '');
  writeFileSync(join(standIn, 'locales', 'en-GB.pak'), '');
  await prepareToPack();
  await build({
    targets: Platform.LINUX.createTarget('dir', Arch.x64),
    config: { ...packaging, electronDist: standIn, directories: { ...packaging.directories, output: folder } },
    publish: 'never',
  });
  packed = join(folder, 'linux-unpacked');
  opened = join(folder, 'opened');
  extractAll(join(packed, 'resources', 'app.asar'), opened);
}, 120_000);

afterAll(() => {
  if (folder) rmSync(folder, { recursive: true, force: true });
});

describe.runIf(hereOnly)('what is packed', () => {
  test('is the built program and nothing of its sources, tests or tools', () => {
    expect(readdirSync(opened).sort()).toEqual(['LICENSE', 'dist', 'node_modules', 'package.json']);
    for (const file of ['electron/main.mjs', 'electron/preload.cjs', 'renderer/index.html', 'fixtures/demo'])
      expect(existsSync(join(opened, 'dist', file)), file).toBe(true);
    for (const tool of Object.keys(packageJson.devDependencies))
      expect(existsSync(join(opened, 'node_modules', tool)), tool).toBe(false);
    for (const library of Object.keys(packageJson.dependencies))
      expect(existsSync(join(opened, 'node_modules', library)), library).toBe(true);
  });

  test('holds every migration, both faces of print and the page’s own fonts', () => {
    const migrations = readdirSync(new URL('../../../electron/store/migrations', import.meta.url));
    const shipped = readdirSync(join(opened, 'dist/electron/store/migrations'));
    expect(shipped).toEqual(expect.arrayContaining(migrations.filter((name) => name.endsWith('.sql'))));
    for (const face of ['source-sans-3', 'source-serif-4'])
      expect(existsSync(join(opened, `node_modules/@fontsource/${face}/files/${face}-latin-400-normal.woff`))).toBe(
        true,
      );
    expect(readdirSync(join(opened, 'dist/renderer/assets')).some((name) => name.endsWith('.woff2'))).toBe(true);
  });

  test('keeps native parts outside the archive, this system’s only', () => {
    const natives = filesUnder(join(packed, 'resources', 'app.asar.unpacked')).filter((name) => name.endsWith('.node'));
    expect(natives.some((name) => name.endsWith('better-sqlite3/prebuilds/linux-x64.node'))).toBe(true);
    expect(natives.some((name) => name.includes('sharp-linux-x64'))).toBe(true);
    expect(natives.filter((name) => /darwin|win32/.test(name))).toEqual([]);
  });

  test('is under 120 MB without Electron', () => {
    const bytes = filesUnder(join(packed, 'resources')).reduce((sum, file) => sum + statSync(file).size, 0);
    expect(bytes).toBeLessThan(packedLimitBytes);
    expect(bytes).toBeGreaterThan(20 * 1024 * 1024);
  });

  test('has its fuses set: no Node by the back door, only the archive it came with', async () => {
    const wire = await getCurrentFuseWire(join(packed, 'kettlestitch'));
    const on = (fuse: FuseV1Options) => wire[fuse] === FuseState.ENABLE;
    expect([
      on(FuseV1Options.RunAsNode),
      on(FuseV1Options.EnableNodeOptionsEnvironmentVariable),
      on(FuseV1Options.EnableNodeCliInspectArguments),
      on(FuseV1Options.GrantFileProtocolExtraPrivileges),
    ]).toEqual([false, false, false, false]);
    expect([
      on(FuseV1Options.EnableCookieEncryption),
      on(FuseV1Options.EnableEmbeddedAsarIntegrityValidation),
      on(FuseV1Options.OnlyLoadAppFromAsar),
    ]).toEqual([true, true, true]);
  });

  test('makes a demo workshop, solves and prints with nothing beside it', () => {
    // Native parts lie beside the archive; Electron looks there by itself, Node has to have them put in.
    cpSync(join(packed, 'resources', 'app.asar.unpacked'), opened, { recursive: true });
    const script = `
      const { makeDesk, closeDesk } = await import('./dist/electron/workplace.mjs');
      const { router } = await import('./dist/electron/desk/router.mjs');
      const { createRouterClient } = await import('@orpc/server');
      const { default: sharp } = await import('sharp');
      const desk = makeDesk('desktop', { state: './state', home: '.' });
      const ask = createRouterClient(router, { context: desk });
      const made = await ask.workshop.openDemo();
      let fates = 0;
      for await (const piece of await ask.fates.propose({ handMinutes: 6000, needs: [], seconds: 5 }))
        if (piece.kind === 'done') fates = piece.proposed.decisions.length;
      const { rows } = await ask.shelf.list({ words: '', filter: {}, sort: 'attention', offset: 0, limit: 1 });
      const sheet = await ask.daybook.printRecord({ bookId: rows[0].id });
      const picture = await sharp({ create: { width: 4, height: 4, channels: 3, background: 'red' } }).png().toBuffer();
      console.log(JSON.stringify([made.open.isDemo, fates > 0, sheet.base64.slice(0, 5), picture.length > 50]));
      closeDesk(desk);`;
    writeFileSync(join(opened, 'try.mjs'), script);
    const run = spawnSync(process.execPath, ['try.mjs'], { cwd: opened, encoding: 'utf8' });
    expect(run.stderr).toBe('');
    expect(JSON.parse(run.stdout)).toEqual([true, true, 'JVBER', true]);
  });
});

function filesUnder(root: string): string[] {
  return readdirSync(root, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name));
}
