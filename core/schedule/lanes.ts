/**
 * The picture of a week: lanes of bars to one time scale. Open bench hours are drawn at full width and the closed hours between them
 * folded to a sliver, so that a week of daytime work fits a page and an overnight drying still reads as a bar across the fold.
 * The same plain numbers are drawn on the page and in print.
 */

/** What is drawn as a bar; instants in any one unit. */
export type LaneTask = Readonly<{
  id: string;
  lane: string;
  kind: 'hands' | 'drying' | 'pressing' | 'demonstration';
  startAt: number;
  endAt: number;
  /** A held press stays taken until then; null where nothing is held. */
  heldUntil: number | null;
  /** It may well last until then: drawn as a fading end. */
  likelyUntil?: number | null;
}>;

export type Bar = Readonly<{
  id: string;
  lane: number;
  row: number;
  x: number;
  width: number;
  heldWidth: number;
  fadeWidth: number;
  kind: LaneTask['kind'];
}>;
export type Fold = Readonly<{ x: number; width: number }>;
export type Tick = Readonly<{ x: number; at: number; kind: 'day' | 'hour' }>;
export type Lane = Readonly<{ key: string; firstRow: number; rows: number }>;
export type LaneDrawing = Readonly<{
  bars: readonly Bar[];
  lanes: readonly Lane[];
  folds: readonly Fold[];
  ticks: readonly Tick[];
  rows: number;
}>;

/** How much narrower closed hours are drawn than open ones. Our own choice, for legibility. */
const foldRatio = 1 / 24;

/** Where an instant falls, for open windows sorted and disjoint, over a width in any unit of length. */
export function timeScale(
  windows: readonly Readonly<{ from: number; to: number }>[],
  range: Readonly<{ from: number; to: number }>,
  width: number,
): (instant: number) => number {
  const edges = [range.from, ...windows.flatMap((window) => [window.from, window.to]), range.to].filter(
    (edge) => edge >= range.from && edge <= range.to,
  );
  const open = (from: number, to: number) => windows.some((window) => window.from <= from && window.to >= to);
  const stops: { at: number; length: number }[] = [];
  let total = 0;
  for (let index = 0; index < edges.length - 1; index++) {
    const from = edges[index]!;
    const to = edges[index + 1]!;
    stops.push({ at: from, length: total });
    total += (to - from) * (open(from, to) ? 1 : foldRatio);
  }
  stops.push({ at: range.to, length: total });
  return (instant) => {
    if (total === 0 || instant <= range.from) return 0;
    if (instant >= range.to) return width;
    let low = 0;
    let high = stops.length - 1;
    while (high - low > 1) {
      const middle = (low + high) >> 1;
      if (stops[middle]!.at <= instant) low = middle;
      else high = middle;
    }
    const before = stops[low]!;
    const after = stops[high]!;
    const share = after.at === before.at ? 0 : (instant - before.at) / (after.at - before.at);
    return ((before.length + share * (after.length - before.length)) / total) * width;
  };
}

/** The instant at a place of the same scale; its inverse within the range. */
export function instantAt(
  windows: readonly Readonly<{ from: number; to: number }>[],
  range: Readonly<{ from: number; to: number }>,
  width: number,
  place: number,
): number {
  const x = timeScale(windows, range, width);
  let [from, to] = [range.from, range.to];
  while (to - from > 1) {
    const middle = Math.floor((from + to) / 2);
    if (x(middle) <= place) from = middle;
    else to = middle;
  }
  return from;
}

/** So many open minutes later (or earlier, where negative) than an instant: nights and dinners are stepped over. */
export function stepOpen(
  windows: readonly Readonly<{ from: number; to: number }>[],
  instant: number,
  minutes: number,
): number {
  const minute = 60_000;
  let left = Math.abs(minutes) * minute;
  if (minutes >= 0) {
    for (const { from, to } of windows) {
      const start = Math.max(from, instant);
      if (start >= to) continue;
      if (to - start > left) return start + left;
      left -= to - start;
    }
    return instant;
  }
  for (const { from, to } of windows.toReversed()) {
    const end = Math.min(to, instant);
    if (end <= from) continue;
    if (end - from >= left) return end - left;
    left -= end - from;
  }
  return instant;
}

/**
 * Lays bars into lanes in the order given; bars that overlap within a lane (two books in one press) take a row of their own.
 * `hourTicks` are instants to mark; each window's start gets a day mark.
 */
export function drawLanes(
  tasks: readonly LaneTask[],
  laneOrder: readonly string[],
  windows: readonly Readonly<{ from: number; to: number }>[],
  range: Readonly<{ from: number; to: number }>,
  width: number,
  days: readonly number[],
): LaneDrawing {
  const x = timeScale(windows, range, width);
  const byLane = new Map<string, LaneTask[]>(laneOrder.map((key) => [key, []]));
  for (const task of tasks) byLane.get(task.lane)?.push(task);

  const bars: Bar[] = [];
  const lanes: Lane[] = [];
  let firstRow = 0;
  for (const [index, [key, members]] of [...byLane].entries()) {
    const rowEnds: number[] = [];
    for (const task of members.toSorted((a, b) => a.startAt - b.startAt || a.endAt - b.endAt)) {
      const until = Math.max(task.endAt, task.heldUntil ?? task.endAt);
      const free = rowEnds.findIndex((end) => end <= task.startAt);
      const row = free === -1 ? rowEnds.length : free;
      rowEnds[row] = until;
      const left = x(task.startAt);
      bars.push({
        id: task.id,
        lane: index,
        row: firstRow + row,
        x: left,
        width: x(task.endAt) - left,
        heldWidth: x(until) - x(task.endAt),
        fadeWidth: x(Math.max(until, task.likelyUntil ?? until)) - x(until),
        kind: task.kind,
      });
    }
    const rows = Math.max(1, rowEnds.length);
    lanes.push({ key, firstRow, rows });
    firstRow += rows;
  }

  const folds: Fold[] = [];
  const edges = [range.from, ...windows.flatMap((window) => [window.from, window.to]), range.to];
  for (let index = 0; index < edges.length; index += 2) {
    const left = x(edges[index]!);
    const right = x(edges[index + 1]!);
    if (right > left) folds.push({ x: left, width: right - left });
  }
  const hour = 3_600_000;
  const ticks: Tick[] = days.map((at) => ({ x: x(at), at, kind: 'day' }));
  for (const window of windows) {
    for (let at = Math.ceil(window.from / hour) * hour; at < window.to; at += hour)
      ticks.push({ x: x(at), at, kind: 'hour' });
  }
  return { bars, lanes, folds, ticks, rows: firstRow };
}
