import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { createWorkshop } from '../../../electron/store/workshop.ts';
import { inventList } from '../../../fixtures/demo/invent-list.ts';
import { inventedFields, iso2709 } from '../files/marc-records.ts';
import { testDesk } from '../test-desk.ts';
import { ask, type Client, ways } from './ways.ts';

const demoList = readFileSync(new URL('../../../fixtures/demo/shelf-list.csv', import.meta.url));

function openDesk() {
  const desk = testDesk();
  const made = createWorkshop(desk.suggestedFolder, { name: 'Yard', timeZone: 'Europe/London', currency: 'GBP' });
  if (!made.ok) throw new Error(made.refusal.sentence);
  desk.place.workshop = made.value;
  return { desk, store: made.value };
}

/** Looks at a file and gives what the next questions start from, as the page would with nothing changed. */
async function looked(client: Client, file: Uint8Array | string, fileName = 'shelf list.csv') {
  const found = await client.takein.look({ fileName, base64: Buffer.from(file).toString('base64') });
  const question = {
    token: found.token,
    mapping: found.columns.map(({ field }) => field),
    defaultUnit: found.defaultUnit,
    fixes: [] as { line: number; column: number; text: string }[],
    leave: [] as number[],
    skipDuplicates: true,
  };
  return { found, question };
}

describe.each(ways)('the demo list taken in by %s', (way) => {
  test('keeps the 212 good rows as one change, lists six, knows them again, and goes with one undo', async () => {
    const { desk, store } = openDesk();
    const client = await ask(way, desk);
    const { found, question } = await looked(client, demoList);
    expect(found).toMatchObject({ encoding: 'windows-1252', separator: ';', rows: 218, headings: true });
    expect(found.columns.every(({ sureness }) => sureness === 'sure')).toBe(true);

    const checked = await client.takein.check(question);
    expect(checked).toMatchObject({ good: 212, badTotal: 6, duplicatesTotal: 0 });
    expect(checked.bad.map(({ troubles }) => troubles.map(({ field }) => field))).toEqual([
      ['size'],
      ['shelf mark'],
      ['size'],
      ['date'],
      ['title'],
      ['size'],
    ]);
    const lines = new TextDecoder('windows-1252').decode(demoList).split('\r\n');
    for (const { line, cells } of checked.bad) expect(lines[line - 1]).toContain(cells.at(1));

    const taken = await client.takein.take(question);
    expect(taken).toEqual({
      added: 212,
      skipped: 0,
      left: 6,
      label: 'Take in 212 books from shelf list.csv',
    });
    const count = (table: string) => store.raw.prepare(`SELECT count(*) FROM ${table}`).pluck().get();
    expect(count('book')).toBe(212);
    expect(count('assessment')).toBe(212);
    expect(count('finding')).toBeGreaterThan(400);

    expect(await client.takein.check(question)).toMatchObject({ good: 0, badTotal: 6, duplicatesTotal: 212 });
    await expect(client.takein.take(question)).rejects.toMatchObject({ code: 'REFUSED' });

    expect(await client.workshop.undo()).toEqual({ label: taken.label });
    for (const table of ['book', 'finding', 'hazard', 'lot', 'place', 'assessment']) expect(count(table)).toBe(0);
  });
});

describe('a list', () => {
  async function open() {
    const { desk, store } = openDesk();
    return { client: await ask('direct call', desk), store };
  }

  test('of the demo is what its script invents', () => {
    expect(Buffer.from(inventList()).equals(demoList)).toBe(true);
  });

  test('with a bad row mended in place takes that row in as well', async () => {
    const { client, store } = await open();
    const { question } = await looked(client, 'Title;Size\nThe Drover;-225 x 143\nMosses;200 x 130');
    expect(await client.takein.check(question)).toMatchObject({ good: 1, badTotal: 1 });
    question.fixes.push({ line: 2, column: 1, text: '225 x 143' });
    expect(await client.takein.check(question)).toMatchObject({ good: 2, badTotal: 0 });
    await client.takein.take(question);
    expect(store.raw.prepare('SELECT height_um FROM book WHERE title = ?').pluck().get('The Drover')).toBe(225_000);
  });

  test('with a row left out takes in the others', async () => {
    const { client } = await open();
    const { question } = await looked(client, 'Title;Year\nThe Drover;9999\nMosses;1850');
    question.leave.push(2);
    expect(await client.takein.check(question)).toMatchObject({ good: 1, badTotal: 0 });
    expect(await client.takein.take(question)).toMatchObject({ added: 1, left: 1 });
  });

  test('gives its bad rows as a file that, mended, can be taken in again', async () => {
    const { client } = await open();
    const { question } = await looked(client, 'Title;Year;Note\nThe Drover;9999;=1+1\nMosses;1850;');
    const file = await client.takein.badRows(question);
    expect(file.fileName).toBe('shelf list to mend.csv');
    const text = Buffer.from(file.base64, 'base64').toString('utf8');
    expect(text).toContain("'=1+1");
    expect(text).toMatch(/Line;Reason/);
    const again = await looked(client, text.replace('9999', '1899'));
    expect(again.found.columns.map(({ field }) => field)).toEqual(['title', 'date', 'note', null, null]);
    const { preview } = await client.takein.check(again.question);
    expect(preview).toMatchObject([{ title: 'The Drover', date: '1899', note: '=1+1' }]);
  });

  test('with a quotation mark left open loses that row only, and says its line', async () => {
    const { client } = await open();
    const { question } = await looked(client, 'Title;Note\nThe Drover;"open\nMosses;x');
    const { good, bad } = await client.takein.check(question);
    expect(good).toBe(1);
    expect(bad).toMatchObject([{ line: 2, cells: ['The Drover', '"open'], troubles: [{ column: null }] }]);
    question.fixes.push({ line: 2, column: 1, text: 'open' });
    expect(await client.takein.check(question)).toMatchObject({ good: 2, badTotal: 0 });
  });

  test('makes the lots and places it names, once each, and uses those that are there', async () => {
    const { client, store } = await open();
    const first = await looked(client, 'Title;Lot;Place\na;Sale;Case 1 > Shelf 2\nb;sale;Case 1 > Shelf 3\nc;;');
    const checked = await client.takein.check(first.question);
    expect(checked).toMatchObject({ newLots: ['Sale'], newPlaces: ['Case 1 › Shelf 2', 'Case 1 › Shelf 3'] });
    await client.takein.take({ ...first.question, lotName: 'Odds', placeName: 'Floor' });
    const names = (table: string) => store.raw.prepare(`SELECT name FROM ${table} ORDER BY name`).pluck().all();
    expect(names('lot')).toEqual(['Odds', 'Sale']);
    expect(names('place')).toEqual(['Case 1', 'Floor', 'Shelf 2', 'Shelf 3']);
    const second = await looked(client, 'Title;Lot;Place\nd;SALE;Case 1>Shelf 2');
    expect(await client.takein.check(second.question)).toMatchObject({ newLots: [], newPlaces: [] });
  });

  test('with second copies wanted takes in all but those whose shelf mark is taken', async () => {
    const { client } = await open();
    const { question } = await looked(client, 'Mark;Title;Year\nA1;The Drover;1850\n;Mosses;1851');
    await client.takein.take(question);
    const again = { ...question, skipDuplicates: false };
    expect(await client.takein.check(again)).toMatchObject({ good: 1, badTotal: 1, duplicatesTotal: 0 });
    expect(await client.takein.take(again)).toMatchObject({ added: 1, skipped: 0, left: 1 });
  });

  test('keeps a title of 10,000 characters and a formula as the words they are', async () => {
    const { client, store } = await open();
    const title = 'A'.repeat(10_000);
    const { question } = await looked(client, `Title;Note\n${title};=HYPERLINK("x")`);
    await client.takein.take(question);
    expect(store.raw.prepare('SELECT title, note FROM book').get()).toEqual({ title, note: '=HYPERLINK("x")' });
  });

  test('of catalogue records takes the sound ones in with their measures, and lists the others by record', async () => {
    const { client, store } = await open();
    const cut = iso2709(inventedFields(3)).subarray(0, 200);
    const file = Buffer.concat([iso2709(inventedFields(1)), iso2709([]), iso2709(inventedFields(2)), cut]);
    const { found, question } = await looked(client, file, 'catalogue.mrc');
    expect(found).toMatchObject({ form: 'MARC 21', rows: 4 });
    expect(found.columns.every(({ sureness }) => sureness === 'sure')).toBe(true);
    expect(found.remarks.join()).toContain('rounded up');
    const checked = await client.takein.check(question);
    expect(checked).toMatchObject({ good: 2, badTotal: 2 });
    expect(checked.bad.map(({ line }) => line)).toEqual([2, 4]);
    question.fixes.push({ line: 4, column: 1, text: 'Read from the spine' });
    expect(await client.takein.take(question)).toMatchObject({ added: 3, left: 1 });
    const row = store.raw.prepare(
      'SELECT shelf_mark, height_um, pages, year_from, format FROM book WHERE shelf_mark = ?',
    );
    expect(row.get('SB 1')).toEqual({
      shelf_mark: 'SB 1',
      height_um: 180_000,
      pages: 113,
      year_from: 1841,
      format: '8vo',
    });
    await client.workshop.undo();
    expect(store.raw.prepare('SELECT count(*) FROM book').pluck().get()).toBe(0);
  });

  test.each([
    ['an empty file', '', 'The file is empty.'],
    ['headings and nothing below', 'Title;Year\n', 'no rows below'],
    ['a binary file', Uint8Array.from({ length: 4000 }, (_, index) => (index * index) % 251), 'not text'],
  ])('from %s is refused in a sentence, and nothing is kept', async (_, file, words) => {
    const { client, store } = await open();
    await expect(looked(client, file)).rejects.toMatchObject({
      code: 'REFUSED',
      message: expect.stringContaining(words),
    });
    expect(store.next().undo).toBeNull();
  });

  test('from a file over 20 MB is refused with its limit', async () => {
    const { client } = await open();
    const base64 = 'A'.repeat(28_000_000);
    await expect(client.takein.look({ fileName: 'x', base64 })).rejects.toMatchObject({
      code: 'REFUSED',
      message: expect.stringContaining('20 MB'),
    });
  });

  test('whose file is no longer held asks for it again', async () => {
    const { client } = await open();
    const { question } = await looked(client, 'Title\nx');
    await expect(client.takein.check({ ...question, token: 'gone' })).rejects.toMatchObject({
      code: 'REFUSED',
      message: expect.stringContaining('Choose it again'),
    });
  });
});
