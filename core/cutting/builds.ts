/**
 * Part-built patterns, joined two by two until none is left that could still become a better whole (Wang 1983; Viswanathan and Bagchi
 * 1993; Cung, Hifi and Le Cun 2000). What can be added to a build is bounded at relaxed prices, and of builds of the same size and
 * the same pieces one is enough.
 */
import type { Positions } from './positions.ts';
import type { Fill, Grid } from './relaxation.ts';

export type Sought = Readonly<{
  /** Values above this are sought. */
  above: number;
  /** Builds allowed at once; beyond them the search gives up and proves nothing. */
  most: number;
  shouldStop: () => boolean;
}>;

/** `complete`: nothing above the larger of `above` and `value` exists. */
export type Search = Readonly<{ value: number; fill: Fill | null; complete: boolean; builds: number }>;

type Store = ReturnType<typeof openStore>;

/** Looks for a pattern worth more than `above`, and for the best of them. Values are whole numbers. */
export function joinBuilds(grid: Grid, prices: Float64Array, added: Float64Array, sought: Sought): Search {
  const { tall, wide, pieces } = grid;
  const rows = tall.count;
  const columns = wide.count;
  const kinds = pieces.length;
  const allowed = pieces.reduce((sum, piece, k) => sum + prices[k]! * piece.most, 0);
  // What a build can still gain, by its own size.
  const gain = new Float64Array(rows * columns);
  for (let i = 0; i < rows; i++) {
    for (let j = 0; j < columns; j++) gain[i * columns + j] = added[tall.rest[i]! * columns + wide.rest[j]!]!;
  }
  const store = openStore(kinds, sought.most);
  const heap = openHeap(store);
  const shelves = new Map<number, Shelf>();
  const shelfList: Shelf[] = [];
  let above = sought.above;
  let best = -1;
  // A whole number above `above` is at least one more.
  let need = above + 1 - 1e-6 - allowed;
  const counts = new Uint16Array(kinds);
  const merged = new Uint16Array(kinds);

  function offer(i: number, j: number, worth: number, value: number, first: number, second: number): void {
    const cell = i * columns + j;
    const reach = worth + gain[cell]!;
    if (reach < need || store.has(cell, merged)) return;
    const build = store.put(cell, merged, worth, value, reach, first, second);
    if (value > above) {
      above = value;
      best = build;
      need = above + 1 - 1e-6 - allowed;
    }
    if (reach >= need) heap.push(build);
  }

  for (const [k, piece] of pieces.entries()) {
    merged.fill(0);
    merged[k] = 1;
    const i = tall.floor(piece.height);
    const j = wide.floor(piece.width);
    offer(i, j, piece.value - prices[k]!, piece.value, -1 - k, 0);
  }

  let popped = 0;
  let complete = true;
  search: for (;;) {
    const build = heap.pop();
    if (build < 0) break;
    if (store.reach[build]! < need) break;
    if ((++popped & 63) === 0 && sought.shouldStop()) {
      complete = false;
      break;
    }
    const cell = store.cell[build]!;
    const i = Math.floor(cell / columns);
    const j = cell % columns;
    const worth = store.worth[build]!;
    const value = store.value[build]!;
    store.read(build, counts);
    let own = shelves.get(cell);
    if (own === undefined) {
      own = { i, j, builds: [], best: Number.NEGATIVE_INFINITY };
      shelves.set(cell, own);
      shelfList.push(own);
    }
    putOnShelf(own, build, store);
    for (const shelf of shelfList) {
      const high = tall.joined[i * rows + shelf.i]!;
      const across = high < 0 ? -1 : high * columns + Math.max(j, shelf.j);
      const broad = wide.joined[j * columns + shelf.j]!;
      const down = broad < 0 ? -1 : Math.max(i, shelf.i) * columns + broad;
      const acrossReach = across < 0 ? Number.NEGATIVE_INFINITY : worth + gain[across]!;
      const downReach = down < 0 ? Number.NEGATIVE_INFINITY : worth + gain[down]!;
      const reach = Math.max(acrossReach, downReach);
      if (reach + shelf.best < need) continue;
      for (const other of shelf.builds) {
        const otherWorth = store.worth[other]!;
        if (reach + otherWorth < need) break;
        if (!store.sum(other, counts, merged, pieces)) continue;
        const total = worth + otherWorth;
        const sumValue = value + store.value[other]!;
        if (acrossReach + otherWorth >= need) offer(high, Math.max(j, shelf.j), total, sumValue, build, -1 - other);
        if (downReach + otherWorth >= need) offer(Math.max(i, shelf.i), broad, total, sumValue, build, other);
        if (store.full()) {
          complete = false;
          break search;
        }
      }
    }
  }
  return { value: above, fill: best < 0 ? null : readFill(store, best, tall, wide), complete, builds: store.size() };
}

type Shelf = { i: number; j: number; builds: number[]; best: number };

/** Best first, so that a look along the shelf can end early. */
function putOnShelf(shelf: Shelf, build: number, store: Store): void {
  const worth = store.worth[build]!;
  let low = 0;
  let high = shelf.builds.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (store.worth[shelf.builds[middle]!]! >= worth) low = middle + 1;
    else high = middle;
  }
  shelf.builds.splice(low, 0, build);
  shelf.best = store.worth[shelf.builds[0]!]!;
}

/** The tree of a build. A single piece has `first` -1 - piece; a build across has a negative `second`. */
function readFill(store: Store, build: number, tall: Positions, wide: Positions): Fill {
  const first = store.first[build]!;
  const second = store.second[build]!;
  if (first < 0) return { kind: 'piece', piece: -1 - first };
  const columns = wide.count;
  const cell = store.cell[first]!;
  const kind = second < 0 ? 'across' : 'down';
  return {
    kind,
    at: kind === 'across' ? tall.at[Math.floor(cell / columns)]! : wide.at[cell % columns]!,
    first: readFill(store, first, tall, wide),
    second: readFill(store, second < 0 ? -1 - second : second, tall, wide),
  };
}

/** Builds as columns that grow, and a table that finds one by its size and the pieces in it. */
function openStore(kinds: number, most: number) {
  let room = 1 << 12;
  let size = 0;
  let slots = new Int32Array(1 << 14).fill(-1);
  const store = {
    cell: new Int32Array(room),
    worth: new Float64Array(room),
    value: new Float64Array(room),
    reach: new Float64Array(room),
    first: new Int32Array(room),
    second: new Int32Array(room),
    counts: new Uint16Array(room * kinds),
    hash: new Int32Array(room),
    size: () => size,
    full: () => size >= most,
    has(cell: number, counts: Uint16Array): boolean {
      const hash = hashOf(cell, counts, kinds);
      const mask = slots.length - 1;
      for (let slot = hash & mask; slots[slot]! >= 0; slot = (slot + 1) & mask) {
        const build = slots[slot]!;
        if (store.hash[build] === hash && store.cell[build] === cell && same(build, counts)) return true;
      }
      return false;
    },
    put(
      cell: number,
      counts: Uint16Array,
      worth: number,
      value: number,
      reach: number,
      first: number,
      second: number,
    ): number {
      if (size === room) grow();
      const build = size++;
      store.cell[build] = cell;
      store.worth[build] = worth;
      store.value[build] = value;
      store.reach[build] = reach;
      store.first[build] = first;
      store.second[build] = second;
      store.counts.set(counts, build * kinds);
      store.hash[build] = hashOf(cell, counts, kinds);
      if (size * 2 > slots.length) rehash();
      else place(build);
      return build;
    },
    read(build: number, into: Uint16Array): void {
      for (let k = 0; k < kinds; k++) into[k] = store.counts[build * kinds + k]!;
    },
    /** The pieces of both together; false where that is more than there may be of one. */
    sum(build: number, counts: Uint16Array, into: Uint16Array, pieces: readonly Readonly<{ most: number }>[]): boolean {
      const from = build * kinds;
      for (let k = 0; k < kinds; k++) {
        const sum = counts[k]! + store.counts[from + k]!;
        if (sum > pieces[k]!.most) return false;
        into[k] = sum;
      }
      return true;
    },
  };

  function same(build: number, counts: Uint16Array): boolean {
    const from = build * kinds;
    for (let k = 0; k < kinds; k++) if (store.counts[from + k] !== counts[k]) return false;
    return true;
  }
  function place(build: number): void {
    const mask = slots.length - 1;
    let slot = store.hash[build]! & mask;
    while (slots[slot]! >= 0) slot = (slot + 1) & mask;
    slots[slot] = build;
  }
  function rehash(): void {
    slots = new Int32Array(slots.length * 2).fill(-1);
    for (let build = 0; build < size; build++) place(build);
  }
  function grow(): void {
    room *= 2;
    for (const name of ['cell', 'first', 'second', 'hash'] as const) {
      const longer = new Int32Array(room);
      longer.set(store[name]);
      store[name] = longer;
    }
    for (const name of ['worth', 'value', 'reach'] as const) {
      const longer = new Float64Array(room);
      longer.set(store[name]);
      store[name] = longer;
    }
    const longer = new Uint16Array(room * kinds);
    longer.set(store.counts);
    store.counts = longer;
  }
  return store;
}

/** FNV-1a (Fowler, Noll and Vo) over the cell and the counts. */
function hashOf(cell: number, counts: Uint16Array, kinds: number): number {
  let hash = Math.imul(0x811c9dc5 ^ cell, 0x01000193);
  hash = Math.imul(hash ^ (hash >>> 15), 0x2c1b3c6d);
  for (let k = 0; k < kinds; k++) hash = Math.imul(hash ^ counts[k]!, 0x01000193);
  return (hash ^ (hash >>> 13)) & 0x7fffffff;
}

/** The build that reaches furthest comes first; of equals the one worth more already. */
function openHeap(store: Store) {
  const heap: number[] = [];
  const before = (a: number, b: number) =>
    store.reach[a]! > store.reach[b]! || (store.reach[a] === store.reach[b] && store.value[a]! > store.value[b]!);
  return {
    push(build: number): void {
      let at = heap.length;
      heap.push(build);
      while (at > 0) {
        const parent = (at - 1) >> 1;
        if (!before(build, heap[parent]!)) break;
        heap[at] = heap[parent]!;
        at = parent;
      }
      heap[at] = build;
    },
    /** -1 when empty. */
    pop(): number {
      const top = heap[0];
      if (top === undefined) return -1;
      const last = heap.pop()!;
      const count = heap.length;
      if (count === 0) return top;
      let at = 0;
      for (;;) {
        let child = 2 * at + 1;
        if (child >= count) break;
        if (child + 1 < count && before(heap[child + 1]!, heap[child]!)) child += 1;
        if (!before(heap[child]!, last)) break;
        heap[at] = heap[child]!;
        at = child;
      }
      heap[at] = last;
      return top;
    },
  };
}
