/**
 * The best guillotine pattern of one sheet: pieces of fixed orientation, each with a value and at most so many copies, cut edge to edge
 * in any number of stages. Exact: a Lagrangian bound (relaxation.ts) says how good it can be, joining builds (builds.ts) looks for
 * anything better than the best known, first just below the bound, then ever further down.
 */
import { ok, type Result, refuse } from '../result.ts';
import { joinBuilds } from './builds.ts';
import { positionsOf } from './positions.ts';
import { type Fill, type Grid, type PatternPiece, stillToAdd, tighten } from './relaxation.ts';

/** Lengths in any one unit; values are whole numbers. */
export type PatternProblem = Readonly<{ height: number; width: number; pieces: readonly PatternPiece[] }>;

export type Pattern = Readonly<{
  value: number;
  /** No pattern can be worth more. */
  bound: number;
  optimal: boolean;
  /** Copies of each piece, in the order of the problem. */
  counts: readonly number[];
  fill: Fill;
  builds: number;
}>;

export type PatternOptions = Readonly<{
  shouldStop?: () => boolean;
  /** Part-built patterns held at once; about 100 bytes each and two more for every kind of piece. */
  mostBuilds?: number;
  /** Work of one relaxation, in comparisons; sizes that need more are refused. */
  mostWork?: number;
}>;

/** In one direction; tables grow with the square. */
const mostPositions = 2000;

/** The pattern of most value. Refuses values that are not whole numbers and sizes that leave too many positions to look at. */
export function bestPattern(problem: PatternProblem, options: PatternOptions = {}): Result<Pattern> {
  const { height, width } = problem;
  const shouldStop = options.shouldStop ?? (() => false);
  if (!(height > 0 && width > 0)) return refuse('The sheet has no size.', 'height');
  const kept: number[] = [];
  const pieces: PatternPiece[] = [];
  for (const [index, piece] of problem.pieces.entries()) {
    if (!(piece.height > 0 && piece.width > 0)) return refuse('A piece has no size.', 'pieces');
    if (!Number.isSafeInteger(piece.value)) return refuse('The value of a piece is not a whole number.', 'pieces');
    const most = Math.min(piece.most, Math.floor(height / piece.height) * Math.floor(width / piece.width));
    if (most < 1 || piece.value <= 0) continue;
    kept.push(index);
    pieces.push({ ...piece, most });
  }
  const tall = positionsOf(
    pieces.map((piece) => ({ size: piece.height, most: piece.most })),
    height,
    mostPositions,
  );
  const wide = positionsOf(
    pieces.map((piece) => ({ size: piece.width, most: piece.most })),
    width,
    mostPositions,
  );
  const work = tall && wide ? (tall.count * wide.count * (tall.count + wide.count)) / 4 : Number.POSITIVE_INFINITY;
  if (tall === null || wide === null || work > (options.mostWork ?? 1e9)) {
    return refuse('The sizes leave too many places for a cut to compare them all.');
  }
  const grid: Grid = { tall, wide, pieces };
  const first = tighten(grid, shouldStop);
  let { value, fill } = first;
  let bound = Math.max(value, Math.floor(first.best.bound + 1e-6));
  let builds = 0;
  if (value < bound && !shouldStop()) {
    const { prices } = first.best;
    const added = stillToAdd(grid, first.best);
    let depth = Math.max(1, Math.ceil(bound * 0.0005));
    while (value < bound) {
      const search = joinBuilds(grid, prices, added, {
        above: Math.max(value, bound - depth),
        most: options.mostBuilds ?? 3_000_000,
        shouldStop,
      });
      builds += search.builds;
      if (search.fill !== null) {
        value = search.value;
        fill = search.fill;
      }
      if (!search.complete) break;
      bound = Math.max(value, bound - depth);
      depth *= 2;
    }
  }
  const counts = problem.pieces.map(() => 0);
  count(fill, kept, counts);
  return ok({ value, bound, optimal: value === bound, counts, fill: renamed(fill, kept), builds });
}

function count(fill: Fill, kept: readonly number[], counts: number[]): void {
  if (fill.kind === 'piece') counts[kept[fill.piece]!]! += 1;
  else if (fill.kind !== 'waste') {
    count(fill.first, kept, counts);
    count(fill.second, kept, counts);
  }
}

/** The same tree with the pieces numbered as the problem has them. */
function renamed(fill: Fill, kept: readonly number[]): Fill {
  if (fill.kind === 'piece') return { kind: 'piece', piece: kept[fill.piece]! };
  if (fill.kind === 'waste') return fill;
  return { ...fill, first: renamed(fill.first, kept), second: renamed(fill.second, kept) };
}
