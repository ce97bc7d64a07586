import { readFileSync, writeFileSync } from 'node:fs';
import { describe, expect, test, vi } from 'vitest';
import { build } from '../../../core/schedule/build.ts';
import { check } from '../../../core/schedule/check.ts';
import { improve } from '../../../core/schedule/improve.ts';
import { compare } from '../../../core/schedule/objective.ts';
import type { Objective, Plan, Problem } from '../../../core/schedule/problem.ts';
import { randomProblem, randomTextbook } from './problems.ts';
import { solveByModel } from './referee.ts';

function solve(problem: Problem, schedules: number, seed: number): Plan | null {
  const first = build(problem, { seed });
  if (!first.ok) return null;
  const search = improve(problem, first.value, { seed, schedules });
  for (;;) {
    const step = search.next();
    if (step.done) return step.value;
  }
}

const small = (seed: number) => randomProblem(seed, { books: 2, steps: 3, grain: 1, days: 3, people: 1 + (seed % 2) });
vi.setConfig({ testTimeout: 60_000 });
const optimaFile = new URL('optima.json', import.meta.url);

describe('the search', () => {
  test('equals the optimum of a time-indexed model solved by HiGHS on 200 random small weeks (seeds 1 to 200)', () => {
    const optima: (Objective | null)[] = JSON.parse(readFileSync(optimaFile, 'utf8'));
    expect(optima).toHaveLength(200);
    expect(optima.filter((optimum) => optimum === null).length).toBeLessThan(20);
    for (const [k, optimum] of optima.entries()) {
      const plan = solve(small(k + 1), 400, k + 1);
      expect(plan?.objective ?? null, `seed ${k + 1}`).toEqual(optimum);
      if (plan) expect(check(small(k + 1), plan), `seed ${k + 1}`).toEqual([]);
    }
  });

  // KETTLESTITCH_REFEREE=1 solves all 200 again and keeps them; every run solves ten, so that the file cannot drift from the model.
  test('is held to a file of optima that the model gives again', () => {
    const again = process.env.KETTLESTITCH_REFEREE !== undefined;
    const optima: (Objective | null)[] = again ? [] : JSON.parse(readFileSync(optimaFile, 'utf8'));
    for (let seed = 1; seed <= 200; seed += again ? 1 : 20) {
      const optimum = solveByModel(small(seed), 72);
      if (again) optima.push(optimum);
      else expect(optimum, `seed ${seed}`).toEqual(optima[seed - 1]);
    }
    if (again) writeFileSync(optimaFile, `[\n${optima.map((one) => `  ${JSON.stringify(one)}`).join(',\n')}\n]\n`);
  }, 120_000);

  test('never gives back a plan that breaks a rule or is worse than the one it was given (15 random weeks, seeds 1 to 15)', () => {
    for (let seed = 1; seed <= 15; seed++) {
      const problem = randomProblem(seed, { books: 8, steps: 6, grain: 30, days: 40, people: 1 + (seed % 3) });
      const first = build(problem, { seed });
      if (!first.ok) throw new Error(first.refusal.sentence);
      const plan = solve(problem, 200, seed)!;
      expect(check(problem, plan), `seed ${seed}`).toEqual([]);
      expect(compare(plan.objective, first.value.objective)).toBeLessThanOrEqual(0);
    }
  });

  test('finds the optimum of small textbook projects, as the model does (15 projects, seeds 1 to 15)', () => {
    for (let seed = 1; seed <= 15; seed++) {
      const problem = randomTextbook(seed, { tasks: 7, resources: 2, longest: 3 });
      const plan = solve(problem, 300, seed)!;
      expect(check(problem, plan)).toEqual([]);
      expect(plan.objective, `seed ${seed}`).toEqual(solveByModel(problem, plan.objective.finish + 1));
    }
  });

  test('gives the same plan for the same seed and stops when told', () => {
    const problem = randomTextbook(5, { tasks: 40, resources: 3, longest: 9 });
    const first = build(problem, { rule: 'longest tail' });
    if (!first.ok) throw new Error(first.refusal.sentence);
    expect(solve(problem, 500, 7)!.placed).toEqual(solve(problem, 500, 7)!.placed);
    const search = improve(problem, first.value, { seed: 1, shouldStop: () => true });
    const steps = [...search];
    expect(steps.length).toBeLessThanOrEqual(1);
  });

  test('relabelled tasks in another order have the same best plan (small weeks, seeds 1 to 30)', () => {
    for (let seed = 1; seed <= 30; seed++) {
      const problem = small(seed);
      const renamed: Problem = {
        ...problem,
        tasks: problem.tasks.toReversed().map((task) => ({
          ...task,
          id: `renamed ${task.id}`,
          after: task.after.map((after) => ({ ...after, task: `renamed ${after.task}` })),
        })),
      };
      expect(solve(renamed, 400, seed)?.objective, `seed ${seed}`).toEqual(solve(problem, 400, seed)?.objective);
    }
  });

  test('moving all times by an hour moves the plan by an hour', () => {
    for (let seed = 1; seed <= 20; seed++) {
      const problem = randomProblem(seed, { books: 5, steps: 4, grain: 30, days: 30 });
      const value = ruleValue(problem);
      expect(ruleValue(shifted(problem, 60))).toEqual({ ...value, finish: value.finish + 60 });
    }
  });

  test('twice the presses and tools never make the best plan of small weeks worse', () => {
    for (let seed = 1; seed <= 40; seed++) {
      const problem = small(seed);
      const plan = solve(problem, 400, seed);
      if (!plan) continue;
      const doubled = {
        ...problem,
        resources: problem.resources.map((r) => ({
          ...r,
          capacity: 2 * r.capacity,
          changes: (r.changes ?? []).map((c) => ({ ...c, capacity: 2 * c.capacity })),
        })),
      };
      expect(compare(solve(doubled, 400, seed)!.objective, plan.objective), `seed ${seed}`).toBeLessThanOrEqual(0);
    }
  });
});

function ruleValue(problem: Problem): Objective {
  const plan = build(problem, { rule: 'longest tail' });
  if (!plan.ok) throw new Error(plan.refusal.sentence);
  return plan.value.objective;
}

function shifted(problem: Problem, minutes: number): Problem {
  const move = (time: number | null) => (time === null ? null : time + minutes);
  return {
    ...problem,
    now: problem.now + minutes,
    calendars: Object.fromEntries(
      Object.entries(problem.calendars).map(([name, windows]) => [
        name,
        windows.map((w) => ({ from: w.from + minutes, to: w.to + minutes })),
      ]),
    ),
    resources: problem.resources.map((r) => ({
      ...r,
      changes: (r.changes ?? []).map((c) => ({ ...c, at: c.at + minutes })),
    })),
    tasks: problem.tasks.map((task) => ({
      ...task,
      release: move(task.release),
      due: move(task.due),
      pinned: move(task.pinned),
    })),
  };
}
