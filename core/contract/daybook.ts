/** The Day-book: what was done, by day and by book, and the record that goes with a book. */
import { type } from '@orpc/contract';
import { z } from 'zod';
import { ask, type FileAnswer, id, line } from './ask.ts';

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
}>;

/** What a page of the day-book adds up to. */
export type DayBook = Readonly<{
  entries: readonly DayEntry[];
  /** True where older entries were left out. */
  more: boolean;
  /** Hands-on minutes by operation over all that is shown, most first. */
  byOperation: readonly Readonly<{ operation: string; minutes: number; times: number }>[];
}>;

export const daybookContract = {
  list: ask.input(z.object({ bookId: id.optional(), limit: z.int().min(1).max(5000) })).output(type<DayBook>()),
  /** Writes something down that the bench clock did not. */
  add: ask
    .input(
      z.object({
        bookId: id.nullable(),
        minutes: z
          .int('Whole minutes.')
          .min(0, 'Minutes cannot be negative.')
          .max(1440, 'A day has 1440 minutes.')
          .nullable(),
        note: line.min(1, 'Say what was done.'),
      }),
    )
    .output(type<DayEntry>()),
  /** Books whose title or mark holds these words, to write about. */
  books: ask
    .input(z.object({ words: z.string().max(200) }))
    .output(type<readonly Readonly<{ id: string; title: string }>[]>()),
  /** A book's treatment record as PDF: what it is, how it was found, what was proposed, agreed and done. */
  printRecord: ask.input(z.object({ bookId: id })).output(type<FileAnswer>()),
};
