/** The course's decisions: pairs kept or ruled out, allocations by name, putting one right, moving the week, how many it holds, money. */
import { eventIterator, type } from '@orpc/contract';
import { z } from 'zod';
import type { AllocationValue } from '../course/allocation.ts';
import type { HowMany } from '../course/how-many.ts';
import type { Decision, Sensitivity } from '../course/money.ts';
import { ask, date, type FileAnswer, id, line } from './ask.ts';
import type { Course } from './course.ts';

/** `given` by an allocation, `kept` by a person, `never` by a person, `barred` by a hazard, an allergy, level or hours; else `free`. */
export type PairStanding = 'given' | 'kept' | 'never' | 'barred' | 'free';

export type PairCell = Readonly<{ personId: string; standing: PairStanding; why: string }>;

export type CoursePairs = Readonly<{
  copies: readonly Readonly<{
    bookId: string;
    title: string;
    level: string;
    ruined: string | null;
    cells: readonly PairCell[];
  }>[];
  people: readonly Readonly<{ personId: string; name: string; level: string }>[];
  sharings: readonly Readonly<{ id: string; name: string; madeAt: number; pairs: number; value: AllocationValue }>[];
}>;

export type SharingPerson = Readonly<{
  name: string;
  givesUp: readonly string[];
  gets: readonly string[];
  noLonger: readonly string[];
  newly: readonly string[];
}>;

export type SharingsCompared = Readonly<{
  first: Readonly<{ name: string; value: AllocationValue }>;
  second: Readonly<{ name: string; value: AllocationValue }>;
  /** Copies that change hands. */
  moves: number;
  people: readonly SharingPerson[];
  better: 'first' | 'second' | 'neither';
}>;

/** A copy that would change hands; names and titles as the page says them, null for nobody. */
export type MendChange = Readonly<{
  bookId: string;
  title: string;
  from: string | null;
  to: string | null;
  toId: string | null;
  reason: string;
}>;

export type Mending =
  | Readonly<{ kind: 'progress'; words: string }>
  | Readonly<{
      kind: 'proposed';
      changes: readonly MendChange[];
      proven: boolean;
      /** Copies that stay because they are begun. */
      begun: number;
    }>
  | Readonly<{ kind: 'impossible'; conflict: readonly string[]; smallest: boolean; waysOut: readonly string[] }>;

const trouble = z.object({
  courseId: id,
  /** Who drops out; null where nobody does. */
  withoutId: id.nullable(),
  /** The copy that is spoilt; null where none is. */
  ruinedId: id.nullable(),
});
export type CourseTrouble = Readonly<z.infer<typeof trouble>>;

const instant = z.int('Give an instant.').min(0).max(253_402_300_799_000);
const weekChange = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('move'), taskId: id, startAt: instant }),
  z.object({ kind: z.literal('pin'), taskId: id }),
  z.object({ kind: z.literal('unpin'), taskId: id }),
  /** Everything from now on, around what is pinned. */
  z.object({ kind: z.literal('rest') }),
]);
export type WeekChange = Readonly<z.infer<typeof weekChange>>;

export type WeekMove = Readonly<{ who: string; book: string; label: string; from: number; to: number }>;
export type WeekReplanned = Readonly<{ course: Course; moves: readonly WeekMove[] }>;

export type Counting = Readonly<{ kind: 'progress' | 'done'; words: string; soFar: HowMany }>;

const money = z.int('Give an amount of money.').min(0, 'An amount cannot be negative.').max(1_000_000_000);

export type CourseTerms = Readonly<{ depositMinor: number; decideOn: string | null; lostMinor: number }>;

export type CourseMoney = Readonly<{
  terms: CourseTerms;
  deposits: readonly Readonly<{
    personId: string;
    name: string;
    standing: string;
    paidMinor: number;
    paidOn: string | null;
  }>[];
  /** Of the confirmed. */
  depositsMinor: number;
  owing: readonly string[];
  decision: Decision;
  /** Days from now to the day of decision; negative once it is over, null where none is set. */
  daysLeft: number | null;
  /** What is to be decided, in a sentence. */
  words: string;
  /** People the course could do without, and as a share; null where it never pays. */
  margin: Readonly<{ people: number; share: number }> | null;
  sensitivity: readonly Sensitivity[];
  /** Left over by fee (fractions of the present one) and people. */
  grid: Readonly<{
    people: readonly number[];
    fees: readonly Readonly<{ change: number; results: readonly number[] }>[];
  }>;
}>;

const named = line.min(1, 'Give it a name.').max(200, 'Give it a shorter name.');

export const coursePlanContract = {
  pairs: ask.input(z.object({ courseId: id })).output(type<CoursePairs>()),
  /** Keeps a copy for a person, rules the pair out, or leaves it to the next allocation. */
  rule: ask
    .input(z.object({ courseId: id, personId: id, bookId: id, rule: z.enum(['keep', 'never', 'free']) }))
    .output(type<CoursePairs>()),
  keepSharing: ask.input(z.object({ courseId: id, name: named })).output(type<CoursePairs>()),
  dropSharing: ask.input(z.object({ courseId: id, id })).output(type<CoursePairs>()),
  /** Hands the copies out as they are kept under this name, where that is still allowed. */
  takeSharing: ask.input(z.object({ courseId: id, id })).output(type<CoursePairs>()),
  /** `now` stands for whose the copies are at present. */
  compare: ask.input(z.object({ courseId: id, first: id, second: id })).output(type<SharingsCompared>()),
  /** The fewest copies changing hands by which everything is met again; changes nothing. `course.stop` ends it early. */
  proposeMend: ask
    .input(trouble.extend({ seconds: z.number().min(0.1).max(60) }))
    .output(eventIterator(type<Mending>())),
  /** Makes the proposed changes and takes the person or the copy out, in one step. */
  acceptMend: ask
    .input(
      trouble.extend({
        what: line,
        changes: z.array(z.object({ bookId: id, toId: id.nullable() })).max(500),
      }),
    )
    .output(type<Course>()),
  replan: ask.input(z.object({ courseId: id, change: weekChange })).output(type<WeekReplanned>()),
  /** How many people it holds; `course.stop` ends it early. */
  howMany: ask
    .input(z.object({ courseId: id, from: z.int().min(1).max(40), to: z.int().min(1).max(40) }))
    .output(eventIterator(type<Counting>())),
  money: ask.input(z.object({ courseId: id })).output(type<CourseMoney>()),
  setTerms: ask
    .input(z.object({ courseId: id, depositMinor: money, decideOn: date.nullable(), lostMinor: money }))
    .output(type<CourseMoney>()),
  /** 0 takes the payment off the list. */
  setDeposit: ask
    .input(z.object({ courseId: id, personId: id, paidMinor: money, paidOn: date }))
    .output(type<CourseMoney>()),
  /** iCalendar of `everything`, of one person or tutor by id, or a zip of all of them. */
  calendar: ask
    .input(z.object({ courseId: id, whose: z.union([z.literal('everything'), z.literal('all in one zip'), id]) }))
    .output(type<FileAnswer>()),
};
