import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { createRouterClient } from '@orpc/server';
import { describe, expect, test } from 'vitest';
import { letterTrouble } from '../../../core/course/letter-text.ts';
import { router } from '../../../electron/desk/router.ts';
import { book, plan, planTask, tool } from '../../../electron/store/schema.ts';
import type { Workshop } from '../../../electron/store/workshop.ts';
import { bookDraft, got } from '../store/folders.ts';
import { type TestDesk, testDesk, testNow } from '../test-desk.ts';

const hour = 3_600_000;

function asked(desk: TestDesk = testDesk()) {
  return { desk, ask: createRouterClient(router, { context: desk }).workshop };
}

/** A desk with a new workshop open. */
async function opened() {
  const { desk, ask } = asked();
  await ask.create({ folder: desk.suggestedFolder, name: 'Yard' });
  return { desk, ask, workshop: desk.place.workshop as Workshop };
}

describe('the workshop’s own room', () => {
  test('says that nothing is open, and refuses what needs a workshop', async () => {
    const { desk, ask } = asked();
    expect(await ask.status()).toEqual({
      shell: 'browser',
      version: '0.0.0-test',
      open: null,
      notOpened: null,
      suggestedFolder: desk.suggestedFolder,
      undo: null,
      redo: null,
    });
    await expect(ask.undo()).rejects.toMatchObject({ code: 'REFUSED', message: /^No workshop is open/ });
  });

  test('makes a workshop, opens it again, and keeps it open where another cannot be had', async () => {
    const { desk, ask } = await opened();
    const folder = desk.place.workshop?.folder as string;
    mkdirSync(join(desk.folder, 'other'));
    writeFileSync(join(desk.folder, 'other', 'letter.txt'), '');
    await expect(ask.open({ folder: join(desk.folder, 'other') })).rejects.toMatchObject({ data: { field: 'folder' } });
    await expect(ask.create({ folder: join(desk.folder, 'other'), name: 'B' })).rejects.toMatchObject({
      code: 'REFUSED',
    });
    expect((await ask.open({ folder })).open).toMatchObject({ folder, name: 'Yard', isDemo: false, books: 0 });
    expect((await ask.create({ folder: join(desk.folder, 'second'), name: 'Second' })).open?.name).toBe('Second');
    expect((await ask.open({ folder })).open?.name).toBe('Yard');
  });

  test('makes the demo once and opens it after that, with its presses, cupboard, course and people', async () => {
    const { desk, ask } = asked();
    const first = await ask.openDemo();
    expect(first.open).toMatchObject({ isDemo: true, name: 'Alder Yard Bindery (invented)' });
    await ask.create({ folder: desk.suggestedFolder, name: 'Yard' });
    const again = await ask.openDemo();
    expect(again).toEqual(first);
    const count = (table: string) => desk.place.workshop?.raw.prepare(`SELECT count(*) FROM ${table}`).pluck().get();
    expect(['course', 'movement'].map(count)).toEqual([1, expect.any(Number)]);
    expect(count('material')).toBeGreaterThanOrEqual(30);
    expect(count('person')).toBeGreaterThanOrEqual(8);
    // Two rooms and a letter to begin with; some sleep elsewhere, so that the beds are enough.
    expect(['room', 'letter'].map(count)).toEqual([2, 1]);
    const beds = desk.place.workshop?.raw.prepare('SELECT sum(beds) FROM room').pluck().get();
    const { confirmed, away } = desk.place
      .workshop!.raw.prepare(
        `SELECT count(*) AS confirmed, sum(coalesce(sleeps_out, 0)) AS away
         FROM person LEFT JOIN guest ON person_id = person.id WHERE standing = 'confirmed'`,
      )
      .get() as { confirmed: number; away: number };
    expect(beds).toBe(confirmed - away);
    const letter = desk.place.workshop?.raw.prepare('SELECT text FROM letter').pluck().get() as string;
    expect(letterTrouble(letter)).toMatchObject({ ok: true });
    expect((await ask.find({ words: 'kraft' })).map(({ kind }) => kind)).toContain('material');
  });

  test('changes habits, takes that back, and refuses hours that end before they begin', async () => {
    const { ask } = await opened();
    const changed = await ask.setHabits({ currency: 'CHF', weights: { use: 5 } });
    expect(changed.open?.habits).toMatchObject({ currency: 'CHF', weights: { use: 5 }, units: 'mm' });
    expect(changed.undo).toBe('Change the workshop’s habits');
    expect(await ask.undo()).toEqual({ label: 'Change the workshop’s habits' });
    expect((await ask.status()).open?.habits.currency).toBe('EUR');
    expect((await ask.history({ limit: 5 })).map(({ kind }) => kind)).toEqual(['undo', 'do']);
    const weekHours: [number, number][][] = [[[600, 540]], [], [], [], [], [], []];
    await expect(ask.setHabits({ weekHours })).rejects.toMatchObject({ data: { field: 'weekHours.0' } });
    await expect(ask.setHabits({ timeZone: 'Mars/Olympus' })).rejects.toMatchObject({ data: { field: 'timeZone' } });
  });
});

describe('the press line', () => {
  test('says what each press holds, what is overdue in it, and what an empty one holds next', async () => {
    const { ask, workshop } = await opened();
    const task = { position: 0, label: 'Press', kind: 'pressing', waitsFor: '', state: 'planned' };
    const made = { kind: 'week', startsOn: '2026-05-04', seed: 1, quality: {} };
    got(
      workshop.write('Plan', (change) => {
        const press = (name: string) => change.insert(tool, { kind: 'nipping press', name, capacity: 1, note: '' });
        const [green, small, standing] = [press('Green'), press('Small'), press('Standing')];
        const bookId = change.insert(book, bookDraft('Walks'));
        const old = change.insert(plan, { ...made, madeAt: 1 });
        const planId = change.insert(plan, { ...made, madeAt: 2 });
        const put = (toolId: string, more: object, of = planId) =>
          change.insert(planTask, { ...task, planId: of, bookId, tools: [toolId], startAt: 0, endAt: 0, ...more });
        // In the green press since an hour ago, and another after it.
        put(green, { startAt: testNow - hour, endAt: testNow + hour, heldUntil: testNow + 3 * hour });
        put(green, { startAt: testNow + 4 * hour, endAt: testNow + 5 * hour });
        // Started from a plan that no longer holds, and never taken out.
        put(
          small,
          { startAt: testNow - 9 * hour, endAt: testNow - hour, state: 'started', startedAt: testNow - 8 * hour },
          old,
        );
        // Only to come; and a bar of the old plan, which does not count.
        put(standing, { startAt: testNow + hour, endAt: testNow + 2 * hour });
        put(standing, { startAt: testNow - hour, endAt: testNow + hour }, old);
        // Out already, or never pressed at all.
        put(standing, { startAt: testNow - 3 * hour, endAt: testNow + hour, state: 'finished' });
        put(standing, { startAt: testNow - hour, endAt: testNow + hour, kind: 'hands' });
      }),
    );
    const lines = await ask.presses();
    expect(
      lines.map(({ tool, inSince, dueAt }) => [tool, (inSince - testNow) / hour, (dueAt - testNow) / hour]),
    ).toEqual([
      ['Small', -8, -1],
      ['Green', -1, 3],
      ['Standing', 1, 2],
    ]);
    expect(lines[0]).toMatchObject({ book: 'Walks', bookId: expect.any(String) });
  });
});
