/** People of a course: what they told us, where they sleep and eat, letters to them, what they met, and their data taken out or erased. */
import { type } from '@orpc/contract';
import { z } from 'zod';
import type { Level } from '../book/book.ts';
import { answers, meals, needs, roomWishes } from '../course/guest.ts';
import type { MealLine } from '../course/meals.ts';
import type { Lacking } from '../course/next-lot.ts';
import type { ListedPerson } from '../course/people-list.ts';
import { roles, talkKinds } from '../course/programme.ts';
import type { LevelLine } from '../course/report.ts';
import type { StockUnit } from '../stock/material.ts';
import type { Attention } from '../treatment/treatment.ts';
import { ask, date, type FileAnswer, id, line } from './ask.ts';
import { standings } from './course.ts';

const words = z.array(line).max(60);
const minute = z.int('Give a time of day.').min(0).max(1440);

export const guestShape = z.object({
  contact: line,
  arrivesOn: date.nullable(),
  firstMeal: z.enum(meals),
  leavesOn: date.nullable(),
  lastMeal: z.enum(meals),
  sleepsOut: z.boolean(),
  needs: z.array(z.enum(needs)).max(needs.length),
  otherNeeds: line,
  foodAllergies: words,
  wish: z.enum(roomWishes),
  wishQuiet: z.boolean(),
  shareWith: z.array(id).max(60),
  notWith: z.array(id).max(60),
  answers: z.record(z.string().max(64), z.enum(answers)),
  booksDone: z.int('Give a whole number of books.').min(0, 'There cannot be fewer than no books.').max(100_000),
  levelByHand: z.boolean(),
  couldCome: z.array(date).max(40),
});
export type GuestInput = Readonly<z.infer<typeof guestShape>>;

export type Guest = GuestInput &
  Readonly<{
    personId: string;
    name: string;
    standing: string;
    level: Level;
    diet: string;
    /** What the answers come to by the rule, and why. */
    levelTold: Level;
    levelBecause: string;
    roomId: string | null;
    roomByHand: boolean;
    /** Meals they take, of those served. */
    meals: number;
    met: readonly Readonly<{ operationId: string; how: string }>[];
  }>;

export const roomShape = z.object({
  name: line.min(1, 'Give the room a name.'),
  beds: z.int('Give whole beds.').min(1, 'A bedroom has a bed at least.').max(20, 'More than 20 beds is a dormitory.'),
  stepFree: z.boolean(),
  ensuite: z.boolean(),
  quiet: z.boolean(),
  note: line,
});
export type RoomInput = Readonly<z.infer<typeof roomShape>>;

export const programmeShape = z.object({
  firm: z.boolean(),
  meals: z
    .array(
      z.object({
        meal: z.enum(meals),
        at: minute,
        minutes: z.int().min(1, 'A meal takes a minute at least.').max(300),
      }),
    )
    .max(3),
  helpers: z.array(z.object({ name: line, role: z.enum(roles), diet: line, note: line })).max(30),
  reading: line,
});
export type ProgrammeInput = Readonly<z.infer<typeof programmeShape>>;

export const talkShape = z.object({
  kind: z.enum(talkKinds),
  title: line.min(1, 'Give it a title.'),
  day: z.int('Say on which day.').min(1, 'The first day is day 1.').max(28),
  fromMinute: minute,
  minutes: z.int('Give whole minutes.').min(5, 'Five minutes at least.').max(720),
  who: line,
  reading: line,
});
export type TalkInput = Readonly<z.infer<typeof talkShape>>;

export const noteKinds = ['incident', 'comment'] as const;
export const noteShape = z.object({
  kind: z.enum(noteKinds),
  at: z.int(),
  personId: id.nullable(),
  what: line.min(1, 'Say what happened.'),
  done: line,
});
export type NoteInput = Readonly<z.infer<typeof noteShape>>;

const hows = ['watched', 'with help', 'alone'] as const;

export type ReportLine = Readonly<{
  operationId: string;
  name: string;
  times: number;
  planned: number;
  actual: number;
}>;
export type UsedMaterial = Readonly<{ name: string; unit: StockUnit; used: number; planned: number }>;

/** A copy with how hard it is, and why. */
export type HardLine = Readonly<{ bookId: string; points: number; reasons: readonly string[] }>;

/** All that is known of a course's people, house and programme. */
export type Gathering = Readonly<{
  courseId: string;
  startsOn: string;
  endsOn: string;
  guests: readonly Guest[];
  asked: readonly Readonly<{ operationId: string; name: string }>[];
  levelRule: string;
  rooms: readonly (RoomInput & Readonly<{ id: string }>)[];
  /** What is wrong with the places as they are now; a need told later can make a place wrong. */
  placingTrouble: readonly string[];
  /** Names of the confirmed who sleep here and have no bed yet. */
  withoutBed: readonly string[];
  meals: readonly MealLine[];
  programme: ProgrammeInput;
  dates: readonly Readonly<{
    id: string;
    startsOn: string;
    endsOn: string;
    note: string;
    inForce: boolean;
    couldCome: readonly string[];
  }>[];
  talks: readonly (TalkInput & Readonly<{ id: string; outside: boolean }>)[];
  syllabus: readonly Readonly<{
    operationId: string;
    name: string;
    /** What the operation itself asks of the tutor; never less. */
    least: Attention;
    attention: Attention | null;
    after: readonly string[];
    reading: string;
  }>[];
  hard: readonly HardLine[];
  lacking: readonly Lacking[];
  letters: readonly Readonly<{ id: string; name: string; text: string }>[];
  notes: readonly (NoteInput & Readonly<{ id: string; person: string | null }>)[];
  report: Readonly<{ operations: readonly ReportLine[]; levels: readonly LevelLine[]; used: readonly UsedMaterial[] }>;
}>;

export type PeopleList = Readonly<{
  rows: readonly Readonly<{ line: number; person: ListedPerson | null; trouble: string; remarks: readonly string[] }>[];
  good: number;
  /** Headings that mean no column of ours and are left out. */
  leftOut: readonly string[];
}>;

export type Erased = Readonly<{
  /** Entries of the history that named the person. */
  history: number;
  /** Backups made before, which still hold them. */
  backups: readonly string[];
  /** Other rows, as titles and notes of books, in which the same name stands and was left. */
  elsewhere: number;
  sentence: string;
}>;

export type Placed = Readonly<{ placed: number; remarks: readonly string[]; proven: boolean }>;

const ofCourse = z.object({ courseId: id });
const ofPerson = z.object({ personId: id });
const kept = type<Readonly<{ id: string }>>();
const file = type<FileAnswer>();
const csv = z.object({
  courseId: id,
  base64: z.string().max(8_000_000, 'This file is too large for a list of people.'),
});

export const coursePeopleContract = {
  open: ask.input(ofCourse).output(type<Gathering>()),
  saveGuest: ask.input(guestShape.extend({ personId: id })).output(kept),
  setStanding: ask
    .input(z.object({ personIds: z.array(id).min(1).max(500), standing: z.enum(standings, 'Choose a standing.') }))
    .output(kept),
  look: ask.input(csv).output(type<PeopleList>()),
  take: ask.input(csv.extend({ leave: z.array(z.int()).max(10_000) })).output(type<Readonly<{ taken: number }>>()),
  list: ask.input(ofCourse).output(file),

  /** Everything kept about one person, as JSON or to read. */
  takeOut: ask.input(ofPerson.extend({ form: z.enum(['json', 'pdf']) })).output(file),
  /** For good: `name` must be the person's, typed. */
  erase: ask.input(ofPerson.extend({ name: line })).output(type<Erased>()),
  removeBackups: ask.input(z.object({ names: z.array(line).max(200) })).output(type<Readonly<{ removed: number }>>()),

  saveRoom: ask.input(roomShape.extend({ id: id.optional() })).output(kept),
  removeRoom: ask.input(z.object({ id })).output(kept),
  place: ask.input(ofCourse).output(type<Placed>()),
  /** By hand; null takes the bed away. Refuses what stands against a need. */
  setRoom: ask.input(ofPerson.extend({ roomId: id.nullable(), byHand: z.boolean() })).output(kept),
  meals: ask.input(ofCourse.extend({ form: z.enum(['csv', 'pdf']) })).output(file),

  saveProgramme: ask.input(programmeShape.extend({ courseId: id })).output(kept),
  addDate: ask.input(ofCourse.extend({ startsOn: date, note: line })).output(kept),
  removeDate: ask.input(z.object({ id })).output(kept),
  /** Moves the course there; talks, arrivals and departures move with it. */
  chooseDate: ask.input(z.object({ id })).output(kept),
  saveTalk: ask.input(talkShape.extend({ courseId: id, id: id.optional() })).output(kept),
  removeTalk: ask.input(z.object({ id })).output(kept),
  setLesson: ask
    .input(
      ofCourse.extend({
        operationId: id,
        attention: z.enum(['none', 'nearby', 'beside']).nullable(),
        after: z.array(id).max(20),
        reading: line,
      }),
    )
    .output(kept),

  saveLetter: ask
    .input(z.object({ id: id.optional(), name: line.min(1, 'Give the letter a name.'), text: line }))
    .output(kept),
  removeLetter: ask.input(z.object({ id })).output(kept),
  printLetters: ask
    .input(ofCourse.extend({ letterId: id, standing: z.string().max(20), form: z.enum(['txt', 'pdf']) }))
    .output(file),

  tick: ask.input(ofPerson.extend({ operationId: id, how: z.enum(hows).nullable() })).output(kept),
  saveNote: ask.input(noteShape.extend({ courseId: id, id: id.optional() })).output(kept),
  removeNote: ask.input(z.object({ id })).output(kept),
  /** Minutes of a person at an operation on their copy: a line of the day-book. */
  log: ask
    .input(
      ofPerson.extend({
        operationId: id,
        bookId: id.nullable(),
        minutes: z.int('Give whole minutes.').min(1, 'A minute at least.').max(1440),
      }),
    )
    .output(kept),
  /** What was used of the cupboard: a line of the ledger. */
  use: ask
    .input(
      ofCourse.extend({
        materialId: id,
        quantity: z.number('Give an amount.').positive('Give an amount.').max(1_000_000),
        reason: line,
      }),
    )
    .output(kept),
  certificates: ask.input(ofCourse).output(file),
  printReport: ask.input(ofCourse).output(file),
};
