/** The Reckoner: its arithmetic is the page's own; the workshop prints its drawings and keeps what a book differs in. */
import { type } from '@orpc/contract';
import { z } from 'zod';
import type { KeptMeasures } from '../trade/book-measures.ts';
import { papers } from '../trade/tiles.ts';
import { ask, type FileAnswer, id } from './ask.ts';

/** Fields of one calculation as they are typed. */
const typed = z
  .record(z.string().max(40), z.string().max(20_000, 'This is longer than 20,000 characters.'))
  .refine((fields) => Object.keys(fields).length <= 60, 'No calculation has so many fields.');
const calculation = z.string().max(40);

export const reckonerContract = {
  /** The drawing of a calculation at its own size, on as many sheets as it takes. */
  print: ask
    .input(z.object({ calculation, typed, paper: z.enum(papers), bookId: id.optional() }))
    .output(type<FileAnswer>()),
  /** What was said otherwise of a book, by scope and field. */
  kept: ask.input(z.object({ bookId: id })).output(type<KeptMeasures>()),
  /** Keeps these fields for a book; an empty one goes back to what the book itself gives. */
  keep: ask.input(z.object({ bookId: id, calculation, typed })).output(type<KeptMeasures>()),
};
