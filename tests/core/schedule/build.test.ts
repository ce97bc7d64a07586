import { describe, expect, test } from 'vitest';
import { build } from '../../../core/schedule/build.ts';
import { check } from '../../../core/schedule/check.ts';
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
});
