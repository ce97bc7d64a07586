import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { keepingWords, layersOf } from '../../../core/stock/keeping.ts';

const day = 86_400_000;
const line = (at: number, units: number) => ({ at: at * day, quantityMillionths: units * 1e6 });

describe('what is left of each delivery', () => {
  test('is what remains when the oldest is used first', () => {
    expect(layersOf([line(0, 250), line(10, -100), line(20, 250), line(30, -200)])).toEqual([line(20, 200)]);
    expect(layersOf([line(0, 250), line(10, -100), line(20, 250)])).toEqual([line(0, 150), line(20, 250)]);
    expect(layersOf([line(0, 5), line(1, -7)])).toEqual([]);
  });

  test('adds up to on hand, and equals a queue that is used from its front (seed 21)', () => {
    const units = fc.array(fc.integer({ min: -9, max: 9 }), { maxLength: 30 });
    fc.assert(
      fc.property(units, (wishes) => {
        const queue: { at: number; left: number }[] = [];
        const lines: ReturnType<typeof line>[] = [];
        for (const [at, wish] of wishes.entries()) {
          const have = queue.reduce((sum, one) => sum + one.left, 0);
          const units = Math.max(wish, -have);
          lines.push(line(at, units));
          if (units > 0) queue.push({ at, left: units });
          for (let out = -units; out > 0; ) {
            const front = queue[0]!;
            const taken = Math.min(out, front.left);
            front.left -= taken;
            out -= taken;
            if (front.left === 0) queue.shift();
          }
        }
        expect(layersOf(lines)).toEqual(queue.map(({ at, left }) => line(at, left)));
      }),
      { seed: 21, numRuns: 300 },
    );
  });
});

test.each([
  [300, null],
  [336, '150 ml will be past keeping within 30 days: use it first.'],
  [366, '150 ml came in longer ago than the 365 days it keeps: try it on waste'],
  [400, '400 ml came in longer ago'],
] as const)('on day %i of 365 that it keeps, is said: %s', (now, words) => {
  const said = keepingWords(
    [line(0, 250), line(10, -100), line(20, 250)],
    { unit: 'ml', shelfLifeDays: 365 },
    now * day,
  );
  if (words === null) expect(said).toBeNull();
  else expect(said).toContain(words);
});
