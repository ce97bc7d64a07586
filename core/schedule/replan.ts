/** Planning on from now: what is begun stays, the order people have seen is kept unless changing it wins enough, and what moved is listed. */
import type { Result } from '../result.ts';
import { ok, refuse } from '../result.ts';
import { anneal } from './anneal.ts';
import { planFrom } from './answer.ts';
import { boundOf } from './bound.ts';
import { clashSentence, firstSchedule } from './build.ts';
import { compile } from './compile.ts';
import { makeDecoder } from './decode.ts';
import { copySchedule, emptySchedule } from './fit.ts';
import { compare, gapTo, measure } from './objective.ts';
import { orderBySchedule, rules } from './orders.ts';
import type { Move, Plan, Problem } from './problem.ts';
import { chanceFrom } from './random.ts';
import { validate } from './validate.ts';

/** A change of order must win this share of what is not proven best already. */
const standardThreshold = 0.03;

/**
 * A plan for a problem whose `now`, progress, pins or tasks have changed since `seen` was made. Tasks that are new since then come
 * after the others unless placing them earlier wins more than the threshold (a fraction). Refuses as `build` does.
 */
export function replan(
  problem: Problem,
  seen: Plan,
  options: Readonly<{ seed: number; threshold?: number; schedules?: number }>,
): Result<Readonly<{ plan: Plan; moves: readonly Move[]; orderKept: boolean }>> {
  const valid = validate(problem);
  if (!valid.ok) return valid;
  const compiled = compile(problem);
  const decoder = makeDecoder(compiled);
  if ('task' in decoder) return refuse(clashSentence(compiled, decoder.task), problem.tasks[decoder.task]!.id);
  const seenStart = new Map(seen.placed.map((placed) => [placed.task, placed.start]));
  const kept = emptySchedule(compiled);
  const key = problem.tasks.map((task, k) => seenStart.get(task.id) ?? 1e9 + k);
  let made = 1;
  if (decoder.forward(orderBySchedule(compiled, key), kept) >= 0) {
    const first = firstSchedule(compiled, decoder, rules);
    if ('sentence' in first) return { ok: false, refusal: first };
    copySchedule(first.schedule, kept);
    made += first.count;
  }
  const better = emptySchedule(compiled);
  copySchedule(kept, better);
  const most = made + (options.schedules ?? 400);
  for (const step of anneal(compiled, decoder, better, chanceFrom(options.seed))) {
    made += step;
    if (made >= most) break;
  }
  const [keptValue, betterValue] = [measure(compiled, kept), measure(compiled, better)];
  const orderKept =
    compare(betterValue, keptValue) >= 0 ||
    gapTo(keptValue, betterValue, problem.now) <= (options.threshold ?? standardThreshold);
  const plan = planFrom(
    compiled,
    orderKept ? kept : better,
    boundOf(compiled),
    { schedules: made, seed: options.seed },
    [],
  );
  const moves = plan.placed.flatMap(({ task, start }) => {
    const before = seenStart.get(task);
    return before === undefined || before === start ? [] : [{ task, from: before, to: start }];
  });
  return ok({ plan, moves, orderKept });
}
