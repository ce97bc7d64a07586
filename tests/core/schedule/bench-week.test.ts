import { describe, expect, test } from 'vitest';
import {
  type BenchBook,
  type BenchTool,
  benchWeek,
  nearestStart,
  weeklyHours,
} from '../../../core/schedule/bench-week.ts';
import { build } from '../../../core/schedule/build.ts';
import { openWindows } from '../../../core/schedule/calendar.ts';
import { check } from '../../../core/schedule/check.ts';
import type { Placed, Plan } from '../../../core/schedule/problem.ts';
import type { Step, ToolKind } from '../../../core/treatment/treatment.ts';

const nineToFive = Array.from({ length: 7 }, (_, day) => (day < 5 ? [[540, 1020] as const] : []));
const week = openWindows(
  { timeZone: 'Europe/London', weekly: weeklyHours(nineToFive), daysOff: [], extra: [] },
  '2026-11-30',
  21,
);
const hands = week.ok ? week.value : [];
const times = { now: 0, weekEnd: 5 * 1440 };
const press: BenchTool = { id: 'p', kind: 'nipping press', name: 'Nipping press', capacity: 1 };

function step(
  minutes: number,
  waitMinutes = 0,
  held: ToolKind | 'air' = 'nipping press',
  tools: readonly ToolKind[] = [],
): Step {
  return {
    operationId: `op-${minutes}-${waitMinutes}`,
    operationVersion: 1,
    name: 'Work',
    why: '',
    level: 'newcomer',
    minutes: { low: minutes, likely: minutes, high: minutes },
    wait: waitMinutes > 0 ? { minutes: waitMinutes, held, what: 'Pressing' } : null,
    tools,
    attention: 'none',
    needs: [],
    cautions: [],
    source: '',
  };
}

function book(bookId: string, ...steps: Step[]): BenchBook {
  return { bookId, title: bookId, weight: 1, steps };
}

function planned(books: readonly BenchBook[], tools: readonly BenchTool[] = [press]): Plan {
  const stated = benchWeek(books, tools, hands, times);
  if (!stated.ok) throw new Error(stated.refusal.sentence);
  const plan = build(stated.value.problem);
  if (!plan.ok) throw new Error(plan.refusal.sentence);
  expect(check(stated.value.problem, plan.value)).toEqual([]);
  return plan.value;
}

function placed(plan: Plan, task: string): Placed {
  const found = plan.placed.find((one) => one.task === task);
  if (!found) throw new Error(`no ${task}`);
  return found;
}

describe('the bench week', () => {
  test('another book is worked while the first one dries', () => {
    const plan = planned([book('a', step(60, 180, 'air'), step(30)), book('b', step(120))]);
    const drying = placed(plan, 'a:0:wait');
    const other = placed(plan, 'b:0');
    expect(Math.min(drying.end, other.end) - Math.max(drying.start, other.start)).toBeGreaterThan(0);
  });

  test('a book goes into the press the minute its paste is on, and one place holds one book', () => {
    const plan = planned([book('a', step(30, 120)), book('b', step(30, 120)), book('c', step(30, 120))]);
    for (const id of ['a', 'b', 'c']) expect(placed(plan, `${id}:0:wait`).start).toBe(placed(plan, `${id}:0`).end);
    const stays = ['a', 'b', 'c'].map((id) => placed(plan, `${id}:0:wait`)).sort((x, y) => x.start - y.start);
    expect(stays[1]!.start).toBeGreaterThanOrEqual(stays[0]!.out);
    expect(stays[2]!.start).toBeGreaterThanOrEqual(stays[1]!.out);
  });

  test('a press loaded at the end of the day is free again next morning, not in the night', () => {
    const plan = planned([book('a', step(480, 60))]);
    const held = placed(plan, 'a:0:wait');
    expect(held.end).toBe(1020 + 60);
    expect(held.out).toBe(1440 + 540);
  });

  test('a step longer than any stretch of hours pauses overnight instead of being impossible', () => {
    const plan = planned([book('a', step(700))]);
    expect(placed(plan, 'a:0').pieces.length).toBe(2);
  });

  test('a book in the press since before now keeps its place, and its work is not done twice', () => {
    const inPress: BenchBook = {
      ...book('a', step(60, 120), step(30)),
      underWay: { kind: 'pressing', since: 540, left: 80, tool: 'p' },
    };
    const stated = benchWeek([inPress, book('b', step(10, 30))], [press], hands, { ...times, now: 600 });
    if (!stated.ok) throw new Error(stated.refusal.sentence);
    expect(stated.value.tasks.map((task) => task.task)).not.toContain('a:0');
    const plan = build(stated.value.problem);
    if (!plan.ok) throw new Error(plan.refusal.sentence);
    expect(check(stated.value.problem, plan.value)).toEqual([]);
    expect(placed(plan.value, 'a:0:wait')).toMatchObject({ start: 540, end: 680 });
    expect(placed(plan.value, 'b:0:wait').start).toBeGreaterThanOrEqual(680);
    expect(placed(plan.value, 'a:1').start).toBeGreaterThanOrEqual(680);
  });

  test('a pinned step begins where it was put, or at the nearest minute its work finds room, and the rest goes around it', () => {
    const pinned = (at: number): BenchBook => ({
      ...book('a', step(120, 30, 'air')),
      pins: new Map([['op-120-30', { at }]]),
    });
    const plan = planned([pinned(700), book('b', step(300))]);
    expect(placed(plan, 'a:0').start).toBe(700);
    expect(placed(planned([pinned(1000)]), 'a:0').start).toBe(900);
    expect(placed(planned([pinned(1700)]), 'a:0').start).toBe(1440 + 540);
  });

  test('a step moved later goes later even where the nearest room is where it was; moved past all hours it is refused', () => {
    const moved = (pin: Readonly<{ at: number; least?: number; most?: number }>) =>
      benchWeek([{ ...book('a', step(480, 30, 'air')), pins: new Map([['op-480-30', pin]]) }], [press], hands, times);
    const later = moved({ at: 555, least: 541 });
    expect(later.ok && later.value.problem.tasks[0]?.pinned).toBe(1440 + 540);
    const earlier = moved({ at: 525, most: 539 });
    expect(earlier.ok ? '' : earlier.refusal.sentence).toContain('no room earlier');
  });

  test('the nearest start is the one that trying every minute finds', () => {
    const windows = [
      { from: 10, to: 30 },
      { from: 40, to: 45 },
      { from: 60, to: 90 },
    ];
    for (const minutes of [1, 5, 12, 25])
      for (let at = 0; at < 100; at += 3)
        for (const shape of ['whole', 'breakable'] as const) {
          const fits = (start: number) =>
            windows.some(({ from, to }) => start >= from && (shape === 'whole' ? start + minutes <= to : start < to));
          const all = Array.from({ length: 88 }, (_, k) => k + 12).filter(fits);
          const found = nearestStart(windows, { minutes, shape }, { at }, 12);
          const best = Math.min(...all.map((start) => Math.abs(start - at)));
          expect(found === null ? Number.POSITIVE_INFINITY : Math.abs(found - at)).toBe(best);
          if (found !== null) expect(fits(found)).toBe(true);
        }
  });

  test('a tool the workshop lacks is named, with the book and the step that need it', () => {
    const refused = benchWeek([book('Hymns', step(30, 60, 'standing press'))], [press], hands, times);
    expect(refused.ok).toBe(false);
    if (!refused.ok) expect(refused.refusal.sentence).toContain('standing press');
  });

  test('a tool with no places counts as none', () => {
    expect(benchWeek([book('a', step(30, 60))], [{ ...press, capacity: 0 }], hands, times).ok).toBe(false);
  });

  test('a week without open hours is refused in words', () => {
    const refused = benchWeek([book('a', step(30))], [press], [], times);
    expect(refused.ok ? '' : refused.refusal.sentence).toContain('hours');
  });
});
