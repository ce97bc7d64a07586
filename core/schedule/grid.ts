/**
 * The textbook case (always open, no lags, constant capacities) on a grid of time. All resources of a grain of time are packed into words,
 * each with a guard bit, so that one subtraction compares them all. The other direction is the same code on the reversed graph: a
 * schedule pushed late is a schedule pushed early with time running backwards.
 */
import { never } from './clock.ts';
import type { Compiled } from './compile.ts';

/** A word: what is free at first with its guard bits, the guard bits, and what each task takes of it. */
export type Word = Readonly<{ free: number; guards: number; demand: Int32Array }>;
/** What comes directly before each task, in rows. */
export type Rows = Readonly<{ at: Int32Array; task: Int32Array }>;

/** One direction of time. */
export type Grid = Readonly<{
  count: number;
  /** Minutes of one grain, the greatest common divisor of all durations; everything on the grid is in grains. */
  grain: number;
  /** Length of each task, in grains. */
  minutes: Int32Array;
  words: readonly Word[];
  before: Rows;
  after: Rows;
  /** Tasks in an order that respects what comes first in this direction. */
  topological: Int32Array;
  /** Serial scheme: places tasks in this order, what comes first first; writes starts and returns the length of the schedule. */
  decode: (order: Int32Array, start: Int32Array) => number;
}>;

/** Whether the textbook case applies, small enough for a grid. */
export function isTextbook(compiled: Compiled): boolean {
  const { problem, before } = compiled;
  return (
    problem.tasks.every(
      (task, k) =>
        task.calendar === null &&
        task.heldUntil === null &&
        task.weight === 0 &&
        !compiled.fixed[k] &&
        compiled.release[k] === problem.now,
    ) &&
    problem.resources.every((resource) => (resource.changes ?? []).length === 0 && resource.capacity < 2 ** 30) &&
    compiled.demandOf.every((list) => compiled.candidates[list]!.length === 1) &&
    before.minLag.every((lag) => lag === 0) &&
    before.maxLag.every((lag) => lag === never) &&
    compiled.minutes.reduce((sum, minutes) => sum + minutes, 0) / Math.max(1, compiled.minutes.reduce(divisor, 0)) <
      50_000
  );
}

/** Forward and backward in time. */
export function makeGrids(compiled: Compiled): readonly [Grid, Grid] {
  const words = packResources(compiled);
  const { before, after, topological } = compiled;
  return [
    makeGrid(compiled, words, before, after, topological),
    makeGrid(compiled, words, after, before, topological.toReversed()),
  ];
}

function packResources(compiled: Compiled): Word[] {
  const demand = compiled.problem.resources.map(() => new Int32Array(compiled.count));
  for (let task = 0; task < compiled.count; task++)
    for (let d = compiled.demandAt[task]!; d < compiled.demandAt[task + 1]!; d++)
      demand[compiled.candidates[compiled.demandOf[d]!]![0]!]![task]! += compiled.demandAmount[d]!;
  const words: { bits: number; free: number; guards: number; demand: Int32Array }[] = [];
  for (const [r, { capacity }] of compiled.problem.resources.entries()) {
    const width = 33 - Math.clz32(capacity);
    let word = words.at(-1);
    if (!word || word.bits + width > 32) {
      word = { bits: 0, free: 0, guards: 0, demand: new Int32Array(compiled.count) };
      words.push(word);
    }
    const shift = word.bits;
    const guard = 1 << (shift + width - 1);
    word.free |= (capacity << shift) | guard;
    word.guards |= guard;
    for (let task = 0; task < compiled.count; task++) word.demand[task]! |= demand[r]![task]! << shift;
    word.bits += width;
  }
  return words;
}

function makeGrid(
  compiled: Compiled,
  words: readonly Word[],
  before: Rows,
  after: Rows,
  topological: Int32Array,
): Grid {
  const { count } = compiled;
  const grain = Math.max(1, compiled.minutes.reduce(divisor, 0));
  const minutes = compiled.minutes.map((length) => length / grain);
  const horizon = minutes.reduce((sum, one) => sum + one, 1);
  const grids = words.map((word) => new Int32Array(horizon).fill(word.free));
  let used = 0;

  function decode(order: Int32Array, start: Int32Array): number {
    for (const [w, word] of words.entries()) grids[w]!.fill(word.free, 0, used);
    used = 0;
    for (let position = 0; position < count; position++) {
      const task = order[position]!;
      let ready = 0;
      for (let a = before.at[task]!; a < before.at[task + 1]!; a++) {
        const end = start[before.task[a]!]! + minutes[before.task[a]!]!;
        if (end > ready) ready = end;
      }
      const end =
        words.length === 1 ? placeInOne(task, ready, minutes[task]!) : placeInMany(task, ready, minutes[task]!);
      start[task] = end - minutes[task]!;
      if (end > used) used = end;
    }
    return used;
  }

  function placeInOne(task: number, from: number, length: number): number {
    const { guards, demand } = words[0]!;
    const grid = grids[0]!;
    const taken = demand[task]!;
    let at = from;
    let end = from + length;
    while (at < end) {
      if (((grid[at]! - taken) & guards) === guards) at++;
      else end = ++at + length;
    }
    for (at = end - length; at < end; at++) grid[at]! -= taken;
    return end;
  }

  function placeInMany(task: number, from: number, length: number): number {
    let at = from;
    let end = from + length;
    while (at < end) {
      let fits = true;
      for (let w = 0; w < words.length && fits; w++)
        fits = ((grids[w]![at]! - words[w]!.demand[task]!) & words[w]!.guards) === words[w]!.guards;
      if (fits) at++;
      else end = ++at + length;
    }
    for (let w = 0; w < words.length; w++)
      for (at = end - length; at < end; at++) grids[w]![at]! -= words[w]!.demand[task]!;
    return end;
  }

  return { count, grain, minutes, words, before, after, topological, decode };
}

function divisor(a: number, b: number): number {
  return b === 0 ? a : divisor(b, a % b);
}
