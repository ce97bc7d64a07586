/** What is better than what: lateness, then weighted completion, then the finish. */
import type { Compiled } from './compile.ts';
import type { Schedule } from './fit.ts';
import type { Objective } from './problem.ts';

export function measure(compiled: Compiled, schedule: Schedule): Objective {
  let [lateness, completion, finish] = [0, 0, compiled.problem.now];
  for (let task = 0; task < compiled.count; task++) {
    const out = schedule.out[task]!;
    if (out > finish) finish = out;
    const weight = compiled.weight[task]!;
    if (weight === 0) continue;
    completion += weight * Math.max(0, out - compiled.problem.now);
    if (out > compiled.due[task]!) lateness += weight * (out - compiled.due[task]!);
  }
  return { lateness, completion, finish };
}

/** Negative when `a` is better than `b`; weights may be fractions, so that sums are compared to a billionth. */
export function compare(a: Objective, b: Objective): number {
  return differ(a.lateness, b.lateness) || differ(a.completion, b.completion) || a.finish - b.finish;
}

function differ(a: number, b: number): number {
  return Math.abs(a - b) <= 1e-9 * (1 + Math.abs(a) + Math.abs(b)) ? 0 : a - b;
}

/** How much better than this a plan could be at most, as a fraction of the first part that is not proven best. */
export function gapTo(value: Objective, bound: Objective, now: number): number {
  const { measure, above } = shortOf(value, bound);
  return above === 0 ? 0 : above / (value[measure] - (measure === 'finish' ? now : 0));
}

/** The first part that is not proven best, and by how many (weighted) minutes at most it could be better; 0 when all are proven. */
export function shortOf(value: Objective, bound: Objective): Readonly<{ measure: keyof Objective; above: number }> {
  for (const measure of ['lateness', 'completion', 'finish'] as const)
    if (differ(value[measure], bound[measure]) > 0) return { measure, above: value[measure] - bound[measure] };
  return { measure: 'finish', above: 0 };
}
