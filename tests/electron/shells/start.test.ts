import { type ChildProcess, spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { expect, onTestFinished, test } from 'vitest';
import { makeKeys, mayAskToOpen, mayNavigate } from '../../../electron/security.ts';
import { readFlags } from '../../../electron/workplace.ts';
import { enter } from '../contract/ways.ts';
import { temporaryFolder } from '../test-desk.ts';

const root = fileURLToPath(new URL('../../..', import.meta.url));

type Started = Readonly<{ child: ChildProcess; said(pattern: RegExp): Promise<string>; ended: Promise<number | null> }>;

const noDisplay = { DISPLAY: '', WAYLAND_DISPLAY: '' };

/** `npm start` as npm runs it, with folders of its own. */
function start(folder: string, ...flags: string[]): Started {
  const child = spawn(process.execPath, ['electron/start.ts', ...flags], {
    cwd: root,
    env: { ...process.env, KETTLESTITCH_STATE: join(folder, 'state'), KETTLESTITCH_HOME: folder, ...noDisplay },
  });
  onTestFinished(() => void child.kill('SIGKILL'));
  let heard = '';
  const listeners = new Set<() => void>();
  for (const stream of [child.stdout, child.stderr]) {
    stream?.on('data', (chunk) => {
      heard += chunk;
      for (const listener of listeners) listener();
    });
  }
  const ended = new Promise<number | null>((resolve) => child.on('close', resolve));
  const said = (pattern: RegExp) =>
    new Promise<string>((resolve, reject) => {
      const look = () => {
        const found = pattern.exec(heard);
        if (found !== null) resolve(found[0]);
      };
      listeners.add(look);
      void ended.then((code) => reject(new Error(`It ended with ${code} and said: ${heard}`)));
      look();
    });
  return { child, said, ended };
}

test('a start without a window says why in one line, serves a workshop, and closes it on Ctrl+C', async () => {
  const folder = temporaryFolder();
  const workshop = join(folder, 'yard');
  const { child, said, ended } = start(folder, '--browser', '--workshop', workshop);
  expect(await said(/^.*\n/)).toBe('You asked for the browser.\n');
  const address = new URL(await said(/http:\/\/127\.0\.0\.1:\d+\/enter#key=[\w-]+/));
  const page = await fetch(new URL('/enter', address));
  expect(page.status).toBe(200);
  expect(existsSync(join(workshop, 'workshop.sqlite'))).toBe(true);

  child.stdin?.write('\n');
  expect(await said(/(http:\S+\s[\s\S]*){2}/)).toContain('/enter#key=');

  child.kill('SIGINT');
  expect(await ended).toBe(0);
  expect(existsSync(join(workshop, 'workshop.sqlite-wal'))).toBe(false);
});

test.runIf(process.platform === 'linux')(
  'a start where there is no display says so and opens the workshop open last',
  async () => {
    const folder = temporaryFolder();
    const first = start(folder, '--browser', '--demo');
    await first.said(/http:\S+\n/);
    first.child.kill('SIGTERM');
    expect(await first.ended).toBe(0);

    const { child, said, ended } = start(folder);
    expect(await said(/^.*\n/)).toMatch(/^No desktop window: [^.]+\.\n$/);
    const { client } = await enter(await said(/http:\S+\n/));
    expect((await client.workshop.status()).open).toMatchObject({ isDemo: true });
    child.kill('SIGINT');
    expect(await ended).toBe(0);
  },
);

test('a port that is taken is said so, and nothing is left open', async () => {
  const folder = temporaryFolder();
  const first = start(folder, '--browser');
  const { port } = new URL(await first.said(/http:\S+\n/));
  const second = start(folder, '--browser', '--port', port);
  expect(await second.said(/Port .*\n/)).toBe(`Port ${port} is taken; choose another.\n`);
  expect(await second.ended).toBe(1);
});

test.each([
  [['--port', '80'], '--port 80: a port is a whole number from 1024 to 65535.'],
  [['--demo', '--workshop', 'x'], 'Choose either --demo or --workshop, not both.'],
  [['--colour'], "Unknown option '--colour'. Flags: --browser, --demo, --workshop FOLDER, --port NUMBER."],
])('flags that make no sense are answered in words: %s', (flags, words) => {
  expect(readFlags(flags)).toBe(words);
});

test('the window may be at the workshop’s own pages only', () => {
  expect(mayNavigate('kettlestitch://workshop/')).toBe(true);
  for (const address of [
    'kettlestitch://workshop.example/',
    'kettlestitch://someone@workshop/',
    'https://workshop/',
    'file:///etc/passwd',
    'javascript:alert(1)',
    'about:blank',
    '',
  ]) {
    expect(mayNavigate(address), address).toBe(false);
  }
});

test('only plain https addresses may be offered to the person’s browser', () => {
  expect(mayAskToOpen('https://example.org/a?b#c')).toBe(true);
  for (const address of ['http://example.org/', 'https://a:b@example.org/', 'file:///etc/passwd', 'ms-word:x', 'x']) {
    expect(mayAskToOpen(address), address).toBe(false);
  }
});

test('a key opens one session, and a session stays known', () => {
  const keys = makeKeys();
  expect(keys.exchange('')).toBeNull();
  const key = keys.issue();
  const session = keys.exchange(key) ?? '';
  expect(keys.exchange(key)).toBeNull();
  expect(keys.knows(session)).toBe(true);
  expect(keys.knows(key)).toBe(false);
  expect(keys.knows('')).toBe(false);
  const second = keys.exchange(keys.issue()) ?? '';
  expect(keys.knows(session) && keys.knows(second)).toBe(true);
});
