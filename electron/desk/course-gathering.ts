/** A course's people, house, programme and outcome as the page shows them. */
import type { Gathering, Guest, UsedMaterial } from '../../core/contract/course-people.ts';
import { difficultyOf } from '../../core/course/difficulty.ts';
import { mealLines, mealsOf } from '../../core/course/meals.ts';
import { nameWith } from '../../core/course/names.ts';
import { lackingCopies } from '../../core/course/next-lot.ts';
import { asked, levelFrom, levelRule } from '../../core/course/questionnaire.ts';
import { levelLines, operationLines, type Sitting } from '../../core/course/report.ts';
import { placingTrouble } from '../../core/course/residence.ts';
import type { StockUnit } from '../../core/stock/material.ts';
import { dateOf, dayNumber } from '../../core/stock/projection.ts';
import { readSurveyed } from '../store/books.ts';
import {
  datesOf,
  listLetters,
  listRooms,
  metOf,
  minutesLogged,
  notesOf,
  talksOf,
  usedBy,
} from '../store/course-people.ts';
import { remainingSteps } from '../store/remaining.ts';
import type { Workshop } from '../store/workshop.ts';
import type { CourseFacts } from './course-facts.ts';
import { eaterOf, eatersOf, programmeOf, servedOf, sleepersOf, toldBy, toldOf } from './course-guests.ts';
import { kitOf } from './course-shopping.ts';

export function gatheringOf(store: Workshop, facts: CourseFacts, nowMs: number): Gathering {
  const { db } = store;
  const { course, people, confirmed } = facts;
  const days = { startsOn: course.startsOn, endsOn: facts.endsOn };
  const told = toldBy(db, course.id, people);
  const programme = programmeOf(db, course.id);
  const served = servedOf(programme);
  const names = new Map(people.map(({ id, name }) => [id, name]));
  const rooms = listRooms(db);
  const sleepers = sleepersOf(confirmed, told);
  const beds = new Map(
    sleepers.flatMap(({ id }) => {
      const roomId = told.get(id)?.roomId ?? null;
      return roomId === null ? [] : [[id, roomId] as const];
    }),
  );
  const ticks = metOf(db, course.id);
  return {
    courseId: course.id,
    ...days,
    guests: people.map((person): Guest => {
      const one = told.get(person.id) ?? toldOf(null);
      const { level, because } = levelFrom(one.answers, one.booksDone, facts.library);
      return {
        ...one,
        personId: person.id,
        name: person.name,
        standing: person.standing,
        level: person.level,
        diet: person.diet,
        levelTold: level,
        levelBecause: because,
        meals: mealsOf(eaterOf(person, one, days), served),
        met: ticks
          .filter(({ personId }) => personId === person.id)
          .map(({ operationId, how }) => ({ operationId, how })),
      };
    }),
    asked: asked.map((operationId) => ({ operationId, name: nameWith(facts.ownNames, operationId) })),
    levelRule,
    rooms,
    placingTrouble: placingTrouble(sleepers, rooms, beds),
    withoutBed: sleepers.filter(({ id }) => !beds.has(id)).map(({ name }) => name),
    meals: mealLines(eatersOf(confirmed, told, programme, days), served),
    programme,
    dates: datesOf(db, course.id).map(({ id, startsOn, note }) => ({
      id,
      startsOn,
      endsOn: dateOf(dayNumber(startsOn) + course.days - 1),
      note,
      inForce: startsOn === course.startsOn,
      couldCome: people.filter((one) => told.get(one.id)?.couldCome.includes(startsOn)).map(({ name }) => name),
    })),
    talks: talksOf(db, course.id).map(({ courseId: _, kind, ...talk }) => ({
      ...talk,
      kind: kind as Gathering['talks'][number]['kind'],
      outside: talk.day > course.days,
    })),
    syllabus: facts.syllabus.map(({ operationId, attention, after, reading }) => ({
      operationId,
      name: nameWith(facts.ownNames, operationId),
      least: facts.library.byId(operationId)?.attention ?? 'none',
      attention,
      after,
      reading,
    })),
    hard: hardCopies(store, facts),
    lacking: lackingCopies(
      facts.syllabus.map(({ operationId, required }) => ({
        operationId,
        required,
        copies: facts.copies.filter(({ copy }) => copy.blocked === null && copy.teaches.includes(operationId)).length,
      })),
      confirmed.length,
      facts.library,
    ),
    letters: listLetters(db),
    notes: notesOf(db, course.id).map(({ courseId: _, kind, ...note }) => ({
      ...note,
      kind: kind as Gathering['notes'][number]['kind'],
      person: names.get(note.personId ?? '') ?? null,
    })),
    report: reportOf(store, facts, nowMs),
  };
}

function hardCopies(store: Workshop, facts: CourseFacts): Gathering['hard'] {
  const steps = new Map(facts.copies.map((one) => [one.row.bookId, one.steps]));
  return readSurveyed(store.db, [...steps.keys()]).map(({ book, findings }) => ({
    bookId: book.id,
    ...difficultyOf(book, findings, steps.get(book.id) ?? [], facts.library),
  }));
}

function reportOf(store: Workshop, facts: CourseFacts, nowMs: number): Gathering['report'] {
  const { db } = store;
  const logged = minutesLogged(db, facts.course.id);
  const surveyed = new Map(
    readSurveyed(db, [...new Set(logged.flatMap(({ bookId }) => (bookId === null ? [] : [bookId])))]).map((one) => [
      one.book.id,
      one,
    ]),
  );
  const levels = new Map(facts.people.map(({ id, level }) => [id, level]));
  const sittings = [
    ...Map.groupBy(logged, ({ personId, bookId, operationId }) => `${personId} ${bookId} ${operationId}`).values(),
  ].flatMap((group): readonly Sitting[] => {
    const [first] = group;
    const level = levels.get(first?.personId ?? '');
    if (!first?.operationId || level === undefined) return [];
    const minutes = group.reduce((sum, one) => sum + (one.minutes ?? 0), 0);
    if (minutes <= 0) return [];
    const book = surveyed.get(first.bookId ?? '');
    const step =
      book &&
      remainingSteps(db, book, { withFinished: true }).find(({ operationId }) => operationId === first.operationId);
    return [{ operationId: first.operationId, level, benchMinutes: step?.minutes.likely ?? 0, minutes }];
  });
  return {
    operations: operationLines(sittings).map((line) => ({ ...line, name: nameWith(facts.ownNames, line.operationId) })),
    levels: levelLines(sittings),
    used: usedMaterials(store, facts, nowMs),
  };
}

function usedMaterials(store: Workshop, facts: CourseFacts, nowMs: number): readonly UsedMaterial[] {
  const used = new Map(usedBy(store.db, facts.course.id).map((row) => [row.materialId, row]));
  if (used.size === 0) return [];
  const planned = new Map(kitOf(store, facts, nowMs).lines.map((line) => [line.materialId, line]));
  return [...new Set([...used.keys(), ...planned.keys()])].map((id) => ({
    name: used.get(id)?.name ?? planned.get(id)?.name ?? '',
    unit: (used.get(id)?.unit ?? planned.get(id)?.unit ?? 'piece') as StockUnit,
    used: (used.get(id)?.usedMillionths ?? 0) / 1e6,
    planned: planned.get(id)?.total ?? 0,
  }));
}
