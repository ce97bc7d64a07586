/**
 * How likely a plan holds when its minutes are only estimates: many runs of the same policy (the plan's order, each task as soon as it
 * can) with minutes drawn from each task's range. Low, likely and high are read as the 10 %, 50 % and 90 % points of a log-normal with
 * a half of its own on either side.
 */
import { assert } from '../result.ts';
import { compile } from './compile.ts';
import { makeDecoder } from './decode.ts';
import { emptySchedule } from './fit.ts';
import { orderBySchedule } from './orders.ts';
import type { Plan, Problem, Risk, Task } from './problem.ts';
import { type Chance, chanceFrom } from './random.ts';

/** The 90 % point of the standard normal distribution. */
const z90 = 1.2815515655446004;

type RiskEffort = Readonly<{
  /** Runs at most, at least one. */
  runs: number;
  seed: number;
  /** Asked after every run, a millisecond or two; true ends with the runs made so far. */
  shouldStop?: (made: number) => boolean;
}>;

/** P50 and P80 of every task's and the whole plan's finish, and the chance that due times are met, over the runs it says it made. */
export function risk(problem: Problem, plan: Plan, effort: RiskEffort): Risk {
  const loose = unpinned(problem);
  const compiled = compile(loose);
  const decoder = makeDecoder(compiled);
  const most = Math.max(1, effort.runs);
  const count = problem.tasks.length;
  const outs = new Float64Array(count * most);
  const allFinishes = new Float64Array(most);
  const chance = chanceFrom(effort.seed);
  let allOnTime = 0;
  assert(!('task' in decoder), 'nothing is pinned here');
  const order = orderBySchedule(
    compiled,
    plan.placed.map((placed) => placed.start),
  );
  const schedule = emptySchedule(compiled);
  const longest = loose.tasks.map((task) => longestPiece(loose, task));
  let runs = 0;
  for (; runs < most && !(runs > 0 && effort.shouldStop?.(runs)); runs++) {
    for (const [k, task] of loose.tasks.entries())
      if (!compiled.fixed[k]) compiled.minutes[k] = Math.min(longest[k]!, drawMinutes(task, chance));
    const failed = decoder.forward(order, schedule) >= 0;
    let late = false;
    for (let k = 0; k < count; k++) {
      const out = failed ? Number.POSITIVE_INFINITY : schedule.out[k]!;
      outs[k * most + runs] = out;
      allFinishes[runs] = Math.max(allFinishes[runs]!, out);
      late ||= out > compiled.due[k]!;
    }
    if (!late && !failed) allOnTime++;
  }
  const finishes = allFinishes.subarray(0, runs);
  return {
    runs,
    tasks: problem.tasks.map((task, k) => {
      const times = outs.subarray(k * most, k * most + runs).sort();
      const onTime = task.due === null ? 1 : times.filter((out) => out <= task.due!).length / runs;
      return { task: task.id, p50: quantile(times, 0.5), p80: quantile(times, 0.8), onTime };
    }),
    finish: { p50: quantile(finishes.sort(), 0.5), p80: quantile(finishes, 0.8) },
    allOnTime: allOnTime / runs,
  };
}

/** A pinned start is kept as "not before" when the work before it may run late. */
function unpinned(problem: Problem): Problem {
  return {
    ...problem,
    tasks: problem.tasks.map((task) =>
      task.pinned === null || task.progress
        ? task
        : { ...task, pinned: null, release: Math.max(task.pinned, task.release ?? task.pinned) },
    ),
  };
}

/** Whole work that would not fit any window is worked on to its end there. */
function longestPiece(problem: Problem, task: Task): number {
  if (task.calendar === null || task.shape === 'breakable') return Number.POSITIVE_INFINITY;
  return problem.calendars[task.calendar]!.reduce((longest, window) => Math.max(longest, window.to - window.from), 0);
}

function drawMinutes(task: Task, chance: Chance): number {
  const { range } = task;
  if (!range) return task.minutes;
  const z = normal(chance) / z90;
  const edge = z < 0 ? range.low : range.high;
  const minutes =
    range.likely > 0 && edge > 0
      ? range.likely * (edge / range.likely) ** Math.abs(z)
      : range.likely + (edge - range.likely) * Math.min(1, Math.abs(z));
  return Math.max(task.minutes > 0 ? 1 : 0, Math.round(minutes));
}

/** Box & Muller 1958. */
function normal(chance: Chance): number {
  return Math.sqrt(-2 * Math.log(1 - chance())) * Math.cos(2 * Math.PI * chance());
}

/** Smallest value that at least this share of the sorted values does not exceed. */
function quantile(sorted: Float64Array, share: number): number {
  return sorted[Math.max(0, Math.ceil(share * sorted.length) - 1)]!;
}
