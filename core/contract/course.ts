/** The residential course: its frame, people and syllabus, the copies and whose they are, the week, what it uses up and what it costs. */

import { eventIterator, type } from '@orpc/contract';
import { z } from 'zod';
import type { Level } from '../book/book.ts';
import { levels } from '../book/book.ts';
import type { AllocationValue } from '../course/allocation.ts';
import type { Limit } from '../course/capacity.ts';
import type { Load } from '../course/loads.ts';
import type { OwnNames } from '../course/names.ts';
import type { CourseTaskKind } from '../course/timetable.ts';
import type { StockUnit } from '../stock/material.ts';
import { ask, date, type FileAnswer, id, line } from './ask.ts';
import type { Quality, Tool } from './bench.ts';

/** Only the confirmed are given copies and places in the timetable. */
export const standings = ['interested', 'offered', 'confirmed', 'waiting', 'withdrawn'] as const;

export type CourseLine = Readonly<{
  id: string;
  title: string;
  startsOn: string;
  endsOn: string;
  confirmed: number;
  copies: number;
}>;

const count = (what: string, most: number) =>
  z.int(`Give ${what} as a whole number.`).min(0, `There cannot be fewer than no ${what}.`).max(most);
const money = z.int('Give an amount of money.').min(0, 'An amount cannot be negative.').max(1_000_000_000);
const minute = z.int().min(0).max(1440);

/** Everything about a course that is typed. */
export const frameShape = z.object({
  title: line.min(1, 'Give the course a title.'),
  startsOn: date,
  days: z
    .int('Give whole days.')
    .min(1, 'A course lasts a day at least.')
    .max(28, 'More than four weeks is not a week.'),
  /** Teaching hours of one day, [from, to] minutes after midnight. */
  dayHours: z
    .array(z.tuple([minute, minute]))
    .min(1, 'Give the hours of a teaching day.')
    .max(8),
  tutors: count('tutors', 20),
  helpers: count('helpers', 20),
  benches: count('benches', 100),
  feeMinor: money,
  fixedCostMinor: money,
  perHeadCostMinor: money,
  copiesEach: z.tuple([z.int().min(0).max(12), z.int().min(1, 'Everybody works on one copy at least.').max(12)]),
  spares: count('spare copies', 100),
  note: line,
});
export type CourseFrame = Readonly<z.infer<typeof frameShape>>;

const personShape = z.object({
  name: line.min(1, 'Give the person a name.'),
  level: z.enum(levels, 'Choose newcomer, improver or journeyman.'),
  standing: z.enum(standings, 'Choose a standing.'),
  wishes: z.array(z.string().max(200)).max(60),
  allergies: z.array(z.string().max(200)).max(60),
  diet: line,
  note: line,
});
export type PersonInput = Readonly<z.infer<typeof personShape>>;

export type CoursePerson = PersonInput &
  Readonly<{
    id: string;
    /** Allergies in words that name no material this program knows: nothing is kept from them for these. */
    unknownAllergies: readonly string[];
    minutes: number;
    ownMinutes: number;
    meets: readonly string[];
    /** Required operations that cannot be done without what they must not meet: they watch. */
    excused: readonly string[];
    /** Required operations none of their copies teaches. */
    lacks: readonly string[];
  }>;

export type SyllabusLine = Readonly<{
  operationId: string;
  name: string;
  level: Level;
  required: boolean;
  demonstrationMinutes: number;
  /** Copies on the course that teach it and may be handed out. */
  copies: number;
}>;

export type CopyLine = Readonly<{
  bookId: string;
  title: string;
  shelfMark: string | null;
  /** Where it stands, by its whole path; empty where nobody has said. */
  place: string;
  level: Level;
  /** Bench minutes of its treatment, before a learner's pace. */
  minutes: number;
  teaches: readonly string[];
  /** Why nobody may be given it; null where it may be. */
  blocked: string | null;
  personId: string | null;
  locked: boolean;
  reason: string;
}>;

/** A book of the shelf that could be put on the course. */
export type OfferedCopy = Omit<CopyLine, 'personId' | 'locked' | 'reason'> & Readonly<{ fate: string }>;

export type CourseTask = Readonly<{
  id: string;
  kind: CourseTaskKind;
  personId: string | null;
  bookId: string | null;
  book: string;
  operationId: string;
  label: string;
  startAt: number;
  endAt: number;
  heldUntil: number | null;
  /** Stays at this instant because a person said so; null where the next plan may move it. */
  pinnedAt: number | null;
  tools: readonly string[];
  waitsFor: string;
  cautions: readonly string[];
}>;

export type KitLine = Readonly<{
  materialId: string;
  name: string;
  unit: StockUnit;
  /** By day of the course, first day first; the days add up to `total`. */
  byDay: readonly number[];
  total: number;
  onHand: number;
  /** By how much it runs out on the course's days, after what the bench and other plans take before and what is on its way. */
  missing: number;
  /** What the Stockroom advises to order; 0 where nothing. */
  packs: number;
  costMinor: number;
  /** The day by which it must be ordered; null where nothing is, or no day presses. */
  orderBy: string | null;
  late: boolean;
}>;

/** One thing a person wants to know before saying that the course will work. */
export type Verdict = Readonly<{ what: string; fits: boolean; sentence: string }>;

export type Course = Readonly<{
  id: string;
  frame: CourseFrame;
  endsOn: string;
  timeZone: string;
  currency: string;
  /** What this workshop calls operations of its own. */
  ownNames: OwnNames;
  people: readonly CoursePerson[];
  syllabus: readonly SyllabusLine[];
  copies: readonly CopyLine[];
  /** How good the allocation was when it was made; null before the first. */
  allocation: Readonly<{ madeAt: number; proven: boolean; gap: number | null; value: AllocationValue }> | null;
  timetable: Readonly<{
    madeAt: number;
    quality: Quality;
    /** Made for another allocation than the present one. */
    stale: boolean;
    tasks: readonly CourseTask[];
  }> | null;
  /** Teaching hours of the course's days as instants. */
  hours: readonly Readonly<{ from: number; to: number }>[];
  tools: readonly Tool[];
  loads: readonly Load[];
  limits: readonly Limit[];
  kit: readonly KitLine[];
  kitRemarks: readonly string[];
  money: Readonly<{
    /** People from which it pays; null where the fee does not even cover each person's own costs. */
    breakEven: number | null;
    breakEvenWords: string;
    confirmed: number;
    resultMinor: number;
    /** The fee at which the confirmed would just cover everything. */
    coveringFeeMinor: number;
  }>;
  verdicts: readonly Verdict[];
}>;

/** What allocating says while it works; the last one is `done` or `impossible`. */
export type Allocating =
  | Readonly<{ kind: 'progress'; words: string }>
  | Readonly<{ kind: 'done'; course: Course }>
  | Readonly<{
      kind: 'impossible';
      /** Needs that cannot all be met; without any one of them the rest could be. */
      conflict: readonly string[];
      smallest: boolean;
      waysOut: readonly string[];
    }>;

export type CoursePlanning = Readonly<{ kind: 'progress'; words: string }> | Readonly<{ kind: 'done'; course: Course }>;

const bookIds = z.array(id).max(500, 'A course of more than 500 copies cannot be looked after.');

export const courseContract = {
  list: ask.output(type<readonly CourseLine[]>()),
  open: ask.input(z.object({ id })).output(type<Course>()),
  /** Makes a course, with `copyOf` the syllabus of a past one, or changes its frame. */
  save: ask.input(frameShape.extend({ id: id.optional(), copyOf: id.optional() })).output(type<Course>()),
  remove: ask.input(z.object({ id })).output(type<Readonly<{ title: string }>>()),
  savePerson: ask.input(personShape.extend({ courseId: id, id: id.optional() })).output(type<Course>()),
  removePerson: ask.input(z.object({ id })).output(type<Course>()),
  /** The whole syllabus, in order. */
  setSyllabus: ask
    .input(
      z.object({
        courseId: id,
        items: z
          .array(
            z.object({
              operationId: id,
              required: z.boolean(),
              demonstrationMinutes: z.int('Give whole minutes.').min(0, 'No time is less than none.').max(480),
            }),
          )
          .max(100),
      }),
    )
    .output(type<Course>()),
  /** Books that could be put on, those meant for practice first. */
  offered: ask.input(z.object({ courseId: id })).output(type<readonly OfferedCopy[]>()),
  addCopies: ask.input(z.object({ courseId: id, bookIds })).output(type<Course>()),
  removeCopies: ask.input(z.object({ courseId: id, bookIds })).output(type<Course>()),
  /** Gives a copy to a person, or to nobody, and keeps it so; `locked` false leaves it to the next allocation. */
  give: ask
    .input(z.object({ courseId: id, bookId: id, personId: id.nullable(), locked: z.boolean() }))
    .output(type<Course>()),
  /** Allocates what is not locked. `stop` ends it early, and the last piece is the best so far, if there is one. */
  allocate: ask
    .input(z.object({ courseId: id, seconds: z.number().min(0.1).max(120) }))
    .output(eventIterator(type<Allocating>())),
  /** Lays out the week and saves it. `stop` ends it early, and the last piece is the best so far. */
  plan: ask
    .input(z.object({ courseId: id, seconds: z.number().min(0).max(60) }))
    .output(eventIterator(type<CoursePlanning>())),
  /** Tells allocating or planning that goes on to stop with the best so far. */
  stop: ask.output(type<Readonly<{ stopped: boolean }>>()),
  printTimetable: ask.input(z.object({ courseId: id })).output(type<FileAnswer>()),
  printCards: ask.input(z.object({ courseId: id })).output(type<FileAnswer>()),
};
