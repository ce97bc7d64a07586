/** A course as core's engines need it, read out of the tables once for a question. */

import type { AllocationProblem } from '../../core/course/allocation-model.ts';
import { ownMinutes, practiceCopy } from '../../core/course/copy.ts';
import { excusedFrom, type Learner, type PracticeCopy } from '../../core/course/eligible.ts';
import { nameWith, type OwnNames, ownNames } from '../../core/course/names.ts';
import { sittingsOn, type Talk, talkKinds } from '../../core/course/programme.ts';
import type { CourseWork, Demonstration, CourseFrame as Frame } from '../../core/course/timetable.ts';
import { assert, ok, type Result, refuse } from '../../core/result.ts';
import { minuteOf, openWindows, originOf } from '../../core/schedule/calendar.ts';
import type { Calendar, Span } from '../../core/schedule/problem.ts';
import { dateOf, dayNumber } from '../../core/stock/projection.ts';
import type { Library } from '../../core/treatment/library.ts';
import type { Step } from '../../core/treatment/treatment.ts';
import { readSurveyed } from '../store/books.ts';
import {
  type CopyRow,
  type CourseRow,
  copiesOf,
  courseById,
  type PersonRow,
  peopleOf,
  type SyllabusRow,
  syllabusOf,
} from '../store/course.ts';
import { talksOf } from '../store/course-people.ts';
import { pairsRuledOut, ruinedCopies } from '../store/course-plan.ts';
import { readHabits } from '../store/habits.ts';
import { libraryOf } from '../store/operations.ts';
import { placeNames } from '../store/places.ts';
import { remainingSteps } from '../store/remaining.ts';
import type { Reader, Workshop } from '../store/workshop.ts';

/** A copy of the course: its book as core reads it, what is to be done on it, and its row. */
export type CourseCopy = Readonly<{
  row: CopyRow;
  copy: PracticeCopy;
  steps: readonly Step[];
  shelfMark: string | null;
  /** Where it stands, by its whole path; empty where nobody has said. */
  place: string;
  colour: string;
}>;

export type CourseFacts = Readonly<{
  /** With the workshop's own operations. */
  library: Library;
  ownNames: OwnNames;
  course: CourseRow;
  endsOn: string;
  timeZone: string;
  currency: string;
  /** UTC milliseconds of minute 0. */
  origin: number;
  frame: Frame;
  /** Teaching windows of the course's own days. */
  windows: Calendar;
  people: readonly PersonRow[];
  confirmed: readonly PersonRow[];
  syllabus: readonly SyllabusRow[];
  demonstrations: readonly Demonstration[];
  copies: readonly CourseCopy[];
  /** Pairs that a person has ruled out. */
  never: readonly Readonly<{ personId: string; copyId: string }>[];
}>;

/** The plan looks this far past the last day, so that what does not fit shows as late and not as impossible. */
const daysAfter = 14;

export function readCourse(store: Workshop, id: string, nowMs: number): Result<CourseFacts> {
  const course = courseById(store.db, id);
  if (!course) return refuse('This course is not there any more.', 'id');
  const { habits } = readHabits(store.db);
  const times = teachingTimes(course, readTalks(store.db, id), habits.timeZone, nowMs);
  if (!times.ok) return times;
  const people = peopleOf(store.db, id);
  const syllabus = syllabusOf(store.db, id);
  const library = libraryOf(store.db);
  const own = ownNames(library);
  return ok({
    library,
    ownNames: own,
    course,
    timeZone: habits.timeZone,
    currency: habits.currency,
    ...times.value,
    people,
    confirmed: people.filter((one) => one.standing === 'confirmed'),
    syllabus,
    demonstrations: syllabus.map((item) => ({
      operationId: item.operationId,
      name: nameWith(own, item.operationId),
      minutes: item.demonstrationMinutes,
    })),
    copies: readCopies(store.db, copiesOf(store.db, id), ruinedCopies(store.db, id)),
    never: pairsRuledOut(store.db, id).map(({ personId, bookId }) => ({ personId, copyId: bookId })),
  });
}

function readTalks(db: Reader, courseId: string): readonly Talk[] {
  return talksOf(db, courseId).map((row) => ({
    ...row,
    kind: talkKinds.find((kind) => kind === row.kind) ?? 'talk',
  }));
}

/** The course's days: every day from its start, weekends too, since people have come to stay; less talks and free time. */
function teachingTimes(course: Omit<CourseRow, 'id'>, talks: readonly Talk[], timeZone: string, nowMs: number) {
  const first = dayNumber(course.startsOn);
  const extra = Array.from({ length: course.days + daysAfter }, (_, day) =>
    sittingsOn(day + 1, course.dayHours, talks).map(([from, to]) => ({
      date: dateOf(first + day),
      from: clock(from),
      to: clock(to),
    })),
  ).flat();
  const open = openWindows({ timeZone, weekly: [], daysOff: [], extra }, course.startsOn, course.days + daysAfter);
  if (!open.ok) return open;
  const origin = originOf(course.startsOn, timeZone);
  if (!origin.ok) return origin;
  const next = originOf(dateOf(first + course.days), timeZone);
  assert(next.ok, 'the day after a date is a date');
  const over = minuteOf(origin.value, next.value);
  const windows = open.value.filter((window) => window.from < over);
  const end = windows.at(-1)?.to ?? 0;
  const now = Math.max(0, minuteOf(origin.value, nowMs));
  const days = windows
    .filter((window, index) => index === 0 || isNextDay(windows[index - 1], window))
    .map(({ from }) => from);
  const { tutors, helpers, benches } = course;
  return ok({
    endsOn: dateOf(first + course.days - 1),
    origin: origin.value,
    windows,
    frame: { teaching: open.value, days, end, now, tutors, helpers, benches },
  });
}

/** A night lies between sittings that are six hours apart. */
function isNextDay(before: Span | undefined, window: Span): boolean {
  return before !== undefined && window.from - before.to >= 360;
}

function clock(minutes: number): string {
  return `${String(Math.floor(minutes / 60)).padStart(2, '0')}:${String(minutes % 60).padStart(2, '0')}`;
}

function readCopies(db: Reader, rows: readonly CopyRow[], ruined: ReadonlyMap<string, string>): readonly CourseCopy[] {
  const byBook = new Map(rows.map((row) => [row.bookId, row]));
  const places = placeNames(db);
  return readSurveyed(
    db,
    rows.map((row) => row.bookId),
  ).map((one) => {
    const row = byBook.get(one.book.id);
    assert(row, 'each book read is of a copy asked for');
    const steps = remainingSteps(db, one);
    const { shelfMark, colour, placeId } = one.book;
    const place = (placeId && places.get(placeId)) ?? '';
    const copy = practiceCopy(one.book, one.hazards, steps);
    const what = ruined.get(one.book.id);
    const spoilt = what === undefined ? null : `It is spoilt${what === '' ? '' : `: ${what}`}.`;
    return { row, copy: { ...copy, blocked: copy.blocked ?? spoilt }, steps, shelfMark, place, colour };
  });
}

/** Minutes each person has for work of their own. */
export function minutesEach(facts: CourseFacts): number {
  const teaching = facts.windows.reduce((sum, window) => sum + window.to - window.from, 0);
  const shown = facts.demonstrations.reduce((sum, { minutes }) => sum + minutes, 0);
  return ownMinutes(teaching, shown);
}

export function learnersOf(facts: CourseFacts): readonly Learner[] {
  const minutes = minutesEach(facts);
  const required = requiredOf(facts);
  return facts.confirmed.map(({ id, name, level, wishes, allergies }) => ({
    id,
    name,
    level,
    minutes,
    wishes,
    allergies,
    excused: excusedFrom(allergies, required, facts.library),
  }));
}

/** Operations everybody must meet. */
export function requiredOf(facts: CourseFacts): readonly string[] {
  return facts.syllabus.filter((item) => item.required).map((item) => item.operationId);
}

export function allocationProblem(facts: CourseFacts): AllocationProblem {
  const there = new Set(facts.confirmed.map(({ id }) => id));
  return {
    learners: learnersOf(facts),
    // A copy a person has set aside for nobody is neither handed out nor counted as a spare of the program's choosing.
    copies: facts.copies.filter(({ row }) => !(row.locked && row.personId === null)).map(({ copy }) => copy),
    required: requiredOf(facts),
    syllabus: facts.syllabus.map((item) => item.operationId),
    copiesEach: facts.course.copiesEach,
    spares: facts.course.spares,
    names: facts.ownNames,
    rules: [
      ...facts.copies.flatMap(({ row }) =>
        row.locked && row.personId !== null && there.has(row.personId)
          ? [{ personId: row.personId, copyId: row.bookId, rule: 'keep' } as const]
          : [],
      ),
      ...facts.never.filter(({ personId }) => there.has(personId)).map((pair) => ({ ...pair, rule: 'never' }) as const),
    ],
  };
}

/** The copies in their people's hands, of those who are coming. */
export function worksOf(facts: CourseFacts): readonly CourseWork[] {
  const names = new Map(facts.confirmed.map((one) => [one.id, one]));
  const closer = new Map(facts.syllabus.map(({ operationId, attention }) => [operationId, attention]));
  return facts.copies.flatMap(({ row, copy, steps }) => {
    const owner = names.get(row.personId ?? '');
    if (!owner || steps.length === 0) return [];
    // The syllabus may ask the tutor nearer than the operation itself does, never further off.
    const watched = steps.map((step) => ({ ...step, attention: closer.get(step.operationId) ?? step.attention }));
    const { id: personId, name, level } = owner;
    return [{ personId, name, level, copyId: copy.id, title: copy.title, steps: watched }];
  });
}
