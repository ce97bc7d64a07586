/** One to one at least cost: n people, n places. The linear program of it has whole solutions (Birkhoff 1946), so it is solved as one. */
import { assert } from '../result.ts';
import { draftModel, type SolveModel } from './mip.ts';

export type Assigned = Readonly<{ cost: number; placeOf: readonly number[]; proven: boolean }>;

/** `costs[person][place]`, square. */
export async function assignOneToOne(
  costs: readonly (readonly number[])[],
  solve: SolveModel,
  seconds: number,
): Promise<Assigned> {
  const size = costs.length;
  assert(
    costs.every((row) => row.length === size),
    'as many places as people',
  );
  const draft = draftModel();
  const price = new Map<number, number>();
  const columns = costs.map((row) =>
    row.map((cost) => {
      const column = draft.column(0, 1, false);
      price.set(column, cost);
      return column;
    }),
  );
  for (let k = 0; k < size; k++) {
    draft.row(1, 1, columns[k]?.map((column) => [column, 1] as const) ?? []);
    draft.row(
      1,
      1,
      columns.map((row) => [row[k] ?? 0, 1] as const),
    );
  }
  const answer = await solve(draft.model('least', price), { seconds });
  assert(answer.values, 'everybody can be placed somewhere');
  const { values } = answer;
  const placeOf = columns.map((row) => row.findIndex((column) => (values[column] ?? 0) > 0.5));
  return {
    cost: placeOf.reduce((sum, place, person) => sum + (costs[person]?.[place] ?? 0), 0),
    placeOf,
    proven: answer.status === 'optimal',
  };
}
