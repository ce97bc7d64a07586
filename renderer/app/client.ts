/**
 * The page's one way of asking the workshop. In the desktop the questions go through the port the shell handed over, in a browser
 * to the loopback server the page came from; nothing else in the page knows which.
 */
import { type ClientLink, createORPCClient, ORPCError } from '@orpc/client';
import { RPCLink as HttpLink } from '@orpc/client/fetch';
import { RPCLink as PortLink } from '@orpc/client/message-port';
import type { ContractRouterClient } from '@orpc/contract';
import { createTanstackQueryUtils } from '@orpc/tanstack-query';
import type { contract } from '../../core/contract/contract.ts';

type Client = ContractRouterClient<typeof contract>;

/** What the desktop's preload leaves on the window; absent in a browser. */
type Shell = Readonly<{ connect(): void }>;

const link = connect();

/** Asks by room and question: `await client.workshop.status()`. Throws a refusal, a defect, or a broken connection. */
export const client: Client = createORPCClient({
  call: async (path, input, options) => (await link).call(path, input, options),
} satisfies ClientLink<Record<never, never>>);

/** The same questions as TanStack Query options: `useQuery(ask.workshop.status.queryOptions())`. */
export const ask = createTanstackQueryUtils(client);

/** What went wrong, sorted for the page. */
export type Trouble = Readonly<{
  /** `refused`: the person can act on it. `defect`: ours, with its number in the sentence. `lost`: the workshop does not answer. */
  kind: 'refused' | 'defect' | 'lost';
  sentence: string;
  /** The input at fault, where one is. */
  field?: string;
}>;

/** Reads whatever an ask threw into a sentence to show. */
export function readTrouble(error: unknown): Trouble {
  if (error instanceof ORPCError && error.message !== '') {
    const field: unknown = error.data?.field;
    if (error.code === 'REFUSED') {
      return { kind: 'refused', sentence: error.message, ...(typeof field === 'string' ? { field } : {}) };
    }
    return { kind: error.code === 'DEFECT' ? 'defect' : 'lost', sentence: error.message };
  }
  return {
    kind: 'lost',
    sentence: 'The workshop does not answer. What you typed last may not be kept; is it still running?',
  };
}

function connect(): Promise<ClientLink<Record<never, never>>> {
  const shell = (window as { kettlestitch?: Shell }).kettlestitch;
  if (shell === undefined) return Promise.resolve(new HttpLink({ url: `${location.origin}/ask` }));
  return new Promise((resolve) => {
    function take(event: MessageEvent): void {
      const [port] = event.ports;
      if (event.source !== window || event.data !== 'kettlestitch:port' || port === undefined) return;
      window.removeEventListener('message', take);
      port.start();
      resolve(new PortLink({ port }));
    }
    window.addEventListener('message', take);
    shell.connect();
  });
}
