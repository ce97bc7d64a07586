/**
 * Schedule generation: an order of items becomes a schedule, each task at the earliest minute its hours, its predecessors and what is
 * left of every resource allow (serial scheme; Kolisch 1996). Forward gives the plan; `justify` pushes everything as late as its
 * weighted finishes allow, the first half of a forward-backward improvement (Valls, Ballestín & Quintanilla 2005).
 */
import type { Clock } from './clock.ts';
import { never } from './clock.ts';
import type { Compiled } from './compile.ts';
import type { Schedule } from './fit.ts';
import { emptySchedule, firstFit, lastFit, occupy } from './fit.ts';
import { endFrom, outFrom, startForOut } from './hours.ts';
import type { Resource } from './problem.ts';
import type { Profile } from './profile.ts';
import { copyProfile, makeProfile } from './profile.ts';

export type Decoder = Readonly<{
  /** Places items in this order (predecessors first); the task that found no place, or -1. */
  forward: (order: ArrayLike<number>, into: Schedule) => number;
  /** Pushes every free task of a schedule as late as it can go without any weighted task or the finish being later. False where it cannot. */
  justify: (schedule: Schedule, into: Schedule) => boolean;
}>;

/** Rounds of pushing tasks on that a maximum lag ties together, before the item counts as having no place. */
const mostRounds = 2000;

/** Pinned and begun tasks clash: the task that found no room. */
export type Clash = Readonly<{ task: number }>;

export function makeDecoder(compiled: Compiled): Decoder | Clash {
  const base = compiled.problem.resources.map((resource, r) =>
    makeProfile(...openCapacity(resource, hoursOf(compiled, r)), compiled.count),
  );
  const work = base.map((profile) => ({
    times: profile.times.slice(),
    free: profile.free.slice(),
    steps: profile.steps,
  }));
  const fixedSchedule = emptySchedule(compiled);
  const clash = placeFixed(compiled, base, fixedSchedule);
  if (clash >= 0) return { task: clash };
  const fixed = [...compiled.fixed.keys()].filter((task) => compiled.fixed[task]);

  function reset(into: Schedule): void {
    for (const [r, profile] of base.entries()) copyProfile(profile, work[r]!);
    for (const task of fixed) {
      into.start[task] = fixedSchedule.start[task]!;
      into.end[task] = fixedSchedule.end[task]!;
      into.out[task] = fixedSchedule.out[task]!;
      for (let d = compiled.demandAt[task]!; d < compiled.demandAt[task + 1]!; d++)
        into.chosen[d] = fixedSchedule.chosen[d]!;
    }
  }

  const isUrgent = new Uint8Array(compiled.items.length);
  for (const item of compiled.urgent) isUrgent[item] = 1;

  function forward(order: ArrayLike<number>, into: Schedule): number {
    reset(into);
    for (const item of compiled.urgent) {
      const failed = place(item, into);
      if (failed >= 0) return failed;
    }
    for (let position = 0; position < order.length; position++) {
      if (isUrgent[order[position]!]) continue;
      const failed = place(order[position]!, into);
      if (failed >= 0) return failed;
    }
    return -1;
  }

  function place(item: number, into: Schedule): number {
    const members = compiled.items[item]!;
    return members.length === 1 ? placeOne(members[0]!, -never, into) : placeItem(members, into);
  }

  /** Earliest place for a task whose predecessors are placed; the task itself when there is none, else -1. */
  function placeOne(task: number, floor: number, into: Schedule): number {
    const { before } = compiled;
    let start = Math.max(compiled.release[task]!, floor);
    for (let a = before.at[task]!; a < before.at[task + 1]!; a++)
      start = Math.max(start, into.out[before.task[a]!]! + before.minLag[a]!);
    if (compiled.outFloor[task]! > -never)
      start = Math.max(start, startForOut(compiled, task, compiled.outFloor[task]!));
    start = firstFit(compiled, work, task, start, into.chosen);
    if (start >= never || start > compiled.startCeiling[task]!) return task;
    const end = endFrom(compiled, task, start);
    const out = outFrom(compiled, task, end);
    if (out >= never || out > compiled.outCeiling[task]!) return task;
    into.start[task] = start;
    into.end[task] = end;
    into.out[task] = out;
    occupy(compiled, work, task, into, 1);
    return -1;
  }

  /** Tasks tied by maximum lags: place all, push on those that would lead the next by too much, and again. */
  function placeItem(members: Int32Array, into: Schedule): number {
    const floor = new Map<number, number>();
    for (let round = 0; round < mostRounds; round++) {
      let placed = 0;
      for (; placed < members.length; placed++) {
        const failed = placeOne(members[placed]!, floor.get(members[placed]!) ?? -never, into);
        if (failed >= 0) return failed;
        if (pushedOn(members[placed]!, floor, into)) break;
      }
      if (placed === members.length) return -1;
      for (let k = 0; k <= placed; k++) occupy(compiled, work, members[k]!, into, -1);
    }
    return members[0]!;
  }

  /** Whether a predecessor must go later for the maximum lag to this task to hold; notes by how much. */
  function pushedOn(task: number, floor: Map<number, number>, into: Schedule): boolean {
    const { before } = compiled;
    let pushed = false;
    for (let a = before.at[task]!; a < before.at[task + 1]!; a++) {
      const [other, maxLag] = [before.task[a]!, before.maxLag[a]!];
      if (maxLag >= never || compiled.fixed[other] || into.out[other]! + maxLag >= into.start[task]!) continue;
      floor.set(other, startForOut(compiled, other, into.start[task]! - maxLag));
      pushed = true;
    }
    return pushed;
  }

  const { rank } = compiled;
  const free = compiled.items.flatMap((members) => [...members]);
  const tied = new Set(
    compiled.items.filter((members, item) => members.length > 1 || isUrgent[item]).flatMap((members) => [...members]),
  );
  const key = new Int32Array(compiled.count);

  function justify(schedule: Schedule, into: Schedule): boolean {
    reset(into);
    const { after } = compiled;
    let finish = -never;
    for (const task of free) finish = Math.max(finish, schedule.out[task]!);
    for (let position = compiled.count - 1; position >= 0; position--) {
      const task = compiled.topological[position]!;
      key[task] = schedule.out[task]!;
      for (let a = after.at[task]!; a < after.at[task + 1]!; a++)
        key[task] = Math.max(key[task]!, key[after.task[a]!]!);
    }
    // Tasks tied by maximum lags, or urgent, stay where they are, so that the lags still hold.
    for (const task of tied) keepPlace(task, schedule, into);
    for (const task of free.toSorted((a, b) => key[b]! - key[a]! || rank[b]! - rank[a]!)) {
      if (tied.has(task)) continue;
      let limit = Math.min(compiled.weight[task]! > 0 ? schedule.out[task]! : finish, compiled.outCeiling[task]!);
      for (let a = after.at[task]!; a < after.at[task + 1]!; a++)
        limit = Math.min(limit, into.start[after.task[a]!]! - after.minLag[a]!);
      const start = lastFit(compiled, work, task, limit, schedule.start[task]!, into.chosen);
      if (start <= -never || start > compiled.startCeiling[task]!) return false;
      into.start[task] = start;
      into.end[task] = endFrom(compiled, task, start);
      into.out[task] = outFrom(compiled, task, into.end[task]!);
      occupy(compiled, work, task, into, 1);
    }
    return true;
  }

  function keepPlace(task: number, schedule: Schedule, into: Schedule): void {
    into.start[task] = schedule.start[task]!;
    into.end[task] = schedule.end[task]!;
    into.out[task] = schedule.out[task]!;
    for (let d = compiled.demandAt[task]!; d < compiled.demandAt[task + 1]!; d++) into.chosen[d] = schedule.chosen[d]!;
    occupy(compiled, work, task, into, 1);
  }

  return { forward, justify };
}

/**
 * The hours in which anything can use a pair of hands, when all that does follows one calendar: outside them the hands count as taken,
 * so that a search for a place passes over full days and the nights between them in one step. Null where that does not hold.
 */
function hoursOf(compiled: Compiled, resource: number): Clock | null {
  if (!compiled.letsGo[resource]) return null;
  let hours: Clock | null = null;
  for (let task = 0; task < compiled.count; task++)
    for (let d = compiled.demandAt[task]!; d < compiled.demandAt[task + 1]!; d++) {
      if (!compiled.candidates[compiled.demandOf[d]!]!.includes(resource)) continue;
      const clock = compiled.clocks[task]!;
      if (!clock || compiled.presences[task] || (hours && hours !== clock)) return null;
      hours = clock;
    }
  return hours;
}

/** Capacity at first and its changes, none outside the hours. */
function openCapacity(resource: Resource, hours: Clock | null): [number, Readonly<{ at: number; capacity: number }>[]] {
  const changes = [...(resource.changes ?? [])];
  if (!hours) return [resource.capacity, changes];
  const capacityAt = (minute: number) =>
    changes.findLast((change) => change.at <= minute)?.capacity ?? resource.capacity;
  const open = [...hours.from].flatMap((from, k) => {
    const to = hours.to[k]!;
    const inside = changes.filter((change) => change.at > from && change.at < to);
    return [{ at: from, capacity: capacityAt(from) }, ...inside, { at: to, capacity: 0 }];
  });
  // Windows that touch: the second opens where the first would close.
  return [0, open.filter((change, k) => open[k + 1]?.at !== change.at)];
}

/** Takes the places of begun and pinned tasks; the pinned task that finds none, or -1. */
export function placeFixed(compiled: Compiled, profiles: readonly Profile[], into: Schedule): number {
  const { problem } = compiled;
  const tasks = [...problem.tasks.keys()].filter((task) => compiled.fixed[task]);
  // Begun work has what it has; among the pinned, those who need one certain person come before those who take anybody.
  const freedom = (task: number) => {
    let most = problem.tasks[task]!.progress ? 0 : 1;
    for (let d = compiled.demandAt[task]!; d < compiled.demandAt[task + 1]!; d++)
      if (!problem.tasks[task]!.progress) most = Math.max(most, compiled.candidates[compiled.demandOf[d]!]!.length);
    return most;
  };
  const begunFirst = tasks.toSorted((a, b) => freedom(a) - freedom(b) || compiled.release[a]! - compiled.release[b]!);
  for (const task of begunFirst) {
    into.start[task] = compiled.release[task]!;
    into.end[task] = compiled.fixedEnd[task]!;
    into.out[task] = compiled.fixedOut[task]!;
    const state = problem.tasks[task]!.progress?.state;
    const found = state ? -never : firstFit(compiled, profiles, task, into.start[task]!, into.chosen);
    if (state)
      for (let d = compiled.demandAt[task]!; d < compiled.demandAt[task + 1]!; d++)
        into.chosen[d] = leastTaken(compiled, profiles, d);
    else if (found !== into.start[task] || into.out[task]! >= never) return task;
    if (state !== 'finished') occupy(compiled, profiles, task, into, 1, problem.now);
  }
  return tasks.find((task) => brokenLag(compiled, into, task) >= 0) ?? -1;
}

/** The fixed task from which a pinned task is too near or too far, or -1. */
export function brokenLag(compiled: Compiled, fixed: Pick<Schedule, 'start' | 'out'>, task: number): number {
  const { before } = compiled;
  for (let a = before.at[task]!; a < before.at[task + 1]!; a++) {
    const other = before.task[a]!;
    if (!compiled.fixed[other]) continue;
    const lag = fixed.start[task]! - fixed.out[other]!;
    if (lag < before.minLag[a]! || (lag > before.maxLag[a]! && !compiled.problem.tasks[other]!.progress)) return other;
  }
  return -1;
}

/** The member with most left at `now`: the one at work on something begun. */
function leastTaken(compiled: Compiled, profiles: readonly Profile[], demand: number): number {
  const members = compiled.candidates[compiled.demandOf[demand]!]!;
  return members.reduce((best, member) =>
    freeNow(profiles[member]!, compiled.problem.now) > freeNow(profiles[best]!, compiled.problem.now) ? member : best,
  );
}

function freeNow(profile: Profile, now: number): number {
  let k = profile.steps - 1;
  while (k > 0 && profile.times[k]! > now) k--;
  return profile.free[k]!;
}
