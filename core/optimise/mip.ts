/**
 * A mixed-integer program as data. Core builds it and is handed a function that solves it, so that nothing here knows which solver that is;
 * the program uses HiGHS (Huangfu and Hall 2018, "Parallelizing the dual revised simplex method").
 */

type MipColumn = Readonly<{ lower: number; upper: number; whole: boolean; cost: number }>;

/** `lower` ≤ the sum of its terms ≤ `upper`; a term is a column's index and its coefficient, each column at most once. */
type MipRow = Readonly<{ lower: number; upper: number; terms: readonly (readonly [number, number])[] }>;

export type MipModel = Readonly<{
  sense: 'least' | 'most';
  columns: readonly MipColumn[];
  rows: readonly MipRow[];
}>;

export type MipEffort = Readonly<{
  seconds: number;
  /** An answer is proven best within this distance of the bound: 0.999 where every value of the objective is whole. */
  absoluteGap?: number;
  /** False for small programs asked many times over, which are solved before they are simplified. */
  presolve?: boolean;
  /** A solution to begin from, by column; one that breaks a row is only not used. */
  start?: readonly number[] | undefined;
}>;

export type MipAnswer = Readonly<{
  /** `stopped`: out of time or told to stop, with or without a solution. */
  status: 'optimal' | 'stopped' | 'infeasible';
  /** By column, whole ones rounded; null where no solution was found. */
  values: readonly number[] | null;
  /** Of those values; NaN never: 0 where there are none. */
  objective: number;
  /** No solution can be better than this. */
  bound: number;
  /** By row, of a solved model without whole columns: what one more unit of its limit adds to the objective. */
  prices?: readonly number[];
}>;

export type SolveModel = (model: MipModel, effort: MipEffort) => Promise<MipAnswer>;

export const noLimit = Number.POSITIVE_INFINITY;

/** A model written down row by row; columns and rows are named by the numbers `column` and `row` answer. */
export function draftModel() {
  const columns: MipColumn[] = [];
  const rows: MipRow[] = [];
  return {
    column: (lower: number, upper: number, whole: boolean) => columns.push({ lower, upper, whole, cost: 0 }) - 1,
    row: (lower: number, upper: number, terms: MipRow['terms']) => rows.push({ lower, upper, terms }) - 1,
    /** The model so far with this objective; later rows do not change it. */
    model(sense: MipModel['sense'], costs: ReadonlyMap<number, number>): MipModel {
      return {
        sense,
        columns: columns.map((column, index) => ({ ...column, cost: costs.get(index) ?? 0 })),
        rows: [...rows],
      };
    },
  };
}

/** How far an answer may be from the best, as a share of its value; null where no bound is known. */
export function gapOf({ objective, bound }: Readonly<{ objective: number; bound: number }>): number | null {
  if (!Number.isFinite(bound)) return null;
  return Math.abs(bound - objective) / Math.max(1, Math.abs(objective));
}
