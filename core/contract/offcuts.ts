/** The drawer: salvaged and left-over pieces, what they suit, and how to cut what the week needs out of them and the sheets there are. */
import { type } from '@orpc/contract';
import { z } from 'zod';
import { grainPatterns } from '../book/book.ts';
import type { CutPlan } from '../cutting/stock.ts';
import type { Match, Misfit } from '../salvage/match.ts';
import { type Lab, type PieceKind, pieceKinds } from '../salvage/piece.ts';
import type { Yield } from '../salvage/yields.ts';
import { ask, type FileAnswer, id, line } from './ask.ts';

type Named = Readonly<{ id: string; title: string; shelfMark: string | null }>;

export type PieceLine = Readonly<{
  id: string;
  /** What it is in a few words. */
  name: string;
  kind: PieceKind;
  heightMm: number;
  widthMm: number;
  grain: 'height' | 'width' | null;
  colour: string;
  /** Measured or typed, D50; null where only words are known. */
  lab: Lab | null;
  /** How it was measured. */
  measured: string;
  /** What the swatch shows: the measured colour, else what the words stand for. */
  shownLab: Lab | null;
  pattern: (typeof grainPatterns)[number] | null;
  yearFrom: number | null;
  yearTo: number | null;
  place: string;
  note: string;
  donor: Named | null;
  reservedFor: Named | null;
  /** Null while it lies in the drawer. */
  usedAt: number | null;
  usedFor: Named | null;
  material: string | null;
  fromPieceId: string | null;
}>;

export type PieceOpened = Readonly<{
  piece: PieceLine;
  /** From the first larger piece down to the one it was cut from. */
  cameFrom: readonly PieceLine[];
  /** Everything that was cut from it. */
  became: readonly PieceLine[];
  /** Books it would suit, best first. */
  suits: readonly Readonly<{ bookId: string; title: string; what: string; points: number; words: string }>[];
}>;

/** A book that needs material of one kind, by `bookId` and `kind`. */
export type RepairLine = Readonly<{
  bookId: string;
  title: string;
  kind: PieceKind;
  what: string;
  colour: string;
  shownLab: Lab | null;
  /** What was measured or typed for this side of the book, D50; null where only words are known. */
  lab: Lab | null;
  /** How it was measured. */
  measured: string;
  pattern: string | null;
  date: string;
}>;

/** How this bench cuts: what the blade takes, what is cut off new sheets all round, the least remnant worth keeping, turns of the work. */
export type CuttingHabits = Readonly<{ kerfMm: number; trimMm: number; usefulMm: number; mostTurns: number | null }>;

export type PartToCut = Readonly<{
  id: string;
  bookId: string | null;
  book: string;
  kind: PieceKind;
  what: string;
  heightMm: number;
  widthMm: number;
  grain: 'along height' | 'any';
  count: number;
}>;

export type MatchAnswer = Readonly<{
  repair: RepairLine;
  parts: readonly PartToCut[];
  matches: readonly (Match & Readonly<{ piece: PieceLine }>)[];
  misfits: readonly (Misfit & Readonly<{ name: string }>)[];
}>;

export type TogetherAnswer = Readonly<{
  given: readonly Readonly<{ repair: RepairLine; piece: PieceLine | null; match: Match | null; words: string }>[];
  points: number;
  proven: boolean;
}>;

export type DonorLine = Named &
  Readonly<{
    binding: string;
    colour: string;
    date: string;
    pattern: PieceLine['pattern'];
    yearFrom: number | null;
    yearTo: number | null;
    /** Pieces of it in the drawer or used. */
    pieces: number;
    /** Why it must not be broken up; null where it may. */
    blocked: string | null;
  }>;

export type PlannedCut = Readonly<{
  planId: string;
  kind: PieceKind;
  plan: CutPlan;
  /** What there was to cut from: sheets on hand and pieces of the drawer. */
  stock: readonly Readonly<{
    /** The piece of the drawer, or the material in the cupboard: what can be left out of a plan. */
    id: string;
    name: string;
    offcut: boolean;
  }>[];
  cautions: readonly string[];
}>;

const sizeMm = z
  .number('Give the size in millimetres.')
  .positive('A size is more than nothing.')
  .max(5000, 'That is longer than five metres; are the units right?');
const year = z.int().min(1400).max(2200).nullable();
const lab = z
  .tuple([z.number().min(0).max(100), z.number().min(-128).max(128), z.number().min(-128).max(128)])
  .readonly()
  .nullable();

const pieceShape = z.object({
  kind: z.enum(pieceKinds),
  heightMm: sizeMm,
  widthMm: sizeMm,
  grain: z.enum(['height', 'width']).nullable(),
  colour: line,
  lab,
  measured: line,
  pattern: z.enum(grainPatterns).nullable(),
  yearFrom: year,
  yearTo: year,
  place: line,
  note: line,
});

const partShape = z.object({
  id,
  bookId: id.nullable(),
  what: line.min(1, 'Say what the piece is for.'),
  heightMm: sizeMm,
  widthMm: sizeMm,
  grain: z.enum(['along height', 'any']),
  count: z.int('Copies are whole numbers.').min(1, 'At least one copy.').max(500),
});

const cuttingShape = z.object({
  kerfMm: z.number().min(0, 'The blade takes nothing or more.').max(20, 'No blade takes so much.'),
  trimMm: z.number().min(0, 'Nothing or more is trimmed off.').max(50, 'No sheet is trimmed by so much.'),
  usefulMm: z.number().min(5, 'Strips under 5 mm are not worth keeping.').max(500, 'That would keep hardly anything.'),
  mostTurns: z
    .int('Turns are whole numbers.')
    .min(1, 'Pieces cut on four sides need at least one turn of the work.')
    .max(20, 'More than 20 turns are no limit; leave it empty.')
    .nullable(),
});

const repairShape = z.object({ bookId: id, kind: z.enum(pieceKinds) });

export const offcutsContract = {
  /** Everything in the drawer, and what has been used. */
  drawer: ask.output(type<readonly PieceLine[]>()),
  open: ask.input(z.object({ id })).output(type<PieceOpened>()),
  save: ask.input(pieceShape.extend({ id: id.optional(), donorBookId: id.nullable() })).output(type<PieceLine>()),
  remove: ask.input(z.object({ id })).output(type<Readonly<{ name: string }>>()),
  reserve: ask.input(z.object({ pieceId: id, bookId: id })).output(type<PieceLine>()),
  release: ask.input(z.object({ pieceId: id })).output(type<PieceLine>()),
  /** Books that need a piece of cloth, leather or old paper. */
  repairs: ask.output(type<readonly RepairLine[]>()),
  /** The pieces that would do for one of them, best first. */
  match: ask.input(repairShape).output(type<MatchAnswer>()),
  /** Keeps the colour measured on a book, or typed, for its repairs of that kind; null takes it away. A covering has one, its endpapers another. */
  keepColour: ask.input(repairShape.extend({ lab, measured: line })).output(type<Readonly<{ title: string }>>()),
  /** The drawer shared out among all these repairs at once. */
  together: ask
    .input(
      z.object({ repairs: z.array(repairShape).min(1, 'Choose at least one repair.').max(60, 'At most 60 at once.') }),
    )
    .output(type<TogetherAnswer>()),
  donors: ask.output(type<readonly DonorLine[]>()),
  yields: ask.input(z.object({ bookId: id })).output(type<readonly Yield[]>()),
  /** Puts the pieces of a donor into the drawer and the book aside. Refused for a book under a hazard, or one that is to be kept. */
  breakDonor: ask
    .input(
      z.object({
        bookId: id,
        pieces: z
          .array(pieceShape.extend({ what: line }))
          .min(1, 'Say at least one piece that it yields.')
          .max(60),
      }),
    )
    .output(type<Readonly<{ title: string; pieces: number }>>()),
  /** What the treatments under way and planned need cut. */
  cutList: ask.output(type<readonly PartToCut[]>()),
  cuttingHabits: ask.output(type<CuttingHabits>()),
  saveCuttingHabits: ask.input(cuttingShape).output(type<CuttingHabits>()),
  planCut: ask
    .input(
      z.object({
        kind: z.enum(pieceKinds),
        parts: z.array(partShape).min(1, 'There is nothing to cut. Add a piece first.').max(300),
        /** Stock that is not to be touched. */
        leave: z.array(id).max(1000),
        ...cuttingShape.shape,
      }),
    )
    .output(type<PlannedCut>()),
  /** Books the plan out of the cupboard and the drawer, and its remnants into the drawer. Refused when the stock has changed since. */
  acceptCut: ask.input(z.object({ planId: id })).output(type<Readonly<{ pieces: number; remnants: number }>>()),
  printCut: ask.input(z.object({ planId: id })).output(type<FileAnswer>()),
};
