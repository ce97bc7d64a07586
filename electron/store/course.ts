/** Queries of the Course: courses, their people, syllabus and copies, and the plans that hold for them. */
import { and, asc, count, desc, eq, inArray, notInArray, or } from 'drizzle-orm';
import type { CourseFrame, CourseTask, PersonInput } from '../../core/contract/course.ts';
import { assessment, book, course, courseCopy, person, plan, planTask, syllabusItem } from './schema.ts';
import type { Reader } from './workshop.ts';

export type CourseRow = Readonly<{ id: string }> & CourseFrame;

export function listCourses(db: Reader): readonly CourseRow[] {
  return db.select().from(course).orderBy(desc(course.startsOn), asc(course.id)).all().map(courseOf);
}

export function courseById(db: Reader, id: string): CourseRow | null {
  const row = db.select().from(course).where(eq(course.id, id)).get();
  return row ? courseOf(row) : null;
}

function courseOf(row: typeof course.$inferSelect): CourseRow {
  const [least, most] = row.copiesEach;
  return {
    ...row,
    dayHours: row.dayHours.map(([from, to]): [number, number] => [from, to]),
    copiesEach: [least, most],
  };
}

export function countConfirmed(db: Reader): ReadonlyMap<string, number> {
  const rows = db
    .select({ id: person.courseId, people: count() })
    .from(person)
    .where(eq(person.standing, 'confirmed'))
    .groupBy(person.courseId)
    .all();
  return new Map(rows.map(({ id, people }) => [id, people]));
}

export function countCopies(db: Reader): ReadonlyMap<string, number> {
  const rows = db
    .select({ id: courseCopy.courseId, copies: count() })
    .from(courseCopy)
    .groupBy(courseCopy.courseId)
    .all();
  return new Map(rows.map(({ id, copies }) => [id, copies]));
}

export type PersonRow = Readonly<{ id: string; courseId: string }> & PersonInput;

/** Confirmed first, then by name. */
export function peopleOf(db: Reader, courseId: string): readonly PersonRow[] {
  return db
    .select()
    .from(person)
    .where(eq(person.courseId, courseId))
    .orderBy(asc(person.name), asc(person.id))
    .all()
    .map(personOf)
    .toSorted((one, other) => Number(other.standing === 'confirmed') - Number(one.standing === 'confirmed'));
}

export function personById(db: Reader, id: string): PersonRow | null {
  const row = db.select().from(person).where(eq(person.id, id)).get();
  return row ? personOf(row) : null;
}

function personOf(row: typeof person.$inferSelect): PersonRow {
  return {
    ...row,
    level: row.level as PersonInput['level'],
    standing: row.standing as PersonInput['standing'],
    wishes: [...row.wishes],
    allergies: [...row.allergies],
  };
}

export type SyllabusRow = typeof syllabusItem.$inferSelect;

export function syllabusOf(db: Reader, courseId: string): readonly SyllabusRow[] {
  return db
    .select()
    .from(syllabusItem)
    .where(eq(syllabusItem.courseId, courseId))
    .orderBy(asc(syllabusItem.position), asc(syllabusItem.id))
    .all();
}

export type CopyRow = typeof courseCopy.$inferSelect;

export function copiesOf(db: Reader, courseId: string): readonly CopyRow[] {
  return db.select().from(courseCopy).where(eq(courseCopy.courseId, courseId)).orderBy(asc(courseCopy.id)).all();
}

/** Books that could be practice copies: meant for it, or suggested for it and not decided otherwise; on no course yet, and not begun. */
export function offeredBooks(db: Reader): readonly Readonly<{ bookId: string; fate: string }>[] {
  const taken = db.select({ id: courseCopy.bookId }).from(courseCopy);
  return db
    .select({ bookId: book.id, decided: book.fate, suggested: assessment.suggestedFate })
    .from(book)
    .innerJoin(assessment, eq(assessment.bookId, book.id))
    .where(
      and(
        or(eq(book.fate, 'practice'), eq(assessment.suggestedFate, 'practice')),
        inArray(book.stage, ['waiting', 'surveyed', 'agreed']),
        notInArray(book.id, taken),
      ),
    )
    .orderBy(asc(book.shelfMark), asc(book.title), asc(book.id))
    .limit(500)
    .all()
    .filter(({ decided }) => decided === null || decided === 'practice')
    .map(({ bookId, decided }) => ({ bookId, fate: decided ?? 'suggested for practice' }));
}

type PlanKind = 'course' | 'allocation';

/** The latest plan of this kind for a course. */
export function coursePlan(db: Reader, courseId: string, kind: PlanKind): typeof plan.$inferSelect | null {
  const row = db
    .select()
    .from(plan)
    .where(and(eq(plan.courseId, courseId), eq(plan.kind, kind)))
    .orderBy(desc(plan.madeAt), desc(plan.id))
    .limit(1)
    .get();
  return row ?? null;
}

export function plansOf(db: Reader, courseId: string): readonly string[] {
  return db
    .select({ id: plan.id })
    .from(plan)
    .where(eq(plan.courseId, courseId))
    .all()
    .map(({ id }) => id);
}

/** Bars of a plan, all or one person's. */
export function taskIdsOf(db: Reader, planId: string, personId?: string): readonly string[] {
  const own = personId === undefined ? undefined : eq(planTask.personId, personId);
  return db
    .select({ id: planTask.id })
    .from(planTask)
    .where(and(eq(planTask.planId, planId), own))
    .all()
    .map(({ id }) => id);
}

/** Bars of a course's plan, without their cautions. */
export function courseTasks(db: Reader, planId: string): readonly Omit<CourseTask, 'cautions'>[] {
  return db
    .select({ task: planTask, title: book.title })
    .from(planTask)
    .leftJoin(book, eq(book.id, planTask.bookId))
    .where(eq(planTask.planId, planId))
    .orderBy(asc(planTask.startAt), asc(planTask.position))
    .all()
    .map(({ task, title }) => ({
      id: task.id,
      kind: task.kind as CourseTask['kind'],
      personId: task.personId,
      bookId: task.bookId,
      book: title ?? '',
      operationId: task.operationId ?? '',
      label: task.label,
      startAt: task.startAt,
      endAt: task.endAt,
      heldUntil: task.heldUntil,
      pinnedAt: task.pinnedAt,
      tools: task.tools,
      waitsFor: task.waitsFor,
    }));
}
