/** Finds the bundles of copies a person could be given that are worth most at given prices: a search over what is still unmet. */
import { type AllocationProblem, type Pair, rulesOf } from './allocation-model.ts';
import { growsOn, type Learner, type PracticeCopy, whyNot } from './eligible.ts';
import { learnerMinutes } from './pace.ts';

export type Bundle = Readonly<{
  key: string;
  type: number;
  copies: readonly PracticeCopy[];
  worth: number;
  /** Copies in it from which the person still grows. */
  growing: number;
  /** Wishes it meets. */
  wishes: number;
}>;

/** People alike in level, hours, wishes, allergies and rules. */
export type PersonType = Readonly<{
  index: number;
  people: readonly Learner[];
  wishes: readonly string[];
  least: number;
  most: number;
  minutes: number;
  /** Every required operation has its bit. */
  wanted: number;
  options: readonly Option[];
  bundle: (index: number, copies: readonly PracticeCopy[]) => Bundle;
}>;

type Option = Readonly<{
  copy: PracticeCopy;
  worth: number;
  growing: boolean;
  minutes: number;
  meets: number;
  grants: number;
  /** Must be in every bundle of this person. */
  kept: boolean;
}>;

export type Prices = Readonly<{
  types: readonly number[];
  copies: ReadonlyMap<string, number>;
  /** What one wish met is worth. */
  wish: number;
  /** 1 where bundles are wanted for their worth, 0 where only for the wishes they meet. */
  worth: 0 | 1;
}>;

/** Bits of a number that stays positive. */
const mostBits = 30;

/** Null for courses with more required operations or wishes of one person than fit. */
export function typesOf(
  problem: AllocationProblem,
  worthOf: (pair: Omit<Pair, 'column'>) => number,
): readonly PersonType[] | null {
  if (problem.required.length > mostBits) return null;
  if (problem.learners.some((person) => new Set(person.wishes).size > mostBits)) return null;
  const rules = rulesOf(problem);
  const groups = Map.groupBy(problem.learners, (person) => {
    const { level, minutes, wishes, allergies, excused } = person;
    const own = problem.rules.filter((rule) => rule.personId === person.id);
    return JSON.stringify([level, minutes, wishes, allergies, excused, own.length > 0 ? person.id : '']);
  });
  const taken = new Set(problem.rules.filter(({ rule }) => rule === 'keep').map(({ copyId }) => copyId));
  return [...groups.values()].map((people, index): PersonType => {
    const person = people[0] as Learner;
    const wishes = [...new Set(person.wishes)];
    const bits = (copy: PracticeCopy, ids: readonly string[]) =>
      ids.reduce((mask, id, bit) => (copy.teaches.includes(id) ? mask | (1 << bit) : mask), 0);
    const options = problem.copies.flatMap((copy): Option[] => {
      const kept = rules.isKept(person.id, copy.id);
      if (whyNot(person, copy) !== null || rules.isForbidden(person.id, copy.id)) return [];
      if (taken.has(copy.id) && !kept) return [];
      return [
        {
          copy,
          worth: worthOf({ person, copy }),
          growing: growsOn({ person, copy }),
          minutes: learnerMinutes(copy.minutes, person.level),
          meets: bits(copy, problem.required),
          grants: bits(copy, wishes),
          kept,
        },
      ];
    });
    return {
      index,
      people,
      wishes,
      least: problem.copiesEach[0],
      most: problem.copiesEach[1],
      minutes: person.minutes,
      wanted: problem.required.reduce((mask, id, bit) => (person.excused.includes(id) ? mask : mask | (1 << bit)), 0),
      options,
      bundle: (type, copies) => ({
        key: `${type} ${copies
          .map(({ id }) => id)
          .toSorted()
          .join(' ')}`,
        type,
        copies,
        worth: copies.reduce((sum, copy) => sum + worthOf({ person, copy }), 0),
        growing: copies.filter((copy) => growsOn({ person, copy })).length,
        wishes: wishes.filter((wish) => copies.some((copy) => copy.teaches.includes(wish))).length,
      }),
    };
  });
}

type Found = Readonly<{ gain: number; bundle: Bundle }>;
type Wanted = Readonly<{
  /** At least so many copies from which the person still grows. */
  growing: number;
  /** Only bundles that gain more than this. */
  above: number;
  most: number;
}>;

/** Steps of one search before it is given up. */
const mostSteps = 3_000_000;

/**
 * The `most` bundles that gain most, the best first. A gain is worth plus wishes at their price less the prices of the copies. Null where the
 * search would take too long to be sure.
 */
export function bundlesOf(type: PersonType, prices: Prices, wanted: Wanted): readonly Found[] | null {
  const priced = type.options
    .map((option) => ({ ...option, gain: prices.worth * option.worth - (prices.copies.get(option.copy.id) ?? 0) }))
    .toSorted((one, other) => other.gain - one.gain);
  const kept = priced.filter((option) => option.kept);
  const free = priced.filter((option) => !option.kept);
  const size = free.length;
  const gains = Float64Array.from(free, ({ gain }) => gain);
  const grows = Uint8Array.from(free, ({ growing }) => (growing ? 1 : 0));
  const minutes = Float64Array.from(free, (option) => option.minutes);
  const meets = Int32Array.from(free, (option) => option.meets);
  const grants = Int32Array.from(free, (option) => option.grants);
  const fewest = byRarity(type.wanted, meets);
  const out = new Uint8Array(size);
  const path: number[] = [];
  const found: Found[] = [];
  /** Wishes met, and those that still may be. */
  const hope = prices.wish * type.wishes.length;
  let above = wanted.above;
  let steps = 0;

  const keep = (gain: number) => {
    const copies = [...kept, ...path.map((at) => free[at])].flatMap((option) => (option ? [option.copy] : []));
    found.push({ gain, bundle: type.bundle(type.index, copies) });
    if (found.length > wanted.most * 2) {
      found.sort((one, other) => other.gain - one.gain);
      found.length = wanted.most;
      above = Math.max(above, found.at(-1)?.gain ?? above);
    }
  };

  /** The most that `slots` more copies from this place on could gain; those before it are decided. */
  const mostFrom = (from: number, slots: number) => {
    let sum = 0;
    for (let at = from; at < size && slots > 0; at++) {
      if (out[at]) continue;
      const gain = gains[at] ?? 0;
      if (gain <= 0) break;
      sum += gain;
      slots--;
    }
    return sum;
  };

  const search = (
    unmet: number,
    granted: number,
    left: number,
    time: number,
    gain: number,
    growing: number,
    from: number,
  ) => {
    if (++steps > mostSteps) return;
    if (gain + hope + mostFrom(unmet === 0 ? from : 0, left) <= above) return;
    if (growing + left < wanted.growing) return;
    if (unmet !== 0) {
      if (left === 0) return;
      const bit = fewest.find((one) => (unmet & one) !== 0) ?? 0;
      const tried: number[] = [];
      for (let at = 0; at < size; at++) {
        const covers = meets[at] ?? 0;
        if (out[at] || (covers & bit) === 0) continue;
        // With one place left it must meet all that is left.
        if (left === 1 && (unmet & ~covers) !== 0) continue;
        take(at, unmet, granted, left, time, gain, growing, 0);
        out[at] = 1;
        tried.push(at);
      }
      for (const at of tried) out[at] = 0;
      return;
    }
    const total = gain + prices.wish * ones(granted);
    if (path.length + kept.length >= type.least && growing >= wanted.growing && total > above) keep(total);
    if (left === 0) return;
    for (let at = from; at < size; at++) {
      if (!out[at]) take(at, 0, granted, left, time, gain, growing, at + 1);
    }
  };

  const take = (
    at: number,
    unmet: number,
    granted: number,
    left: number,
    time: number,
    gain: number,
    growing: number,
    from: number,
  ) => {
    const spent = minutes[at] ?? 0;
    if (spent > time) return;
    const before = out[at] ?? 0;
    out[at] = 1;
    path.push(at);
    search(
      unmet & ~(meets[at] ?? 0),
      granted | (grants[at] ?? 0),
      left - 1,
      time - spent,
      gain + (gains[at] ?? 0),
      growing + (grows[at] ?? 0),
      from,
    );
    path.pop();
    out[at] = before;
  };

  search(
    kept.reduce((mask, option) => mask & ~option.meets, type.wanted),
    kept.reduce((mask, option) => mask | option.grants, 0),
    type.most - kept.length,
    kept.reduce((time, option) => time - option.minutes, type.minutes),
    kept.reduce((sum, { gain }) => sum + gain, 0),
    kept.filter((option) => option.growing).length,
    0,
  );
  if (steps > mostSteps) return null;
  found.sort((one, other) => other.gain - one.gain);
  return found.slice(0, wanted.most);
}

/** What a bundle gains at these prices. */
export function gainOf(bundle: Bundle, prices: Prices): number {
  const paid = bundle.copies.reduce((sum, { id }) => sum + (prices.copies.get(id) ?? 0), 0);
  return prices.worth * bundle.worth + prices.wish * bundle.wishes - paid;
}

/** Bits of what is wanted, those that fewest copies meet first: they leave the fewest ways. */
function byRarity(wanted: number, meets: Int32Array): readonly number[] {
  const bits = Array.from({ length: mostBits }, (_, bit) => 1 << bit).filter((bit) => (wanted & bit) !== 0);
  const many = (bit: number) => meets.reduce((sum, mask) => sum + ((mask & bit) !== 0 ? 1 : 0), 0);
  return bits.toSorted((one, other) => many(one) - many(other));
}

function ones(mask: number): number {
  let [rest, count] = [mask, 0];
  while (rest !== 0) {
    rest &= rest - 1;
    count++;
  }
  return count;
}
