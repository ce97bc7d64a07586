import { MessageChannel } from 'node:worker_threads';
import { createORPCClient, ORPCError } from '@orpc/client';
import { RPCLink as PortLink } from '@orpc/client/message-port';
import { describe, expect, test } from 'vitest';
import type { Planning } from '../../../core/contract/bench.ts';
import { ok, refuse } from '../../../core/result.ts';
import { answer, desk as base, inWorkshop } from '../../../electron/desk/desk.ts';
import { streamed } from '../../../electron/desk/stream.ts';
import { answerPort } from '../../../electron/transports.ts';
import { testDesk } from '../test-desk.ts';
import { ask, type Client, ways } from './ways.ts';

const week = { startsOn: '2026-05-04', bookIds: ['a'], seconds: 1 };

/** What a question threw, as the asker sees it. */
async function thrown(asked: Promise<unknown>): Promise<ORPCError<string, { field?: string; number?: number }>> {
  const error = await asked.then(
    () => null,
    (reason: unknown) => reason,
  );
  expect(error).toBeInstanceOf(ORPCError);
  return error as ORPCError<string, { field?: string }>;
}

async function pieces(stream: AsyncIterable<Planning>): Promise<Planning[]> {
  const heard: Planning[] = [];
  for await (const piece of stream) heard.push(piece);
  return heard;
}

const progress = (schedules: number): Planning => ({
  kind: 'progress',
  words: 'Trying orders',
  schedules,
  finishAt: 0,
  gap: 0.5,
  measure: 'completion',
});

describe.each(ways)('a question asked by %s', (way) => {
  test('is answered with what the desk says, every letter of it', async () => {
    const said = { label: 'Weighed “Ænigmata”, 18½ × 12 cm — £3 \u{1F4D6}' };
    const client = await ask(way, testDesk(), { workshop: { undo: base.workshop.undo.handler(() => said) } });
    expect(await client.workshop.undo()).toEqual(said);
  });

  test('may carry 20 MB there and back', async () => {
    const client = await ask(way, testDesk(), {
      workshop: { undo: base.workshop.undo.handler(() => ({ label: 'x'.repeat(20_000_000) })) },
    });
    expect((await client.workshop.undo()).label).toHaveLength(20_000_000);
  });

  test('is refused with the sentence and the field of the refusal', async () => {
    const client = await ask(way, testDesk(), {
      workshop: {
        create: base.workshop.create.handler(({ input, errors }) =>
          answer(refuse(`${input.folder} is inside another workshop.`, 'folder'), errors),
        ),
      },
    });
    const error = await thrown(client.workshop.create({ folder: '/x', name: 'Yard' }));
    expect(error).toMatchObject({
      code: 'REFUSED',
      defined: true,
      message: '/x is inside another workshop.',
      data: { field: 'folder' },
    });
  });

  test('passes a value that is all right', async () => {
    const client = await ask(way, testDesk(), {
      workshop: { redo: base.workshop.redo.handler(({ errors }) => answer(ok({ label: 'again' }), errors)) },
    });
    expect(await client.workshop.redo()).toEqual({ label: 'again' });
  });

  test('whose input does not fit is refused in the shape’s own sentence, naming the field', async () => {
    const client = await ask(way, testDesk(), {
      workshop: { create: base.workshop.create.handler(() => ({}) as never) },
    });
    const error = await thrown(client.workshop.create({ folder: '', name: 'Yard' }));
    expect(error).toMatchObject({ code: 'REFUSED', message: 'Say which folder.', data: { field: 'folder' } });
  });

  test('whose input is of the wrong kind is refused in words, not in the library’s', async () => {
    const client = await ask(way, testDesk(), {
      bench: { week: base.bench.week.handler(() => ({}) as never), plan: base.bench.plan.handler(() => ({}) as never) },
    });
    const wrong = await thrown(client.bench.week({ startsOn: 7 } as never));
    expect(wrong).toMatchObject({ code: 'REFUSED', data: { field: 'startsOn' } });
    expect(wrong.message).toMatch(/^Starts on does not fit: .*\.$/);
    const nothing = await thrown(client.bench.week(undefined as never));
    expect(nothing).toMatchObject({ code: 'REFUSED' });
    const listed = await thrown(client.bench.plan({ ...week, bookIds: ['a', ''] }));
    expect(listed).toMatchObject({ code: 'REFUSED', data: { field: 'bookIds.1' } });
    expect(listed.message).toContain('Book ids, line 2,');
  });

  test('that meets a defect is told so with its number, and nothing of the inside gets out', async () => {
    const desk = testDesk();
    const client = await ask(way, desk, {
      workshop: {
        undo: base.workshop.undo.handler(() => {
          throw new TypeError('secret of the inside');
        }),
      },
    });
    const first = await thrown(client.workshop.undo());
    expect(first).toMatchObject({ code: 'DEFECT', status: 500, data: { number: 1 } });
    expect(first.message).toBe('Something went wrong in the program itself (no. 1). Nothing of this change was kept.');
    expect(JSON.stringify(first)).not.toContain('secret');
    expect((await thrown(client.workshop.undo())).data.number).toBe(2);
    expect(desk.log.lines[0]).toBe('1 workshop.undo: secret of the inside');
  });

  test('about the inside of a workshop is refused while none is open', async () => {
    const client = await ask(way, testDesk(), {
      workshop: { undo: inWorkshop.workshop.undo.handler(({ context }) => ({ label: context.store.folder })) },
    });
    expect(await thrown(client.workshop.undo())).toMatchObject({
      code: 'REFUSED',
      message: 'No workshop is open. Open a folder or start a new one first.',
    });
  });

  test('can be answered in pieces as they come', async () => {
    const client = await ask(way, testDesk(), {
      bench: {
        plan: base.bench.plan.handler(({ signal }) =>
          streamed<Planning>(signal, async (say) => {
            say(progress(1));
            await new Promise((resolve) => setTimeout(resolve, 5));
            say(progress(2));
            return { kind: 'done', week: { startsOn: week.startsOn } as never };
          }),
        ),
      },
    });
    const heard = await pieces(await client.bench.plan(week));
    expect(heard).toEqual([progress(1), progress(2), { kind: 'done', week: { startsOn: week.startsOn } }]);
  });

  test('answered in pieces can still be refused or meet a defect between them', async () => {
    const desk = testDesk();
    const client = await ask(way, desk, {
      bench: {
        plan: base.bench.plan.handler(({ input, signal, errors }) =>
          streamed<Planning>(signal, async (say) => {
            say(progress(1));
            if (input.seconds === 0) throw new Error('secret');
            return answer(refuse('A press has gone.', 'bookIds'), errors);
          }),
        ),
      },
    });
    const refused = await thrown(client.bench.plan(week).then(pieces));
    expect(refused).toMatchObject({ code: 'REFUSED', message: 'A press has gone.', data: { field: 'bookIds' } });
    const defect = await thrown(client.bench.plan({ ...week, seconds: 0 }).then(pieces));
    expect(defect).toMatchObject({ code: 'DEFECT', data: { number: 1 } });
    expect(desk.log.lines).toEqual(['1 bench.plan: secret']);
  });

  test.each(['leaves the loop', 'aborts'] as const)('lets work finish in good order when the asker %s', async (how) => {
    const kept: string[] = [];
    let tellKept = () => {};
    const saved = new Promise<void>((resolve) => {
      tellKept = resolve;
    });
    const client = await ask(way, testDesk(), {
      bench: {
        plan: base.bench.plan.handler(({ signal }) =>
          streamed<Planning>(signal, async (say, stop) => {
            let tries = 0;
            while (!stop.aborted) {
              tries += 1;
              say(progress(tries));
              await new Promise((resolve) => setTimeout(resolve, 2));
            }
            kept.push(tries > 0 ? 'the best so far' : 'nothing');
            tellKept();
            return progress(tries);
          }),
        ),
      },
    });
    const stopper = new AbortController();
    const heard: Planning[] = [];
    try {
      for await (const piece of await client.bench.plan(week, { signal: stopper.signal })) {
        heard.push(piece);
        if (heard.length < 3) continue;
        if (how === 'aborts') stopper.abort();
        else break;
      }
    } catch {
      expect(stopper.signal.aborted).toBe(true);
    }
    await saved;
    expect(kept).toEqual(['the best so far']);
    expect(heard.slice(0, 3)).toEqual([progress(1), progress(2), progress(3)]);
  });
});

test('work asked for by a page that is gone is stopped, and keeps what it has', async () => {
  const { port1, port2 } = new MessageChannel();
  const kept = new Promise<string>((resolve) => {
    const plan = base.bench.plan.handler(({ signal }) =>
      streamed<Planning>(signal, async (say, stop) => {
        while (!stop.aborted) {
          say(progress(1));
          await new Promise((again) => setTimeout(again, 2));
        }
        resolve('the best so far');
        return progress(2);
      }),
    );
    answerPort(port1, { bench: { plan } }, testDesk());
  });
  port2.start();
  const client: Client = createORPCClient(new PortLink({ port: port2 }));
  const stream = await client.bench.plan(week);
  await stream.next();
  port2.close();
  expect(await kept).toBe('the best so far');
});

describe('the desk', () => {
  test('has somebody at every question of the contract', async () => {
    const { contract } = await import('../../../core/contract/contract.ts');
    const { router } = await import('../../../electron/desk/router.ts');
    const unanswered = Object.entries(contract).flatMap(([room, questions]) =>
      Object.keys(questions)
        .filter((question) => !(question in ((router as Partial<Record<string, object>>)[room] ?? {})))
        .map((question) => `${room}.${question}`),
    );
    expect(unanswered).toEqual([]);
  });
});
