import { ok, type Result, refuse } from '../result.ts';
import type { BookSize } from '../units/lengths.ts';
import { soundBlock } from './case.ts';
import { noSource, type Piece, type Step } from './working.ts';

/**
 * A drop-spine box: a small tray that holds the book, a large tray that closes over it, and a case round both. Each tray has three walls
 * and is open at the spine. The order is geometry; the clearances are common practice, no source, and a first box of any board is tried
 * with scrap.
 */

export type BoxHabits = Readonly<{
  boardMm: number;
  /** Air round the book, each side. */
  clearanceMm: number;
  /** Cloth and paste on a wall, each face. */
  coveringMm: number;
  /** Air between the trays, each side. */
  betweenMm: number;
  squareMm: number;
  turnInMm: number;
}>;

export const usualBox: BoxHabits = {
  boardMm: 2.5,
  clearanceMm: 1.5,
  coveringMm: 0.5,
  betweenMm: 0.75,
  squareMm: 3,
  turnInMm: 19,
};

type Tray = Readonly<{
  insideHeightMm: number;
  insideWidthMm: number;
  insideDepthMm: number;
  outsideHeightMm: number;
  outsideWidthMm: number;
  outsideDepthMm: number;
}>;

export type Box = Readonly<{
  small: Tray;
  large: Tray;
  pieces: readonly Piece[];
  working: readonly Step[];
  remarks: readonly string[];
}>;

/** Boards and cloth of a drop-spine box for a book as it is measured over its boards. */
export function measureBox(book: BookSize, habits: Partial<BoxHabits> = {}): Result<Box> {
  const wanted = { ...usualBox, ...habits };
  const sound = soundBlock(book);
  if (!sound.ok) return sound;
  const { boardMm, clearanceMm, coveringMm, betweenMm, squareMm, turnInMm } = wanted;
  if (!(boardMm > 0 && boardMm <= 6)) return refuse('A box is made of board up to 6 mm.', 'board');
  if (!(clearanceMm >= 0 && coveringMm >= 0 && betweenMm >= 0 && squareMm >= 0))
    return refuse('Clearances cannot be less than nothing.', 'clearance');
  if (!(turnInMm > boardMm)) return refuse('The turn-in has to be more than the board is thick.', 'turn-in');

  const small = tray(
    book.heightMm + 2 * clearanceMm,
    book.widthMm + 2 * clearanceMm,
    book.thicknessMm + clearanceMm,
    boardMm,
    coveringMm,
  );
  const large = tray(
    small.outsideHeightMm + 2 * betweenMm,
    small.outsideWidthMm + betweenMm,
    small.outsideDepthMm + betweenMm,
    boardMm,
    coveringMm,
  );
  const caseHeight = large.outsideHeightMm + 2 * squareMm;
  const caseWidth = large.outsideWidthMm + squareMm;
  const spine = large.outsideDepthMm + 2 * coveringMm;
  const gap = 2 * boardMm;
  const flat = 2 * (caseWidth + gap) + spine;
  const pieces: Piece[] = [
    ...trayPieces('small tray', small, wanted),
    ...trayPieces('large tray', large, wanted),
    { part: 'case boards', material: 'board', heightMm: caseHeight, widthMm: caseWidth, count: 2, grain: 'height' },
    { part: 'case spine', material: 'board', heightMm: caseHeight, widthMm: spine, count: 1, grain: 'height' },
    {
      part: 'case cloth',
      material: 'covering cloth',
      heightMm: caseHeight + 2 * turnInMm,
      widthMm: flat + 2 * turnInMm,
      count: 1,
      grain: 'height',
    },
  ];
  return ok({
    small,
    large,
    pieces,
    working: [
      {
        label: 'Small tray inside, high',
        formula: 'book + clearance at both ends',
        value: small.insideHeightMm,
        unit: 'mm',
        source: noSource,
      },
      {
        label: 'Small tray outside, high',
        formula: 'inside + two walls and their cloth',
        value: small.outsideHeightMm,
        unit: 'mm',
        source: 'geometry',
      },
      {
        label: 'Large tray inside, high',
        formula: 'small tray outside + air at both ends',
        value: large.insideHeightMm,
        unit: 'mm',
        source: noSource,
      },
      {
        label: 'Case spine, wide',
        formula: 'large tray outside depth + cloth',
        value: spine,
        unit: 'mm',
        source: 'geometry',
      },
    ],
    remarks: ['Try the small tray on the book and the large on the small before any cloth is cut.'],
  });
}

/**
 * Inside to outside. Clear space is between covered walls: a wall is board with cloth on both faces, the base board has its lining above and
 * the walls' cloth turned in below, and the tops of the walls are covered too.
 */
function tray(
  insideHeightMm: number,
  insideWidthMm: number,
  insideDepthMm: number,
  boardMm: number,
  coveringMm: number,
): Tray {
  const wall = boardMm + 2 * coveringMm;
  return {
    insideHeightMm,
    insideWidthMm,
    insideDepthMm,
    outsideHeightMm: insideHeightMm + 2 * wall,
    outsideWidthMm: insideWidthMm + wall,
    outsideDepthMm: insideDepthMm + boardMm + 3 * coveringMm,
  };
}

function trayPieces(
  name: string,
  { insideHeightMm, insideWidthMm, insideDepthMm }: Tray,
  { boardMm, coveringMm, turnInMm }: BoxHabits,
): readonly Piece[] {
  const betweenWalls = insideHeightMm + 2 * coveringMm;
  const baseHeight = betweenWalls + 2 * boardMm;
  const baseWidth = insideWidthMm + coveringMm + boardMm;
  const wall = insideDepthMm + coveringMm;
  return [
    { part: `${name}, base`, material: 'board', heightMm: baseHeight, widthMm: baseWidth, count: 1, grain: 'height' },
    {
      part: `${name}, head and tail walls`,
      material: 'board',
      heightMm: wall,
      widthMm: baseWidth,
      count: 2,
      grain: 'any',
    },
    {
      part: `${name}, fore-edge wall`,
      material: 'board',
      heightMm: betweenWalls,
      widthMm: wall,
      count: 1,
      grain: 'height',
    },
    // One strip covers the three walls: up outside from under the base, over the top and down inside on to the base.
    {
      part: `${name}, wall cloth`,
      material: 'covering cloth',
      heightMm: 2 * wall + 2 * boardMm + 2 * turnInMm,
      widthMm: 2 * baseWidth + baseHeight + 2 * turnInMm,
      count: 1,
      grain: 'any',
    },
    {
      part: `${name}, lining`,
      material: 'lining paper',
      heightMm: insideHeightMm,
      widthMm: insideWidthMm,
      count: 1,
      grain: 'height',
    },
  ];
}
