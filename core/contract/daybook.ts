/** The Day-book: what was done, by day and by book, and the record that goes with a book. */
import { type } from '@orpc/contract';
import { z } from 'zod';
import type { StockUnit } from '../stock/material.ts';
import { ask, date, type FileAnswer, id, line } from './ask.ts';

export type DayEntry = Readonly<{
  id: string;
  /** UTC milliseconds. */
  at: number;
  bookId: string | null;
  book: string | null;
  operationId: string | null;
  operation: string | null;
  minutes: number | null;
  note: string;
  /** The entry this one corrects; null where it corrects none. */
  answers: string | null;
  /** True where another entry corrects it. */
  corrected: boolean;
}>;

/** A line of the ledger that went into a book. */
export type UsedLine = Readonly<{
  movementId: string;
  at: number;
  bookId: string | null;
  book: string;
  materialId: string;
  material: string;
  unit: StockUnit;
  /** What went out, in the material's unit; negative where a line answers one that was wrong. */
  quantity: number;
  /** By the price of its lot, else of a pack. */
  costMinor: number;
  lot: string;
  reason: string;
  /** Answered, or itself an answer. */
  closed: boolean;
}>;

/** A lot to choose from. */
export type UseLot = Readonly<{ id: string; words: string; quantity: number; past: boolean }>;

/** A step finished at the bench whose materials are still to be booked out, as planned. */
export type PendingUse = Readonly<{
  bookId: string;
  book: string;
  operationId: string;
  operation: string;
  finishedAt: number;
  lines: readonly Readonly<{
    materialId: string;
    material: string;
    unit: StockUnit;
    quantity: number;
    /** How it was reckoned. */
    working: string;
    onHand: number;
    /** What it comes out of, the first to expire first, in words. */
    from: string;
    lots: readonly UseLot[];
  }>[];
  /** What could not be counted, in words. */
  remarks: readonly string[];
}>;

export type OperationSum = Readonly<{ operation: string; minutes: number; times: number }>;

/** A period added up. */
export type Summary = Readonly<{
  from: string;
  to: string;
  currency: string;
  minutes: number;
  byOperation: readonly OperationSum[];
  byDay: readonly Readonly<{ day: string; minutes: number }>[];
  byBook: readonly Readonly<{
    bookId: string | null;
    book: string;
    minutes: number;
    materialsMinor: number;
    finished: boolean;
  }>[];
  finished: readonly Readonly<{ bookId: string; book: string; on: string }>[];
  materials: readonly Readonly<{
    materialId: string;
    material: string;
    unit: StockUnit;
    quantity: number;
    wasted: number;
    costMinor: number;
  }>[];
  /** Null where no rate an hour is set. */
  labourMinor: number | null;
  materialsMinor: number;
  /** What spoilt, at its cost. */
  wastedMinor: number;
  /** Steps finished in the period: what they were reckoned to take and what they took. */
  estimates: readonly Readonly<{
    operation: string;
    n: number;
    estimatedMinutes: number;
    actualMinutes: number;
    /** Actual over estimated. */
    ratio: number;
  }>[];
}>;

/** What a page of the day-book adds up to. */
export type DayBook = Readonly<{
  entries: readonly DayEntry[];
  /** True where older entries were left out. */
  more: boolean;
  /** Hands-on minutes by operation over all that is shown, most first. */
  byOperation: readonly OperationSum[];
  /** What went into books on the days that are shown. */
  used: readonly UsedLine[];
}>;

const minutes = z.int('Whole minutes.').min(0, 'Minutes cannot be negative.').max(1440, 'A day has 1440 minutes.');
const period = z.object({ from: date, to: date });

const useShape = z.object({
  bookId: id,
  operationId: id,
  finishedAt: z.int(),
  lines: z
    .array(
      z.object({
        materialId: id,
        quantity: z
          .number('Give the quantity as a number.')
          .min(0, 'What was used cannot be less than nothing.')
          .max(10_000_000),
        /** The lot a person picked. */
        lotId: id.optional(),
      }),
    )
    .max(100),
  /** Why more was used than the ledger held, or what differed. */
  note: line,
});
export type UseInput = Readonly<z.infer<typeof useShape>>;

export const daybookContract = {
  list: ask.input(z.object({ bookId: id.optional(), limit: z.int().min(1).max(5000) })).output(type<DayBook>()),
  /** Writes something down that the bench clock did not. */
  add: ask
    .input(
      z.object({
        bookId: id.nullable(),
        minutes: minutes.nullable(),
        note: line.min(1, 'Say what was done.'),
        /** The day it was done; today where it is left out. */
        on: date.optional(),
        operationId: id.nullable().optional(),
      }),
    )
    .output(type<DayEntry>()),
  /** An entry is never changed: another takes it back, and with `minutes` a third says what is right. */
  correct: ask
    .input(
      z.object({
        entryId: id,
        reason: line.min(1, 'Say what was wrong with it.'),
        minutes: minutes.nullable().optional(),
      }),
    )
    .output(type<Readonly<{ words: string }>>()),
  /** Steps finished at the bench whose materials are still in the ledger, the earliest first. */
  uses: ask.output(type<readonly PendingUse[]>()),
  /** Books the materials of finished steps out of the ledger, each step once. */
  bookUses: ask
    .input(z.object({ uses: z.array(useShape).min(1, 'Choose a step.').max(200) }))
    .output(type<Readonly<{ booked: number; words: string }>>()),
  /** Operations to write time under. */
  operations: ask.output(type<readonly Readonly<{ id: string; name: string }>[]>()),
  summary: ask.input(period).output(type<Summary>()),
  exportSummary: ask.input(period).output(type<FileAnswer>()),
  printSummary: ask.input(period).output(type<FileAnswer>()),
  /** Books whose title or mark holds these words, to write about. */
  books: ask
    .input(z.object({ words: z.string().max(200) }))
    .output(type<readonly Readonly<{ id: string; title: string }>[]>()),
  /** A book's treatment record as PDF: what it is, how it was found, what was proposed, agreed and done. */
  printRecord: ask.input(z.object({ bookId: id })).output(type<FileAnswer>()),
};
