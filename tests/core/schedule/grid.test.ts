import { describe, expect, test } from 'vitest';
import { compile } from '../../../core/schedule/compile.ts';
import { makeDecoder } from '../../../core/schedule/decode.ts';
import { emptySchedule } from '../../../core/schedule/fit.ts';
import { isTextbook, makeGrids } from '../../../core/schedule/grid.ts';
import { orderByRule, rules } from '../../../core/schedule/orders.ts';
import { makePacker } from '../../../core/schedule/packing.ts';
import { chanceFrom } from '../../../core/schedule/random.ts';
import { randomProblem, randomTextbook } from './problems.ts';

describe('the grid', () => {
  test('places tasks exactly as the decoder for calendars does (60 projects of 1 to 9 resources, seeds 1 to 60)', () => {
    for (let seed = 1; seed <= 60; seed++) {
      const compiled = compile(randomTextbook(seed, { tasks: 30, resources: 1 + (seed % 9), longest: 6 }));
      expect(isTextbook(compiled)).toBe(true);
      const decoder = makeDecoder(compiled);
      if ('task' in decoder) throw new Error('nothing is pinned');
      const [schedule, start] = [emptySchedule(compiled), new Int32Array(compiled.count)];
      const [forward] = makeGrids(compiled);
      for (const rule of rules) {
        const order = orderByRule(compiled, rule);
        decoder.forward(order, schedule);
        const tasks = order.map((item) => compiled.items[item]![0]!);
        const length = forward.decode(tasks, start);
        expect(
          start.map((at) => at * forward.grain),
          `seed ${seed}`,
        ).toEqual(schedule.start);
        expect(length * forward.grain).toBe(schedule.out.reduce((latest, out) => Math.max(latest, out)));
      }
    }
  });

  test('packs into schedules that keep precedence and capacity, in both directions (40 projects, seeds 1 to 40)', () => {
    for (let seed = 1; seed <= 40; seed++) {
      const problem = randomTextbook(seed, { tasks: 25, resources: 1 + (seed % 6), longest: 6 });
      const compiled = compile(problem);
      const chance = chanceFrom(seed);
      for (const grid of makeGrids(compiled)) {
        const start = new Int32Array(grid.count);
        const pack = makePacker(grid, new Float64Array(grid.count).fill(0.5), chance);
        const length = pack(
          Float64Array.from({ length: grid.count }, () => 20 * chance()),
          { tries: 6, urgency: 8, shuffle: 6 },
          start,
        );
        const end = (task: number) => start[task]! + grid.minutes[task]!;
        for (let task = 0; task < grid.count; task++) {
          expect(end(task)).toBeLessThanOrEqual(length);
          for (let a = grid.before.at[task]!; a < grid.before.at[task + 1]!; a++)
            expect(end(grid.before.task[a]!)).toBeLessThanOrEqual(start[task]!);
        }
        for (const resource of problem.resources)
          for (let minute = 0; minute < length; minute++) {
            const used = problem.tasks.reduce(
              (sum, task, k) =>
                sum +
                (start[k]! <= minute && minute < end(k)
                  ? (task.demands.find((d) => d.resource === resource.id)?.amount ?? 0)
                  : 0),
              0,
            );
            expect(used, `seed ${seed}`).toBeLessThanOrEqual(resource.capacity);
          }
      }
    }
  });

  test('is not used where calendars, weights, lags or pins matter', () => {
    const plain = randomTextbook(1, { tasks: 5, resources: 1, longest: 4 });
    const changed = (change: object) =>
      compile({ ...plain, tasks: plain.tasks.map((task, k) => (k === 4 ? { ...task, ...change } : task)) });
    for (const change of [
      { weight: 1 },
      { pinned: 30 },
      { release: 5 },
      { after: [{ task: '0', minLag: 3 }] },
      { after: [{ task: '0', minLag: 0, maxLag: 9 }] },
    ])
      expect(isTextbook(changed(change)), JSON.stringify(change)).toBe(false);
    expect(isTextbook(compile(randomProblem(1, { books: 2, steps: 2, grain: 30, days: 9 })))).toBe(false);
  });
});
