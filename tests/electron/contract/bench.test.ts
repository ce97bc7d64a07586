import { describe, expect, test } from 'vitest';
import type { PlanChange, Replanned, Week, WeekTask } from '../../../core/contract/bench.ts';
import { hazard, material, movement } from '../../../electron/store/schema.ts';
import { putBooksOnShelf } from '../../journeys/books.ts';
import { type TestDesk, testDesk } from '../test-desk.ts';
import { ask, type Client, ways } from './ways.ts';

/** The Monday of the test desk's clock, which stands at 14:00 of its workshop. */
const startsOn = '2026-05-04';
const minute = 60_000;

async function openBench(way: (typeof ways)[number]): Promise<{ desk: TestDesk; client: Client }> {
  const desk = testDesk();
  const client = await ask(way, desk);
  await client.workshop.create({ folder: desk.suggestedFolder, name: 'Elm Yard' });
  putBooksOnShelf(desk);
  for (const kind of [
    'nipping press',
    'lying press',
    'sewing frame',
    'weights',
    'board shear',
    'standing press',
    'glue pot',
    'extraction hood',
  ] as const)
    await client.bench.saveTool({ kind, name: `The ${kind}`, capacity: kind === 'weights' ? 4 : 1, note: '' });
  return { desk, client };
}

async function plan(client: Client, bookIds: string[]): Promise<Week> {
  for await (const piece of await client.bench.plan({ startsOn, bookIds, seconds: 0.05 }))
    if (piece.kind === 'done') return piece.week;
  throw new Error('planning ended without a plan');
}

/** A week of the three books worth most, planned. */
async function plannedBench(way: (typeof ways)[number]) {
  const { desk, client } = await openBench(way);
  const choice = await client.bench.choose({ startsOn, handMinutes: 900, keep: [], leave: [] });
  const bookIds = choice.chosen.slice(0, 3).map((one) => one.bookId);
  const week = await plan(client, bookIds);
  const replan = (change: PlanChange): Promise<Replanned> => client.bench.replan({ startsOn, change });
  return { desk, client, bookIds, week, replan };
}

function refusal(asked: Promise<unknown>): Promise<string> {
  return asked.then(
    () => 'it was answered',
    (error: Error & { code?: string }) => (error.code === 'REFUSED' ? error.message : `not a refusal: ${error.stack}`),
  );
}

const tasksOf = (week: Week): readonly WeekTask[] => week.plan?.tasks ?? [];
const samePlace = (one: WeekTask) => (other: WeekTask) =>
  one.bookId === other.bookId && one.operationId === other.operationId && one.kind === other.kind;

/** The last hand-step of a book of the week, which has room to be moved later. */
function lastStep(week: Week): WeekTask {
  const last = tasksOf(week).findLast((task) => task.kind === 'hands');
  if (!last) throw new Error('no hand-work is planned');
  return last;
}

/** The first hand-step of each book, by its time. */
function firstSteps(week: Week): readonly WeekTask[] {
  const hands = tasksOf(week).filter((task) => task.kind === 'hands');
  return hands.filter((task) => hands.find((other) => other.bookId === task.bookId) === task);
}

describe.each(ways)('the bench asked by %s', (way) => {
  test('chooses, plans, moves, pins, sets aside, works and prints a week', async () => {
    const { client, week, replan } = await plannedBench(way);
    const { quality } = week.plan!;
    expect(quality.finishAt).toBeGreaterThanOrEqual(quality.boundAt);
    expect(quality.runs).toBeGreaterThan(0);
    expect(await client.bench.week({ startsOn })).toEqual(week);
    expect((await client.workshop.status()).undo).toContain('Plan the week');
    expect(await client.bench.stop()).toEqual({ stopped: true });

    const last = lastStep(week);
    const moved = await replan({ kind: 'move', taskId: last.id, startAt: last.startAt + 90 * minute, whole: false });
    const there = tasksOf(moved.week).find(samePlace(last))!;
    expect(there.startAt).toBeGreaterThan(last.startAt);
    expect(there.pinnedAt).toBe(there.startAt);
    expect(moved.moves).toContainEqual({
      bookId: last.bookId,
      book: last.book,
      label: last.label,
      from: last.startAt,
      to: there.startAt,
    });
    await client.workshop.undo();
    expect(await client.bench.week({ startsOn })).toEqual(week);

    const pinned = await replan({ kind: 'pin', taskId: last.id });
    expect(pinned.moves).toEqual([]);
    expect(tasksOf(pinned.week).find(samePlace(last))?.pinnedAt).toBe(last.startAt);

    const aside = await replan({ kind: 'set aside', bookId: last.bookId });
    expect(new Set(tasksOf(aside.week).flatMap((task) => (task.state === 'set aside' ? [task.bookId] : [])))).toEqual(
      new Set([last.bookId]),
    );

    const { fileName, base64 } = await client.bench.printDay({ startsOn, day: startsOn });
    expect(fileName).toBe('bench-day-2026-05-04.pdf');
    expect(Buffer.from(base64, 'base64').subarray(0, 5).toString()).toBe('%PDF-');
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
    expect(await refusal(client.bench.printDay({ startsOn, day: startsOn }))).toContain('no plan for this week');
    expect(await refusal(client.bench.replan({ startsOn, change: { kind: 'time' } }))).toContain('no plan');
    expect(await refusal(client.bench.mark({ taskId: 'gone', action: 'start' }))).toContain('not in the plan any more');
    expect(await refusal(client.bench.week({ startsOn: '2026-02-31' }))).toMatch(/\.$/);
    await client.workshop.setHabits({ weekHours: [[], [], [], [], [], [], []] });
    expect(await refusal(client.bench.week({ startsOn }))).toContain('Set the hours first');
  });
});

describe('the bench', () => {
  test('keeps the clock: what is finished is in the day-book, and its paste dries from that minute', async () => {
    const { desk, client, bookIds, week } = await plannedBench('direct call');
    const tasks = tasksOf(week);
    const waits = (task: WeekTask) => (other: WeekTask) =>
      other.kind !== 'hands' && other.bookId === task.bookId && other.operationId === task.operationId;
    const work = tasks.find((task) => task.kind === 'hands' && tasks.some(waits(task)))!;
    for (const { id, bookId, kind } of tasks.slice(0, tasks.indexOf(work))) {
      if (bookId !== work.bookId) continue;
      if (kind === 'hands') await client.bench.mark({ taskId: id, action: 'start' });
      await client.bench.mark({ taskId: id, action: 'finish' });
    }
    await client.bench.mark({ taskId: work.id, action: 'start' });
    desk.clock.now += 25 * minute;
    const after = await client.bench.mark({ taskId: work.id, action: 'finish' });
    expect(tasksOf(after).find(waits(work))).toMatchObject({ state: 'started', startAt: desk.clock.now });
    const { entries } = await client.daybook.list({ limit: 10 });
    expect(entries).toHaveLength(1);
    expect(entries[0]).toMatchObject({ bookId: work.bookId, minutes: 25 });

    const again = await plan(client, bookIds);
    expect(
      tasksOf(again)
        .filter(samePlace(work))
        .map((task) => task.state),
    ).toEqual(['finished']);
    expect(tasksOf(again).filter(waits(work))).toMatchObject([{ state: 'started', startAt: desk.clock.now }]);
    await client.workshop.undo();
    expect((await client.bench.week({ startsOn })).plan?.id).toBe(week.plan?.id);
  });

  test('asks about a clock that was forgotten, and never guesses', async () => {
    const { desk, client, week } = await plannedBench('direct call');
    const [work, next] = firstSteps(week);
    await client.bench.mark({ taskId: work!.id, action: 'start' });
    desk.clock.now += 19 * 60 * minute;
    const asked = 'How many minutes did it really take?';
    expect(await refusal(client.bench.mark({ taskId: work!.id, action: 'finish' }))).toContain(asked);
    expect(await refusal(client.bench.mark({ taskId: next!.id, action: 'start' }))).toContain(
      'Finish or pause it first',
    );
    expect((await client.daybook.list({ limit: 10 })).entries).toEqual([]);
    await client.bench.mark({ taskId: work!.id, action: 'finish', minutes: 40 });
    expect((await client.daybook.list({ limit: 10 })).entries[0]?.minutes).toBe(40);
  });

  test('plans the rest anew around what was begun late, paused and finished, and a pause keeps its minutes', async () => {
    const { desk, client, week, replan } = await plannedBench('direct call');
    const [first, second] = firstSteps(week);
    const laterOfFirst = tasksOf(week).findLast((task) => task.bookId === first!.bookId)!;
    expect(await refusal(client.bench.mark({ taskId: laterOfFirst.id, action: 'start' }))).toContain('comes before it');
    await client.bench.mark({ taskId: first!.id, action: 'start' });
    desk.clock.now += 10 * minute;
    await client.bench.mark({ taskId: second!.id, action: 'start' });
    expect((await client.daybook.list({ limit: 10 })).entries[0]).toMatchObject({ bookId: first!.bookId, minutes: 10 });
    desk.clock.now += 100 * minute;

    const { week: later, moves } = await replan({ kind: 'time' });
    const paused = tasksOf(later).find(samePlace(first!))!;
    const going = tasksOf(later).find(samePlace(second!))!;
    expect(paused.state).toBe('paused');
    const left = Math.max(10, (first!.endAt - first!.startAt) / minute - 10);
    expect((paused.endAt - paused.startAt) / minute).toBeCloseTo(left, 0);
    expect(going).toMatchObject({ state: 'started', startedAt: desk.clock.now - 100 * minute });
    expect(going.endAt).toBeGreaterThan(desk.clock.now);
    for (const task of tasksOf(later))
      if (task.state === 'planned') expect(task.startAt).toBeGreaterThanOrEqual(desk.clock.now);
    for (const { from, to } of moves) expect(to).not.toBe(from);
    await client.bench.mark({ taskId: going.id, action: 'finish' });
    await replan({ kind: 'time' });
    expect((await client.daybook.list({ limit: 10 })).entries).toHaveLength(2);
  });

  test('moves a whole book with its drying, says when there is no room, and lets a pin go', async () => {
    const { week, replan } = await plannedBench('direct call');
    const { bookId } = lastStep(week);
    const first = tasksOf(week).find((task) => task.bookId === bookId && task.kind === 'hands')!;
    const day = 24 * 60 * minute;
    const { week: moved } = await replan({ kind: 'move', taskId: first.id, startAt: first.startAt + day, whole: true });
    const there = tasksOf(moved).filter((task) => task.bookId === bookId);
    expect(there.find(samePlace(first))?.startAt).toBeGreaterThan(first.startAt);
    for (const task of there) expect(task.startAt).toBeGreaterThanOrEqual(first.startAt + day - 60 * minute);

    const { id } = there.find(samePlace(first))!;
    const free = await replan({ kind: 'unpin', taskId: id });
    expect(tasksOf(free.week).every((task) => task.pinnedAt === null)).toBe(true);
    const now = tasksOf(free.week).find((task) => task.kind === 'hands')!;
    const early = { kind: 'move', taskId: now.id, startAt: now.startAt - 30 * day, whole: false } as const;
    expect(await refusal(replan(early))).toMatch(/gone|no room/);
    const far = { kind: 'move', taskId: now.id, startAt: now.startAt + 300 * day, whole: false } as const;
    expect(await refusal(replan(far))).toContain('no place');
    expect(await refusal(replan({ kind: 'take up', bookId }))).toContain('taken up');
  });

  test('sets aside the only book and takes it up again', async () => {
    const { client } = await openBench('direct call');
    const { chosen } = await client.bench.choose({ startsOn, handMinutes: 600, keep: [], leave: [] });
    const { bookId } = chosen[0]!;
    const week = await plan(client, [bookId]);
    const change = (kind: 'set aside' | 'take up') => client.bench.replan({ startsOn, change: { kind, bookId } });
    const aside = await change('set aside');
    expect(new Set(tasksOf(aside.week).map((task) => task.state))).toEqual(new Set(['set aside']));
    const back = await change('take up');
    expect(tasksOf(back.week).map((task) => [task.label, task.state])).toEqual(
      tasksOf(week).map((task) => [task.label, 'planned']),
    );
  });

  test('never plans a book under a hazard nobody has looked at', async () => {
    const { desk, client } = await openBench('direct call');
    const choice = await client.bench.choose({ startsOn, handMinutes: 2000, keep: [], leave: [] });
    const bookId = choice.chosen[0]!.bookId;
    desk.place.workshop?.write('Raise a hazard', (change) => {
      change.insert(hazard, { bookId, kind: 'mould', state: 'raised', reason: 'grey bloom', decision: '' });
    });
    const after = await client.bench.choose({ startsOn, handMinutes: 2000, keep: [], leave: [] });
    expect(after.chosen.map((one) => one.bookId)).not.toContain(bookId);
    expect(await refusal(plan(client, [bookId]))).toContain('mould');
  });

  test('lets no two books of a week count on one piece of the drawer, unless it is kept for one or there are two', async () => {
    const { client } = await openBench('direct call');
    const wish = { startsOn, handMinutes: 9000, keep: [], leave: [] };
    const chosen = async () => (await client.bench.choose(wish)).chosen.map((one) => one.bookId);
    const all = await chosen();
    const wanting = (await client.offcuts.repairs()).filter(
      ({ kind, bookId }) => kind === 'book cloth' && all.includes(bookId),
    );
    expect(wanting.length).toBeGreaterThan(1);
    const cloth = {
      kind: 'book cloth' as const,
      heightMm: 400,
      widthMm: 300,
      grain: 'height' as const,
      colour: 'brown',
      lab: [32, 11, 16] as [number, number, number],
      measured: '',
      pattern: 'morocco' as const,
      yearFrom: 1860,
      yearTo: 1865,
      place: '',
      note: '',
      donorBookId: null,
    };
    const piece = await client.offcuts.save(cloth);
    const inOne = wanting.map(({ bookId }) => bookId);
    const one = await client.bench.choose(wish);
    const together = one.chosen.filter(({ bookId }) => inOne.includes(bookId));
    expect(together).toHaveLength(1);
    expect(one.missed.map(({ because }) => because)).toContain(
      'The old piece it would take goes to another book this week.',
    );
    await client.offcuts.reserve({ pieceId: piece.id, bookId: together[0]!.bookId });
    expect(await chosen()).toEqual(all);
    await client.offcuts.release({ pieceId: piece.id });
    for (const _ of wanting.slice(1)) await client.offcuts.save(cloth);
    expect(await chosen()).toEqual(all);
  });

  test('chooses no more books than the counted cupboard has material for', async () => {
    const { desk, client } = await openBench('direct call');
    const wish = { startsOn, handMinutes: 2000, keep: [], leave: [] };
    const plenty = await client.bench.choose(wish);
    desk.place.workshop?.write('Count the paste', (change) => {
      const materialId = change.insert(material, {
        name: 'Wheat starch',
        kind: 'wheat starch',
        unit: 'g',
        packMillionths: 1e9,
        packPriceMinor: 400,
        supplier: '',
        leadDays: 3,
        colour: '',
        place: '',
        note: '',
      });
      change.insert(movement, { materialId, kind: 'counted', quantityMillionths: 1, at: desk.now(), reason: '' });
    });
    const short = await client.bench.choose(wish);
    expect(short.chosen.length).toBeLessThan(plenty.chosen.length);
    expect(short.missed.map((one) => one.because).join(' ')).toContain('not enough wheat starch');
  });
});
