import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  bestBeforeOf,
  costOfUse,
  countAll,
  expiryWords,
  inOrderOfUse,
  keepingOf,
  type LotBalance,
  type Portion,
  takeOldest,
} from '../../../core/stock/lots.ts';
import { dateOf, dayNumber } from '../../../core/stock/projection.ts';

const today = '2026-05-04';
const day = (n: number) => dateOf(dayNumber(today) + n);

function lot(
  lotId: string | null,
  quantity: number,
  bestBefore: string | null = null,
  receivedOn = day(-10),
): LotBalance {
  return { lotId, receivedOn: lotId === null ? '' : receivedOn, bestBefore, quantityMillionths: quantity };
}

const sum = (rows: readonly Readonly<{ quantityMillionths: number }>[]) =>
  rows.reduce((total, row) => total + row.quantityMillionths, 0);

function balancesAfter(lots: readonly LotBalance[], portions: readonly Portion[]): Map<string | null, number> {
  const balances = new Map(lots.map((one) => [one.lotId, one.quantityMillionths]));
  for (const { lotId, quantityMillionths } of portions) {
    balances.set(lotId, (balances.get(lotId) ?? 0) + quantityMillionths);
  }
  return balances;
}

const someLots = fc
  .array(
    fc.record({ quantity: fc.integer({ min: -50, max: 900 }), keeps: fc.option(fc.integer({ min: -20, max: 60 })) }),
    {
      maxLength: 8,
    },
  )
  .map((rows) =>
    rows.map(({ quantity, keeps }, at) =>
      at === 0 ? lot(null, quantity) : lot(`l${at}`, quantity, keeps === null ? null : day(keeps), day(-at)),
    ),
  );

describe('lots', () => {
  test('go out by best-before, what is in no lot first and what does not spoil last', () => {
    const lots = [lot('keeps', 5), lot('late', 5, day(40)), lot('soon', 5, day(3)), lot(null, 5)];
    expect(inOrderOfUse(lots).map(({ lotId }) => lotId)).toEqual([null, 'soon', 'late', 'keeps']);
    expect(takeOldest(lots, 12)).toEqual([
      { lotId: null, quantityMillionths: -5 },
      { lotId: 'soon', quantityMillionths: -5 },
      { lotId: 'late', quantityMillionths: -2 },
    ]);
  });

  test('taken from add up to what was asked, and no later lot is touched while an earlier one holds any (seed 31)', () => {
    fc.assert(
      fc.property(someLots, fc.integer({ min: 1, max: 3000 }), (lots, asked) => {
        const portions = takeOldest(lots, asked);
        expect(sum(portions)).toBe(-asked);
        const balances = balancesAfter(lots, portions);
        const order = inOrderOfUse(lots);
        for (const [at, one] of order.entries()) {
          const isTouched = portions.some(({ lotId }) => lotId === one.lotId && lotId !== null);
          if (!isTouched) continue;
          for (const before of order.slice(0, at)) expect(balances.get(before.lotId)).toBeLessThanOrEqual(0);
        }
        // Only what no lot holds is taken beyond nothing.
        for (const one of lots) {
          if (one.lotId === null) continue;
          expect(balances.get(one.lotId)).toBeGreaterThanOrEqual(Math.min(0, one.quantityMillionths));
        }
      }),
      { seed: 31, numRuns: 400 },
    );
  });

  test('add up to the count after a count, none of them below nothing (seed 32)', () => {
    fc.assert(
      fc.property(someLots, fc.nat(4000), (lots, count) => {
        const balances = [...balancesAfter(lots, countAll(lots, count)).values()];
        expect(balances.reduce((total, one) => total + one, 0)).toBe(count);
        expect(Math.min(0, ...balances)).toBe(0);
      }),
      { seed: 32, numRuns: 400 },
    );
  });

  test('that agree with a count leave a line of nothing, so that the count stands in the ledger', () => {
    expect(countAll([lot('a', 7)], 7)).toEqual([{ lotId: null, quantityMillionths: 0 }]);
  });

  test('are in their last days for a month at most, or for the last third of a short life', () => {
    expect(bestBeforeOf(today, 7)).toBe(day(7));
    expect(bestBeforeOf(today, null)).toBe(null);
    const paste = lot('p', 1, day(2), day(-5));
    expect(keepingOf(paste, today, null)).toBe('soon');
    expect(keepingOf(lot('p', 1, day(4), day(-3)), today, null)).toBe('keeps');
    expect(keepingOf(lot('p', 1, day(-1)), today, null)).toBe('past');
    expect(keepingOf(lot('p', 1, day(0)), today, null)).toBe('soon');
    // Bought late in its life.
    expect(keepingOf(lot('p', 1, day(20), day(0)), today, 360)).toBe('soon');
    const words = expiryWords(lot('p', 40_000_000, day(-1)), { unit: 'g', shelfLifeDays: 360 }, today);
    expect(words).toBe(
      '40 g are past keeping since yesterday: try it on waste before it goes near a book, or write it off.',
    );
  });

  test('cost what was paid for them by their share, and by the pack where nobody knows', () => {
    const pack = { packQuantity: 500, packPriceMinor: 1000 };
    expect(costOfUse(25_000_000, { costMinor: 900, receivedMillionths: 50_000_000 }, pack)).toBe(450);
    expect(costOfUse(25_000_000, { costMinor: null, receivedMillionths: 50_000_000 }, pack)).toBe(50);
    expect(costOfUse(25_000_000, null, pack)).toBe(50);
  });
});
