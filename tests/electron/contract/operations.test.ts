import { describe, expect, test } from 'vitest';
import { testDesk } from '../test-desk.ts';
import { ask, ways } from './ways.ts';

const oiling = {
  name: 'Wax the boards',
  level: 'newcomer',
  minutes: { low: 5, likely: 8, high: 12 },
  grows: null,
  atMost: 1,
  wait: { minutes: 30, held: 'air', what: 'wax setting' },
  tools: [],
  attention: 'none',
  needs: [],
  cautions: [],
  source: 'own practice',
  requires: [],
  after: ['surface clean'],
  keeps: null,
  onCovering: true,
  invasive: false,
  calledBy: [{ part: 'boards', damage: 'worn', from: 1, to: 3 }],
} as const;

describe.each(ways)('operations asked for by %s', (way) => {
  test('are added, changed and withdrawn by version; books follow, and what was agreed keeps its own', async () => {
    const desk = testDesk();
    const client = await ask(way, desk);
    await client.workshop.create({ folder: desk.suggestedFolder, name: 'Elm Yard' });
    const { book } = await client.shelf.create({ title: 'Ferns', binding: 'cloth case', heightMm: 190 });
    await client.shelf.addFinding({
      bookId: book.id,
      part: 'boards',
      damage: 'worn',
      severity: 2,
      count: null,
      note: '',
    });
    const kept = await client.operations.save({ id: null, operation: mutable(oiling) });
    expect(kept).toEqual({ id: 'wax the boards', version: 1 });
    const stepOf = async () =>
      (await client.shelf.book({ id: book.id })).proposal.steps.find((step) => step.operationId === kept.id);
    expect(await stepOf()).toMatchObject({ name: 'Wax the boards', minutes: { likely: 8 }, operationVersion: 1 });
    await client.shelf.agree({ id: book.id });

    const slower = { ...mutable(oiling), minutes: { low: 10, likely: 20, high: 40 } };
    expect(await client.operations.save({ id: kept.id, operation: slower })).toMatchObject({ version: 2 });
    expect(await stepOf()).toMatchObject({ minutes: { likely: 20 }, operationVersion: 2 });
    const { agreed } = await client.shelf.book({ id: book.id });
    expect(agreed?.steps.find((step) => step.operationId === kept.id)).toMatchObject({ operationVersion: 1 });
    expect(agreed?.current).toBe(false);
    const listed = (await client.operations.list()).find(({ operation }) => operation.id === kept.id);
    expect(listed).toMatchObject({ standing: 'own', versions: [{ version: 2 }, { version: 1 }] });
    const minutes = async () =>
      (await client.shelf.list({ words: '', filter: {}, sort: 'attention', offset: 0, limit: 9 })).rows[0]?.minutes
        .likely;
    const before = await minutes();

    await client.operations.withdraw({ id: kept.id });
    expect(await stepOf()).toBeUndefined();
    expect(await minutes()).not.toBe(before);
    await client.workshop.undo();
    expect(await minutes()).toBe(before);
    expect(await client.operations.upkeep()).toEqual({ left: 0, of: 0 });
  });
});

const slow = mutable(oiling);

describe('operations', () => {
  test('are refused in a circle, without a caution, and where another still follows them', async () => {
    const desk = testDesk();
    const client = await ask('direct call', desk);
    await client.workshop.create({ folder: desk.suggestedFolder, name: 'Elm Yard' });
    const { id } = await client.operations.save({ id: null, operation: mutable(oiling) });
    const sentence = async (asked: Promise<unknown>) => (await asked.catch((thrown: Error) => thrown)) as Error;
    const clean = (await client.operations.list()).find(({ operation }) => operation.id === 'surface clean')?.operation;
    if (clean === undefined) throw new Error('no cleaning');
    const { id: _, version: __, ...same } = clean;
    const circle = { ...(same as unknown as typeof slow), after: [id] };
    expect((await sentence(client.operations.save({ id: 'surface clean', operation: circle }))).message).toMatch(
      /wait for each other: .*“Wax the boards”/,
    );
    const shear = { ...mutable(oiling), name: 'Trim', tools: ['board shear' as const] };
    expect((await sentence(client.operations.save({ id: null, operation: shear }))).message).toMatch(/caution/);
    await client.operations.save({ id: null, operation: { ...mutable(oiling), name: 'Buff', after: [id] } });
    expect((await sentence(client.operations.withdraw({ id }))).message).toMatch(/“Buff” is to come after it/);
  });

  test('of a workshop’s own are taught on a course by their name, with the tutor they ask for, and keep whom they would harm away', async () => {
    const desk = testDesk();
    const client = await ask('direct call', desk);
    await client.workshop.create({ folder: desk.suggestedFolder, name: 'Elm Yard' });
    const need = { kind: 'PVA adhesive', words: 'a little', unit: 'g', times: 1, of: [], fixed: 2 } as const;
    const operation = { ...mutable(oiling), attention: 'nearby' as const, needs: [mutable(need)] };
    const { id } = await client.operations.save({ id: null, operation });
    const { id: courseId } = await client.course.save({
      title: 'Two days of wax',
      startsOn: '2026-07-06',
      days: 2,
      dayHours: [[540, 750]],
      tutors: 1,
      helpers: 0,
      benches: 4,
      feeMinor: 0,
      fixedCostMinor: 0,
      perHeadCostMinor: 0,
      copiesEach: [0, 3],
      spares: 0,
      note: '',
    });
    const newcomer = { courseId, level: 'newcomer', standing: 'confirmed', wishes: [id], diet: '', note: '' } as const;
    for (const [name, allergies] of [
      ['Ada', []],
      ['Ben', ['PVA adhesive']],
    ] as const)
      await client.course.savePerson({ ...mutable(newcomer), name, allergies: [...allergies] });
    const items = [{ operationId: id, required: true, demonstrationMinutes: 10 }];
    const course = await client.course.setSyllabus({ courseId, items });
    expect(course.syllabus).toMatchObject([{ operationId: id, name: 'Wax the boards' }]);
    expect(course.ownNames).toEqual({ [id]: 'Wax the boards' });
    expect(course.people.map(({ name, excused, lacks }) => ({ name, excused, lacks }))).toEqual([
      { name: 'Ada', excused: [], lacks: [id] },
      { name: 'Ben', excused: [id], lacks: [] },
    ]);
    expect(course.verdicts.find(({ what }) => what === 'Operations')?.sentence).toBe(
      '0 of 2 meet all 1 required operations; Ada does not meet “Wax the boards” yet; Ben watches “Wax the boards” (PVA adhesive).',
    );
    const [ada] = course.people;
    await client.coursePeople.tick({ personId: ada!.id, operationId: id, how: 'alone' });
    expect((await client.workshop.status()).undo).toBe('Ada: Wax the boards, alone');
    const seen = await client.coursePeople.open({ courseId });
    expect(seen.syllabus).toMatchObject([{ name: 'Wax the boards', least: 'nearby' }]);
    expect(seen.lacking).toMatchObject([{ name: 'Wax the boards', wanted: 2, copies: 0 }]);
    const list = Buffer.from((await client.coursePeople.list({ courseId })).base64, 'base64').toString('utf8');
    expect(list).toContain('Wax the boards');
  });

  test('make a treatment of a person’s own: put in order, kept under a name, agreed for another book', async () => {
    const desk = testDesk();
    const client = await ask('direct call', desk);
    await client.workshop.create({ folder: desk.suggestedFolder, name: 'Elm Yard' });
    const { book } = await client.shelf.create({ title: 'Ferns', binding: 'cloth case', heightMm: 190 });
    await client.shelf.addFinding({
      bookId: book.id,
      part: 'hinges',
      damage: 'split',
      severity: 2,
      count: null,
      note: '',
    });
    const found = await client.operations.alternatives({ bookId: book.id });
    expect(found.map(({ key }) => key)).toContain('proposed');
    const mine = ['surface clean', 'mend hinge'];
    const made = await client.operations.compose({ bookId: book.id, operations: mine });
    expect(made.steps.map(({ operationId }) => operationId)).toEqual(mine);
    const refused = await client.operations
      .compose({ bookId: book.id, operations: ['reline'] })
      .catch((thrown: Error) => thrown.message);
    expect(refused).toMatch(/cannot be done without/);
    const own = await client.operations.keepTreatment({ name: 'Quick hinge', operations: mine });
    expect(await client.operations.ownTreatments()).toEqual([own]);
    const opened = await client.operations.agree({ bookId: book.id, operations: own.operations as string[] });
    expect(opened.agreed?.steps.map(({ operationId }) => operationId)).toEqual(mine);
    expect(opened.book.stage).toBe('agreed');
    await client.operations.removeTreatment({ id: own.id });
    expect(await client.operations.ownTreatments()).toEqual([]);
  });
});

type Mutable<T> = T extends readonly (infer Item)[]
  ? Mutable<Item>[]
  : T extends object
    ? { -readonly [Key in keyof T]: Mutable<T[Key]> }
    : T;

/** A copy that may be changed, as the contract takes it. */
function mutable<const T>(value: T): Mutable<T> {
  return structuredClone(value) as Mutable<T>;
}
