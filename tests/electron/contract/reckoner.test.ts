import { describe, expect, test } from 'vitest';
import { calculations } from '../../../core/trade/reckoner.ts';
import { createWorkshop } from '../../../electron/store/workshop.ts';
import { readPdfPages } from '../print/pdf-paths.ts';
import { testDesk } from '../test-desk.ts';
import { ask, ways } from './ways.ts';

async function started(way: (typeof ways)[number]) {
  const desk = testDesk();
  const made = createWorkshop(desk.suggestedFolder, { name: 'Yard', timeZone: 'Europe/London', currency: 'GBP' });
  if (!made.ok) throw new Error(made.refusal.sentence);
  desk.place.workshop = made.value;
  const client = await ask(way, desk);
  const { book } = await client.shelf.create({
    title: 'Ferns of the North Combe',
    heightMm: 196,
    widthMm: 128,
    thicknessMm: 34,
    binding: 'half leather',
  });
  return { client, bookId: book.id };
}

async function refused(asked: Promise<unknown>) {
  const error = await asked.then(
    () => new Error('answered'),
    (thrown: unknown) => thrown as Error & { data?: { field?: string } },
  );
  return { sentence: error.message, field: 'data' in error ? error.data?.field : undefined };
}

describe.each(ways)('the Reckoner asked by %s', (way) => {
  test('keeps what a book differs in as one change, and undo takes it back', async () => {
    const { client, bookId } = await started(way);
    const keep = (typed: Record<string, string>, calculation = 'case') =>
      client.reckoner.keep({ bookId, calculation, typed });
    expect(await client.reckoner.kept({ bookId })).toEqual({});
    expect(await keep({ square: '1/4 in', style: 'quarter' })).toEqual({
      covers: { square: '6.35 mm', style: 'quarter' },
    });
    // What holds for the case holds for its linings.
    expect(await keep({ overlap: '50 mm', layers: '2' }, 'linings')).toEqual({
      covers: { square: '6.35 mm', style: 'quarter', overlap: '50 mm', layers: '2' },
    });
    await client.workshop.undo();
    expect(await client.reckoner.kept({ bookId })).toEqual({ covers: { square: '6.35 mm', style: 'quarter' } });
    await client.workshop.redo();
    // Emptied, or as the book has it anyway: kept no longer.
    expect(await keep({ square: '', style: 'half' })).toEqual({ covers: { overlap: '50 mm', layers: '2' } });
    expect(await keep({ supports: '4' }, 'stations')).toMatchObject({ stations: { supports: '4' } });
  });

  test('a removed book takes its measures along, and undo brings both back', async () => {
    const { client, bookId } = await started(way);
    await client.reckoner.keep({ bookId, calculation: 'case', typed: { square: '5 mm' } });
    await client.shelf.remove({ ids: [bookId] });
    expect((await refused(client.reckoner.kept({ bookId }))).sentence).toMatch(/no longer on the shelf/);
    await client.workshop.undo();
    expect(await client.reckoner.kept({ bookId })).toEqual({ covers: { square: '5 mm' } });
  });

  test('refuses what no binder would cut, at its field, and keeps nothing of it', async () => {
    const { client, bookId } = await started(way);
    const keep = (typed: Record<string, string>, calculation = 'case') =>
      refused(client.reckoner.keep({ bookId, calculation, typed }));
    expect(await keep({ joint: '200 mm', square: '3 mm' })).toMatchObject({ field: 'joint' });
    expect(await keep({ board: 'thick' })).toMatchObject({ field: 'board' });
    expect(await keep({ style: 'baroque' })).toMatchObject({ field: 'style' });
    expect(await keep({ colour: 'red' })).toMatchObject({ field: 'colour' });
    expect((await keep({}, 'alchemy')).sentence).toMatch(/no such calculation/);
    expect(await client.reckoner.kept({ bookId })).toEqual({});
  });

  test('prints every drawing there is as sheets, and says where nothing is drawn', async () => {
    const { client, bookId } = await started(way);
    const print = (calculation: string, typed = {}) =>
      client.reckoner.print({ calculation, typed, paper: 'A4', bookId });
    const drawn = calculations.filter((one) => {
      const answer = one.reckon({}, { unit: 'mm' });
      return answer.ok && answer.value.drawing !== undefined;
    });
    expect(drawn.length).toBeGreaterThan(9);
    for (const { id } of way === 'direct call' ? drawn : drawn.slice(0, 1)) {
      const { fileName, mediaType, base64 } = await print(id);
      expect([fileName, mediaType]).toEqual([`${id}.pdf`, 'application/pdf']);
      const pages = readPdfPages(Buffer.from(base64, 'base64'));
      expect(pages.length).toBeGreaterThan(0);
      for (const page of pages) expect(page.paths.length).toBeGreaterThan(10);
    }
    expect((await refused(print('lettering'))).sentence).toMatch(/widths of the letter/);
    const glyphs = { widths: Object.fromEntries([...'FERNS '].map((sign) => [sign, 0.6])), capHeight: 0.7 };
    const lettered = { calculation: 'lettering', typed: { title: 'FERNS' }, paper: 'Letter', glyphs } as const;
    expect((await client.reckoner.print(lettered)).fileName).toBe('lettering.pdf');
    expect((await refused(print('gold'))).sentence).toMatch(/Nothing is drawn/);
    expect(await refused(print('case', { height: 'tall' }))).toMatchObject({ field: 'height' });
  });
});
