/** The Shelf: the list in its order, one book with everything that follows from it, and every change a person makes to either. */
import { type } from '@orpc/contract';
import { z } from 'zod';
import {
  type Binding,
  type Book,
  bindings,
  completenesses,
  damages,
  type Fate,
  type Finding,
  fates,
  grainPatterns,
  type Hazard,
  type Level,
  levels,
  parts,
  type Stage,
  scarcities,
  stages,
  uses,
} from '../book/book.ts';
import type { Proposal, Step, ThreePoint } from '../treatment/treatment.ts';
import type { Priority } from '../triage/priority.ts';
import { ask, id, line } from './ask.ts';
import { hazardFilters, shelfSorts } from './shelf-words.ts';

export const shelfFilter = z.object({
  fate: z.enum([...fates, 'undecided']).optional(),
  stage: z.enum(stages).optional(),
  lotId: id.optional(),
  placeId: id.optional(),
  binding: z.enum(bindings).optional(),
  hazard: z.enum(hazardFilters).optional(),
  level: z.enum(levels).optional(),
});
export type ShelfFilter = Readonly<z.infer<typeof shelfFilter>>;

export const shelfQuery = z.object({
  words: z.string().max(200, 'Search for less than 200 characters.'),
  filter: shelfFilter,
  sort: z.enum(shelfSorts),
});
export type ShelfQuery = Readonly<z.infer<typeof shelfQuery>>;

export type ShelfRow = Readonly<{
  id: string;
  shelfMark: string | null;
  title: string;
  author: string;
  dateText: string;
  binding: Binding | null;
  colour: string;
  pattern: Book['pattern'];
  heightMm: number | null;
  thicknessMm: number | null;
  place: string;
  fate: Fate | null;
  fateLocked: boolean;
  suggestedFate: Fate;
  stage: Stage;
  /** False while nobody has looked: neither its suggested fate nor its hand-work is known then. */
  surveyed: boolean;
  score: number;
  minutes: ThreePoint;
  level: Level;
  reason: string;
  hazardOpen: boolean;
}>;
/** A stretch of the list from `offset` on; `total` books answer the question in all. */
export type ShelfPage = Readonly<{ total: number; offset: number; rows: readonly ShelfRow[] }>;

export type Lot = Readonly<{ id: string; name: string; books: number }>;
/** A place by its path, "Back room › Case 2 › Shelf 3". */
export type Place = Readonly<{ id: string; name: string; books: number }>;

export type NotedFinding = Finding & Readonly<{ id: string }>;
export type NotedHazard = Hazard & Readonly<{ id: string; decidedAt: number | null }>;
export type BookEntry = Readonly<{ id: string; at: number; words: string; minutes: number | null }>;

export type BookOpened = Readonly<{
  book: Book;
  lot: string;
  place: string;
  findings: readonly NotedFinding[];
  hazards: readonly NotedHazard[];
  /** The sentence that keeps the book from being planned, or null. */
  stopped: string | null;
  proposal: Proposal;
  priority: Priority;
  suggestedFate: Readonly<{ fate: Fate; reason: string }>;
  /** Its rank by attention among all books, from 1. */
  rank: number;
  /** Agreed steps as they were then; `current` is false once the proposal has changed since. */
  agreed: Readonly<{ agreedAt: number; steps: readonly Step[]; current: boolean }> | null;
  entries: readonly BookEntry[];
}>;

/** What moving every weight of the priority by up to a fifth either way can do to the order. */
export type Steadiness = Readonly<{
  /** Books with something to be done. */
  books: number;
  /** Share of neighbours among them whose order stays, whatever the weights within that fifth. */
  kept: number;
  /** The ranks, from 1, between which the book asked for stays; null where none was, or nothing is to be done on it. */
  range: Readonly<{ best: number; worst: number }> | null;
}>;

/** No book stands taller than a man; no page is thinner than nothing. Common practice, no source. */
const length = z
  .number()
  .positive('A measure must be more than nothing.')
  .max(1500, 'No book is longer than 1,500 mm; is this in another unit?')
  .nullable();

/** What a person types of a book. Lot and place are said by name; a name not known yet makes a new one, an empty one means none. */
export const bookPatch = z.object({
  shelfMark: line.nullable().optional(),
  title: line.min(1, 'A book needs a title; a few words that tell it from the others will do.').optional(),
  author: line.optional(),
  imprint: line.optional(),
  dateText: line.optional(),
  format: line.optional(),
  heightMm: length.optional(),
  widthMm: length.optional(),
  thicknessMm: length.optional(),
  pagesText: line.optional(),
  binding: z.enum(bindings).nullable().optional(),
  colour: line.optional(),
  pattern: z.enum(grainPatterns).nullable().optional(),
  lot: line.optional(),
  place: line.optional(),
  fate: z.enum(fates).nullable().optional(),
  fateLocked: z.boolean().optional(),
  stage: z.enum(stages).optional(),
  use: z.enum(uses).optional(),
  significance: z.union([z.literal(0), z.literal(1), z.literal(2), z.literal(3)]).optional(),
  scarcity: z.enum(scarcities).optional(),
  completeness: z.enum(completenesses).optional(),
  note: z.string().max(200_000, 'This note is longer than 200,000 characters.').optional(),
});
export type BookPatch = Readonly<z.infer<typeof bookPatch>>;

const findingShape = z.object({
  part: z.enum(parts),
  damage: z.enum(damages),
  severity: z.union([z.literal(1), z.literal(2), z.literal(3)]),
  count: z.int('A count is a whole number.').min(1, 'Count at least one.').max(9999).nullable(),
  note: line,
});

/** As many as can be changed in one go. */
const bookIds = z.array(id).min(1, 'Choose at least one book.').max(20_000, 'Choose at most 20,000 books at a time.');

export const shelfContract = {
  list: ask
    .input(shelfQuery.extend({ offset: z.int().min(0), limit: z.int().min(1).max(500) }))
    .output(type<ShelfPage>()),
  /** Ids of the first books that answer the question, in its order, for a change to all of them. */
  ids: ask.input(shelfQuery.extend({ limit: z.int().min(1).max(20_000) })).output(type<readonly string[]>()),
  /** Where a book stands in the list, from 0; null when it does not answer the question. */
  position: ask.input(shelfQuery.extend({ id })).output(type<number | null>()),
  book: ask.input(z.object({ id })).output(type<BookOpened>()),
  steadiness: ask.input(z.object({ id: id.nullable() })).output(type<Steadiness>()),
  lots: ask.output(type<readonly Lot[]>()),
  places: ask.output(type<readonly Place[]>()),
  create: ask.input(bookPatch.extend({ title: bookPatch.shape.title.unwrap() })).output(type<BookOpened>()),
  save: ask.input(z.object({ id, patch: bookPatch })).output(type<BookOpened>()),
  remove: ask.input(z.object({ ids: bookIds })).output(type<Readonly<{ removed: number }>>()),
  /** The same change to many books, in one step that undo takes back whole. */
  saveMany: ask
    .input(z.object({ ids: bookIds, patch: bookPatch.pick({ fate: true, stage: true, place: true, lot: true }) }))
    .output(type<Readonly<{ changed: number }>>()),
  addFinding: ask.input(findingShape.extend({ bookId: id })).output(type<BookOpened>()),
  saveFinding: ask.input(z.object({ id, patch: findingShape.partial() })).output(type<BookOpened>()),
  removeFinding: ask.input(z.object({ id })).output(type<BookOpened>()),
  decideHazard: ask
    .input(
      z.object({
        id,
        state: z.enum(['raised', 'confirmed', 'cleared']),
        decision: line,
      }),
    )
    .output(type<BookOpened>()),
  /** Freezes the proposed steps as the treatment agreed for this book. */
  agree: ask.input(z.object({ id })).output(type<BookOpened>()),
};
