import { beforeEach, describe, expect, test } from 'vitest';
import type { BookOpened, ShelfQuery } from '../../../core/contract/shelf.ts';
import { type TestDesk, testDesk, testNow } from '../test-desk.ts';
import { ask, type Client, ways } from './ways.ts';

const whole: ShelfQuery = { words: '', filter: {}, sort: 'attention' };

async function refusal(asked: Promise<unknown>): Promise<Readonly<{ sentence: string; field?: string }>> {
  const error = await asked.then(
    () => new Error('it was answered'),
    (thrown: Error) => thrown,
  );
  const { code, data } = error as { code?: string; data?: { field?: string } };
  return code === 'REFUSED'
    ? { sentence: error.message, ...(data?.field !== undefined && { field: data.field }) }
    : { sentence: `not a refusal: ${error.message}` };
}

let desk: TestDesk;
let client: Client;

async function open(way: (typeof ways)[number]): Promise<void> {
  desk = testDesk();
  client = await ask(way, desk);
  await client.workshop.create({ folder: desk.suggestedFolder, name: 'Elm Yard' });
}

async function titles(query: Partial<ShelfQuery> = {}): Promise<string[]> {
  const { rows } = await client.shelf.list({ ...whole, ...query, offset: 0, limit: 100 });
  return rows.map(({ title }) => title);
}

describe.each(ways)('a book asked for by %s', (way) => {
  test('is put in, measured, found, and comes back as it was put', async () => {
    await open(way);
    const made = await client.shelf.create({
      title: 'Rambles in Dorset',
      author: 'A Lady',
      dateText: 'MDCCCLII',
      pagesText: 'viii, 312',
      heightMm: 190.5,
      widthMm: 125,
      thicknessMm: 30,
      lot: 'Attic  sale',
      place: 'Back room › Case 2',
    });
    expect(made.book).toMatchObject({ yearFrom: 1852, yearTo: 1852, pages: 320, heightMm: 190.5, stage: 'waiting' });
    expect([made.lot, made.place]).toEqual(['Attic sale', 'Back room › Case 2']);
    const other = await client.shelf.create({ title: 'Ferns', lot: 'attic sale', place: 'back room > case 2' });
    expect(other.book.lotId).toBe(made.book.lotId);
    expect(other.book.placeId).toBe(made.book.placeId);
    expect((await client.shelf.places()).map(({ name }) => name)).toEqual(['Back room', 'Back room › Case 2']);
    expect(await titles({ words: 'dors lady' })).toEqual(['Rambles in Dorset']);
    expect(await client.shelf.book({ id: made.book.id })).toEqual(made);
    const known = async () =>
      (await client.shelf.list({ ...whole, offset: 0, limit: 9 })).rows.map(({ title, surveyed }) => [title, surveyed]);
    expect(await known()).toEqual(
      expect.arrayContaining([
        ['Rambles in Dorset', false],
        ['Ferns', false],
      ]),
    );
    const finding = { part: 'joints', damage: 'split', severity: 2, count: null, note: '' } as const;
    await client.shelf.addFinding({ bookId: other.book.id, ...finding });
    expect(await known()).toEqual(
      expect.arrayContaining([
        ['Rambles in Dorset', false],
        ['Ferns', true],
      ]),
    );
  });
});

describe('on the shelf', () => {
  beforeEach(() => open('direct call'));

  async function put(title: string, patch: object = {}): Promise<BookOpened> {
    return client.shelf.create({ title, ...patch });
  }

  test('books stand by attention, by title, by year and by the work in them, whatever was asked before', async () => {
    const a = await put('Zebra Keeping', { dateText: '1850' });
    const b = await put('apiary notes', { dateText: '1900' });
    await put('Moths', { dateText: 'n.d.' });
    await client.shelf.addFinding({
      bookId: a.book.id,
      part: 'joints',
      damage: 'split',
      severity: 3,
      count: 2,
      note: '',
    });
    await client.shelf.addFinding({
      bookId: b.book.id,
      part: 'covering',
      damage: 'dirty',
      severity: 1,
      count: null,
      note: '',
    });
    const [first, second] = (await client.shelf.list({ ...whole, offset: 0, limit: 3 })).rows;
    expect(first?.score).toBeGreaterThanOrEqual(second?.score ?? 0);
    expect((await titles()).at(-1)).toBe('Moths');
    expect(await titles({ sort: 'title' })).toEqual(['apiary notes', 'Moths', 'Zebra Keeping']);
    expect(await titles({ sort: 'year' })).toEqual(['Zebra Keeping', 'apiary notes', 'Moths']);
    expect((await titles({ sort: 'most work' }))[0]).toBe('Zebra Keeping');
    await client.shelf.save({ id: b.book.id, patch: { title: 'Yew Trees' } });
    expect(await titles({ sort: 'title' })).toEqual(['Moths', 'Yew Trees', 'Zebra Keeping']);
  });

  test('a filter and words together find only what fits both, and say where in it a book stands', async () => {
    const red = await put('Red Clover', { binding: 'cloth case', fate: 'restore' });
    await put('Red Deer', { binding: 'vellum', fate: 'restore' });
    await put('Red Kites', { binding: 'cloth case' });
    const cloth = { filter: { binding: 'cloth case' } } as const;
    expect((await titles({ words: 'red', ...cloth, sort: 'title' })) as string[]).toEqual(['Red Clover', 'Red Kites']);
    expect(await titles({ words: 'red', filter: { fate: 'undecided' } })).toEqual(['Red Kites']);
    const answer = await client.shelf.list({ ...whole, words: 'red', ...cloth, offset: 1, limit: 1 });
    expect([answer.total, answer.rows.length]).toEqual([2, 1]);
    expect(await client.shelf.position({ ...whole, sort: 'title', id: red.book.id })).toBe(0);
    expect(await client.shelf.position({ ...whole, words: 'kites', id: red.book.id })).toBeNull();
    expect(await client.shelf.ids({ ...whole, sort: 'title', limit: 1 })).toEqual([red.book.id]);
  });

  test('signs of the search language are only letters to look for', async () => {
    await put('"Near" OR NOT');
    for (const words of ['"', 'NEAR(', '*', "O'", 'title:x', '""" near*', '-']) await titles({ words });
    expect(await titles({ words: '"near" or' })).toEqual(['"Near" OR NOT']);
  });

  test('a green book of 1860 raises its hazard, keeps out of plans and lessons, and is decided only in writing', async () => {
    const { book } = await put('Emerald Isle', { dateText: '1860', binding: 'cloth case', colour: 'bright green' });
    await client.shelf.addFinding({
      bookId: book.id,
      part: 'joints',
      damage: 'split',
      severity: 3,
      count: 1,
      note: '',
    });
    const raised = await client.shelf.book({ id: book.id });
    expect(raised.hazards).toMatchObject([{ kind: 'arsenical green', state: 'raised' }]);
    expect(raised.hazards[0]?.reason).toContain('Poison Book Project');
    expect((await refusal(client.shelf.agree({ id: book.id }))).sentence).toMatch(/^Possible arsenical green/);
    expect(await refusal(client.shelf.save({ id: book.id, patch: { fate: 'practice' } }))).toMatchObject({
      field: 'fate',
    });
    expect(await refusal(client.shelf.saveMany({ ids: [book.id], patch: { fate: 'salvage' } }))).toMatchObject({
      field: 'fate',
      sentence: expect.stringMatching(/^Nothing was changed\. “Emerald Isle”: /),
    });
    const id = raised.hazards[0]?.id ?? '';
    expect(await refusal(client.shelf.decideHazard({ id, state: 'cleared', decision: ' ' }))).toMatchObject({
      field: 'decision',
    });
    const cleared = await client.shelf.decideHazard({ id, state: 'cleared', decision: 'Tested by the county lab.' });
    expect(cleared.hazards).toMatchObject([{ state: 'cleared', decidedAt: testNow }]);
    expect(cleared.stopped).toBeNull();
    expect((await client.shelf.agree({ id: book.id })).agreed).toMatchObject({ agreedAt: testNow, current: true });
  });

  test('a hazard that no longer has a cause goes; one that was decided stays', async () => {
    const { book } = await put('Garden Greens', { dateText: '1860', binding: 'cloth case', colour: 'green' });
    expect((await client.shelf.book({ id: book.id })).hazards).toHaveLength(1);
    const blue = await client.shelf.save({ id: book.id, patch: { colour: 'blue' } });
    expect(blue.hazards).toEqual([]);
    const green = await client.shelf.save({ id: book.id, patch: { colour: 'green' } });
    const id = green.hazards[0]?.id ?? '';
    await client.shelf.decideHazard({ id, state: 'confirmed', decision: 'Green came off on a swab.' });
    expect((await client.shelf.save({ id: book.id, patch: { colour: 'blue' } })).hazards).toMatchObject([
      { state: 'confirmed' },
    ]);
  });

  test('confirming a hazard takes away a fate it forbids', async () => {
    const { book } = await put('Lessons', {
      dateText: '1860',
      binding: 'cloth case',
      colour: 'blue',
      fate: 'practice',
    });
    const green = await client.shelf.save({ id: book.id, patch: { colour: 'green' } });
    const decided = await client.shelf.decideHazard({
      id: green.hazards[0]?.id ?? '',
      state: 'confirmed',
      decision: 'It rubs off.',
    });
    expect(decided.book).toMatchObject({ fate: null, fateLocked: false });
  });

  test('an agreed treatment stays as it was when the survey goes on, and says that it has', async () => {
    const { book } = await put('Old Roads');
    const finding = { bookId: book.id, part: 'joints', damage: 'split', severity: 3, count: 2, note: '' } as const;
    const surveyed = await client.shelf.addFinding(finding);
    expect(surveyed.book.stage).toBe('surveyed');
    const agreed = await client.shelf.agree({ id: book.id });
    expect(agreed.book.stage).toBe('agreed');
    const more = await client.shelf.addFinding({ ...finding, part: 'spine', damage: 'missing' });
    expect(more.agreed?.steps).toEqual(agreed.agreed?.steps);
    expect(more.agreed?.current).toBe(false);
    expect(more.proposal.steps.map(({ operationId }) => operationId)).not.toEqual(
      agreed.proposal.steps.map(({ operationId }) => operationId),
    );
  });

  test('a fate said by a person is locked until they unlock it', async () => {
    const { book } = await put('Tithe Maps');
    expect((await client.shelf.save({ id: book.id, patch: { fate: 'restore' } })).book.fateLocked).toBe(true);
    expect((await client.shelf.save({ id: book.id, patch: { fateLocked: false } })).book).toMatchObject({
      fate: 'restore',
      fateLocked: false,
    });
    expect((await client.shelf.save({ id: book.id, patch: { fate: null } })).book.fateLocked).toBe(false);
  });

  test('many books change in one step and go back in one', async () => {
    const books = [await put('One'), await put('Two'), await put('Three')];
    const ids = books.map(({ book }) => book.id);
    await client.shelf.saveMany({ ids, patch: { place: 'Loft', stage: 'surveyed' } });
    const [loft] = await client.shelf.places();
    expect(loft).toMatchObject({ name: 'Loft', books: 3 });
    expect(await client.workshop.undo()).toEqual({ label: 'Change the stage and place of 3 books' });
    expect(await client.shelf.places()).toEqual([]);
    expect((await client.shelf.book({ id: ids[0] ?? '' })).book.stage).toBe('waiting');
  });

  test('a removed book takes its survey with it, and undo brings both back', async () => {
    const { book } = await put('Short Stay');
    await client.shelf.addFinding({
      bookId: book.id,
      part: 'spine',
      damage: 'torn',
      severity: 2,
      count: null,
      note: '',
    });
    expect(await client.shelf.remove({ ids: [book.id] })).toEqual({ removed: 1 });
    expect(await titles()).toEqual([]);
    expect((await refusal(client.shelf.book({ id: book.id }))).sentence).toMatch(
      /^This book is no longer on the shelf/,
    );
    await client.workshop.undo();
    expect((await client.shelf.book({ id: book.id })).findings).toMatchObject([{ part: 'spine', damage: 'torn' }]);
  });

  test('what cannot be is refused at its field, in words', async () => {
    const one = await put('First', { shelfMark: 'A1' });
    const two = await put('Second');
    const save = (patch: object) => refusal(client.shelf.save({ id: two.book.id, patch }));
    expect(await save({ shelfMark: 'A1' })).toEqual({
      sentence: 'The shelf mark “A1” is already taken by “First”.',
      field: 'shelfMark',
    });
    expect(await save({ heightMm: -3 })).toEqual({
      sentence: 'A measure must be more than nothing.',
      field: 'patch.heightMm',
    });
    expect(await save({ heightMm: 22_500 })).toMatchObject({ sentence: expect.stringContaining('another unit') });
    expect(await save({ title: '' })).toMatchObject({ sentence: expect.stringMatching(/^A book needs a title/) });
    expect(
      (await client.shelf.save({ id: two.book.id, patch: { title: 'x'.repeat(10_000) } })).book.title,
    ).toHaveLength(10_000);
    expect((await client.shelf.save({ id: two.book.id, patch: { shelfMark: '  ' } })).book.shelfMark).toBeNull();
    expect(one.book.shelfMark).toBe('A1');
  });
});
