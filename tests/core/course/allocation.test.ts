import * as fc from 'fast-check';
import { beforeAll, describe, expect, test } from 'vitest';
import { type Allocated, allocate } from '../../../core/course/allocation.ts';
import { type AllocationProblem, needsOf } from '../../../core/course/allocation-model.ts';
import { shareByBundles } from '../../../core/course/bundles.ts';
import { excusedFrom, type Learner, type PracticeCopy, touchesAllergy } from '../../../core/course/eligible.ts';
import type { SolveModel } from '../../../core/optimise/mip.ts';
import { chanceFrom } from '../../../core/schedule/random.ts';
import { loadSolver } from '../../../electron/engines/highs.ts';
import { fit, meets, rank, type Sharing, sharings, small, worthOf } from './by-force.ts';
import { inventedCourse } from './invented.ts';

let solve: SolveModel;
beforeAll(async () => {
  solve = await loadSolver();
});

const patience = 30_000;
const run = (problem: AllocationProblem, seconds = 20): Promise<Allocated> =>
  allocate(problem, solve, { seconds, clock: () => performance.now() });

function bestByForce(problem: AllocationProblem): readonly number[] | null {
  const needs = needsOf(problem);
  let best: readonly number[] | null = null;
  for (const sharing of sharings(problem)) {
    if (!meets(problem, needs, sharing)) continue;
    const value = worthOf(problem, sharing);
    const at = value.findIndex((part, index) => part !== best?.[index]);
    if (best === null || (at >= 0 && (value[at] ?? 0) > (best[at] ?? 0))) best = value;
  }
  return best;
}

function sharingOf(problem: AllocationProblem, found: Extract<Allocated, { kind: 'allocated' }>): Sharing {
  const owner = new Map(found.pairs.map(({ copyId, personId }) => [copyId, personId]));
  return problem.copies.map(({ id }) => {
    const place = problem.learners.findIndex((person) => person.id === owner.get(id));
    return place < 0 ? null : place;
  });
}

describe('sharing out practice copies', () => {
  test(
    'equals trying every sharing, part by part in order, on 300 small courses (seeds 1 to 300)',
    async () => {
      let impossible = 0;
      for (let seed = 1; seed <= 300; seed++) {
        const problem = small(seed);
        const best = bestByForce(problem);
        const found = await run(problem);
        if (best === null) {
          impossible++;
          expect(found.kind, `seed ${seed}`).toBe('impossible');
          continue;
        }
        if (found.kind !== 'allocated') throw new Error(`seed ${seed}: ${found.kind}`);
        const sharing = sharingOf(problem, found);
        expect(meets(problem, needsOf(problem), sharing), `seed ${seed}`).toBe(true);
        expect(worthOf(problem, sharing), `seed ${seed}`).toEqual(best);
        expect(found).toMatchObject({ status: 'best', gap: 0 });
        expect(Object.values(found.value), `seed ${seed}`).toEqual(best);
      }
      // Both sides of the question were asked.
      expect(impossible).toBeGreaterThan(30);
      expect(impossible).toBeLessThan(270);
    },
    patience,
  );

  test(
    'what cannot be names needs that cannot be met together, though any one of them left out they could (seeds 1 to 60)',
    async () => {
      for (let seed = 1; seed <= 60; seed++) {
        const problem = small(seed);
        const found = await run(problem);
        if (found.kind !== 'impossible') continue;
        const conflict = found.shortage.conflict.map(({ need }) => need);
        expect(found.shortage.irreducible).toBe(true);
        const all = [...sharings(problem)];
        expect(all.some((sharing) => meets(problem, conflict, sharing))).toBe(false);
        for (const left of conflict) {
          const rest = conflict.filter((need) => need !== left);
          expect(
            all.some((sharing) => meets(problem, rest, sharing)),
            `seed ${seed}`,
          ).toBe(true);
        }
        expect(found.shortage.waysOut.length, `seed ${seed}`).toBeGreaterThan(0);
      }
    },
    patience,
  );

  test(
    'bundles, as weighed for big courses, reach the same and never claim a bound below it (seeds 1 to 60)',
    async () => {
      let [asked, proven] = [0, 0];
      for (let seed = 1; seed <= 60; seed++) {
        const problem = small(seed);
        const needs = needsOf(problem);
        const any = [...sharings(problem)].find((sharing) => meets(problem, needs, sharing));
        const best = bestByForce(problem);
        if (!any || !best) continue;
        const { learners, copies } = problem;
        const incumbent = any.flatMap((taker, place) => {
          const [person, copy] = [learners[taker ?? -1], copies[place]];
          return person && copy ? [{ person, copy }] : [];
        });
        const [wishes, worst] = worthOf(problem, any);
        const found = await shareByBundles({
          problem,
          incumbent,
          wishes,
          worst,
          worthOf: ({ person, copy }) =>
            (fit[rank(copy.level) - rank(person.level) + 2] ?? 0) +
            copy.teaches.filter((id) => problem.syllabus.includes(id)).length,
          solve,
          left: () => 10,
          shouldStop: () => false,
        });
        if (!found) throw new Error(`seed ${seed}: small enough for bundles`);
        asked++;
        const owner = new Map(found.pairs.map((pair) => [pair.copy.id, learners.indexOf(pair.person)]));
        const sharing = copies.map(({ id }) => owner.get(id) ?? null);
        expect(meets(problem, needs, sharing), `seed ${seed}`).toBe(true);
        const value = worthOf(problem, sharing);
        expect(found.wishBound, `seed ${seed}`).toBeGreaterThanOrEqual(best[0] ?? 0);
        if (value[0] === best[0]) expect(found.worstBound, `seed ${seed}`).toBeGreaterThanOrEqual(best[1] ?? 0);
        if (value[0] === best[0] && value[1] === best[1]) {
          expect(found.totalBound, `seed ${seed}`).toBeGreaterThanOrEqual(best[2] ?? 0);
        }
        const claimed = [found.wishBound, found.worstBound, found.totalBound];
        if (claimed.every((bound, part) => bound <= (value[part] ?? 0))) {
          expect(value, `seed ${seed}`).toEqual(best);
          proven++;
        }
      }
      expect(asked).toBeGreaterThan(20);
      expect(proven / asked).toBeGreaterThan(0.8);
    },
    patience,
  );

  test(
    'a flagged book goes to nobody and an allergy is never ignored, whatever the course (12 random ones)',
    async () => {
      await fc.assert(
        fc.asyncProperty(fc.integer({ min: 1, max: 1e6 }), async (seed) => {
          const problem = inventedCourse({ people: 4, copies: 16, operations: 4 }, chanceFrom(seed));
          const found = await run(problem, 2);
          if (found.kind !== 'allocated') return;
          for (const { personId, copyId, reason } of found.pairs) {
            const person = problem.learners.find(({ id }) => id === personId);
            const copy = problem.copies.find(({ id }) => id === copyId);
            expect(copy?.blocked).toBeNull();
            expect(person?.allergies.some((allergy) => copy?.touches.includes(allergy))).toBe(false);
            expect(reason).not.toBe('');
          }
          expect(new Set(found.pairs.map(({ copyId }) => copyId)).size).toBe(found.pairs.length);
        }),
        { numRuns: 12, seed: 2 },
      );
    },
    patience,
  );

  test('says who lacks how many copies, and the cheapest way out', async () => {
    const base = inventedCourse({ people: 0, copies: 0, operations: 2 }, chanceFrom(1));
    const person = (id: string): Learner => ({
      id,
      name: id,
      level: 'newcomer',
      minutes: 2000,
      wishes: [],
      allergies: [],
      excused: [],
    });
    const copy = (id: string, teaches: readonly string[]): PracticeCopy => ({
      id,
      title: id,
      level: 'newcomer',
      minutes: 60,
      teaches,
      touches: [],
      blocked: null,
    });
    const problem: AllocationProblem = {
      ...base,
      learners: ['Ada', 'Ben', 'Cy'].map(person),
      copies: [copy('a', base.required), copy('b', ['operation 1']), copy('c', ['operation 1'])],
      copiesEach: [1, 2],
      spares: 0,
    };
    const found = await run(problem);
    if (found.kind !== 'impossible') throw new Error('it cannot be');
    expect(found.shortage.conflict.map(({ sentence }) => sentence)).toEqual([
      'Every newcomer (3) is to meet “operation 0”; 1 copy that one of them may have teaches it.',
    ]);
    expect(found.shortage.lacks).toEqual([{ operationId: 'operation 0', level: 'newcomer', copies: 2 }]);
    expect(found.shortage.waysOut).toEqual([
      'Find 2 more copies on which a newcomer can learn “operation 0”, or let 2 people do without it.',
    ]);
  });
});

describe('allergies', () => {
  test.each([
    ['PVA', 'PVA adhesive'],
    ['pva adhesive', 'PVA adhesive'],
    ['wheat', 'wheat starch'],
    ['wheat starch paste', 'wheat starch'],
    ['Leather dust', 'leather'],
    ['nitrile', 'nitrile gloves'],
  ])('“%s” keeps from %s', (allergy, material) => {
    expect(touchesAllergy([allergy], ['Japanese tissue', material])).toBe(material);
  });

  test('words that name nothing keep from nothing, and an empty one is no allergy', () => {
    expect(touchesAllergy(['peanuts', '', ' '], ['wheat starch', 'leather'])).toBeNull();
  });

  test('a person is excused only from what cannot be done without the material', () => {
    expect(excusedFrom(['PVA'], ['tip in', 'reback in cloth', 'tighten hinges'])).toEqual([
      'reback in cloth',
      'tighten hinges',
    ]);
    expect(excusedFrom([], ['reback in cloth'])).toEqual([]);
  });
});
