/** A course as the page shows it: what was typed, what follows from it, and whether it all fits. */

import { hazardKinds } from '../../core/book/book.ts';
import type { Quality } from '../../core/contract/bench.ts';
import type { Course, CourseLine, CoursePerson } from '../../core/contract/course.ts';
import type { AllocationValue } from '../../core/course/allocation.ts';
import { capacity } from '../../core/course/capacity.ts';
import { excusedFrom, sameWords } from '../../core/course/eligible.ts';
import { courseLoads } from '../../core/course/loads.ts';
import { breakEven, coveringFee, resultOf } from '../../core/course/money.ts';
import { nameWith } from '../../core/course/names.ts';
import { learnerMinutes } from '../../core/course/pace.ts';
import { instantOf } from '../../core/schedule/calendar.ts';
import { materialKinds } from '../../core/stock/material.ts';
import { dateOf, dayNumber } from '../../core/stock/projection.ts';
import { listTools } from '../store/bench.ts';
import { countConfirmed, countCopies, coursePlan, courseTasks, listCourses, type PersonRow } from '../store/course.ts';
import { libraryOf } from '../store/operations.ts';
import type { Workshop } from '../store/workshop.ts';
import { type CourseFacts, minutesEach, requiredOf, worksOf } from './course-facts.ts';
import { kitOf } from './course-shopping.ts';
import { verdictsOf } from './course-verdicts.ts';

export function courseLines(store: Workshop): readonly CourseLine[] {
  const confirmed = countConfirmed(store.db);
  const copies = countCopies(store.db);
  return listCourses(store.db).map(({ id, title, startsOn, days }) => ({
    id,
    title,
    startsOn,
    endsOn: dateOf(dayNumber(startsOn) + days - 1),
    confirmed: confirmed.get(id) ?? 0,
    copies: copies.get(id) ?? 0,
  }));
}

export function courseView(store: Workshop, facts: CourseFacts, nowMs: number): Course {
  const { course, confirmed, demonstrations } = facts;
  const { id, ...frame } = course;
  const tools = listTools(store.db);
  const works = worksOf(facts);
  const loads = courseLoads(facts.frame, works, demonstrations, tools);
  const people = facts.people.map((person) => personView(facts, person));
  const kit = kitOf(store, facts, nowMs);
  const even = breakEven(course);
  const held = coursePlan(store.db, id, 'allocation');
  const timetable = timetableOf(store, facts);
  const view: Omit<Course, 'verdicts'> = {
    id,
    frame,
    endsOn: facts.endsOn,
    timeZone: facts.timeZone,
    currency: facts.currency,
    ownNames: facts.ownNames,
    people,
    syllabus: facts.syllabus.map((item) => ({
      operationId: item.operationId,
      name: nameWith(facts.ownNames, item.operationId),
      level: libraryOf(store.db).byId(item.operationId)?.level ?? 'newcomer',
      required: item.required,
      demonstrationMinutes: item.demonstrationMinutes,
      copies: facts.copies.filter(({ copy }) => copy.blocked === null && copy.teaches.includes(item.operationId))
        .length,
    })),
    copies: facts.copies.map(({ row, copy, shelfMark, place }) => ({
      bookId: copy.id,
      title: copy.title,
      shelfMark,
      place,
      level: copy.level,
      minutes: copy.minutes,
      teaches: copy.teaches,
      blocked: copy.blocked,
      personId: row.personId,
      locked: row.locked,
      reason: row.reason,
    })),
    allocation: held && { madeAt: held.madeAt, ...(held.quality as unknown as AllocationQuality) },
    timetable,
    hours: facts.windows.map(({ from, to }) => ({
      from: instantOf(facts.origin, from),
      to: instantOf(facts.origin, to),
    })),
    tools,
    loads,
    limits: capacity({
      people: confirmed.length,
      benches: course.benches,
      usableCopies: facts.copies.filter(({ copy }) => copy.blocked === null).length,
      spares: course.spares,
      leastCopiesEach: course.copiesEach[0],
      loads,
    }),
    kit: kit.lines,
    kitRemarks: kit.remarks,
    money: {
      breakEven: even.ok ? even.value : null,
      breakEvenWords: even.ok ? '' : even.refusal.sentence,
      confirmed: confirmed.length,
      resultMinor: resultOf(course, confirmed.length),
      coveringFeeMinor: coveringFee(course, confirmed.length),
    },
  };
  return { ...view, verdicts: verdictsOf(facts, view) };
}

/** What a plan row of an allocation keeps. */
export type AllocationQuality = Readonly<{ proven: boolean; gap: number | null; value: AllocationValue }>;

function personView(facts: CourseFacts, person: PersonRow): CoursePerson {
  const own = facts.copies.filter(({ row }) => row.personId === person.id).map(({ copy }) => copy);
  const meets = [...new Set(own.flatMap((copy) => copy.teaches))];
  const required = requiredOf(facts);
  const excused = excusedFrom(person.allergies, required, facts.library);
  const { courseId: _, ...typed } = person;
  return {
    ...typed,
    unknownAllergies: person.allergies.filter(
      (allergy) => ![...materialKinds, ...hazardKinds].some((word) => sameWords(allergy, word)),
    ),
    minutes: own.reduce((sum, copy) => sum + learnerMinutes(copy.minutes, person.level), 0),
    ownMinutes: minutesEach(facts),
    meets,
    excused,
    lacks: required.filter((id) => !meets.includes(id) && !excused.includes(id)),
  };
}

function timetableOf(store: Workshop, facts: CourseFacts): Course['timetable'] {
  const plan = coursePlan(store.db, facts.course.id, 'course');
  if (!plan) return null;
  const tasks = courseTasks(store.db, plan.id).map((task) => ({
    ...task,
    cautions:
      task.kind === 'hands' || task.kind === 'demonstration'
        ? (libraryOf(store.db).byId(task.operationId)?.cautions ?? []).map(({ sentence }) => sentence)
        : [],
  }));
  const planned = new Set(tasks.flatMap((task) => (task.bookId ? [`${task.bookId} ${task.personId}`] : [])));
  const wanted = worksOf(facts).map((work) => `${work.copyId} ${work.personId}`);
  const stale = planned.size !== wanted.length || wanted.some((pair) => !planned.has(pair));
  return { madeAt: plan.madeAt, quality: plan.quality as unknown as Quality, stale, tasks };
}
