/** Queries of what a person measured or chose otherwise than a book's size and binding give. */
import { eq, inArray } from 'drizzle-orm';
import { type KeptMeasures, typedMm } from '../../core/trade/own-case.ts';
import { measure } from './schema.ts';
import type { Reader } from './workshop.ts';

type KeptRow = typeof measure.$inferSelect;

export function keptRows(db: Reader, bookId: string): readonly KeptRow[] {
  return db.select().from(measure).where(eq(measure.bookId, bookId)).all();
}

/** What was kept of a book, as a person would type it, by scope and field. */
export function keptMeasures(db: Reader, bookId: string): KeptMeasures {
  return keptOf(keptRows(db, bookId));
}

/** The same for many books at once; a book nothing was kept for is left out. */
export function keptByBook(db: Reader, bookIds: readonly string[]): ReadonlyMap<string, KeptMeasures> {
  const rows = db.select().from(measure).where(inArray(measure.bookId, bookIds)).all();
  return new Map([...Map.groupBy(rows, (row) => row.bookId)].map(([bookId, own]) => [bookId, keptOf(own)]));
}

function keptOf(rows: readonly KeptRow[]): KeptMeasures {
  const kept: Record<string, Record<string, string>> = {};
  for (const { calculation, field, lengthUm, words } of rows) {
    kept[calculation] = { ...kept[calculation], [field]: lengthUm === null ? (words ?? '') : typedMm(lengthUm / 1000) };
  }
  return kept;
}
