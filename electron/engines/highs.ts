/**
 * HiGHS, compiled to WebAssembly, as core asks for it. It keeps its thread until it is done, so it belongs in a worker: `shouldStop` is
 * looked at while it works, and the best found so far is then the answer.
 */
import loadHighs, { type Highs, type Model, type ModelData } from 'highs';
import type { MipAnswer, MipEffort, MipModel, SolveModel } from '../../core/optimise/mip.ts';
import { assert } from '../../core/result.ts';

let loaded: Promise<Highs> | undefined;

/** Loads the solver once a thread. */
export async function loadSolver(shouldStop: () => boolean = () => false): Promise<SolveModel> {
  loaded ??= loadHighs();
  const highs = await loaded;
  return async (model, effort) => {
    if (model.columns.length === 0) return emptyAnswer(model);
    if (shouldStop()) return { status: 'stopped', values: null, objective: 0, bound: best(model) };
    return highs.withModel(dataOf(highs, model), (native) => run(highs, native, model, effort, shouldStop));
  };
}

/** Without columns every row says something of 0. */
function emptyAnswer(model: MipModel): MipAnswer {
  const holds = model.rows.every((row) => row.lower <= 0 && row.upper >= 0);
  return holds
    ? { status: 'optimal', values: [], objective: 0, bound: 0 }
    : { status: 'infeasible', values: null, objective: 0, bound: best(model) };
}

function run(highs: Highs, native: Model, model: MipModel, effort: MipEffort, shouldStop: () => boolean): MipAnswer {
  native.options.set({
    output_flag: false,
    time_limit: Math.max(0.01, effort.seconds),
    mip_rel_gap: 0,
    mip_abs_gap: effort.absoluteGap ?? 1e-6,
    presolve: effort.presolve === false ? 'off' : 'choose',
  });
  const whole = model.columns.some((column) => column.whole);
  if (effort.start && whole) native.setSolution({ colValue: Float64Array.from(effort.start) });
  const { callbackType, modelStatus } = highs.constants;
  native.run({
    [callbackType.mipInterrupt](event) {
      if (shouldStop()) event.interrupt();
    },
  });
  const status = native.getModelStatus();
  // Every model of ours is bounded, so “unbounded or infeasible” is infeasible.
  if (status === modelStatus.infeasible || status === modelStatus.unboundedOrInfeasible) {
    return { status: 'infeasible', values: null, objective: 0, bound: best(model) };
  }
  const proven = status === modelStatus.optimal || status === modelStatus.empty;
  const found = proven || native.info.get('primal_solution_status') === highs.constants.solutionStatus.feasible;
  const bound = whole ? Number(native.info.get('mip_dual_bound')) : proven ? native.getObjectiveValue() : best(model);
  if (!found) return { status: 'stopped', values: null, objective: 0, bound };
  // HiGHS answers 260.99999999999994 for 261.
  const values = Array.from(native.getSolution().colValue, (value, column) =>
    model.columns[column]?.whole ? Math.round(value) : value,
  );
  const objective = values.reduce((sum, value, column) => sum + value * (model.columns[column]?.cost ?? 0), 0);
  assert(Number.isFinite(objective), 'a solution has a value');
  const answer = {
    status: proven ? 'optimal' : 'stopped',
    values,
    objective,
    bound: Number.isFinite(bound) ? bound : best(model),
  } as const;
  return whole || !proven ? answer : { ...answer, prices: Array.from(native.getSolution().rowDual) };
}

/** What is known of a model before anything is. */
function best(model: MipModel): number {
  return model.sense === 'most' ? Number.POSITIVE_INFINITY : Number.NEGATIVE_INFINITY;
}

function dataOf(highs: Highs, model: MipModel): ModelData {
  const { columns, rows } = model;
  const starts = new Int32Array(rows.length + 1);
  for (const [index, row] of rows.entries()) starts[index + 1] = (starts[index] ?? 0) + row.terms.length;
  const indices = new Int32Array(starts[rows.length] ?? 0);
  const values = new Float64Array(indices.length);
  let at = 0;
  for (const row of rows) {
    for (const [column, coefficient] of row.terms) {
      indices[at] = column;
      values[at++] = coefficient;
    }
  }
  const { objectiveSense, variableType } = highs.constants;
  return {
    numCols: columns.length,
    numRows: rows.length,
    sense: model.sense === 'most' ? objectiveSense.maximize : objectiveSense.minimize,
    colCost: columns.map((column) => column.cost),
    colLower: columns.map((column) => column.lower),
    colUpper: columns.map((column) => column.upper),
    rowLower: rows.map((row) => row.lower),
    rowUpper: rows.map((row) => row.upper),
    integrality: columns.map((column) => (column.whole ? variableType.integer : variableType.continuous)),
    matrix: { format: 'csr', numRows: rows.length, numCols: columns.length, starts, indices, values },
  };
}
