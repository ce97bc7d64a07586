/**
 * The browser shell: the same page and the same answers, served on the loopback address to whoever holds the key.
 *
 * Any page a person visits can send requests to 127.0.0.1, so every request must name this server as its host, every request that
 * can change something must come from this page, carry JSON and the session, and GET never changes anything. The key is in the
 * address's fragment: it is not sent, logged or passed on; a script exchanges it for an HttpOnly cookie and it is dead.
 */
import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import type { AnyRouter } from '@orpc/server';
import type { Desk } from './desk/desk.ts';
import { answerPhotograph } from './desk/photographs.ts';
import type { PageFiles } from './page-files.ts';
import { type Keys, makeKeys, makeLimiter, pageHeaders } from './security.ts';
import { answersPath, httpAnswers } from './transports.ts';

export type BrowserShell = Readonly<{
  port: number;
  /** A new address with a new one-time key; the one given before dies. */
  newAddress(): string;
  close(): Promise<void>;
}>;

/** Common practice, no source: a list or a photograph of 24 MB grows by a third in base64. */
export const bodyLimitBytes = 32 * 1024 * 1024;

export type Patience = Readonly<{ headersMs: number; requestMs: number; idleMs: number; checkMs: number }>;
/** Common practice, no source. */
const patience: Patience = { headersMs: 10_000, requestMs: 60_000, idleMs: 120_000, checkMs: 2_000 };

/** How often one address may ask in all, and how often it may try a key. */
export type Pace = Readonly<{
  questions: Readonly<{ perSecond: number; burst: number }>;
  keys: Readonly<{ perSecond: number; burst: number }>;
}>;
/** Common practice, no source: a page that opens asks some dozens of times; a person scans a code once. */
export const devicePace: Pace = { questions: { perSecond: 30, burst: 300 }, keys: { perSecond: 0.1, burst: 5 } };

export type BrowserShellOptions = Readonly<{
  context: Desk;
  router: AnyRouter;
  page: PageFiles;
  /** A free port is found when none is given. */
  port?: number | undefined;
  patience?: Patience;
  /** For devices on the network: which address is served, by whose keys, and how often one address may ask. */
  shared?: Readonly<{ host: string; keys: Keys; pace: Pace }>;
}>;

/** Starts serving; rejects in the system's words when the port is taken. */
export async function openBrowserShell(options: BrowserShellOptions): Promise<BrowserShell> {
  const { shared } = options;
  const keys = shared?.keys ?? makeKeys();
  const questions = shared && makeLimiter(shared.pace.questions, Date.now);
  const tries = shared && makeLimiter(shared.pace.keys, Date.now);
  const address = shared?.host ?? '127.0.0.1';
  const answers = httpAnswers(options.router, options.context);
  const waits = options.patience ?? patience;
  const server = createServer(
    {
      headersTimeout: waits.headersMs,
      requestTimeout: waits.requestMs,
      connectionsCheckingInterval: waits.checkMs,
      maxHeaderSize: 16_384,
    },
    (request, response) => {
      reply(request, response)
        .catch((error: unknown) => {
          // The asker left in the middle of a sentence: nobody to tell, and no defect.
          if (request.destroyed && !request.complete) return answered;
          const number = options.context.log.defect(error, `${request.method} ${request.url}`);
          return trouble(500, 'DEFECT', `Something went wrong in the program itself (no. ${number}).`);
        })
        .then((said) => {
          if (said === answered) return;
          if (response.headersSent) response.destroy();
          else send(response, said);
        });
    },
  );
  server.timeout = waits.idleMs;
  server.maxConnections = 100;
  const port = await listen(server, address, options.port ?? 0);
  const hosts = shared ? [`${address}:${port}`] : [`127.0.0.1:${port}`, `localhost:${port}`];
  const cookieName = `kettlestitch-${port}`;

  async function reply(request: IncomingMessage, response: ServerResponse): Promise<Reply | typeof answered> {
    for (const [name, value] of Object.entries(pageHeaders('own server'))) response.setHeader(name, value);
    const host = request.headers.host ?? '';
    const path = request.url ?? '';
    if (!hosts.includes(host)) return trouble(421, 'WRONG_HOST', 'This is not the address the workshop is at.');
    const from = request.socket.remoteAddress ?? '';
    if (questions?.allows(from) === false || (path === '/enter' && tries?.allows(from) === false)) {
      response.setHeader('retry-after', '10');
      return trouble(429, 'TOO_MANY', 'This device asks more often than a person can. Wait a little and try again.');
    }
    if (request.method === 'GET') {
      const session = sessionOf(request);
      return path.startsWith('/photographs/') ? photograph(path, session) : file(path, session);
    }
    if (request.method !== 'POST') return trouble(405, 'WRONG_METHOD', 'Only GET and POST are answered here.');

    if (request.headers.origin !== `http://${host}`) {
      return trouble(403, 'WRONG_ORIGIN', 'Only the workshop’s own page may ask for changes.');
    }
    if (!isJson(request.headers['content-type'])) {
      return trouble(415, 'WRONG_TYPE', 'Only application/json is read here.');
    }
    const mayAsk = keys.knows(sessionOf(request));
    if (path !== '/enter' && !mayAsk) return trouble(401, 'NO_KEY', noKey);
    const body = await readJson(request, path === '/enter' ? 1000 : bodyLimitBytes);
    if (!body.ok) {
      if (mayAsk) await drain(request);
      response.setHeader('connection', 'close');
      return trouble(body.status, body.status === 413 ? 'PAYLOAD_TOO_LARGE' : 'BAD_REQUEST', body.sentence);
    }
    if (path === '/enter') return enter(body.value);
    if (path.startsWith(`${answersPath}/`) && (await answers(request, response, body.value))) return answered;
    return trouble(
      404,
      'NOT_FOUND',
      'This workshop has no answer to that question; the page may be of another version.',
    );
  }

  function file(path: string, session: string): Reply {
    if (path === '/enter') return { status: 200, mediaType: 'text/html; charset=utf-8', body: enterPage };
    if (path === '/enter.js') return { status: 200, mediaType: 'text/javascript; charset=utf-8', body: enterScript };
    if (!keys.knows(session)) return { status: 401, mediaType: 'text/html; charset=utf-8', body: keylessPage };
    const found = options.page.get(path);
    if (found === undefined)
      return { status: 404, mediaType: 'text/plain', body: 'There is no such file in the page.' };
    const headers = { 'cache-control': found.forever ? 'max-age=31536000, immutable' : 'no-store' };
    return { status: 200, mediaType: found.mediaType, body: found.body, headers };
  }

  /** Named by its content, so that a browser that has it need never ask again. */
  async function photograph(path: string, session: string): Promise<Reply> {
    if (!keys.knows(session)) return trouble(401, 'NO_KEY', noKey);
    const body = await answerPhotograph(options.context, path);
    if (body === null) return { status: 404, mediaType: 'text/plain', body: 'There is no such photograph.' };
    const headers = { 'cache-control': 'private, max-age=31536000, immutable' };
    return { status: 200, mediaType: 'image/jpeg', body, headers };
  }

  function enter(body: unknown): Reply {
    const key = typeof body === 'object' && body !== null && 'key' in body ? body.key : undefined;
    const session = typeof key === 'string' ? keys.exchange(key) : null;
    if (session === null) return trouble(401, 'NO_KEY', noKey);
    // A device keeps its key until it is shut out; a browser of this machine until it is closed.
    const lasting = shared ? `; Max-Age=${365 * 24 * 3600}` : '';
    const cookie = `${cookieName}=${session}; HttpOnly; SameSite=Strict; Path=/${lasting}`;
    return { status: 200, mediaType: 'application/json', body: '{}', headers: { 'set-cookie': cookie } };
  }

  function sessionOf(request: IncomingMessage): string {
    const pairs = (request.headers.cookie ?? '').split(/; */);
    return pairs.find((pair) => pair.startsWith(`${cookieName}=`))?.slice(cookieName.length + 1) ?? '';
  }

  return {
    port,
    newAddress: () => `http://${address}:${port}/enter#key=${keys.issue()}`,
    close: () =>
      new Promise((resolve, reject) => {
        server.close((error) => (error === undefined ? resolve() : reject(error)));
        server.closeAllConnections();
      }),
  };
}

const noKey =
  'The key of this address has been used or the workshop was started anew. Press Enter where it runs for a new address.';

const keylessPage = notice('This workshop is locked', noKey);
const enterPage = notice('Opening the workshop …', noKey, '<script src="/enter.js"></script>');
/** The key leaves the address bar before anything else, then buys the session. */
const enterScript = `const key = new URLSearchParams(location.hash.slice(1)).get('key') ?? '';
history.replaceState(null, '', '/enter');
fetch('/enter', { method: 'POST', headers: { 'content-type': 'application/json' }, body: JSON.stringify({ key }) }).then((reply) => {
  if (reply.ok) location.replace('/');
  else document.querySelector('h1').textContent = 'This workshop is locked';
});
`;

function notice(title: string, words: string, tail = ''): string {
  return `<!doctype html><html lang="en"><head><meta charset="utf-8"><title>Kettlestitch</title><link rel="icon" href="data:,"></head><body><main><h1>${title}</h1><p>${words}</p></main>${tail}</body></html>`;
}

function listen(server: Server, host: string, port: number): Promise<number> {
  return new Promise((resolve, reject) => {
    server.once('error', reject);
    server.listen({ host, port }, () => resolve((server.address() as AddressInfo).port));
  });
}

function isJson(contentType: string | undefined): boolean {
  return contentType?.split(';')[0]?.trim().toLowerCase() === 'application/json';
}

type Body = Readonly<{ ok: true; value: unknown }> | Readonly<{ ok: false; status: 400 | 413; sentence: string }>;

/** Reads a JSON body, keeping at most `limit` bytes; a longer one is given up as soon as that is known. */
async function readJson(request: IncomingMessage, limit: number): Promise<Body> {
  const tooLarge: Body = {
    ok: false,
    status: 413,
    sentence: `This is larger than the ${Math.floor(limit / 1024 / 1024)} MB that can be taken in at once. Nothing was kept; split it, or make the picture smaller.`,
  };
  if (Number(request.headers['content-length'] ?? 0) > limit) return tooLarge;
  const chunks: Buffer[] = [];
  let size = 0;
  for await (const chunk of request.iterator({ destroyOnReturn: false })) {
    size += chunk.length;
    if (size > limit) return tooLarge;
    chunks.push(chunk);
  }
  try {
    return { ok: true, value: JSON.parse(Buffer.concat(chunks).toString('utf8')) };
  } catch {
    return { ok: false, status: 400, sentence: 'This is not JSON.' };
  }
}

/** Common practice, no source: how much of a body too large is let run out, so that its sender lives to read the refusal. */
const drainBytes = 512 * 1024 * 1024;

/** Lets the rest of a refused body run into nothing. Given up when there is more than anybody sends by mistake. */
async function drain(request: IncomingMessage): Promise<void> {
  if (Number(request.headers['content-length'] ?? 0) > drainBytes) return;
  let drained = 0;
  for await (const chunk of request.iterator({ destroyOnReturn: false })) {
    drained += chunk.length;
    if (drained > drainBytes) return;
  }
}

type Reply = Readonly<{
  status: number;
  mediaType: string;
  body: string | Uint8Array;
  headers?: Readonly<Record<string, string>>;
}>;
/** Said by the contract's own handler, or nobody is there to listen. */
const answered = Symbol('answered');

/** An error as the page's client reads it: code, status and a sentence. */
function trouble(status: number, code: string, message: string): Reply {
  const body = JSON.stringify({ json: { defined: false, code, status, message } });
  return { status, mediaType: 'application/json', body };
}

function send(response: ServerResponse, { status, mediaType, body, headers }: Reply): void {
  response.writeHead(status, { 'content-type': mediaType, 'cache-control': 'no-store', ...headers });
  response.end(body);
}
