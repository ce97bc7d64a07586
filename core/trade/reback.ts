import { ok, type Result, refuse } from '../result.ts';
import { type BookSize, formatMm, mmPerInch } from '../units/lengths.ts';
import type { CaseMeasures } from './case.ts';
import { noSource, type Piece, type Step } from './working.ts';

/**
 * What a repair adds to a book that keeps its boards: a new spine piece under or over the old cloth, endpapers, and a jacket or wrapper to
 * keep it. Sizes of the book's own case are measured on it, or taken from `measureCase`.
 */

/** What a reback needs to know of the book; a `CaseMeasures` is one. */
export type BackAndBoards = Pick<CaseMeasures, 'boardHeightMm' | 'boardWidthMm' | 'boardMm' | 'gapMm'> &
  Readonly<{ back: Readonly<{ widthMm: number }> }>;

/** New cloth under the lifted old cloth, or over the board where the old cloth was taken off. */
export type RebackMethod = 'under the old cloth' | 'over the board';

export type RebackHabits = Readonly<{
  /** Under: how far in from the board's back edge the old cloth is cut. */
  cutInMm: number;
  /** Under: how far the old cloth is lifted beyond that cut. */
  liftMm: number;
  /** Over: how far the new cloth lies on each board. */
  onBoardMm: number;
  turnInMm: number;
}>;

/**
 * Under: cut 1/8 in from the back edge, lift 1 in. Over: cut the old cloth 3/4 in from the back edge. Indiana University Libraries, Book
 * Repair Manual, spine replacement. Turn-in 3/4 in: Vaughn 1914.
 */
export const usualReback: RebackHabits = {
  cutInMm: mmPerInch / 8,
  liftMm: mmPerInch,
  onBoardMm: 0.75 * mmPerInch,
  turnInMm: 0.75 * mmPerInch,
};

export type SpinePiece = Readonly<{
  /** New cloth and its stiffener. */
  pieces: readonly Piece[];
  /** What is kept of the old covering, and where it goes back. */
  originals: readonly Readonly<{ part: string; heightMm: number; widthMm: number; place: string }>[];
  /** New cloth on each board, from its back edge. */
  reachMm: number;
  working: readonly Step[];
  remarks: readonly string[];
}>;

/** The spine piece of a reback. Refuses a reach past the middle of the board, where it would be a new half cover. */
export function measureSpinePiece(
  book: BackAndBoards,
  method: RebackMethod,
  habits: Partial<RebackHabits> = {},
): Result<SpinePiece> {
  const { cutInMm, liftMm, onBoardMm, turnInMm } = { ...usualReback, ...habits };
  const { boardHeightMm, boardWidthMm, gapMm } = book;
  const backMm = book.back.widthMm;
  if (!(boardHeightMm > 0 && boardWidthMm > 0 && backMm > 0))
    return refuse('A reback needs boards and a back.', 'boards');
  if (!(gapMm >= 0)) return refuse('A joint cannot be less than nothing.', 'joint');
  if (!(cutInMm >= 0 && liftMm > 0 && onBoardMm > 0))
    return refuse('The new cloth has to lie some way on the boards.', 'reach');
  if (!(turnInMm > book.boardMm)) return refuse('The turn-in has to be more than the board is thick.', 'turn-in');
  const under = method === 'under the old cloth';
  const reachMm = under ? cutInMm + liftMm : onBoardMm;
  if (reachMm > boardWidthMm / 2) {
    return refuse(
      `New cloth ${formatMm(reachMm)} on to a board ${formatMm(boardWidthMm)} wide is a new half cover, not a reback.`,
      'reach',
    );
  }
  const widthMm = backMm + 2 * (gapMm + reachMm);
  const heightMm = boardHeightMm + 2 * turnInMm;
  const manual = 'Indiana University Libraries, Book Repair Manual';
  return ok({
    reachMm,
    pieces: [
      { part: 'spine piece', material: 'covering cloth', heightMm, widthMm, count: 1, grain: 'height' },
      {
        part: 'spine stiffener',
        material: 'stiffener',
        heightMm: boardHeightMm,
        widthMm: backMm,
        count: 1,
        grain: 'height',
      },
    ],
    originals: [
      { part: 'old spine', heightMm: boardHeightMm, widthMm: backMm, place: 'trimmed, pasted over the new back' },
      under
        ? {
            part: 'old cloth of the sides',
            heightMm: boardHeightMm,
            widthMm: boardWidthMm - cutInMm,
            place: 'pasted back over the new cloth',
          }
        : {
            part: 'old cloth of the sides',
            heightMm: boardHeightMm,
            widthMm: boardWidthMm - onBoardMm,
            place: 'left, the new cloth butted to it',
          },
    ],
    working: [
      {
        label: 'On each board',
        formula: under ? 'cut in from the back edge + lift' : 'where the old cloth is cut',
        value: reachMm,
        unit: 'mm',
        source: manual,
      },
      { label: 'Spine piece, wide', formula: 'back + two joints + reach on both boards', value: widthMm, unit: 'mm' },
      {
        label: 'Spine piece, high',
        formula: 'board height + two turn-ins',
        value: heightMm,
        unit: 'mm',
        source: 'Vaughn 1914',
      },
    ],
    remarks: under
      ? ['Old cloth that will not lift without breaking is better left: put the new cloth over the board.']
      : ['The strip of old cloth that comes off is kept with the book’s record.'],
  });
}

export type EndpaperKind = 'single folio' | 'double folio with cloth hinge';

/** Cloth hinge of a sewn endpaper, folded width: common practice, no source. */
const hingeWidthMm = 30;

/**
 * Endpapers for both ends of a cut text block: a folded sheet, or two nested with a cloth hinge round the fold (as the Indiana University
 * manual sews to a recased book). `proudMm` is left at head, tail and fore-edge to be trimmed off.
 */
export function measureEndpapers(
  textBlock: Readonly<{ heightMm: number; widthMm: number }>,
  kind: EndpaperKind,
  proudMm = 0,
): Result<Readonly<{ pieces: readonly Piece[]; working: readonly Step[]; remarks: readonly string[] }>> {
  if (!(textBlock.heightMm > 0 && textBlock.widthMm > 0))
    return refuse('Endpapers need a text block with height and width.', 'height');
  if (!(proudMm >= 0 && proudMm <= 20))
    return refuse('Endpapers stand proud by nothing up to 20 mm, to be trimmed.', 'proud');
  const heightMm = textBlock.heightMm + 2 * proudMm;
  const widthMm = 2 * (textBlock.widthMm + proudMm);
  const count = kind === 'single folio' ? 2 : 4;
  const pieces: Piece[] = [{ part: 'endpapers', material: 'endpaper', heightMm, widthMm, count, grain: 'height' }];
  if (kind === 'double folio with cloth hinge') {
    pieces.push({
      part: 'hinges',
      material: 'covering cloth',
      heightMm,
      widthMm: hingeWidthMm,
      count: 2,
      grain: 'height',
    });
  }
  return ok({
    pieces,
    working: [
      { label: 'Endpaper, high', formula: 'block height + what is trimmed at both ends', value: heightMm, unit: 'mm' },
      {
        label: 'Endpaper, wide before folding',
        formula: 'twice the block width and what is trimmed',
        value: widthMm,
        unit: 'mm',
      },
      {
        label: 'Folded sheets',
        formula: kind === 'single folio' ? 'one at each end' : 'two at each end',
        value: count,
        unit: '',
      },
      ...(kind === 'single folio'
        ? []
        : ([
            {
              label: 'Hinge, wide before folding',
              formula: 'the usual strip',
              value: hingeWidthMm,
              unit: 'mm',
              source: noSource,
            },
          ] as const)),
    ],
    remarks: ['Grain along the spine, or the pasted leaf cockles the hinge (Roberts & Etherington 1982, "grain").'],
  });
}

/** Flap of a jacket: two fifths of the board. Common practice, no source. */
const flapShare = 0.4;

/** A loose jacket round a closed book: over both boards and the back, round the fore-edges, and in. */
export function measureJacket(
  book: BackAndBoards,
  flapMm = flapShare * book.boardWidthMm,
): Result<Readonly<{ pieces: readonly Piece[]; flapMm: number; working: readonly Step[] }>> {
  if (!(book.boardHeightMm > 0 && book.boardWidthMm > 0 && book.back.widthMm > 0))
    return refuse('A jacket needs a book with boards.', 'boards');
  if (!(flapMm > 0 && flapMm < book.boardWidthMm))
    return refuse('A flap is narrower than the board it lies in.', 'flap');
  const widthMm = book.back.widthMm + 2 * (book.gapMm + book.boardWidthMm + book.boardMm + flapMm);
  return ok({
    flapMm,
    pieces: [{ part: 'jacket', material: 'jacket', heightMm: book.boardHeightMm, widthMm, count: 1, grain: 'height' }],
    working: [
      { label: 'Jacket, high', formula: 'board height', value: book.boardHeightMm, unit: 'mm' },
      {
        label: 'Jacket, wide',
        formula: 'back + two joints, boards, fore-edges and flaps',
        value: widthMm,
        unit: 'mm',
        source: noSource,
      },
    ],
  });
}

/**
 * A wrapper of two crossed strips for a book that must not be opened yet: one round it from spine to fore-edge, one from head to tail, each
 * ending in flaps that meet past the middle. Common practice, no source.
 */
export function measureWrapper(
  overBoards: BookSize,
): Result<Readonly<{ pieces: readonly Piece[]; working: readonly Step[] }>> {
  const { heightMm, widthMm, thicknessMm } = overBoards;
  if (!(heightMm > 0 && widthMm > 0 && thicknessMm > 0))
    return refuse('A wrapper needs the height, width and thickness of the book.', 'size');
  const across = 2 * (widthMm + thicknessMm) + widthMm * 0.9;
  const along = heightMm + 2 * thicknessMm + 2 * (heightMm * 0.6);
  return ok({
    pieces: [
      { part: 'wrapper, round the spine', material: 'jacket', heightMm, widthMm: across, count: 1, grain: 'height' },
      { part: 'wrapper, head to tail', material: 'jacket', heightMm: along, widthMm, count: 1, grain: 'width' },
    ],
    working: [
      {
        label: 'Round the spine',
        formula: 'two widths and thicknesses + nine tenths of a width',
        value: across,
        unit: 'mm',
        source: noSource,
      },
      {
        label: 'Head to tail',
        formula: 'height + two thicknesses + two flaps of six tenths',
        value: along,
        unit: 'mm',
        source: noSource,
      },
    ],
  });
}
