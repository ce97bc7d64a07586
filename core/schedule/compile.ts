/**
 * A validated problem as typed arrays. Tasks that maximum lags tie together form one item (a strongly connected component of the graph
 * with every maximum lag as an arc back; Neumann, Schwindt & Zimmermann, "Project Scheduling with Time Windows", 2003, ch. 1): a
 * search orders items, a decoder places all tasks of an item at once. Pinned and begun tasks are fixed and belong to no item.
 */
import { assert } from '../result.ts';
import type { Clock } from './clock.ts';
import { endOfOpen, makeClock, never } from './clock.ts';
import { endFrom, outFrom } from './hours.ts';
import type { Problem } from './problem.ts';

/** Arcs in rows: those of task k are `at[k]` up to `at[k + 1]`. */
export type Arcs = Readonly<{ at: Int32Array; task: Int32Array; minLag: Int32Array; maxLag: Int32Array }>;

export type Compiled = Readonly<{
  problem: Problem;
  count: number;
  minutes: Int32Array;
  /** Earliest start: release and `now`; for a fixed task its start. */
  release: Int32Array;
  due: Int32Array;
  weight: Float64Array;
  clocks: readonly (Clock | null)[];
  presences: readonly (Clock | null)[];
  breakable: Uint8Array;
  /** Fixed tasks start, end and are out when they must. */
  fixed: Uint8Array;
  fixedEnd: Int32Array;
  fixedOut: Int32Array;
  before: Arcs;
  after: Arcs;
  /** Demands of task k are `demandAt[k]` up to `demandAt[k + 1]`: single resources first, then pools from small to large. */
  demandAt: Int32Array;
  /** Index into `candidates`: one resource, or the members of a pool. */
  demandOf: Int32Array;
  demandAmount: Int32Array;
  candidates: readonly Int32Array[];
  /** Hands are let go in the pauses of a breakable task. */
  letsGo: Uint8Array;
  /** Items as lists of tasks in an order that respects what comes after what. */
  items: readonly Int32Array[];
  itemOf: Int32Array;
  /** Items that must be placed before each item, and after it, without repeats. */
  itemBefore: readonly Int32Array[];
  itemAfter: readonly Int32Array[];
  /** Items that should soon follow begun work and wait for nothing else: they take their places before all others. */
  urgent: Int32Array;
  /** Bounds that fixed tasks put on free ones. */
  outFloor: Int32Array;
  outCeiling: Int32Array;
  startCeiling: Int32Array;
  /** Tasks in an order that respects what comes after what. */
  topological: Int32Array;
  /** Position of each task in that order. */
  rank: Int32Array;
}>;

const noMaximum = never;

type Grouping = 'items' | 'itemOf' | 'itemBefore' | 'itemAfter' | 'urgent';

export function compile(problem: Problem): Compiled {
  const { tasks, resources } = problem;
  const count = tasks.length;
  const index = new Map(tasks.map((task, k) => [task.id, k]));
  const clocks = new Map(Object.entries(problem.calendars).map(([name, calendar]) => [name, makeClock(calendar)]));
  const clockOf = (name: string | null) => (name === null ? null : clocks.get(name)!);
  const resourceIndex = new Map(resources.map((resource, k) => [resource.id, k]));
  const { candidates, candidateOf } = listCandidates(problem, resourceIndex);
  // What is begun is begun, whatever should have come before it.
  const before = listArcs(
    count,
    tasks.flatMap((task, k) =>
      (task.progress ? [] : task.after).map((a) => ({
        of: k,
        task: index.get(a.task)!,
        minLag: a.minLag,
        maxLag: a.maxLag ?? noMaximum,
      })),
    ),
  );
  const after = reverse(count, before);
  const demands = tasks.map((task) =>
    task.demands
      .filter((demand) => demand.amount > 0)
      .toSorted(
        (a, b) => candidates[candidateOf.get(a.resource)!]!.length - candidates[candidateOf.get(b.resource)!]!.length,
      ),
  );
  const demandAt = Int32Array.from([0, ...demands.map((list) => list.length)]);
  for (let k = 0; k < count; k++) demandAt[k + 1]! += demandAt[k]!;
  const topological = orderTasks(count, before, after);
  const rank = new Int32Array(count);
  for (const [position, task] of topological.entries()) rank[task] = position;
  const compiled = {
    problem,
    count,
    minutes: Int32Array.from(tasks, (task) => task.minutes),
    release: Int32Array.from(tasks, (task) => Math.max(problem.now, task.release ?? problem.now)),
    due: Int32Array.from(tasks, (task) => task.due ?? never),
    weight: Float64Array.from(tasks, (task) => task.weight),
    clocks: tasks.map((task) => clockOf(task.calendar)),
    presences: tasks.map((task) => clockOf(task.heldUntil)),
    breakable: Uint8Array.from(tasks, (task) => (task.shape === 'breakable' && task.minutes > 0 ? 1 : 0)),
    fixed: Uint8Array.from(tasks, (task) => (task.pinned !== null || task.progress !== null ? 1 : 0)),
    fixedEnd: new Int32Array(count),
    fixedOut: new Int32Array(count),
    before,
    after,
    demandAt,
    demandOf: Int32Array.from(demands.flat(), (demand) => candidateOf.get(demand.resource)!),
    demandAmount: Int32Array.from(demands.flat(), (demand) => demand.amount),
    candidates,
    letsGo: Uint8Array.from(resources, (resource) => (resource.kind === 'hands' ? 1 : 0)),
    outFloor: new Int32Array(count).fill(-never),
    outCeiling: new Int32Array(count).fill(never),
    startCeiling: new Int32Array(count).fill(never),
    topological,
    rank,
  };
  loosenPins(compiled);
  fix(compiled);
  return { ...compiled, ...groupItems(compiled) };
}

/** Of a pool those come first whom fewest minutes ask for by name, so that whoever is needed in person stays free for it. */
function listCandidates(problem: Problem, resourceIndex: ReadonlyMap<string, number>) {
  const named = new Map<string, number>();
  for (const task of problem.tasks)
    for (const { resource, amount } of task.demands)
      named.set(resource, (named.get(resource) ?? 0) + amount * task.minutes);
  const asked = (member: string) => named.get(member) ?? 0;
  const lists = [
    ...problem.resources.map((resource) => ({ id: resource.id, members: [resource.id] as readonly string[] })),
    ...problem.pools.map(({ id, members }) => ({ id, members: members.toSorted((a, b) => asked(a) - asked(b)) })),
  ];
  return {
    candidates: lists.map((list) => Int32Array.from(list.members, (member) => resourceIndex.get(member)!)),
    candidateOf: new Map(lists.map((list, k) => [list.id, k])),
  };
}

type Arc = Readonly<{ of: number; task: number; minLag: number; maxLag: number }>;

function listArcs(count: number, arcs: readonly Arc[]): Arcs {
  const sorted = arcs.toSorted((a, b) => a.of - b.of);
  const at = new Int32Array(count + 1);
  for (const arc of sorted) at[arc.of + 1]!++;
  for (let k = 0; k < count; k++) at[k + 1]! += at[k]!;
  return {
    at,
    task: Int32Array.from(sorted, (arc) => arc.task),
    minLag: Int32Array.from(sorted, (arc) => arc.minLag),
    maxLag: Int32Array.from(sorted, (arc) => arc.maxLag),
  };
}

function reverse(count: number, arcs: Arcs): Arcs {
  const turned: Arc[] = [];
  for (let k = 0; k < count; k++)
    for (let a = arcs.at[k]!; a < arcs.at[k + 1]!; a++)
      turned.push({ of: arcs.task[a]!, task: k, minLag: arcs.minLag[a]!, maxLag: arcs.maxLag[a]! });
  return listArcs(count, turned);
}

function orderTasks(count: number, before: Arcs, after: Arcs): Int32Array {
  const waiting = Int32Array.from({ length: count }, (_, k) => before.at[k + 1]! - before.at[k]!);
  const order: number[] = [];
  for (let k = 0; k < count; k++) if (waiting[k] === 0) order.push(k);
  for (let k = 0; k < order.length; k++)
    for (let a = after.at[order[k]!]!; a < after.at[order[k]! + 1]!; a++)
      if (--waiting[after.task[a]!]! === 0) order.push(after.task[a]!);
  assert(order.length === count, 'the tasks wait for each other in a circle');
  return Int32Array.from(order);
}

/** A pin that begun work has overrun counts as "not before" (see `answer.ts` for the remark). */
function loosenPins(compiled: Omit<Compiled, Grouping>): void {
  const { problem, before } = compiled;
  for (const [k, task] of problem.tasks.entries()) {
    if (task.pinned === null || task.progress) continue;
    compiled.release[k] = Math.max(compiled.release[k]!, task.pinned);
    for (let a = before.at[k]!; a < before.at[k + 1]!; a++) {
      const other = before.task[a]!;
      if (problem.tasks[other]!.progress && begunOut(compiled, other) + before.minLag[a]! > task.pinned)
        compiled.fixed[k] = 0;
    }
  }
}

/** End of a begun task as far as is known now. */
function begunEnd(compiled: Omit<Compiled, Grouping>, task: number): number {
  const progress = compiled.problem.tasks[task]!.progress!;
  return progress.state === 'finished'
    ? progress.end
    : restOf(compiled.clocks[task]!, compiled.problem.now, progress.left);
}

function begunOut(compiled: Omit<Compiled, Grouping>, task: number): number {
  const end = begunEnd(compiled, task);
  return compiled.problem.tasks[task]!.progress!.state === 'finished' ? end : outFrom(compiled, task, end);
}

/** Times of pinned and begun tasks, and what they ask of their free neighbours. */
function fix(compiled: Omit<Compiled, Grouping>): void {
  const { problem, before, after } = compiled;
  for (const [k, task] of problem.tasks.entries()) {
    if (!compiled.fixed[k]) continue;
    const start = task.progress?.start ?? task.pinned!;
    const end = task.progress ? begunEnd(compiled, k) : endFrom(compiled, k, start);
    compiled.release[k] = start;
    compiled.fixedEnd[k] = end;
    compiled.fixedOut[k] = task.progress ? begunOut(compiled, k) : outFrom(compiled, k, end);
    for (let a = before.at[k]!; a < before.at[k + 1]!; a++) {
      const other = before.task[a]!;
      compiled.outCeiling[other] = Math.min(compiled.outCeiling[other]!, start - before.minLag[a]!);
      if (before.maxLag[a]! < noMaximum)
        compiled.outFloor[other] = Math.max(compiled.outFloor[other]!, start - before.maxLag[a]!);
    }
    for (let a = after.at[k]!; a < after.at[k + 1]!; a++) {
      const other = after.task[a]!;
      if (!compiled.fixed[other])
        compiled.release[other] = Math.max(compiled.release[other]!, compiled.fixedOut[k]! + after.minLag[a]!);
      // After begun work a maximum lag is a wish: the clock has the last word, and what should follow goes first of all (see `urgent`).
      if (after.maxLag[a]! < noMaximum && !task.progress)
        compiled.startCeiling[other] = Math.min(
          compiled.startCeiling[other]!,
          compiled.fixedOut[k]! + after.maxLag[a]!,
        );
    }
  }
}

function restOf(clock: Clock | null, now: number, left: number): number {
  if (left <= 0) return now;
  return clock ? endOfOpen(clock, now, left) : now + left;
}

/** Strongly connected components (Tarjan 1972) of "comes after", with maximum lags as arcs back. */
function groupItems(compiled: Omit<Compiled, Grouping>) {
  const { count, before, after, fixed, rank } = compiled;
  // Follow forward over every arc and back over those with a maximum; a component is what reaches itself.
  const neighbours = (task: number): number[] => {
    const list: number[] = [];
    for (let a = after.at[task]!; a < after.at[task + 1]!; a++) if (!fixed[after.task[a]!]) list.push(after.task[a]!);
    for (let a = before.at[task]!; a < before.at[task + 1]!; a++)
      if (before.maxLag[a]! < noMaximum && !fixed[before.task[a]!]) list.push(before.task[a]!);
    return list;
  };
  const components = stronglyConnected(count, (task) => fixed[task] === 1, neighbours);
  const items = components
    .map((members) => Int32Array.from(members.toSorted((a, b) => rank[a]! - rank[b]!)))
    .toSorted((a, b) => rank[a[0]!]! - rank[b[0]!]!);
  const itemOf = new Int32Array(count).fill(-1);
  for (const [item, members] of items.entries()) for (const task of members) itemOf[task] = item;
  const itemBefore = items.map((members, item) => neighboursOf(members, before, itemOf, item));
  const itemAfter = items.map((members, item) => neighboursOf(members, after, itemOf, item));
  const begun = (task: number) => compiled.problem.tasks[task]!.progress !== null;
  const shouldFollow = (task: number) => {
    for (let a = before.at[task]!; a < before.at[task + 1]!; a++)
      if (begun(before.task[a]!) && before.maxLag[a]! < noMaximum) return true;
    return false;
  };
  const urgent = Int32Array.from(
    [...items.keys()].filter((item) => itemBefore[item]!.length === 0 && items[item]!.some(shouldFollow)),
  );
  return { items, itemOf, itemBefore, itemAfter, urgent };
}

function neighboursOf(members: Int32Array, arcs: Arcs, itemOf: Int32Array, item: number): Int32Array {
  const found = new Set<number>();
  for (const task of members)
    for (let a = arcs.at[task]!; a < arcs.at[task + 1]!; a++) found.add(itemOf[arcs.task[a]!]!);
  found.delete(item);
  found.delete(-1);
  return Int32Array.from(found);
}

function stronglyConnected(
  count: number,
  skip: (node: number) => boolean,
  neighbours: (node: number) => readonly number[],
): number[][] {
  const [number, low] = [new Int32Array(count).fill(-1), new Int32Array(count)];
  const open = new Uint8Array(count);
  const [trail, components]: [number[], number[][]] = [[], []];
  let next = 0;
  for (let root = 0; root < count; root++) {
    if (skip(root) || number[root]! >= 0) continue;
    const calls: { node: number; rest: number[] }[] = [];
    const enter = (node: number) => {
      number[node] = low[node] = next++;
      open[node] = 1;
      trail.push(node);
      calls.push({ node, rest: [...neighbours(node)] });
    };
    enter(root);
    while (calls.length > 0) {
      const { node, rest } = calls.at(-1)!;
      const other = rest.pop();
      if (other !== undefined) {
        if (number[other]! < 0) enter(other);
        else if (open[other]) low[node] = Math.min(low[node]!, number[other]!);
        continue;
      }
      calls.pop();
      const parent = calls.at(-1);
      if (parent) low[parent.node] = Math.min(low[parent.node]!, low[node]!);
      if (low[node] !== number[node]) continue;
      const members: number[] = [];
      for (;;) {
        const member = trail.pop()!;
        open[member] = 0;
        members.push(member);
        if (member === node) break;
      }
      components.push(members);
    }
  }
  return components;
}
