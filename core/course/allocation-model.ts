/**
 * The allocation as a mixed-integer program: a column for each pair that may be, and rows that can be switched off or bent one need at a
 * time, so that a course that cannot be says which of its needs are in each other's way.
 */

import { type Level, levels } from '../book/book.ts';
import { draftModel, noLimit } from '../optimise/mip.ts';
import type { Learner, PairRule, PracticeCopy } from './eligible.ts';
import { whyNot } from './eligible.ts';
import type { OwnNames } from './names.ts';
import { learnerMinutes } from './pace.ts';

export type AllocationProblem = Readonly<{
  learners: readonly Learner[];
  copies: readonly PracticeCopy[];
  /** Operations everybody must meet. */
  required: readonly string[];
  /** Operations of the syllabus, required or not: what a copy is good for. */
  syllabus: readonly string[];
  /** Copies each person works on, at least and at most. */
  copiesEach: readonly [number, number];
  /** Copies kept back for accidents. */
  spares: number;
  rules: readonly PairRule[];
  /** What the workshop calls operations of its own. */
  names?: OwnNames;
}>;

/** What the course asks, in the pieces in which it can be given up. */
export type Need =
  | Readonly<{ kind: 'operation'; operationId: string; level: Level }>
  | Readonly<{ kind: 'least'; level: Level }>
  | Readonly<{ kind: 'most'; level: Level }>
  | Readonly<{ kind: 'hours'; level: Level }>
  | Readonly<{ kind: 'spares' }>
  | Readonly<{ kind: 'keep'; personId: string; copyId: string }>;

export type Pair = Readonly<{ person: Learner; copy: PracticeCopy; column: number }>;

export type AllocationDraft = ReturnType<typeof draftAllocation>;

/** All needs a problem has, each once. */
export function needsOf(problem: AllocationProblem): readonly Need[] {
  const present = levels.filter((level) => problem.learners.some((person) => person.level === level));
  return [
    ...problem.required.flatMap((operationId) =>
      present.map((level): Need => ({ kind: 'operation', operationId, level })),
    ),
    ...(problem.copiesEach[0] > 0 ? present.map((level): Need => ({ kind: 'least', level })) : []),
    ...present.map((level): Need => ({ kind: 'most', level })),
    ...present.map((level): Need => ({ kind: 'hours', level })),
    ...(problem.spares > 0 ? [{ kind: 'spares' } as const] : []),
    ...problem.rules.flatMap(({ rule, personId, copyId }): Need[] =>
      rule === 'keep' ? [{ kind: 'keep', personId, copyId }] : [],
    ),
  ];
}

/**
 * Columns and rows of these needs only. With `bent` each need may be missed at a price: `slack` tells the columns that count by how much,
 * in people, copies or hours.
 */
export function draftAllocation(problem: AllocationProblem, needs: readonly Need[], bent = false) {
  const draft = draftModel();
  /** `empty` is by how much a need is missed while nobody has anything. */
  const slack: { need: Need; column: number; empty: number }[] = [];
  /** A row of one need, with room to miss it where bending is allowed. */
  const ask = (need: Need, lower: number, upper: number, terms: readonly (readonly [number, number])[]) => {
    if (!bent) return draft.row(lower, upper, terms);
    const column = draft.column(0, noLimit, false);
    slack.push({ need, column, empty: Math.max(0, lower) });
    return draft.row(lower, upper, [...terms, [column, lower > 0 ? 1 : -1]]);
  };
  const { isForbidden } = rulesOf(problem);
  const pairs: Pair[] = [];
  for (const person of problem.learners) {
    for (const copy of problem.copies) {
      if (isForbidden(person.id, copy.id) || whyNot(person, copy) !== null) continue;
      pairs.push({ person, copy, column: draft.column(0, 1, true) });
    }
  }
  const ofPerson = Map.groupBy(pairs, (pair) => pair.person.id);
  const ofCopy = Map.groupBy(pairs, (pair) => pair.copy.id);
  for (const [, rivals] of ofCopy) draft.row(0, 1, ones(rivals));
  for (const need of needs) {
    switch (need.kind) {
      case 'operation':
        for (const person of problem.learners) {
          if (person.level !== need.level || person.excused.includes(need.operationId)) continue;
          const own = ofPerson.get(person.id) ?? [];
          ask(need, 1, noLimit, ones(own.filter(({ copy }) => copy.teaches.includes(need.operationId))));
        }
        break;
      case 'least':
        for (const own of peopleAt(problem, need.level, ofPerson)) ask(need, problem.copiesEach[0], noLimit, ones(own));
        break;
      case 'most':
        for (const own of peopleAt(problem, need.level, ofPerson)) ask(need, 0, problem.copiesEach[1], ones(own));
        break;
      case 'hours':
        for (const own of peopleAt(problem, need.level, ofPerson)) {
          const terms = own.map((pair) => [pair.column, hoursOf(pair)] as const);
          ask(need, 0, (own[0]?.person.minutes ?? 0) / 60, terms);
        }
        break;
      case 'spares':
        ask(need, 0, Math.max(0, usable(problem) - problem.spares), ones(pairs));
        break;
      case 'keep':
        ask(
          need,
          1,
          1,
          ones(pairs.filter(({ person, copy }) => person.id === need.personId && copy.id === need.copyId)),
        );
        break;
    }
  }
  return { draft, pairs, ofPerson, slack };
}

/** What a person has decided of pairs. */
export function rulesOf(problem: AllocationProblem) {
  const pairs = (rule: PairRule['rule']) =>
    new Set(problem.rules.filter((one) => one.rule === rule).map(({ personId, copyId }) => `${personId} ${copyId}`));
  const [kept, forbidden] = [pairs('keep'), pairs('never')];
  return {
    isKept: (personId: string, copyId: string) => kept.has(`${personId} ${copyId}`),
    isForbidden: (personId: string, copyId: string) => forbidden.has(`${personId} ${copyId}`),
  };
}

/** Copies that may be handed out at all. */
export function usable(problem: AllocationProblem): number {
  return problem.copies.filter((copy) => copy.blocked === null).length;
}

export function ones(pairs: readonly Pair[]): readonly (readonly [number, number])[] {
  return pairs.map(({ column }) => [column, 1] as const);
}

function hoursOf({ person, copy }: Pair): number {
  return learnerMinutes(copy.minutes, person.level) / 60;
}

function peopleAt(
  problem: AllocationProblem,
  level: Level,
  ofPerson: ReadonlyMap<string, readonly Pair[]>,
): readonly (readonly Pair[])[] {
  return problem.learners.filter((person) => person.level === level).map((person) => ofPerson.get(person.id) ?? []);
}
