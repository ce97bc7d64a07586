/**
 * Marks over a photograph, never in it: arrows, rings, boxes and words as plain shapes, drawn alike on the page and on paper. And a line
 * of known length, from which the picture's scale follows: one length along one line is all that a picture taken square on needs; a
 * slanting or a near view is not put right by it.
 *
 * Places are pixels of the upright picture from its upper left corner.
 */
import { ok, type Result, refuse } from '../result.ts';

export type Spot = Readonly<{ x: number; y: number }>;

export const markKinds = ['arrow', 'ring', 'box', 'words'] as const;
export type MarkKind = (typeof markKinds)[number];

/**
 * `from` and `to` are an arrow's tail and head, or opposite corners of a box or of the box around a ring. Words stand at `from`.
 * Any mark may carry words.
 */
export type PictureMark = Readonly<{ kind: MarkKind; from: Spot; to: Spot; words: string }>;

/** A line laid along something whose length a person measured. */
export type KnownLine = Readonly<{ from: Spot; to: Spot; lengthMm: number }>;

/** Common practice, no source: over a shorter line, a pixel to either side at each end is a hundredth of it or more. */
const shortestLinePx = 100;

/** Millimetres a pixel. Refuses a line too short to measure by and a length that is none. */
export function mmPerPixel({ from, to, lengthMm }: KnownLine): Result<number> {
  const px = Math.hypot(to.x - from.x, to.y - from.y);
  if (!(lengthMm > 0)) return refuse('Say how long the line is, in millimetres.', 'lengthMm');
  if (px < shortestLinePx) {
    return refuse(`Draw a longer line: over fewer than ${shortestLinePx} pixels the scale is a guess.`, 'scale');
  }
  return ok(lengthMm / px);
}

/** What to draw of a mark: open paths, ellipses and words, in the picture's pixels, for a line of `stroke` pixels. */
export type MarkDrawing = Readonly<{
  paths: readonly (readonly Spot[])[];
  ellipse: Readonly<{ centre: Spot; rx: number; ry: number }> | null;
  words: Readonly<{ at: Spot; text: string; size: number }> | null;
}>;

/** How thick marks are drawn on a picture of this size, in its pixels: readable at a hand's width. Common practice, no source. */
export function strokeOf(widthPx: number, heightPx: number): number {
  return Math.max(1, Math.max(widthPx, heightPx) / 250);
}

export function drawMark(mark: PictureMark, stroke: number): MarkDrawing {
  const { kind, from, to } = mark;
  const size = stroke * 9;
  const left = Math.min(from.x, to.x);
  const right = Math.max(from.x, to.x);
  const top = Math.min(from.y, to.y);
  const bottom = Math.max(from.y, to.y);
  const text = mark.words.trim();
  const said = (at: Spot) => (text === '' ? null : { at, text, size });
  switch (kind) {
    case 'arrow':
      return { paths: arrow(from, to, stroke * 7), ellipse: null, words: said({ x: from.x, y: from.y - stroke * 2 }) };
    case 'ring': {
      const centre = { x: (left + right) / 2, y: (top + bottom) / 2 };
      const ellipse = { centre, rx: (right - left) / 2, ry: (bottom - top) / 2 };
      return { paths: [], ellipse, words: said({ x: left, y: top - stroke * 2 }) };
    }
    case 'box': {
      const corners = [
        { x: left, y: top },
        { x: right, y: top },
        { x: right, y: bottom },
        { x: left, y: bottom },
        { x: left, y: top },
      ];
      return { paths: [corners], ellipse: null, words: said({ x: left, y: top - stroke * 2 }) };
    }
    case 'words':
      return { paths: [], ellipse: null, words: said(from) };
  }
}

/** Shaft and two barbs, each 25° off the shaft. */
function arrow(from: Spot, to: Spot, barb: number): readonly (readonly Spot[])[] {
  const angle = Math.atan2(to.y - from.y, to.x - from.x);
  const end = (turn: number) => ({ x: to.x - barb * Math.cos(angle + turn), y: to.y - barb * Math.sin(angle + turn) });
  const turn = (25 * Math.PI) / 180;
  return [
    [from, to],
    [end(turn), to, end(-turn)],
  ];
}
