/** What courses use up, as needs by day for the Stockroom. */
import { kitNeeds } from '../../core/course/kit.ts';
import { type DatedNeed, dayNumber } from '../../core/stock/projection.ts';
import { coursePlan, courseTasks, listCourses } from '../store/course.ts';
import type { Reader, Workshop } from '../store/workshop.ts';
import { type CourseFacts, readCourse, worksOf } from './course-facts.ts';

/** Needs of every course that is not over, each on the day it is planned for, or else on the course's first day. */
export function courseNeeds(store: Workshop, today: Readonly<{ date: string }>): readonly DatedNeed[] {
  return listCourses(store.db).flatMap(({ id, startsOn, days }) => {
    if (dayNumber(startsOn) + days <= dayNumber(today.date)) return [];
    const facts = readCourse(store, id, 0);
    return facts.ok ? needsOfCourse(store.db, facts.value) : [];
  });
}

/** Needs of one course, over or not, each on its day. */
export function needsOfCourse(db: Reader, facts: CourseFacts): readonly DatedNeed[] {
  const plan = coursePlan(db, facts.course.id, 'course');
  const days = new Map<string, string>();
  for (const task of plan ? courseTasks(db, plan.id) : []) {
    const key = `${task.bookId} ${task.operationId}`;
    if (task.kind === 'hands' && !days.has(key)) days.set(key, dayOf(facts, task.startAt));
  }
  const colours = new Map(facts.copies.map(({ row, colour }) => [row.bookId, colour]));
  return kitNeeds(
    facts.course.id,
    worksOf(facts).map(({ copyId, title, steps }) => ({
      copyId,
      title,
      steps,
      colour: colours.get(copyId) ?? '',
      dates: steps.map((step) => days.get(`${copyId} ${step.operationId}`) ?? facts.course.startsOn),
    })),
  );
}

/** The calendar date an instant falls on where the workshop is. */
function dayOf({ timeZone }: Pick<CourseFacts, 'timeZone'>, at: number): string {
  return new Intl.DateTimeFormat('en-CA', { timeZone, year: 'numeric', month: '2-digit', day: '2-digit' }).format(at);
}
