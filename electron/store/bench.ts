/** Queries of the Bench: tools, the plan that holds for a week, its bars, and what is left to do on each book. */
import { and, asc, desc, eq, gte, sum } from 'drizzle-orm';
import type { Quality, TaskState, Tool, WeekTask } from '../../core/contract/bench.ts';
import type { ToolKind } from '../../core/treatment/treatment.ts';
import { book, entry, plan, planTask, tool } from './schema.ts';
import type { Reader } from './workshop.ts';

export function listTools(db: Reader): readonly Tool[] {
  return db
    .select()
    .from(tool)
    .orderBy(asc(tool.kind), asc(tool.name))
    .all()
    .map((row) => ({ ...row, kind: row.kind as ToolKind }));
}

export type StoredPlan = Readonly<{ id: string; startsOn: string; madeAt: number; quality: Quality }>;

/** The plan that holds for the week from this Monday: the latest made. */
export function weekPlan(db: Reader, startsOn: string): StoredPlan | null {
  const row = db
    .select()
    .from(plan)
    .where(and(eq(plan.kind, 'week'), eq(plan.startsOn, startsOn)))
    .orderBy(desc(plan.madeAt), desc(plan.id))
    .limit(1)
    .get();
  return row
    ? { id: row.id, startsOn: row.startsOn, madeAt: row.madeAt, quality: row.quality as unknown as Quality }
    : null;
}

export type StoredTask = Omit<WeekTask, 'cautions' | 'book'> &
  Readonly<{ planId: string; position: number; title: string }>;

export function planTasks(db: Reader, planId: string): readonly StoredTask[] {
  return db
    .select({ task: planTask, title: book.title })
    .from(planTask)
    .innerJoin(book, eq(book.id, planTask.bookId))
    .where(eq(planTask.planId, planId))
    .orderBy(asc(planTask.startAt), asc(planTask.position))
    .all()
    .map(({ task, title }) => storedTask(task, title));
}

export function taskById(db: Reader, id: string): StoredTask | null {
  const row = db
    .select({ task: planTask, title: book.title })
    .from(planTask)
    .innerJoin(book, eq(book.id, planTask.bookId))
    .where(eq(planTask.id, id))
    .get();
  return row ? storedTask(row.task, row.title) : null;
}

function storedTask(task: typeof planTask.$inferSelect, title: string): StoredTask {
  return {
    id: task.id,
    planId: task.planId,
    position: task.position,
    title,
    bookId: task.bookId ?? '',
    operationId: task.operationId ?? '',
    label: task.label,
    kind: task.kind as WeekTask['kind'],
    startAt: task.startAt,
    endAt: task.endAt,
    heldUntil: task.heldUntil,
    tools: task.tools,
    waitsFor: task.waitsFor,
    state: task.state as TaskState,
    startedAt: task.startedAt,
    finishedAt: task.finishedAt,
    pinnedAt: task.pinnedAt,
    p50At: task.p50At,
    p80At: task.p80At,
    onTime: task.onTime,
  };
}

/** Minutes written in the day-book for one operation on one book since an instant. */
export function loggedMinutes(db: Reader, bookId: string, operationId: string, since: number): number {
  const row = db
    .select({ minutes: sum(entry.minutes) })
    .from(entry)
    .where(and(eq(entry.bookId, bookId), eq(entry.operationId, operationId), gte(entry.at, since)))
    .get();
  return Number(row?.minutes ?? 0);
}
