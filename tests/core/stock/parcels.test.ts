import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { packParcels, postageOf, type Terms, type Wanted } from '../../../core/stock/parcels.ts';
import { dateOf, dayNumber } from '../../../core/stock/projection.ts';

const day = (n: number) => dateOf(dayNumber('2026-05-04') + n);

function wanted(id: string, orderIn: number | null, costMinor: number, keepsDays: number | null = null): Wanted {
  return { id, orderBy: orderIn === null ? null : day(orderIn), costMinor, keepsDays };
}

const terms: Terms = { postageMinor: 600, freeFromMinor: null, minimumMinor: 0 };

/** What a division into runs of days costs, worked out without the module's own sums. */
function costOf(runs: readonly (readonly Wanted[])[], { postageMinor, freeFromMinor }: Terms, share: number): number {
  return runs.reduce((cost, run) => {
    const goods = run.reduce((sum, one) => sum + one.costMinor, 0);
    const first = run.map((one) => one.orderBy!).sort()[0]!;
    const keeping = run.reduce(
      (sum, one) => sum + (one.costMinor * share * (dayNumber(one.orderBy!) - dayNumber(first))) / 365,
      0,
    );
    return cost + (freeFromMinor !== null && goods >= freeFromMinor ? 0 : postageMinor) + keeping;
  }, 0);
}

describe('parcels', () => {
  test('of demands 10, 62, 12, 130, 154, 129, 88, 52, 124, 160, 238, 41, 54 an order, 0.40 to keep a month, cost 501.20 (Silver and Peterson, Decision Systems for Inventory Management, from memory)', () => {
    const demands = [10, 62, 12, 130, 154, 129, 88, 52, 124, 160, 238, 41];
    // A month is a fifth of our year, so that 200 % a year is 40 % a month.
    const things = demands.map((demand, month) => wanted(`m${month}`, month * 73, demand * 100));
    const parcels = packParcels(things, { ...terms, postageMinor: 5400 }, 2);
    const runs = parcels.map(({ ids }) => ids.map((id) => things.find((one) => one.id === id)!));
    expect(costOf(runs, { ...terms, postageMinor: 5400 }, 2)).toBeCloseTo(50_120, 6);
    expect(parcels).toHaveLength(7);
  });

  test('cost no more than any other division of the days, tried one by one (seed 41)', () => {
    const some = fc.array(fc.record({ at: fc.nat(120), cost: fc.integer({ min: 50, max: 9000 }) }), {
      minLength: 1,
      maxLength: 7,
    });
    fc.assert(
      fc.property(
        some,
        fc.nat(1500),
        fc.option(fc.integer({ min: 100, max: 15_000 })),
        (rows, postageMinor, freeFromMinor) => {
          const things = rows
            .map(({ at, cost }, index) => wanted(`w${index}`, at, cost))
            .toSorted((one, other) =>
              one.orderBy! < other.orderBy! || (one.orderBy === other.orderBy && one.id < other.id) ? -1 : 1,
            );
          const of: Terms = { postageMinor, freeFromMinor, minimumMinor: 0 };
          const parcels = packParcels(things, of, 0.2);
          expect(parcels.flatMap(({ ids }) => ids).toSorted()).toEqual(things.map(({ id }) => id).toSorted());
          const found = costOf(
            parcels.map(({ ids }) => ids.map((id) => things.find((one) => one.id === id)!)),
            of,
            0.2,
          );
          let least = Number.POSITIVE_INFINITY;
          for (let cuts = 0; cuts < 2 ** (things.length - 1); cuts++) {
            const runs: Wanted[][] = [[things[0]!]];
            for (const [index, one] of things.entries()) {
              if (index === 0) continue;
              if ((cuts >> (index - 1)) & 1) runs.push([one]);
              else runs.at(-1)!.push(one);
            }
            least = Math.min(least, costOf(runs, of, 0.2));
          }
          expect(found).toBeLessThanOrEqual(least + 1e-6);
        },
      ),
      { seed: 41, numRuns: 150 },
    );
  });

  test('bring forward what is cheap to keep and leave apart what is dear', () => {
    const [one] = packParcels([wanted('board', 0, 2000), wanted('tape', 9, 800)], terms, 0.2);
    expect(one).toMatchObject({ ids: ['board', 'tape'], broughtForward: [{ id: 'tape', days: 9 }], savedMinor: 596 });
    expect(packParcels([wanted('board', 0, 2000), wanted('leather', 90, 90_000)], terms, 0.2)).toHaveLength(2);
  });

  test('never bring forward what would spoil before it is wanted', () => {
    expect(packParcels([wanted('board', 0, 2000), wanted('size', 9, 100, 9)], terms, 0.2)).toHaveLength(2);
    expect(packParcels([wanted('board', 0, 2000), wanted('size', 9, 100, 10)], terms, 0.2)).toHaveLength(1);
  });

  test('say what is lacking to the minimum order, and let what has no day ride along', () => {
    const of: Terms = { postageMinor: 600, freeFromMinor: 5000, minimumMinor: 3000 };
    expect(packParcels([wanted('mull', 0, 2150)], of, 0.2)).toMatchObject([{ lackingMinor: 850, postageMinor: 600 }]);
    expect(packParcels([wanted('mull', 0, 2150), wanted('cloth', null, 900)], of, 0.2)).toMatchObject([
      { ids: ['mull', 'cloth'], lackingMinor: 0, postageMinor: 600 },
    ]);
    expect(packParcels([wanted('cloth', null, 900)], of, 0.2)).toMatchObject([{ orderBy: null, lackingMinor: 2100 }]);
    expect(postageOf(5000, of)).toBe(0);
    expect(packParcels([], of, 0.2)).toEqual([]);
  });
});
