/**
 * The allocation of a big course, seen from what each person carries home: a bundle of copies that meets all that person needs. A linear
 * program chooses among bundles and its prices find the next ones (column generation; Gilmore and Gomory 1961, Barnhart and others 1998), which
 * gives bounds far nearer the truth than a program of single copies does. People alike in all that matters are one type, so that no two
 * sharings differ only in names.
 */
import { noLimit, type SolveModel } from '../optimise/mip.ts';
import { assert } from '../result.ts';
import { type AllocationProblem, type Pair, usable } from './allocation-model.ts';
import { type Goal, lessRoom, masterOf, pricesOf, type Room, wholeRoom } from './bundle-master.ts';
import { type Bundle, bundlesOf, gainOf, type PersonType, type Prices, typesOf } from './bundle-search.ts';
import { growsOn } from './eligible.ts';

type Given = Omit<Pair, 'column'>;

export type BundleAnswer = Readonly<{
  pairs: readonly Given[];
  /** No more wishes than this can be met. */
  wishBound: number;
  /** The worst-off cannot have more copies to grow on than this. */
  worstBound: number;
  /** With the worst-off as well off as in `pairs`, all together can be worth no more than this. */
  totalBound: number;
}>;

export type BundleTask = Readonly<{
  problem: AllocationProblem;
  worthOf: (pair: Given) => number;
  /** A sharing that holds, the wishes it meets and what its worst-off has to grow on. */
  incumbent: readonly Given[];
  wishes: number;
  worst: number;
  solve: SolveModel;
  /** Seconds left. */
  left: () => number;
  shouldStop: () => boolean;
}>;

/** The task with its types, and the bundles found so far. */
type Search = BundleTask & Readonly<{ types: readonly PersonType[]; pool: Map<string, Bundle> }>;

/** The best sharing found, never worse than the incumbent, and how good any could be; null where the course is not of a kind this can weigh. */
export async function shareByBundles(task: BundleTask): Promise<BundleAnswer | null> {
  const types = typesOf(task.problem, task.worthOf);
  if (types === null) return null;
  const search: Search = { ...task, types, pool: new Map() };
  keepIncumbent(search);

  const wished = await mostWishes(search);
  if (wished === null) return null;
  const now: Search = { ...search, ...wished };
  keepIncumbent(now);
  const { learners, copiesEach, spares } = task.problem;
  let high = Math.max(
    now.worst,
    Math.min(copiesEach[1], Math.floor((usable(task.problem) - spares) / learners.length)),
  );
  for (; ; high--) {
    const goal: Goal = { for: 'worth', growing: high };
    const priced = await generate(now, goal, wholeRoom(task.problem, types, now.wishes));
    if (priced === null) break;
    // Somebody cannot be given such a bundle even in parts: nobody can be that well off.
    if (priced.bound < 0 && high > now.worst) continue;
    const chosen = await choose(now, goal, now.wishes, priced);
    if (chosen === null) break;
    return { pairs: chosen.pairs, totalBound: chosen.bound, wishBound: wished.wishBound, worstBound: high };
  }
  return { pairs: now.incumbent, wishBound: wished.wishBound, worstBound: high, totalBound: noLimit };
}

async function mostWishes(search: Search) {
  const { types, incumbent, wishes, worst, problem } = search;
  const asked = types.reduce((sum, type) => sum + type.wishes.length * type.people.length, 0);
  const before = { incumbent, wishes, worst };
  if (wishes >= asked) return { ...before, wishBound: asked };
  const goal: Goal = { for: 'wishes', growing: 0 };
  const priced = await generate(search, goal, wholeRoom(problem, types, 0));
  if (priced === null) return null;
  const wishBound = Math.min(asked, Math.floor(priced.bound + 1e-6));
  if (wishes >= wishBound) return { ...before, wishBound: wishes };
  const chosen = await choose(search, goal, 0, priced);
  if (chosen === null || chosen.value <= wishes) return { ...before, wishBound: chosen?.bound ?? wishBound };
  const growing = chosen.pairs.filter(growsOn);
  const most = problem.learners.map(({ id }) => growing.filter(({ person }) => person.id === id).length);
  return { incumbent: chosen.pairs, wishes: chosen.value, worst: Math.min(...most), wishBound: chosen.bound };
}

/** What pricing leaves: a bound on the whole, and the prices that gave it. */
type Priced = Readonly<{ bound: number; prices: Prices }>;

/** Prices bundles until none would help any more. Null when time ran out before any bound was known. */
async function generate(search: Search, goal: Goal, room: Room, rounds = noLimit): Promise<Priced | null> {
  let best: Priced | null = null;
  for (let round = 0; round < rounds; round++) {
    const solved = await relaxed(search, goal, room);
    if (solved === null) return best;
    const { prices, objective } = solved;
    let [bound, added] = [objective, 0];
    for (const [at, type] of search.types.entries()) {
      const count = room.people[at] ?? 0;
      if (count === 0) continue;
      const price = prices.types[at] ?? 0;
      const found = bundlesOf(type, prices, { growing: goal.growing, above: price + 1e-6, most: 6 });
      if (found === null) return best;
      bound += Math.max(0, (found[0]?.gain ?? price) - price) * count;
      for (const { bundle } of found) {
        if (!search.pool.has(bundle.key)) added++;
        search.pool.set(bundle.key, bundle);
      }
    }
    if (best === null || bound <= best.bound) best = { bound, prices };
    // Values are whole, so a bound within a hair of the program's own value says all it will ever say.
    if (added === 0 || bound - objective < 0.01 || best.bound < 0) return best;
  }
  return best;
}

/** The program in which bundles may be given in parts, over the pool. */
async function relaxed(search: Search, goal: Goal, room: Room) {
  if (search.left() < 0.1 || search.shouldStop()) return null;
  const bundles = poolFor(search, goal, room);
  const master = masterOf(search.problem, search.types, bundles, room, goal, false);
  const answer = await search.solve(master.model, { seconds: search.left(), presolve: false });
  if (answer.status !== 'optimal' || answer.prices === undefined || answer.values === null) return null;
  const { values, objective } = answer;
  return {
    objective,
    bundles,
    share: (index: number) => values[master.columns[index] ?? -1] ?? 0,
    short: master.missing.reduce((sum, column) => sum + (values[column] ?? 0), 0),
    prices: pricesOf(search.problem, master, answer.prices, room, goal),
  };
}

function poolFor({ pool }: Search, goal: Goal, room: Room): readonly Bundle[] {
  return [...pool.values()].filter(
    (bundle) =>
      bundle.growing >= goal.growing &&
      (room.people[bundle.type] ?? 0) > 0 &&
      bundle.copies.every(({ id }) => !room.given.has(id)),
  );
}

type Chosen = Readonly<{ pairs: readonly Given[]; value: number; bound: number }>;

/** Whole bundles for everybody: by giving the likeliest one after the other, then from the pool, then from all that could still be better. */
async function choose(search: Search, goal: Goal, wishes: number, { bound, prices }: Priced): Promise<Chosen | null> {
  const most = Math.floor(bound + 1e-6);
  let best = await dive(search, goal, wishes);
  const answer = () => best && { ...best, bound: Math.max(best.value, most) };
  if (best !== null && best.value >= most) return answer();
  const near = poolFor(search, goal, wholeRoom(search.problem, search.types, 0)).filter(
    (bundle) => gainOf(bundle, prices) >= (prices.types[bundle.type] ?? 0) - firstNet,
  );
  best = betterOf(best, await pick(search, goal, wishes, near, best));
  for (const net of nets) {
    if (best === null || best.value >= most) break;
    const all = nearBundles(search, goal, prices, net);
    if (all === null) break;
    const found = await pick(search, goal, wishes, all, best);
    best = betterOf(best, found);
    // A sharing with any bundle outside the net is worth less than the bound by more than the net.
    if (found?.proven && best !== null && best.value >= bound - net) return { ...best, bound: best.value };
  }
  return answer();
}

/** How far below the price of a place a bundle may lie to be weighed; a wider net each time, for as long as it pays. */
const nets = [0.999, 3, 8];
/** Of the pool, bundles within this are tried: far fewer than all, and nearly always enough. */
const firstNet = 3;
/** More bundles than this are not weighed in one program. */
const mostBundles = 8000;

type Picked = Readonly<{ bundles: readonly Bundle[]; pairs: readonly Given[]; value: number; proven: boolean }>;

function betterOf(one: Picked | null, other: Picked | null): Picked | null {
  if (one === null || other === null) return one ?? other;
  return other.value > one.value ? other : one;
}

/** All bundles within the net, or null where they are too many to be weighed together. */
function nearBundles(search: Search, goal: Goal, prices: Prices, net: number): readonly Bundle[] | null {
  const near: Bundle[] = [];
  for (const [at, type] of search.types.entries()) {
    const above = (prices.types[at] ?? 0) - net;
    const found = bundlesOf(type, prices, { growing: goal.growing, above, most: mostBundles });
    if (found === null || near.length + found.length > mostBundles) return null;
    near.push(...found.map(({ bundle }) => bundle));
  }
  return near;
}

/**
 * Gives the bundle that the program gives most of, prices what is left anew, and so on until everybody has one. Out of a corner it goes back
 * a step and gives another; null where that does not help either.
 */
async function dive(search: Search, goal: Goal, wishes: number): Promise<Picked | null> {
  const start = wholeRoom(search.problem, search.types, wishes);
  const steps: Dived[] = [{ room: start, given: [], refused: new Set() }];
  for (let corners = 0; corners <= mostCorners; ) {
    const step = steps.at(-1);
    if (!step) return null;
    if (step.room.people.every((count) => count === 0)) {
      if (step.room.wishes <= 0) return pickedOf(search, goal, step.given, false);
      steps.pop();
      corners++;
      continue;
    }
    const order = await likeliest(search, goal, step);
    if (order === 'out of time') return null;
    if (order.length === 0) {
      corners++;
      steps.pop();
      continue;
    }
    steps.push(giveFrom(step, order));
    // Coming back here, another is given first.
    step.refused.add(order[0]?.bundle.key ?? '');
  }
  return null;
}

type Dived = Readonly<{ room: Room; given: readonly Bundle[]; refused: Set<string> }>;
type Likely = Readonly<{ bundle: Bundle; share: number }>;

const roundsOfDive = 3;
const mostCorners = 12;

/** Bundles by how much of them the program gives; none in a corner. */
async function likeliest(
  search: Search,
  goal: Goal,
  { room, refused }: Dived,
): Promise<readonly Likely[] | 'out of time'> {
  if ((await generate(search, goal, room, roundsOfDive)) === null) return 'out of time';
  let solved = await relaxed(search, goal, room);
  if (solved !== null && solved.short > 1e-6) {
    await generate(search, goal, room);
    solved = await relaxed(search, goal, room);
  }
  if (solved === null) return 'out of time';
  if (solved.short > 1e-6 || room.copies < 0) return [];
  const { share } = solved;
  return solved.bundles
    .map((bundle, index) => ({ bundle, share: share(index) }))
    .filter((likely) => likely.share > 1e-6 && !refused.has(likely.bundle.key))
    .toSorted((one, other) => other.share - one.share || other.bundle.worth - one.bundle.worth);
}

/** The likeliest is given in any case; with it whatever is as good as settled. */
function giveFrom(step: Dived, order: readonly Likely[]): Dived {
  let { room } = step;
  const given = [...step.given];
  for (const [index, { bundle, share }] of order.entries()) {
    if (index > 0 && share < 0.85) break;
    for (let times = Math.max(1, Math.floor(share + 1e-6)); times > 0; times--) {
      if ((room.people[bundle.type] ?? 0) === 0 || bundle.copies.some(({ id }) => room.given.has(id))) break;
      given.push(bundle);
      room = lessRoom(room, bundle);
    }
  }
  return { room, given, refused: new Set() };
}

/** The best whole bundles of these, beginning from a sharing where there is one. */
async function pick(
  search: Search,
  goal: Goal,
  wishes: number,
  near: readonly Bundle[],
  from: Picked | null,
): Promise<Picked | null> {
  if (search.left() < 0.1 || search.shouldStop()) return null;
  const keys = new Set(near.map(({ key }) => key));
  const bundles = [...near, ...new Set((from?.bundles ?? []).filter(({ key }) => !keys.has(key)))];
  const room = wholeRoom(search.problem, search.types, wishes);
  const master = masterOf(search.problem, search.types, bundles, room, goal, true);
  const start = from && master.model.columns.map(() => 0);
  for (const bundle of start ? (from?.bundles ?? []) : []) {
    const column = master.columns[bundles.findIndex(({ key }) => key === bundle.key)];
    if (start && column !== undefined) start[column] = (start[column] ?? 0) + 1;
  }
  const effort = { seconds: search.left(), absoluteGap: 0.999, start: start ?? undefined };
  const { values, status } = await search.solve(master.model, effort);
  if (values === null || master.missing.some((column) => (values[column] ?? 0) > 0.5)) return null;
  const given = bundles.flatMap((bundle, index) =>
    new Array<Bundle>(Math.round(values[master.columns[index] ?? -1] ?? 0)).fill(bundle),
  );
  return pickedOf(search, goal, given, status === 'optimal');
}

function pickedOf(search: Search, goal: Goal, bundles: readonly Bundle[], proven: boolean): Picked {
  const waiting = search.types.map(({ people }) => [...people]);
  const pairs = bundles.flatMap((bundle) => {
    const person = waiting[bundle.type]?.pop();
    assert(person, 'no more bundles of a type than people of it');
    return bundle.copies.map((copy) => ({ person, copy }));
  });
  const value = bundles.reduce((sum, bundle) => sum + (goal.for === 'worth' ? bundle.worth : bundle.wishes), 0);
  return { bundles, pairs, value, proven };
}

function keepIncumbent({ types, pool, incumbent }: Search): void {
  for (const [at, type] of types.entries()) {
    for (const person of type.people) {
      const copies = incumbent.filter((pair) => pair.person.id === person.id).map(({ copy }) => copy);
      const bundle = type.bundle(at, copies);
      pool.set(bundle.key, bundle);
    }
  }
}
