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
export type PlannerProgress = Readonly<{ schedules: number; objective: Objective; gap: number }>;
export type PlannerAnswer = Result<Readonly<{ plan: Plan; risk: Risk | null }>>;

type Say = (progress: PlannerProgress) => void;

/** Often enough to look alive, seldom enough not to be the work. */
const sayEveryMs = 150;
/** How long the chances may take: told to stop, a person waits for nothing; at the end of its time, not for long. */
const riskMs = { stopped: 20, atEnd: 1200 };
const warmUpRuns = 12;
/** Of the last reckoning; at first a guess that a slow machine keeps to. */
let msPerRun = 2;

await answerThread<PlannerInput, PlannerProgress, PlannerAnswer>((input, say, shouldStop) => {
  const planned = input.seen === null ? search(input, say, shouldStop) : planOn(input, input.seen);
  if (!planned.ok) return planned;
  const allowed = shouldStop() ? riskMs.stopped : riskMs.atEnd;
  return {
    ok: true,
    value: { plan: planned.value, risk: chances(input, planned.value, Math.floor(allowed / msPerRun)) },
  };
});

function search(input: PlannerInput, say: Say, shouldStop: () => boolean): Result<Plan> {
  const first = build(input.problem, { seed: input.seed });
  if (!first.ok) return first;
  say({ schedules: first.value.stats.schedules, objective: first.value.objective, gap: first.value.gap });
  chances(input, first.value, warmUpRuns);

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

function planOn({ problem, seed }: PlannerInput, placed: readonly Placed[]): Result<Plan> {
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
  const again = replan(problem, seen, { seed });
  return again.ok ? { ok: true, value: again.value.plan } : again;
}

function chances({ problem, seed, riskRuns }: PlannerInput, plan: Plan, affordable: number): Risk | null {
  const runs = Math.min(riskRuns, Math.max(warmUpRuns, affordable));
  if (runs === 0) return null;
  const started = performance.now();
  const reckoned = risk(problem, plan, { runs, seed });
  msPerRun = (performance.now() - started) / runs;
  return reckoned;
}
