/** The fates of the whole shelf decided together: proposed with reasons and prices, accepted by a person. */
import { eventIterator, type } from '@orpc/contract';
import { z } from 'zod';
import { type Fate, fates, levels } from '../book/book.ts';
import type { CourseNeed } from '../triage/fates.ts';
import { ask, id, line } from './ask.ts';

/** What there is to decide and with what, before a person changes it. */
export type FatesStart = Readonly<{
  /** Bench minutes of a usual week. */
  weekMinutes: number;
  /** Books that could be decided; those decided by the person stay so and count. */
  open: number;
  locked: number;
  /** Books under a possible hazard, which wait until somebody has looked. */
  toLookAt: number;
  /** Waiting books of which no damage is noted: nobody has looked, so nothing can be said of them. */
  unsurveyed: number;
  /** By course that is still to come, the copies its people would need and do not have. */
  courses: readonly Readonly<{ id: string; title: string; startsOn: string; people: number; needs: readonly Need[] }>[];
}>;
export type Need = Omit<CourseNeed, 'id'>;

export type FateLine = Readonly<{
  bookId: string;
  title: string;
  shelfMark: string | null;
  /** What stands in the book now. */
  now: Fate | null;
  fate: Fate;
  locked: boolean;
  /** Bench minutes this fate takes. */
  minutes: number;
  reason: string;
  /**
   * The next best fate and what the whole plan would lose by it, out of 100 for the most worthwhile book (below 0 what it would
   * gain, where a person has decided); null where none is open.
   */
  otherwise: Readonly<{ fate: Fate; loses: number }> | null;
}>;

export type FatesProposed = Readonly<{
  /** `best` is proven; `good` is the best found in the time. */
  status: 'best' | 'good';
  /** Share by which the plan's worth may still be below the best; null where no bound was found. */
  gap: number | null;
  usedMinutes: number;
  handMinutes: number;
  hourWorth: number;
  short: readonly Readonly<{ need: Need; copies: number }>[];
  decisions: readonly FateLine[];
  remarks: readonly string[];
}>;

/** What deciding says while it works; the last one is `done`. */
export type Deciding =
  | Readonly<{ kind: 'progress'; words: string }>
  | Readonly<{ kind: 'done'; proposed: FatesProposed }>;

export type Accepted = Readonly<{
  changed: number;
  /** Books that keep what they had, each with why. */
  left: readonly Readonly<{ bookId: string; title: string; because: string }>[];
}>;

export const fatesContract = {
  start: ask.output(type<FatesStart>()),
  /** Weighs all open books together. `stop` ends it early, and the last piece is the best so far. Nothing is changed by it. */
  propose: ask
    .input(
      z.object({
        handMinutes: z
          .int('Give whole minutes.')
          .min(0, 'Hours cannot be negative.')
          .max(600_000, 'More than 10,000 hours cannot be planned.'),
        needs: z
          .array(
            z.object({
              operationId: line,
              level: z.enum(levels),
              copies: z.int('Copies are counted whole.').min(0, 'There cannot be fewer than no copies.').max(200),
            }),
          )
          .max(200),
        seconds: z.number().min(0.1).max(60),
      }),
    )
    .output(eventIterator(type<Deciding>())),
  stop: ask.output(type<Readonly<{ stopped: boolean }>>()),
  /** Sets these fates in one step that undo takes back whole; never of a book a person has decided, never one a rule forbids. */
  accept: ask
    .input(
      z.object({
        decisions: z
          .array(z.object({ bookId: id, fate: z.enum(fates) }))
          .min(1, 'Choose at least one book.')
          .max(20_000),
      }),
    )
    .output(type<Accepted>()),
};
