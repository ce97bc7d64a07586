/** Steps finished at the bench whose materials nobody has dealt with yet, and what was booked out for those that were. */
import { and, asc, eq, gte, isNotNull } from 'drizzle-orm';
import { booking, plan, planTask } from './schema.ts';
import type { Reader } from './workshop.ts';

export type FinishedStep = Readonly<{ bookId: string; operationId: string; label: string; finishedAt: number }>;

/** Not asked about after so long: what was used then has been counted since. Common practice, no source. */
const daysAsked = 60;

/** The earliest finished first; each once, whatever plans it stands in. */
export function unbookedSteps(db: Reader, now: number): readonly FinishedStep[] {
  const booked = new Set(db.select().from(booking).all().map(stepKey));
  const rows = db
    .select({
      bookId: planTask.bookId,
      operationId: planTask.operationId,
      label: planTask.label,
      finishedAt: planTask.finishedAt,
    })
    .from(planTask)
    .innerJoin(plan, eq(plan.id, planTask.planId))
    .where(
      and(
        eq(plan.kind, 'week'),
        eq(planTask.kind, 'hands'),
        eq(planTask.state, 'finished'),
        isNotNull(planTask.bookId),
        isNotNull(planTask.operationId),
        gte(planTask.finishedAt, now - daysAsked * 86_400_000),
      ),
    )
    .orderBy(asc(planTask.finishedAt), asc(planTask.position))
    .all();
  const steps = new Map<string, FinishedStep>();
  for (const { bookId, operationId, label, finishedAt } of rows) {
    if (bookId === null || operationId === null || finishedAt === null) continue;
    const step = { bookId, operationId, label, finishedAt };
    if (!booked.has(stepKey(step))) steps.set(stepKey(step), step);
  }
  return [...steps.values()];
}

export function stepKey({ bookId, operationId, finishedAt }: Omit<FinishedStep, 'label'>): string {
  return `${bookId} ${operationId} ${finishedAt}`;
}
