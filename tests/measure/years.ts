/**
 * Twenty years of use, invented: `npm run -s measure -- years [--books 5000 --entries 200000 --movements 100000]`. Times are of the desk
 * itself, the median of five asks: opening the folder, the lists of the rooms, a change with its undo; and what the folder weighs.
 */
import { mkdtempSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { createRouterClient } from '@orpc/server';
import { assert } from '../../core/result.ts';
import { chanceFrom } from '../../core/schedule/random.ts';
import { operations } from '../../core/treatment/library.ts';
import { router } from '../../electron/desk/router.ts';
import { book, entry, material, movement } from '../../electron/store/schema.ts';
import { createWorkshop, openWorkshop, type Workshop } from '../../electron/store/workshop.ts';
import { closeDesk, makeDesk } from '../../electron/workplace.ts';
import { fillShelf } from './shelf-books.ts';

const year = 365.25 * 24 * 3600_000;
/** Rows a write: every write works the books it touches out anew. */
const batch = 50_000;

export async function measure(args: readonly string[]): Promise<void> {
  const { values } = parseArgs({
    args: [...args],
    options: {
      books: { type: 'string', default: '5000' },
      entries: { type: 'string', default: '200000' },
      movements: { type: 'string', default: '100000' },
      seed: { type: 'string', default: '1' },
    },
  });
  const [books, entries, movements, seed] = [values.books, values.entries, values.movements, values.seed].map(Number);
  if (![books, entries, movements, seed].every((count) => Number.isInteger(count) && (count as number) > 0)) {
    console.error(
      'Say whole numbers: npm run -s measure -- years --books 5000 --entries 200000 --movements 100000 [--seed 1]',
    );
    process.exitCode = 2;
    return;
  }
  const folder = mkdtempSync(join(tmpdir(), 'kettlestitch-years-'));
  const desk = makeDesk('browser', { state: join(folder, 'state'), home: folder });
  try {
    const place = join(folder, 'workshop');
    const made = createWorkshop(place, { name: 'Measured', timeZone: 'Europe/London', currency: 'GBP' });
    assert(made.ok, 'a workshop is made');
    fillShelf(made.value, books as number, seed as number);
    live(made.value, entries as number, movements as number, seed as number);
    made.value.close();

    const openMs = median(() => {
      const opened = openWorkshop(place);
      assert(opened.ok, 'the workshop opens');
      opened.value.close();
    });
    const opened = openWorkshop(place);
    assert(opened.ok, 'the workshop opens');
    desk.place.workshop = opened.value;
    const ask = createRouterClient(router, { context: desk });
    const [first] = (await ask.shelf.list({ words: '', filter: {}, sort: 'attention', offset: 0, limit: 1 })).rows;
    assert(first !== undefined, 'there is a book');
    const [kept] = (await ask.stockroom.list()).lines;
    const asks: Record<string, () => Promise<unknown>> = {
      shelfMs: () => ask.shelf.list({ words: '', filter: {}, sort: 'attention', offset: 0, limit: 100 }),
      findMs: () => ask.workshop.find({ words: 'orchard' }),
      bookMs: () => ask.shelf.book({ id: first.id }),
      dayBookMs: () => ask.daybook.list({ limit: 200 }),
      summaryOfYearMs: () => ask.daybook.summary({ from: '2025-01-01', to: '2025-12-31' }),
      stockroomMs: () => ask.stockroom.list(),
      materialMs: () => ask.stockroom.material({ id: kept?.material.id ?? '' }),
      ordersMs: () => ask.stockroom.orders(),
      historyMs: () => ask.workshop.history({ limit: 100 }),
      entryMs: () =>
        ask.daybook.add({ bookId: first.id, minutes: 12, note: 'sewing', operationId: operations[0]?.id ?? null }),
      changeMs: () => ask.shelf.save({ id: first.id, patch: { note: `At ${performance.now()}` } }),
      undoMs: () => ask.workshop.undo(),
    };
    const times: Record<string, number> = {};
    for (const [name, question] of Object.entries(asks)) times[name] = await medianOf(question);
    const megabytes = Math.round(statSync(join(place, 'workshop.sqlite')).size / 1e6);
    console.log(JSON.stringify({ books, entries, movements, seed, megabytes, openMs, ...times }));
  } finally {
    closeDesk(desk);
    rmSync(folder, { recursive: true, force: true });
  }
}

/** Minutes on books and materials in and out, spread over twenty years up to now. */
function live(store: Workshop, entries: number, movements: number, seed: number): void {
  const random = chanceFrom(seed);
  const ids = store.db
    .select({ id: book.id })
    .from(book)
    .all()
    .map(({ id }) => id);
  const done = operations.map(({ id }) => id);
  const began = Date.now() - 20 * year;
  const pick = <T>(list: readonly T[]): T => list[Math.floor(random() * list.length)] as T;
  const materials: string[] = [];
  write(store, (change) => {
    for (let n = 1; n <= 60; n++) {
      materials.push(
        change.insert(material, {
          name: `Material ${n}`,
          kind: pick(['mull', 'kraft paper', 'book cloth', 'thread', 'wheat starch']),
          unit: 'piece',
          packMillionths: 10_000_000,
          packPriceMinor: 1200,
          supplier: pick(['Ashdown', 'Birkett']),
          leadDays: 7,
          shelfLifeDays: null,
          sheetHeightUm: null,
          sheetWidthUm: null,
          grain: null,
          caliperUm: null,
          colour: '',
          place: '',
          note: '',
        }),
      );
    }
  });
  for (let from = 0; from < entries; from += batch) {
    write(store, (change) => {
      for (let n = from; n < Math.min(from + batch, entries); n++) {
        const at = Math.round(began + (n / entries) * 20 * year);
        const minutes = 5 + Math.floor(random() * 90);
        // Ten operations a book, four sittings each, book after book.
        const bookAt = Math.floor(n / 40) % ids.length;
        const operationId = done[(bookAt * 7 + Math.floor((n % 40) / 4)) % done.length] as string;
        change.insert(entry, { at, bookId: ids[bookAt] as string, operationId, minutes, note: '' });
      }
    });
  }
  for (let from = 0; from < movements; from += batch) {
    write(store, (change) => {
      for (let n = from; n < Math.min(from + batch, movements); n++) {
        const comesIn = n % 6 === 0;
        change.insert(movement, {
          materialId: materials[n % materials.length] as string,
          kind: comesIn ? 'in' : 'out',
          quantityMillionths: comesIn ? 6_000_000 : -1_000_000,
          at: Math.round(began + (n / movements) * 20 * year),
          reason: '',
          bookId: comesIn ? null : pick(ids),
        });
      }
    });
  }
}

function write(store: Workshop, change: Parameters<Workshop['write']>[1]): void {
  assert(store.write('Invent years', change).ok, 'the rows are kept');
}

function median(work: () => void): number {
  return middle(
    Array.from({ length: 5 }, () => {
      const started = performance.now();
      work();
      return performance.now() - started;
    }),
  );
}

async function medianOf(work: () => Promise<unknown>): Promise<number> {
  const times: number[] = [];
  for (let turn = 0; turn < 5; turn++) {
    const started = performance.now();
    await work();
    times.push(performance.now() - started);
  }
  return middle(times);
}

function middle(times: readonly number[]): number {
  return Math.round([...times].sort((one, other) => one - other)[Math.floor(times.length / 2)] as number);
}
