import { describe, expect, test } from 'vitest';
import { readPdfWords } from '../print/pdf-text.ts';
import { testDesk } from '../test-desk.ts';
import { ask, ways } from './ways.ts';

async function shelf(way: (typeof ways)[number]) {
  const desk = testDesk();
  const client = await ask(way, desk);
  await client.workshop.create({ folder: desk.suggestedFolder, name: 'Elm Yard' });
  const refused = async (asked: Promise<unknown>) => ((await asked.catch((thrown: Error) => thrown)) as Error).message;
  return { client, refused };
}

describe.each(ways)('the shelves asked for by %s', (way) => {
  test('keep views by name, places as a tree, and lots with what each book cost', async () => {
    const { client, refused } = await shelf(way);
    const query = { words: 'ferns', filter: { fate: 'restore' as const }, sort: 'title' as const };
    const view = await client.shelving.saveView({ name: 'Ferns', query, columns: ['place', 'fate'] });
    await client.shelving.saveView({ name: 'Ferns', query, columns: ['fate'] });
    expect(await client.shelving.views()).toEqual([{ ...view, columns: ['fate'] }]);

    const one = await client.shelf.create({ title: 'Ferns', place: 'Back room › Case 2', lot: 'Attic sale' });
    await client.shelf.create({ title: 'Mosses', place: 'Back room', lot: 'Attic sale' });
    const tree = async () => new Map((await client.shelving.places()).map((node) => [node.name, node]));
    const before = await tree();
    expect(before.get('Back room')).toMatchObject({ books: 1, within: 2 });
    const room = before.get('Back room')?.id ?? '';
    const box = before.get('Case 2')?.id ?? '';
    expect(await refused(client.shelving.savePlace({ id: room, parentId: box }))).toMatch(/cannot be put into itself/);
    expect(await refused(client.shelving.removePlace({ id: room }))).toMatch(/still in this place/);
    await client.shelving.savePlace({ id: box, parentId: null, name: 'Crate' });
    expect((await client.shelf.book({ id: one.book.id })).place).toBe('Crate');
    expect(await refused(client.shelving.addPlace({ parentId: null, name: 'crate' }))).toMatch(/there already/);
    await client.workshop.undo();
    expect((await client.shelf.book({ id: one.book.id })).place).toBe('Back room › Case 2');

    const [lot] = await client.shelving.lots();
    expect(lot).toMatchObject({ books: 2, costMinor: null, perBookMinor: null });
    const saved = await client.shelving.saveLot({ id: lot?.id ?? '', costMinor: 1250, acquiredOn: '2026-03-04' });
    expect(saved).toMatchObject({ perBookMinor: 625, acquiredOn: '2026-03-04' });
    expect(await refused(client.shelving.removeLot({ id: lot?.id ?? '' }))).toMatch(/still in this lot/);
  });
});

describe('the shelf', () => {
  test('is searched by findings, hazards, lots and places as well, every word somewhere', async () => {
    const { client } = await shelf('direct call');
    const { book } = await client.shelf.create({ title: 'Ferns', place: 'Back room › Case 2', lot: 'Attic sale' });
    await client.shelf.create({ title: 'Mosses', place: 'Loft' });
    await client.shelf.addFinding({
      bookId: book.id,
      part: 'joints',
      damage: 'split',
      severity: 2,
      count: null,
      note: '100% gone at the head',
    });
    const titles = async (words: string) =>
      (await client.shelf.list({ words, filter: {}, sort: 'title', offset: 0, limit: 9 })).rows.map(
        ({ title }) => title,
      );
    for (const words of ['joints spl', 'attic', 'case ferns', 'back split', '100%', 'head']) {
      expect(await titles(words), words).toEqual(['Ferns']);
    }
    expect(await titles('loft')).toEqual(['Mosses']);
    expect(await titles('loft split')).toEqual([]);
    expect(await titles('a%__')).toEqual([]);
    await client.shelf.save({ id: book.id, patch: { place: 'Loft' } });
    expect(await titles('loft')).toEqual(['Ferns', 'Mosses']);
  });

  test('prints a label a book on the grid asked for, from the first free label on, and refuses labels too small', async () => {
    const { client, refused } = await shelf('direct call');
    const ids: string[] = [];
    for (const mark of ['A1', 'A2', 'A3'])
      ids.push((await client.shelf.create({ title: 'Ferns', shelfMark: mark })).book.id);
    const grid = { rows: 2, columns: 2, topMm: 10, leftMm: 10, gapDownMm: 0, gapAcrossMm: 0, used: 3 };
    const file = await client.shelving.labels({ ids, address: 'http://127.0.0.1:8765/', grid });
    const { pages } = readPdfWords(Buffer.from(file.base64, 'base64'));
    // Three labels are used: one is left on the first sheet.
    expect(pages.map((page) => ['A1', 'A2', 'A3'].filter((mark) => page.includes(mark)))).toEqual([
      ['A1'],
      ['A2', 'A3'],
    ]);
    const tiny = { ...grid, rows: 30, columns: 12, used: 0 };
    expect(await refused(client.shelving.labels({ ids, address: 'http://127.0.0.1:8765', grid: tiny }))).toMatch(
      /too small/,
    );
  });
});
