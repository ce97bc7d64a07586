/** The program that chooses among bundles, and the prices that come out of it. */
import { draftModel, type MipModel, noLimit } from '../optimise/mip.ts';
import { type AllocationProblem, usable } from './allocation-model.ts';
import type { Bundle, PersonType, Prices } from './bundle-search.ts';

/** What bundles are wanted for, and on how many copies everybody is to grow at least. */
export type Goal = Readonly<{ for: 'wishes' | 'worth'; growing: number }>;

/** What is still to be given, and to how many of each type. */
export type Room = Readonly<{
  people: readonly number[];
  /** Copies that may still be handed out in all. */
  copies: number;
  /** Wishes that must still be met in all. */
  wishes: number;
  /** Copies that are somebody's already. */
  given: ReadonlySet<string>;
}>;

/** Everything still to be given. */
export function wholeRoom(problem: AllocationProblem, types: readonly PersonType[], wishes: number): Room {
  return {
    people: types.map(({ people }) => people.length),
    copies: Math.max(0, usable(problem) - problem.spares),
    wishes,
    given: new Set(),
  };
}

/** What is left when somebody has this bundle. */
export function lessRoom(room: Room, bundle: Bundle): Room {
  return {
    people: room.people.map((count, type) => (type === bundle.type ? count - 1 : count)),
    copies: room.copies - bundle.copies.length,
    wishes: room.wishes - bundle.wishes,
    given: new Set([...room.given, ...bundle.copies.map(({ id }) => id)]),
  };
}

export type Master = Readonly<{
  model: MipModel;
  /** By bundle. */
  columns: readonly number[];
  /** By type, people left without a bundle, at a price nobody would pay. */
  missing: readonly number[];
  typeRows: readonly number[];
  copyRows: ReadonlyMap<string, number>;
  spareRow: number;
  wishRow: number;
}>;

/** Everybody one bundle, every copy in one bundle at most, spares kept, wishes met. With `whole`, no half bundles. */
export function masterOf(
  problem: AllocationProblem,
  types: readonly PersonType[],
  bundles: readonly Bundle[],
  room: Room,
  goal: Goal,
  whole: boolean,
): Master {
  const draft = draftModel();
  const costs = new Map<number, number>();
  const ofType: (readonly [number, number])[][] = types.map(() => []);
  const ofCopy = new Map<string, (readonly [number, number])[]>();
  const used: (readonly [number, number])[] = [];
  const wished: (readonly [number, number])[] = [];
  const columns = bundles.map((bundle) => {
    const column = draft.column(0, whole ? (room.people[bundle.type] ?? 0) : noLimit, whole);
    costs.set(column, goal.for === 'worth' ? bundle.worth : bundle.wishes);
    ofType[bundle.type]?.push([column, 1]);
    if (bundle.copies.length > 0) used.push([column, bundle.copies.length]);
    if (bundle.wishes > 0) wished.push([column, bundle.wishes]);
    for (const { id } of bundle.copies) {
      const terms = ofCopy.get(id);
      if (terms) terms.push([column, 1]);
      else ofCopy.set(id, [[column, 1]]);
    }
    return column;
  });
  const missing = types.map(({ wishes }, type) => {
    const column = draft.column(0, noLimit, false);
    costs.set(column, -penalty(problem));
    ofType[type]?.push([column, 1]);
    // People without a bundle are not asked for their wishes: the price of leaving them out is high enough.
    if (wishes.length > 0) wished.push([column, wishes.length]);
    return column;
  });
  const typeRows = types.map((_, type) => {
    const count = room.people[type] ?? 0;
    return draft.row(count, count, ofType[type] ?? []);
  });
  const copyRows = new Map([...ofCopy].map(([id, terms]) => [id, draft.row(-noLimit, 1, terms)]));
  const spareRow = draft.row(-noLimit, room.copies, used);
  const wishRow = draft.row(Math.max(0, room.wishes), noLimit, wished);
  return { model: draft.model('most', costs), columns, missing, typeRows, copyRows, spareRow, wishRow };
}

/** More than everything on the course is worth to everybody. */
function penalty(problem: AllocationProblem): number {
  return 20 * problem.copies.length * (problem.syllabus.length + 6);
}

/** Prices as what one more of each would be worth; what is given already has none that anybody would pay. */
export function pricesOf(
  problem: AllocationProblem,
  master: Master,
  duals: readonly number[],
  room: Room,
  goal: Goal,
): Prices {
  const size = (row: number) => Math.abs(duals[row] ?? 0);
  const spare = size(master.spareRow);
  return {
    // A person's place is worth its dual as it stands, which may be below 0.
    types: master.typeRows.map((row) => duals[row] ?? 0),
    copies: new Map(
      problem.copies.map(({ id }) => [
        id,
        room.given.has(id) ? penalty(problem) : spare + size(master.copyRows.get(id) ?? -1),
      ]),
    ),
    wish: goal.for === 'worth' ? size(master.wishRow) : 1,
    worth: goal.for === 'worth' ? 1 : 0,
  };
}
