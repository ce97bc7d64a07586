import { ok, type Result, refuse } from '../result.ts';
import { type BookSize, formatMm, mmPerInch } from '../units/lengths.ts';
import { type Back, type BackShape, measureBack, usualRoundDegrees } from './back.ts';
import { boardForBook } from './board.ts';
import { noSource, type Piece, type Step } from './working.ts';

/**
 * The case of a flat or rounded book: two boards, the stiffener between them, and what covers them, full, quarter or half. Worked out from
 * the cut text block; a book measured over its old boards is brought back to its block by `textBlockWithin`.
 */

export type CaseStyle = 'full' | 'quarter' | 'half';

export type CaseHabits = Readonly<{
  back: BackShape;
  roundDegrees: number;
  style: CaseStyle;
  /** Undefined: chosen for the book. */
  boardMm: number | undefined;
  /** Undefined: 1/8 in, or 3/16 in on a large book. */
  squareMm: number | undefined;
  /** Width of the groove between shoulder and board, on the finished book. */
  jointMm: number;
  turnInMm: number;
  /** Share of the board's width that the spine covering of a quarter or half binding takes. */
  spineShare: number;
  /** How far the side lies over the spine covering or the corner. */
  sideOverlapMm: number;
  covering: 'covering cloth' | 'covering leather' | 'side paper';
}>;

export const usualCase: CaseHabits = {
  back: 'rounded',
  roundDegrees: usualRoundDegrees,
  style: 'full',
  boardMm: undefined,
  squareMm: undefined,
  // A French joint is 1/8 to 1/4 in (Getty Art & Architecture Thesaurus, "French joints"); its middle.
  jointMm: (3 / 16) * mmPerInch,
  // Vaughn, Printing and Bookbinding for Schools, 1914: 3/4 in for each edge.
  turnInMm: 0.75 * mmPerInch,
  // Common practice, no source.
  spineShare: 0.2,
  // Common practice, no source.
  sideOverlapMm: mmPerInch / 8,
  covering: 'covering cloth',
};

export type CaseMeasures = Readonly<{
  boardHeightMm: number;
  boardWidthMm: number;
  boardMm: number;
  squareMm: number;
  jointMm: number;
  /** Cloth between board and stiffener when the case lies flat: more than the groove is wide, because it goes down into it. */
  gapMm: number;
  turnInMm: number;
  back: Back;
  /** The case lying flat, without turn-ins. */
  flatWidthMm: number;
  /** What is cut off each outer corner of a half binding's sides, along both edges, so that the covered corner shows; else nothing. */
  sideCutMm: number;
  pieces: readonly Piece[];
  working: readonly Step[];
  remarks: readonly string[];
}>;

/** Squares: 1/8 to 3/16 in (Vaughn 1914). The larger above 10 in of height: common practice, no source. */
export function usualSquareMm(heightMm: number): number {
  return heightMm > 10 * mmPerInch ? (3 / 16) * mmPerInch : mmPerInch / 8;
}

/**
 * All parts of a case for a cut text block. Refuses a block no one binds, a joint wider than the board, and squares out of all reason.
 */
export function measureCase(textBlock: BookSize, habits: Partial<CaseHabits> = {}): Result<CaseMeasures> {
  const wanted = { ...usualCase, ...habits };
  const sound = soundBlock(textBlock);
  if (!sound.ok) return sound;
  const { heightMm, widthMm, thicknessMm } = textBlock;
  const boardMm = wanted.boardMm ?? boardForBook(textBlock).thicknessMm;
  const squareMm = wanted.squareMm ?? usualSquareMm(heightMm);
  const { jointMm, turnInMm, style } = wanted;
  if (!(boardMm > 0 && boardMm <= 12)) return refuse(`A board ${formatMm(boardMm)} thick is not for a book.`, 'board');
  if (!(squareMm >= 0 && squareMm <= 15))
    return refuse(`Squares of ${formatMm(squareMm)} are out of all reason.`, 'square');
  if (!(jointMm >= 0)) return refuse('A joint cannot be less than nothing.', 'joint');
  if (!(turnInMm > boardMm))
    return refuse('The turn-in has to be more than the board is thick, or it turns nothing in.', 'turn-in');

  const back = measureBack(thicknessMm, wanted.back, boardMm, wanted.roundDegrees);
  if (!back.ok) return back;
  const boardHeightMm = heightMm + 2 * squareMm;
  const boardWidthMm = widthMm - jointMm + squareMm;
  if (boardWidthMm <= 0 || jointMm >= boardWidthMm) {
    return refuse(`A joint of ${formatMm(jointMm)} is wider than the board beside it.`, 'joint');
  }
  const gapMm = 2 * Math.hypot(jointMm / 2, boardMm);
  const flatWidthMm = 2 * boardWidthMm + 2 * gapMm + back.value.widthMm;
  const working: Step[] = [
    {
      label: 'Board, high',
      formula: 'block height + two squares',
      value: boardHeightMm,
      unit: 'mm',
      source: 'squares 1/8–3/16 in: Vaughn 1914',
    },
    {
      label: 'Board, wide',
      formula: 'block width − joint + square',
      value: boardWidthMm,
      unit: 'mm',
      source: 'joint 1/8–1/4 in: Getty AAT',
    },
    ...back.value.working,
    {
      label: 'Cloth in each joint',
      formula: 'down to the foot of the groove and up again, as deep as the board',
      value: gapMm,
      unit: 'mm',
      source: 'geometry',
    },
    { label: 'Case lying flat', formula: 'two boards + two joints + back', value: flatWidthMm, unit: 'mm' },
  ];
  const covered = coverings({
    ...wanted,
    boardHeightMm,
    boardWidthMm,
    gapMm,
    backWidthMm: back.value.widthMm,
    flatWidthMm,
  });
  if (!covered.ok) return covered;
  return ok({
    boardHeightMm,
    boardWidthMm,
    boardMm,
    squareMm,
    jointMm,
    gapMm,
    turnInMm,
    back: back.value,
    flatWidthMm,
    sideCutMm: covered.value.sideCutMm,
    pieces: [
      { part: 'boards', material: 'board', heightMm: boardHeightMm, widthMm: boardWidthMm, count: 2, grain: 'height' },
      {
        part: 'spine stiffener',
        material: 'stiffener',
        heightMm: boardHeightMm,
        widthMm: back.value.widthMm,
        count: 1,
        grain: 'height',
      },
      ...covered.value.pieces,
    ],
    working: [...working, ...covered.value.working],
    remarks: [...back.value.remarks, ...remarksOn(jointMm, squareMm, boardMm, thicknessMm, style)],
  });
}

/**
 * The text block inside a book that was measured over its boards: squares off the height, the fore-edge square off the width, both boards
 * off the thickness. Refuses a book thinner than its boards.
 */
export function textBlockWithin(
  overBoards: BookSize,
  { boardMm, squareMm }: Readonly<{ boardMm?: number; squareMm?: number }> = {},
): Result<BookSize> {
  const board = boardMm ?? boardForBook(overBoards).thicknessMm;
  const square = squareMm ?? usualSquareMm(overBoards.heightMm);
  const block = {
    heightMm: overBoards.heightMm - 2 * square,
    widthMm: overBoards.widthMm - square,
    thicknessMm: overBoards.thicknessMm - 2 * board,
  };
  if (!(block.thicknessMm > 0)) {
    return refuse(
      `A book ${formatMm(overBoards.thicknessMm)} thick has no room for two boards of ${formatMm(board)}.`,
      'thickness',
    );
  }
  const sound = soundBlock(block);
  return sound.ok ? ok(block) : sound;
}

/** Refuses sizes no binder meets: nothing, not a number, over 1.5 m, or a thickness over 300 mm (common practice, no source). */
export function soundBlock(block: BookSize): Result<true> {
  const sides = [
    ['height', block.heightMm, 1500],
    ['width', block.widthMm, 1500],
    ['thickness', block.thicknessMm, 300],
  ] as const;
  for (const [side, mm, most] of sides) {
    if (!(mm > 0)) return refuse(`A book needs a ${side}.`, side);
    if (mm > most)
      return refuse(`A book with a ${side} of ${formatMm(mm)} is beyond any bench; are the units right?`, side);
  }
  return ok(true);
}

type Covering = CaseHabits &
  Readonly<{ boardHeightMm: number; boardWidthMm: number; gapMm: number; backWidthMm: number; flatWidthMm: number }>;

function coverings(
  part: Covering,
): Result<Readonly<{ pieces: readonly Piece[]; working: readonly Step[]; sideCutMm: number }>> {
  const heightMm = part.boardHeightMm + 2 * part.turnInMm;
  const high: Step = {
    label: 'Covering, high',
    formula: 'board height + two turn-ins',
    value: heightMm,
    unit: 'mm',
    source: 'turn-in 3/4 in: Vaughn 1914',
  };
  if (part.style === 'full') {
    const widthMm = part.flatWidthMm + 2 * part.turnInMm;
    return ok({
      sideCutMm: 0,
      pieces: [{ part: 'cover', material: part.covering, heightMm, widthMm, count: 1, grain: 'height' }],
      working: [
        high,
        { label: 'Covering, wide', formula: 'case lying flat + two turn-ins', value: widthMm, unit: 'mm' },
      ],
    });
  }
  if (!(part.spineShare > 0 && part.spineShare < 0.6)) {
    return refuse('The spine covering takes some of the board, but less than six tenths.', 'spine share');
  }
  const onBoardMm = part.spineShare * part.boardWidthMm;
  const spineWidthMm = part.backWidthMm + 2 * (part.gapMm + onBoardMm);
  const sideWidthMm = part.boardWidthMm - onBoardMm + part.sideOverlapMm + part.turnInMm;
  const pieces: Piece[] = [
    { part: 'spine covering', material: part.covering, heightMm, widthMm: spineWidthMm, count: 1, grain: 'height' },
    { part: 'sides', material: 'side paper', heightMm, widthMm: sideWidthMm, count: 2, grain: 'height' },
  ];
  const working: Step[] = [
    high,
    {
      label: 'Spine covering on each board',
      formula: `board width × ${part.spineShare}`,
      value: onBoardMm,
      unit: 'mm',
      source: noSource,
    },
    {
      label: 'Spine covering, wide',
      formula: 'back + two joints + both boards’ share',
      value: spineWidthMm,
      unit: 'mm',
    },
    {
      label: 'Sides, wide',
      formula: 'rest of the board + overlap + turn-in',
      value: sideWidthMm,
      unit: 'mm',
      source: noSource,
    },
  ];
  let sideCutMm = 0;
  if (part.style === 'half') {
    // The corner covers a right triangle of the board; with a turn-in beyond both edges its legs grow by two turn-ins.
    const legMm = onBoardMm + 2 * part.turnInMm;
    pieces.push({
      part: 'corners (triangles, half of this square)',
      material: part.covering,
      heightMm: legMm,
      widthMm: legMm,
      count: 2,
      grain: 'any',
    });
    working.push({
      label: 'Corner, leg',
      formula: 'share on the board + two turn-ins',
      value: legMm,
      unit: 'mm',
      source: 'geometry',
    });
    // The side lies over the long edge of the corner by the overlap, measured square to it: both legs are shorter by its diagonal.
    sideCutMm = Math.max(0, Math.min(legMm - part.sideOverlapMm * Math.SQRT2, sideWidthMm, heightMm / 2));
    working.push({
      label: 'Sides, cut off at each outer corner',
      formula: 'corner leg − overlap × √2, along both edges',
      value: sideCutMm,
      unit: 'mm',
      source: 'geometry',
    });
  }
  return ok({ pieces, working, sideCutMm });
}

function remarksOn(
  jointMm: number,
  squareMm: number,
  boardMm: number,
  thicknessMm: number,
  style: CaseStyle,
): readonly string[] {
  const remarks: string[] = [];
  if (jointMm < mmPerInch / 8)
    remarks.push('Under 3.2 mm (1/8 in) the joint is a tight one: thin covering, and boards close to the shoulder.');
  if (jointMm > mmPerInch / 4)
    remarks.push('Over 6.4 mm (1/4 in) is more than a French joint; the boards will hang loose.');
  if (squareMm > (3 / 16) * mmPerInch) remarks.push('Wide squares let a heavy block drag on the shelf.');
  if (2 * boardMm > thicknessMm) remarks.push('The two boards together are thicker than the book.');
  if (style === 'half')
    remarks.push(
      'Two corner triangles come out of each square; four corners need two squares. The sides are cut off at their outer corners.',
    );
  return remarks;
}
