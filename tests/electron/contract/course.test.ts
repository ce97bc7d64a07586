import { describe, expect, test } from 'vitest';
import type { Allocating, Course, PersonInput } from '../../../core/contract/course.ts';
import { book, hazard, material, movement, plan, planTask } from '../../../electron/store/schema.ts';
import { putBooksOnShelf } from '../../journeys/books.ts';
import { readPdfWords } from '../print/pdf-text.ts';
import { type TestDesk, testDesk } from '../test-desk.ts';
import { ask, type Client, ways } from './ways.ts';

const frame = {
  title: 'Two days of mending',
  startsOn: '2026-07-06',
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
  copiesEach: [1, 3] as [number, number],
  spares: 0,
  note: '',
};
const improver: Omit<PersonInput, 'name'> = {
  level: 'improver',
  standing: 'confirmed',
  wishes: [],
  allergies: [],
  diet: '',
  note: '',
};

async function opened(way: (typeof ways)[number]) {
  const desk = testDesk();
  const client = await ask(way, desk);
  await client.workshop.create({ folder: desk.suggestedFolder, name: 'Elm Yard' });
  const bookIds = putBooksOnShelf(desk, 16);
  store(desk).write('Meant for practice', (change) => {
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
  return { desk, client, bookIds };
}

function store(desk: TestDesk) {
  if (!desk.place.workshop) throw new Error('a workshop is open');
  return desk.place.workshop;
}

async function allocated(client: Client, courseId: string): Promise<Exclude<Allocating, { kind: 'progress' }>> {
  for await (const piece of await client.course.allocate({ courseId, seconds: 8 })) {
    if (piece.kind !== 'progress') return piece;
  }
  throw new Error('allocating ended without an answer');
}

async function laidOut(client: Client, courseId: string): Promise<Course> {
  for await (const piece of await client.course.plan({ courseId, seconds: 0.05 })) {
    if (piece.kind === 'done') return piece.course;
  }
  throw new Error('planning ended without a plan');
}

/** A course of three with the copies of the shelf and two operations asked of everybody. */
async function prepared(way: (typeof ways)[number]) {
  const { desk, client, bookIds } = await opened(way);
  const { id } = await client.course.save(frame);
  for (const name of ['Ada', 'Ben', 'Cy']) await client.course.savePerson({ ...improver, courseId: id, name });
  const offered = await client.course.offered({ courseId: id });
  expect(offered.map(({ bookId }) => bookId).toSorted()).toEqual([...bookIds].toSorted());
  await client.course.addCopies({ courseId: id, bookIds: [...bookIds] });
  const items = [
    { operationId: 'surface clean', required: true, demonstrationMinutes: 15 },
    { operationId: 'mend tears', required: true, demonstrationMinutes: 30 },
    { operationId: 'tip in', required: false, demonstrationMinutes: 20 },
  ];
  const course = await client.course.setSyllabus({ courseId: id, items });
  return { desk, client, bookIds, id, course };
}

/** All that is set in a sheet, its fonts within it. */
function wordsOf({ base64 }: Readonly<{ base64: string }>): string {
  const { pages, fonts } = readPdfWords(Buffer.from(base64, 'base64'));
  expect(fonts.every(({ embedded }) => embedded)).toBe(true);
  return pages.join(' ').replace(/\s+/g, ' ');
}

function refusal(asked: Promise<unknown>): Promise<string> {
  return asked.then(
    () => 'it was answered',
    (error: Error & { code?: string }) => (error.code === 'REFUSED' ? error.message : `not a refusal: ${error.stack}`),
  );
}

const fits = (course: Course, what: string) => course.verdicts.find((one) => one.what === what);

describe.each(ways)('the course asked by %s', (way) => {
  test('is planned from frame to printed sheets, and undone step by step', async () => {
    const { client, id, course } = await prepared(way);
    expect(course.people.map(({ name, lacks }) => [name, lacks])).toEqual([
      ['Ada', ['surface clean', 'mend tears']],
      ['Ben', ['surface clean', 'mend tears']],
      ['Cy', ['surface clean', 'mend tears']],
    ]);
    expect(course.endsOn).toBe('2026-07-09');
    expect(course.money).toMatchObject({ breakEven: 2, confirmed: 3, resultMinor: 25_000 });

    const found = await allocated(client, id);
    if (found.kind !== 'done') throw new Error(found.conflict.join(' '));
    expect(found.course.allocation).toMatchObject({ proven: true, gap: 0 });
    expect(fits(found.course, 'Operations')).toMatchObject({ fits: true });
    for (const copy of found.course.copies) {
      expect(copy.reason).not.toBe('');
      expect(copy.reason).not.toMatch(/surface clean|mend tears/);
    }

    // Three people have all the copies that three each allows, which fill a part of their four days.
    const work = fits(found.course, 'Work');
    expect(work?.fits).toBe(false);
    expect(work?.sentence).toMatch(/^3 of 3 have too little to do for 22 h 52; room for [1-7] more: /);
    expect(work?.sentence).toContain(
      '7 copies are free, and nobody is to have more than 3: allow 4 each and allocate again, or give them out at Copies.',
    );

    const planned = await laidOut(client, id);
    const { timetable } = planned;
    expect(timetable?.stale).toBe(false);
    expect(timetable?.quality.late).toBe(0);
    const shown = timetable?.tasks.filter(({ kind }) => kind === 'demonstration') ?? [];
    expect(shown.map(({ operationId }) => operationId)).toContain('mend tears');
    for (const task of timetable?.tasks ?? []) {
      const before = shown.find((one) => task.kind === 'hands' && one.operationId === task.operationId);
      if (before) expect(before.endAt).toBeLessThanOrEqual(task.startAt);
    }
    const wall = wordsOf(await client.course.printTimetable({ courseId: id }));
    const cards = wordsOf(await client.course.printCards({ courseId: id }));
    expect(wall).toContain(frame.title);
    for (const { name } of course.people) expect(wall).toContain(name);
    for (const task of shown) expect(wall).toContain(task.label.replace(/^Demonstration: /, ''));
    for (const copy of planned.copies.filter(({ personId }) => personId !== null)) {
      expect(cards).toContain(copy.title);
      for (const operation of ['Surface clean', 'Mend tears']) expect(cards).toContain(operation);
    }
    expect(await client.course.open({ id })).toEqual(planned);

    expect(await client.workshop.undo()).toEqual({ label: `Lay out the week of ${frame.title}` });
    expect((await client.course.open({ id })).timetable).toBeNull();
    await client.workshop.undo();
    expect((await client.course.open({ id })).copies.every(({ personId }) => personId === null)).toBe(true);
    expect(await client.course.stop()).toEqual({ stopped: false });
  });
});

describe('the course', () => {
  test('hands a flagged book to nobody, neither by itself nor by hand, and takes back one that is flagged later', async () => {
    const { desk, client, id } = await prepared('direct call');
    const found = await allocated(client, id);
    if (found.kind !== 'done') throw new Error('three people and sixteen copies fit');
    const given = found.course.copies.find(({ personId }) => personId !== null);
    if (!given) throw new Error('somebody has a copy');
    const flag = { kind: 'mould', state: 'raised', reason: 'Grey bloom on the joints', decision: '' };
    store(desk).write('Raise a hazard', (change) => change.insert(hazard, { ...flag, bookId: given.bookId }));

    const after = await client.course.open({ id });
    expect(fits(after, 'Safety')?.sentence).toContain(given.title);
    expect(await refusal(laidOut(client, id))).toMatch(/Possible mould/);
    const give = { courseId: id, bookId: given.bookId, personId: given.personId, locked: true };
    expect(await refusal(client.course.give(give))).toMatch(/cannot be .*Possible mould/);
    const again = await allocated(client, id);
    if (again.kind !== 'done') throw new Error('fifteen are enough');
    expect(again.course.copies.find(({ bookId }) => bookId === given.bookId)?.personId).toBeNull();
  });

  test('keeps an allergy by hand and by itself, excuses what cannot be done without it, and says which words mean nothing to it', async () => {
    const { client, id } = await prepared('direct call');
    const opened = await client.course.open({ id });
    const [ada] = opened.people;
    if (!ada) throw new Error('Ada is there');
    const {
      id: personId,
      minutes: _,
      ownMinutes: __,
      meets: ___,
      lacks: ____,
      excused: _5,
      unknownAllergies: _6,
      ...typed
    } = ada;
    const allergic = await client.course.savePerson({
      ...typed,
      courseId: id,
      id: personId,
      allergies: ['wheat starch', 'peanuts'],
    });
    const now = allergic.people.find((one) => one.id === personId);
    expect(now).toMatchObject({ unknownAllergies: ['peanuts'], excused: ['mend tears'] });
    expect(allergic.verdicts.filter(({ what }) => what === 'Allergies').map(({ fits }) => fits)).toEqual([false]);
    expect(fits(allergic, 'Operations')?.sentence).toContain('Ada watches “Mend tears with tissue” (wheat starch)');

    const pasted = allergic.copies.find(({ teaches }) => teaches.includes('mend tears'));
    if (!pasted) throw new Error('a copy is mended with paste');
    const give = { courseId: id, bookId: pasted.bookId, personId, locked: true };
    expect(await refusal(client.course.give(give))).toMatch(/wheat starch, which Ada must not meet/);
    const found = await allocated(client, id);
    const copies = found.kind === 'done' ? found.course.copies : [];
    expect(found.kind === 'done' && fits(found.course, 'Operations')).toEqual({
      what: 'Operations',
      fits: false,
      sentence: '2 of 3 meet all 2 required operations; Ada watches “Mend tears with tissue” (wheat starch).',
    });
    expect(copies.filter((copy) => copy.personId === personId && copy.teaches.includes('mend tears'))).toEqual([]);
  });

  test('says what cannot be had and keeps what was; a kept copy stays where it is', async () => {
    const { client, id, course } = await prepared('direct call');
    const [copy, ben] = [course.copies.find(({ level }) => level === 'newcomer'), course.people[1]];
    if (!copy || !ben) throw new Error('Ben and an easy copy are there');
    await client.course.give({ courseId: id, bookId: copy.bookId, personId: ben.id, locked: true });
    const kept = await allocated(client, id);
    if (kept.kind !== 'done') throw new Error(kept.conflict.join(' '));
    expect(kept.course.copies.find(({ bookId }) => bookId === copy.bookId)?.personId).toBe(ben.id);

    const items = [{ operationId: 'phase box', required: true, demonstrationMinutes: 10 }];
    await client.course.setSyllabus({ courseId: id, items });
    const found = await allocated(client, id);
    if (found.kind !== 'impossible') throw new Error('no copy of these is boxed');
    expect(found.conflict).toEqual([
      'Every improver (3) is to meet “Make a box of folded board”; 0 copies that they may have teach it.',
    ]);
    expect(found.waysOut).toEqual([
      'Find 3 more copies on which an improver can learn “Make a box of folded board”, or let 3 people do without it.',
    ]);
    expect((await client.course.open({ id })).copies.some(({ personId }) => personId === ben.id)).toBe(true);
  });

  test('is promised its material: kit and Stockroom count the same, on the days of the plan', async () => {
    const { desk, client, id } = await prepared('direct call');
    store(desk).write('Fill the cupboard', (change) => {
      const materialId = change.insert(material, {
        name: 'Wheat starch',
        kind: 'wheat starch',
        unit: 'g',
        packMillionths: 500_000_000,
        packPriceMinor: 900,
        supplier: 'Invented',
        leadDays: 7,
        colour: '',
        place: '',
        note: '',
      });
      const put = { materialId, kind: 'in', quantityMillionths: 1_000_000, at: desk.now(), reason: '' };
      change.insert(movement, put);
    });
    await allocated(client, id);
    const planned = await laidOut(client, id);
    const starch = planned.kit.find(({ name }) => name === 'Wheat starch');
    if (!starch) throw new Error('paste is used');
    expect(starch.byDay.reduce((sum, quantity) => sum + quantity, 0)).toBeCloseTo(starch.total, 9);
    expect(starch.byDay.filter((quantity) => quantity > 0).length).toBeGreaterThan(1);
    expect(starch).toMatchObject({ onHand: 1, packs: 1, costMinor: 900, late: false });
    // The first day, less seven days under way and a day, since what comes on a day helps from the next.
    expect(starch.orderBy).toBe('2026-06-28');
    const [line] = (await client.stockroom.list()).lines;
    expect(line?.promised.course).toBeCloseTo(starch.total, 4);
    const { packs, costMinor, orderBy, late } = starch;
    expect(line?.advice).toMatchObject({ packs, costMinor, orderBy, late });
  });

  test('orders by the Stockroom’s figure where the bench uses first what the course counts on, and keeps its own days', async () => {
    const { desk, client, bookIds, id } = await prepared('direct call');
    store(desk).write('Fill the cupboard', (change) => {
      const materialId = change.insert(material, {
        name: 'Sponges',
        kind: 'cleaning sponge',
        unit: 'piece',
        packMillionths: 1_000_000,
        packPriceMinor: 650,
        supplier: 'Invented',
        leadDays: 7,
        colour: '',
        place: '',
        note: '',
      });
      change.insert(movement, { materialId, kind: 'in', quantityMillionths: 8_000_000, at: desk.now(), reason: '' });
    });
    await allocated(client, id);
    const alone = (await laidOut(client, id)).kit.find(({ name }) => name === 'Sponges');
    if (!alone) throw new Error('sponges are used');
    expect(alone).toMatchObject({ missing: 0, packs: 0, costMinor: 0, orderBy: null });

    // What is left over for nobody of the course is worked on at the bench weeks before, and takes all that was spare.
    const [materialId] = [alone.materialId];
    const rest = 8 - alone.total;
    await client.stockroom.addMovement({ materialId, kind: 'out', quantity: rest, reason: 'Used at the bench' });
    const { copies } = await client.course.open({ id });
    const spare = copies.find(({ personId, bookId }) => personId === null && bookIds.includes(bookId));
    if (!spare) throw new Error('sixteen copies are more than nine');
    await client.course.removeCopies({ courseId: id, bookIds: [spare.bookId] });
    store(desk).write('Plan the week', (change) => {
      const planId = change.insert(plan, { kind: 'week', startsOn: '2026-05-04', madeAt: 0, seed: 1, quality: {} });
      const startAt = desk.now() + 3_600_000;
      change.insert(planTask, {
        planId,
        bookId: spare.bookId,
        operationId: 'surface clean',
        position: 0,
        startAt,
        endAt: startAt + 1,
        label: 'Surface clean',
        kind: 'hands',
        tools: [],
        waitsFor: '',
        state: 'planned',
      });
    });
    const after = await client.course.open({ id });
    const kit = after.kit.find(({ name }) => name === 'Sponges');
    const line = (await client.stockroom.list()).lines.find(({ material }) => material.id === materialId);
    expect(line?.promised.week).toBeGreaterThan(0);
    expect(kit?.byDay).toEqual(alone.byDay);
    expect(kit?.missing).toBeCloseTo(line?.promised.week ?? 0, 5);
    expect(line?.advice).toMatchObject({ packs: 1 });
    const { packs, costMinor, orderBy, late } = line?.advice ?? {};
    expect(kit).toMatchObject({ packs, costMinor, orderBy, late });
    expect(fits(after, 'Kit')?.sentence).toBe(
      '1 material is to be ordered, with what the bench and other plans use before.',
    );
  });

  test('refuses in words: hours that end before they begin, two of one operation, unknown operations, people who are not coming', async () => {
    const { client, id } = await prepared('direct call');
    const dayHours: [number, number][] = [[600, 540]];
    expect(await refusal(client.course.save({ ...frame, dayHours }))).toMatch(/must end after it begins/);
    expect(await refusal(client.course.save({ ...frame, copiesEach: [3, 2] }))).toMatch(/above the most/);
    expect(await refusal(client.course.save({ ...frame, days: 0 }))).toBe('A course lasts a day at least.');
    const item = { operationId: 'tip in', required: true, demonstrationMinutes: 5 };
    expect(await refusal(client.course.setSyllabus({ courseId: id, items: [item, item] }))).toMatch(/twice/);
    const unknown = { ...item, operationId: 'juggling' };
    expect(await refusal(client.course.setSyllabus({ courseId: id, items: [unknown] }))).toMatch(/no operation/);
    expect(await refusal(client.course.printTimetable({ courseId: id }))).toMatch(/not laid out yet/);
    expect(await refusal(client.course.open({ id: 'nowhere' }))).toMatch(/not there any more/);
    const waiting = await client.course.savePerson({ ...improver, courseId: id, name: 'Dee', standing: 'waiting' });
    const dee = waiting.people.find(({ name }) => name === 'Dee');
    const [copy] = waiting.copies;
    if (!dee || !copy) throw new Error('Dee and a copy are there');
    const give = { courseId: id, bookId: copy.bookId, personId: dee.id, locked: true };
    expect(await refusal(client.course.give(give))).toMatch(/Only people who are confirmed/);
  });

  test('loses a person and with them their claim on copies, goes away whole, and comes back whole', async () => {
    const { client, id } = await prepared('direct call');
    await allocated(client, id);
    const before = await laidOut(client, id);
    const [ada] = before.people;
    if (!ada) throw new Error('Ada is there');
    const without = await client.course.removePerson({ id: ada.id });
    expect(without.copies.some(({ personId }) => personId === ada.id)).toBe(false);
    // What the others do still holds without her.
    expect(without.timetable).toMatchObject({ stale: false });
    expect(without.timetable?.tasks.some(({ personId }) => personId === ada.id)).toBe(false);
    await client.workshop.undo();
    expect(await client.course.open({ id })).toEqual(before);
    expect(await client.course.remove({ id })).toEqual({ title: frame.title });
    expect(await client.course.list()).toEqual([]);
    await client.workshop.undo();
    expect(await client.course.open({ id })).toEqual(before);
    const copied = await client.course.save({ ...frame, title: 'Next year', copyOf: id });
    expect(copied.syllabus.map(({ operationId }) => operationId)).toEqual(['surface clean', 'mend tears', 'tip in']);
    expect(copied.people).toEqual([]);
  });
});
