/**
 * The parallel scheme with packing: time moves from one finish to the next, and of the tasks that could start there a set is chosen that
 * leaves little of the resources idle without passing over what is urgent. The set is the best of a few greedy ones in slightly shuffled
 * orders, a quick answer to the multi-dimensional knapsack that every decision of the parallel scheme is.
 */
import type { Grid } from './grid.ts';
import type { Chance } from './random.ts';

export type Taste = Readonly<{
  /** Sets tried at each decision. */
  tries: number;
  /** A task this much less urgent counts e times less. */
  urgency: number;
  /** How far urgencies are shuffled. */
  shuffle: number;
}>;

/** One pass: writes starts, returns the length. Small keys are urgent; keys and tastes are in minutes. */
export type Packer = (key: Float64Array, taste: Taste, start: Int32Array) => number;

/** `share` says how much of the resources each task takes, as fractions of the capacities summed. */
export function makePacker(grid: Grid, share: Float64Array, chance: Chance): Packer {
  const { count, minutes, words, before, after } = grid;
  const waiting = new Int32Array(count);
  const ready = new Int32Array(count);
  const running = new Int32Array(count);
  const fitting = new Int32Array(count);
  const trial = new Int32Array(count);
  const worth = new Float64Array(count);
  const shuffled = new Float64Array(count);
  const chosen = new Uint8Array(count);
  const kept = new Uint8Array(count);
  const free = new Int32Array(words.length);
  const left = new Int32Array(words.length);
  let [readyCount, runningCount] = [0, 0];

  function pack(key: Float64Array, taste: Taste, start: Int32Array): number {
    for (const [w, word] of words.entries()) free[w] = word.free;
    [readyCount, runningCount] = [0, 0];
    for (let task = 0; task < count; task++) {
      waiting[task] = before.at[task + 1]! - before.at[task]!;
      if (waiting[task] === 0) ready[readyCount++] = task;
    }
    let [now, placed] = [0, 0];
    while (placed < count) {
      placed += startSet(key, taste, start, now);
      if (placed === count) break;
      now = finishNext(start);
    }
    let length = now;
    for (let k = 0; k < runningCount; k++) length = Math.max(length, start[running[k]!]! + minutes[running[k]!]!);
    return length;
  }

  /** Starts a set of ready tasks at this minute; how many. */
  function startSet(key: Float64Array, taste: Taste, start: Int32Array, now: number): number {
    let candidates = 0;
    for (let k = 0; k < readyCount; k++) if (fits(free, ready[k]!)) fitting[candidates++] = ready[k]!;
    if (candidates === 0) return 0;
    sort(fitting, key, candidates);
    if (!fill(fitting, candidates)) chooseBest(key, taste, candidates);
    let [started, instant] = [0, false];
    for (let k = 0; k < candidates; k++) {
      const task = fitting[k]!;
      if (!chosen[task]) continue;
      chosen[task] = 0;
      start[task] = now;
      started++;
      waiting[task] = -1;
      if (minutes[task] === 0) {
        release(task);
        instant = true;
        continue;
      }
      for (let w = 0; w < words.length; w++) free[w]! -= words[w]!.demand[task]!;
      running[runningCount++] = task;
    }
    let kept = 0;
    for (let k = 0; k < readyCount; k++) if (waiting[ready[k]!]! >= 0) ready[kept++] = ready[k]!;
    readyCount = kept;
    return instant ? started + startSet(key, taste, start, now) : started;
  }

  /** Leaves in `chosen` the best set of those tried. */
  function chooseBest(key: Float64Array, taste: Taste, candidates: number): void {
    const first = key[fitting[0]!]!;
    for (let k = 0; k < candidates; k++) {
      const task = fitting[k]!;
      worth[task] = share[task]! * Math.exp((first - key[task]!) / taste.urgency);
      trial[k] = task;
    }
    let best = keepSet(candidates);
    for (let one = 1; one < taste.tries; one++) {
      for (let k = 0; k < candidates; k++) shuffled[trial[k]!] = key[trial[k]!]! + (2 * chance() - 1) * taste.shuffle;
      sort(trial, shuffled, candidates);
      fill(trial, candidates);
      let value = 0;
      for (let k = 0; k < candidates; k++) if (chosen[trial[k]!]) value += worth[trial[k]!]!;
      if (value > best) best = keepSet(candidates);
    }
    for (let k = 0; k < candidates; k++) chosen[fitting[k]!] = kept[k]!;
  }

  /** Remembers the chosen set; its worth. */
  function keepSet(candidates: number): number {
    let sum = 0;
    for (let k = 0; k < candidates; k++) {
      kept[k] = chosen[fitting[k]!]!;
      if (kept[k]) sum += worth[fitting[k]!]!;
    }
    return sum;
  }

  /** Takes tasks in this order as they fit; whether all did. */
  function fill(order: Int32Array, candidates: number): boolean {
    left.set(free);
    let all = true;
    for (let k = 0; k < candidates; k++) {
      const task = order[k]!;
      const taken = fits(left, task);
      chosen[task] = taken ? 1 : 0;
      if (!taken) all = false;
      else for (let w = 0; w < words.length; w++) left[w]! -= words[w]!.demand[task]!;
    }
    return all;
  }

  function fits(room: Int32Array, task: number): boolean {
    for (let w = 0; w < words.length; w++) {
      const { demand, guards } = words[w]!;
      if (((room[w]! - demand[task]!) & guards) !== guards) return false;
    }
    return true;
  }

  /** Moves to the next finish, lets go what finishes there, and readies what follows. */
  function finishNext(start: Int32Array): number {
    let next = Number.POSITIVE_INFINITY;
    for (let k = 0; k < runningCount; k++) next = Math.min(next, start[running[k]!]! + minutes[running[k]!]!);
    let kept = 0;
    for (let k = 0; k < runningCount; k++) {
      const task = running[k]!;
      if (start[task]! + minutes[task]! > next) {
        running[kept++] = task;
        continue;
      }
      for (let w = 0; w < words.length; w++) free[w]! += words[w]!.demand[task]!;
      release(task);
    }
    runningCount = kept;
    return next;
  }

  function release(task: number): void {
    for (let a = after.at[task]!; a < after.at[task + 1]!; a++) {
      const next = after.task[a]!;
      if (--waiting[next]! === 0) ready[readyCount++] = next;
    }
  }

  return pack;
}

/** Insertion sort of the first tasks by key: they are few and nearly sorted. */
function sort(tasks: Int32Array, key: Float64Array, count: number): void {
  for (let k = 1; k < count; k++) {
    const task = tasks[k]!;
    const value = key[task]!;
    let place = k;
    while (place > 0 && key[tasks[place - 1]!]! > value) {
      tasks[place] = tasks[place - 1]!;
      place--;
    }
    tasks[place] = task;
  }
}
