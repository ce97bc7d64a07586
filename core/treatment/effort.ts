/**
 * Minutes as this bench takes them, learned from its day-book. The logarithm of minutes taken over minutes published is the sum of the
 * bench's own pace, the operation's, the format's and the person's, and chance: normal effects that shrink towards the published time where
 * little is known (Lindley and Smith 1972, "Bayes estimates for the linear model"; Gelman et al., "Bayesian Data Analysis", ch. 15, from
 * memory). How far operations differ and how much is chance is not known either: several answers are weighed by how well they explain the
 * day-book, and the range is over all of them. With no observation at all the published band stands as it is.
 */
import { readFormat } from '../book/format-names.ts';
import { assert } from '../result.ts';
import { normalBelow, normalPoint } from '../triage/quantiles.ts';
import type { Step, ThreePoint } from './treatment.ts';

/** One operation done on one book by one person; `likely` is what was published for a book of that size. */
export type Observation = Readonly<{
  operationId: string;
  format: string;
  person: string;
  likely: number;
  minutes: number;
}>;

export type Learned = Readonly<{
  /** The middle, and the points below which 1 and 9 of 10 such jobs lie. */
  minutes: ThreePoint;
  /** How many observations of this operation stand behind it, and how many in all. */
  observations: number;
  all: number;
}>;

type Job = Pick<Observation, 'operationId' | 'format' | 'person'>;
/** Of published minutes: the points below which 1, 5 and 9 of 10 jobs lie. */
type Pace = readonly [number, number, number];

export type Effort = Readonly<{
  of(job: Job, published: ThreePoint): Learned;
}>;

/** Standard deviation of a bench's pace around the published one, in logarithms: two in three within a third either way. Own choice. */
const benchSpread = 0.3;
/** What operations may differ by, and chance; formats and people differ by half of the first. Wide enough for any bench: own choice. */
const spreads = [0.1, 0.2, 0.35, 0.55, 0.8];
const chances = [0.15, 0.25, 0.35, 0.5, 0.7];
const halfShare = 0.5;

/** What is learned from these; those without minutes say nothing. */
export function learnEffort(observations: readonly Observation[]): Effort {
  const told = observations.filter(({ minutes, likely }) => minutes > 0 && likely > 0);
  const counts = new Map<string, number>();
  for (const { operationId } of told) counts.set(operationId, (counts.get(operationId) ?? 0) + 1);
  const columns = new Map<string, number>([['bench', 0]]);
  const kinds: Kind[] = ['bench'];
  const designs = told.map((one) =>
    keysOf(one).map(([kind, key]) => {
      const known = columns.get(key);
      if (known !== undefined) return known;
      columns.set(key, kinds.length);
      return kinds.push(kind) - 1;
    }),
  );
  const answers = told.map(({ minutes, likely }) => Math.log(minutes / likely));
  const models = told.length === 0 ? [] : weighed(designs, answers, kinds);
  const paces = new Map<string, Pace>();

  /** A shelf asks for the same few hundred kinds of job again and again: each is worked out once. */
  function paceOf(job: Job): Pace {
    const key = JSON.stringify([job.operationId, job.format, job.person]);
    const known = paces.get(key);
    if (known !== undefined) return known;
    const keys = keysOf(job);
    const parts = models.map((model) => predicted(model, keys, columns));
    const at = (share: number) => Math.exp(mixturePoint(parts, share));
    const pace: Pace = [at(0.1), at(0.5), at(0.9)];
    paces.set(key, pace);
    return pace;
  }

  return {
    of(job, published) {
      const behind = { observations: counts.get(job.operationId) ?? 0, all: told.length };
      if (models.length === 0) return { minutes: published, ...behind };
      const [low, likely, high] = paceOf(job);
      const minutes = {
        low: published.likely * low,
        likely: published.likely * likely,
        high: published.likely * high,
      };
      return { minutes, ...behind };
    },
  };
}

/** The step as this bench would take it: its minutes spread as widely in a sum as they are by themselves. */
export function asLearned(step: Step, format: string, effort: Effort): Step {
  const { minutes, observations, all } = effort.of({ operationId: step.operationId, format, person: '' }, step.minutes);
  if (all === 0) return step;
  const spread = (Math.log(minutes.high) - Math.log(minutes.low)) / (2 * normalPoint(0.8));
  const mean = minutes.likely * Math.exp(spread ** 2 / 2);
  const deviation = mean * Math.sqrt(Math.exp(spread ** 2) - 1);
  // Low and high for which the mean and the deviation of a three-point time, as they are summed, are those of what was learned.
  const ends = (6 * mean - 4 * minutes.likely) / 2;
  const whole = (value: number) => Math.max(1, Math.round(value));
  return {
    ...step,
    minutes: { low: whole(ends - 3 * deviation), likely: whole(minutes.likely), high: whole(ends + 3 * deviation) },
    learned: { low: whole(minutes.low), high: whole(minutes.high), observations },
  };
}

/** The fold a book's format names, for telling quartos from octavos. */
export function formatKey(format: string): string {
  const read = readFormat(format);
  return read.ok ? read.value.fold : 'other';
}

type Kind = 'bench' | 'operation' | 'format' | 'person';

function keysOf({ operationId, format, person }: Job): readonly (readonly [Kind, string])[] {
  return [
    ['bench', 'bench'],
    ['operation', `operation ${operationId}`],
    ['format', `format ${format}`],
    ['person', `person ${person}`],
  ];
}

type Model = Readonly<{
  weight: number;
  spread: number;
  chance: number;
  mean: readonly number[];
  /** Lower triangle whose product with its transpose is the posterior precision. */
  root: readonly (readonly number[])[];
}>;

function varianceOf(kind: Kind, spread: number): number {
  return (kind === 'bench' ? benchSpread : kind === 'operation' ? spread : spread * halfShare) ** 2;
}

/** One model for each spread and chance, with how well it explains the answers. */
function weighed(
  designs: readonly (readonly number[])[],
  answers: readonly number[],
  kinds: readonly Kind[],
): readonly Model[] {
  const size = kinds.length;
  const cross = Array.from({ length: size }, () => new Array<number>(size).fill(0));
  const sums = new Array<number>(size).fill(0);
  for (const [at, columns] of designs.entries()) {
    for (const one of columns) {
      sums[one] = (sums[one] ?? 0) + (answers[at] ?? 0);
      const row = cross[one];
      if (row) for (const other of columns) row[other] = (row[other] ?? 0) + 1;
    }
  }
  const squares = answers.reduce((sum, answer) => sum + answer * answer, 0);
  const models: (Model & { fit: number })[] = [];
  for (const spread of spreads) {
    for (const chance of chances) {
      const noise = chance * chance;
      const prior = kinds.map((kind) => varianceOf(kind, spread));
      const precision = cross.map((row, one) =>
        row.map((value, other) => value / noise + (one === other ? 1 / (prior[one] ?? 1) : 0)),
      );
      const root = triangle(precision);
      const pull = sums.map((sum) => sum / noise);
      const half = forward(root, pull);
      const mean = backward(root, half);
      const determinant = root.reduce((sum, row, at) => sum + 2 * Math.log(row[at] ?? 1), 0);
      const fit =
        -0.5 *
        (answers.length * Math.log(noise) +
          prior.reduce((sum, variance) => sum + Math.log(variance), 0) +
          determinant +
          squares / noise -
          half.reduce((sum, value) => sum + value * value, 0));
      models.push({ weight: 0, spread, chance, mean, root, fit });
    }
  }
  const best = Math.max(...models.map(({ fit }) => fit));
  const total = models.reduce((sum, { fit }) => sum + Math.exp(fit - best), 0);
  return models.map((model) => ({ ...model, weight: Math.exp(model.fit - best) / total }));
}

type Part = Readonly<{ weight: number; mean: number; deviation: number }>;

function predicted(
  { weight, spread, chance, mean, root }: Model,
  keys: readonly (readonly [Kind, string])[],
  columns: ReadonlyMap<string, number>,
): Part {
  const design = new Array<number>(mean.length).fill(0);
  let middle = 0;
  let variance = chance * chance;
  for (const [kind, key] of keys) {
    const column = columns.get(key);
    if (column === undefined) variance += varianceOf(kind, spread);
    else {
      design[column] = 1;
      middle += mean[column] ?? 0;
    }
  }
  for (const value of forward(root, design)) variance += value * value;
  return { weight, mean: middle, deviation: Math.sqrt(variance) };
}

/** The point below which this share of the mixture lies, by halving. */
function mixturePoint(parts: readonly Part[], share: number): number {
  let [low, high] = [-6, 6];
  for (let turn = 0; turn < 40; turn++) {
    const middle = (low + high) / 2;
    const below = parts.reduce(
      (sum, { weight, mean, deviation }) => sum + weight * normalBelow((middle - mean) / deviation),
      0,
    );
    if (below < share) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** Cholesky's triangle of a positive definite matrix. */
function triangle(matrix: readonly (readonly number[])[]): readonly (readonly number[])[] {
  const root: number[][] = [];
  for (const [at, row] of matrix.entries()) {
    const own: number[] = [];
    for (let column = 0; column <= at; column++) {
      const other = column === at ? own : (root[column] ?? []);
      let left = row[column] ?? 0;
      for (let place = 0; place < column; place++) left -= (own[place] ?? 0) * (other[place] ?? 0);
      if (column === at) assert(left > 0, 'a precision is positive definite');
      own.push(column === at ? Math.sqrt(left) : left / (other[column] ?? 1));
    }
    root.push(own);
  }
  return root;
}

function forward(root: readonly (readonly number[])[], right: readonly number[]): readonly number[] {
  const solved: number[] = [];
  for (const [at, row] of root.entries()) {
    let left = right[at] ?? 0;
    for (let place = 0; place < at; place++) left -= (row[place] ?? 0) * (solved[place] ?? 0);
    solved.push(left / (row[at] ?? 1));
  }
  return solved;
}

function backward(root: readonly (readonly number[])[], right: readonly number[]): readonly number[] {
  const solved = new Array<number>(right.length).fill(0);
  for (let at = right.length - 1; at >= 0; at--) {
    let left = right[at] ?? 0;
    for (let below = at + 1; below < right.length; below++) left -= (root[below]?.[at] ?? 0) * (solved[below] ?? 0);
    solved[at] = left / (root[at]?.[at] ?? 1);
  }
  return solved;
}
