/** The desk's answers over the two wires there are: a MessagePort (desktop) and HTTP on the loopback address (browser). */
import type { IncomingMessage, ServerResponse } from 'node:http';
import type { AnyRouter } from '@orpc/server';
import { RPCHandler as PortHandler } from '@orpc/server/message-port';
import { RPCHandler as HttpHandler } from '@orpc/server/node';
import type { Desk } from './desk/desk.ts';

/** The part of a port both Electron's MessagePortMain and Node's MessagePort have. */
type Port = Parameters<PortHandler<Record<never, never>>['upgrade']>[0] & { start(): void };

/** Answers everything asked through `port` until it closes; what is still running then is stopped. */
export function answerPort(port: Port, router: AnyRouter, context: Desk): void {
  new PortHandler(router).upgrade(port, { context });
  port.start();
}

/** Path under which the browser shell answers. */
export const answersPath = '/ask';

/** Answers one request whose body has been read; false when the contract has no such question. */
export type HttpAnswers = (request: IncomingMessage, response: ServerResponse, body: unknown) => Promise<boolean>;

export function httpAnswers(router: AnyRouter, context: Desk): HttpAnswers {
  const handler = new HttpHandler(router);
  return async (request, response, body) => {
    const { matched } = await handler.handle(Object.assign(request, { body }), response, {
      prefix: answersPath,
      context,
    });
    return matched;
  };
}
