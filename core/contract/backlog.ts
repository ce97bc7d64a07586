/** The unsurveyed backlog sized up from a random sample: how many books, which, and what they say of all. */
import { type } from '@orpc/contract';
import { z } from 'zod';
import type { Interval, SampleSize } from '../triage/sample.ts';
import { ask, type FileAnswer, id } from './ask.ts';

export const strataBy = ['nothing', 'lot', 'place'] as const;
export type StrataBy = (typeof strataBy)[number];

/** Shares of one, not of a hundred. */
const wish = z.object({
  confidence: z.number(),
  share: z.number(),
  margin: z.number(),
  by: z.enum(strataBy),
});
export type BacklogWish = Readonly<z.infer<typeof wish>>;

export type BacklogPlan = Readonly<{
  /** Books of which nobody has noted anything. */
  unsurveyed: number;
  /** How many strata they fall into by what was chosen. */
  strata: number;
  size: SampleSize;
  /** Books that would be drawn: a stratum gives two at least. */
  books: number;
}>;

export type WalkStop = Readonly<{
  bookId: string;
  title: string;
  shelfMark: string | null;
  place: string;
  surveyed: boolean;
}>;

export type Backlog = Readonly<{
  drawnAt: number;
  wish: BacklogWish;
  /** Unsurveyed books when it was drawn: those the estimate is of. */
  books: number;
  drawn: number;
  seen: number;
  /** Drawn books that have since been removed from the shelf. */
  gone: number;
  /** In the order of places and shelf marks. */
  walk: readonly WalkStop[];
  /** Null while too few are seen. */
  estimate: Readonly<{
    minutes: Interval;
    /** At the workshop's hourly rate; null where none is set. */
    costMinor: Interval | null;
    hazards: Interval;
    currency: string;
  }> | null;
  remarks: readonly string[];
}>;

export const backlogContract = {
  plan: ask.input(wish).output(type<BacklogPlan>()),
  /** Draws a sample and keeps it in place of the one before. */
  draw: ask.input(wish).output(type<Backlog>()),
  current: ask.output(type<Backlog | null>()),
  /** The drawn books as a walk along the shelves, with room to write. */
  print: ask.output(type<FileAnswer>()),
  /** The same sheet for any books, to survey them by hand at the shelf. */
  sheet: ask
    .input(
      z.object({
        ids: z
          .array(id)
          .min(1, 'Choose at least one book.')
          .max(1000, 'A sheet of more than 1,000 books is not carried along a shelf; choose fewer.'),
      }),
    )
    .output(type<FileAnswer>()),
};
