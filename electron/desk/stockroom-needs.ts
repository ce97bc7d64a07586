/** What asks for material: the steps of the bench weeks on their days, and what was agreed to and has no day yet. */
import { and, eq, gt } from 'drizzle-orm';
import { type DatedNeed, dateOf, dayNumber } from '../../core/stock/projection.ts';
import type { Step } from '../../core/treatment/treatment.ts';
import { planTasks, type StoredTask, weekPlan } from '../store/bench.ts';
import { readSurveyed } from '../store/books.ts';
import { lessCut } from '../store/offcuts.ts';
import { remainingSteps } from '../store/remaining.ts';
import { plan } from '../store/schema.ts';
import { agreedBooks } from '../store/stockroom.ts';
import type { Workshop } from '../store/workshop.ts';

/** The day, YYYY-MM-DD, and the zone in which an instant is read as one. */
export type Today = Readonly<{ now: number; date: string; dateOf(instant: number): string }>;

/** A room that asks: rows of what it will take and when. Another room is one more of these. */
export type Asking = (store: Workshop, today: Today) => readonly DatedNeed[];

/** A plan may run on this long, as the Bench lays it out. */
const daysOfPlan = 42;

/**
 * Steps not yet finished of the books in the weeks that hold, on the day their hand-work begins; steps of agreed books that no plan holds, or
 * that were set aside, without a day. A step still planned in a week that is over has lost its day.
 */
export function benchNeeds(store: Workshop, today: Today): readonly DatedNeed[] {
  const tasks = tasksAhead(store, today);
  const agreed = agreedBooks(store.db);
  const isAgreed = new Set(agreed);
  const planned = new Set([...tasks.values()].map((task) => task.bookId));
  const bookIds = [...planned, ...agreed.filter((id) => !planned.has(id))];
  const needs: DatedNeed[] = [];
  for (const one of readSurveyed(store.db, bookIds)) {
    for (const step of lessCut(store.db, one.book.id, remainingSteps(store.db, one))) {
      const task = tasks.get(keyOf(one.book.id, step.operationId));
      if (task === undefined && !isAgreed.has(one.book.id)) continue;
      const date = task === undefined ? null : laterOf(today.dateOf(task.startAt), today.date);
      needs.push(...needsOf(step, date, one.book));
    }
  }
  return needs;
}

function needsOf(
  step: Step,
  date: string | null,
  book: Readonly<{ id: string; title: string; colour: string }>,
): readonly DatedNeed[] {
  return step.needs.map((need) => ({
    date,
    need,
    purpose: date === null ? 'treatments' : 'week',
    bookId: book.id,
    courseId: null,
    title: book.title,
    why: step.name,
    colour: book.colour,
  }));
}

/** The task of each book's step by the latest week that holds it, where it still has its day. */
function tasksAhead(store: Workshop, today: Today): ReadonlyMap<string, StoredTask> {
  const since = dateOf(dayNumber(today.date) - daysOfPlan);
  const weeks = store.db
    .selectDistinct({ startsOn: plan.startsOn })
    .from(plan)
    .where(and(eq(plan.kind, 'week'), gt(plan.startsOn, since)))
    .all()
    .map((row) => row.startsOn)
    .sort();
  const tasks = new Map<string, StoredTask>();
  for (const startsOn of weeks) {
    const holding = weekPlan(store.db, startsOn);
    if (holding === null) continue;
    const isOver = dayNumber(startsOn) + 7 <= dayNumber(today.date);
    const firstOf = new Set<string>();
    for (const task of planTasks(store.db, holding.id)) {
      const key = keyOf(task.bookId, task.operationId);
      if (task.kind !== 'hands' || task.state === 'finished' || firstOf.has(key)) continue;
      firstOf.add(key);
      const lost =
        task.state === 'set aside' || (isOver && task.state === 'planned' && today.dateOf(task.startAt) < today.date);
      if (lost) tasks.delete(key);
      else tasks.set(key, task);
    }
  }
  return tasks;
}

function keyOf(bookId: string, operationId: string): string {
  return `${bookId} ${operationId}`;
}

function laterOf(one: string, other: string): string {
  return one > other ? one : other;
}
