/** What the day-book teaches about minutes, worked out again when an entry with minutes comes, goes or changes. */
import { inArray, sql } from 'drizzle-orm';
import { type Effort, formatKey, learnEffort, type Observation } from '../../core/treatment/effort.ts';
import type { Library } from '../../core/treatment/library.ts';
import { measuresOf } from '../../core/treatment/measures.ts';
import { stepOf } from '../../core/treatment/operation.ts';
import { propose } from '../../core/treatment/propose.ts';
import { readSurveyed, type Surveyed } from './books.ts';
import { epochOf } from './epoch.ts';
import { libraryOf, libraryStamp } from './operations.ts';
import { planTask } from './schema.ts';
import type { Reader } from './workshop.ts';

type Kept = {
  epoch: string;
  stamp: string;
  effort: Effort | null;
  library: number;
  /** What this state of the library says of jobs done: by book, then by operation. */
  published: Map<string, Published>;
};
type Published = Readonly<{ format: string; minutes: ReadonlyMap<string, number | null> }>;
const kept = new WeakMap<object, Kept>();

/** How long this bench takes, or null while its day-book says nothing. */
export function effortOf(db: Reader): Effort | null {
  const epoch = epochOf(db);
  const known = kept.get(db);
  if (known?.epoch === epoch) return known.effort;
  const stamp = stampOf(db);
  const library = libraryStamp(db);
  const published = known?.library === library ? known.published : new Map();
  const effort = known?.stamp === stamp ? known.effort : learnedFrom(db, finishedJobs(db), published);
  kept.set(db, { epoch, stamp, effort, library, published });
  return effort;
}

/** Lets go of what the library said of these books: they may be of another size now, or in another state. */
export function forgetPublished(db: Reader, bookIds: readonly string[]): void {
  const published = kept.get(db)?.published;
  for (const id of bookIds) published?.delete(id);
}

/**
 * Other for any other day-book: rows only come, go as they came, or lose their person; what is in hand is named. Decades of rows are not
 * read for it one by one.
 */
function stampOf(db: Reader): string {
  const sums = db.values(
    sql`SELECT count(*), coalesce(sum(minutes), 0), max(id), count(person_id), count(course_id) FROM entry`,
  );
  return JSON.stringify([sums, [...inHand(db)].sort(), libraryStamp(db)]);
}

function learnedFrom(db: Reader, jobs: readonly Job[], published: Map<string, Published>): Effort | null {
  if (jobs.length === 0) return null;
  const asked = Map.groupBy(jobs, ({ bookId }) => bookId);
  const missing = [...asked].filter(([bookId, own]) => {
    const known = published.get(bookId);
    return known === undefined || own.some(({ operationId }) => !known.minutes.has(operationId));
  });
  const library = libraryOf(db);
  const surveyed = readSurveyed(
    db,
    missing.map(([bookId]) => bookId),
  );
  for (const one of surveyed) {
    const operations = new Set((asked.get(one.book.id) ?? []).map(({ operationId }) => operationId));
    published.set(one.book.id, {
      format: formatKey(one.book.format),
      minutes: publishedMinutes(one, operations, library),
    });
  }
  const observations = jobs.flatMap(({ bookId, operationId, person, minutes }): readonly Observation[] => {
    const known = published.get(bookId);
    const likely = known?.minutes.get(operationId) ?? null;
    return known === undefined || likely === null
      ? []
      : [{ operationId, format: known.format, person, likely, minutes }];
  });
  return learnEffort(observations);
}

type Job = { bookId: string; operationId: string; person: string; minutes: number };

/**
 * Minutes of one operation on one book by one person, over all its sittings; what is still in hand is left out, and what was written and
 * then corrected away. Minutes of a course whose person was taken off or erased are a learner’s still, not the bench’s own.
 */
function finishedJobs(db: Reader): readonly Job[] {
  const open = inHand(db);
  return db
    .values<[string, string, string, number]>(
      sql`SELECT book_id, operation_id,
                 coalesce(person_id, CASE WHEN course_id IS NULL THEN '' ELSE 'somebody on a course' END) AS person,
                 sum(minutes)
          FROM entry WHERE book_id IS NOT NULL AND operation_id IS NOT NULL AND minutes <> 0
          GROUP BY 1, 2, 3 HAVING sum(minutes) > 0 ORDER BY min(id)`,
    )
    .filter(([bookId, operationId]) => !open.has(`${bookId} ${operationId}`))
    .map(([bookId, operationId, person, minutes]) => ({ bookId, operationId, person, minutes }));
}

function inHand(db: Reader): ReadonlySet<string> {
  return new Set(
    db
      .select()
      .from(planTask)
      .where(inArray(planTask.state, ['started', 'paused']))
      .all()
      .filter(({ kind }) => kind === 'hands')
      .map(({ bookId, operationId }) => `${bookId} ${operationId}`),
  );
}

/** What the library says of these operations on a book of this size, before anything was learned; null for one it does not know. */
function publishedMinutes(
  { book, findings, hazards, kept }: Surveyed,
  operationIds: ReadonlySet<string>,
  library: Library,
): ReadonlyMap<string, number | null> {
  const { steps } = propose(book, findings, hazards, { kept, library });
  const measures = measuresOf(book, kept);
  const minutes = (operationId: string): number | null => {
    const step = steps.find((one) => one.operationId === operationId);
    if (step !== undefined) return step.minutes.likely;
    const operation = library.byId(operationId);
    return operation === undefined
      ? null
      : stepOf(operation, measures, 1, '', { cautions: [], needs: [] }).minutes.likely;
  };
  return new Map([...operationIds].map((operationId) => [operationId, minutes(operationId)]));
}
