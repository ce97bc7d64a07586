import { describe, expect, test } from 'vitest';
import type { MaterialInput } from '../../../core/contract/stockroom.ts';
import { calculationsOn } from '../../../core/trade/book-measures.ts';
import { testDesk } from '../test-desk.ts';
import { ask, type Client } from './ways.ts';

const board: MaterialInput = {
  name: 'Greyboard 2 mm',
  kind: 'greyboard',
  unit: 'sheet',
  packQuantity: 10,
  packPriceMinor: 2400,
  supplier: '',
  leadDays: 3,
  shelfLifeDays: null,
  sheetHeightMm: 1000,
  sheetWidthMm: 700,
  grain: 'long',
  caliperMm: 2,
  colour: '',
  place: '',
  note: '',
};

/** A book whose boards are gone and to which a new case was agreed, and board in the cupboard. */
async function agreedToCase() {
  const desk = testDesk();
  const client = await ask('direct call', desk);
  await client.workshop.create({ folder: desk.suggestedFolder, name: 'Alder Yard' });
  const { id: materialId } = await client.stockroom.saveMaterial(board);
  const size = { heightMm: 196, widthMm: 128, thicknessMm: 34 };
  const { book } = await client.shelf.create({ title: 'Ferns', ...size, binding: 'cloth case', fate: 'restore' });
  await client.shelf.addFinding({
    bookId: book.id,
    part: 'boards',
    damage: 'missing',
    severity: 3,
    count: 2,
    note: '',
  });
  await client.shelf.agree({ id: book.id });
  return { client, bookId: book.id, materialId };
}

/** The boards of the book's case in every place that speaks of them. */
async function boardsIn(client: Client, bookId: string, materialId: string) {
  const { book, proposal } = await client.shelf.book({ id: bookId });
  const drawn = calculationsOn(book, await client.reckoner.kept({ bookId })).find(
    ({ calculation }) => calculation.id === 'case',
  );
  const answer = drawn?.calculation.reckon(drawn.typed, { unit: 'mm' });
  if (!answer?.ok) throw new Error('the case is drawn');
  const piece = answer.value.pieces.find(({ part }) => part === 'boards')!;
  const need = proposal.steps.flatMap(({ needs }) => needs).find(({ cut }) => cut?.what === 'boards')!;
  const part = (await client.offcuts.cutList()).find(({ what }) => what === 'boards')!;
  const { promises } = await client.stockroom.material({ id: materialId });
  return {
    drawn: [piece.heightMm, piece.widthMm],
    proposed: [need.cut!.heightMm, need.cut!.widthMm],
    listed: [part.heightMm, part.widthMm],
    promised: promises[0]!.quantity,
  };
}

describe('one plan, all the way through', () => {
  test('a square kept for a book is the square of its drawing, its treatment, its cut list and what the cupboard promises', async () => {
    const { client, bookId, materialId } = await agreedToCase();
    const before = await boardsIn(client, bookId, materialId);
    await client.reckoner.keep({ bookId, calculation: 'case', typed: { height: '190 mm', square: '6 mm' } });
    const after = await boardsIn(client, bookId, materialId);
    expect(after.drawn[0]).toBe(202);
    for (const place of [before, after]) {
      for (const side of [0, 1]) {
        expect(place.proposed[side]).toBe(Math.round(place.drawn[side]! * 10) / 10);
        expect(place.listed[side]).toBe(place.proposed[side]);
      }
    }
    // Larger boards are fewer to the sheet.
    expect(after.promised).toBeGreaterThan(before.promised);
    await client.workshop.undo();
    expect(await boardsIn(client, bookId, materialId)).toEqual(before);
  });

  test('a book measured anew is cut anew, though its treatment was agreed before', async () => {
    const { client, bookId, materialId } = await agreedToCase();
    const before = await boardsIn(client, bookId, materialId);
    await client.shelf.save({ id: bookId, patch: { heightMm: 226 } });
    const after = await boardsIn(client, bookId, materialId);
    for (const place of ['drawn', 'proposed', 'listed'] as const) {
      expect(after[place][0]! - before[place][0]!).toBeCloseTo(30, 1);
    }
    expect(after.promised).toBeGreaterThan(before.promised);
  });

  test('what was cut for a book is promised to it no longer, before its step is finished, and again once the cut is undone', async () => {
    const { client, materialId } = await agreedToCase();
    await client.stockroom.addMovement({ materialId, kind: 'in', quantity: 5, reason: '' });
    const boardsPromised = async () => {
      const { promises, onHand } = await client.stockroom.material({ id: materialId });
      return { promised: promises.reduce((sum, { quantity }) => sum + quantity, 0), onHand };
    };
    const before = await boardsPromised();
    const parts = (await client.offcuts.cutList()).filter(({ kind }) => kind === 'greyboard');
    const half = parts.map(({ book: _, kind: __, ...part }) => ({ ...part, count: part.count / 2 }));
    const settings = { kerfMm: 0, trimMm: 0, usefulMm: 40, mostTurns: null };
    const plan = async () =>
      client.offcuts.acceptCut({
        planId: (await client.offcuts.planCut({ kind: 'greyboard', parts: half, leave: [], ...settings })).planId,
      });
    expect(await plan()).toMatchObject({ pieces: 1 });
    const between = await boardsPromised();
    expect(between.onHand).toBe(4);
    expect(between.promised).toBeCloseTo(before.promised / 2, 6);
    await plan();
    expect((await boardsPromised()).promised).toBe(0);
    await client.workshop.undo();
    await client.workshop.undo();
    expect(await boardsPromised()).toEqual(before);
  });
});
