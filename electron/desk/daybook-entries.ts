/** Entries of the day-book a person writes. None is ever changed: what was wrong is taken back by another, and what is right stands beside it. */
import { eq } from 'drizzle-orm';
import { Temporal } from 'temporal-polyfill';
import type { DayEntry } from '../../core/contract/daybook.ts';
import { ok, type Result, refuse } from '../../core/result.ts';
import { dayName } from '../../core/stock/cover.ts';
import { readSurveyed } from '../store/books.ts';
import { readHabits } from '../store/habits.ts';
import { libraryOf } from '../store/operations.ts';
import { entry } from '../store/schema.ts';
import type { Workshop } from '../store/workshop.ts';
import type { Today } from './stockroom-needs.ts';

type Written = Readonly<{
  bookId: string | null;
  minutes: number | null;
  note: string;
  on?: string | undefined;
  operationId?: string | null | undefined;
}>;

export function addEntry(store: Workshop, input: Written, today: Today): Result<DayEntry> {
  const { bookId, minutes, note, on = today.date, operationId = null } = input;
  if (on > today.date) return refuse('This day has not come yet.', 'on');
  const operation = operationId === null ? undefined : libraryOf(store.db).byId(operationId);
  if (operationId !== null && operation === undefined) return refuse('Choose an operation of the list.', 'operationId');
  const at = on === today.date ? today.now : noonOf(store, on);
  const saved = store.write(`Write in the day-book: ${note.slice(0, 60)}`, (change) =>
    change.insert(entry, { at, bookId, operationId, minutes, note }),
  );
  if (!saved.ok) return saved;
  const title = bookId === null ? null : (readSurveyed(store.db, [bookId])[0]?.book.title ?? null);
  const name = operation?.name ?? null;
  const kept = { id: saved.value, at, bookId, book: title, operationId, operation: name, minutes, note };
  return ok({ ...kept, answers: null, corrected: false });
}

/** What was done on an earlier day stands at its noon. */
function noonOf(store: Workshop, on: string): number {
  const { timeZone } = readHabits(store.db).habits;
  return Temporal.PlainDate.from(on).toZonedDateTime({ timeZone, plainTime: '12:00' }).epochMilliseconds;
}

type Correction = Readonly<{ entryId: string; reason: string; minutes?: number | null | undefined }>;

/** Takes an entry back by one with its minutes the other way, on its day; with `minutes`, writes it again with those. */
export function correctEntry(store: Workshop, input: Correction, today: Today): Result<Readonly<{ words: string }>> {
  const reason = input.reason.trim();
  if (reason === '') return refuse('Say what was wrong with it.', 'reason');
  const wrong = store.db.select().from(entry).where(eq(entry.id, input.entryId)).get();
  if (wrong === undefined) return refuse('This entry is not in the day-book any more.', 'entryId');
  if (wrong.answers !== null) return refuse('This entry itself corrects another. Write what is right anew.', 'entryId');
  const answered = store.db.select().from(entry).where(eq(entry.answers, wrong.id)).get();
  if (answered !== undefined) return refuse('This entry has been corrected already.', 'entryId');
  const { id, minutes, answers: _, ...same } = wrong;
  const day = dayName(today.date).slice(4);
  const back = minutes === null ? null : 0 - minutes;
  const written = store.write('Correct the day-book', (change) => {
    change.insert(entry, { ...same, minutes: back, note: `${reason} (corrected ${day})`, answers: id });
    if (input.minutes !== undefined) change.insert(entry, { ...same, minutes: input.minutes });
  });
  return written.ok ? ok({ words: 'Corrected; both stand in the day-book.' }) : written;
}
