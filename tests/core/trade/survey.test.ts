import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { levelByMinutes, sampleSize, sharesOf } from '../../../core/trade/survey.ts';

const seed = 20_261_125;

function exactly(confidence: number, share: number, margin: number, shelf?: number): number {
  const sample = sampleSize({ confidence, share, margin }, shelf);
  if (!sample.ok) throw new Error(sample.refusal.sentence);
  return sample.value.exact;
}

describe('how many books a survey draws', () => {
  test('384.15 for 95 per cent, half, five per cent; 384 is published, 385 rounded up (M. C. Drott 1969; CoOL, cdl 1991/0055)', () => {
    expect(exactly(0.95, 0.5, 0.05)).toBeCloseTo(384.15, 2);
    expect(Math.round(exactly(0.95, 0.5, 0.05))).toBe(384);
    const sample = sampleSize({ confidence: 0.95, share: 0.5, margin: 0.05 });
    expect(sample.ok && sample.value.books).toBe(385);
    expect(sample.ok && sample.value.remarks.join(' ')).toMatch(/384/);
  });

  test('434.2 for 92 per cent, 0.15, three per cent; 433 is published with z cut short to 1.75 (Drott’s companion page, example 3)', () => {
    expect(exactly(0.92, 0.15, 0.03)).toBeCloseTo(434.19, 2);
    expect(Math.floor((1.75 ** 2 * 0.15 * 0.85) / 0.03 ** 2)).toBe(433);
    expect(Math.abs(exactly(0.92, 0.15, 0.03) / 433 - 1)).toBeLessThan(0.005);
  });

  test.each([
    [0.99, 0.5, 0.05, 663.49],
    [0.9, 0.5, 0.05, 270.55],
    [0.95, 0.5, 0.03, 1067.07],
    [0.95, 0.5, 0.02, 2400.91],
    [0.95, 0.5, 0.1, 96.04],
    [0.95, 0.2, 0.05, 245.85],
  ])('%s sure, share %s, off by %s: %s (the formula)', (confidence, share, margin, expected) => {
    expect(exactly(confidence, share, margin)).toBeCloseTo(expected, 1);
  });

  test.each([
    [5000, 356.8],
    [1000, 277.7],
    [200, 131.8],
  ])('of %d books %s are enough (correction for a small shelf, CoOL, cdl 1991/0055)', (shelf, expected) => {
    // Printed from 384.16, with z as 1.96.
    expect(Math.abs(exactly(0.95, 0.5, 0.05, shelf) - expected)).toBeLessThan(0.1);
  });

  test(`surer, nearer, or nearer to half never takes fewer books, and never more than there are, seed ${seed}`, () => {
    const part = fc.double({ min: 0.05, max: 0.45, noNaN: true });
    const sure = fc.double({ min: 0.5, max: 0.995, noNaN: true });
    fc.assert(
      fc.property(sure, part, part, fc.integer({ min: 1, max: 100_000 }), (confidence, share, margin, shelf) => {
        const books = exactly(confidence, share, margin);
        expect(exactly(confidence + 0.004, share, margin)).toBeGreaterThan(books);
        expect(exactly(confidence, share, margin * 0.9)).toBeGreaterThan(books);
        expect(exactly(confidence, share + 0.01, margin)).toBeGreaterThan(books);
        const drawn = sampleSize({ confidence, share, margin }, shelf);
        expect(drawn.ok && drawn.value.books).toBeLessThanOrEqual(shelf);
      }),
      { seed, numRuns: 200 },
    );
  });
});

test('shares of 3810, 4864, 240 and 12 are 42.7, 54.5, 2.7 and 0.1 per cent of 8926 (Duke University Libraries, 2022)', () => {
  expect(sharesOf([3810, 4864, 240, 12])).toEqual({
    ok: true,
    value: { total: 8926, percent: [42.7, 54.5, 2.7, 0.1] },
  });
  expect(sharesOf([]).ok || sharesOf([0]).ok || sharesOf([1.5]).ok || sharesOf([-1, 2]).ok).toBe(false);
});

test.each([
  [14, 1],
  [15, 1],
  [16, 2],
  [120, 2],
  [121, 3],
])(
  '%d minutes at the bench are level %d (ARL, as Arkansas and Duke apply it; at 15 the wordings differ)',
  (minutes, level) => {
    expect(levelByMinutes(minutes)).toEqual({ ok: true, value: level });
  },
);
