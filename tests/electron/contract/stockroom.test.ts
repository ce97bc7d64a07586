import { describe, expect, test } from 'vitest';
import type { MaterialInput } from '../../../core/contract/stockroom.ts';
import { readSurveyed } from '../../../electron/store/books.ts';
import { remainingSteps } from '../../../electron/store/remaining.ts';
import { book, plan, planTask } from '../../../electron/store/schema.ts';
import { putBooksOnShelf } from '../../journeys/books.ts';
import { readPdfWords } from '../print/pdf-text.ts';
import { type TestDesk, testDesk, testNow } from '../test-desk.ts';
import { ask, type Client, type Way, ways } from './ways.ts';

const day = 86_400_000;

const mull: MaterialInput = {
  name: 'Mull, starched',
  kind: 'mull',
  unit: 'm',
  packQuantity: 5,
  packPriceMinor: 2150,
  supplier: 'Fennimore & Cray (invented)',
  leadDays: 2,
  shelfLifeDays: null,
  sheetHeightMm: null,
  sheetWidthMm: 1000,
  grain: null,
  caliperMm: null,
  colour: '',
  place: 'Cupboard, top',
  note: '=HYPERLINK("http://example.com")',
};

/** An empty workshop with one material in it. */
async function withMull(way: Way) {
  const desk = testDesk();
  const client = await ask(way, desk);
  await client.workshop.create({ folder: desk.suggestedFolder, name: 'Alder Yard' });
  const { id } = await client.stockroom.saveMaterial(mull);
  return { desk, client, id };
}

/** What a question was refused with; fails when it was answered. */
async function refusal(asked: Promise<unknown>) {
  const error = await asked.then(
    () => 'it was answered',
    (reason: unknown) => reason,
  );
  expect(error).toMatchObject({ code: 'REFUSED', defined: true });
  return error as Error & { data: { field?: string } };
}

async function lineOf(client: Client, id: string) {
  const { lines } = await client.stockroom.list();
  return lines.find(({ material }) => material.id === id)!;
}

/** Plans the hand-work of one book for a day of this week, as the Bench would. */
function planBook(desk: TestDesk, title: string, daysAhead: number): void {
  const store = desk.place.workshop!;
  const found = store.db
    .select()
    .from(book)
    .all()
    .find((row) => row.title === title)!;
  const steps = remainingSteps(store.db, readSurveyed(store.db, [found.id])[0]!);
  const done = store.write('Plan the week', (change) => {
    const planId = change.insert(plan, { kind: 'week', startsOn: '2026-05-04', madeAt: testNow, seed: 1, quality: {} });
    for (const [position, step] of steps.entries()) {
      const startAt = testNow + daysAhead * day + position;
      const rest = { label: step.name, kind: 'hands', tools: [], waitsFor: '', state: 'planned' };
      const { operationId } = step;
      change.insert(planTask, {
        planId,
        bookId: found.id,
        operationId,
        position,
        startAt,
        endAt: startAt + 1,
        ...rest,
      });
    }
  });
  expect(done.ok).toBe(true);
}

const book1 = 'The Tidewater Almanack';

describe.each(ways)('the stockroom asked by %s', (way) => {
  test('keeps a ledger whose sum is on hand, and answers a wrong line with another', async () => {
    const { client, id } = await withMull(way);
    const { stockroom } = client;
    await stockroom.addMovement({ materialId: id, kind: 'in', quantity: 3.5, reason: 'Opening' });
    const out = await stockroom.addMovement({ materialId: id, kind: 'out', quantity: 0.1, reason: '' });
    expect(out).toEqual({ onHand: 3.4, words: '3.4 m of Mull, starched on hand.' });
    await stockroom.addMovement({ materialId: id, kind: 'counted', quantity: 3, reason: 'A remnant was given away' });

    const { ledger } = await stockroom.material({ id });
    expect(ledger.map(({ kind, quantity, balance }) => [kind, quantity, balance])).toEqual([
      ['counted', -0.4, 3],
      ['out', -0.1, 3.4],
      ['in', 3.5, 3.5],
    ]);
    const wrong = ledger[1]!;
    expect((await refusal(stockroom.answerMovement({ movementId: wrong.id, reason: ' ' }))).data.field).toBe('reason');
    expect((await stockroom.answerMovement({ movementId: wrong.id, reason: 'Never cut' })).onHand).toBe(3.1);
    expect((await refusal(stockroom.answerMovement({ movementId: wrong.id, reason: 'Again' }))).message).toContain(
      'answered already',
    );
    const after = await stockroom.material({ id });
    expect(after.ledger).toHaveLength(4);
    expect(after.ledger.find((line) => line.id === wrong.id)).toMatchObject({ quantity: -0.1, closed: true });
    await client.workshop.undo();
    expect((await lineOf(client, id)).onHand).toBe(3);
  });

  test('names the book that finds too little and the day, orders, receives in part, and has enough', async () => {
    const { desk, client, id } = await withMull(way);
    putBooksOnShelf(desk);
    planBook(desk, book1, 3);
    const asked = await client.stockroom.material({ id });
    expect(asked.promises.map(({ purpose, date, title }) => [purpose, date, title])).toEqual([
      ['week', '2026-05-07', book1],
    ]);
    const [promise] = asked.promises;
    expect(asked.promised.week).toBeCloseTo(promise!.quantity, 5);
    expect(promise!.working).toContain('across the 1000 mm roll');
    expect(asked.cover).toMatchObject({ state: 'order', days: 3 });
    expect(asked.cover.sentence).toMatch(/^On Thu 7 May “The Tidewater Almanack” .* too little. Order by Mon 4 May\.$/);
    expect(asked.series[3]!.balance).toBeCloseTo(-promise!.quantity, 6);

    const list = await client.stockroom.orders();
    expect(list.suppliers).toHaveLength(1);
    expect(list.suppliers[0]).toMatchObject({ supplier: mull.supplier, orderBy: '2026-05-04', costMinor: 2150 });
    await client.stockroom.placeOrder({ lines: [{ materialId: id, packs: 1 }] });
    const waiting = await lineOf(client, id);
    expect(waiting).toMatchObject({ arriving: 5, advice: null, cover: { state: 'lasts' } });
    const { arriving } = await client.stockroom.orders();
    expect(arriving).toMatchObject([{ materialId: id, quantity: 5, dueOn: '2026-05-06', overdue: false }]);

    await client.stockroom.receive({ arrivalId: arriving[0]!.id, quantity: 2, restComing: true });
    expect(await lineOf(client, id)).toMatchObject({ onHand: 2, arriving: 3 });
    const again = await refusal(
      client.stockroom.receive({ arrivalId: arriving[0]!.id, quantity: 2, restComing: true }),
    );
    expect(again.data.field).toBe('arrivalId');
    const rest = (await client.stockroom.orders()).arriving[0]!;
    await client.stockroom.cancelOrder({ arrivalId: rest.id });
    expect(await lineOf(client, id)).toMatchObject({ onHand: 2, arriving: 0 });
  });

  test('counts what is agreed and has no day as promised to treatments, and a finished step as gone until it is booked out', async () => {
    const { desk, client, id } = await withMull(way);
    putBooksOnShelf(desk);
    const store = desk.place.workshop!;
    const { id: bookId } = store.db
      .select()
      .from(book)
      .all()
      .find((row) => row.title === book1)!;
    await client.shelf.agree({ id: bookId });
    const agreed = await lineOf(client, id);
    expect(agreed.promised.treatments).toBeGreaterThan(0);
    expect(agreed.promised.week).toBe(0);
    expect(agreed.cover).toMatchObject({ state: 'later', days: null });

    planBook(desk, book1, 1);
    const planned = await lineOf(client, id);
    expect(planned.promised).toMatchObject({ week: agreed.promised.treatments, treatments: 0 });
    store.write('Finish all', (change) => {
      for (const task of store.db.select().from(planTask).all()) {
        change.update(planTask, task.id, { state: 'finished', finishedAt: testNow });
      }
    });
    const finished = await lineOf(client, id);
    expect(finished.promised).toMatchObject({ week: agreed.promised.treatments, treatments: 0 });
    expect(finished.onHand).toBe(0);
    const uses = await client.daybook.uses();
    const asked = uses.map(({ bookId, operationId, finishedAt, lines }) => ({
      ...{ bookId, operationId, finishedAt, note: 'The roll was counted too short' },
      lines: lines.map(({ materialId, quantity }) => ({ materialId, quantity })),
    }));
    await client.daybook.bookUses({ uses: asked });
    const booked = await lineOf(client, id);
    expect(booked.promised).toMatchObject({ week: 0, treatments: 0 });
    expect(booked.onHand).toBeCloseTo(-agreed.promised.treatments, 6);
    expect((await refusal(client.daybook.bookUses({ uses: asked }))).message).toContain('booked out once');
    expect(await client.daybook.uses()).toEqual([]);
    await client.workshop.undo();
    expect((await lineOf(client, id)).onHand).toBe(0);
    expect(await client.daybook.uses()).toEqual(uses);
  });

  test('keeps what came in as lots, takes the first to expire first unless one is picked, and knows what each cost', async () => {
    const { client } = await withMull(way);
    const { stockroom } = client;
    const { id } = await stockroom.saveMaterial({
      ...mull,
      ...{ name: 'Methylcellulose', kind: 'methylcellulose', unit: 'g', sheetWidthMm: null, packQuantity: 100 },
      ...{ packPriceMinor: 1000, shelfLifeDays: 90, hazardSheet: 'https://example.com/mc.pdf' },
    });
    const put = (quantity: number, number: string, bestBefore?: string, costMinor?: number) =>
      stockroom.addMovement({
        ...{ materialId: id, kind: 'in', quantity, reason: '' },
        came: { number, ...(bestBefore ? { bestBefore } : {}), ...(costMinor === undefined ? {} : { costMinor }) },
      });
    await put(100, 'B 1');
    await put(50, 'B 2', '2026-05-10', 900);
    const out = (quantity: number, lotId?: string) =>
      stockroom.addMovement({ materialId: id, kind: 'out', quantity, reason: '', ...(lotId ? { lotId } : {}) });
    await out(20);
    const first = await stockroom.material({ id });
    const lots = (detail: typeof first) => detail.lots.map((lot) => [lot.number, lot.quantity, lot.bestBefore]);
    expect(lots(first)).toEqual([
      ['B 2', 30, '2026-05-10'],
      ['B 1', 100, '2026-08-02'],
    ]);
    expect(first.prices[0]).toMatchObject({ kind: 'paid', unitPriceMinor: 18, quantity: 50 });
    expect((await stockroom.list()).expiring).toMatchObject([
      { name: 'Methylcellulose', number: 'B 2', keeping: 'soon' },
    ]);
    await out(10, first.lots[1]!.id!);
    await out(40);
    expect(lots(await stockroom.material({ id }))).toEqual([['B 1', 80, '2026-08-02']]);
    expect((await refusal(out(90, first.lots[1]!.id!))).data.field).toBe('reason');

    // A count of all sets lots right from the first to expire; a correction goes back into its lot.
    await stockroom.addMovement({ materialId: id, kind: 'counted', quantity: 75, reason: 'Damp' });
    const { ledger } = await stockroom.material({ id });
    await stockroom.answerMovement({ movementId: ledger[0]!.id, reason: 'Not damp' });
    const after = await stockroom.material({ id });
    expect(lots(after)).toEqual([['B 1', 80, '2026-08-02']]);
    expect(after.ledger[0]).toMatchObject({ answers: ledger[0]!.at, lot: 'of 4 May 2026, no. B 1' });
    const bad = { ...mull, name: 'Bad', hazardSheet: 'http://example.com' };
    expect((await refusal(stockroom.saveMaterial(bad))).data.field).toBe('hazardSheet');
    const csv = await stockroom.exportCsv({ table: 'lots' });
    expect(Buffer.from(csv.base64, 'base64').toString()).toContain('B 1');
    const sheet = await stockroom.printCount();
    expect(sheet.fileName).toBe('count-2026-05-04.pdf');
    if (way === 'direct call') {
      const words = readPdfWords(Buffer.from(sheet.base64, 'base64')).pages.join(' ');
      for (const figure of ['Methylcellulose', 'no. B 1', '80 g']) expect(words).toContain(figure);
    }
  });

  test('makes a batch of ingredients in balance, and says what would do where something runs short', async () => {
    const { desk, client, id } = await withMull(way);
    const { stockroom } = client;
    const dry: MaterialInput = {
      ...mull,
      ...{ unit: 'g', sheetWidthMm: null, packQuantity: 500, packPriceMinor: 500 },
    };
    const starch = await stockroom.saveMaterial({ ...dry, name: 'Starch', kind: 'wheat starch' });
    const paste = await stockroom.saveMaterial({ ...dry, name: 'Paste', kind: 'paste' });
    await stockroom.addMovement({
      materialId: starch.id,
      kind: 'in',
      quantity: 100,
      reason: '',
      came: { costMinor: 200 },
    });
    const ingredients = [{ materialId: starch.id, quantity: 40 }];
    await stockroom.saveRecipe({ materialId: paste.id, yield: 240, keepsDays: 7, note: 'One to five', ingredients });
    const made = await stockroom.makeBatch({ materialId: paste.id, made: 200, ingredients, reason: '', number: '' });
    expect(made.onHand).toBe(200);
    const detail = await stockroom.material({ id: paste.id });
    expect(detail.lots).toMatchObject([{ quantity: 200, bestBefore: '2026-05-11', costMinor: 80, note: 'Made here' }]);
    expect((await lineOf(client, starch.id)).onHand).toBe(60);
    const enough = { materialId: paste.id, made: 900, ingredients: [{ materialId: starch.id, quantity: 61 }] };
    expect((await refusal(stockroom.makeBatch({ ...enough, reason: '', number: '' }))).data.field).toBe('reason');
    // Answering one line of a batch answers all of it.
    await stockroom.answerMovement({ movementId: detail.ledger[0]!.id, reason: 'It burned and was never kept' });
    expect((await lineOf(client, starch.id)).onHand).toBe(100);
    expect((await lineOf(client, paste.id)).onHand).toBe(0);

    putBooksOnShelf(desk);
    planBook(desk, book1, 3);
    const other = await stockroom.saveMaterial({ ...mull, name: 'Mull, unstarched', kind: 'aero cotton' });
    await stockroom.addMovement({ materialId: other.id, kind: 'in', quantity: 2, reason: '' });
    await stockroom.saveSubstitutes({ materialId: id, substitutes: [{ materialId: other.id, note: 'Dip it first' }] });
    expect((await lineOf(client, id)).substitutes).toMatchObject([{ name: 'Mull, unstarched', onHand: 2 }]);
    const terms = {
      name: mull.supplier,
      postageMinor: 600,
      freeFromMinor: 6000,
      minimumMinor: 3000,
      leadDays: 5,
      note: '',
    };
    await stockroom.saveSupplier(terms);
    const { suppliers } = await stockroom.orders();
    expect(suppliers[0]).toMatchObject({ terms, parcels: [{ goodsMinor: 2150, postageMinor: 600 }] });
    expect(suppliers[0]?.parcels[0]?.words[0]).toMatch(/^The minimum order is €30.00: €8.50 is lacking/);
    await stockroom.addQuote({
      ...{ materialId: id, on: '2026-05-01', packQuantity: 5 },
      packPriceMinor: 1900,
      supplier: 'Elsewhere',
      note: '',
    });
    expect((await stockroom.material({ id })).prices).toMatchObject([
      { on: '2026-05-04', kind: 'quoted', costMinor: 2150 },
      { on: '2026-05-01', kind: 'quoted', costMinor: 1900, supplier: 'Elsewhere' },
    ]);
  });

  test.each([
    [{ packQuantity: -5 }, 'packQuantity', 'A pack must hold something'],
    [{ unit: 'yard' }, 'unit', 'Choose one of the units sheet, m, g, ml, piece.'],
    [{ kind: 'velvet' }, 'kind', 'Choose one of the kinds'],
    [{ packPriceMinor: -1 }, 'packPriceMinor', 'cannot be negative'],
    [{ leadDays: -2 }, 'leadDays', 'before it is ordered'],
    [{ name: '  ' }, 'name', 'Give the material a name'],
    [{ name: mull.name }, 'name', 'already'],
    [{ sheetWidthMm: null }, 'sheetWidthMm', 'width'],
    [{ sheetWidthMm: 0 }, 'sheetWidthMm', 'above zero'],
  ])('refuses a material with %j at its %s', async (wrong, field, words) => {
    const { client } = await withMull(way);
    const saved = client.stockroom.saveMaterial({ ...mull, name: 'Another', ...wrong } as MaterialInput);
    const error = await refusal(saved);
    expect(error.data.field).toBe(field);
    expect(error.message).toContain(words);
    expect((await client.stockroom.list()).lines).toHaveLength(1);
  });

  test('refuses to count a kept ledger in another unit, to take what is not there unasked, and orders into the past', async () => {
    const { client, id } = await withMull(way);
    const { stockroom } = client;
    await stockroom.addMovement({ materialId: id, kind: 'in', quantity: 1, reason: '' });
    expect((await refusal(stockroom.saveMaterial({ ...mull, id, unit: 'g' }))).data.field).toBe('unit');
    const over = await refusal(stockroom.addMovement({ materialId: id, kind: 'out', quantity: 2, reason: '' }));
    expect(over.data.field).toBe('reason');
    expect(over.message).toContain('holds only 1 m');
    const wrongKind = stockroom.addMovement({ materialId: id, kind: 'lost' as never, quantity: 2, reason: '' });
    expect((await refusal(wrongKind)).data.field).toBe('kind');
    const nothing = await refusal(stockroom.placeOrder({ lines: [{ materialId: id, packs: 0 }] }));
    expect(nothing.message).toContain('one pack at least');
    const past = stockroom.placeOrder({ lines: [{ materialId: id, packs: 1 }], dueOn: '2026-05-03' });
    expect((await refusal(past)).data.field).toBe('dueOn');
    expect((await refusal(stockroom.printOrders())).message).toContain('nothing to order');
    expect((await refusal(stockroom.material({ id: 'nobody' }))).message).toContain('no longer in the cupboard');
  });

  test('hands out its tables with formulas made text, and the order list as a PDF', async () => {
    const { desk, client, id } = await withMull(way);
    putBooksOnShelf(desk);
    planBook(desk, book1, 3);
    await client.stockroom.addMovement({ materialId: id, kind: 'wasted', quantity: 0.25, reason: '=1+1' });
    const text = async (table: 'materials' | 'movements' | 'orders') => {
      const file = await client.stockroom.exportCsv({ table });
      expect(file).toMatchObject({ fileName: `${table}-2026-05-04.csv`, mediaType: 'text/csv' });
      return Buffer.from(file.base64, 'base64').toString('utf8');
    };
    expect(await text('materials')).toContain(`"'=HYPERLINK(""http://example.com"")"`);
    const movements = await text('movements');
    expect(movements).toContain(",wasted,,0.25,'-0.25,'=1+1,");
    expect((await text('orders')).split('\r\n')[1]).toContain(
      'Fennimore & Cray (invented),2026-05-04,"Mull, starched",1,5,m,2150,',
    );
    const sheet = await client.stockroom.printOrders();
    expect(sheet).toMatchObject({ fileName: 'orders-2026-05-04.pdf', mediaType: 'application/pdf' });
    const { pages, fonts } = readPdfWords(Buffer.from(sheet.base64, 'base64'));
    for (const words of ['Fennimore & Cray (invented)', 'Mull, starched', '21.50'])
      expect(pages.join(' ')).toContain(words);
    expect(fonts.every(({ embedded }) => embedded)).toBe(true);
  });
});
