/** What is still to do on a book, with the minutes this bench takes. */
import { and, eq, gte } from 'drizzle-orm';
import { propose } from '../../core/treatment/propose.ts';
import type { Step } from '../../core/treatment/treatment.ts';
import { agreedTreatment, type Surveyed } from './books.ts';
import { effortOf } from './effort.ts';
import { epochOf } from './epoch.ts';
import { libraryOf } from './operations.ts';
import { planTask } from './schema.ts';
import type { Reader } from './workshop.ts';

/**
 * What is still to do on a book, its materials in the sizes the book has now: the agreed treatment, else the proposed one, less the steps
 * finished at the bench. What was finished before the last agreement belongs to an earlier treatment and does not count.
 */
export function remainingSteps(
  db: Reader,
  surveyed: Surveyed,
  options: Readonly<{ withFinished?: boolean }> = {},
): readonly Step[] {
  const { steps, left } = stepsOf(db, surveyed);
  return options.withFinished ? steps : left;
}

type Steps = Readonly<{ steps: readonly Step[]; left: readonly Step[] }>;

/** Several rooms ask of the same hundreds of books for one page: each is worked out once between two changes of the file. */
const between = new WeakMap<object, Readonly<{ epoch: string; books: Map<string, Steps> }>>();

function stepsOf(db: Reader, surveyed: Surveyed): Steps {
  const epoch = epochOf(db);
  let known = between.get(db);
  if (known?.epoch !== epoch) {
    known = { epoch, books: new Map() };
    between.set(db, known);
  }
  const { id } = surveyed.book;
  const before = known.books.get(id);
  if (before !== undefined) return before;
  const found = workOut(db, surveyed);
  known.books.set(id, found);
  return found;
}

function workOut(db: Reader, { book, findings, hazards, kept }: Surveyed): Steps {
  const agreed = agreedTreatment(db, book.id);
  const proposed = propose(book, findings, hazards, { effort: effortOf(db), kept, library: libraryOf(db) }).steps;
  const steps = agreed === null ? proposed : sizedAnew(agreed.steps, proposed);
  const done = new Set(
    db
      .select({ operationId: planTask.operationId })
      .from(planTask)
      .where(
        and(
          eq(planTask.bookId, book.id),
          eq(planTask.state, 'finished'),
          eq(planTask.kind, 'hands'),
          gte(planTask.finishedAt, agreed?.agreedAt ?? 0),
        ),
      )
      .all()
      .map((row) => row.operationId),
  );
  return { steps, left: steps.filter((step) => !done.has(step.operationId)) };
}

/** Agreed steps stay as they were agreed; what they take is worked out by the book's measures as they are now, where the survey still asks for them. */
function sizedAnew(agreed: readonly Step[], proposed: readonly Step[]): readonly Step[] {
  const now = new Map(proposed.map((step) => [step.operationId, step]));
  return agreed.map((step) => {
    const same = now.get(step.operationId);
    return same === undefined ? step : { ...step, needs: same.needs };
  });
}
