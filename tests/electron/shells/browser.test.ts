import { mkdirSync, symlinkSync, writeFileSync } from 'node:fs';
import { request as ask } from 'node:http';
import { connect } from 'node:net';
import { join } from 'node:path';
import { describe, expect, onTestFinished, test } from 'vitest';
import { type BrowserShellOptions, bodyLimitBytes, openBrowserShell } from '../../../electron/browser.ts';
import { desk as base } from '../../../electron/desk/desk.ts';
import { readPageFiles } from '../../../electron/page-files.ts';
import { enteredShell } from '../contract/ways.ts';
import { temporaryFolder, testDesk } from '../test-desk.ts';

const json = { 'content-type': 'application/json' };

/** A page of three files beside something that must never be served. */
function pageFolder(): string {
  const folder = temporaryFolder();
  const page = join(folder, 'renderer');
  mkdirSync(join(page, 'assets'), { recursive: true });
  writeFileSync(
    join(page, 'index.html'),
    '<!doctype html><title>Kettlestitch</title><script src="/assets/app.js"></script>',
  );
  writeFileSync(join(page, 'assets', 'app.js'), 'document.title = "ran";');
  writeFileSync(join(page, 'notes.secret'), 'not a kind of file the page needs');
  writeFileSync(join(folder, 'workshop.sqlite'), 'the database');
  symlinkSync(join(folder, 'workshop.sqlite'), join(page, 'link.js'));
  return page;
}

function options(more: Partial<BrowserShellOptions> = {}): BrowserShellOptions & { asked: string[] } {
  const asked: string[] = [];
  const router = {
    workshop: {
      undo: base.workshop.undo.handler(() => {
        asked.push('undo');
        return { label: 'taken back' };
      }),
      create: base.workshop.create.handler(({ input }) => {
        asked.push(`create ${input.name.length}`);
        return {} as never;
      }),
    },
  };
  return { context: testDesk(), router, page: readPageFiles(pageFolder()), asked, ...more };
}

async function entered(more: Partial<BrowserShellOptions> = {}) {
  const given = options(more);
  return { ...(await enteredShell(given)), asked: given.asked, context: given.context };
}

/** One request as it is, without what a fetch would mend; answers status, headers and text. */
function send(
  port: number,
  {
    method = 'GET',
    path = '/',
    headers = {},
    body = '',
  }: Readonly<{ method?: string; path?: string; headers?: Record<string, string>; body?: string }>,
): Promise<{ status: number; headers: NodeJS.Dict<string | string[]>; text: string }> {
  return new Promise((resolve, reject) => {
    const asked = ask({ host: '127.0.0.1', port, method, path, headers, setHost: !('host' in headers) }, (reply) => {
      let text = '';
      reply.setEncoding('utf8');
      reply.on('data', (chunk) => {
        text += chunk;
      });
      reply.on('end', () => resolve({ status: reply.statusCode ?? 0, headers: reply.headers, text }));
    });
    asked.on('error', reject);
    asked.end(body);
  });
}

/** Writes raw bytes and answers all that comes back until the connection ends. */
function speak(port: number, words: string, endAfterMs?: number): Promise<string> {
  return new Promise((resolve) => {
    let heard = '';
    const socket = connect(port, '127.0.0.1', () => socket.write(words));
    socket.on('data', (chunk) => {
      heard += chunk;
    });
    socket.on('error', () => {});
    socket.on('close', () => resolve(heard));
    if (endAfterMs !== undefined) setTimeout(() => socket.destroy(), endAfterMs);
  });
}

describe('the key', () => {
  test('opens once, is never part of a request for a page, and its cookie is kept from scripts and other sites', async () => {
    const shell = await openBrowserShell(options());
    onTestFinished(() => shell.close());
    const address = new URL(shell.newAddress());
    expect(address.origin).toBe(`http://127.0.0.1:${shell.port}`);
    expect(`${address.pathname}${address.search}`).toBe('/enter');
    const key = new URLSearchParams(address.hash.slice(1)).get('key') ?? '';
    expect(key.length).toBeGreaterThanOrEqual(43);

    const enter = () =>
      send(shell.port, {
        method: 'POST',
        path: '/enter',
        headers: { ...json, origin: address.origin },
        body: JSON.stringify({ key }),
      });
    const first = await enter();
    expect(first.status).toBe(200);
    const [cookie] = first.headers['set-cookie'] as string[];
    expect(cookie).toMatch(/; HttpOnly; SameSite=Strict; Path=\/$/);
    expect(cookie).not.toContain(key);
    expect((await enter()).status).toBe(401);
  });

  test('dies when a new one is asked for, and after twenty wrong tries', async () => {
    const shell = await openBrowserShell(options());
    onTestFinished(() => shell.close());
    const enter = async (key: string | null) =>
      (
        await send(shell.port, {
          method: 'POST',
          path: '/enter',
          headers: { ...json, origin: `http://127.0.0.1:${shell.port}` },
          body: JSON.stringify({ key }),
        })
      ).status;
    const keyOf = (address: string) => new URLSearchParams(new URL(address).hash.slice(1)).get('key');
    const old = keyOf(shell.newAddress());
    const young = keyOf(shell.newAddress());
    expect(await enter(old)).toBe(401);
    expect(await enter(young)).toBe(200);

    const guessed = keyOf(shell.newAddress());
    for (let tries = 0; tries < 20; tries += 1) expect(await enter(`guess ${tries}`)).toBe(401);
    expect(await enter(guessed)).toBe(401);
  });

  test('of nobody opens nothing: no file, no answer', async () => {
    const { shell, origin, asked } = await entered();
    const file = await send(shell.port, { path: '/' });
    expect(file.status).toBe(401);
    expect(file.text).toContain('Press Enter where it runs for a new address');
    for (const cookie of ['', `kettlestitch-${shell.port}=wrong`, `kettlestitch-${shell.port}=`]) {
      const reply = await send(shell.port, {
        method: 'POST',
        path: '/ask/workshop/undo',
        headers: { ...json, origin, cookie },
        body: '{}',
      });
      expect(reply.status).toBe(401);
    }
    expect(asked).toEqual([]);
  });
});

describe('a request', () => {
  const undo = { method: 'POST', path: '/ask/workshop/undo', body: '{}' };

  test('is answered when it comes from the page itself', async () => {
    const { shell, origin, cookie, asked } = await entered();
    const reply = await send(shell.port, { ...undo, headers: { ...json, origin, cookie } });
    expect(reply.status).toBe(200);
    expect(JSON.parse(reply.text)).toEqual({ json: { label: 'taken back' } });
    const local = `localhost:${shell.port}`;
    const other = await send(shell.port, {
      ...undo,
      headers: { ...json, origin: `http://${local}`, host: local, cookie },
    });
    expect(other.status).toBe(200);
    expect(asked).toEqual(['undo', 'undo']);
  });

  test.each([
    ['another host name (DNS rebinding)', { host: 'workshop.example' }, 421],
    ['the right host at another port', { host: '127.0.0.1:1' }, 421],
    ['no port in the host', { host: '127.0.0.1' }, 421],
    ['another site as its origin', { origin: 'https://example.org' }, 403],
    ['another port as its origin', { origin: 'http://127.0.0.1:1' }, 403],
    ['a hidden origin', { origin: 'null' }, 403],
    ['a form’s content type', { 'content-type': 'text/plain' }, 415],
    ['a form with a file', { 'content-type': 'multipart/form-data; boundary=x' }, 415],
    ['a type that only begins like JSON', { 'content-type': 'application/jsonp' }, 415],
  ])('with %s is refused', async (_what, wrong: Record<string, string>, status) => {
    const { shell, origin, cookie, asked } = await entered();
    const reply = await send(shell.port, { ...undo, headers: { ...json, origin, cookie, ...wrong } });
    expect(reply.status).toBe(status);
    expect(reply.text).toMatch(/[a-z]\./);
    expect(asked).toEqual([]);
  });

  test('without an origin or a content type is refused', async () => {
    const { shell, origin, cookie, asked } = await entered();
    expect((await send(shell.port, { ...undo, headers: { ...json, cookie } })).status).toBe(403);
    expect((await send(shell.port, { ...undo, headers: { origin, cookie } })).status).toBe(415);
    expect(asked).toEqual([]);
  });

  test.each(['GET', 'HEAD', 'OPTIONS', 'PUT', 'DELETE', 'PATCH', 'TRACE'])('by %s changes nothing', async (method) => {
    const { shell, origin, cookie, asked } = await entered();
    for (const path of ['/ask/workshop/undo', '/ask/workshop/undo?data=%7B%7D']) {
      const reply = await send(shell.port, { method, path, headers: { origin, cookie } });
      expect([404, 405]).toContain(reply.status);
      expect(reply.headers['access-control-allow-origin']).toBeUndefined();
    }
    expect(asked).toEqual([]);
  });

  test('for a question nobody knows, or that is not JSON, is answered in words', async () => {
    const { shell, origin, cookie } = await entered();
    const headers = { ...json, origin, cookie };
    const unknown = await send(shell.port, { method: 'POST', path: '/ask/workshop/burn', headers, body: '{}' });
    expect(unknown.status).toBe(404);
    expect(JSON.parse(unknown.text).json.message).toContain('no answer to that question');
    const broken = await send(shell.port, { ...undo, headers, body: '{"json":' });
    expect(broken.status).toBe(400);
    expect(JSON.parse(broken.text).json.message).toBe('This is not JSON.');
  });
});

describe('a file', () => {
  test('carries the page’s rules, and only scripts of its own', async () => {
    const { shell, cookie } = await entered();
    const { status, headers, text } = await send(shell.port, { headers: { cookie } });
    expect(status).toBe(200);
    expect(text).toContain('<title>Kettlestitch</title>');
    expect(headers).toMatchObject({
      'content-type': 'text/html; charset=utf-8',
      'x-content-type-options': 'nosniff',
      'referrer-policy': 'no-referrer',
      'cross-origin-opener-policy': 'same-origin',
      'cross-origin-resource-policy': 'same-origin',
      'cache-control': 'no-store',
    });
    const policy = String(headers['content-security-policy']);
    for (const rule of ["default-src 'none'", "script-src 'self'", "frame-ancestors 'none'", "form-action 'none'"]) {
      expect(policy.split('; ')).toContain(rule);
    }
    expect(policy).not.toContain('unsafe');
  });

  test.each([
    '/../workshop.sqlite',
    '/assets/../../workshop.sqlite',
    '/%2e%2e/workshop.sqlite',
    '/..%2fworkshop.sqlite',
    '/..\\workshop.sqlite',
    '//etc/passwd',
    '/assets/%00app.js',
    '/link.js',
    '/notes.secret',
    '/assets/',
    '/assets',
    '/constructor',
    '/__proto__',
  ])('outside the page does not exist: %s', async (path) => {
    const { shell, cookie } = await entered();
    const reply = await send(shell.port, { path, headers: { cookie } });
    expect(reply.status).toBe(404);
    expect(reply.text).not.toContain('database');
  });

  test('asked for as a proxy would is refused', async () => {
    const { shell, cookie } = await entered();
    const head = `GET http://example.org/ HTTP/1.1\r\nHost: 127.0.0.1:${shell.port}\r\nCookie: ${cookie}\r\nConnection: close\r\n\r\n`;
    expect(await speak(shell.port, head)).toMatch(/^HTTP\/1\.1 404 /);
    const tunnel = `CONNECT example.org:443 HTTP/1.1\r\nHost: 127.0.0.1:${shell.port}\r\n\r\n`;
    expect(await speak(shell.port, tunnel)).not.toMatch(/ 200 /);
  });
});

describe('too much', () => {
  const create = { method: 'POST', path: '/ask/workshop/create' };

  test('as announced is refused with 413 and a sentence', async () => {
    const { shell, origin, cookie, asked } = await entered();
    const body = JSON.stringify({ json: { folder: '/x', name: 'x'.repeat(bodyLimitBytes) } });
    const reply = await send(shell.port, { ...create, headers: { ...json, origin, cookie }, body });
    expect(reply.status).toBe(413);
    expect(JSON.parse(reply.text).json).toMatchObject({ code: 'PAYLOAD_TOO_LARGE' });
    expect(JSON.parse(reply.text).json.message).toContain('larger than the 32 MB');
    expect(asked).toEqual([]);
  });

  test('unannounced, in chunks, is refused as soon as it shows, and is not kept in memory', async () => {
    const { shell, origin, cookie, asked } = await entered();
    const headers = { ...json, origin, cookie, 'transfer-encoding': 'chunked' };
    const piece = Buffer.alloc(1024 * 1024, 'x');
    const before = process.memoryUsage().arrayBuffers;
    let most = 0;
    const status = await new Promise<number>((resolve, reject) => {
      const asking = ask({ host: '127.0.0.1', port: shell.port, ...create, headers }, (reply) => {
        reply.resume();
        resolve(reply.statusCode ?? 0);
      });
      asking.on('error', reject);
      let sent = 0;
      const more = (): void => {
        most = Math.max(most, process.memoryUsage().arrayBuffers - before);
        sent += 1;
        if (sent > 200) asking.end();
        else asking.write(piece, more);
      };
      more();
    });
    expect(status).toBe(413);
    expect(most).toBeLessThan(150 * 1024 * 1024);
    expect(asked).toEqual([]);
  });

  test('before the key was shown is not read at all', async () => {
    const { shell, origin } = await entered();
    const reply = await send(shell.port, {
      method: 'POST',
      path: '/enter',
      headers: { ...json, origin },
      body: JSON.stringify({ key: 'x'.repeat(5000) }),
    }).catch((error: NodeJS.ErrnoException) => ({ status: error.code }));
    expect([413, 'ECONNRESET', 'EPIPE']).toContain(reply.status);
  });

  test('of a header ends the conversation', async () => {
    const { shell } = await entered();
    expect(await speak(shell.port, `GET / HTTP/1.1\r\nX: ${'x'.repeat(20_000)}\r\n\r\n`)).toMatch(/^HTTP\/1\.1 431 /);
  });
});

describe('somebody slow', () => {
  const quick = { headersMs: 150, requestMs: 300, idleMs: 60_000, checkMs: 50 };

  test('with the headers is cut off', async () => {
    const { shell } = await entered({ patience: quick });
    expect(await speak(shell.port, 'GET / HTTP/1.1\r\nHost: 127.')).toMatch(/^HTTP\/1\.1 408 /);
  });

  test('with the body is cut off, and others are served meanwhile', async () => {
    const { shell, origin, cookie, asked, context } = await entered({ patience: quick });
    const head = `POST /ask/workshop/create HTTP/1.1\r\nHost: 127.0.0.1:${shell.port}\r\nOrigin: ${origin}\r\nCookie: ${cookie}\r\nContent-Type: application/json\r\nContent-Length: 100\r\n\r\n{"js`;
    const slow = speak(shell.port, head);
    const other = await send(shell.port, { headers: { cookie } });
    expect(other.status).toBe(200);
    expect(await slow).toMatch(/^(HTTP\/1\.1 408 |$)/);
    expect(asked).toEqual([]);
    expect((context.log as ReturnType<typeof testDesk>['log']).lines).toEqual([]);
  });

  test('who hangs up in the middle leaves no defect behind', async () => {
    const { shell, origin, cookie, context } = await entered();
    const head = `POST /ask/workshop/create HTTP/1.1\r\nHost: 127.0.0.1:${shell.port}\r\nOrigin: ${origin}\r\nCookie: ${cookie}\r\nContent-Type: application/json\r\nContent-Length: 100\r\n\r\n{"js`;
    await speak(shell.port, head, 50);
    await send(shell.port, { headers: { cookie } });
    expect((context.log as ReturnType<typeof testDesk>['log']).lines).toEqual([]);
  });
});

test('only the loopback address is listened on', async () => {
  const { networkInterfaces } = await import('node:os');
  const { shell } = await entered();
  const outside = Object.values(networkInterfaces())
    .flat()
    .find((one) => one !== undefined && one.family === 'IPv4' && !one.internal);
  if (outside === undefined) return;
  const reached = await new Promise<boolean>((resolve) => {
    const socket = connect(shell.port, outside.address, () => resolve(true));
    socket.on('error', () => resolve(false));
    onTestFinished(() => void socket.destroy());
  });
  expect(reached).toBe(false);
});

test('a port that is taken is said so', async () => {
  const { shell } = await entered();
  await expect(openBrowserShell({ ...options(), port: shell.port })).rejects.toMatchObject({ code: 'EADDRINUSE' });
});
