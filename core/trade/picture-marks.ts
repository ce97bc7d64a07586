/** What a laid-out drawing is made of: lines with a look and words in a box, with what boxes need to keep clear of each other. */
import type { Point } from './drawing.ts';

/** What a mark is of, and so how it is drawn. */
export type Look =
  | 'new'
  | 'board'
  | 'paper'
  | 'lining'
  | 'original'
  | 'beneath'
  | 'cut'
  | 'fold'
  | 'hatch'
  | 'grain'
  | 'dimension'
  | 'witness';

export type Mark =
  /** Closed and filled where `closed`; several open lines otherwise. `says` names the part. */
  | Readonly<{ kind: 'lines'; look: Look; closed: boolean; lines: readonly (readonly Point[])[]; says: string }>
  /** Words in the middle of a box that nothing else written touches; `turned` reads from below. */
  | Readonly<{
      kind: 'words';
      of: 'measure' | 'part';
      at: Point;
      turned: boolean;
      words: string;
      widthMm: number;
      says: string;
    }>;

export type Words = Extract<Mark, { kind: 'words' }>;

export type Box = Readonly<{ left: number; top: number; right: number; bottom: number }>;

/** The box that words take up, a thin margin included. */
export function wordsBox(mark: Words, letterMm: number): Box {
  const along = mark.widthMm / 2;
  const across = letterMm * 0.55;
  const [x, y] = mark.turned ? [across, along] : [along, across];
  return { left: mark.at.x - x, top: mark.at.y - y, right: mark.at.x + x, bottom: mark.at.y + y };
}

export function boxOf(points: readonly Point[]): Box {
  return {
    left: Math.min(...points.map(({ x }) => x)),
    top: Math.min(...points.map(({ y }) => y)),
    right: Math.max(...points.map(({ x }) => x)),
    bottom: Math.max(...points.map(({ y }) => y)),
  };
}

/** Touching edges, and what rounding makes of them, are not an overlap. */
export function overlap(one: Box, other: Box): boolean {
  const more = 1e-6;
  return (
    one.left + more < other.right &&
    other.left + more < one.right &&
    one.top + more < other.bottom &&
    other.top + more < one.bottom
  );
}

/** A mark somewhere else on the same ground. */
export function movedMark(mark: Mark, right: number, down: number): Mark {
  const shift = ({ x, y }: Point): Point => ({ x: x + right, y: y + down });
  return mark.kind === 'words'
    ? { ...mark, at: shift(mark.at) }
    : { ...mark, lines: mark.lines.map((line) => line.map(shift)) };
}
