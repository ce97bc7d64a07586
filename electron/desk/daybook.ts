/** The Day-book answers. */
import type { DayBook, DayEntry } from '../../core/contract/daybook.ts';
import { printRecord } from '../print/record.ts';
import { readSurveyed } from '../store/books.ts';
import { listEntries } from '../store/daybook.ts';
import { entry } from '../store/schema.ts';
import { findAnything } from '../store/search.ts';
import { answer, inWorkshop } from './desk.ts';

const { daybook: room } = inWorkshop;

export const daybook = {
  list: room.list.handler(({ input, context }): DayBook => {
    const found = listEntries(context.store.db, input.bookId, input.limit + 1);
    const entries = found.slice(0, input.limit);
    return { entries, more: found.length > input.limit, byOperation: sums(entries) };
  }),
  add: room.add.handler(({ input, context, errors }) => {
    const { db } = context.store;
    const at = context.now();
    const saved = context.store.write(`Write in the day-book: ${input.note.slice(0, 60)}`, (change) =>
      change.insert(entry, { at, bookId: input.bookId, operationId: null, minutes: input.minutes, note: input.note }),
    );
    const id = answer(saved, errors);
    const title = input.bookId === null ? null : (readSurveyed(db, [input.bookId])[0]?.book.title ?? null);
    return { id, at, ...input, book: title, operationId: null, operation: null };
  }),
  books: room.books.handler(({ input, context }) =>
    findAnything(context.store.db, input.words)
      .filter((found) => found.kind === 'book')
      .map(({ id, title }) => ({ id, title })),
  ),
  printRecord: room.printRecord.handler(async ({ input, context, errors }) =>
    answer(await printRecord(context.store, input.bookId), errors),
  ),
};

function sums(entries: readonly DayEntry[]): DayBook['byOperation'] {
  const sum = new Map<string, { operation: string; minutes: number; times: number }>();
  for (const { operation, minutes } of entries) {
    if (minutes === null || minutes === 0) continue;
    const name = operation ?? 'other';
    const before = sum.get(name) ?? { operation: name, minutes: 0, times: 0 };
    sum.set(name, { operation: name, minutes: before.minutes + minutes, times: before.times + 1 });
  }
  return [...sum.values()].sort((a, b) => b.minutes - a.minutes);
}
