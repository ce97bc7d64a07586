/** The one derived table: what core says of each book, kept beside it so that a long shelf can be put in order by the file itself. */
import { sql } from 'drizzle-orm';
import { assess, defaultWeights, rulesVersion } from '../../core/triage/priority.ts';
import { readSurveyed } from './books.ts';
import { effortOf, forgetPublished } from './effort.ts';
import { libraryOf, libraryStamp } from './operations.ts';
import { assessment } from './schema.ts';
import type { Derived, Reader } from './workshop.ts';

export function keepAssessments(db: Reader) {
  return {
    /** Works out these books anew. */
    assessBooks(bookIds: readonly string[], derived: Derived): void {
      forgetPublished(db, bookIds);
      const effort = effortOf(db);
      const library = libraryOf(db);
      const rules = rulesOf(db);
      // Weights come in where the shelf is put in order: what is kept here does not depend on them.
      for (const { book, findings, hazards, kept } of readSurveyed(db, bookIds)) {
        const found = assess(book, findings, hazards, defaultWeights, effort, kept, library);
        // Nothing is asked of a settled book: with parts of nothing its score is 0 under any weights.
        const parts = found.priority.settled === null ? found.priority.parts : [];
        const part = (name: string) => parts.find((one) => one.name === name)?.value ?? 0;
        derived.put(assessment, {
          bookId: book.id,
          significance: part('significance'),
          decay: part('decay'),
          use: part('use'),
          benefit: part('benefit'),
          minutesLow: found.minutes.low,
          minutesLikely: found.minutes.likely,
          minutesHigh: found.minutes.high,
          waitMinutes: found.waitMinutes,
          level: found.level,
          suggestedFate: found.suggestedFate,
          reasons: found.reasons,
          hazardOpen: found.hazardOpen,
          operations: found.operations,
          rules,
        });
      }
    },
    /** By what assessments are made now. */
    rules: () => rulesOf(db),
    /** Books never assessed, or by an earlier version of the rules or of the bench's operations. */
    outdated(): readonly string[] {
      return db
        .values<[string]>(
          sql`SELECT b.id FROM book b LEFT JOIN assessment a ON a.book_id = b.id
              WHERE a.book_id IS NULL OR a.rules <> ${rulesOf(db)}`,
        )
        .map(([id]) => id);
    },
  };
}

/** By what an assessment was made: the version of the rules, and above the thousands the state of the workshop's own operations. */
function rulesOf(db: Reader): number {
  return rulesVersion + 1000 * libraryStamp(db);
}
