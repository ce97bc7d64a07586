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

  test('is found around pins that leave room for one, in all but a few of 150 random weeks (seeds 1 to 150)', () => {
    let refused = 0;
    for (let seed = 1; seed <= 150; seed++) {
      const problem = randomProblem(seed, { books: 6, steps: 5, grain: 30, days: 30, people: 1 + (seed % 3) });
      const free = build(problem);
      if (!free.ok) throw new Error(`seed ${seed}: ${free.refusal.sentence}`);
      const chance = chanceFrom(seed);
      const tasks = problem.tasks.map((task, k) =>
        chance() < 0.12 ? { ...task, pinned: free.value.placed[k]!.start } : task,
      );
      const plan = build({ ...problem, tasks });
      if (plan.ok) expect(check({ ...problem, tasks }, plan.value), `seed ${seed}`).toEqual([]);
      else refused++;
    }
    expect(refused).toBeLessThanOrEqual(5);
  });
});
