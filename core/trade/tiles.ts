import { mmPerInch } from '../units/lengths.ts';

/**
 * A drawing at its own size on paper: how many sheets it takes and what each shows. Sheets that show parts of one drawing repeat a strip of
 * their neighbours, so that they can be cut at the marks and laid over each other.
 */

export const papers = ['A4', 'Letter'] as const;
export type Paper = (typeof papers)[number];

/** ISO 216; the other is 8 1/2 by 11 in. */
const paperMm: Readonly<Record<Paper, readonly [number, number]>> = {
  A4: [210, 297],
  Letter: [8.5 * mmPerInch, 11 * mmPerInch],
};

/** What most printers leave white, and room for the marks; below also for the check bar and the map of the sheets. */
const edgeMm = 12;
const footMm = 30;
/** How much neighbours share. */
const sharedMm = 10;

/** What one sheet shows, in the drawing's millimetres; row and column count from 0. */
export type Tile = Readonly<{ row: number; column: number; leftMm: number; topMm: number }>;

export type Tiling = Readonly<{
  paperWidthMm: number;
  paperHeightMm: number;
  /** The part of each sheet that shows the drawing, and where it lies on it. */
  shownWidthMm: number;
  shownHeightMm: number;
  shownLeftMm: number;
  shownTopMm: number;
  rows: number;
  columns: number;
  sharedMm: number;
  tiles: readonly Tile[];
}>;

/** Sheets for a picture with this corner and size, upright or across, whichever takes fewer. */
export function tilesFor(
  frame: Readonly<{ leftMm: number; topMm: number; widthMm: number; heightMm: number }>,
  paper: Paper,
): Tiling {
  const [short, long] = paperMm[paper];
  const upright = tilesOn(frame, short, long);
  const across = tilesOn(frame, long, short);
  return across.tiles.length < upright.tiles.length ? across : upright;
}

function tilesOn(
  { leftMm, topMm, widthMm, heightMm }: Parameters<typeof tilesFor>[0],
  paperWidthMm: number,
  paperHeightMm: number,
): Tiling {
  const shownWidthMm = paperWidthMm - 2 * edgeMm;
  const shownHeightMm = paperHeightMm - edgeMm - footMm;
  const columns = sheetsAlong(widthMm, shownWidthMm);
  const rows = sheetsAlong(heightMm, shownHeightMm);
  // What the sheets have over is white on all sides.
  const spareX = columns * (shownWidthMm - sharedMm) + sharedMm - widthMm;
  const spareY = rows * (shownHeightMm - sharedMm) + sharedMm - heightMm;
  const tiles: Tile[] = [];
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      tiles.push({
        row,
        column,
        leftMm: leftMm - spareX / 2 + column * (shownWidthMm - sharedMm),
        topMm: topMm - spareY / 2 + row * (shownHeightMm - sharedMm),
      });
    }
  }
  return {
    paperWidthMm,
    paperHeightMm,
    shownWidthMm,
    shownHeightMm,
    shownLeftMm: edgeMm,
    shownTopMm: edgeMm,
    rows,
    columns,
    sharedMm,
    tiles,
  };
}

function sheetsAlong(sizeMm: number, shownMm: number): number {
  return Math.max(1, Math.ceil((sizeMm - sharedMm) / (shownMm - sharedMm) - 1e-9));
}
