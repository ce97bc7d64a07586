import { describe, expect, test } from 'vitest';
import type { Week } from '../../../core/contract/bench.ts';
import { hazard } from '../../../electron/store/schema.ts';
import { putBooksOnShelf } from '../../journeys/books.ts';
import { type TestDesk, testDesk } from '../test-desk.ts';
import { ask, type Client, ways } from './ways.ts';

/** The Monday of the test desk's clock. */
const startsOn = '2026-05-04';

async function openBench(way: (typeof ways)[number]): Promise<{ desk: TestDesk; client: Client }> {
  const desk = testDesk();
  const client = await ask(way, desk);
  await client.workshop.create({ folder: desk.suggestedFolder, name: 'Elm Yard' });
  putBooksOnShelf(desk);
  await client.bench.saveTool({ kind: 'nipping press', name: 'Nipping press', capacity: 1, note: '' });
  await client.bench.saveTool({ kind: 'lying press', name: 'Lying press', capacity: 1, note: '' });
  await client.bench.saveTool({ kind: 'sewing frame', name: 'Sewing frame', capacity: 1, note: '' });
  await client.bench.saveTool({ kind: 'weights', name: 'Bricks', capacity: 4, note: '' });
  await client.bench.saveTool({ kind: 'board shear', name: 'Shear', capacity: 1, note: '' });
  await client.bench.saveTool({ kind: 'standing press', name: 'Standing press', capacity: 4, note: '' });
  await client.bench.saveTool({ kind: 'glue pot', name: 'Paste', capacity: 1, note: '' });
  await client.bench.saveTool({ kind: 'extraction hood', name: 'Hood', capacity: 1, note: '' });
  return { desk, client };
}

async function plan(client: Client, bookIds: string[]): Promise<Week> {
  for await (const piece of await client.bench.plan({ startsOn, bookIds, seconds: 0.05 }))
    if (piece.kind === 'done') return piece.week;
  throw new Error('planning ended without a plan');
}

function refusal(asked: Promise<unknown>): Promise<string> {
  return asked.then(
    () => 'it was answered',
    (error: Error & { code?: string }) => (error.code === 'REFUSED' ? error.message : `not a refusal: ${error.stack}`),
  );
}

describe.each(ways)('the bench asked by %s', (way) => {
  test('chooses books within the hours, plans them and keeps the plan', async () => {
    const { client } = await openBench(way);
    const choice = await client.bench.choose({ startsOn, handMinutes: 600, keep: [], leave: [] });
    expect(choice.chosen.length).toBeGreaterThan(2);
    expect(choice.usedMinutes).toBeLessThanOrEqual(600);
    expect(choice.missed.length).toBeGreaterThan(0);
    for (const { because } of choice.missed) expect(because).toMatch(/\.$/);

    const week = await plan(
      client,
      choice.chosen.map((one) => one.bookId),
    );
    expect(week.plan?.tasks.length).toBeGreaterThan(choice.chosen.length);
    expect(week.plan?.quality.finishAt).toBeGreaterThanOrEqual(week.plan?.quality.boundAt ?? 0);
    expect(await client.bench.week({ startsOn })).toEqual(week);
    expect((await client.workshop.status()).undo).toContain('Plan the week');
  });

  test('keeps the clock: what is finished is in the day-book, and its paste dries from that minute', async () => {
    const { desk, client } = await openBench(way);
    const choice = await client.bench.choose({ startsOn, handMinutes: 600, keep: [], leave: [] });
    const week = await plan(
      client,
      choice.chosen.map((one) => one.bookId),
    );
    const tasks = week.plan?.tasks ?? [];
    const work = tasks.find(
      (task, index) =>
        task.kind === 'hands' &&
        tasks
          .slice(index)
          .some(
            (next) => next.kind !== 'hands' && next.bookId === task.bookId && next.operationId === task.operationId,
          ),
    )!;
    await client.bench.mark({ taskId: work.id, action: 'start' });
    desk.clock.now += 25 * 60_000;
    const after = await client.bench.mark({ taskId: work.id, action: 'finish' });
    const drying = after.plan?.tasks.find(
      (task) => task.bookId === work.bookId && task.operationId === work.operationId && task.kind !== 'hands',
    );
    expect(drying).toMatchObject({ state: 'started', startAt: desk.clock.now });
    const { entries } = await client.daybook.list({ limit: 10 });
    expect(entries).toHaveLength(1);
    expect(entries[0]).toMatchObject({ bookId: work.bookId, minutes: 25 });

    const again = await plan(
      client,
      choice.chosen.map((one) => one.bookId),
    );
    const same = (task: { bookId: string; operationId: string }) =>
      task.bookId === work.bookId && task.operationId === work.operationId;
    expect(again.plan?.tasks.filter((task) => same(task) && task.kind === 'hands').map((task) => task.state)).toEqual([
      'finished',
    ]);
    expect(again.plan?.tasks.filter((task) => same(task) && task.kind !== 'hands')).toMatchObject([
      { state: 'started', startAt: desk.clock.now },
    ]);
    await client.workshop.undo();
    expect((await client.bench.week({ startsOn })).plan?.id).toBe(week.plan?.id);
  });

  test('asks about a clock that was forgotten, and never guesses', async () => {
    const { desk, client } = await openBench(way);
    const choice = await client.bench.choose({ startsOn, handMinutes: 600, keep: [], leave: [] });
    const week = await plan(
      client,
      choice.chosen.map((one) => one.bookId),
    );
    const work = week.plan!.tasks.find((task) => task.kind === 'hands')!;
    await client.bench.mark({ taskId: work.id, action: 'start' });
    desk.clock.now += 19 * 3_600_000;
    expect(await refusal(client.bench.mark({ taskId: work.id, action: 'finish' }))).toContain(
      'How many minutes did it really take?',
    );
    expect((await client.daybook.list({ limit: 10 })).entries).toEqual([]);
    await client.bench.mark({ taskId: work.id, action: 'finish', minutes: 40 });
    expect((await client.daybook.list({ limit: 10 })).entries[0]?.minutes).toBe(40);
  });

  test('never plans a book under a hazard nobody has looked at', async () => {
    const { desk, client } = await openBench(way);
    const choice = await client.bench.choose({ startsOn, handMinutes: 2000, keep: [], leave: [] });
    const bookId = choice.chosen[0]!.bookId;
    desk.place.workshop?.write('Raise a hazard', (change) => {
      change.insert(hazard, { bookId, kind: 'mould', state: 'raised', reason: 'grey bloom', decision: '' });
    });
    const after = await client.bench.choose({ startsOn, handMinutes: 2000, keep: [], leave: [] });
    expect(after.chosen.map((one) => one.bookId)).not.toContain(bookId);
    expect(await refusal(plan(client, [bookId]))).toContain('mould');
  });

  test('refuses what cannot be, in words', async () => {
    const { client } = await openBench(way);
    expect(await refusal(client.bench.saveTool({ kind: 'weights', name: '', capacity: 1, note: '' }))).toBe(
      'Give the tool a name.',
    );
    expect(await refusal(client.bench.saveTool({ kind: 'weights', name: 'x', capacity: -1, note: '' }))).toBe(
      'Places cannot be negative.',
    );
    expect(await refusal(plan(client, []))).toBe('Choose at least one book.');
    expect(await refusal(client.bench.printWeek({ startsOn }))).toContain('no plan for this week');
    expect(await refusal(client.bench.mark({ taskId: 'gone', action: 'start' }))).toContain('not in the plan any more');
    expect(await refusal(client.bench.week({ startsOn: '2026-02-31' }))).toMatch(/\.$/);
    await client.workshop.setHabits({ weekHours: [[], [], [], [], [], [], []] });
    expect(await refusal(client.bench.week({ startsOn }))).toContain('Set the hours first');
  });
});
