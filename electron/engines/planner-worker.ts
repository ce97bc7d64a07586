/** The schedule engine in its thread: a first plan at once, a better one for as long as allowed, then the chance that it holds. */

import type { Result } from '../../core/result.ts';
import { build } from '../../core/schedule/build.ts';
import { improve } from '../../core/schedule/improve.ts';
import type { Objective, Plan, Problem, Risk } from '../../core/schedule/problem.ts';
import { risk } from '../../core/schedule/risk.ts';
import { answerThread } from './thread.ts';

export type PlannerInput = Readonly<{ problem: Problem; seed: number; seconds: number; riskRuns: number }>;
export type PlannerProgress = Readonly<{ schedules: number; objective: Objective; gap: number }>;
export type PlannerAnswer = Result<Readonly<{ plan: Plan; risk: Risk | null }>>;

/** Often enough to look alive, seldom enough not to be the work. */
const sayEveryMs = 150;

await answerThread<PlannerInput, PlannerProgress, PlannerAnswer>((input, say, shouldStop) => {
  const first = build(input.problem, { seed: input.seed });
  if (!first.ok) return first;
  say({ schedules: first.value.stats.schedules, objective: first.value.objective, gap: first.value.gap });

  const until = performance.now() + input.seconds * 1000;
  const search = improve(input.problem, first.value, {
    seed: input.seed,
    shouldStop: () => shouldStop() || performance.now() >= until,
  });
  let saidAt = performance.now();
  let plan = first.value;
  for (;;) {
    const step = search.next();
    if (step.done) {
      plan = step.value;
      break;
    }
    if (performance.now() - saidAt >= sayEveryMs) {
      saidAt = performance.now();
      say(step.value);
    }
  }
  const chances = input.riskRuns > 0 ? risk(input.problem, plan, { runs: input.riskRuns, seed: input.seed }) : null;
  return { ok: true, value: { plan, risk: chances } };
});
