import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { bestPattern, type PatternProblem } from '../../../core/cutting/pattern.ts';
import type { PatternPiece } from '../../../core/cutting/relaxation.ts';
import { patternTroubles } from './checker.ts';

/** height, width, value, most. */
type Row = readonly [number, number, number, number];
const problemOf = (height: number, width: number, rows: readonly Row[]): PatternProblem => ({
  height,
  width,
  pieces: rows.map(([h, w, value, most]) => ({ height: h, width: w, value, most })),
});

/** Oliveira and Ferreira 1990, second instance: a sheet of 70 × 40, values the areas. */
const OF2: readonly Row[] = [
  [22, 18, 396, 2],
  [40, 10, 400, 1],
  [13, 27, 351, 3],
  [23, 18, 414, 2],
  [29, 8, 232, 4],
  [16, 4, 64, 1],
  [47, 9, 423, 1],
  [19, 19, 361, 4],
  [13, 16, 208, 2],
  [36, 16, 576, 4],
];

function solved(problem: PatternProblem) {
  const answer = bestPattern(problem);
  if (!answer.ok) throw new Error(answer.refusal.sentence);
  expect(patternTroubles(answer.value.fill, problem.height, problem.width, problem.pieces, answer.value.value)).toEqual(
    [],
  );
  return answer.value;
}

/** Every guillotine pattern there is, cut at every whole measure, with the copies shared out in every way. */
function everyPattern({ height, width, pieces }: PatternProblem): number {
  const known = new Map<string, number>();
  function best(high: number, broad: number, left: readonly number[]): number {
    const name = `${high},${broad},${left.join()}`;
    const before = known.get(name);
    if (before !== undefined) return before;
    let most = 0;
    for (const [k, piece] of pieces.entries()) {
      if (left[k]! > 0 && piece.height <= high && piece.width <= broad) most = Math.max(most, piece.value);
    }
    for (const share of shares(left)) {
      const rest = left.map((count, k) => count - share[k]!);
      for (let at = 1; at < high; at++) most = Math.max(most, best(at, broad, share) + best(high - at, broad, rest));
      for (let at = 1; at < broad; at++) most = Math.max(most, best(high, at, share) + best(high, broad - at, rest));
    }
    known.set(name, most);
    return most;
  }
  return best(
    height,
    width,
    pieces.map((piece) => piece.most),
  );
}

/** Every way of giving some away and keeping some, neither all. */
function shares(left: readonly number[]): readonly (readonly number[])[] {
  let all: number[][] = [[]];
  for (const count of left) all = all.flatMap((share) => Array.from({ length: count + 1 }, (_, k) => [...share, k]));
  const total = left.reduce((sum, count) => sum + count, 0);
  return all.filter((share) => {
    const sum = share.reduce((a, b) => a + b, 0);
    return sum > 0 && sum < total;
  });
}

const smallPiece = fc.record({
  height: fc.integer({ min: 1, max: 6 }),
  width: fc.integer({ min: 1, max: 6 }),
  value: fc.integer({ min: 1, max: 30 }),
  most: fc.integer({ min: 1, max: 2 }),
}) satisfies fc.Arbitrary<PatternPiece>;

const smallProblem: fc.Arbitrary<PatternProblem> = fc.record({
  height: fc.integer({ min: 3, max: 8 }),
  width: fc.integer({ min: 3, max: 8 }),
  pieces: fc.array(smallPiece, { minLength: 1, maxLength: 4 }),
});

describe('the best pattern of one sheet', () => {
  test('is that of the first instance of Christofides and Whitlock 1977, worth 244', () => {
    const rows: readonly Row[] = [
      [8, 4, 66, 2],
      [3, 7, 35, 1],
      [8, 2, 24, 3],
      [3, 4, 17, 5],
      [3, 3, 11, 2],
      [3, 2, 8, 2],
      [2, 1, 2, 1],
    ];
    expect(solved(problemOf(15, 10, rows))).toMatchObject({ value: 244, bound: 244, optimal: true });
  });

  test('is that of the second instance of Oliveira and Ferreira 1990, worth 2690, though 2776 with copies unlimited', () => {
    expect(solved(problemOf(70, 40, OF2))).toMatchObject({ value: 2690, optimal: true });
    const unlimited = OF2.map(([h, w, value]): Row => [h, w, value, 100]);
    expect(solved(problemOf(70, 40, unlimited))).toMatchObject({ value: 2776, optimal: true });
  });

  test('is the best of all patterns there are, on 100 small random sheets (seed 41)', () => {
    fc.assert(
      fc.property(smallProblem, (problem) => {
        const { value, optimal } = solved(problem);
        expect(optimal).toBe(true);
        expect(value).toBe(everyPattern(problem));
      }),
      { numRuns: 100, seed: 41 },
    );
  });

  test('does not change when sheet and pieces are laid on their side, or measured in another unit (seed 42)', () => {
    const middling = fc.record({
      height: fc.integer({ min: 20, max: 60 }),
      width: fc.integer({ min: 20, max: 60 }),
      pieces: fc.array(
        fc.record({
          height: fc.integer({ min: 4, max: 30 }),
          width: fc.integer({ min: 4, max: 30 }),
          value: fc.integer({ min: 1, max: 500 }),
          most: fc.integer({ min: 1, max: 3 }),
        }),
        { minLength: 1, maxLength: 10 },
      ),
    });
    fc.assert(
      fc.property(middling, ({ height, width, pieces }) => {
        const { value } = solved({ height, width, pieces });
        const side = pieces.map((piece) => ({ ...piece, height: piece.width, width: piece.height }));
        expect(solved({ height: width, width: height, pieces: side }).value).toBe(value);
        const micro = pieces.map((piece) => ({ ...piece, height: piece.height * 1000, width: piece.width * 1000 }));
        expect(solved({ height: height * 1000, width: width * 1000, pieces: micro }).value).toBe(value);
      }),
      { numRuns: 40, seed: 42 },
    );
  });

  test('stopped at once is still a pattern, with a bound that holds', () => {
    const problem = problemOf(70, 40, OF2);
    const answer = bestPattern(problem, { shouldStop: () => true });
    if (!answer.ok) throw new Error(answer.refusal.sentence);
    expect(patternTroubles(answer.value.fill, 70, 40, problem.pieces, answer.value.value)).toEqual([]);
    expect(answer.value.value).toBeLessThanOrEqual(2690);
    expect(answer.value.bound).toBeGreaterThanOrEqual(2690);
  });

  test('is refused for a value that is not whole and for a sheet without a size', () => {
    expect(bestPattern(problemOf(10, 10, [[2, 2, 1.5, 1]]))).toMatchObject({ ok: false });
    expect(bestPattern(problemOf(0, 10, [[2, 2, 1, 1]]))).toMatchObject({ ok: false, refusal: { field: 'height' } });
  });
});
