/** How the shelves are kept: saved views of the list, places as a tree, lots with what they cost, and labels to print. */
import { type } from '@orpc/contract';
import { z } from 'zod';
import { ask, date, type FileAnswer, id, line } from './ask.ts';
import { type ShelfQuery, shelfQuery } from './shelf.ts';
import { shelfColumns } from './shelf-words.ts';

export type SavedView = Readonly<{ id: string; name: string; query: ShelfQuery; columns: readonly string[] }>;

/** A place in its place; `within` counts the books in it and in all places it holds. */
export type PlaceNode = Readonly<{ id: string; parentId: string | null; name: string; books: number; within: number }>;

export type LotDetails = Readonly<{
  id: string;
  name: string;
  acquiredOn: string | null;
  costMinor: number | null;
  note: string;
  books: number;
  /** What all of it cost over its books; null where no cost is known or no book is in it. */
  perBookMinor: number | null;
}>;

const named = line.min(1, 'It needs a name.').max(120);

/** Millimetres on A4 or the workshop's own paper. */
const grid = z.object({
  rows: z.int().min(1).max(30),
  columns: z.int().min(1).max(12),
  topMm: z.number().min(0).max(100),
  leftMm: z.number().min(0).max(100),
  gapDownMm: z.number().min(0).max(50),
  gapAcrossMm: z.number().min(0).max(50),
  /** Labels of the first sheet that are used already. */
  used: z.int().min(0).max(359),
});
export type LabelGrid = Readonly<z.infer<typeof grid>>;

export const shelvingContract = {
  views: ask.output(type<readonly SavedView[]>()),
  /** Kept under a name that is there already, it takes its place. */
  saveView: ask
    .input(z.object({ name: named, query: shelfQuery, columns: z.array(z.enum(shelfColumns)) }))
    .output(type<SavedView>()),
  removeView: ask.input(z.object({ id })).output(type<Readonly<{ id: string }>>()),
  places: ask.output(type<readonly PlaceNode[]>()),
  addPlace: ask.input(z.object({ parentId: id.nullable(), name: named })).output(type<Readonly<{ id: string }>>()),
  /** Another name, or moved with all that is in it; never into itself. */
  savePlace: ask
    .input(z.object({ id, name: named.optional(), parentId: id.nullable().optional() }))
    .output(type<Readonly<{ id: string }>>()),
  /** Only one that holds neither books nor places. */
  removePlace: ask.input(z.object({ id })).output(type<Readonly<{ id: string }>>()),
  lots: ask.output(type<readonly LotDetails[]>()),
  saveLot: ask
    .input(
      z.object({
        id,
        name: named.optional(),
        acquiredOn: date.nullable().optional(),
        costMinor: z.int().min(0, 'A cost is not less than nothing.').max(1_000_000_000).nullable().optional(),
        note: z.string().max(20_000).optional(),
      }),
    )
    .output(type<LotDetails>()),
  removeLot: ask.input(z.object({ id })).output(type<Readonly<{ id: string }>>()),
  /** Shelf marks with a code that opens the book where the program is at `address`. */
  labels: ask
    .input(
      z.object({
        ids: z.array(id).min(1, 'Choose at least one book.').max(2000, 'Print at most 2,000 labels at a time.'),
        address: z.url('Give the address as http://…').max(120),
        grid,
      }),
    )
    .output(type<FileAnswer>()),
};
