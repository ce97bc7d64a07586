/**
 * A stronger bound on the finish in the textbook case, by destruction (Klein & Scholl 1999): suppose a plan of a certain length, tighten
 * what that implies, and where it contradicts itself every plan is longer. Tightening: precedence; pairs that cannot run together;
 * minutes that a task must be running in whatever it does (timetable); and the work that every stretch of time must hold at least
 * (energetic reasoning; Baptiste, Le Pape & Nuijten 1999).
 */
import type { Compiled } from './compile.ts';
import type { Grid } from './grid.ts';
import { makeGrids } from './grid.ts';

/** More tasks than this make each test too slow to be worth it. */
const mostTasks = 200;
const mostRounds = 12;

/**
 * Yields ever higher lengths that no plan can be shorter than, from `low` on, in steps of some ten milliseconds; ends at `high`, the length
 * of a known plan, or where nothing more can be proven.
 */
export function* strengthen(compiled: Compiled, low: number, high: number): Generator<number, void> {
  if (compiled.count > mostTasks) return;
  const grids = makeGrids(compiled);
  const demands = listDemands(compiled);
  // In grains: a length that is no multiple of the grain cannot be the shortest.
  const { grain } = grids[0];
  let [proven, open] = [Math.ceil(low / grain), Math.ceil(high / grain)];
  while (proven < open) {
    const middle = Math.floor((proven + open) / 2);
    if (contradicts(grids, demands, middle)) proven = middle + 1;
    else open = middle;
    yield proven * grain;
  }
}

type Demands = readonly Readonly<{ capacity: number; tasks: Int32Array; amounts: Int32Array }>[];

function listDemands(compiled: Compiled): Demands {
  return compiled.problem.resources.map(({ capacity }, resource) => {
    const amounts = new Int32Array(compiled.count);
    for (let task = 0; task < compiled.count; task++)
      for (let d = compiled.demandAt[task]!; d < compiled.demandAt[task + 1]!; d++)
        if (compiled.candidates[compiled.demandOf[d]!]![0] === resource) amounts[task]! += compiled.demandAmount[d]!;
    return {
      capacity,
      amounts,
      tasks: Int32Array.from([...amounts.keys()].filter((task) => amounts[task]! > 0 && compiled.minutes[task]! > 0)),
    };
  });
}

/** Whether no plan of this length exists, as far as tightening can tell. */
function contradicts(grids: readonly [Grid, Grid], demands: Demands, length: number): boolean {
  const { count, minutes } = grids[0];
  // Earliest starts forward in time and, in mirrored time, backward.
  const heads = [new Int32Array(count), new Int32Array(count)] as const;
  for (let round = 0; round < mostRounds; round++) {
    let changed = false;
    for (const side of [0, 1] as const) {
      const [head, mirror] = [heads[side], heads[1 - side]!];
      const latest = (task: number) => length - mirror[task]! - minutes[task]!;
      if (pushByOrder(grids[side], head)) changed = true;
      for (let task = 0; task < count; task++) if (head[task]! > latest(task)) return true;
      const pushed =
        pushByPairs(grids[side], demands, head, latest) || pushByTimetable(grids[side], demands, head, latest, length);
      if (pushed) changed = true;
      for (let task = 0; task < count; task++) if (head[task]! > latest(task)) return true;
    }
    if (!changed) break;
  }
  return overloaded(
    grids[0].minutes,
    demands,
    heads[0],
    heads[1].map((fromEnd) => length - fromEnd),
  );
}

function pushByOrder(grid: Grid, head: Int32Array): boolean {
  let changed = false;
  for (const task of grid.topological)
    for (let a = grid.before.at[task]!; a < grid.before.at[task + 1]!; a++) {
      const end = head[grid.before.task[a]!]! + grid.minutes[grid.before.task[a]!]!;
      if (end <= head[task]!) continue;
      head[task] = end;
      changed = true;
    }
  return changed;
}

/** Of two tasks that cannot run together, one that cannot be first is second. */
function pushByPairs(grid: Grid, demands: Demands, head: Int32Array, latest: (task: number) => number): boolean {
  let changed = false;
  for (const { capacity, tasks, amounts } of demands)
    for (const one of tasks)
      for (const other of tasks) {
        if (one === other || amounts[one]! + amounts[other]! <= capacity) continue;
        const end = head[other]! + grid.minutes[other]!;
        if (end <= head[one]! || head[one]! + grid.minutes[one]! <= latest(other)) continue;
        head[one] = end;
        changed = true;
      }
  return changed;
}

/** Pushes tasks past minutes in which others that must be running then leave too little. */
function pushByTimetable(
  grid: Grid,
  demands: Demands,
  head: Int32Array,
  latest: (task: number) => number,
  length: number,
): boolean {
  let changed = false;
  for (const { capacity, tasks, amounts } of demands) {
    const certain = new Int32Array(length + 1);
    for (const task of tasks)
      for (let minute = latest(task); minute < head[task]! + grid.minutes[task]!; minute++)
        certain[minute]! += amounts[task]!;
    for (const task of tasks) {
      const [from, to] = [latest(task), head[task]! + grid.minutes[task]!];
      const own = (minute: number) => (minute >= from && minute < to ? amounts[task]! : 0);
      let start = head[task]!;
      for (let minute = start; minute < start + grid.minutes[task]! && start <= from; minute++)
        if (certain[minute]! - own(minute) + amounts[task]! > capacity) start = minute + 1;
      if (start === head[task]) continue;
      head[task] = start;
      changed = true;
    }
  }
  return changed;
}

/** Whether some stretch of time must hold more work than there is room for; `end` is when each task must be over. */
function overloaded(minutes: Int32Array, demands: Demands, head: Int32Array, end: Int32Array): boolean {
  return demands.some(({ capacity, tasks, amounts }) => {
    const begins = new Set([...tasks].flatMap((task) => [head[task]!, end[task]! - minutes[task]!]));
    const closes = new Set([...tasks].flatMap((task) => [end[task]!, head[task]! + minutes[task]!]));
    for (const from of begins)
      for (const to of closes) {
        if (to <= from) continue;
        const room = capacity * (to - from);
        let work = 0;
        for (const task of tasks) {
          const length = minutes[task]!;
          // The least of it that falls inside, pushed as far to either side as it goes.
          const least = Math.min(length, to - from, head[task]! + length - from, to - end[task]! + length);
          if (least > 0) work += least * amounts[task]!;
        }
        if (work > room) return true;
      }
    return false;
  });
}
