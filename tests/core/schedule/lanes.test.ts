import * as fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { drawLanes, instantAt, type LaneTask, stepOpen, timeScale } from '../../../core/schedule/lanes.ts';

const hour = 3_600_000;
const monday = { from: 9 * hour, to: 17 * hour };
const tuesday = { from: 33 * hour, to: 41 * hour };
const range = { from: 0, to: 48 * hour };

describe('the picture of a week', () => {
  test('time runs from left to right and fills the width', () => {
    const x = timeScale([monday, tuesday], range, 1000);
    fc.assert(
      fc.property(fc.integer({ min: -hour, max: 50 * hour }), fc.integer({ min: 1, max: hour }), (at, step) => {
        expect(x(at + step)).toBeGreaterThanOrEqual(x(at));
      }),
      { seed: 7, numRuns: 300 },
    );
    expect(x(range.from)).toBe(0);
    expect(x(range.to)).toBe(1000);
  });

  test('an open hour is drawn twenty-four times as wide as a closed one', () => {
    const x = timeScale([monday, tuesday], range, 1000);
    const open = x(10 * hour) - x(9 * hour);
    const closed = x(20 * hour) - x(19 * hour);
    expect(open / closed).toBeCloseTo(24, 6);
  });

  test('a place on the picture gives back the instant drawn there, to the millisecond before it', () => {
    const windows = [monday, tuesday];
    const x = timeScale(windows, range, 1000);
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 48 * hour - 1 }), (at) => {
        expect(Math.abs(instantAt(windows, range, 1000, x(at)) - at)).toBeLessThanOrEqual(1);
      }),
      { seed: 5, numRuns: 200 },
    );
  });

  test('steps of open minutes pass over the night both ways, and stay where the hours end', () => {
    const windows = [monday, tuesday];
    const quarter = hour / 4;
    expect(stepOpen(windows, 16.75 * hour, 30)).toBe(33.25 * hour);
    expect(stepOpen(windows, 33.25 * hour, -30)).toBe(17 * hour - quarter);
    expect(stepOpen(windows, 20 * hour, 15)).toBe(33 * hour + quarter);
    expect(stepOpen(windows, 40.9 * hour, 30)).toBe(40.9 * hour);
    expect(stepOpen(windows, 9 * hour, -15)).toBe(9 * hour);
  });

  test('what may last longer fades on behind its bar, and what is sure does not', () => {
    const task = (id: string, likelyUntil: number | null): LaneTask => ({
      id,
      lane: 'book',
      kind: 'hands',
      startAt: 10 * hour,
      endAt: 11 * hour,
      heldUntil: null,
      likelyUntil,
    });
    const drawing = drawLanes(
      [task('a', 13 * hour), task('b', 10.5 * hour), task('c', null)],
      ['book'],
      [monday],
      range,
      1000,
      [],
    );
    const x = timeScale([monday], range, 1000);
    const fades = new Map(drawing.bars.map((bar) => [bar.id, bar.fadeWidth]));
    expect(fades.get('a')).toBeCloseTo(x(13 * hour) - x(11 * hour), 9);
    expect(fades.get('b')).toBe(0);
    expect(fades.get('c')).toBe(0);
  });

  test('a week without open hours still has a scale', () => {
    const x = timeScale([], range, 480);
    expect(x(24 * hour)).toBeCloseTo(240, 6);
  });

  test('two books in one press at once lie in rows of their own, and a held press stays taken', () => {
    const pressing = (id: string, start: number, end: number, held: number): LaneTask => ({
      id,
      lane: 'press',
      kind: 'pressing',
      startAt: start * hour,
      endAt: end * hour,
      heldUntil: held * hour,
    });
    const drawing = drawLanes(
      [pressing('a', 10, 12, 12), pressing('b', 11, 13, 33), pressing('c', 12, 14, 14), pressing('d', 20, 21, 33)],
      ['press'],
      [monday, tuesday],
      range,
      1000,
      [0, 24 * hour],
    );
    const row = new Map(drawing.bars.map((bar) => [bar.id, bar.row]));
    expect(row.get('a')).toBe(0);
    expect(row.get('b')).toBe(1);
    expect(row.get('c'), 'a is out, so c may take its row').toBe(0);
    expect(row.get('d'), 'b still holds its row overnight').toBe(0);
    expect(drawing.bars.find((bar) => bar.id === 'b')!.heldWidth).toBeGreaterThan(0);
    expect(drawing.rows).toBe(2);
  });

  test('bars never overlap within a row, whatever the tasks', () => {
    const task = fc.record({
      start: fc.integer({ min: 0, max: 40 }),
      length: fc.integer({ min: 1, max: 8 }),
      held: fc.integer({ min: 0, max: 6 }),
    });
    fc.assert(
      fc.property(fc.array(task, { maxLength: 40 }), (tasks) => {
        const laneTasks = tasks.map(
          (t, index): LaneTask => ({
            id: String(index),
            lane: index % 2 ? 'one' : 'two',
            kind: 'pressing',
            startAt: t.start * hour,
            endAt: (t.start + t.length) * hour,
            heldUntil: (t.start + t.length + t.held) * hour,
          }),
        );
        const drawing = drawLanes(laneTasks, ['one', 'two'], [monday, tuesday], range, 1000, []);
        expect(drawing.bars).toHaveLength(tasks.length);
        const byRow = Map.groupBy(drawing.bars, (bar) => bar.row);
        for (const bars of byRow.values()) {
          const ordered = bars.toSorted((a, b) => a.x - b.x || a.width - b.width);
          for (const [index, bar] of ordered.slice(1).entries()) {
            const before = ordered[index]!;
            expect(bar.x).toBeGreaterThanOrEqual(before.x + before.width + before.heldWidth - 1e-6);
          }
        }
      }),
      { seed: 11, numRuns: 200 },
    );
  });
});
