import { beforeAll, expect, test } from 'vitest';
import { allocate } from '../../../core/course/allocation.ts';
import { type AllocationProblem, needsOf } from '../../../core/course/allocation-model.ts';
import { compareSharings, type OwnedBy } from '../../../core/course/compare.ts';
import { mendAllocation } from '../../../core/course/mend.ts';
import type { SolveModel } from '../../../core/optimise/mip.ts';
import { loadSolver } from '../../../electron/engines/highs.ts';
import { allowed, meets, type Sharing, sharings, small, worthOf } from './by-force.ts';

let solve: SolveModel;
beforeAll(async () => {
  solve = await loadSolver();
});
const effort = { seconds: 20, clock: () => performance.now() };

const ownerAt = (problem: AllocationProblem, pairs: readonly OwnedBy[], copyId: string): number | null => {
  const owner = pairs.find((pair) => pair.copyId === copyId)?.personId;
  const place = problem.learners.findIndex(({ id }) => id === owner);
  return place < 0 ? null : place;
};

/** Copies that change hands; one whose owner may not have it any more, and that nobody takes up, does not count. */
function changes(problem: AllocationProblem, was: Sharing, is: Sharing): number {
  return problem.copies.filter((copy, place) => {
    const [before, after] = [was[place] ?? null, is[place] ?? null];
    if (before === after) return false;
    const owner = before === null ? null : problem.learners[before];
    const mayKeep = owner && allowed(owner, copy) && !forbids(problem, owner.id, copy.id);
    return after !== null || mayKeep === true;
  }).length;
}
const forbids = (problem: AllocationProblem, personId: string, copyId: string) =>
  problem.rules.some((rule) => rule.rule === 'never' && rule.personId === personId && rule.copyId === copyId);

/** What may happen to a course that was shared out: a person goes, a copy is spoilt, a pair is ruled out. */
function trouble(problem: AllocationProblem, pairs: readonly OwnedBy[], kind: number): AllocationProblem | null {
  const [first, second] = pairs;
  if (!first) return null;
  if (kind === 0) {
    const learners = problem.learners.filter(({ id }) => id !== first.personId);
    const rules = problem.rules.filter((rule) => rule.personId !== first.personId);
    return learners.length === 0 ? null : { ...problem, learners, rules };
  }
  if (kind === 1) {
    const copies = problem.copies.map((copy) => (copy.id === first.copyId ? { ...copy, blocked: 'Spoilt.' } : copy));
    return { ...problem, copies, rules: problem.rules.filter((rule) => rule.copyId !== first.copyId) };
  }
  const gone = second ?? first;
  const rules = problem.rules.filter((rule) => rule.copyId !== gone.copyId);
  return { ...problem, rules: [...rules, { ...gone, rule: 'never' }] };
}

test('putting an allocation right equals trying every sharing: fewest changes first, then wishes, worst-off, total (seeds 1 to 60)', async () => {
  let [mended, impossible, moved] = [0, 0, 0];
  for (let seed = 1; seed <= 60; seed++) {
    const base = small(seed);
    const found = await allocate(base, solve, effort);
    if (found.kind !== 'allocated') continue;
    const problem = trouble(base, found.pairs, seed % 3);
    if (!problem) continue;
    const was = problem.copies.map(({ id }) => ownerAt(problem, found.pairs, id));
    // What is begun stays where it may.
    const begun = found.pairs.slice(-1).filter(({ personId, copyId }) => {
      const [person, copy] = [
        problem.learners.find(({ id }) => id === personId),
        problem.copies.find(({ id }) => id === copyId),
      ];
      return person && copy && allowed(person, copy) && !forbids(problem, personId, copyId);
    });
    const held = {
      ...problem,
      rules: [...problem.rules, ...begun.map((pair) => ({ ...pair, rule: 'keep' as const }))],
    };
    let best: readonly number[] | null = null;
    for (const sharing of sharings(problem)) {
      if (!meets(held, needsOf(held), sharing)) continue;
      const never = sharing.some((taker, place) => {
        const [person, copy] = [problem.learners[taker ?? -1], problem.copies[place]];
        return person && copy && forbids(problem, person.id, copy.id);
      });
      if (never) continue;
      const value = [-changes(problem, was, sharing), ...worthOf(problem, sharing)];
      const at = value.findIndex((part, index) => part !== best?.[index]);
      if (best === null || (at >= 0 && (value[at] ?? 0) > (best[at] ?? 0))) best = value;
    }
    const answer = await mendAllocation(problem, found.pairs, begun, solve, effort);
    if (best === null) {
      impossible++;
      expect(answer.kind, `seed ${seed}`).toBe('impossible');
      continue;
    }
    if (answer.kind !== 'mended') throw new Error(`seed ${seed}: ${answer.kind}`);
    mended++;
    const is = problem.copies.map(({ id }) => ownerAt(problem, answer.allocation.pairs, id));
    expect(meets(held, needsOf(held), is), `seed ${seed}`).toBe(true);
    expect([-changes(problem, was, is), ...worthOf(problem, is)], `seed ${seed}`).toEqual(best);
    expect(answer.proven).toBe(true);
    for (const { copyId, personId } of begun) {
      expect(answer.allocation.pairs.find((pair) => pair.copyId === copyId)?.personId).toBe(personId);
    }
    const told = answer.changes.map(({ copyId, from, to }) => [copyId, from, to]);
    const seen = problem.copies.flatMap(({ id }, place) =>
      was[place] === is[place]
        ? []
        : [[id, ...[was[place], is[place]].map((owner) => problem.learners[owner ?? -1]?.id ?? null)]],
    );
    expect(told, `seed ${seed}`).toEqual(seen);
    moved += seen.length;
  }
  expect(mended).toBeGreaterThan(9);
  expect(impossible).toBeGreaterThan(3);
  expect(moved).toBeGreaterThan(10);
}, 30_000);

test('of two allocations it is said who changes, what is newly met and no longer, and which is better', () => {
  const [ada, ben] = ['Ada', 'Ben'].map((id) => ({
    id,
    name: id,
    level: 'newcomer' as const,
    minutes: 900,
    wishes: id === 'Ada' ? ['sew'] : [],
    allergies: [],
    excused: [],
  }));
  const copy = (id: string, teaches: readonly string[]) => ({
    id,
    title: id,
    level: 'newcomer' as const,
    minutes: 60,
    teaches,
    touches: [],
    blocked: null,
  });
  if (!ada || !ben) throw new Error('there are two');
  const problem: AllocationProblem = {
    learners: [ada, ben],
    copies: [copy('a', ['clean']), copy('b', ['clean', 'sew']), copy('c', ['sew'])],
    required: ['clean'],
    syllabus: ['clean', 'sew'],
    copiesEach: [1, 2],
    spares: 0,
    rules: [],
  };
  const first = [
    { personId: 'Ada', copyId: 'a' },
    { personId: 'Ben', copyId: 'b' },
    { personId: 'somebody who left', copyId: 'c' },
  ];
  const second = [
    { personId: 'Ada', copyId: 'b' },
    { personId: 'Ben', copyId: 'c' },
  ];
  expect(compareSharings(problem, first, second)).toMatchObject({
    moves: [
      { copyId: 'a', from: 'Ada', to: null },
      { copyId: 'b', from: 'Ben', to: 'Ada' },
      { copyId: 'c', from: null, to: 'Ben' },
    ],
    people: [
      { personId: 'Ada', givesUp: ['a'], gets: ['b'], noLonger: [], newly: ['sew'] },
      { personId: 'Ben', givesUp: ['b'], gets: ['c'], noLonger: ['clean'], newly: [] },
    ],
    first: { wishes: 0 },
    second: { wishes: 1 },
    better: 'second',
  });
  expect(compareSharings(problem, first, first)).toMatchObject({ moves: [], people: [], better: 'neither' });
});
