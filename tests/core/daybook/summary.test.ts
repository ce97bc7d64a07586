import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  byBook,
  byMaterial,
  estimatesAgainstActuals,
  minutesByDay,
  minutesByOperation,
  type TimeRow,
  type UseRow,
} from '../../../core/daybook/summary.ts';

const time = (minutes: number, given: Partial<TimeRow> = {}): TimeRow => ({
  ...{ day: '2026-05-04', bookId: 'b', book: 'Ferns of the North Combe', operation: 'Reback', minutes },
  ...{ isAnswer: minutes < 0, ...given },
});

const use = (quantity: number, costMinor: number, given: Partial<UseRow> = {}): UseRow => ({
  ...{ bookId: 'b', book: 'Ferns of the North Combe', materialId: 'm', material: 'Mull', unit: 'm', wasted: false },
  ...{ quantity, costMinor, ...given },
});

test('an entry and the one that takes it back count as if neither had been written', () => {
  const rows = [time(30), time(45), time(-45)];
  expect(minutesByOperation(rows)).toEqual([{ operation: 'Reback', minutes: 30, times: 1 }]);
  expect(minutesByOperation([time(45), time(-45)])).toEqual([]);
});

test('minutes by operation, by day and by book all add up to the minutes written (seed 51)', () => {
  const row = fc.record({
    minutes: fc.integer({ min: 1, max: 300 }),
    operation: fc.option(fc.constantFrom('Reback', 'Guard folds')),
    bookId: fc.option(fc.constantFrom('b', 'c')),
    day: fc.constantFrom('2026-05-04', '2026-05-05'),
  });
  fc.assert(
    fc.property(fc.array(row, { maxLength: 20 }), (some) => {
      const rows = some.map(({ minutes, ...rest }) => time(minutes, rest));
      const all = rows.reduce((sum, { minutes }) => sum + minutes, 0);
      for (const parts of [minutesByOperation(rows), minutesByDay(rows), byBook(rows, [])]) {
        expect(parts.reduce((sum, { minutes }) => sum + minutes, 0)).toBe(all);
      }
    }),
    { seed: 51, numRuns: 100 },
  );
});

test('what spoilt stands beside what was used, and a line taken back counts against its book', () => {
  const rows = [use(0.5, 200), use(0.25, 100), use(-0.25, -100), use(1, 400, { wasted: true, bookId: null, book: '' })];
  expect(byMaterial(rows)).toEqual([
    { materialId: 'm', material: 'Mull', unit: 'm', quantity: 0.5, wasted: 1, costMinor: 600 },
  ]);
  expect(byBook([], rows).map(({ bookId, materialsMinor }) => [bookId, materialsMinor])).toEqual([
    [null, 400],
    ['b', 200],
  ]);
});

test('a ratio is all actual minutes over all estimated ones, with how many jobs it rests on', () => {
  const job = (operation: string, estimatedMinutes: number, actualMinutes: number) => ({
    operation,
    estimatedMinutes,
    actualMinutes,
  });
  expect(
    estimatesAgainstActuals([job('Reback', 60, 90), job('Reback', 40, 60), job('Guard', 20, 20), job('Guard', 20, 0)]),
  ).toEqual([
    { operation: 'Reback', n: 2, estimatedMinutes: 100, actualMinutes: 150, ratio: 1.5 },
    { operation: 'Guard', n: 1, estimatedMinutes: 20, actualMinutes: 20, ratio: 1 },
  ]);
});
