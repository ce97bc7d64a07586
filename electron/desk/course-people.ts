/** Answers about a course's people: who they are, where they sleep and eat, letters, what they met, and their data. */
import type { FileAnswer } from '../../core/contract/ask.ts';
import type { Gathering, Placed } from '../../core/contract/course-people.ts';
import { nameWith } from '../../core/course/names.ts';
import type { Placing } from '../../core/course/residence.ts';
import { ok, type Result, refuse } from '../../core/result.ts';
import type { ResidenceInput } from '../engines/residence-worker.ts';
import { inThread } from '../engines/thread.ts';
import { writeTable } from '../files/csv.ts';
import { printCertificates, printMeals, printReport } from '../print/course-people.ts';
import { peopleOf } from '../store/course.ts';
import { listRooms } from '../store/course-people.ts';
import { readHabits } from '../store/habits.ts';
import type { Workshop } from '../store/workshop.ts';
import { readCourse } from './course-facts.ts';
import { gatheringOf } from './course-gathering.ts';
import { sleepersOf, toldBy } from './course-guests.ts';
import { mergeLetters } from './course-letters.ts';
import {
  addDate,
  chooseDate,
  keepBeds,
  logMinutes,
  removeDate,
  removeLetter,
  removeNote,
  removeRoom,
  removeTalk,
  saveGuest,
  saveLetter,
  saveNote,
  saveProgramme,
  saveRoom,
  saveTalk,
  setLesson,
  setRoom,
  setStanding,
  tick,
  useMaterial,
} from './course-people-changes.ts';
import { listPeople, lookAtList, takeList } from './course-people-list.ts';
import { erase, removeBackups, takeOut } from './course-person.ts';
import { answer, inWorkshop } from './desk.ts';

const { coursePeople: ask } = inWorkshop;

export const coursePeople = {
  open: ask.open.handler(({ input, context, errors }) =>
    answer(opened(context.store, input.courseId, context.now()), errors),
  ),
  saveGuest: ask.saveGuest.handler(({ input, context, errors }) => answer(saveGuest(context.store, input), errors)),
  setStanding: ask.setStanding.handler(({ input, context, errors }) =>
    answer(setStanding(context.store, input.personIds, input.standing), errors),
  ),
  look: ask.look.handler(({ input, context, errors }) =>
    answer(lookAtList(context.store, input.courseId, input.base64), errors),
  ),
  take: ask.take.handler(({ input, context, errors }) =>
    answer(takeList(context.store, input.courseId, input.base64, input.leave), errors),
  ),
  list: ask.list.handler(({ input, context, errors }) => answer(listPeople(context.store, input.courseId), errors)),
  takeOut: ask.takeOut.handler(async ({ input, context, errors }) =>
    answer(await takeOut(context.store, input.personId, input.form, context.now()), errors),
  ),
  erase: ask.erase.handler(({ input, context, errors }) =>
    answer(erase(context.store, input.personId, input.name, context.now()), errors),
  ),
  removeBackups: ask.removeBackups.handler(({ input, context, errors }) =>
    answer(removeBackups(context.store, input.names), errors),
  ),
  saveRoom: ask.saveRoom.handler(({ input, context, errors }) => answer(saveRoom(context.store, input), errors)),
  removeRoom: ask.removeRoom.handler(({ input, context, errors }) =>
    answer(removeRoom(context.store, input.id), errors),
  ),
  place: ask.place.handler(async ({ input, context, errors }) =>
    answer(await place(context.store, input.courseId), errors),
  ),
  setRoom: ask.setRoom.handler(({ input, context, errors }) => answer(setRoom(context.store, input), errors)),
  meals: ask.meals.handler(async ({ input, context, errors }) =>
    answer(await mealsSheet(context.store, input.courseId, input.form, context.now()), errors),
  ),
  saveProgramme: ask.saveProgramme.handler(({ input, context, errors }) =>
    answer(saveProgramme(context.store, input), errors),
  ),
  addDate: ask.addDate.handler(({ input, context, errors }) => answer(addDate(context.store, input), errors)),
  removeDate: ask.removeDate.handler(({ input, context, errors }) =>
    answer(removeDate(context.store, input.id), errors),
  ),
  chooseDate: ask.chooseDate.handler(({ input, context, errors }) =>
    answer(chooseDate(context.store, input.id), errors),
  ),
  saveTalk: ask.saveTalk.handler(({ input, context, errors }) => answer(saveTalk(context.store, input), errors)),
  removeTalk: ask.removeTalk.handler(({ input, context, errors }) =>
    answer(removeTalk(context.store, input.id), errors),
  ),
  setLesson: ask.setLesson.handler(({ input, context, errors }) => answer(setLesson(context.store, input), errors)),
  saveLetter: ask.saveLetter.handler(({ input, context, errors }) => answer(saveLetter(context.store, input), errors)),
  removeLetter: ask.removeLetter.handler(({ input, context, errors }) =>
    answer(removeLetter(context.store, input.id), errors),
  ),
  printLetters: ask.printLetters.handler(async ({ input, context, errors }) => {
    const facts = answer(readCourse(context.store, input.courseId, context.now()), errors);
    return answer(await mergeLetters(context.store, facts, input, context.now()), errors);
  }),
  tick: ask.tick.handler(({ input, context, errors }) => answer(tick(context.store, input, context.now()), errors)),
  saveNote: ask.saveNote.handler(({ input, context, errors }) => answer(saveNote(context.store, input), errors)),
  removeNote: ask.removeNote.handler(({ input, context, errors }) =>
    answer(removeNote(context.store, input.id), errors),
  ),
  log: ask.log.handler(({ input, context, errors }) => answer(logMinutes(context.store, input, context.now()), errors)),
  use: ask.use.handler(({ input, context, errors }) =>
    answer(useMaterial(context.store, input, context.now()), errors),
  ),
  certificates: ask.certificates.handler(async ({ input, context, errors }) =>
    answer(await certificates(context.store, input.courseId, context.now()), errors),
  ),
  printReport: ask.printReport.handler(async ({ input, context, errors }) => {
    const facts = answer(readCourse(context.store, input.courseId, context.now()), errors);
    const { habits } = readHabits(context.store.db);
    return printReport(facts.course.title, gatheringOf(context.store, facts, context.now()), facts, habits);
  }),
};

function opened(store: Workshop, courseId: string, nowMs: number): Result<Gathering> {
  const facts = readCourse(store, courseId, nowMs);
  return facts.ok ? ok(gatheringOf(store, facts.value, nowMs)) : facts;
}

const placingSeconds = 5;

async function place(store: Workshop, courseId: string): Promise<Result<Placed>> {
  const confirmed = peopleOf(store.db, courseId).filter(({ standing }) => standing === 'confirmed');
  const people = sleepersOf(confirmed, toldBy(store.db, courseId, confirmed));
  const rooms = listRooms(store.db);
  if (people.length === 0) return refuse('Nobody is confirmed who sleeps here, so no bed is wanted.');
  if (rooms.length === 0) return refuse('There are no rooms yet. Add them first.');
  const input: ResidenceInput = { people, rooms, seconds: placingSeconds };
  const found = await inThread<ResidenceInput, never, Result<Placing>>('residence-worker', input, { onStop: 'end' });
  if (!found.ok) return found;
  const kept = keepBeds(store, courseId, found.value.rooms);
  if (!kept.ok) return kept;
  return ok({ placed: kept.value, remarks: found.value.remarks, proven: found.value.proven });
}

const kitchen = [
  'Diets and allergies are as people told them. Ask each of them before the first meal, read every label, and follow your local rules for food and allergens.',
];

async function mealsSheet(
  store: Workshop,
  courseId: string,
  form: 'csv' | 'pdf',
  nowMs: number,
): Promise<Result<FileAnswer>> {
  const facts = readCourse(store, courseId, nowMs);
  if (!facts.ok) return facts;
  const { meals } = gatheringOf(store, facts.value, nowMs);
  if (meals.length === 0) return refuse('Nobody is confirmed, or no meal is served, so there is nothing to count.');
  const { title, startsOn } = facts.value.course;
  if (form === 'pdf') return ok(await printMeals(title, meals, kitchen, readHabits(store.db).habits));
  const rows = meals.map((line) => [
    line.date,
    line.meal,
    String(line.people),
    line.diets.map(({ diet, people }) => `${people} ${diet}`).join('; '),
    line.without.map(({ name, foods }) => `${name}: ${foods.join(', ')}`).join('; '),
  ]);
  const bytes = writeTable([['Date', 'Meal', 'People', 'By diet', 'Must not be in it'], ...rows], ',');
  return ok({
    fileName: `meals-${startsOn}.csv`,
    mediaType: 'text/csv',
    base64: Buffer.from(bytes).toString('base64'),
  });
}

async function certificates(store: Workshop, courseId: string, nowMs: number): Promise<Result<FileAnswer>> {
  const facts = readCourse(store, courseId, nowMs);
  if (!facts.ok) return facts;
  const { guests, programme } = gatheringOf(store, facts.value, nowMs);
  const people = guests.filter(({ standing }) => standing === 'confirmed');
  if (people.length === 0) return refuse('Nobody is confirmed, so there is nobody to certify.');
  const { title, days, startsOn } = facts.value.course;
  const teachers = programme.helpers
    .filter(({ role }) => role === 'tutor')
    .map(({ name }) => name)
    .join(', ');
  return ok(
    await printCertificates(
      { title, days, startsOn, endsOn: facts.value.endsOn, teachers },
      people.map(({ name, met }) => ({
        name,
        lines: met.map(({ operationId, how }) => ({ operation: nameWith(facts.value.ownNames, operationId), how })),
      })),
      readHabits(store.db).habits,
    ),
  );
}
