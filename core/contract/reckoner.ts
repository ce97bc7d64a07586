/** The Reckoner: its arithmetic is the page's own; the workshop prints its drawings and keeps what a book differs in. */
import { type } from '@orpc/contract';
import { z } from 'zod';
import type { KeptMeasures } from '../trade/own-case.ts';
import { papers } from '../trade/tiles.ts';
import { ask, type FileAnswer, id } from './ask.ts';

/** Fields of one calculation as they are typed. */
const typed = z
  .record(z.string().max(40), z.string().max(20_000, 'This is longer than 20,000 characters.'))
  .refine((fields) => Object.keys(fields).length <= 60, 'No calculation has so many fields.');
const calculation = z.string().max(40);
/** Widths of letters as the page measured them, for lettering: shares of the body's size. */
const glyphs = z.object({
  widths: z.record(z.string().max(4), z.number().min(0).max(4)),
  capHeight: z.number().min(0.1).max(2),
});

export const reckonerContract = {
  /** The drawing of a calculation at its own size, on as many sheets as it takes. */
  print: ask
    .input(z.object({ calculation, typed, paper: z.enum(papers), bookId: id.optional(), glyphs: glyphs.optional() }))
    .output(type<FileAnswer>()),
  /** What was said otherwise of a book, by scope and field. */
  kept: ask.input(z.object({ bookId: id })).output(type<KeptMeasures>()),
  /** Keeps these fields for a book; an empty one goes back to what the book itself gives. */
  keep: ask.input(z.object({ bookId: id, calculation, typed })).output(type<KeptMeasures>()),
};
