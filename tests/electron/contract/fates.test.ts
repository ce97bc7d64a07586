import { describe, expect, test } from 'vitest';
import type { FatesProposed } from '../../../core/contract/fates.ts';
import { book, finding, hazard } from '../../../electron/store/schema.ts';
import { putBooksOnShelf } from '../../journeys/books.ts';
import { type TestDesk, testDesk } from '../test-desk.ts';
import { ask, type Client, ways } from './ways.ts';

async function opened(way: (typeof ways)[number]): Promise<{ desk: TestDesk; client: Client; ids: string[] }> {
  const desk = testDesk();
  const client = await ask(way, desk);
  await client.workshop.create({ folder: desk.suggestedFolder, name: 'Elm Yard' });
  putBooksOnShelf(desk);
  const store = desk.place.workshop!;
  const ids = store.db
    .select({ id: book.id })
    .from(book)
    .orderBy(book.shelfMark)
    .all()
    .map(({ id }) => id);
  return { desk, client, ids };
}

type Question = Parameters<Client['fates']['propose']>[0];
async function propose(client: Client, question: Partial<Question> = {}): Promise<FatesProposed> {
  for await (const piece of await client.fates.propose({ handMinutes: 6000, needs: [], seconds: 5, ...question }))
    if (piece.kind === 'done') return piece.proposed;
  throw new Error('deciding ended without a plan');
}

const refusal = (asked: Promise<unknown>): Promise<string> =>
  asked.then(
    () => 'it was answered',
    (error: Error) => error.message,
  );

function change(desk: TestDesk, id: string, patch: Partial<typeof book.$inferInsert>): void {
  const done = desk.place.workshop!.write('Change a book', (one) => one.update(book, id, patch));
  expect(done.ok).toBe(true);
}

describe.each(ways)('fates asked by %s', (way) => {
  test('are weighed within the hours, accepted in one step, and taken back by one undo', async () => {
    const { desk, client, ids } = await opened(way);
    expect(await client.fates.start()).toMatchObject({ open: 8, locked: 0, toLookAt: 0, unsurveyed: 0, courses: [] });

    const proposed = await propose(client, { handMinutes: 600 });
    expect(proposed.status).toBe('best');
    expect(proposed.decisions.map(({ bookId }) => bookId).toSorted()).toEqual(ids.toSorted());
    expect(proposed.usedMinutes).toBeLessThanOrEqual(600);
    expect(proposed.hourWorth).toBeGreaterThan(0);
    for (const line of proposed.decisions) {
      expect(line.reason).not.toBe('');
      expect(line.otherwise?.loses ?? 0).toBeGreaterThanOrEqual(0);
    }
    const changes = proposed.decisions.filter((line) => line.now !== line.fate);
    expect(changes.length).toBeGreaterThan(0);

    const decisions = changes.map(({ bookId, fate }) => ({ bookId, fate }));
    expect(await client.fates.accept({ decisions })).toEqual({ changed: changes.length, left: [] });
    const { db } = desk.place.workshop!;
    const after = new Map(
      db
        .select()
        .from(book)
        .all()
        .map((row) => [row.id, row]),
    );
    for (const { bookId, fate } of decisions) expect(after.get(bookId)).toMatchObject({ fate, fateLocked: false });
    expect((await client.workshop.status()).undo).toMatch(/^Decide the fates of /);
    await client.workshop.undo();
    expect(
      new Set(
        db
          .select()
          .from(book)
          .all()
          .map((row) => row.fate),
      ),
    ).toEqual(new Set(['restore']));
    expect(await client.fates.stop()).toEqual({ stopped: false });
  });

  test('leave alone what a person has decided, what a rule forbids, and what a hazard stops', async () => {
    const { desk, client, ids } = await opened(way);
    const [locked = '', rare = '', dangerous = ''] = ids;
    change(desk, locked, { fate: 'leave', fateLocked: true });
    const store = desk.place.workshop!;
    store.write('Raise a hazard', (one) =>
      one.insert(hazard, {
        bookId: dangerous,
        kind: 'mould',
        state: 'raised',
        reason: '',
        decision: '',
        decidedAt: null,
      }),
    );
    expect(await client.fates.start()).toMatchObject({ open: 6, locked: 1, toLookAt: 1 });
    const proposed = await propose(client);
    expect(proposed.decisions.find((line) => line.bookId === locked)).toMatchObject({ fate: 'leave', locked: true });
    expect(proposed.decisions.some((line) => line.bookId === dangerous)).toBe(false);

    const { changed, left } = await client.fates.accept({
      decisions: [
        { bookId: locked, fate: 'restore' },
        { bookId: rare, fate: 'salvage' },
        { bookId: dangerous, fate: 'practice' },
      ],
    });
    expect(changed).toBe(0);
    expect(left.map(({ because }) => because)).toEqual([
      'You have decided this one yourself meanwhile.',
      'It is complete, or nobody has looked: never broken.',
      'Possible mould: not to be planned until somebody has looked and written down what was decided.',
    ]);
    expect((await client.workshop.status()).undo).toBe('Raise a hazard');
  });
});

test('books nobody has surveyed are left out, and the plan says how many', async () => {
  const { client, ids } = await opened('direct call');
  const { book: unseen } = await client.shelf.create({ title: 'Rambles in Dorset' });
  const { book: looked } = await client.shelf.create({ title: 'Ferns', stage: 'surveyed' });
  expect(await client.fates.start()).toMatchObject({ open: ids.length, unsurveyed: 1 });
  const proposed = await propose(client);
  const decided = proposed.decisions.map(({ bookId }) => bookId);
  expect(decided).not.toContain(unseen.id);
  expect(decided).not.toContain(looked.id);
  expect(proposed.remarks.join(' ')).toMatch(/nobody has surveyed them: one book\./);
});

test('a course that is still to come asks for copies for its people, at the level of the harder of person and operation', async () => {
  const { desk, client, ids } = await opened('direct call');
  const made = await client.course.save({
    title: 'Rebacking',
    startsOn: '2026-08-03',
    days: 5,
    dayHours: [[540, 1020]],
    tutors: 1,
    helpers: 0,
    benches: 6,
    feeMinor: 0,
    fixedCostMinor: 0,
    perHeadCostMinor: 0,
    copiesEach: [1, 2],
    spares: 0,
    note: '',
  });
  await client.course.setSyllabus({
    courseId: made.id,
    items: [{ operationId: 'mend tears', required: true, demonstrationMinutes: 20 }],
  });
  const alone = await client.fates.start();
  expect(alone.courses[0]).toMatchObject({ people: 0, needs: [{ operationId: 'mend tears', copies: 1 }] });
  for (const [name, level] of [
    ['A', 'improver'],
    ['B', 'improver'],
  ] as const) {
    const person = { name, level, diet: '', note: '' };
    await client.course.savePerson({ ...person, courseId: made.id, standing: 'confirmed', wishes: [], allergies: [] });
  }
  const { courses } = await client.fates.start();
  expect(courses[0]).toMatchObject({ people: 2, needs: [{ operationId: 'mend tears', level: 'improver', copies: 2 }] });

  // Only one ordinary book needs its leaves mended, so the course is a copy short and says so.
  const drover = ids[1]!;
  change(desk, drover, { scarcity: 'common', significance: 0, fate: null });
  const level = (await client.shelf.book({ id: drover })).proposal.level;
  const proposed = await propose(client, { needs: [{ operationId: 'mend tears', level, copies: 2 }] });
  expect(proposed.decisions.find((line) => line.bookId === drover)).toMatchObject({ fate: 'practice' });
  expect(proposed.short).toMatchObject([{ copies: 1 }]);
});

test('old cloth of a wreck goes to the book of the same grain and colour, and the reason names it', async () => {
  const { desk, client, ids } = await opened('direct call');
  const store = desk.place.workshop!;
  // The fifth is common, of no significance and incomplete, with its boards and covering sound: a wreck to be broken.
  change(desk, ids[4]!, { scarcity: 'common', significance: 0, completeness: 'incomplete', fate: null });
  store.write('Note damage', (one) => {
    one.insert(finding, { bookId: ids[4]!, part: 'leaves', damage: 'missing', severity: 3, count: 12, note: '' });
    one.insert(finding, { bookId: ids[4]!, part: 'sewing', damage: 'broken', severity: 3, count: null, note: '' });
  });
  const proposed = await propose(client, { handMinutes: 520 });
  const reasons = proposed.decisions.map(({ reason }) => reason).join('\n');
  const wreck = proposed.decisions.find((line) => line.bookId === ids[4]);
  expect(wreck?.fate).toBe('salvage');
  expect(wreck?.reason).toContain('brown morocco cloth');
  expect(reasons).toContain('there is brown morocco cloth');
  expect(await refusal(client.fates.accept({ decisions: [] }))).toBe('Choose at least one book.');
});
