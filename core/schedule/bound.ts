/**
 * What no plan can beat, part by part.
 *
 * - Critical path: every task at the earliest its hours, its predecessors' lags and the fixed tasks allow, as if it were alone.
 * - Energy: what must happen between the earliest heads and the shortest tails on one resource must fit into its open hours
 *   (Carlier & Latapie 1991 for the open case), single resources and whole pools.
 * - Completion and lateness: the k-th book off a pair of hands cannot be off before the k smallest amounts of work are done; for
 *   unequal weights, layer by layer of weight, or by Smith's rule (`smith.ts`), whichever is more. Lateness pairs those finishes with the due times in order, which is the least it can be.
 */
import type { Clock } from './clock.ts';
import { endOfOpen, makeClock, never } from './clock.ts';
import type { Compiled } from './compile.ts';
import { placeFixed } from './decode.ts';
import { emptySchedule, firstFit, occupy } from './fit.ts';
import { endFrom, outFrom } from './hours.ts';
import { ancestorsOf, tails } from './orders.ts';
import type { Calendar, Objective, Span } from './problem.ts';
import { makeProfile } from './profile.ts';
import { smithBound } from './smith.ts';

/** Least lateness, completion and finish of any plan of this problem, each on its own. */
export function boundOf(compiled: Compiled): Objective {
  const { heads, outs } = earliest(compiled);
  const machines = listMachines(compiled);
  const { lateness, completion } = boundGoals(compiled, outs, machines);
  const path = outs.reduce((latest, out) => Math.max(latest, out), compiled.problem.now);
  const finish = machines.reduce((latest, machine) => Math.max(latest, energy(compiled, machine, heads)), path);
  return { lateness, completion, finish };
}

/** Earliest start and out of every task, other free tasks' use of resources left aside. */
function earliest(compiled: Compiled): { heads: Int32Array; outs: Int32Array } {
  const profiles = compiled.problem.resources.map((r) => makeProfile(r.capacity, r.changes ?? [], compiled.count));
  const schedule = emptySchedule(compiled);
  // Who of a pool is at fixed work is a choice that another plan may make otherwise: such work takes nobody here.
  const guessed = compiled.problem.resources.map((r) => makeProfile(r.capacity, r.changes ?? [], compiled.count));
  placeFixed(compiled, guessed, schedule);
  for (const [task, { progress }] of compiled.problem.tasks.entries()) {
    const chosen = compiled.demandOf.subarray(compiled.demandAt[task]!, compiled.demandAt[task + 1]!);
    if (
      !compiled.fixed[task] ||
      progress?.state === 'finished' ||
      chosen.some((list) => compiled.candidates[list]!.length > 1)
    )
      continue;
    occupy(compiled, profiles, task, schedule, 1, compiled.problem.now);
  }
  const { before } = compiled;
  for (const task of compiled.topological) {
    if (compiled.fixed[task]) continue;
    let start = compiled.release[task]!;
    for (let a = before.at[task]!; a < before.at[task + 1]!; a++)
      start = Math.max(start, schedule.out[before.task[a]!]! + before.minLag[a]!);
    start = firstFit(compiled, profiles, task, start, schedule.chosen);
    schedule.start[task] = start;
    schedule.end[task] = start >= never ? never : endFrom(compiled, task, start);
    schedule.out[task] = start >= never ? never : outFrom(compiled, task, schedule.end[task]!);
  }
  return { heads: schedule.start, outs: schedule.out };
}

/** A resource or a whole pool, with the open minutes in which anything of it can be used. */
type Machine = Readonly<{
  tasks: readonly number[];
  /** Units demanded of it by each of `tasks`. */
  amounts: readonly number[];
  /** Capacity while open: units times minutes up to a minute. */
  clock: Clock | null;
  capacity: number;
}>;

function listMachines(compiled: Compiled): Machine[] {
  const { problem } = compiled;
  const sets = [
    ...problem.resources.map((_, k) => new Set([k])),
    ...problem.pools.map(
      (pool) => new Set(pool.members.map((member) => problem.resources.findIndex((r) => r.id === member))),
    ),
  ];
  return sets.flatMap((set) => {
    const [tasks, amounts]: [number[], number[]] = [[], []];
    for (let task = 0; task < compiled.count; task++) {
      if (compiled.fixed[task]) continue;
      let amount = 0;
      for (let d = compiled.demandAt[task]!; d < compiled.demandAt[task + 1]!; d++)
        if (compiled.candidates[compiled.demandOf[d]!]!.every((resource) => set.has(resource)))
          amount += compiled.demandAmount[d]!;
      if (amount === 0 || compiled.minutes[task] === 0) continue;
      tasks.push(task);
      amounts.push(amount);
    }
    if (tasks.length === 0) return [];
    const capacity = [...set].reduce((sum, r) => sum + mostOf(compiled, r), 0);
    return [{ tasks, amounts, capacity, clock: unionOf(compiled, tasks) }];
  });
}

function mostOf(compiled: Compiled, resource: number): number {
  const { capacity, changes } = compiled.problem.resources[resource]!;
  return Math.max(capacity, ...(changes ?? []).map((change) => change.capacity));
}

/** All minutes in which any of the tasks can be worked at; null for always. */
function unionOf(compiled: Compiled, tasks: readonly number[]): Clock | null {
  const names = new Set(tasks.map((task) => compiled.problem.tasks[task]!.calendar));
  if (names.has(null)) return null;
  const windows = [...names].flatMap((name) => compiled.problem.calendars[name!]!).toSorted((a, b) => a.from - b.from);
  const union: Span[] = [];
  for (const window of windows) {
    const last = union.at(-1);
    if (last && window.from <= last.to) union[union.length - 1] = { from: last.from, to: Math.max(last.to, window.to) };
    else union.push(window);
  }
  return makeClock(union satisfies Calendar);
}

/** The minute by which so many open minutes after `from` are over. */
function after(clock: Clock | null, from: number, minutes: number): number {
  if (minutes <= 0) return from;
  return clock ? endOfOpen(clock, from, minutes) : from + minutes;
}

/** Least finish by energy: for every pair of head and tail, the work between them fits into the open hours. */
function energy(compiled: Compiled, machine: Machine, heads: Int32Array): number {
  const tail = tails(compiled);
  const byTail = machine.tasks
    .map((task, k) => ({
      head: heads[task]!,
      tail: tail[task]! - compiled.minutes[task]!,
      work: machine.amounts[k]! * compiled.minutes[task]!,
    }))
    .toSorted((a, b) => b.tail - a.tail);
  let best = -never;
  for (const head of new Set(byTail.map((one) => one.head))) {
    let work = 0;
    for (const [k, one] of byTail.entries()) {
      if (one.head < head) continue;
      work += one.work;
      if (byTail[k + 1]?.tail === one.tail) continue;
      best = Math.max(best, after(machine.clock, head, Math.ceil(work / machine.capacity)) + one.tail);
    }
  }
  return best;
}

type Goal = Readonly<{ weight: number; due: number; out: number; work: readonly number[]; rest: readonly number[] }>;

function boundGoals(compiled: Compiled, outs: Int32Array, machines: readonly Machine[]) {
  const goals = [...compiled.weight.keys()].filter((task) => compiled.weight[task]! > 0);
  const owner = ownersOf(compiled, goals);
  const distances = goals.map((goal) => minutesTo(compiled, goal));
  const facts: Goal[] = goals.map((goal, g) => ({
    weight: compiled.weight[goal]!,
    due: compiled.due[goal]!,
    out: outs[goal]!,
    work: machines.map((machine) =>
      machine.tasks.reduce(
        (sum, task, k) => (owner[task] === g ? sum + machine.amounts[k]! * compiled.minutes[task]! : sum),
        0,
      ),
    ),
    // What must still happen after the last of this goal's work on the machine.
    rest: machines.map((machine) =>
      machine.tasks.reduce(
        (least, task) => (owner[task] === g ? Math.min(least, distances[g]!.get(task)!) : least),
        never,
      ),
    ),
  }));
  const now = compiled.problem.now;
  let [lateness, completion] = [0, 0];
  const levels = [...new Set(facts.map((goal) => goal.weight))].toSorted((a, b) => b - a);
  for (const [k, level] of levels.entries()) {
    const layer = facts.filter((goal) => goal.weight >= level);
    const height = level - (levels[k + 1] ?? 0);
    const finishes = machines.map((machine, m) => finishesOf(machine, layer, m, now));
    const alone = layer.map((goal) => goal.out).toSorted((a, b) => a - b);
    const least = alone.map((out, position) =>
      finishes.reduce((latest, list) => Math.max(latest, list[position]!), out),
    );
    const dues = layer.map((goal) => goal.due).toSorted((a, b) => a - b);
    completion += height * sum(least.map((out) => Math.max(0, out - now)));
    lateness +=
      height *
      Math.max(
        sum(least.map((out, position) => Math.max(0, out - dues[position]!))),
        sum(layer.map((goal) => Math.max(0, goal.out - goal.due))),
      );
  }
  const smith = machines.map((machine, m) => smithOf(machine, m, facts, now));
  return { lateness, completion: Math.max(completion, ...smith) };
}

/** Least weighted completion by Smith's rule on one machine, and what must follow there for each goal. */
function smithOf(machine: Machine, m: number, goals: readonly Goal[], now: number): number {
  const jobs = goals.filter((goal) => goal.work[m]! > 0);
  const others = goals.filter((goal) => goal.work[m] === 0);
  const done = smithBound(
    jobs.map((goal) => ({ weight: goal.weight, work: goal.work[m]! })),
    machine.capacity,
    machine.clock,
    now,
  );
  const follows = sum(jobs.map((goal) => goal.weight * Math.max(0, goal.rest[m]!)));
  return done + follows + sum(others.map((goal) => goal.weight * Math.max(0, goal.out - now)));
}

/** Least possible k-th finish of these goals on one machine. */
function finishesOf(machine: Machine, goals: readonly Goal[], m: number, now: number): number[] {
  const works = goals.map((goal) => goal.work[m]!).toSorted((a, b) => a - b);
  const rest = goals.reduce(
    (least, goal) => Math.min(least, goal.work[m]! > 0 ? Math.max(0, goal.rest[m]!) : 0),
    never,
  );
  let done = 0;
  return works.map((work) => {
    done += work;
    return done === 0 ? -never : after(machine.clock, now, Math.ceil(done / machine.capacity)) + rest;
  });
}

/** Minutes from the end of each task that must come before the goal to the goal's own end, hours and resources aside. */
function minutesTo(compiled: Compiled, goal: number): Map<number, number> {
  const needed = new Set(ancestorsOf(compiled, goal));
  const distance = new Map([[goal, 0]]);
  for (const task of compiled.topological.toReversed()) {
    if (!needed.has(task) || task === goal) continue;
    let longest = -never;
    for (let a = compiled.after.at[task]!; a < compiled.after.at[task + 1]!; a++) {
      const next = compiled.after.task[a]!;
      if (needed.has(next))
        longest = Math.max(longest, compiled.after.minLag[a]! + compiled.minutes[next]! + distance.get(next)!);
    }
    distance.set(task, longest);
  }
  return distance;
}

/** For each task the only goal that needs it, or -1: work that two goals share counts for neither. */
function ownersOf(compiled: Compiled, goals: readonly number[]): Int32Array {
  const owner = new Int32Array(compiled.count).fill(-1);
  const shared = new Uint8Array(compiled.count);
  for (const [g, goal] of goals.entries())
    for (const task of ancestorsOf(compiled, goal)) {
      if (owner[task] !== -1) shared[task] = 1;
      owner[task] = g;
    }
  return owner.map((g, task) => (shared[task] ? -1 : g));
}

function sum(numbers: readonly number[]): number {
  return numbers.reduce((total, number) => total + number, 0);
}
