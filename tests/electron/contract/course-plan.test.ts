import ICAL from 'ical.js';
import { expect, test } from 'vitest';
import type { Course } from '../../../core/contract/course.ts';
import type { Counting, Mending } from '../../../core/contract/course-plan.ts';
import { book } from '../../../electron/store/schema.ts';
import { putBooksOnShelf } from '../../journeys/books.ts';
import { testDesk } from '../test-desk.ts';
import { ask, ways } from './ways.ts';

const frame = {
  title: 'Three days of mending',
  startsOn: '2026-10-23',
  days: 4,
  dayHours: [
    [540, 750],
    [810, 1020],
  ] as [number, number][],
  tutors: 1,
  helpers: 0,
  benches: 4,
  feeMinor: 30_000,
  fixedCostMinor: 50_000,
  perHeadCostMinor: 5_000,
  copiesEach: [1, 2] as [number, number],
  spares: 1,
  note: '',
};

/** A course of three, allocated and laid out. */
type Made = Awaited<ReturnType<typeof prepared>>;

async function prepared() {
  const desk = testDesk();
  const [direct] = ways;
  if (!direct) throw new Error('there is a way to ask');
  const client = await ask(direct, desk);
  await client.workshop.create({ folder: desk.suggestedFolder, name: 'Elm Yard' });
  const bookIds = putBooksOnShelf(desk, 12);
  const store = desk.place.workshop;
  if (!store) throw new Error('a workshop is open');
  store.write('Meant for practice', (change) => {
    for (const id of bookIds) change.update(book, id, { fate: 'practice' });
  });
  for (const [kind, capacity] of [
    ['nipping press', 2],
    ['lying press', 1],
    ['sewing frame', 2],
    ['weights', 6],
    ['board shear', 1],
    ['standing press', 4],
    ['glue pot', 2],
    ['extraction hood', 1],
  ] as const)
    await client.bench.saveTool({ kind, name: `The ${kind}`, capacity, note: '' });
  const { id } = await client.course.save(frame);
  const person = { level: 'improver', standing: 'confirmed', wishes: [], allergies: [], diet: '', note: '' } as const;
  for (const name of ['Ada', 'Ben', 'Cy'])
    await client.course.savePerson({ ...person, wishes: [], allergies: [], courseId: id, name });
  await client.course.addCopies({ courseId: id, bookIds: [...bookIds] });
  await client.course.setSyllabus({
    courseId: id,
    items: [{ operationId: 'surface clean', required: true, demonstrationMinutes: 15 }],
  });
  let course: Course | null = null;
  for await (const piece of await client.course.allocate({ courseId: id, seconds: 8 }))
    if (piece.kind === 'done') course = piece.course;
  for await (const piece of await client.course.plan({ courseId: id, seconds: 0.05 }))
    if (piece.kind === 'done') course = piece.course;
  if (!course?.timetable) throw new Error('it is laid out');
  return { desk, client, id, course };
}

async function last<T>(pieces: Promise<AsyncIterable<T>>): Promise<T> {
  let found: T | null = null;
  for await (const piece of await pieces) found = piece;
  if (found === null) throw new Error('nothing was said');
  return found;
}

const refusal = (asked: Promise<unknown>) =>
  asked.then(
    () => 'it was answered',
    (error: Error & { code?: string }) => (error.code === 'REFUSED' ? error.message : `no refusal: ${error.stack}`),
  );
const ownerOf = (course: Course, bookId: string) => course.copies.find((copy) => copy.bookId === bookId)?.personId;
const named = (course: Course, name: string) => course.people.find((one) => one.name === name)?.id ?? '';

/** Pairs are ruled out and kept, allocations named, compared and taken back. */
async function pairs(made: Made, way: (typeof ways)[number]) {
  const { desk, id } = made;
  const client = await ask(way, desk);
  const course = await client.course.open({ id });
  const ada = named(course, 'Ada');
  const hers = course.copies.find((copy) => copy.personId === ada);
  if (!hers) throw new Error('Ada has a copy');
  await client.coursePlan.keepSharing({ courseId: id, name: 'First' });
  const ruled = await client.coursePlan.rule({ courseId: id, personId: ada, bookId: hers.bookId, rule: 'never' });
  const cell = (pairs: typeof ruled) =>
    pairs.copies.find((copy) => copy.bookId === hers.bookId)?.cells.find((one) => one.personId === ada);
  expect(cell(ruled)).toMatchObject({ standing: 'never', why: 'You ruled it out.' });
  const give = { courseId: id, bookId: hers.bookId, personId: ada, locked: true };
  expect(await refusal(client.course.give(give))).toMatch(/You ruled out/);
  const first = ruled.sharings[0]?.id ?? '';
  expect(await client.coursePlan.compare({ courseId: id, first, second: 'now' })).toMatchObject({
    moves: 1,
    people: [{ name: 'Ada', givesUp: [hers.title], gets: [] }],
    better: 'first',
  });
  expect(await refusal(client.coursePlan.takeSharing({ courseId: id, id: first }))).toMatch(/You ruled it out/);
  const kept = await client.coursePlan.rule({ courseId: id, personId: ada, bookId: hers.bookId, rule: 'keep' });
  expect(cell(kept)).toMatchObject({ standing: 'kept' });
  const same = await client.coursePlan.compare({ courseId: id, first, second: 'now' });
  expect(same).toMatchObject({ moves: 0, better: 'neither' });
  expect((await client.coursePlan.dropSharing({ courseId: id, id: first })).sharings).toEqual([]);
  await client.workshop.undo();
  expect((await client.coursePlan.pairs({ courseId: id })).sharings).toHaveLength(1);
  await client.coursePlan.dropSharing({ courseId: id, id: first });
}

/** A copy is spoilt and a person drops out: shown first, done in one step, undone. */
async function mending(made: Made) {
  const { client, id } = made;
  const course = await client.course.open({ id });
  const [ben, cy] = [named(course, 'Ben'), named(course, 'Cy')];
  const his = course.copies.find((copy) => copy.personId === cy)?.bookId ?? '';
  const trouble = { courseId: id, withoutId: ben, ruinedId: his };
  const proposed = await last<Mending>(client.coursePlan.proposeMend({ ...trouble, seconds: 8 }));
  if (proposed.kind !== 'proposed') throw new Error(JSON.stringify(proposed));
  expect(proposed.proven).toBe(true);
  expect((await client.course.open({ id })).copies).toEqual(course.copies);
  const changes = proposed.changes.map(({ bookId, toId }) => ({ bookId, toId }));
  const mended = await client.coursePlan.acceptMend({ ...trouble, what: 'cut through', changes });
  expect(ownerOf(mended, his)).toBeNull();
  expect(mended.copies.find(({ bookId }) => bookId === his)?.blocked).toBe('It is spoilt: cut through.');
  expect(mended.copies.some(({ personId }) => personId === ben)).toBe(false);
  expect(mended.people.find((one) => one.id === ben)?.standing).toBe('withdrawn');
  for (const one of mended.people) if (one.standing === 'confirmed') expect(one.lacks).toEqual([]);
  // Nobody but those struck has to change.
  const ada = named(course, 'Ada');
  const own = (of: Course) => of.copies.filter(({ personId }) => personId === ada).map(({ bookId }) => bookId);
  expect(own(mended)).toEqual(own(course));
  expect(await refusal(client.course.give({ courseId: id, bookId: his, personId: cy, locked: false }))).toMatch(
    /spoilt/,
  );
  await client.workshop.undo();
  expect((await client.course.open({ id })).copies).toEqual(course.copies);
}

/** A step is moved, pinned and let go, and the rest is laid out around it. */
async function moving(made: Made) {
  const { client, id } = made;
  const { timetable } = await client.course.open({ id });
  if (!timetable) throw new Error('it is laid out');
  const first = timetable.tasks.find((task) => task.kind === 'hands');
  if (!first) throw new Error('there is hand-work');
  const startAt = first.startAt + 3 * 3_600_000;
  const { course, moves } = await client.coursePlan.replan({
    courseId: id,
    change: { kind: 'move', taskId: first.id, startAt },
  });
  const same = (of: Course) =>
    of.timetable?.tasks.find(
      (task) => task.kind === 'hands' && task.bookId === first.bookId && task.operationId === first.operationId,
    );
  const moved = same(course);
  expect(moved?.startAt).toBeGreaterThan(first.startAt);
  expect(moved?.pinnedAt).toBe(moved?.startAt);
  expect(moves).toContainEqual(
    expect.objectContaining({ label: first.label, from: first.startAt, to: moved?.startAt }),
  );
  expect(course.timetable?.stale).toBe(false);
  // Laying out from the start leaves it there.
  let again: Course | null = null;
  for await (const piece of await client.course.plan({ courseId: id, seconds: 0.05 }))
    if (piece.kind === 'done') again = piece.course;
  expect(again && same(again)?.startAt).toBe(moved?.startAt);
  const free = await client.coursePlan.replan({
    courseId: id,
    change: { kind: 'unpin', taskId: (again && same(again)?.id) ?? '' },
  });
  expect(same(free.course)?.pinnedAt).toBeNull();
  const gone = client.coursePlan.replan({ courseId: id, change: { kind: 'pin', taskId: first.id } });
  expect(await refusal(gone)).toMatch(/laid out anew/);
}

/** Calendars are handed out by person, tutor and all, over the change of the clocks. */
async function calendars(made: Made) {
  const { client, id } = made;
  const course = await client.course.open({ id });
  const { timetable } = course;
  if (!timetable) throw new Error('it is laid out');
  const read = async (whose: string) => {
    const { base64, fileName } = await client.coursePlan.calendar({ courseId: id, whose });
    const text = Buffer.from(base64, 'base64').toString();
    return { fileName, text, events: new ICAL.Component(ICAL.parse(text)).getAllSubcomponents('vevent') };
  };
  const ada = named(course, 'Ada');
  const own = await read(ada);
  expect(own.fileName).toBe('ada-2026-10-23.ics');
  const hers = timetable.tasks.filter((task) => task.personId === ada || task.kind === 'demonstration');
  expect(own.events.length).toBeGreaterThanOrEqual(hers.length);
  const ids = own.events.map((event) => event.getFirstPropertyValue('uid'));
  expect(new Set(ids).size).toBe(ids.length);
  const whole = await read('everything');
  expect(whole.events.length).toBeGreaterThan(own.events.length);
  expect((await read('tutor 1')).text).toContain('Demonstration');
  const zip = await client.coursePlan.calendar({ courseId: id, whose: 'all in one zip' });
  expect(Buffer.from(zip.base64, 'base64').subarray(0, 2).toString()).toBe('PK');
  expect(await refusal(client.coursePlan.calendar({ courseId: id, whose: 'nobody' }))).toMatch(/Nobody of this name/);
}

/** Says how many it holds, and what to decide by when. */
async function counting(made: Made) {
  const { client, id } = made;
  const course = await client.course.open({ id });
  const { soFar } = await last<Counting>(client.coursePlan.howMany({ courseId: id, from: 2, to: 5 }));
  expect(soFar.at.map(({ people }) => people)).toEqual([2, 3, 4, 5]);
  const five = soFar.at.at(-1);
  expect(five?.short).toContain('4 benches');
  expect(soFar.most).toBeGreaterThanOrEqual(3);

  const terms = { courseId: id, depositMinor: 8_000, decideOn: '2026-09-25', lostMinor: 20_000 };
  const tooLate = client.coursePlan.setTerms({ ...terms, decideOn: '2026-10-24' });
  expect(await refusal(tooLate)).toMatch(/when the course begins/);
  expect(await refusal(client.coursePlan.setTerms({ ...terms, depositMinor: 30_001 }))).toMatch(/more than the fee/);
  const money = await client.coursePlan.setTerms(terms);
  expect(money).toMatchObject({ owing: ['Ada', 'Ben', 'Cy'], depositsMinor: 0, margin: { people: 1 } });
  expect(money.decision).toMatchObject({ verdict: 'pays', goFrom: 2, ifItGoesMinor: 25_000 });
  const paid = { courseId: id, personId: named(course, 'Ada'), paidMinor: 8_000, paidOn: '2026-08-01' };
  const after = await client.coursePlan.setDeposit(paid);
  expect(after).toMatchObject({ owing: ['Ben', 'Cy'], depositsMinor: 8_000 });
  // What is decided goes with the person and with the course, and comes back.
  await client.course.removePerson({ id: paid.personId });
  expect((await client.coursePlan.money({ courseId: id })).deposits.map(({ name }) => name)).toEqual(['Ben', 'Cy']);
  await client.workshop.undo();
  await client.course.remove({ id });
  await client.workshop.undo();
  expect(await client.coursePlan.money({ courseId: id })).toEqual(after);
}

test('a course is decided: pairs, named allocations, a drop-out, a moved week, calendars, numbers and money', async () => {
  const made = await prepared();
  for (const way of ways) await pairs(made, way);
  await moving(made);
  await calendars(made);
  await mending(made);
  await counting(made);
}, 40_000);
