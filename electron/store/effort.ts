/** What the day-book teaches about minutes, worked out again when an entry with minutes comes, goes or changes. */
import { asc, inArray, sql } from 'drizzle-orm';
import { type Effort, formatKey, learnEffort, type Observation } from '../../core/treatment/effort.ts';
import type { Library } from '../../core/treatment/library.ts';
import { measuresOf } from '../../core/treatment/measures.ts';
import { stepOf } from '../../core/treatment/operation.ts';
import { propose } from '../../core/treatment/propose.ts';
import { readSurveyed, type Surveyed } from './books.ts';
import { libraryOf } from './operations.ts';
import { entry, planTask } from './schema.ts';
import type { Reader } from './workshop.ts';

const kept = new WeakMap<object, Readonly<{ changes: number; state: string; effort: Effort | null }>>();

/** How long this bench takes, or null while its day-book says nothing. */
export function effortOf(db: Reader): Effort | null {
  const changes = db.values<[number]>(sql`SELECT total_changes()`)[0]?.[0] ?? -1;
  const known = kept.get(db);
  if (known?.changes === changes) return known.effort;
  const jobs = finishedJobs(db);
  const state = JSON.stringify(jobs);
  const effort = known?.state === state ? known.effort : jobs.length === 0 ? null : learnedFrom(db, jobs);
  kept.set(db, { changes, state, effort });
  return effort;
}

function learnedFrom(db: Reader, jobs: readonly Job[]): Effort {
  const books = new Map(
    readSurveyed(db, [...new Set(jobs.map(({ bookId }) => bookId))]).map((one) => [one.book.id, one]),
  );
  const library = libraryOf(db);
  const observations = jobs.flatMap(({ bookId, operationId, person, minutes }): readonly Observation[] => {
    const one = books.get(bookId);
    const likely = one === undefined ? null : publishedMinutes(one, operationId, library);
    if (one === undefined || likely === null) return [];
    return [{ operationId, format: formatKey(one.book.format), person, likely, minutes }];
  });
  return learnEffort(observations);
}

type Job = { bookId: string; operationId: string; person: string; minutes: number };

/** Minutes of one operation on one book by one person, over all its sittings; what is still in hand is left out. */
function finishedJobs(db: Reader): readonly Job[] {
  const rows = db.select().from(entry).orderBy(asc(entry.id)).all();
  const told = rows.filter((row) => row.bookId !== null && row.operationId !== null && (row.minutes ?? 0) !== 0);
  if (told.length === 0) return [];
  const inHand = new Set(
    db
      .select()
      .from(planTask)
      .where(inArray(planTask.state, ['started', 'paused']))
      .all()
      .filter(({ kind }) => kind === 'hands')
      .map(({ bookId, operationId }) => `${bookId} ${operationId}`),
  );
  const jobs = new Map<string, Job>();
  for (const { bookId, operationId, personId, courseId, minutes } of told) {
    if (bookId === null || operationId === null || inHand.has(`${bookId} ${operationId}`)) continue;
    // Minutes of a course whose person was taken off or erased are a learner’s still, not the bench’s own.
    const person = personId ?? (courseId === null ? '' : 'somebody on a course');
    const key = `${bookId} ${operationId} ${person}`;
    const job = jobs.get(key) ?? { bookId, operationId, person, minutes: 0 };
    job.minutes += minutes ?? 0;
    jobs.set(key, job);
  }
  // What was written and then corrected away took no time.
  return [...jobs.values()].filter((job) => job.minutes > 0);
}

/** What the library says of this operation on a book of this size, before anything was learned. */
function publishedMinutes(
  { book, findings, hazards, kept }: Surveyed,
  operationId: string,
  library: Library,
): number | null {
  const step = propose(book, findings, hazards, { kept, library }).steps.find((one) => one.operationId === operationId);
  if (step !== undefined) return step.minutes.likely;
  const operation = library.byId(operationId);
  return operation === undefined
    ? null
    : stepOf(operation, measuresOf(book, kept), 1, '', { cautions: [], needs: [] }).minutes.likely;
}
