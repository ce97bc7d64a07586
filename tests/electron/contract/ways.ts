/** The three ways a question reaches the desk. A contract test runs over all of them: `describe.each(ways)('… by %s', (way) => …)`. */
import { MessageChannel } from 'node:worker_threads';
import { createORPCClient } from '@orpc/client';
import { RPCLink as HttpLink } from '@orpc/client/fetch';
import { RPCLink as PortLink } from '@orpc/client/message-port';
import type { ContractRouterClient } from '@orpc/contract';
import { type AnyRouter, createRouterClient } from '@orpc/server';
import { onTestFinished } from 'vitest';
import type { contract } from '../../../core/contract/contract.ts';
import { type BrowserShellOptions, openBrowserShell } from '../../../electron/browser.ts';
import type { Desk } from '../../../electron/desk/desk.ts';
import { router as wholeRouter } from '../../../electron/desk/router.ts';
import { answerPort } from '../../../electron/transports.ts';

export type Client = ContractRouterClient<typeof contract>;
export type Way = 'direct call' | 'MessagePort' | 'HTTP';
export const ways: readonly Way[] = ['direct call', 'MessagePort', 'HTTP'];

/** A client that asks this desk this way; the way is closed after the test. */
export async function ask(way: Way, desk: Desk, router: AnyRouter = wholeRouter): Promise<Client> {
  switch (way) {
    case 'direct call':
      return createRouterClient(router, { context: desk }) as Client;
    case 'MessagePort': {
      const { port1, port2 } = new MessageChannel();
      answerPort(port1, router, desk);
      port2.start();
      onTestFinished(() => port2.close());
      return createORPCClient(new PortLink({ port: port2 }));
    }
    case 'HTTP': {
      const { client } = await enteredShell({ context: desk, router, page: new Map() });
      return client;
    }
  }
}

/** A browser shell whose key has been exchanged, closed after the test. */
export async function enteredShell(options: BrowserShellOptions) {
  const shell = await openBrowserShell(options);
  onTestFinished(() => shell.close());
  return { shell, ...(await enter(shell.newAddress())) };
}

/** Exchanges the key of an address as the page's script does, and asks from then on with the cookie. */
export async function enter(address: string) {
  const { origin, hash } = new URL(address);
  const entered = await fetch(`${origin}/enter`, {
    method: 'POST',
    headers: { origin, 'content-type': 'application/json' },
    body: JSON.stringify({ key: new URLSearchParams(hash.slice(1)).get('key') }),
  });
  const cookie = entered.headers.getSetCookie()[0]?.split(';')[0] ?? '';
  const client: Client = createORPCClient(new HttpLink({ url: `${origin}/ask`, headers: { origin, cookie } }));
  return { origin, cookie, client };
}
