/** Two ways of sharing out the same course's copies: who changes, what it wins and what it costs. */
import { type AllocationValue, allocationValue, firstDifference } from './allocation.ts';
import type { AllocationProblem } from './allocation-model.ts';

/** What is kept of an allocation beside its pairs; not proven where it was shared out by hand. */
export type KeptValue = Readonly<{ value: AllocationValue; proven: boolean; gap: number | null }>;

export type OwnedBy = Readonly<{ personId: string; copyId: string }>;

/** A copy that changes hands; null is nobody. */
export type HandedOn = Readonly<{ copyId: string; from: string | null; to: string | null }>;

export type Compared = Readonly<{
  moves: readonly HandedOn[];
  /** People whose copies differ: what they would give up and get, and which required or wished operations they would no longer or newly meet. */
  people: readonly Readonly<{
    personId: string;
    givesUp: readonly string[];
    gets: readonly string[];
    noLonger: readonly string[];
    newly: readonly string[];
  }>[];
  first: AllocationValue;
  second: AllocationValue;
  /** By the order in which the program weighs: wishes, then the worst-off, then all together. */
  better: 'first' | 'second' | 'neither';
}>;

/** Pairs of people or copies that are on the course no more count as nobody's. */
export function compareSharings(
  problem: AllocationProblem,
  first: readonly OwnedBy[],
  second: readonly OwnedBy[],
): Compared {
  const [one, other] = [chosenOf(problem, first), chosenOf(problem, second)];
  const moves = movesBetween(problem, first, second);
  const people = problem.learners.flatMap((person) => {
    const [had, has] = [one, other].map((pairs) => pairs.filter((pair) => pair.person.id === person.id));
    const [before, after] = [had ?? [], has ?? []].map((own) => own.map(({ copy }) => copy.id));
    const givesUp = (before ?? []).filter((id) => !after?.includes(id));
    const gets = (after ?? []).filter((id) => !before?.includes(id));
    if (givesUp.length + gets.length === 0) return [];
    const counts = new Set([...problem.required.filter((id) => !person.excused.includes(id)), ...person.wishes]);
    const [met, meets] = [had ?? [], has ?? []].map((own) => new Set(own.flatMap(({ copy }) => copy.teaches)));
    return [
      {
        personId: person.id,
        givesUp,
        gets,
        noLonger: [...counts].filter((id) => met?.has(id) && !meets?.has(id)),
        newly: [...counts].filter((id) => !met?.has(id) && meets?.has(id)),
      },
    ];
  });
  const [was, is] = [allocationValue(problem, one), allocationValue(problem, other)];
  const difference = firstDifference(was, is);
  return { moves, people, first: was, second: is, better: betterBy(difference) };
}

function betterBy(difference: number): Compared['better'] {
  return difference > 0 ? 'first' : difference < 0 ? 'second' : 'neither';
}

/** Copies of the problem whose owner differs, in the order of the problem. */
export function movesBetween(
  problem: AllocationProblem,
  first: readonly OwnedBy[],
  second: readonly OwnedBy[],
): readonly HandedOn[] {
  const there = new Set(problem.learners.map(({ id }) => id));
  const owners = (pairs: readonly OwnedBy[]) => new Map(pairs.map(({ personId, copyId }) => [copyId, personId]));
  const [before, after] = [owners(first), owners(second)];
  const present = (id: string | undefined) => (id !== undefined && there.has(id) ? id : null);
  return problem.copies.flatMap(({ id }) => {
    const [from, to] = [present(before.get(id)), present(after.get(id))];
    return from === to ? [] : [{ copyId: id, from, to }];
  });
}

/** The people and copies that pairs name, of those that are on the course. */
export function chosenOf(problem: AllocationProblem, pairs: readonly OwnedBy[]) {
  const people = new Map(problem.learners.map((person) => [person.id, person]));
  const copies = new Map(problem.copies.map((copy) => [copy.id, copy]));
  return pairs.flatMap(({ personId, copyId }) => {
    const [person, copy] = [people.get(personId), copies.get(copyId)];
    return person && copy ? [{ person, copy }] : [];
  });
}
