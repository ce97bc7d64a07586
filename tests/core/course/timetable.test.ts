import * as fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { levels } from '../../../core/book/book.ts';
import { courseLoads } from '../../../core/course/loads.ts';
import {
  attentionFor,
  type CourseFrame,
  type CourseTask,
  type CourseWork,
  courseWeek,
  type Demonstration,
} from '../../../core/course/timetable.ts';
import type { Result } from '../../../core/result.ts';
import type { BenchTool } from '../../../core/schedule/bench-week.ts';
import { build } from '../../../core/schedule/build.ts';
import { check } from '../../../core/schedule/check.ts';
import type { Placed } from '../../../core/schedule/problem.ts';
import { type Chance, chanceFrom } from '../../../core/schedule/random.ts';
import { operations } from '../../../core/treatment/library.ts';
import { measuresOf } from '../../../core/treatment/measures.ts';
import { stepOf } from '../../../core/treatment/operation.ts';
import { toolKinds } from '../../../core/treatment/treatment.ts';
import { book } from '../treatment/books.ts';

const day = 1440;
const sittings = (first: number, days: number) =>
  Array.from({ length: days }, (_, index) => (first + index) * day).flatMap((midnight) => [
    { from: midnight + 555, to: midnight + 750 },
    { from: midnight + 810, to: midnight + 1020 },
  ]);

function frame(days: number, more: Partial<CourseFrame> = {}): CourseFrame {
  const teaching = sittings(0, days + 60);
  const end = (days - 1) * day + 1020;
  return {
    teaching,
    days: Array.from({ length: days }, (_, index) => index * day + 555),
    end,
    now: 0,
    tutors: 1,
    helpers: 1,
    benches: 99,
    ...more,
  };
}

const allTools: readonly BenchTool[] = toolKinds.map((kind) => ({ id: `the ${kind}`, kind, name: kind, capacity: 2 }));
const measures = measuresOf(book());

function randomCourse(chance: Chance) {
  const pick = <Item>(from: readonly Item[]): Item => from[Math.floor(chance() * from.length)] as Item;
  const people = Array.from({ length: 1 + Math.floor(chance() * 6) }, (_, index) => ({
    id: `p${index}`,
    name: `Person ${index}`,
    level: pick(levels),
  }));
  const works = people.flatMap(({ id, name, level }): CourseWork[] =>
    Array.from({ length: 1 + Math.floor(chance() * 2) }, (_, copy) => ({
      personId: id,
      name,
      level,
      copyId: `${id} copy ${copy}`,
      title: `Copy ${copy}`,
      steps: operations
        .filter(() => chance() < 0.12)
        .map((operation) => stepOf(operation, measures, 2, 'for the test', { cautions: [], needs: [] })),
    })),
  );
  const demonstrations = operations
    .filter(() => chance() < 0.3)
    .map(({ id, name }): Demonstration => ({ operationId: id, name, minutes: Math.floor(chance() * 60) }));
  return { people, works: works.filter(({ steps }) => steps.length > 0), demonstrations };
}

function got<T>(result: Result<T>): T {
  if (!result.ok) throw new Error(result.refusal.sentence);
  return result.value;
}

/** Minutes a task is worked at, as [from, to). */
const overlap = (one: Placed, other: Placed) =>
  one.pieces.some((a) => other.pieces.some((b) => a.from < b.to && b.from < a.to));

describe('a course week', () => {
  test('in any random course nobody is in two places, no tool over its places, no first use before its demonstration, no risky step without the tutor (40 courses)', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1e6 }), fc.integer({ min: 2, max: 6 }), (seed, days) => {
        const { people, works, demonstrations } = randomCourse(chanceFrom(seed));
        if (works.length === 0) return;
        const { problem, tasks } = got(courseWeek(frame(days), people, works, demonstrations, allTools));
        const plan = got(build(problem));
        expect(check(problem, plan)).toEqual([]);

        // And once more from what the tasks mean, with nothing of the problem.
        const placed = new Map(plan.placed.map((one) => [one.task, one]));
        const at = (task: CourseTask) => placed.get(task.task) as Placed;
        const hands = tasks.filter(({ kind }) => kind === 'hands');
        const shown = tasks.filter(({ kind }) => kind === 'demonstration');
        for (const [index, one] of hands.entries()) {
          for (const other of hands.slice(index + 1)) {
            if (one.personId === other.personId) expect(overlap(at(one), at(other))).toBe(false);
          }
          for (const demonstration of shown) {
            expect(overlap(at(one), at(demonstration))).toBe(false);
            if (demonstration.operationId === one.operationId) {
              expect(at(demonstration).out).toBeLessThanOrEqual(at(one).start);
            }
          }
        }
        const besides = hands.filter((task) => {
          const work = works.find(({ copyId }) => copyId === task.copyId);
          const step = work?.steps.find(({ operationId }) => operationId === task.operationId);
          return work && step && attentionFor(step, work.level) === 'beside';
        });
        for (const [index, one] of besides.entries()) {
          for (const other of [...besides.slice(index + 1), ...shown]) expect(overlap(at(one), at(other))).toBe(false);
        }
      }),
      { numRuns: 40, seed: 3 },
    );
  }, 30_000);

  test('no more than an hour and a half is shown in a day while there are days', () => {
    const [first] = operations;
    if (!first) throw new Error('there are operations');
    const people = [{ id: 'a', name: 'Ada', level: 'journeyman' as const }];
    const taught = operations.slice(0, 6);
    const steps = taught.map((one) => stepOf(one, measures, 1, '', { cautions: [], needs: [] }));
    const works = [{ personId: 'a', name: 'Ada', level: 'journeyman' as const, copyId: 'c', title: 'C', steps }];
    const demonstrations = taught.map(({ id, name }) => ({ operationId: id, name, minutes: 40 }));
    const { problem } = got(courseWeek(frame(6), people, works, demonstrations, allTools));
    const releases = problem.tasks.filter(({ id }) => id.startsWith('demonstration')).map(({ release }) => release);
    expect(releases).toEqual([555, 555, day + 555, day + 555, 2 * day + 555, 2 * day + 555]);
  });

  test('says what is missing: a tool, a tutor, hours, copies', () => {
    const { people, works } = randomCourse(chanceFrom(5));
    const refused = (given: Parameters<typeof courseWeek>) => {
      const result = courseWeek(...given);
      return result.ok ? '' : result.refusal.sentence;
    };
    const withoutShear = allTools.filter(({ kind }) => kind !== 'weights');
    expect(refused([frame(6), people, works, [], withoutShear])).toMatch(/needs weights, and the workshop has none/);
    expect(refused([frame(6, { tutors: 0 }), people, works, [], allTools])).toMatch(/at least one tutor/);
    expect(refused([frame(6, { teaching: [] }), people, works, [], allTools])).toMatch(/no teaching hours/);
    expect(refused([frame(6), people, [], [], allTools])).toMatch(/Nobody has a copy/);
  });

  test('loads count a tutor whole beside and a quarter near by, hand tools by day and presses by night as well', () => {
    const find = (attention: string, tool: string) =>
      operations.find((one) => one.attention === attention && one.tools.some((kind) => kind === tool));
    const recase = find('nearby', 'nipping press');
    if (!recase) throw new Error('recasing is pressed with a tutor near');
    const step = {
      ...stepOf(recase, measures, 1, '', { cautions: [], needs: [] }),
      minutes: { low: 30, likely: 40, high: 60 },
    };
    const work = { personId: 'a', name: 'A', level: 'journeyman' as const, copyId: 'c', title: 'C', steps: [step] };
    const loads = courseLoads(frame(2), [work], [{ operationId: 'other', name: '', minutes: 90 }], allTools);
    const open = 2 * (195 + 210);
    const of = (what: string) => loads.find((load) => load.what === what);
    expect(of('tutors and helpers together')).toMatchObject({ wanted: 10, there: 2 * open });
    expect(of('tutor standing beside or demonstrating')).toMatchObject({ wanted: 0, there: open });
    expect(of('nipping press')).toMatchObject({
      wanted: 40 + (step.wait?.minutes ?? 0),
      there: 2 * (day + 1020 - 555),
    });
  });
});
