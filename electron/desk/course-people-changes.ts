/** What a person changes about a course's people, rooms and programme. Nobody is placed, by hand either, against a stated need. */

import type { PersonInput } from '../../core/contract/course.ts';
import type { GuestInput, NoteInput, ProgrammeInput, RoomInput, TalkInput } from '../../core/contract/course-people.ts';
import { letterTrouble } from '../../core/course/letter-text.ts';
import { operationName } from '../../core/course/names.ts';
import { inOrder } from '../../core/course/programme.ts';
import { levelFrom } from '../../core/course/questionnaire.ts';
import { placingTrouble } from '../../core/course/residence.ts';
import { assert, ok, type Result, refuse } from '../../core/result.ts';
import { enter } from '../../core/stock/ledger.ts';
import { takeOldest } from '../../core/stock/lots.ts';
import type { StockUnit } from '../../core/stock/material.ts';
import { dateOf, dayNumber } from '../../core/stock/projection.ts';
import { attentions } from '../../core/treatment/treatment.ts';
import { copiesOf, courseById, peopleOf, personById, syllabusOf } from '../store/course.ts';
import {
  allOf,
  dateById,
  datesOf,
  frameOf,
  guestOf,
  guestsIn,
  listLetters,
  listRooms,
  metOf,
  notesOf,
  onHandOfMaterial,
  plannedOf,
  talksOf,
} from '../store/course-people.ts';
import { libraryOf } from '../store/operations.ts';
import { course, courseCopy, entry, person, syllabusItem } from '../store/schema.ts';
import { courseDate, courseFrame, courseNote, courseTalk, guest, letter, met, room } from '../store/schema-course.ts';
import { coursePair, courseRuined, courseSharing, courseTerms, deposit } from '../store/schema-course-plan.ts';
import { listLots, putPortions } from '../store/stockroom-lots.ts';
import type { Change, Workshop } from '../store/workshop.ts';
import { sleepersOf, type Told, toldBy, toldOf } from './course-guests.ts';

type Kept = Result<Readonly<{ id: string }>>;

const gone = 'This person is not on the list any more.';
const noCourse = 'This course is not there any more.';

/** Keeps what a person told; their level follows from their answers unless it is set by hand. */
export function saveGuest(store: Workshop, input: GuestInput & Readonly<{ personId: string }>): Kept {
  const { personId, ...told } = input;
  const found = personById(store.db, personId);
  if (!found) return refuse(gone, 'personId');
  if (told.arrivesOn !== null && told.leavesOn !== null && told.arrivesOn > told.leavesOn) {
    return refuse('This person would leave before they arrive.', 'leavesOn');
  }
  const row = {
    ...told,
    foodAllergies: tidied(told.foodAllergies),
    shareWith: told.shareWith.filter((id) => id !== personId),
    notWith: told.notWith.filter((id) => id !== personId),
  };
  return store.write(`Change what ${found.name} told`, (change) => {
    putGuest(store, change, personId, row);
    const { level } = levelFrom(told.answers, told.booksDone, libraryOf(store.db));
    if (!told.levelByHand) change.update(person, personId, { level });
    return { id: personId };
  });
}

/** Puts in or changes the one row of a person. */
export function putGuest(store: Workshop, change: Change, personId: string, patch: Partial<Told>): void {
  const row = guestOf(store.db, personId);
  if (row) change.update(guest, row.id, patch);
  else change.insert(guest, { ...toldOf(null), ...patch, personId });
}

/** Moves several people to one standing; whoever is not confirmed holds no copy and no bed. */
export function setStanding(store: Workshop, personIds: readonly string[], standing: PersonInput['standing']): Kept {
  const people = personIds.flatMap((id) => personById(store.db, id) ?? []);
  const [first] = people;
  if (!first) return refuse(gone, 'personIds');
  const who = people.length === 1 ? first.name : `${people.length} people`;
  return store.write(`${who}: ${standing}`, (change) => {
    for (const { id, courseId } of people) {
      change.update(person, id, { standing });
      if (standing === 'confirmed') continue;
      freeCopies(store, change, courseId, id);
      const row = guestOf(store.db, id);
      if (row) change.update(guest, row.id, { roomId: null, roomByHand: false });
    }
    return { id: first.courseId };
  });
}

function freeCopies(store: Workshop, change: Change, courseId: string, personId: string): void {
  for (const row of copiesOf(store.db, courseId)) {
    if (row.personId === personId) change.update(courseCopy, row.id, { personId: null, locked: false, reason: '' });
  }
}

/** What hangs on a person goes before they do; undo brings it back with them. */
export function letGo(store: Workshop, change: Change, personId: string): void {
  const all = allOf(store.db, personId);
  for (const { id } of all.told) change.remove(guest, id);
  for (const { id } of all.met) change.remove(met, id);
  for (const { id } of all.pairs) change.remove(coursePair, id);
  for (const { id } of all.deposits) change.remove(deposit, id);
  for (const { id } of all.notes) change.update(courseNote, id, { personId: null });
  for (const { id } of all.dayBook) change.update(entry, id, { personId: null });
}

/** What hangs on a course beside its people, copies, syllabus and plans. */
export function letCourseGo(store: Workshop, change: Change, courseId: string): void {
  const { db } = store;
  const frame = frameOf(db, courseId);
  if (frame) change.remove(courseFrame, frame.id);
  const planned = plannedOf(db, courseId);
  for (const { id } of planned.ruined) change.remove(courseRuined, id);
  for (const { id } of planned.sharings) change.remove(courseSharing, id);
  for (const { id } of planned.terms) change.remove(courseTerms, id);
  for (const { id } of datesOf(db, courseId)) change.remove(courseDate, id);
  for (const { id } of talksOf(db, courseId)) change.remove(courseTalk, id);
  for (const { id } of notesOf(db, courseId)) change.remove(courseNote, id);
}

/** Meals, helpers, reading and talks of a past course; its people and dates stay with it. */
export function copyProgramme(store: Workshop, change: Change, from: string, to: string): void {
  const frame = frameOf(store.db, from);
  if (frame) {
    const { id: _, ...row } = frame;
    change.insert(courseFrame, { ...row, courseId: to, firm: false });
  }
  for (const { id: _, ...talk } of talksOf(store.db, from)) change.insert(courseTalk, { ...talk, courseId: to });
}

export function saveRoom(store: Workshop, input: RoomInput & Readonly<{ id?: string | undefined }>): Kept {
  const { id, ...row } = input;
  const taken = listRooms(store.db).find((one) => one.name === row.name && one.id !== id);
  if (taken) return refuse(`There is a room called ${row.name} already.`, 'name');
  return store.write(id === undefined ? `Add the room ${row.name}` : `Change the room ${row.name}`, (change) => {
    if (id === undefined) return { id: change.insert(room, row) };
    change.update(room, id, row);
    return { id };
  });
}

/** A room goes; whoever slept there has no bed. */
export function removeRoom(store: Workshop, id: string): Kept {
  const found = listRooms(store.db).find((one) => one.id === id);
  if (!found) return refuse('This room is not there any more.', 'id');
  return store.write(`Remove the room ${found.name}`, (change) => {
    for (const row of guestsIn(store.db, id)) change.update(guest, row.id, { roomId: null, roomByHand: false });
    change.remove(room, id);
    return { id };
  });
}

type SetRoom = Readonly<{ personId: string; roomId: string | null; byHand: boolean }>;

export function setRoom(store: Workshop, { personId, roomId, byHand }: SetRoom): Kept {
  const found = personById(store.db, personId);
  if (!found) return refuse(gone, 'personId');
  const rooms = listRooms(store.db);
  const chosen = rooms.find(({ id }) => id === roomId);
  if (roomId !== null && !chosen) return refuse('This room is not there any more.', 'roomId');
  const confirmed = peopleOf(store.db, found.courseId).filter(({ standing }) => standing === 'confirmed');
  const told = toldBy(store.db, found.courseId, confirmed);
  const sleepers = sleepersOf(confirmed, told);
  if (roomId !== null && !sleepers.some(({ id }) => id === personId)) {
    return refuse(`${found.name} is not confirmed, or sleeps elsewhere.`, 'personId');
  }
  const beds = new Map(
    sleepers.flatMap(({ id }) => (id === personId ? [] : [[id, told.get(id)?.roomId ?? ''] as const])),
  );
  const before = placingTrouble(sleepers, rooms, beds);
  if (roomId !== null) beds.set(personId, roomId);
  const trouble = placingTrouble(sleepers, rooms, beds).find((sentence) => !before.includes(sentence));
  if (trouble !== undefined) return refuse(trouble, 'roomId');
  return store.write(`${found.name} sleeps in ${chosen?.name ?? 'no room yet'}`, (change) => {
    putGuest(store, change, personId, { roomId, roomByHand: byHand && roomId !== null });
    return { id: personId };
  });
}

export function saveProgramme(store: Workshop, input: ProgrammeInput & Readonly<{ courseId: string }>): Kept {
  const { courseId, ...row } = input;
  const found = courseById(store.db, courseId);
  if (!found) return refuse(noCourse, 'courseId');
  const twice = row.meals.find(({ meal }, index) => row.meals.findIndex((one) => one.meal === meal) < index);
  if (twice) return refuse(`There are two of ${twice.meal}.`, 'meals');
  const frame = frameOf(store.db, courseId);
  return store.write(`Change the programme of ${found.title}`, (change) => {
    if (frame) change.update(courseFrame, frame.id, row);
    else change.insert(courseFrame, { ...row, courseId });
    return { id: courseId };
  });
}

export function addDate(store: Workshop, input: Readonly<{ courseId: string; startsOn: string; note: string }>): Kept {
  const found = courseById(store.db, input.courseId);
  if (!found) return refuse(noCourse, 'courseId');
  if (datesOf(store.db, input.courseId).some(({ startsOn }) => startsOn === input.startsOn)) {
    return refuse('This first day is thought of already.', 'startsOn');
  }
  return store.write(`Think of ${input.startsOn} for ${found.title}`, (change) => ({
    id: change.insert(courseDate, input),
  }));
}

export function removeDate(store: Workshop, id: string): Kept {
  const found = dateById(store.db, id);
  if (!found) return refuse('This date is not thought of any more.', 'id');
  return store.write(`Think no more of ${found.startsOn}`, (change) => {
    change.remove(courseDate, id);
    return { id: found.courseId };
  });
}

/** The course moves to this date; who comes early or leaves late does so by as many days as before. */
export function chooseDate(store: Workshop, id: string): Kept {
  const found = dateById(store.db, id);
  const held = found && courseById(store.db, found.courseId);
  if (!found || !held) return refuse('This date is not thought of any more.', 'id');
  const by = dayNumber(found.startsOn) - dayNumber(held.startsOn);
  const moved = (date: string | null) => (date === null ? null : dateOf(dayNumber(date) + by));
  return store.write(`${held.title} is to begin on ${found.startsOn}`, (change) => {
    change.update(course, held.id, { startsOn: found.startsOn });
    // The date it is moved from stays among those thought of.
    if (!datesOf(store.db, held.id).some(({ startsOn }) => startsOn === held.startsOn)) {
      change.insert(courseDate, { courseId: held.id, startsOn: held.startsOn, note: '' });
    }
    for (const { id: personId } of peopleOf(store.db, held.id)) {
      const row = guestOf(store.db, personId);
      if (row) change.update(guest, row.id, { arrivesOn: moved(row.arrivesOn), leavesOn: moved(row.leavesOn) });
    }
    return { id: held.id };
  });
}

export function saveTalk(
  store: Workshop,
  input: TalkInput & Readonly<{ courseId: string; id?: string | undefined }>,
): Kept {
  const { id, ...row } = input;
  const found = courseById(store.db, row.courseId);
  if (!found) return refuse(noCourse, 'courseId');
  if (row.day > found.days) return refuse(`The course lasts ${found.days} days.`, 'day');
  if (row.fromMinute + row.minutes > 1440) return refuse('It would go on past midnight.', 'minutes');
  return store.write(`${row.title} on day ${row.day}`, (change) => {
    if (id === undefined) return { id: change.insert(courseTalk, row) };
    change.update(courseTalk, id, row);
    return { id };
  });
}

export function removeTalk(store: Workshop, id: string): Kept {
  return store.write('Take something off the programme', (change) => {
    change.remove(courseTalk, id);
    return { id };
  });
}

type Lesson = Readonly<{
  courseId: string;
  operationId: string;
  attention: 'none' | 'nearby' | 'beside' | null;
  after: readonly string[];
  reading: string;
}>;

/** How one operation of the syllabus is taught. The tutor is never further off than the operation itself asks. */
export function setLesson(store: Workshop, { courseId, operationId, attention, after, reading }: Lesson): Kept {
  const items = syllabusOf(store.db, courseId);
  const item = items.find((one) => one.operationId === operationId);
  if (!item) return refuse('This operation is not on the syllabus any more.', 'operationId');
  const least = libraryOf(store.db).byId(operationId)?.attention ?? 'none';
  if (attention !== null && attentions.indexOf(attention) < attentions.indexOf(least)) {
    return refuse(
      `“${operationNameIn(store, operationId)}” asks for the tutor ${least}; it cannot be less.`,
      'attention',
    );
  }
  const unknown = after.find((id) => !items.some((one) => one.operationId === id));
  if (unknown !== undefined) return refuse(`“${operationNameIn(store, unknown)}” is not on the syllabus.`, 'after');
  const next = items.map((one) => (one.id === item.id ? { ...one, after } : one));
  const order = inOrder(next);
  if (order === null) return refuse('These would come before each other in a circle.', 'after');
  return store.write(`How ${operationNameIn(store, operationId)} is taught`, (change) => {
    change.update(syllabusItem, item.id, { attention, after: [...after], reading });
    // What comes before stands before, so that it is shown before.
    for (const [position, id] of order.entries()) {
      const row = items.find((one) => one.operationId === id);
      assert(row, 'the order holds what is on the syllabus');
      change.update(syllabusItem, row.id, { position });
    }
    return { id: item.id };
  });
}

export function saveLetter(
  store: Workshop,
  { id, ...row }: Readonly<{ id?: string | undefined; name: string; text: string }>,
): Kept {
  const readable = letterTrouble(row.text);
  if (!readable.ok) return readable;
  if (listLetters(store.db).some((one) => one.name === row.name && one.id !== id)) {
    return refuse(`There is a letter called ${row.name} already.`, 'name');
  }
  return store.write(`Keep the letter ${row.name}`, (change) => {
    if (id === undefined) return { id: change.insert(letter, row) };
    change.update(letter, id, row);
    return { id };
  });
}

export function removeLetter(store: Workshop, id: string): Kept {
  const found = listLetters(store.db).find((one) => one.id === id);
  if (!found) return refuse('This letter is not there any more.', 'id');
  return store.write(`Remove the letter ${found.name}`, (change) => {
    change.remove(letter, id);
    return { id };
  });
}

type Tick = Readonly<{ personId: string; operationId: string; how: string | null }>;

/** Ticks that a person met an operation; null takes the tick away. */
export function tick(store: Workshop, { personId, operationId, how }: Tick, now: number): Kept {
  const found = personById(store.db, personId);
  if (!found) return refuse(gone, 'personId');
  if (libraryOf(store.db).byId(operationId) === undefined)
    return refuse('This is no operation of this bench.', 'operationId');
  const row = metOf(store.db, found.courseId).find(
    (one) => one.personId === personId && one.operationId === operationId,
  );
  const words =
    how === null
      ? `${found.name} has not met ${operationNameIn(store, operationId)}`
      : `${found.name}: ${operationNameIn(store, operationId)}, ${how}`;
  return store.write(words, (change) => {
    if (how === null && row) change.remove(met, row.id);
    else if (how !== null && row) change.update(met, row.id, { how });
    else if (how !== null) change.insert(met, { courseId: found.courseId, personId, operationId, how, at: now });
    return { id: personId };
  });
}

export function saveNote(
  store: Workshop,
  input: NoteInput & Readonly<{ courseId: string; id?: string | undefined }>,
): Kept {
  const { id, ...row } = input;
  if (row.kind === 'incident' && row.done.trim() === '') {
    return refuse('Say what was done, though it be nothing.', 'done');
  }
  return store.write(row.kind === 'incident' ? 'Note an incident' : 'Note a comment', (change) => {
    if (id === undefined) return { id: change.insert(courseNote, row) };
    change.update(courseNote, id, row);
    return { id };
  });
}

export function removeNote(store: Workshop, id: string): Kept {
  return store.write('Take a note away', (change) => {
    change.remove(courseNote, id);
    return { id };
  });
}

type Log = Readonly<{ personId: string; operationId: string; bookId: string | null; minutes: number }>;

export function logMinutes(store: Workshop, { personId, operationId, bookId, minutes }: Log, now: number): Kept {
  const found = personById(store.db, personId);
  if (!found) return refuse(gone, 'personId');
  if (libraryOf(store.db).byId(operationId) === undefined)
    return refuse('This is no operation of this bench.', 'operationId');
  return store.write(`${minutes} minutes of ${found.name} at ${operationNameIn(store, operationId)}`, (change) => ({
    id: change.insert(entry, { at: now, bookId, courseId: found.courseId, personId, operationId, minutes, note: '' }),
  }));
}

type Use = Readonly<{ courseId: string; materialId: string; quantity: number; reason: string }>;

export function useMaterial(store: Workshop, { courseId, materialId, quantity, reason }: Use, now: number): Kept {
  const held = onHandOfMaterial(store.db, materialId);
  const found = courseById(store.db, courseId);
  if (!held) return refuse('This material is not there any more.', 'materialId');
  if (!found) return refuse(noCourse, 'courseId');
  const why = reason.trim() === '' ? `Used on ${found.title}` : reason;
  const line = enter(held.onHandMillionths, { kind: 'out', quantity, reason: why }, held.unit as StockUnit);
  if (!line.ok) return line;
  const { quantityMillionths, ...rest } = line.value;
  const portions = takeOldest(listLots(store.db, materialId), -quantityMillionths);
  return store.write(`Use ${held.name} on ${found.title}`, (change) => {
    const [id] = putPortions(change, portions, { ...rest, materialId, courseId, at: now });
    assert(id !== undefined, 'something that was used is of some lot or of none');
    return { id };
  });
}

/** As this workshop calls it. */
function operationNameIn(store: Workshop, id: string): string {
  return libraryOf(store.db).byId(id)?.name ?? operationName(id);
}

function tidied(words: readonly string[]): string[] {
  return [...new Set(words.map((word) => word.trim()).filter((word) => word !== ''))];
}

/** Keeps the beds found; those given by hand are as they were. */
export function keepBeds(store: Workshop, courseId: string, rooms: ReadonlyMap<string, string>): Result<number> {
  const found = courseById(store.db, courseId);
  if (!found) return refuse(noCourse, 'courseId');
  const people = peopleOf(store.db, courseId).filter(({ standing }) => standing === 'confirmed');
  const written = store.write(`Place the people of ${found.title}`, (change) => {
    for (const { id } of people) {
      const row = guestOf(store.db, id);
      if (row?.roomByHand) continue;
      const roomId = rooms.get(id) ?? null;
      if ((row?.roomId ?? null) !== roomId) putGuest(store, change, id, { roomId });
    }
  });
  return written.ok ? ok(rooms.size) : written;
}
