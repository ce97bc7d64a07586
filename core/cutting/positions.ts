/**
 * Where cuts can be worth making. Every guillotine layout can be pushed towards one corner until each cut stands at a sum of piece
 * sizes (normal patterns: Herz 1972; Christofides and Whitlock 1977), so that only such positions need be looked at.
 */

/** Sums in rising order from 0 on, and tables that answer by index in one step. */
export type Positions = Readonly<{
  limit: number;
  at: Float64Array;
  count: number;
  /** `less[i * count + k]`: the last position not beyond `at[i] - at[k]`, for k ≤ i. */
  less: Int16Array;
  /** `rest[i]`: the last position not beyond what `at[i]` leaves of the limit. */
  rest: Int16Array;
  /** `joined[i * count + k]`: the position of `at[i] + at[k]`, -1 where that is none: too long, or of more copies than there may be. */
  joined: Int16Array;
  floor(length: number): number;
}>;

/** Sums of the sizes, each used at most as often as it may be, not beyond the limit; null where there are more than `most`. */
export function positionsOf(
  sizes: readonly Readonly<{ size: number; most: number }>[],
  limit: number,
  most: number,
): Positions | null {
  const sums = new Set([0]);
  for (const { size, most: times } of sizes) {
    for (const sum of [...sums]) {
      for (let k = 1; k <= times && sum + k * size <= limit; k++) sums.add(sum + k * size);
    }
    if (sums.size > most) return null;
  }
  const at = Float64Array.from(sums).sort();
  const count = at.length;
  function floor(length: number): number {
    let low = 0;
    let high = count - 1;
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if (at[middle]! <= length) low = middle;
      else high = middle - 1;
    }
    return low;
  }
  const rest = Int16Array.from(at, (position) => floor(limit - position));
  const less = new Int16Array(count * count);
  const joined = new Int16Array(count * count);
  for (let i = 0; i < count; i++) {
    for (let k = 0; k < count; k++) {
      less[i * count + k] = k <= i ? floor(at[i]! - at[k]!) : -1;
      const sum = at[i]! + at[k]!;
      const reached = floor(sum);
      joined[i * count + k] = at[reached] === sum ? reached : -1;
    }
  }
  return { limit, at, count, less, rest, joined, floor };
}
