/**
 * The schedule engine in its thread: a first plan at once, a better one for as long as allowed, then the chance that it holds. With a plan
 * that people have seen it plans on from that one instead and says what moved.
 */

import type { Result } from '../../core/result.ts';
import { build } from '../../core/schedule/build.ts';
import { improve } from '../../core/schedule/improve.ts';
import type { Objective, Placed, Plan, Problem, Risk } from '../../core/schedule/problem.ts';
import { replan } from '../../core/schedule/replan.ts';
import { risk } from '../../core/schedule/risk.ts';
import { answerThread } from './thread.ts';

export type PlannerInput = Readonly<{
  problem: Problem;
  seed: number;
  seconds: number;
  riskRuns: number;
  /** Where the tasks are in the plan that people have seen; null for a plan of its own. */
  seen: readonly Placed[] | null;
}>;
export type PlannerProgress = Readonly<{ schedules: number; objective: Objective; bound: Objective; gap: number }>;
export type PlannerAnswer = Result<Readonly<{ plan: Plan; risk: Risk | null }>>;

type Say = (progress: PlannerProgress) => void;

/** Often enough to look alive, seldom enough not to be the work. */
const sayEveryMs = 150;
/** How long the chances may take at the end of its time; and told to stop, when a person waits. */
const chancesMs = 1200;
const chancesMsOnceStopped = 20;
/** Fewer runs say nothing; each takes a millisecond or two. */
const fewestRuns = 12;

await answerThread<PlannerInput, PlannerProgress, PlannerAnswer>((input, say, shouldStop) => {
  const planned = input.seen === null ? search(input, say, shouldStop) : planOn(input, input.seen, shouldStop);
  if (!planned.ok) return planned;
  return { ok: true, value: { plan: planned.value, risk: chances(input, planned.value, shouldStop) } };
});

function search(input: PlannerInput, say: Say, shouldStop: () => boolean): Result<Plan> {
  const first = build(input.problem, { seed: input.seed });
  if (!first.ok) return first;
  const { stats, objective, bound, gap } = first.value;
  say({ schedules: stats.schedules, objective, bound, gap });

  const until = performance.now() + input.seconds * 1000;
  const steps = improve(input.problem, first.value, {
    seed: input.seed,
    shouldStop: () => shouldStop() || performance.now() >= until,
  });
  let saidAt = performance.now();
  for (;;) {
    const step = steps.next();
    if (step.done) return { ok: true, value: step.value };
    if (performance.now() - saidAt >= sayEveryMs) {
      saidAt = performance.now();
      say(step.value);
    }
  }
}

function planOn({ problem, seed }: PlannerInput, placed: readonly Placed[], shouldStop: () => boolean): Result<Plan> {
  const nothing = { lateness: 0, completion: 0, finish: 0 };
  // Of a seen plan only the places count.
  const seen: Plan = {
    placed,
    objective: nothing,
    bound: nothing,
    gap: 0,
    reasons: [],
    stats: { schedules: 0, seed },
    remarks: [],
  };
  const again = replan(problem, seen, { seed, shouldStop });
  return again.ok ? { ok: true, value: again.value.plan } : again;
}

function chances({ problem, seed, riskRuns }: PlannerInput, plan: Plan, shouldStop: () => boolean): Risk | null {
  if (riskRuns === 0) return null;
  const until = performance.now() + chancesMs;
  let stopAt = until;
  return risk(problem, plan, {
    runs: riskRuns,
    seed,
    shouldStop(made) {
      const now = performance.now();
      if (stopAt === until && shouldStop()) stopAt = Math.min(until, now + chancesMsOnceStopped);
      return made >= fewestRuns && now >= stopAt;
    },
  });
}
