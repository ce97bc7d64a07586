/**
 * The 0/1 knapsack with several constraints, solved exactly: branch and bound on the linear relaxation, which is kept at hand as a dense
 * tableau and mended by the bounded dual simplex after every branching (Land and Doig 1960; Wagner 1958). All variables lie between
 * bounds, so any basis is dual feasible once the others stand at the bound their reduced cost asks for, and nothing has to be copied
 * on the way up and down the tree.
 */
import { assert } from '../result.ts';

/** Each row's weights, one for each item, none negative, may not sum above its capacity. */
export type Knapsack = Readonly<{
  values: readonly number[];
  rows: readonly Readonly<{ weights: readonly number[]; capacity: number }>[];
}>;

export type Packed = Readonly<{
  taken: readonly boolean[];
  value: number;
  /** No choice is worth more than this; equals the value when proven. */
  bound: number;
  optimal: boolean;
  nodes: number;
}>;

/**
 * Nodes times the entries of the tableau, about a second or two on one core. Books worth choosing among take a few hundred nodes; only
 * adversaries made for the purpose, all values nearly proportional to all weights, come to this end.
 */
const usualEffort = 3e7;

/** The best choice. When `effort` is spent it stops with the best so far and a bound. */
export function pack({ values, rows }: Knapsack, effort = usualEffort): Packed {
  for (const row of rows) {
    assert(row.weights.length === values.length, 'a weight for every item');
    assert(row.capacity >= 0 && row.weights.every((weight) => weight >= 0), 'weights and capacities are not negative');
  }
  // Only items that gain something and fit alone, only rows that can run out.
  const items = values.flatMap((value, item) =>
    value > 0 && rows.every((row) => (row.weights[item] ?? 0) <= row.capacity + tiny) ? [item] : [],
  );
  const binding = rows.filter(
    (row) => items.reduce((sum, item) => sum + (row.weights[item] ?? 0), 0) > row.capacity + tiny,
  );
  const worth = items.map((item) => values[item] ?? 0);
  const loads = binding.map(({ weights, capacity }) => ({
    capacity: 1,
    weights: items.map((item) => (weights[item] ?? 0) / capacity),
  }));
  const search = searchFor(worth, loads, Math.max(20, effort / Math.max(1, worth.length * loads.length)));
  const taken = values.map(() => false);
  for (const [index, item] of items.entries()) taken[item] = search.best[index] === 1;
  return { taken, value: search.value, bound: search.bound, optimal: search.optimal, nodes: search.nodes };
}

const tiny = 1e-9;
const loose = 1e-7;

type Rows = readonly Readonly<{ weights: readonly number[]; capacity: number }>[];
type Search = Readonly<{ best: Uint8Array; value: number; bound: number; optimal: boolean; nodes: number }>;

function searchFor(values: readonly number[], rows: Rows, mostNodes: number): Search {
  const count = values.length;
  const whole = values.every((value) => Number.isInteger(value));
  const best = new Uint8Array(count);
  if (rows.length === 0) {
    const value = values.reduce((sum, each) => sum + each, 0);
    return { best: best.fill(1), value, bound: value, optimal: true, nodes: 0 };
  }
  const relaxed = new Relaxation(values, rows);
  const byRatio = [...values.keys()].sort(
    (one, other) => ratio(values, rows, other) - ratio(values, rows, one) || one - other,
  );
  let value = 0;
  let nodes = 0;
  let openBound = Number.NEGATIVE_INFINITY;

  const tryRounded = () => {
    const used = new Float64Array(rows.length);
    const pick = new Uint8Array(count);
    let sum = 0;
    const take = (item: number) => {
      if (pick[item] === 1) return;
      for (let row = 0; row < rows.length; row++) {
        if ((used[row] ?? 0) + (rows[row]?.weights[item] ?? 0) > (rows[row]?.capacity ?? 0) + tiny) return;
      }
      for (let row = 0; row < rows.length; row++) used[row] = (used[row] ?? 0) + (rows[row]?.weights[item] ?? 0);
      pick[item] = 1;
      sum += values[item] ?? 0;
    };
    for (let item = 0; item < count; item++) if (relaxed.at(item) > 1 - loose) take(item);
    for (const item of byRatio) if (relaxed.upper[item] === 1) take(item);
    if (sum > value + tiny) {
      value = sum;
      best.set(pick);
    }
  };

  /** False when no choice below can beat the best. */
  const promising = (bound: number) => (whole ? Math.floor(bound + 1e-6) : bound - loose) > value + tiny;

  const branch = (parentBound: number): void => {
    if (nodes >= mostNodes) {
      openBound = Math.max(openBound, parentBound);
      return;
    }
    nodes++;
    if (!relaxed.solve()) return;
    const bound = Math.min(parentBound, relaxed.objective());
    tryRounded();
    if (!promising(bound)) return;
    // What would cost more than there is to win, whichever way, is settled for everything below.
    const settled = relaxed.settle(bound - value - (whole ? 1 - 1e-6 : 0));
    const item = relaxed.mostFractional();
    if (item >= 0) {
      for (const side of relaxed.at(item) >= 0.5 ? [1, 0] : [0, 1]) {
        if (!promising(bound)) break;
        relaxed.lower[item] = side;
        relaxed.upper[item] = side;
        branch(bound);
        relaxed.lower[item] = 0;
        relaxed.upper[item] = 1;
      }
    }
    for (const each of settled) {
      relaxed.lower[each] = 0;
      relaxed.upper[each] = 1;
    }
  };
  branch(Number.POSITIVE_INFINITY);
  const optimal = openBound === Number.NEGATIVE_INFINITY || !promising(openBound);
  return { best, value, bound: optimal ? value : openBound, optimal, nodes };
}

function ratio(values: readonly number[], rows: Rows, item: number): number {
  let load = 1e-6;
  for (const row of rows) load += (row.weights[item] ?? 0) / row.capacity;
  return (values[item] ?? 0) / load;
}

/** The linear relaxation with bounds that may be moved. Columns: items, then a slack for each row. */
class Relaxation {
  /** Bounds of the items, 0 or 1. */
  readonly lower: Uint8Array;
  readonly upper: Uint8Array;
  readonly #count: number;
  readonly #rows: Rows;
  readonly #width: number;
  readonly #values: readonly number[];
  readonly #table: Float64Array[];
  readonly #reduced: Float64Array;
  readonly #right: Float64Array;
  readonly #basis: Int32Array;
  readonly #inBasis: Int32Array;
  readonly #standing: Float64Array;
  readonly #basic: Float64Array;
  #pivots = 0;

  constructor(values: readonly number[], rows: Rows) {
    this.#count = values.length;
    this.#rows = rows;
    this.#width = values.length + rows.length;
    this.#values = values;
    this.lower = new Uint8Array(values.length);
    this.upper = new Uint8Array(values.length).fill(1);
    this.#table = rows.map(() => new Float64Array(this.#width));
    this.#reduced = new Float64Array(this.#width);
    this.#right = new Float64Array(rows.length);
    this.#basis = new Int32Array(rows.length);
    this.#inBasis = new Int32Array(this.#width).fill(-1);
    this.#standing = new Float64Array(this.#width);
    this.#basic = new Float64Array(rows.length);
    for (let row = 0; row < rows.length; row++) this.#basis[row] = this.#count + row;
    this.#rebuild();
  }

  /** Value of an item in the relaxation. */
  at(item: number): number {
    const row = this.#inBasis[item] ?? -1;
    return row >= 0 ? (this.#basic[row] ?? 0) : (this.#standing[item] ?? 0);
  }

  objective(): number {
    let sum = 0;
    for (let item = 0; item < this.#count; item++) sum += (this.#values[item] ?? 0) * this.at(item);
    return sum;
  }

  mostFractional(): number {
    let best = -1;
    let distance = loose;
    for (let row = 0; row < this.#basis.length; row++) {
      const column = this.#basis[row] ?? 0;
      if (column >= this.#count) continue;
      const value = this.#basic[row] ?? 0;
      const off = Math.min(value, 1 - value);
      if (off > distance) {
        distance = off;
        best = column;
      }
    }
    return best;
  }

  /** Fixes the free items whose move off their bound would cost at least `most`; returns them. */
  settle(most: number): readonly number[] {
    const settled: number[] = [];
    for (let item = 0; item < this.#count; item++) {
      if ((this.#inBasis[item] ?? -1) >= 0 || this.lower[item] === this.upper[item]) continue;
      if (Math.abs(this.#reduced[item] ?? 0) <= most + loose) continue;
      const side = (this.#standing[item] ?? 0) > 0.5 ? 1 : 0;
      this.lower[item] = side;
      this.upper[item] = side;
      settled.push(item);
    }
    return settled;
  }

  /** Solves from wherever the tableau stands. False when the bounds leave nothing feasible. */
  solve(): boolean {
    if (this.#pivots > 100) this.#rebuild();
    this.#stand();
    for (let turn = 0; turn < 50 * this.#basis.length + 200; turn++) {
      let leaving = -1;
      let worst = 1e-8;
      let toUpper = false;
      for (let row = 0; row < this.#basis.length; row++) {
        const column = this.#basis[row] ?? 0;
        const value = this.#basic[row] ?? 0;
        const under = this.#low(column) - value;
        const over = value - this.#high(column);
        if (under > worst) {
          worst = under;
          leaving = row;
          toUpper = false;
        }
        if (over > worst) {
          worst = over;
          leaving = row;
          toUpper = true;
        }
      }
      if (leaving < 0) return true;
      const entering = this.#entering(leaving, toUpper, worst);
      if (entering < 0) return false;
      this.#standing[this.#basis[leaving] ?? 0] = toUpper ? 1 : 0;
      this.#pivot(leaving, entering);
      this.#stand();
    }
    // Cycling is not proof of anything: begin again from the slacks, which always solves.
    for (let row = 0; row < this.#basis.length; row++) this.#basis[row] = this.#count + row;
    this.#rebuild();
    this.#stand();
    return this.#solveByBland();
  }

  /** The same without haste: the first column that may, one bound at a time, which does not cycle (Bland 1977). */
  #solveByBland(): boolean {
    for (let turn = 0; turn < 100_000; turn++) {
      let leaving = -1;
      let toUpper = false;
      for (let row = 0; row < this.#basis.length; row++) {
        const column = this.#basis[row] ?? 0;
        const value = this.#basic[row] ?? 0;
        const under = value < this.#low(column) - 1e-8;
        const over = value > this.#high(column) + 1e-8;
        if ((under || over) && (leaving < 0 || column < (this.#basis[leaving] ?? 0))) {
          leaving = row;
          toUpper = over;
        }
      }
      if (leaving < 0) return true;
      const entering = this.#entering(leaving, toUpper, 0);
      if (entering < 0) return false;
      this.#standing[this.#basis[leaving] ?? 0] = toUpper ? 1 : 0;
      this.#pivot(leaving, entering);
      this.#stand();
    }
    throw new Error('Broken invariant: the dual simplex comes to an end');
  }

  #low(column: number): number {
    return column < this.#count ? (this.lower[column] ?? 0) : 0;
  }

  #high(column: number): number {
    return column < this.#count ? (this.upper[column] ?? 1) : (this.#rows[column - this.#count]?.capacity ?? 0);
  }

  /**
   * The column to bring in for the row that leaves, `violation` outside its bound; -1 when none can mend it. Columns whose reduced cost
   * turns early are passed over while the row stays outside even with them at their other bound, where `#stand` then puts them.
   */
  #entering(leaving: number, toUpper: boolean, violation: number): number {
    const row = this.#table[leaving];
    if (row === undefined) return -1;
    const turning: { column: number; turn: number; slope: number }[] = [];
    for (let column = 0; column < this.#width; column++) {
      if ((this.#inBasis[column] ?? -1) >= 0 || this.#low(column) === this.#high(column)) continue;
      const slope = toUpper ? (row[column] ?? 0) : -(row[column] ?? 0);
      const atUpper = (this.#standing[column] ?? 0) > this.#low(column);
      // Raising a column at its lower bound lowers the basic value by its entry; lowering one at its upper raises it.
      if (atUpper ? slope > -1e-9 : slope < 1e-9) continue;
      turning.push({ column, turn: Math.abs((this.#reduced[column] ?? 0) / slope), slope: Math.abs(slope) });
    }
    turning.sort((one, other) => one.turn - other.turn || other.slope - one.slope);
    let left = violation;
    for (const [place, { column, slope }] of turning.entries()) {
      left -= slope * (this.#high(column) - this.#low(column));
      if (left > 1e-9) continue;
      for (const passed of turning.slice(0, place)) {
        const low = this.#low(passed.column);
        this.#standing[passed.column] = (this.#standing[passed.column] ?? 0) > low ? low : this.#high(passed.column);
      }
      return column;
    }
    return -1;
  }

  #pivot(leaving: number, entering: number): void {
    const pivotRow = this.#table[leaving];
    if (pivotRow === undefined) return;
    const by = pivotRow[entering] ?? 1;
    for (let column = 0; column < this.#width; column++) pivotRow[column] = (pivotRow[column] ?? 0) / by;
    this.#right[leaving] = (this.#right[leaving] ?? 0) / by;
    for (let row = 0; row < this.#table.length; row++) {
      const other = this.#table[row];
      if (row === leaving || other === undefined) continue;
      const factor = other[entering] ?? 0;
      if (factor === 0) continue;
      for (let column = 0; column < this.#width; column++)
        other[column] = (other[column] ?? 0) - factor * (pivotRow[column] ?? 0);
      other[entering] = 0;
      this.#right[row] = (this.#right[row] ?? 0) - factor * (this.#right[leaving] ?? 0);
    }
    const factor = this.#reduced[entering] ?? 0;
    if (factor !== 0) {
      for (let column = 0; column < this.#width; column++) {
        this.#reduced[column] = (this.#reduced[column] ?? 0) - factor * (pivotRow[column] ?? 0);
      }
      this.#reduced[entering] = 0;
    }
    this.#inBasis[this.#basis[leaving] ?? 0] = -1;
    this.#basis[leaving] = entering;
    this.#inBasis[entering] = leaving;
    this.#pivots++;
  }

  /** Puts every non-basic column at the bound its reduced cost asks for, and works out the basic ones. */
  #stand(): void {
    for (let row = 0; row < this.#basic.length; row++) this.#basic[row] = this.#right[row] ?? 0;
    for (let column = 0; column < this.#width; column++) {
      if ((this.#inBasis[column] ?? -1) >= 0) continue;
      const reduced = this.#reduced[column] ?? 0;
      // One that costs nothing either way stays where it is, or a degenerate pivot would be undone at once.
      const high = reduced > 1e-9 || (reduced > -1e-9 && (this.#standing[column] ?? 0) > 0);
      const value = high ? this.#high(column) : this.#low(column);
      this.#standing[column] = value;
      if (value === 0) continue;
      for (let row = 0; row < this.#basic.length; row++) {
        this.#basic[row] = (this.#basic[row] ?? 0) - value * (this.#table[row]?.[column] ?? 0);
      }
    }
  }

  /** The tableau of the present basis from the numbers given, so that rounding does not add up. */
  #rebuild(): void {
    const wanted = Array.from(this.#basis);
    for (const [row, given] of this.#rows.entries()) {
      const line = this.#table[row];
      if (line === undefined) continue;
      line.fill(0);
      for (let item = 0; item < this.#count; item++) line[item] = given.weights[item] ?? 0;
      line[this.#count + row] = 1;
      this.#right[row] = given.capacity;
      this.#basis[row] = this.#count + row;
    }
    this.#reduced.fill(0);
    for (let item = 0; item < this.#count; item++) this.#reduced[item] = this.#values[item] ?? 0;
    this.#inBasis.fill(-1);
    for (let row = 0; row < this.#basis.length; row++) this.#inBasis[this.#count + row] = row;
    const kept = new Set(wanted);
    for (const column of wanted) {
      if ((this.#inBasis[column] ?? -1) >= 0) continue;
      let leaving = -1;
      let largest = 1e-9;
      for (let row = 0; row < this.#basis.length; row++) {
        const size = Math.abs(this.#table[row]?.[column] ?? 0);
        if (!kept.has(this.#basis[row] ?? -1) && size > largest) {
          largest = size;
          leaving = row;
        }
      }
      if (leaving >= 0) this.#pivot(leaving, column);
    }
    this.#pivots = 0;
  }
}
