/** The Day-book answers. */
import type { DayBook } from '../../core/contract/daybook.ts';
import { minutesByOperation } from '../../core/daybook/summary.ts';
import { printSummary } from '../print/daybook.ts';
import { printRecord } from '../print/record.ts';
import { listEntries } from '../store/daybook.ts';
import { readHabits } from '../store/habits.ts';
import { libraryOf } from '../store/operations.ts';
import { findAnything } from '../store/search.ts';
import { addEntry, correctEntry } from './daybook-entries.ts';
import { exportSummary, readSummary, usedLines } from './daybook-summary.ts';
import { bookUses, pendingUses } from './daybook-uses.ts';
import { answer, inWorkshop } from './desk.ts';
import { readToday } from './stockroom-figures.ts';

const { daybook: room } = inWorkshop;

/** So many lines of the ledger are shown beside the entries; all of them are in the ledger's CSV. */
const mostUsed = 1000;

export const daybook = {
  list: room.list.handler(({ input, context }): DayBook => {
    const found = listEntries(context.store.db, input.bookId, input.limit + 1);
    const entries = found.slice(0, input.limit);
    const oldest = entries.at(-1)?.at ?? 0;
    const used = usedLines(context.store, {
      from: found.length > input.limit ? oldest : 0,
      to: Number.MAX_SAFE_INTEGER,
    });
    const times = entries.map((one) => ({ ...one, minutes: one.minutes ?? 0, isAnswer: one.answers !== null }));
    return {
      entries,
      more: found.length > input.limit,
      byOperation: minutesByOperation(times),
      used: used
        .filter(({ bookId }) => bookId !== null && (input.bookId === undefined || bookId === input.bookId))
        .slice(-mostUsed),
    };
  }),
  add: room.add.handler(({ input, context, errors }) =>
    answer(addEntry(context.store, input, readToday(context.store, context.now())), errors),
  ),
  correct: room.correct.handler(({ input, context, errors }) =>
    answer(correctEntry(context.store, input, readToday(context.store, context.now())), errors),
  ),
  uses: room.uses.handler(({ context }) => pendingUses(context.store, context.now())),
  bookUses: room.bookUses.handler(({ input, context, errors }) =>
    answer(bookUses(context.store, input.uses, context.now()), errors),
  ),
  operations: room.operations.handler(({ context }) =>
    libraryOf(context.store.db).operations.map(({ id, name }) => ({ id, name })),
  ),
  summary: room.summary.handler(({ input, context, errors }) => answer(readSummary(context.store, input), errors)),
  exportSummary: room.exportSummary.handler(({ input, context, errors }) =>
    answer(exportSummary(context.store, input), errors),
  ),
  printSummary: room.printSummary.handler(async ({ input, context, errors }) => {
    const { habits } = readHabits(context.store.db);
    return answer(await printSummary(answer(readSummary(context.store, input), errors), habits), errors);
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
