/** Planning on from now: what is begun stays, the order people have seen is kept unless changing it wins enough, and what moved is listed. */
import type { Result } from '../result.ts';
import { ok, refuse } from '../result.ts';
import { anneal } from './anneal.ts';
import { planFrom, scheduleFrom, withPeople } from './answer.ts';
import { boundOf } from './bound.ts';
import { clashSentence, firstSchedule } from './build.ts';
import { type Compiled, compile } from './compile.ts';
import { makeDecoder } from './decode.ts';
import type { Schedule } from './fit.ts';
import { copySchedule, emptySchedule } from './fit.ts';
import { compare, gapTo, measure } from './objective.ts';
import { orderBySchedule, rules } from './orders.ts';
import type { Move, Placed, Plan, Problem } from './problem.ts';
import { chanceFrom } from './random.ts';
import { validate } from './validate.ts';

/** A change of order must win this share of what is not proven best already. */
const standardThreshold = 0.03;
/** Tasks that the seen plan does not know come after all it knows. */
const newTasksKey = 1e9;

type SeenOf = ReadonlyMap<string, Placed>;

type ReplanEffort = Readonly<{
  seed: number;
  /** A change of order must win this share. */
  threshold?: number;
  /** Schedules that the search for another order makes. */
  schedules?: number;
  /** Asked after every one or two of them, milliseconds apart; true ends the search with the best so far. */
  shouldStop?: (made: number) => boolean;
}>;

/**
 * A plan for a problem whose `now`, progress, pins or tasks have changed since `seen` was made. Tasks that are new since then come
 * after the others unless placing them earlier wins more than the threshold (a fraction). Refuses as `build` does.
 */
export function replan(
  problem: Problem,
  seen: Plan,
  options: ReplanEffort,
): Result<Readonly<{ plan: Plan; moves: readonly Move[]; orderKept: boolean }>> {
  const valid = validate(problem);
  if (!valid.ok) return valid;
  const seenOf = new Map(seen.placed.map((placed) => [placed.task, placed]));
  const compiled = compile(withPeople(problem, seenOf, (task) => task.progress !== null));
  const decoder = makeDecoder(compiled);
  if ('task' in decoder) return refuse(clashSentence(compiled, decoder.task), problem.tasks[decoder.task]!.id);
  let made = 1;
  let kept = keepOrder(problem, seenOf, compiled);
  if (!kept) {
    const first = firstSchedule(compiled, decoder, rules);
    if ('sentence' in first) return { ok: false, refusal: first };
    kept = first.schedule;
    made += first.count;
  }
  const better = emptySchedule(compiled);
  copySchedule(kept, better);
  const most = made + (options.schedules ?? 400);
  for (const step of anneal(compiled, decoder, better, chanceFrom(options.seed))) {
    made += step;
    if (made >= most || options.shouldStop?.(made)) break;
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
    const before = seenOf.get(task)?.start;
    return before === undefined || before === start ? [] : [{ task, from: before, to: start }];
  });
  return ok({ plan, moves, orderKept });
}

/** The seen order with the seen people, every task as early as that allows; null when something no longer fits. */
function keepOrder(problem: Problem, seenOf: SeenOf, compiled: Compiled): Schedule | null {
  const strict = withPeople(problem, seenOf, () => true);
  if (!validate(strict).ok) return null;
  const same = compile(strict);
  const decoder = makeDecoder(same);
  if ('task' in decoder) return null;
  const schedule = emptySchedule(same);
  const key = problem.tasks.map((task, k) => seenOf.get(task.id)?.start ?? newTasksKey + k);
  if (decoder.forward(orderBySchedule(same, key), schedule) >= 0) return null;
  return scheduleFrom(compiled, planFrom(same, schedule, boundOf(same), { schedules: 1, seed: 0 }, []));
}
