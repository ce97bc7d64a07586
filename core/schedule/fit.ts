/** Where one task fits among what is left of every resource, and taking its place there. */
import { never, windowAt } from './clock.ts';
import type { Compiled } from './compile.ts';
import { endFrom, outFrom, startFrom, startUntil } from './hours.ts';
import type { Profile } from './profile.ts';
import { shortFrom, shortUntil, take } from './profile.ts';

export type Schedule = {
  start: Int32Array;
  end: Int32Array;
  out: Int32Array;
  /** The resource that meets each demand, by the compiled demands. */
  chosen: Int16Array;
};

export function emptySchedule(compiled: Compiled): Schedule {
  const times = () => new Int32Array(compiled.count);
  return { start: times(), end: times(), out: times(), chosen: new Int16Array(compiled.demandOf.length) };
}

export function copySchedule(from: Schedule, into: Schedule): void {
  into.start.set(from.start);
  into.end.set(from.end);
  into.out.set(from.out);
  into.chosen.set(from.chosen);
}

/**
 * First start at or after `from` at which hours and resources allow the task; `never` when there is none. Writes who is chosen, and
 * into `blame` the resource that pushed it last and until when; untouched when only hours did.
 */
export function firstFit(
  compiled: Compiled,
  profiles: readonly Profile[],
  task: number,
  from: number,
  chosen: Int16Array,
  blame?: { resource: number; until: number },
): number {
  let wanted = from;
  for (;;) {
    const start = startFrom(compiled, task, wanted);
    if (start >= never) return never;
    const end = endFrom(compiled, task, start);
    const out = outFrom(compiled, task, end);
    if (out >= never) return never;
    wanted = start;
    for (let d = compiled.demandAt[task]!; d < compiled.demandAt[task + 1]!; d++) {
      let soonest = never;
      for (const resource of compiled.candidates[compiled.demandOf[d]!]!) {
        if (isTaken(compiled, task, d, resource, chosen)) continue;
        const until = shortPast(
          compiled,
          profiles[resource]!,
          resource,
          task,
          compiled.demandAmount[d]!,
          start,
          end,
          out,
        );
        if (until >= soonest) continue;
        soonest = until;
        chosen[d] = resource;
        if (until === start) break;
      }
      if (soonest > wanted) {
        wanted = soonest;
        if (blame) [blame.resource, blame.until] = [chosen[d]!, soonest];
      }
      if (wanted >= never) return never;
    }
    if (wanted === start) return start;
  }
}

/** Last start at which hours and resources allow the task to be out by `limit`; anything below `floor` when there is none. */
export function lastFit(
  compiled: Compiled,
  profiles: readonly Profile[],
  task: number,
  limit: number,
  floor: number,
  chosen: Int16Array,
): number {
  let latest = limit;
  for (;;) {
    const start = startUntil(compiled, task, latest);
    if (start < floor) return -never;
    const end = endFrom(compiled, task, start);
    const out = outFrom(compiled, task, end);
    latest = out;
    for (let d = compiled.demandAt[task]!; d < compiled.demandAt[task + 1]!; d++) {
      let last = -never;
      for (const resource of compiled.candidates[compiled.demandOf[d]!]!) {
        if (isTaken(compiled, task, d, resource, chosen)) continue;
        const since = shortBefore(
          compiled,
          profiles[resource]!,
          resource,
          task,
          compiled.demandAmount[d]!,
          start,
          end,
          out,
        );
        if (since <= last) continue;
        last = since;
        chosen[d] = resource;
        if (since >= out) break;
      }
      if (last < latest) latest = last;
    }
    if (latest >= out) return start;
  }
}

/** Takes (sign 1) or gives back (sign -1) all that a placed task occupies from minute `since` on. */
export function occupy(
  compiled: Compiled,
  profiles: readonly Profile[],
  task: number,
  schedule: Schedule,
  sign: 1 | -1,
  since = -never,
): void {
  const [start, end, out] = [Math.max(since, schedule.start[task]!), schedule.end[task]!, schedule.out[task]!];
  for (let d = compiled.demandAt[task]!; d < compiled.demandAt[task + 1]!; d++) {
    const resource = schedule.chosen[d]!;
    const amount = sign * compiled.demandAmount[d]!;
    if (!pauses(compiled, task, resource)) take(profiles[resource]!, amount, start, out);
    else {
      const clock = compiled.clocks[task]!;
      for (let k = windowAt(clock, start); k < clock.to.length && clock.from[k]! < end; k++)
        take(profiles[resource]!, amount, Math.max(start, clock.from[k]!), Math.min(end, clock.to[k]!));
    }
  }
}

/** Whether the resource is let go while this task pauses. */
function pauses(compiled: Compiled, task: number, resource: number): boolean {
  return (
    compiled.breakable[task] === 1 &&
    compiled.letsGo[resource] === 1 &&
    compiled.clocks[task] !== null &&
    compiled.presences[task] === null
  );
}

/** Whether an earlier demand of the same task has this resource: two of a pool are two people. */
function isTaken(compiled: Compiled, task: number, demand: number, resource: number, chosen: Int16Array): boolean {
  if (compiled.candidates[compiled.demandOf[demand]!]!.length === 1) return false;
  for (let d = compiled.demandAt[task]!; d < demand; d++) if (chosen[d] === resource) return true;
  return false;
}

/** When the first shortage of a resource during the task is over; its start when there is none. */
function shortPast(
  compiled: Compiled,
  profile: Profile,
  resource: number,
  task: number,
  amount: number,
  start: number,
  end: number,
  out: number,
): number {
  if (!pauses(compiled, task, resource)) return start < out ? shortUntil(profile, amount, start, out) : start;
  const clock = compiled.clocks[task]!;
  for (let k = windowAt(clock, start); k < clock.to.length && clock.from[k]! < end; k++) {
    const from = Math.max(start, clock.from[k]!);
    const until = shortUntil(profile, amount, from, Math.min(end, clock.to[k]!));
    if (until > from) return until;
  }
  return start;
}

/** When the last shortage of a resource during the task begins; its out when there is none. */
function shortBefore(
  compiled: Compiled,
  profile: Profile,
  resource: number,
  task: number,
  amount: number,
  start: number,
  end: number,
  out: number,
): number {
  if (!pauses(compiled, task, resource)) return shortFrom(profile, amount, start, out);
  const clock = compiled.clocks[task]!;
  for (let k = windowAt(clock, end - 1); k >= 0 && clock.to[k]! > start; k--) {
    const to = Math.min(end, clock.to[k]!);
    const since = shortFrom(profile, amount, Math.max(start, clock.from[k]!), to);
    if (since < to) return since;
  }
  return out;
}
