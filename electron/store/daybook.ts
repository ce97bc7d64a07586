/** Queries of the Day-book. */
import { desc, eq } from 'drizzle-orm';
import type { DayEntry } from '../../core/contract/daybook.ts';
import { operationById } from '../../core/treatment/library.ts';
import { book, entry } from './schema.ts';
import type { Reader } from './workshop.ts';

/** The newest entries first, of one book or of all. */
export function listEntries(db: Reader, bookId: string | undefined, limit: number): readonly DayEntry[] {
  return db
    .select({ entry, title: book.title })
    .from(entry)
    .leftJoin(book, eq(book.id, entry.bookId))
    .where(bookId === undefined ? undefined : eq(entry.bookId, bookId))
    .orderBy(desc(entry.at), desc(entry.id))
    .limit(limit)
    .all()
    .map(({ entry: row, title }) => ({
      id: row.id,
      at: row.at,
      bookId: row.bookId,
      book: title,
      operationId: row.operationId,
      operation: row.operationId === null ? null : (operationById(row.operationId)?.name ?? row.operationId),
      minutes: row.minutes,
      note: row.note,
    }));
}
