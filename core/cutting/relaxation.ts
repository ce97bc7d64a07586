/**
 * An upper bound for the best guillotine pattern. The limit on copies is relaxed with a price for each copy used (Lagrange multipliers),
 * which leaves the unlimited problem: a dynamic program over normal patterns (Gilmore and Gomory 1966; Beasley 1985). The prices are
 * sought by a subgradient method (Held and Karp 1971), and the answer also bounds whatever can still be added to a part-built pattern.
 */
import type { Positions } from './positions.ts';

export type PatternPiece = Readonly<{ height: number; width: number; value: number; most: number }>;

export type Grid = Readonly<{ tall: Positions; wide: Positions; pieces: readonly PatternPiece[] }>;

/** How a rectangle is best filled, as a tree of cuts: `across` divides the height, `down` the width. */
export type Fill =
  | Readonly<{ kind: 'piece'; piece: number }>
  | Readonly<{ kind: 'across' | 'down'; first: Fill; second: Fill; at: number }>
  | Readonly<{ kind: 'waste' }>;

export type Relaxed = Readonly<{
  /** The most a whole sheet could be worth at these prices, the price of all allowed copies put back. */
  bound: number;
  prices: Float64Array;
  counts: Int32Array;
  fill: Fill;
  /** Value at these prices of each rectangle, by height and width position. */
  filled: Float64Array;
}>;

const waste: Fill = { kind: 'waste' };

/** Solves the relaxed problem at the given prices. */
function relax({ tall, wide, pieces }: Grid, prices: Float64Array): Relaxed {
  const rows = tall.count;
  const columns = wide.count;
  const filled = new Float64Array(rows * columns);
  // 0 nothing, above: piece + 1; below: -(1 + 2 × position + side).
  const choice = new Int32Array(rows * columns);
  for (const [index, piece] of pieces.entries()) {
    const worth = piece.value - prices[index]!;
    const cell = tall.floor(piece.height) * columns + wide.floor(piece.width);
    if (worth > filled[cell]!) {
      filled[cell] = worth;
      choice[cell] = index + 1;
    }
  }
  for (let i = 1; i < rows; i++) {
    for (let j = 1; j < columns; j++) {
      const cell = i * columns + j;
      let best = filled[cell]!;
      let chosen = choice[cell]!;
      const above = filled[cell - columns]!;
      if (above > best) {
        best = above;
        chosen = -1 - 2 * i;
      }
      const before = filled[cell - 1]!;
      if (before > best) {
        best = before;
        chosen = -2 - 2 * j;
      }
      const halfHeight = tall.at[i]! / 2;
      for (let k = 1; tall.at[k]! <= halfHeight; k++) {
        const sum = filled[k * columns + j]! + filled[tall.less[i * rows + k]! * columns + j]!;
        if (sum > best) {
          best = sum;
          chosen = -1 - 2 * k;
        }
      }
      const halfWidth = wide.at[j]! / 2;
      for (let k = 1; wide.at[k]! <= halfWidth; k++) {
        const sum = filled[i * columns + k]! + filled[i * columns + wide.less[j * columns + k]!]!;
        if (sum > best) {
          best = sum;
          chosen = -2 - 2 * k;
        }
      }
      filled[cell] = best;
      choice[cell] = chosen;
    }
  }

  const counts = new Int32Array(pieces.length);
  function read(i: number, j: number): Fill {
    const chosen = choice[i * columns + j]!;
    if (i === 0 || j === 0 || chosen === 0) return waste;
    if (chosen > 0) {
      counts[chosen - 1] = counts[chosen - 1]! + 1;
      return { kind: 'piece', piece: chosen - 1 };
    }
    const k = (-chosen - 1) >> 1;
    if ((-chosen - 1) % 2 === 0) {
      if (k === i) return read(i - 1, j);
      return { kind: 'across', at: tall.at[k]!, first: read(k, j), second: read(tall.less[i * rows + k]!, j) };
    }
    if (k === j) return read(i, j - 1);
    return { kind: 'down', at: wide.at[k]!, first: read(i, k), second: read(i, wide.less[j * columns + k]!) };
  }
  const fill = read(rows - 1, columns - 1);
  const allowed = pieces.reduce((sum, piece, index) => sum + prices[index]! * piece.most, 0);
  return { bound: filled[rows * columns - 1]! + allowed, prices, counts, fill, filled };
}

/**
 * The best bound found, and the best pattern within the limits met on the way (the relaxed one without its surplus). Ends early when the
 * two meet, when told to, or when the steps have become too short to matter.
 */
export function tighten(grid: Grid, shouldStop: () => boolean): Readonly<{ best: Relaxed; value: number; fill: Fill }> {
  const { pieces } = grid;
  let prices: Float64Array = new Float64Array(pieces.length);
  let best = relax(grid, prices);
  let value = 0;
  let fill: Fill = waste;
  let last = best;
  let length = 1;
  let sinceBetter = 0;
  for (let step = 0; step < 400; step++) {
    const kept = last.counts.reduce((sum, count, k) => sum + Math.min(count, pieces[k]!.most) * pieces[k]!.value, 0);
    if (kept > value) {
      value = kept;
      fill = withoutSurplus(last.fill, pieces);
    }
    if (Math.floor(best.bound + 1e-6) <= value || length < 0.004 || shouldStop()) break;
    let norm = 0;
    for (const [k, piece] of pieces.entries()) {
      const slack = piece.most - last.counts[k]!;
      if (slack < 0 || prices[k]! > 0) norm += slack * slack;
    }
    if (norm === 0) break;
    const stride = (length * (last.bound - value * 0.999)) / norm;
    prices = prices.map((price, k) => Math.max(0, price - stride * (pieces[k]!.most - last.counts[k]!)));
    last = relax(grid, prices);
    if (last.bound < best.bound - 1e-9) {
      best = last;
      sinceBetter = 0;
    } else if (++sinceBetter >= 12) {
      length /= 2;
      sinceBetter = 0;
    }
  }
  return { best, value, fill };
}

/** The pattern with every piece beyond its limit left as waste. */
function withoutSurplus(fill: Fill, pieces: readonly PatternPiece[]): Fill {
  const left = pieces.map((piece) => piece.most);
  function walk(part: Fill): Fill {
    if (part.kind === 'waste') return part;
    if (part.kind === 'piece') {
      if (left[part.piece] === 0) return waste;
      left[part.piece]! -= 1;
      return part;
    }
    return { ...part, first: walk(part.first), second: walk(part.second) };
  }
  return walk(fill);
}

/**
 * What can still be added, at the relaxed prices, to a build by what it leaves free above and beside it (by position): the outward
 * counterpart of `filled` (Viswanathan and Bagchi 1993).
 */
export function stillToAdd({ tall, wide }: Grid, { filled }: Relaxed): Float64Array {
  const rows = tall.count;
  const columns = wide.count;
  const added = new Float64Array(rows * columns);
  for (let i = 0; i < rows; i++) {
    const height = tall.rest[i]!;
    for (let j = 0; j < columns; j++) {
      const width = wide.rest[j]!;
      // Waste makes a build larger at no cost, and larger neighbours then fit to it.
      let best = Math.max(i > 0 ? added[(i - 1) * columns + j]! : 0, j > 0 ? added[i * columns + j - 1]! : 0);
      for (let k = 1; k <= i; k++) {
        const sum = added[tall.less[i * rows + k]! * columns + j]! + filled[k * columns + width]!;
        if (sum > best) best = sum;
      }
      for (let k = 1; k <= j; k++) {
        const sum = added[i * columns + wide.less[j * columns + k]!]! + filled[height * columns + k]!;
        if (sum > best) best = sum;
      }
      added[i * columns + j] = best;
    }
  }
  return added;
}
