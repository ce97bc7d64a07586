/**
 * A book's own case in numbers: what its size and binding give, and what a person measured or chose otherwise. The Reckoner's calculations on
 * a book and the materials of its treatment both start from it, so that a square said once is the square everywhere.
 */
import type { Book } from '../book/book.ts';
import { type BookSize, readLength } from '../units/lengths.ts';
import { readNumber } from '../units/numbers.ts';
import type { LiningHabits } from './back.ts';
import { boardForBook } from './board.ts';
import { type CaseHabits, textBlockWithin, usualSquareMm } from './case.ts';

/** What a person said otherwise, as they would type it, by scope and field. */
export type KeptMeasures = Readonly<Record<string, Readonly<Record<string, string>>>>;

/** Case, spine piece, linings and endpapers are of one and the same case: what is kept of them is kept once, under this name. */
export const sharedScope = 'covers';

export type OwnCase = Readonly<{
  /** Cut text block. */
  block: BookSize;
  habits: Pick<CaseHabits, 'back' | 'jointMm' | 'turnInMm'> & Readonly<{ boardMm: number; squareMm: number }>;
  linings: Pick<LiningHabits, 'mullOverlapMm' | 'mullShortMm' | 'kraftLayers' | 'hollow'>;
  /** How far the old cloth is lifted, or the new lies on the board where it was cut away. */
  liftMm: number;
  onBoardMm: number;
  /** Endpapers are cut so much too large, to trim. */
  proudMm: number;
}>;

/**
 * What the covers' calculations start from and treatments cut by, as a rule with millimetres is set: joint, turn-in, lift and cloth on the
 * board to the nearest tenth of what `usualCase`, `usualReback` and `usualLinings` have from their sources in inches. Endpapers 5 mm proud:
 * common practice, no source.
 */
export const usualCoversMm = {
  joint: 4.8,
  'turn-in': 19,
  lift: 25.4,
  'on the board': 19,
  overlap: 31.8,
  short: 12.7,
  proud: 5,
} as const;

/** The case of a book that measures so much over its boards; `bound` is false for one without boards, which is all block. */
export function ownCase(over: BookSize, bound: boolean, kept: KeptMeasures = {}): OwnCase {
  const said = kept[sharedScope] ?? {};
  const length = (field: string): number | undefined => lengthOf(said[field]);
  const usually = (field: keyof typeof usualCoversMm): number => length(field) ?? usualCoversMm[field];
  const boardMm = length('board') ?? boardForBook(over).thicknessMm;
  const squareMm = length('square') ?? usualSquareMm(over.heightMm);
  const within = bound ? textBlockWithin(over, { boardMm, squareMm }) : null;
  const found = within?.ok ? within.value : over;
  const block = {
    heightMm: length('height') ?? found.heightMm,
    widthMm: length('width') ?? found.widthMm,
    thicknessMm: length('thickness') ?? found.thicknessMm,
  };
  const back = said.back === 'flat' || said.back === 'rounded' ? said.back : usualBack(found.thicknessMm);
  const layers = readNumber(said.layers ?? '');
  const hollow = said.hollow === 'one on, two off' || said.hollow === 'two on, two off' ? said.hollow : 'none';
  return {
    block,
    habits: {
      back,
      boardMm,
      squareMm,
      jointMm: usually('joint'),
      turnInMm: usually('turn-in'),
    },
    linings: {
      mullOverlapMm: usually('overlap'),
      mullShortMm: usually('short'),
      kraftLayers: layers.ok ? layers.value : 1,
      hollow,
    },
    liftMm: usually('lift'),
    onBoardMm: usually('on the board'),
    proudMm: usually('proud'),
  };
}

/** Whether a book has boards, so that its block is smaller than itself. */
export function hasBoards({ binding }: Pick<Book, 'binding'>): boolean {
  return binding !== 'paper wrappers' && binding !== 'unbound';
}

/** Under this a back is left flat. Common practice, no source. */
const leastRoundedMm = 10;

function usualBack(blockThicknessMm: number): CaseHabits['back'] {
  return blockThicknessMm < leastRoundedMm ? 'flat' : 'rounded';
}

/** A kept length; nothing where none is kept or it is not one. The store keeps them in millimetres. */
function lengthOf(typed: string | undefined): number | undefined {
  if (typed === undefined) return undefined;
  if (/^0+([.,]0*)?\s*(mm)?$/.test(typed.trim())) return 0;
  const read = readLength(typed, { defaultUnit: 'mm' });
  return read.ok ? read.value : undefined;
}

/** To the micrometre, as the store keeps it. */
export function typedMm(mm: number): string {
  return `${Math.round(mm * 1000) / 1000} mm`;
}
