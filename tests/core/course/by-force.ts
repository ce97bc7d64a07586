/** Sharings of small courses by trying every one, by the rules of the house written down once more in their plainest form. */
import { levels } from '../../../core/book/book.ts';
import type { AllocationProblem, Need } from '../../../core/course/allocation-model.ts';
import type { Learner, PracticeCopy } from '../../../core/course/eligible.ts';
import { learnerMinutes } from '../../../core/course/pace.ts';
import { chanceFrom } from '../../../core/schedule/random.ts';
import { inventedCourse } from './invented.ts';

/** Whose each copy is, by place; null for nobody's. */
export type Sharing = readonly (number | null)[];

export const rank = (level: Learner['level']) => levels.indexOf(level);

export function allowed(person: Learner, copy: PracticeCopy): boolean {
  return (
    copy.blocked === null &&
    rank(copy.level) - rank(person.level) < 2 &&
    learnerMinutes(copy.minutes, person.level) <= person.minutes &&
    !person.allergies.some((allergy) => copy.touches.includes(allergy))
  );
}

export function meets(problem: AllocationProblem, needs: readonly Need[], sharing: Sharing): boolean {
  const own = problem.learners.map((_, index) => problem.copies.filter((_, place) => sharing[place] === index));
  return needs.every((need) => {
    if (need.kind === 'spares') {
      const kept = problem.copies.filter((copy, place) => copy.blocked === null && sharing[place] === null).length;
      return kept >= problem.spares;
    }
    if (need.kind === 'keep') {
      const place = problem.copies.findIndex(({ id }) => id === need.copyId);
      return sharing[place] === problem.learners.findIndex(({ id }) => id === need.personId);
    }
    return problem.learners.every((person, index) => {
      if (person.level !== need.level) return true;
      const copies = own[index] ?? [];
      switch (need.kind) {
        case 'operation':
          return person.excused.includes(need.operationId) || copies.some((c) => c.teaches.includes(need.operationId));
        case 'least':
          return copies.length >= problem.copiesEach[0];
        case 'most':
          return copies.length <= problem.copiesEach[1];
        default:
          return copies.reduce((all, copy) => all + learnerMinutes(copy.minutes, person.level), 0) <= person.minutes;
      }
    });
  });
}

export function* sharings(problem: AllocationProblem, place = 0): Generator<(number | null)[]> {
  const copy = problem.copies[place];
  if (!copy) {
    yield [];
    return;
  }
  const takers = [null, ...problem.learners.keys()].filter((taker) => {
    const person = taker === null ? null : problem.learners[taker];
    return !person || allowed(person, copy);
  });
  for (const rest of sharings(problem, place + 1)) for (const taker of takers) yield [taker, ...rest];
}

export const fit = [0, 2, 6, 4];
/** Wishes, worst, total: as the engine promises them, counted anew. */
export function worthOf(problem: AllocationProblem, sharing: Sharing): readonly [number, number, number] {
  let [wishes, worst, total] = [0, Number.POSITIVE_INFINITY, 0];
  for (const [index, person] of problem.learners.entries()) {
    const own = problem.copies.filter((_, place) => sharing[place] === index);
    const above = own.map((copy) => rank(copy.level) - rank(person.level));
    wishes += person.wishes.filter((wish) => own.some((copy) => copy.teaches.includes(wish))).length;
    worst = Math.min(worst, above.filter((levelsAbove) => levelsAbove >= 0).length);
    for (const levelsAbove of above) total += fit[levelsAbove + 2] ?? 0;
    for (const copy of own) total += copy.teaches.filter((id) => problem.syllabus.includes(id)).length;
  }
  return [wishes, worst, total];
}

export const small = (seed: number) => {
  const chance = chanceFrom(seed);
  const people = 1 + Math.floor(chance() * 3);
  const size = { people, copies: 3 + Math.floor(chance() * 4), operations: 1 + Math.floor(chance() * 3) };
  const least = Math.floor(chance() * 2);
  const problem = inventedCourse(
    { ...size, copiesEach: [least, least + 1 + Math.floor(chance() * 2)], spares: Math.floor(chance() * 2) },
    chance,
  );
  const [learner, copy] = [problem.learners[0], problem.copies[0]];
  const isKept = chance() < 0.2 && learner && copy && allowed(learner, copy);
  return isKept ? { ...problem, rules: [{ personId: learner.id, copyId: copy.id, rule: 'keep' } as const] } : problem;
};
