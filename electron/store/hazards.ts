/** Hazards as rows: raised by rule as soon as a book or its survey gives cause, and never taken away once a person has decided. */
import { and, eq } from 'drizzle-orm';
import { raiseHazards } from '../../core/book/hazards.ts';
import { readSurveyed } from './books.ts';
import { hazard } from './schema.ts';
import type { Change, Reader } from './workshop.ts';

/**
 * Brings the undecided hazards of these books in line with the rules, within a write that changed the books or their findings. What a
 * person confirmed or cleared stays.
 */
export function raiseHazardsOf(db: Reader, change: Change, bookIds: readonly string[]): void {
  for (const { book, findings, hazards } of readSurveyed(db, bookIds)) {
    const due = raiseHazards(book, findings);
    for (const raised of due) {
      if (!hazards.some(({ kind }) => kind === raised.kind)) change.insert(hazard, { bookId: book.id, ...raised });
    }
    for (const { kind, state } of hazards) {
      if (state !== 'raised' || due.some((raised) => raised.kind === kind)) continue;
      const row = db
        .select({ id: hazard.id })
        .from(hazard)
        .where(and(eq(hazard.bookId, book.id), eq(hazard.kind, kind)))
        .get();
      if (row) change.remove(hazard, row.id);
    }
  }
}
