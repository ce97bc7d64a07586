/** Queries of what is decided of a course: pairs ruled out, spoilt copies, allocations by name, terms and deposits; and its week as kept. */
import { asc, desc, eq } from 'drizzle-orm';
import { coursePlan } from './course.ts';
import { person, planTask } from './schema.ts';
import { coursePair, courseRuined, courseSharing, courseTerms, deposit } from './schema-course-plan.ts';
import type { Change, Reader } from './workshop.ts';

export function pairsRuledOut(db: Reader, courseId: string): readonly (typeof coursePair.$inferSelect)[] {
  return db.select().from(coursePair).where(eq(coursePair.courseId, courseId)).orderBy(asc(coursePair.id)).all();
}

/** What was said of each spoilt copy, by book. */
export function ruinedCopies(db: Reader, courseId: string): ReadonlyMap<string, string> {
  const rows = db.select().from(courseRuined).where(eq(courseRuined.courseId, courseId)).all();
  return new Map(rows.map(({ bookId, what }) => [bookId, what]));
}

/** The newest first. */
export function sharingsOf(db: Reader, courseId: string): readonly (typeof courseSharing.$inferSelect)[] {
  return db
    .select()
    .from(courseSharing)
    .where(eq(courseSharing.courseId, courseId))
    .orderBy(desc(courseSharing.madeAt), desc(courseSharing.id))
    .all();
}

export function termsOf(db: Reader, courseId: string): typeof courseTerms.$inferSelect | null {
  return db.select().from(courseTerms).where(eq(courseTerms.courseId, courseId)).get() ?? null;
}

export function depositsOf(db: Reader, courseId: string): readonly (typeof deposit.$inferSelect)[] {
  return db
    .select({ deposit })
    .from(deposit)
    .innerJoin(person, eq(person.id, deposit.personId))
    .where(eq(person.courseId, courseId))
    .all()
    .map((row) => row.deposit);
}

export type KeptTask = typeof planTask.$inferSelect;

/** Rows of the week that holds, by start. */
export function keptWeek(db: Reader, courseId: string): readonly KeptTask[] {
  const plan = coursePlan(db, courseId, 'course');
  if (!plan) return [];
  return db
    .select()
    .from(planTask)
    .where(eq(planTask.planId, plan.id))
    .orderBy(asc(planTask.startAt), asc(planTask.position))
    .all();
}

/** Takes away what is decided of a whole course, before the course itself goes. */
export function removeDecisions(db: Reader, change: Change, courseId: string): void {
  for (const row of pairsRuledOut(db, courseId)) change.remove(coursePair, row.id);
  for (const row of db.select().from(courseRuined).where(eq(courseRuined.courseId, courseId)).all())
    change.remove(courseRuined, row.id);
  for (const row of sharingsOf(db, courseId)) change.remove(courseSharing, row.id);
  for (const row of depositsOf(db, courseId)) change.remove(deposit, row.id);
  const terms = termsOf(db, courseId);
  if (terms) change.remove(courseTerms, terms.id);
}

/** Takes away what is decided of one person, before the person goes. */
export function removeDecisionsOn(db: Reader, change: Change, personId: string): void {
  const pairs = db.select().from(coursePair).where(eq(coursePair.personId, personId)).all();
  for (const row of pairs) change.remove(coursePair, row.id);
  const paid = db.select().from(deposit).where(eq(deposit.personId, personId)).all();
  for (const row of paid) change.remove(deposit, row.id);
}
