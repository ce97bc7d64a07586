/** Queries of what a person measured or chose otherwise than a book's size and binding give. */
import { eq } from 'drizzle-orm';
import { type KeptMeasures, typedMm } from '../../core/trade/book-measures.ts';
import { measure } from './schema.ts';
import type { Reader } from './workshop.ts';

export type KeptRow = typeof measure.$inferSelect;

export function keptRows(db: Reader, bookId: string): readonly KeptRow[] {
  return db.select().from(measure).where(eq(measure.bookId, bookId)).all();
}

/** What was kept of a book, as a person would type it, by scope and field. */
export function keptMeasures(db: Reader, bookId: string): KeptMeasures {
  const kept: Record<string, Record<string, string>> = {};
  for (const { calculation, field, lengthUm, words } of keptRows(db, bookId)) {
    kept[calculation] = { ...kept[calculation], [field]: lengthUm === null ? (words ?? '') : typedMm(lengthUm / 1000) };
  }
  return kept;
}
