/** The treatment record of a book: what only a person can say of it, how it reads, and its three printed shapes. */
import { type } from '@orpc/contract';
import { z } from 'zod';
import type { RecordDocument, RecordWords } from '../treatment/record-shape.ts';
import { ask, date, type FileAnswer, id } from './ask.ts';

export type RecordOpened = Readonly<{
  bookId: string;
  words: RecordWords;
  /** As it would be printed now. */
  document: RecordDocument;
}>;

const prose = z.string().max(20_000, 'This is longer than 20,000 characters.');
const short = z.string().max(500, 'This is longer than 500 characters.');

const changes = z.object({
  description: prose.optional(),
  conditionBefore: prose.optional(),
  purpose: prose.optional(),
  departures: prose.optional(),
  kept: z
    .array(z.object({ what: short, where: short }))
    .max(200, 'Two hundred things kept are as many as one record holds.')
    .optional(),
  conditionAfter: prose.optional(),
  care: prose.optional(),
  signedBy: short.optional(),
  signedOn: date.nullable().optional(),
});

export const recordContract = {
  open: ask.input(z.object({ bookId: id })).output(type<RecordOpened>()),
  save: ask.input(z.object({ bookId: id, changes })).output(type<RecordOpened>()),
  /** PDF on the workshop's paper. */
  print: ask.input(z.object({ bookId: id })).output(type<FileAnswer>()),
  /** One HTML file that needs nothing else: pictures within it, no script. */
  page: ask.input(z.object({ bookId: id })).output(type<FileAnswer>()),
  /** A card to lie in the book: what a reader must know. */
  card: ask.input(z.object({ bookId: id })).output(type<FileAnswer>()),
};
