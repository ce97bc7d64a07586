/**
 * Search for the textbook case: two populations, one of schedules pushed early and one of schedules pushed late, each bred from the
 * other, so that every child is also a justification of its parents (Debels & Vanhoucke 2005). A child keeps its first parent's order in a
 * stretch of time where that parent uses the resources well and takes the order before and after it from the second. Some children are
 * placed by packing (see `packing.ts`) instead of by the serial scheme; this and the packed first population are ours.
 */
import type { Grid } from './grid.ts';
import type { Packer, Taste } from './packing.ts';
import { makePacker } from './packing.ts';
import type { Chance } from './random.ts';

/** A schedule by its forward starts. */
export type Line = { start: Int32Array; length: number };

export type Habits = Readonly<{
  population: number;
  /** Children a place gets in each generation, of which the best is kept. */
  children: number;
  tournament: number;
  /** The kept stretch, as shares of the parent's length. */
  shortest: number;
  longest: number;
  /** Stretches looked at, of which the one with most use of resources is kept. */
  looks: number;
  /** Chance that the parents change roles. */
  swap: number;
  /** Tasks moved in every child, and how far. */
  moves: number;
  reach: number;
  /** Parents closer than this, in mean durations a task, get a child with this share of its tasks moved. */
  near: number;
  kick: number;
  /** Noise on the first population's keys, as a share of the critical path; and the share of it that is packed. */
  noise: number;
  packedFirst: number;
  /** Share of children that are packed. */
  packed: number;
  /** Tastes in packing, in mean durations. */
  first: Taste;
  later: Taste;
}>;

/**
 * Habits for so many tasks and schedules, tuned by trial on every tenth or twentieth project of PSPLIB j30, j60 and j120: the more
 * schedules there are to spend and the smaller the project, the larger and the more various the populations. A long search of a large project
 * does better with half of that and bolder changes to the children of near parents.
 */
export function habitsFor(count: number, schedules: number): Habits {
  const size = Math.max(1, Math.min(count, 500));
  const bold = count > 90 && schedules > 10_000;
  return {
    population: Math.round(
      Math.max(10, Math.min(400, 14 * Math.sqrt(120 / size) * (schedules / 1000) ** 0.77)) / (bold ? 2 : 1),
    ),
    children: 2,
    tournament: 3,
    shortest: 0.1,
    longest: 0.7,
    looks: 10,
    swap: 0.2,
    moves: schedules > 10_000 ? 2 : 0.5,
    reach: 10,
    near: bold ? 0.45 : 0.2,
    kick: 0.2,
    noise: count < 45 || schedules > 2500 ? 1 : 0.5,
    packedFirst: 1,
    packed: 0.2,
    first: { tries: 10, urgency: 4, shuffle: 2 },
    later: { tries: 5, urgency: 4, shuffle: 3 },
  };
}

type Side = Readonly<{ starts: Int32Array[]; lengths: Int32Array }>;

/**
 * Improves `best` in place, one schedule a step, until it is as short as `floor` or has made so many schedules. `share` as in `makePacker`.
 */
export function* evolve(
  grids: readonly [Grid, Grid],
  share: Float64Array,
  best: Line,
  floor: number,
  schedules: number,
  chance: Chance,
  habits: Habits,
): Generator<number, void> {
  const { count, minutes } = grids[0];
  const packers = [makePacker(grids[0], share, chance), makePacker(grids[1], share, chance)] as const;
  const breed = makeBreeder(grids, packers, share, chance, habits);
  const sides = [0, 1].map(
    (): Side => ({
      starts: Array.from({ length: habits.population }, () => new Int32Array(count)),
      lengths: new Int32Array(habits.population).fill(0x7fffffff),
    }),
  ) as [Side, Side];
  let made = 0;
  const note = (side: number, start: Int32Array, length: number) => {
    made++;
    if (length >= best.length) return;
    best.length = length;
    for (let task = 0; task < count; task++)
      best.start[task] = side === 0 ? start[task]! : length - start[task]! - minutes[task]!;
  };

  for (let k = 0; k < habits.population && made < schedules; k++) {
    sides[0].lengths[k] = breed.first(k, sides[0].starts[k]!);
    note(0, sides[0].starts[k]!, sides[0].lengths[k]!);
    yield 1;
    if (best.length <= floor) return;
  }
  const [child, kept] = [new Int32Array(count), new Int32Array(count)];
  for (let from = 0; ; from = 1 - from) {
    const [parents, children] = [sides[from]!, sides[1 - from]!];
    const leader = children.lengths.reduce((least, length) => Math.min(least, length));
    for (let k = 0; k < habits.population; k++) {
      let length = 0x7fffffff;
      for (let one = 0; one < habits.children; one++) {
        if (made >= schedules) return;
        const childLength = breed.child(parents, k, from, child);
        note(1 - from, child, childLength);
        if (childLength < length) {
          length = childLength;
          kept.set(child);
        }
        yield 1;
        if (best.length <= floor) return;
      }
      if (children.lengths[k] === leader && length > leader) continue;
      children.starts[k]!.set(kept);
      children.lengths[k] = length;
    }
  }
}

function makeBreeder(
  grids: readonly [Grid, Grid],
  packers: readonly [Packer, Packer],
  share: Float64Array,
  chance: Chance,
  habits: Habits,
) {
  const { count, minutes } = grids[0];
  const tail = tailsOf(grids[1]);
  const path = tail.reduce((longest, length) => Math.max(longest, length), 0);
  const mixed = [0, 1].map((side) =>
    Array.from({ length: 16 }, () => orderOf(grids[side]!, Float64Array.from({ length: count }, chance))),
  ) as [Int32Array[], Int32Array[]];
  const mean = Math.max(1, minutes.reduce((sum, one) => sum + one, 0) / count);
  const [firstTaste, laterTaste] = [habits.first, habits.later].map((taste) => ({
    tries: taste.tries,
    urgency: taste.urgency * mean,
    shuffle: taste.shuffle * mean,
  })) as [Taste, Taste];
  const order = new Int32Array(count);
  const key = new Float64Array(count);
  const [one, other, merged] = [new Int32Array(count), new Int32Array(count), new Int32Array(count)];
  let [buckets, use] = [new Int32Array(1024), new Float64Array(1024)];
  const below = (limit: number) => Math.floor(chance() * limit);

  /** A member of the first population, forward in time. */
  function first(k: number, start: Int32Array): number {
    const noise = k === 0 ? 0 : habits.noise * path;
    for (let task = 0; task < count; task++) key[task] = -tail[task]! + noise * (chance() - 0.5) * 2 * chance();
    if (chance() < habits.packedFirst) return packers[0](key, firstTaste, start);
    return grids[0].decode(orderOf(grids[0], key), start);
  }

  /** A child of the k-th parent and another, placed in the other direction of time. */
  function child(parents: Side, k: number, from: number, start: Int32Array): number {
    let [a, b] = [k, below(habits.population)];
    for (let round = 1; round < habits.tournament; round++) {
      const rival = below(habits.population);
      if (parents.lengths[rival]! < parents.lengths[b]!) b = rival;
    }
    if (chance() < habits.swap) [a, b] = [b, a];
    const [lengthA, lengthB] = [parents.lengths[a]!, parents.lengths[b]!];
    let apart = 0;
    for (let task = 0; task < count; task++) {
      one[task] = lengthA - parents.starts[a]![task]! - minutes[task]!;
      other[task] = lengthB - parents.starts[b]![task]! - minutes[task]!;
      apart += Math.abs(one[task]! - other[task]!);
    }
    const side = 1 - from;
    merge(lengthA, lengthB, side);
    const moves = apart < habits.near * mean * count ? 1 + 2 * habits.kick * count * chance() : habits.moves;
    for (let move = moves; move > 0; move--) if (move >= 1 || chance() < move) moveOne(grids[side]!);
    if (chance() >= habits.packed) return grids[side]!.decode(order, start);
    for (let position = 0; position < count; position++) key[order[position]!] = (position * lengthA) / count;
    return packers[side]!(key, laterTaste, start);
  }

  /** Writes `order`: the first parent's order inside a stretch of its time, the second's before and after. */
  function merge(lengthA: number, lengthB: number, side: number): void {
    const size = lengthA + 2 * lengthB + 4;
    if (buckets.length <= size) [buckets, use] = [new Int32Array(2 * size), new Float64Array(2 * size)];
    const [from, to] = pickStretch(lengthA);
    const [inside, behind] = [lengthB + 1, lengthB + lengthA + 2];
    buckets.fill(0, 0, size + 1);
    for (let task = 0; task < count; task++) {
      const at = one[task]!;
      const place = at < from ? other[task]! : at <= to ? inside + at : behind + other[task]!;
      merged[task] = place;
      buckets[place + 1]!++;
    }
    for (let place = 0; place < size; place++) buckets[place + 1]! += buckets[place]!;
    // Ties fall in one of several random orders, all of which respect what comes first.
    for (const task of mixed[side]![below(16)]!) order[buckets[merged[task]!]!++] = task;
  }

  function pickStretch(length: number): readonly [number, number] {
    use.fill(0, 0, length + 1);
    for (let task = 0; task < count; task++) {
      use[one[task]!]! += share[task]!;
      use[one[task]! + minutes[task]!]! -= share[task]!;
    }
    // First the use in each minute, then the use up to each minute.
    for (let minute = 1; minute <= length; minute++) use[minute]! += use[minute - 1]!;
    let sum = 0;
    for (let minute = 0; minute <= length; minute++) {
      const here = use[minute]!;
      use[minute] = sum;
      sum += here;
    }
    const stretch = Math.max(1, Math.floor((habits.shortest + chance() * (habits.longest - habits.shortest)) * length));
    let [best, most] = [0, -1];
    for (let look = 0; look < habits.looks; look++) {
      const from = below(length - stretch + 1);
      const used = use[from + stretch]! - use[from]!;
      if (used > most) [best, most] = [from, used];
    }
    return [best, best + stretch];
  }

  /** One task of `order` elsewhere within reach, not past what must come before or after it. */
  function moveOne(grid: Grid): void {
    const from = below(count);
    const task = order[from]!;
    let [low, high] = [from, from];
    while (low > 0 && from - low < habits.reach && !isIn(grid.before, task, order[low - 1]!)) low--;
    while (high < count - 1 && high - from < habits.reach && !isIn(grid.after, task, order[high + 1]!)) high++;
    const to = low + below(high - low + 1);
    if (to < from) order.copyWithin(to + 1, to, from);
    else order.copyWithin(from, from + 1, to + 1);
    order[to] = task;
  }

  return { first, child };
}

function isIn(rows: Grid['before'], task: number, wanted: number): boolean {
  for (let a = rows.at[task]!; a < rows.at[task + 1]!; a++) if (rows.task[a] === wanted) return true;
  return false;
}

/** Minutes from each task's start to the end of all that follows it, `backward` being the grid of the other direction. */
function tailsOf(backward: Grid): Float64Array {
  const tail = new Float64Array(backward.count);
  for (const task of backward.topological) {
    let rest = 0;
    for (let a = backward.before.at[task]!; a < backward.before.at[task + 1]!; a++)
      rest = Math.max(rest, tail[backward.before.task[a]!]!);
    tail[task] = rest + backward.minutes[task]!;
  }
  return tail;
}

/** Tasks by key as far as what comes first allows. */
function orderOf(grid: Grid, key: Float64Array): Int32Array {
  const waiting = Int32Array.from(
    { length: grid.count },
    (_, task) => grid.before.at[task + 1]! - grid.before.at[task]!,
  );
  const ready = [...waiting.keys()].filter((task) => waiting[task] === 0);
  const order = new Int32Array(grid.count);
  for (let position = 0; position < grid.count; position++) {
    let first = 0;
    for (let k = 1; k < ready.length; k++) if (key[ready[k]!]! < key[ready[first]!]!) first = k;
    const task = ready[first]!;
    ready[first] = ready.at(-1)!;
    ready.pop();
    order[position] = task;
    for (let a = grid.after.at[task]!; a < grid.after.at[task + 1]!; a++)
      if (--waiting[grid.after.task[a]!]! === 0) ready.push(grid.after.task[a]!);
  }
  return order;
}
