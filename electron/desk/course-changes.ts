/** What a person changes on a course. Nobody is ever given, by hand either, what a hazard or an allergy forbids. */
import type { CourseFrame, PersonInput } from '../../core/contract/course.ts';
import { whyNot } from '../../core/course/eligible.ts';
import { type Result, refuse } from '../../core/result.ts';
import { readSurveyed } from '../store/books.ts';
import { copiesOf, courseById, peopleOf, personById, plansOf, syllabusOf, taskIdsOf } from '../store/course.ts';
import { removeDecisions, removeDecisionsOn } from '../store/course-plan.ts';
import { libraryOf } from '../store/operations.ts';
import { course, courseCopy, person, plan, planTask, syllabusItem } from '../store/schema.ts';
import type { Change, Workshop } from '../store/workshop.ts';
import { learnersOf, readCourse } from './course-facts.ts';
import { copyProgramme, letCourseGo, letGo, putGuest } from './course-people-changes.ts';

type SaveCourse = CourseFrame & Readonly<{ id?: string | undefined; copyOf?: string | undefined }>;

/** Makes or changes a course; answers its id. */
export function saveCourse(store: Workshop, input: SaveCourse): Result<string> {
  const { id, copyOf, ...frame } = input;
  const late = frame.dayHours.findIndex(
    ([from, to], index) => from >= to || from < (frame.dayHours[index - 1]?.[1] ?? 0),
  );
  if (late >= 0) return refuse('Each sitting must end after it begins, and the next begin no sooner.', 'dayHours');
  if (frame.copiesEach[0] > frame.copiesEach[1]) {
    return refuse('The least number of copies each is above the most.', 'copiesEach');
  }
  if (id !== undefined) {
    return store.write(`Change the course ${frame.title}`, (change) => {
      change.update(course, id, frame);
      return id;
    });
  }
  return store.write(`Plan the course ${frame.title}`, (change) => {
    const courseId = change.insert(course, frame);
    for (const { id: _, ...item } of copyOf === undefined ? [] : syllabusOf(store.db, copyOf)) {
      change.insert(syllabusItem, { ...item, courseId });
    }
    if (copyOf !== undefined) copyProgramme(store, change, copyOf, courseId);
    return courseId;
  });
}

/** Takes a course away with its people, syllabus, copies and plans; undo brings all of it back. */
export function removeCourse(store: Workshop, id: string): Result<Readonly<{ title: string }>> {
  const found = courseById(store.db, id);
  if (!found) return refuse('This course is not there any more.', 'id');
  return store.write(`Remove the course ${found.title}`, (change) => {
    for (const planId of plansOf(store.db, id)) {
      for (const taskId of taskIdsOf(store.db, planId)) change.remove(planTask, taskId);
      change.remove(plan, planId);
    }
    removeDecisions(store.db, change, id);
    for (const row of copiesOf(store.db, id)) change.remove(courseCopy, row.id);
    for (const row of syllabusOf(store.db, id)) change.remove(syllabusItem, row.id);
    for (const row of peopleOf(store.db, id)) {
      letGo(store, change, row.id);
      change.remove(person, row.id);
    }
    letCourseGo(store, change, id);
    change.remove(course, id);
    return { title: found.title };
  });
}

type SavePerson = PersonInput & Readonly<{ courseId: string; id?: string | undefined }>;

export function savePerson(store: Workshop, input: SavePerson): Result<string> {
  const { id, courseId, ...typed } = input;
  const words = (list: readonly string[]) => [
    ...new Set(list.map((word) => word.trim()).filter((word) => word !== '')),
  ];
  const row = { ...typed, wishes: words(typed.wishes), allergies: words(typed.allergies) };
  const unknown = row.wishes.find((wish) => libraryOf(store.db).byId(wish) === undefined);
  if (unknown !== undefined) return refuse(`“${unknown}” is no operation of this bench.`, 'wishes');
  const label = id === undefined ? `Enrol ${row.name}` : `Change ${row.name}`;
  return store.write(label, (change) => {
    if (id === undefined) change.insert(person, { ...row, courseId });
    else {
      // A level chosen here is not overruled by what was answered.
      if (personById(store.db, id)?.level !== row.level) putGuest(store, change, id, { levelByHand: true });
      change.update(person, id, row);
    }
    // Whoever is not coming holds no copy.
    if (id !== undefined && row.standing !== 'confirmed') takeBack(store, change, courseId, id);
    return courseId;
  });
}

/** A person leaves the course: their copies are free again, and the plans they were in go with them. */
export function removePerson(store: Workshop, id: string): Result<string> {
  const found = personById(store.db, id);
  if (!found) return refuse('This person is not on the list any more.', 'id');
  return store.write(`Take ${found.name} off the course`, (change) => {
    takeBack(store, change, found.courseId, id);
    for (const planId of plansOf(store.db, found.courseId)) {
      for (const taskId of taskIdsOf(store.db, planId, id)) change.remove(planTask, taskId);
    }
    letGo(store, change, id);
    removeDecisionsOn(store.db, change, id);
    change.remove(person, id);
    return found.courseId;
  });
}

function takeBack(store: Workshop, change: Change, courseId: string, personId: string): void {
  for (const row of copiesOf(store.db, courseId)) {
    if (row.personId === personId) change.update(courseCopy, row.id, { personId: null, locked: false, reason: '' });
  }
}

type Item = Readonly<{ operationId: string; required: boolean; demonstrationMinutes: number }>;

export function setSyllabus(store: Workshop, courseId: string, items: readonly Item[]): Result<string> {
  const found = courseById(store.db, courseId);
  if (!found) return refuse('This course is not there any more.', 'courseId');
  const twice = items.find((item, index) => items.findIndex((one) => one.operationId === item.operationId) < index);
  if (twice)
    return refuse(
      `“${libraryOf(store.db).byId(twice.operationId)?.name ?? twice.operationId}” stands in the syllabus twice.`,
      'items',
    );
  const unknown = items.find((item) => libraryOf(store.db).byId(item.operationId) === undefined);
  if (unknown) return refuse(`“${unknown.operationId}” is no operation of this bench.`, 'items');
  const before = new Map(syllabusOf(store.db, courseId).map((row) => [row.operationId, row]));
  return store.write(`Set the syllabus of ${found.title}`, (change) => {
    for (const [position, item] of items.entries()) {
      const row = before.get(item.operationId);
      if (row) change.update(syllabusItem, row.id, { ...item, position });
      else change.insert(syllabusItem, { ...item, courseId, position });
      before.delete(item.operationId);
    }
    for (const row of before.values()) change.remove(syllabusItem, row.id);
    return courseId;
  });
}

export function addCopies(store: Workshop, courseId: string, bookIds: readonly string[]): Result<string> {
  const found = courseById(store.db, courseId);
  if (!found) return refuse('This course is not there any more.', 'courseId');
  const there = new Set(copiesOf(store.db, courseId).map((row) => row.bookId));
  const added = readSurveyed(store.db, [...new Set(bookIds)]).filter(({ book }) => !there.has(book.id));
  const decided = added.find(({ book }) => book.fateLocked && book.fate !== 'practice');
  if (decided) {
    return refuse(
      `“${decided.book.title}” is to be: ${decided.book.fate}, as you decided. Change that first.`,
      'bookIds',
    );
  }
  const words = `Put ${added.length} ${added.length === 1 ? 'copy' : 'copies'} on ${found.title}`;
  return store.write(words, (change) => {
    for (const { book } of added) {
      change.insert(courseCopy, { courseId, bookId: book.id, locked: false, reason: '' });
    }
    return courseId;
  });
}

export function removeCopies(store: Workshop, courseId: string, bookIds: readonly string[]): Result<string> {
  const found = courseById(store.db, courseId);
  if (!found) return refuse('This course is not there any more.', 'courseId');
  const rows = copiesOf(store.db, courseId).filter((row) => bookIds.includes(row.bookId));
  const words = `Take ${rows.length} ${rows.length === 1 ? 'copy' : 'copies'} off ${found.title}`;
  return store.write(words, (change) => {
    for (const row of rows) change.remove(courseCopy, row.id);
    return courseId;
  });
}

type Give = Readonly<{ courseId: string; bookId: string; personId: string | null; locked: boolean }>;

/** Gives one copy by hand. Refuses what a hazard, an allergy, two levels or the hours forbid, with the reason. */
export function giveCopy(store: Workshop, { courseId, bookId, personId, locked }: Give, nowMs: number): Result<string> {
  const facts = readCourse(store, courseId, nowMs);
  if (!facts.ok) return facts;
  const held = facts.value.copies.find(({ row }) => row.bookId === bookId);
  if (!held) return refuse('This copy is not on the course any more.', 'bookId');
  const words = (who: string) => `Give “${held.copy.title}” to ${who}`;
  const set = (label: string, reason: string) =>
    store.write(label, (change) => {
      change.update(courseCopy, held.row.id, { personId, locked, reason });
      return courseId;
    });
  if (personId === null) return set(words('nobody'), locked ? 'Kept back by you.' : '');
  const learner = learnersOf(facts.value).find((one) => one.id === personId);
  if (!learner) return refuse('Only people who are confirmed are given copies.', 'personId');
  const because = whyNot(learner, held.copy);
  if (because !== null) return refuse(`“${held.copy.title}” cannot be ${learner.name}’s. ${because}`, 'personId');
  if (facts.value.never.some((pair) => pair.personId === personId && pair.copyId === bookId))
    return refuse(
      `You ruled out “${held.copy.title}” for ${learner.name}. Allow it again at Copies first.`,
      'personId',
    );
  return held.row.personId === personId && held.row.locked !== locked
    ? set(`${locked ? 'Keep' : 'Free'} “${held.copy.title}”`, held.row.reason || 'Given by you.')
    : set(words(learner.name), 'Given by you.');
}
