import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { MaterialInput } from '../../../core/contract/stockroom.ts';
import { drawOf } from '../../../core/stock/demand.ts';
import { readSurveyed } from '../../../electron/store/books.ts';
import { remainingSteps } from '../../../electron/store/remaining.ts';
import { book, movement, plan, planTask, stockLot } from '../../../electron/store/schema.ts';
import { listStocked } from '../../../electron/store/stockroom.ts';
import { putBooksOnShelf } from '../../journeys/books.ts';
import { readPdfWords } from '../print/pdf-text.ts';
import { type TestDesk, testDesk, testNow } from '../test-desk.ts';
import { ask, type Client, type Way, ways } from './ways.ts';

const hour = 3_600_000;
const monday = '2026-05-04';

const bare: MaterialInput = {
  ...{ name: '', kind: 'mull', unit: 'm', packQuantity: 5, packPriceMinor: 2000, supplier: 'Invented & Sons' },
  ...{ leadDays: 3, shelfLifeDays: null, sheetHeightMm: null, sheetWidthMm: 1000, grain: null, caliperMm: null },
  ...{ colour: '', place: '', note: '' },
};

/** A cupboard with something of most kinds, and the hand-work of one book planned for this week. */
async function benchAndCupboard(way: Way, title: string) {
  const desk = testDesk();
  const client = await ask(way, desk);
  await client.workshop.create({ folder: desk.suggestedFolder, name: 'Alder Yard' });
  putBooksOnShelf(desk);
  const store = desk.place.workshop!;
  const [found] = await client.daybook.books({ words: title });
  const bookId = found!.id;
  await client.shelf.agree({ id: bookId });
  const steps = remainingSteps(store.db, readSurveyed(store.db, [bookId])[0]!);
  const kinds = new Set(steps.flatMap(({ needs }) => needs.map(({ kind }) => kind)));
  const unitOf = (kind: MaterialInput['kind']) =>
    steps.flatMap(({ needs }) => needs).find((need) => need.kind === kind)!.unit;
  for (const kind of kinds) {
    const unit = unitOf(kind);
    const area = unit === 'm2';
    const { id } = await client.stockroom.saveMaterial({
      ...bare,
      ...{ name: `Some ${kind}`, kind, unit: area ? 'm' : unit, sheetWidthMm: area || unit === 'm' ? 1000 : null },
    });
    const came = { costMinor: 3000, number: 'A 1' };
    await client.stockroom.addMovement({ materialId: id, kind: 'in', quantity: 40, reason: '', came });
  }
  const tasks: string[] = [];
  store.write('Plan the week', (change) => {
    const planId = change.insert(plan, { kind: 'week', startsOn: monday, madeAt: testNow, seed: 1, quality: {} });
    for (const [position, step] of steps.entries()) {
      const startAt = testNow + position * hour;
      const rest = { label: step.name, kind: 'hands', tools: [], waitsFor: '', state: 'planned' };
      const task = { planId, bookId, operationId: step.operationId, position, startAt, endAt: startAt + hour, ...rest };
      tasks.push(change.insert(planTask, task));
    }
  });
  return { desk, client, bookId, steps, tasks, store };
}

async function refusal(asked: Promise<unknown>) {
  const error = await asked.then(
    () => 'it was answered',
    (reason: unknown) => reason,
  );
  expect(error).toMatchObject({ code: 'REFUSED', defined: true });
  return error as Error & { data: { field?: string } };
}

/** On hand and promised of every material, as the page shows them. */
async function balances(client: Client) {
  const { lines } = await client.stockroom.list();
  return lines.map(({ material, onHand, promised }) => [material.name, onHand, promised] as const);
}

describe.each(ways)('the day-book asked by %s', (way) => {
  test('proposes what a finished step used, books it out once with its lot, and undo gives all of it back', async () => {
    const { desk, client, bookId, tasks, steps } = await benchAndCupboard(way, 'The Tidewater Almanack');
    const before = await balances(client);
    expect(await client.daybook.uses()).toEqual([]);
    await client.bench.mark({ taskId: tasks[0]!, action: 'start' });
    desk.clock.now += 40 * 60_000;
    await client.bench.mark({ taskId: tasks[0]!, action: 'finish' });

    // Finished and not yet booked out: still promised, so that nobody counts on it.
    const finished = await balances(client);
    expect(finished.map(([, onHand]) => onHand)).toEqual(before.map(([, onHand]) => onHand));
    const sum = (rows: typeof before) => rows.reduce((all, [, , { week }]) => all + week, 0);
    expect(sum(finished)).toBeCloseTo(sum(before), 5);
    const [use] = await client.daybook.uses();
    expect(use).toMatchObject({ bookId, operation: steps[0]!.name, remarks: [] });
    expect(use!.lines.length).toBeGreaterThan(0);

    const planned = use!.lines.map(({ materialId, quantity }) => ({ materialId, quantity }));
    const { operationId, finishedAt } = use!;
    const asked = { bookId, operationId, finishedAt, lines: planned, note: '' };
    const [first] = planned;
    const tooMuch = { ...asked, lines: [{ ...first!, quantity: 41 }] };
    expect((await refusal(client.daybook.bookUses({ uses: [tooMuch] }))).data.field).toBe('uses.0.lines.0');
    expect(await client.daybook.bookUses({ uses: [asked] })).toMatchObject({ booked: 1 });
    const booked = await balances(client);
    expect(sum(booked)).toBeLessThan(sum(finished));
    expect((await refusal(client.daybook.bookUses({ uses: [asked] }))).message).toContain('booked out once');
    expect((await refusal(client.daybook.bookUses({ uses: [asked, asked] }))).message).toContain('booked out once');

    const { used, entries } = await client.daybook.list({ limit: 50 });
    expect(used.map(({ quantity, lot }) => [quantity, lot])).toEqual(
      planned.map(({ quantity }) => [quantity, 'of 4 May 2026, no. A 1']),
    );
    expect(used[0]!.costMinor).toBeCloseTo((used[0]!.quantity * 3000) / 40, 6);
    expect(entries[0]).toMatchObject({ minutes: 40, answers: null, corrected: false });
    // A line of it that was wrong is answered from the day-book as from the ledger.
    await client.stockroom.answerMovement({ movementId: used[0]!.movementId, reason: 'It was the other roll' });
    expect((await client.daybook.list({ limit: 50 })).used.reduce((all, line) => all + line.quantity, 0)).toBeCloseTo(
      planned.slice(1).reduce((all, line) => all + line.quantity, 0),
      6,
    );
    await client.workshop.undo();
    await client.workshop.undo();
    expect(await balances(client)).toEqual(finished);
    expect(await client.daybook.uses()).toEqual([use]);
    await client.workshop.undo();
    expect(await balances(client)).toEqual(before);
    expect(await client.daybook.uses()).toEqual([]);
  });

  test('takes an entry back by another, writes time on its day, and adds the period up on the page, in CSV and on paper', async () => {
    const { desk, client, bookId, steps, tasks, store } = await benchAndCupboard(way, 'Ferns of the North Combe');
    const { daybook } = client;
    const { operationId, minutes } = steps[0]!;
    await client.bench.mark({ taskId: tasks[0]!, action: 'start' });
    await client.bench.mark({ taskId: tasks[0]!, action: 'finish', minutes: 2 * Math.round(minutes.likely) });
    const typed = await daybook.add({ bookId, minutes: 90, note: 'Talked it over', on: '2026-05-01' });
    expect((await refusal(daybook.add({ bookId, minutes: 9, note: 'x', on: '2026-05-05' }))).data.field).toBe('on');
    await daybook.add({ bookId: null, minutes: 20, note: 'Sharpened knives', operationId: null });
    await daybook.correct({ entryId: typed.id, reason: 'It was half an hour', minutes: 30 });
    expect((await refusal(daybook.correct({ entryId: typed.id, reason: 'Again' }))).message).toContain('already');
    const { entries } = await daybook.list({ limit: 50 });
    const answer = entries.find(({ answers }) => answers === typed.id)!;
    expect(answer).toMatchObject({ minutes: -90, at: typed.at, corrected: false });
    expect((await refusal(daybook.correct({ entryId: answer.id, reason: 'No' }))).message).toContain('itself corrects');
    expect(entries.find(({ id }) => id === typed.id)).toMatchObject({ minutes: 90, corrected: true });

    const [use] = await daybook.uses();
    const lines = use!.lines.map(({ materialId, quantity }) => ({ materialId, quantity }));
    await daybook.bookUses({ uses: [{ bookId, operationId, finishedAt: use!.finishedAt, lines, note: '' }] });
    const period = { from: '2026-05-01', to: monday };
    const summary = await daybook.summary(period);
    const likely = Math.round(minutes.likely);
    expect(summary).toMatchObject({
      minutes: 2 * likely + 30 + 20,
      byDay: [
        { day: '2026-05-01', minutes: 30 },
        { day: monday, minutes: 2 * likely + 20 },
      ],
      estimates: [{ operation: steps[0]!.name, n: 1, actualMinutes: 2 * likely }],
      finished: [],
    });
    expect(summary.estimates[0]!.ratio).toBeCloseTo((2 * likely) / minutes.likely, 9);
    expect(summary.materialsMinor).toBe(
      Math.round(lines.reduce((sum, { quantity }) => sum + (quantity * 3000) / 40, 0)),
    );
    expect(summary.byBook.map(({ minutes }) => minutes)).toEqual([2 * likely + 30, 20]);
    expect((await daybook.summary({ from: '2026-05-02', to: '2026-05-03' })).minutes).toBe(0);
    expect((await refusal(daybook.summary({ from: monday, to: '2026-05-01' }))).data.field).toBe('to');
    const csv = Buffer.from((await daybook.exportSummary(period)).base64, 'base64').toString();
    expect(csv).toContain(`in all,labour,${summary.minutes}`);
    if (way === 'direct call') {
      const { base64 } = await daybook.printSummary(period);
      const printed = readPdfWords(Buffer.from(base64, 'base64'));
      const words = printed.pages.join(' ');
      for (const row of summary.byOperation) expect(words).toContain(row.operation);
      for (const row of summary.materials) expect(words).toContain(row.material);
      expect(words).toContain(summary.estimates[0]!.ratio.toFixed(2));
      expect(words).toContain(`€${(summary.materialsMinor / 100).toFixed(2)}`);
      expect(printed.fonts.every(({ embedded }) => embedded)).toBe(true);
    }
    store.write('Finish all', (change) => {
      for (const id of tasks) change.update(planTask, id, { state: 'finished', finishedAt: desk.now() });
      change.update(book, bookId, { stage: 'done' });
    });
    expect((await daybook.summary(period)).finished).toEqual([
      { bookId, book: 'Ferns of the North Combe', on: monday },
    ]);
    expect((await daybook.operations()).length).toBeGreaterThan(40);
  });
});

describe('a cupboard through any history', () => {
  const act = fc.record({
    what: fc.constantFrom('in', 'out', 'wasted', 'counted', 'lot out', 'answer', 'batch', 'order', 'undo', 'redo'),
    quantity: fc.integer({ min: 0, max: 60 }),
    reason: fc.constantFrom('', 'spilt'),
    pick: fc.nat(1000),
  });

  test('has on hand the sum of its ledger and of its lots, nothing below nothing without a reason, and undo restores it (seed 61)', async () => {
    const desk = testDesk();
    const client = await ask('direct call', desk);
    await client.workshop.create({ folder: desk.suggestedFolder, name: 'Alder Yard' });
    const grams = { ...bare, unit: 'g', sheetWidthMm: null, shelfLifeDays: 40 } as const;
    const { id: starch } = await client.stockroom.saveMaterial({ ...grams, name: 'Starch', kind: 'wheat starch' });
    const { id: paste } = await client.stockroom.saveMaterial({ ...grams, name: 'Paste', kind: 'paste' });
    const ingredients = [{ materialId: starch, quantity: 40 }];
    await client.stockroom.saveRecipe({ materialId: paste, yield: 200, keepsDays: 5, note: '', ingredients });
    await fc.assert(
      fc.asyncProperty(fc.array(act, { minLength: 4, maxLength: 14 }), async (acts) => {
        for (const one of acts) {
          desk.clock.now += 7 * hour;
          const before = laws(desk, [starch, paste]);
          const undo = (await client.workshop.status()).undo;
          const done = await enact(client, one, starch, paste).then(
            () => true,
            (error: Error & { code?: string }) => {
              if (error.code !== 'REFUSED') throw error;
              return false;
            },
          );
          const after = laws(desk, [starch, paste]);
          if (!done) expect(after).toEqual(before);
          else if (one.what !== 'undo' && one.what !== 'redo') {
            for (const [id, onHand] of after) {
              // Into less than nothing only with a reason beside it; an answer always has one.
              if (onHand < 0 && onHand < before.get(id)!) expect(`${one.what} ${one.reason}`).toMatch(/answer|spilt/);
            }
            if ((await client.workshop.status()).undo !== undo) {
              await client.workshop.undo();
              expect(laws(desk, [starch, paste])).toEqual(before);
              await client.workshop.redo();
              expect(laws(desk, [starch, paste])).toEqual(after);
            }
          }
        }
      }),
      { seed: 61, numRuns: 8 },
    );
  });
});

async function enact(
  { stockroom, workshop }: Client,
  { what, quantity, reason, pick }: Readonly<{ what: string; quantity: number; reason: string; pick: number }>,
  starch: string,
  paste: string,
): Promise<unknown> {
  const materialId = pick % 3 === 0 ? paste : starch;
  switch (what) {
    case 'in':
    case 'out':
    case 'wasted':
    case 'counted':
      return stockroom.addMovement({ materialId, kind: what, quantity, reason });
    case 'lot out': {
      const named = (await stockroom.material({ id: materialId })).lots.filter(({ id }) => id !== null);
      const lot = named[pick % Math.max(1, named.length)];
      if (!lot) return null;
      return stockroom.addMovement({ materialId, kind: 'out', quantity, reason, lotId: lot.id! });
    }
    case 'answer': {
      const { ledger } = await stockroom.material({ id: materialId });
      const open = ledger.filter(({ closed }) => !closed);
      const wrong = open[pick % Math.max(1, open.length)];
      return wrong ? stockroom.answerMovement({ movementId: wrong.id, reason: 'Entered twice' }) : null;
    }
    case 'batch': {
      const ingredients = [{ materialId: starch, quantity: quantity + 1 }];
      return stockroom.makeBatch({ materialId: paste, made: 5 * quantity + 5, ingredients, reason, number: '' });
    }
    case 'order': {
      await stockroom.placeOrder({ lines: [{ materialId, packs: 1 + (pick % 3) }] });
      const { arrivals } = await stockroom.material({ id: materialId });
      return stockroom.receive({ arrivalId: arrivals[0]!.id, quantity: quantity + 1, restComing: pick % 2 === 0 });
    }
    default:
      return what === 'undo' ? workshop.undo() : workshop.redo();
  }
}

/** What stands of each material by its lines, after making sure that the lines, the lots and the batches agree. */
function laws(desk: TestDesk, materialIds: readonly string[]): ReadonlyMap<string, number> {
  const { db } = desk.place.workshop!;
  const rows = db.select().from(movement).all();
  expect(rows.every(({ quantityMillionths }) => Number.isSafeInteger(quantityMillionths))).toBe(true);
  const sum = (some: typeof rows) => some.reduce((all, row) => all + row.quantityMillionths, 0);
  const shown = new Map(listStocked(db).map(({ material, onHandMillionths }) => [material.id, onHandMillionths]));
  for (const lot of db.select().from(stockLot).all()) {
    const own = rows.filter((row) => row.lotId === lot.id);
    expect(own.every((row) => row.materialId === lot.materialId)).toBe(true);
    // A batch is in balance: all that went in is answered, or what came of it is there.
    const went = rows.filter((row) => row.madeLotId === lot.id);
    if (went.length > 0) expect(sum(went) === 0).toBe(sum(own.filter(({ kind }) => kind === 'in')) === 0);
  }
  return new Map(
    materialIds.map((id) => {
      const own = rows.filter((row) => row.materialId === id);
      const byLot = [...Map.groupBy(own, (row) => row.lotId).values()].map(sum);
      expect(byLot.reduce((all, one) => all + one, 0)).toBe(sum(own));
      expect(shown.get(id)).toBe(sum(own));
      return [id, sum(own)];
    }),
  );
}

test('what finished and planned steps are promised is what they need, whichever are finished and booked out (seed 62)', async () => {
  const { desk, client, steps, tasks, store, bookId } = await benchAndCupboard('direct call', 'Nine Winters at Sea');
  const shelf = listStocked(store.db).map((row) => ({ material: row.material, onHand: row.onHandMillionths / 1e6 }));
  const needOf = (some: typeof steps) => {
    const sums = new Map(shelf.map(({ material }) => [material.id, 0]));
    for (const { draw } of some.flatMap(({ needs }) => needs.map((need) => drawOf(need, shelf)))) {
      if (draw) sums.set(draw.materialId, sums.get(draw.materialId)! + draw.quantity);
    }
    return sums;
  };
  const drawn = (step: (typeof steps)[number]) => [...needOf([step])].filter(([, quantity]) => quantity > 0);
  const marks = fc.array(fc.constantFrom('planned', 'finished', 'booked'), {
    minLength: steps.length,
    maxLength: steps.length,
  });
  await fc.assert(
    fc.asyncProperty(marks, async (states) => {
      const finished = store.write('Finish some', (change) => {
        for (const [at, id] of tasks.entries()) {
          const done = states[at] !== 'planned';
          change.update(planTask, id, { state: done ? 'finished' : 'planned', finishedAt: done ? desk.now() : null });
        }
      });
      expect(finished.ok).toBe(true);
      const uses = steps.flatMap((step, at) => {
        if (states[at] !== 'booked' || step.needs.length === 0) return [];
        const lines = drawn(step).map(([materialId, quantity]) => ({ materialId, quantity }));
        return [{ bookId, operationId: step.operationId, finishedAt: desk.now(), lines, note: 'as planned' }];
      });
      if (uses.length > 0) await client.daybook.bookUses({ uses });
      const { lines } = await client.stockroom.list();
      const left = needOf(steps.filter((_, at) => states[at] !== 'booked'));
      const gone = needOf(steps.filter((_, at) => states[at] === 'booked'));
      for (const { material, onHand, promised } of lines) {
        expect(promised.week + promised.treatments).toBeCloseTo(left.get(material.id)!, 4);
        expect(onHand).toBeCloseTo(40 - gone.get(material.id)!, 4);
      }
      if (uses.length > 0) await client.workshop.undo();
    }),
    { seed: 62, numRuns: 8 },
  );
});
