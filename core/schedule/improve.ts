/** Searching on from a plan, for as long as it is let. */

import { anneal } from './anneal.ts';
import { planFrom, scheduleFrom, withPeople } from './answer.ts';
import { boundOf } from './bound.ts';
import { compile } from './compile.ts';
import { makeDecoder } from './decode.ts';
import { strengthen } from './destructive.ts';
import { isTextbook } from './grid.ts';
import { gapTo, measure } from './objective.ts';
import type { Objective, Plan, Problem } from './problem.ts';
import { chanceFrom } from './random.ts';
import { searchTextbook } from './textbook.ts';

export type Effort = Readonly<{
  seed: number;
  /** At most about so many schedules, each forward or backward pass counted; for ever when left out. */
  schedules?: number;
  /** Asked between steps of a few milliseconds; true ends the search with the best so far. */
  shouldStop?: () => boolean;
}>;

export type Progress = Readonly<{ schedules: number; objective: Objective; bound: Objective; gap: number }>;

/** Schedules between two reports: a few milliseconds on a week of 300 tasks. */
const stretch = 20;

/**
 * Improves a plan that `build` or this function made for the same problem. A generator, so that the caller can listen to others between
 * steps of a few milliseconds; it returns the best plan found, never worse than the one given, when it is told to stop, has made its
 * schedules, or has proven that no plan is better.
 */
export function* improve(problem: Problem, plan: Plan, effort: Effort): Generator<Progress, Plan> {
  const placedOf = new Map(plan.placed.map((placed) => [placed.task, placed]));
  const compiled = compile(withPeople(problem, placedOf, (task) => task.progress !== null));
  const decoder = makeDecoder(compiled);
  if ('task' in decoder || plan.placed.length !== problem.tasks.length) return plan;
  const best = scheduleFrom(compiled, plan);
  let bound = boundOf(compiled);
  const most = effort.schedules ?? Number.POSITIVE_INFINITY;
  let [made, reported] = [0, 0];
  const progress = (): Progress => {
    const objective = measure(compiled, best);
    return { schedules: made, objective, bound, gap: gapTo(objective, bound, problem.now) };
  };
  const textbook = isTextbook(compiled);
  let stopped = false;
  if (textbook && progress().gap > 0)
    for (const length of strengthen(
      compiled,
      bound.finish - problem.now,
      measure(compiled, best).finish - problem.now,
    )) {
      bound = { ...bound, finish: problem.now + length };
      yield progress();
      stopped = effort.shouldStop?.() ?? false;
      if (stopped) break;
    }
  const chance = chanceFrom(effort.seed);
  const search = textbook
    ? searchTextbook(compiled, best, bound.finish, most, chance)
    : anneal(compiled, decoder, best, chance);
  if (!stopped && progress().gap > 0)
    for (const step of search) {
      made += step;
      if (made >= most) break;
      if (made - reported < stretch) continue;
      reported = made;
      const now = progress();
      yield now;
      if (now.gap === 0 || effort.shouldStop?.()) break;
    }
  return planFrom(compiled, best, bound, { schedules: plan.stats.schedules + made, seed: effort.seed }, []);
}
