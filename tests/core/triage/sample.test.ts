import { describe, expect, test } from 'vitest';
import { chanceFrom } from '../../../core/schedule/random.ts';
import { normalPoint, studentPoint } from '../../../core/triage/quantiles.ts';
import { drawSample, estimateCount, estimateTotal, finite, sampleSize, shareOut } from '../../../core/triage/sample.ts';

const endless = 1e12;
function sized(confidence: number, share: number, margin: number, population = endless) {
  const size = sampleSize({ confidence, share, margin }, population);
  if (!size.ok) throw new Error(size.refusal.sentence);
  return size.value;
}

describe('points of the distributions', () => {
  test.each([
    [0.5, 0.67449],
    [0.8, 1.28155],
    [0.9, 1.64485],
    [0.92, 1.75069],
    [0.95, 1.95996],
    [0.99, 2.57583],
    [0.999, 3.29053],
  ])('the normal holds a share of %d within %d standard deviations (published tables)', (confidence, z) => {
    expect(normalPoint(confidence)).toBeCloseTo(z, 5);
  });

  test.each([
    [1, 12.706],
    [2, 4.303],
    [3, 3.182],
    [5, 2.571],
    [10, 2.228],
    [30, 2.042],
    [120, 1.98],
  ])('Student’s t with %d degrees of freedom holds 95 in 100 within %d (published tables)', (freedom, t) => {
    expect(studentPoint(0.95, freedom)).toBeCloseTo(t, 3);
  });
});

describe('the size of a sample', () => {
  test('at 95 %, within 5 %, of a half is 384.15, published as 384 (Drott; Conservation DistList 1991/0055)', () => {
    expect(sized(0.95, 0.5, 0.05).endless).toBeCloseTo(384.15, 2);
    expect(Math.round(sized(0.95, 0.5, 0.05).endless)).toBe(384);
    // Whole books are rounded up here, so that what was asked for is never missed.
    expect(sized(0.95, 0.5, 0.05).books).toBe(385);
  });

  test('at 92 %, within 3 %, of 15 % is 434.2; the published 433 comes of z cut off at 1.75 (Drott, companion page, example 3)', () => {
    expect(sized(0.92, 0.15, 0.03).endless).toBeCloseTo(434.19, 1);
    expect(normalPoint(0.92)).toBeCloseTo(1.7507, 4);
    expect(Math.floor((1.75 ** 2 * 0.15 * 0.85) / 0.03 ** 2)).toBe(433);
  });

  test.each([
    [0.99, 0.5, 0.05, 663.49],
    [0.9, 0.5, 0.05, 270.55],
    [0.95, 0.5, 0.03, 1067.07],
    [0.95, 0.5, 0.02, 2400.91],
    [0.95, 0.5, 0.1, 96.04],
    [0.95, 0.2, 0.05, 245.85],
  ])('at %d of %d within %d is %d (the formula by hand)', (confidence, share, margin, size) => {
    expect(sized(confidence, share, margin).endless).toBeCloseTo(size, 1);
  });

  test.each([
    [5000, 356.8],
    [1000, 277.7],
    [200, 131.8],
  ])('from 384.16, with %d books in all, is %d after the finite correction', (population, size) => {
    expect(finite(384.16, population)).toBeCloseTo(size, 1);
    expect(Math.abs(sized(0.95, 0.5, 0.05, population).exact - size)).toBeLessThan(0.06);
  });

  test('is never more books than there are, and asks in words for sensible wishes', () => {
    expect(sized(0.99, 0.5, 0.005, 12).books).toBe(12);
    expect(sized(0.95, 0.5, 0.05, 0).books).toBe(0);
    for (const wish of [
      { confidence: 1, share: 0.5, margin: 0.05 },
      { confidence: 0.95, share: 0, margin: 0.05 },
      { confidence: 0.95, share: 0.5, margin: 0 },
      { confidence: Number.NaN, share: 0.5, margin: 0.05 },
    ]) {
      expect(sampleSize(wish, 100).ok).toBe(false);
    }
  });
});

describe('drawing', () => {
  const ids = (count: number, from: string) => Array.from({ length: count }, (_, at) => `${from}${at}`);

  test('shares out in proportion, two from each stratum at least, and all of them where all are wanted', () => {
    expect(shareOut([100, 300, 600], 100)).toEqual([10, 30, 60]);
    expect(shareOut([1, 2, 997], 50).slice(0, 2)).toEqual([1, 2]);
    expect(shareOut([5, 5], 100)).toEqual([5, 5]);
    expect(shareOut([7, 11, 13], 20).reduce((sum, each) => sum + each, 0)).toBe(20);
  });

  test('takes each book as often as another (4,000 draws of 3 from 10, seed 31), never one twice, the same for the same seed', () => {
    const chance = chanceFrom(31);
    const strata = [{ name: '', ids: ids(10, 'b') }];
    const counts = new Map<string, number>();
    for (let draw = 0; draw < 4000; draw++) {
      const [drawn = []] = drawSample(strata, 3, chance);
      expect(new Set(drawn).size).toBe(3);
      for (const id of drawn) counts.set(id, (counts.get(id) ?? 0) + 1);
    }
    // 1,200 expected each; a standard deviation is 29.
    for (const count of counts.values()) expect(Math.abs(count - 1200)).toBeLessThan(116);
    expect(counts.size).toBe(10);
    expect(drawSample(strata, 4, chanceFrom(5))).toEqual(drawSample(strata, 4, chanceFrom(5)));
  });
});

/** A backlog whose hours are as skewed as real ones: many short jobs, a few very long. */
function backlog(sizes: readonly number[], chance: () => number) {
  return sizes.map((size, stratum) =>
    Array.from({ length: size }, () => {
      const normal = Math.sqrt(-2 * Math.log(1 - chance())) * Math.cos(2 * Math.PI * chance());
      return {
        minutes: Math.round(Math.exp(3.6 + 0.5 * stratum + 0.9 * normal)),
        hazard: chance() < 0.08 + 0.1 * stratum,
      };
    }),
  );
}

describe.each([
  ['simple', [900]],
  ['stratified', [500, 300, 100]],
] as const)('a %s sample', (_, sizes) => {
  test('holds the true hours and the true number of hazards in about as many of 600 draws as it says (90 %, seed 41)', () => {
    const chance = chanceFrom(41);
    const strata = backlog(sizes, chance);
    const all = strata.flat();
    const minutes = all.reduce((sum, book) => sum + book.minutes, 0);
    const hazards = all.filter((book) => book.hazard).length;
    const frame = strata.map((books, at) => ({ name: String(at), ids: books.map((__, place) => String(place)) }));
    let [held, counted] = [0, 0];
    for (let draw = 0; draw < 600; draw++) {
      const drawn = drawSample(frame, 120, chance);
      const seen = (value: (book: { minutes: number; hazard: boolean }) => number) =>
        strata.map((books, at) => ({
          books: books.length,
          values: (drawn[at] ?? []).map((id) => value(books[Number(id)] ?? { minutes: 0, hazard: false })),
        }));
      const total = estimateTotal(
        seen((book) => book.minutes),
        0.9,
      );
      const count = estimateCount(
        seen((book) => Number(book.hazard)),
        0.9,
      );
      if (total && total.low <= minutes && minutes <= total.high) held += 1;
      if (count && count.low <= hazards && hazards <= count.high) counted += 1;
    }
    // Skewed hours cost a little; whole books give a little.
    expect(held / 600).toBeGreaterThan(0.85);
    expect(held / 600).toBeLessThan(0.95);
    expect(counted / 600).toBeGreaterThan(0.86);
    expect(counted / 600).toBeLessThan(0.97);
  });
});

describe('an estimate', () => {
  test('narrows as more is seen and is exact when all is', () => {
    const values = Array.from({ length: 60 }, (_, at) => (at * 37) % 101);
    const widths = [10, 20, 40, 60].map((seen) => {
      const found = estimateTotal([{ books: 60, values: values.slice(0, seen) }], 0.95);
      return found === null ? Number.NaN : found.high - found.low;
    });
    expect(widths[3]).toBeCloseTo(0, 6);
    for (const [at, width] of widths.slice(1).entries()) expect(width).toBeLessThan(widths[at] ?? 0);
    const all = values.map((value) => Number(value > 50));
    const count = all.reduce((sum, value) => sum + value, 0);
    expect(estimateCount([{ books: 60, values: all }], 0.95)).toEqual({ likely: count, low: count, high: count });
  });

  test('waits until every stratum has been looked into', () => {
    expect(
      estimateTotal(
        [
          { books: 9, values: [1, 2] },
          { books: 5, values: [] },
        ],
        0.95,
      ),
    ).toBeNull();
    expect(estimateCount([{ books: 9, values: [1] }], 0.95)).toBeNull();
    expect(
      estimateTotal(
        [
          { books: 9, values: [10, 20] },
          { books: 5, values: [30] },
        ],
        0.95,
      ),
    ).not.toBeNull();
  });
});
