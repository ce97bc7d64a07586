import { expect, test } from 'vitest';
import { assignOneToOne } from '../../../core/optimise/assignment.ts';
import { chanceFrom } from '../../../core/schedule/random.ts';
import { loadSolver } from '../../../electron/engines/highs.ts';

function leastByForce(costs: readonly (readonly number[])[]): number {
  const walk = (person: number, taken: ReadonlySet<number>): number => {
    const row = costs[person];
    if (!row) return 0;
    return Math.min(
      ...row.map((cost, place) =>
        taken.has(place) ? Number.POSITIVE_INFINITY : cost + walk(person + 1, new Set([...taken, place])),
      ),
    );
  };
  return walk(0, new Set());
}

test('people are placed one to one at the least cost that trying every order finds (30 cases, seeds 1 to 30)', async () => {
  const solve = await loadSolver();
  for (let seed = 1; seed <= 30; seed++) {
    const chance = chanceFrom(seed);
    const size = 1 + Math.floor(chance() * 6);
    const costs = Array.from({ length: size }, () => Array.from({ length: size }, () => Math.floor(chance() * 100)));
    const found = await assignOneToOne(costs, solve, 10);
    expect(new Set(found.placeOf).size).toBe(size);
    expect(found).toMatchObject({ cost: leastByForce(costs), proven: true });
  }
});

test('a program is stopped in words and numbers: told to stop, it has no answer and no false bound', async () => {
  const solve = await loadSolver(() => true);
  const model = {
    sense: 'most',
    columns: [{ lower: 0, upper: 1, whole: true, cost: 1 }],
    rows: [],
  } as const;
  expect(await solve(model, { seconds: 1 })).toMatchObject({
    status: 'stopped',
    values: null,
    bound: Number.POSITIVE_INFINITY,
  });
});
