import { describe, expect, test } from 'vitest';
import { build } from '../../../core/schedule/build.ts';
import { check } from '../../../core/schedule/check.ts';
import { chanceFrom } from '../../../core/schedule/random.ts';
import { randomProblem } from './problems.ts';

describe('a first plan', () => {
  test('keeps every rule on 300 random weeks with breaks, presses, lags and several people (seeds 1 to 300)', () => {
    for (let seed = 1; seed <= 300; seed++) {
      const problem = randomProblem(seed, { books: 6, steps: 5, grain: 30, days: 30, people: 1 + (seed % 3) });
      const plan = build(problem, { seed });
      if (!plan.ok) throw new Error(`seed ${seed}: ${plan.refusal.sentence}`);
      expect(check(problem, plan.value), `seed ${seed}`).toEqual([]);
    }
  });

  test('is found around pins that leave room for one (100 random weeks of seeds 1 to 100, and five that were hard)', () => {
    const seeds = Array.from({ length: 100 }, (_, k) => k + 1);
    for (const seed of [...seeds, 167, 671, 772, 856, 1294]) {
      const problem = randomProblem(seed, { books: 6, steps: 5, grain: 30, days: 30, people: 1 + (seed % 3) });
      const free = build(problem);
      if (!free.ok) throw new Error(`seed ${seed}: ${free.refusal.sentence}`);
      const chance = chanceFrom(seed);
      const tasks = problem.tasks.map((task, k) =>
        chance() < 0.12 ? { ...task, pinned: free.value.placed[k]!.start } : task,
      );
      const plan = build({ ...problem, tasks });
      if (!plan.ok) throw new Error(`seed ${seed}: ${plan.refusal.sentence}`);
      expect(check({ ...problem, tasks }, plan.value), `seed ${seed}`).toEqual([]);
    }
  });
});
