/**
 * Least weighted sum of finishes on one machine, by Smith's rule (1956): most weight for its work first. The machine is open only at times,
 * so that the rule is applied to open minutes, and open minutes are turned into time by the lower convex hull of when they can be over;
 * by Jensen's inequality the weighted mean may be put into a convex function in place of every single finish.
 */
import type { Clock } from './clock.ts';

export type Job = Readonly<{ weight: number; work: number }>;

/** Least sum of weight × minutes after `now`; work in units × minutes, done at `capacity` units a minute while the clock is open. */
export function smithBound(jobs: readonly Job[], capacity: number, clock: Clock | null, now: number): number {
  const weight = jobs.reduce((sum, job) => sum + job.weight, 0);
  if (weight === 0) return 0;
  let [done, weighted] = [0, 0];
  for (const job of jobs.toSorted((a, b) => a.work / a.weight - b.work / b.weight)) {
    done += job.work / capacity;
    weighted += job.weight * done;
  }
  return weight * hullAt(clock, now, weighted / weight, done);
}

/** Lower hull of "minutes after now by which so many open minutes can be over", at `open`, for up to `most` of them. */
function hullAt(clock: Clock | null, now: number, open: number, most: number): number {
  if (!clock) return open;
  const hull: { x: number; y: number }[] = [];
  const add = (x: number, y: number) => {
    while (hull.length > 1) {
      const [a, b] = [hull.at(-2)!, hull.at(-1)!];
      if ((b.y - a.y) * (x - a.x) < (y - a.y) * (b.x - a.x)) break;
      hull.pop();
    }
    hull.push({ x, y });
  };
  let sum = 0;
  for (let k = 0; k < clock.to.length && sum < most; k++) {
    const from = Math.max(now, clock.from[k]!);
    const to = clock.to[k]!;
    if (to <= from) continue;
    if (sum === 0) add(0, from - now);
    const length = Math.min(to - from, most - sum);
    sum += length;
    add(sum, from + length - now);
  }
  const after = hull.findIndex((point) => point.x >= open);
  if (after <= 0) return hull[Math.max(0, after)]?.y ?? 0;
  const [a, b] = [hull[after - 1]!, hull[after]!];
  return a.y + ((b.y - a.y) * (open - a.x)) / (b.x - a.x);
}
