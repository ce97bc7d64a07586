/**
 * Who works on which copies. First what must be: everybody meets every required operation, hours fit, nobody is given what a hazard, an
 * allergy or two levels of difficulty forbid. Then, one after the other and never at the cost of the one before: as many wishes as can be,
 * the worst-off person with as many copies to grow on as can be, and then all together, where copies at a person's own level count most.
 */
import type { Level } from '../book/book.ts';
import { gapOf, type SolveModel } from '../optimise/mip.ts';
import {
  type AllocationDraft,
  type AllocationProblem,
  draftAllocation,
  needsOf,
  ones,
  type Pair,
} from './allocation-model.ts';
import { type BundleTask, shareByBundles } from './bundles.ts';
import { growsOn, levelsAbove } from './eligible.ts';
import { quotedNames } from './names.ts';
import { learnerMinutes, oneOf } from './pace.ts';
import { findShortage, type Shortage } from './shortage.ts';

/** The parts of an allocation's value, in the order in which they are settled; more is better. */
export type AllocationValue = Readonly<{
  /** Wishes met. */
  wishes: number;
  /** Copies at their own level or above of the person who has fewest such: what the worst-off has to grow on. */
  worst: number;
  /** What all are worth together. */
  total: number;
}>;

export type AllocatedPair = Readonly<{ personId: string; copyId: string; reason: string }>;

export type Allocated =
  | Readonly<{
      kind: 'allocated';
      /** `best` is proven at every step; `good` is `gap` from the bound at the first step that is not. */
      status: 'best' | 'good';
      /** Null where the work was stopped before a bound was known. */
      gap: number | null;
      pairs: readonly AllocatedPair[];
      spareIds: readonly string[];
      value: AllocationValue;
      people: readonly Readonly<{ personId: string; minutes: number; worth: number; meets: readonly string[] }>[];
    }>
  | Readonly<{ kind: 'impossible'; shortage: Shortage }>
  | Readonly<{ kind: 'undecided'; sentence: string }>;

export type AllocationEffort = Readonly<{
  seconds: number;
  /** Milliseconds of any steady clock. */
  clock: () => number;
  /** Told at each step what is being settled, and how good the allocation is so far. */
  say?: (words: string) => void;
  shouldStop?: () => boolean;
}>;

/** Allocates, or says what the course lacks. Deterministic for given times enough to prove every step. */
export async function allocate(
  problem: AllocationProblem,
  solve: SolveModel,
  effort: AllocationEffort,
): Promise<Allocated> {
  const until = effort.clock() + effort.seconds * 1000;
  const left = () => Math.max(0.05, (until - effort.clock()) / 1000);
  const { draft, pairs, ofPerson } = draftAllocation(problem, needsOf(problem));
  const stages = stagesOf(problem, { draft, pairs, ofPerson });
  const isBig = pairs.length > mostPairsAtOnce;

  effort.say?.('A first sharing in which everything fits');
  const first = await solve(draft.model('least', new Map()), { seconds: left() * firstShare });
  if (first.status === 'infeasible') {
    effort.say?.('It cannot be; looking for what is in the way');
    return { kind: 'impossible', shortage: await findShortage(problem, solve, Math.max(5, effort.seconds)) };
  }
  if (first.values === null) {
    const sentence = 'No allocation was found in the time given, and none was ruled out. Give it longer.';
    return { kind: 'undecided', sentence };
  }
  let best = stages.reduce((values, stage) => stage.extend(values), first.values);
  const gaps: (number | null)[] = [];
  for (const [index, stage] of isBig ? [] : stages.entries()) {
    if (effort.shouldStop?.()) break;
    effort.say?.(stage.words);
    const seconds = left() / (stages.length - index);
    const start = stage.extend(best);
    const answer = await solve(draft.model('most', stage.costs), { seconds, absoluteGap: 0.999, start });
    best = answer.values ?? start;
    const reached = Math.round(valueBy(best, stage.costs));
    gaps.push(answer.status === 'optimal' ? 0 : gapOf({ objective: reached, bound: answer.bound }));
    draft.row(reached, Number.POSITIVE_INFINITY, [...stage.costs]);
  }
  const chosen = best;
  const incumbent = pairs.filter(({ column }) => (chosen[column] ?? 0) > 0.5);
  const open = gaps.findIndex((gap) => gap !== 0);
  const gap = gaps.length < stages.length ? null : open < 0 ? 0 : (gaps[open] ?? null);
  if (gap === 0 || effort.shouldStop?.()) return described(problem, incumbent, gap);
  effort.say?.('Weighing what each person could take home');
  const shouldStop = () => effort.shouldStop?.() ?? false;
  return settled(problem, incumbent, { solve, left, shouldStop });
}

/** Of the time, for finding a first sharing at all. */
const firstShare = 0.6;
/** Above so many pairs the program of single pairs proves little; bundles are weighed at once. */
const mostPairsAtOnce = 350;

type Means = Pick<BundleTask, 'solve' | 'left' | 'shouldStop'>;

/** The sharing that bundles lead to, where it is better, and what is proven of it: the gap of the first part that is not. */
async function settled(problem: AllocationProblem, incumbent: readonly Pair[], means: Means): Promise<Allocated> {
  const before = allocationValue(problem, incumbent);
  const found = await shareByBundles({
    ...means,
    problem,
    worthOf: (pair) => worthOf(problem, pair),
    incumbent,
    worst: before.worst,
    wishes: before.wishes,
  });
  if (found === null) return described(problem, incumbent, null);
  const value = allocationValue(problem, found.pairs);
  const isBetter = firstDifference(value, before) >= 0;
  const [pairs, now] = isBetter ? [found.pairs, value] : [incumbent, before];
  const gap =
    now.wishes < found.wishBound
      ? gapOf({ objective: now.wishes, bound: found.wishBound })
      : now.worst < found.worstBound
        ? gapOf({ objective: now.worst, bound: found.worstBound })
        : gapOf({ objective: now.total, bound: Math.max(now.total, found.totalBound) });
  return described(problem, pairs, gap);
}

/** Above 0 where the first part that differs is better, 0 where none differs. */
export function firstDifference(one: AllocationValue, other: AllocationValue): number {
  return one.wishes - other.wishes || one.worst - other.worst || one.total - other.total;
}

type Stage = Readonly<{
  words: string;
  costs: ReadonlyMap<number, number>;
  /** The solution with this stage's own columns filled in, to begin from. */
  extend: (values: readonly number[]) => readonly number[];
}>;

/** All columns and rows of the stages are there from the first, so that a solution of one begins the next. */
export function stagesOf(
  problem: AllocationProblem,
  { draft, pairs, ofPerson }: Pick<AllocationDraft, 'draft' | 'pairs' | 'ofPerson'>,
): readonly Stage[] {
  const total = new Map(pairs.map((pair) => [pair.column, worthOf(problem, pair)]));

  const wishes = new Map<number, number>();
  const granted: { column: number; by: readonly Pair[] }[] = [];
  for (const person of problem.learners) {
    for (const wish of new Set(person.wishes)) {
      const by = (ofPerson.get(person.id) ?? []).filter(({ copy }) => copy.teaches.includes(wish));
      if (by.length === 0) continue;
      const column = draft.column(0, 1, true);
      draft.row(0, Number.POSITIVE_INFINITY, [...ones(by), [column, -1]]);
      wishes.set(column, 1);
      granted.push({ column, by });
    }
  }

  const worst = draft.column(0, Number.POSITIVE_INFINITY, false);
  for (const person of problem.learners) {
    const own = (ofPerson.get(person.id) ?? []).filter(growsOn);
    draft.row(0, Number.POSITIVE_INFINITY, [...ones(own), [worst, -1]]);
  }
  const filled = (values: readonly number[]) => {
    const next = [...values];
    for (const { column, by } of granted) next[column] = by.some((pair) => (values[pair.column] ?? 0) > 0.5) ? 1 : 0;
    next[worst] = Math.min(
      ...problem.learners.map((person) =>
        (ofPerson.get(person.id) ?? []).filter(growsOn).reduce((sum, { column }) => sum + (values[column] ?? 0), 0),
      ),
    );
    return next;
  };
  return [
    ...(wishes.size > 0 ? [{ words: 'As many wishes as can be', costs: wishes, extend: filled } as const] : []),
    { words: 'The worst-off as well off as can be', costs: new Map([[worst, 1]]), extend: filled },
    { words: 'All together as well off as can be', costs: total, extend: filled },
  ];
}

/** Worth of a copy by how its difficulty lies to the person's: at their level, one above, one below, two below. The workshop's own rule. */
const fit: Readonly<Record<number, number>> = { 0: 6, 1: 4, [-1]: 2, [-2]: 0 };

/** The operations of the syllabus a copy teaches, and more the nearer its difficulty is to the person's. Always whole. */
function worthOf(problem: AllocationProblem, { person, copy }: Omit<Pair, 'column'>): number {
  return (fit[levelsAbove(person, copy)] ?? 0) + copy.teaches.filter((id) => problem.syllabus.includes(id)).length;
}

export function valueBy(values: readonly number[], costs: ReadonlyMap<number, number>): number {
  let sum = 0;
  for (const [column, cost] of costs) sum += cost * (values[column] ?? 0);
  return sum;
}

export function described(
  problem: AllocationProblem,
  chosen: readonly Omit<Pair, 'column'>[],
  gap: number | null,
): Allocated {
  const given = new Set(chosen.map(({ copy }) => copy.id));
  const people = problem.learners.map((person) => {
    const own = chosen.filter((pair) => pair.person.id === person.id);
    return {
      personId: person.id,
      minutes: own.reduce((sum, { copy }) => sum + learnerMinutes(copy.minutes, person.level), 0),
      worth: own.reduce((sum, pair) => sum + worthOf(problem, pair), 0),
      meets: [...new Set(own.flatMap(({ copy }) => copy.teaches))],
    };
  });
  return {
    kind: 'allocated',
    status: gap === 0 ? 'best' : 'good',
    gap,
    pairs: chosen.map((pair) => ({
      personId: pair.person.id,
      copyId: pair.copy.id,
      reason: reasonFor(problem, pair, chosen),
    })),
    spareIds: problem.copies.filter((copy) => copy.blocked === null && !given.has(copy.id)).map(({ id }) => id),
    value: allocationValue(problem, chosen),
    people,
  };
}

/** The value of any set of pairs, feasible or not. */
export function allocationValue(problem: AllocationProblem, chosen: readonly Omit<Pair, 'column'>[]): AllocationValue {
  const growing = problem.learners.map(
    ({ id }) => chosen.filter((pair) => pair.person.id === id && growsOn(pair)).length,
  );
  return {
    wishes: problem.learners.reduce((sum, person) => {
      const own = chosen.filter((pair) => pair.person.id === person.id);
      return (
        sum + [...new Set(person.wishes)].filter((wish) => own.some(({ copy }) => copy.teaches.includes(wish))).length
      );
    }, 0),
    worst: growing.length === 0 ? 0 : Math.min(...growing),
    total: chosen.reduce((sum, pair) => sum + worthOf(problem, pair), 0),
  };
}

const placeWords: Readonly<Record<number, (level: Level) => string>> = {
  0: (level) => `at the level of ${oneOf(level)}`,
  1: (level) => `one level above ${oneOf(level)}, with the tutor near`,
  [-1]: (level) => `one level below ${oneOf(level)}`,
  [-2]: (level) => `two levels below ${oneOf(level)}`,
};

/** Why this copy: what only it teaches this person, which wish it meets, how hard it is for them. */
function reasonFor(
  problem: AllocationProblem,
  { person, copy }: Omit<Pair, 'column'>,
  chosen: readonly Omit<Pair, 'column'>[],
): string {
  const others = new Set(
    chosen
      .filter((pair) => pair.person.id === person.id && pair.copy.id !== copy.id)
      .flatMap((pair) => pair.copy.teaches),
  );
  const only = problem.required.filter((id) => copy.teaches.includes(id) && !others.has(id));
  const wished = [...new Set(person.wishes)].filter((id) => copy.teaches.includes(id));
  const kept = problem.rules.some(
    ({ rule, personId, copyId }) => rule === 'keep' && personId === person.id && copyId === copy.id,
  );
  const words = [
    ...(kept ? ['kept by you'] : []),
    ...(only.length > 0 ? [`their only copy for ${quotedNames(only, problem.names)}`] : []),
    ...(wished.length > 0 ? [`meets the wish for ${quotedNames(wished, problem.names)}`] : []),
    placeWords[levelsAbove(person, copy)]?.(person.level) ?? '',
  ].filter((word) => word !== '');
  const sentence = words.join('; ');
  return `${sentence.charAt(0).toUpperCase()}${sentence.slice(1)}.`;
}
