import { expect, test } from 'vitest';
import { drawRundown } from '../../../core/stock/rundown.ts';

/** Ten to a day: 0 to 100 px over ten days, and 10 px to a unit. */
const picture = { safety: 0, orderBy: null, arrivals: [], width: 100, height: 100 };

function falling(lows: readonly number[], balances = lows) {
  return lows.map((low, day) => ({
    date: `2026-05-${String(4 + day).padStart(2, '0')}`,
    low,
    balance: balances[day]!,
  }));
}

test('a balance falls in steps at the start of its day and stays level to the end', () => {
  const drawing = drawRundown({ ...picture, series: falling([9, 9, 5, 5, 5, 5, 5, 5, 5, 5]) });
  expect(drawing.levels.at(-1)).toEqual({ y: 0, amount: 10 });
  expect(drawing.line.startsWith('M0 10V10H10V10H20V50H30V50')).toBe(true);
  expect(drawing.zeroY).toBe(100);
  expect(drawing.missing).toBe('');
});

test('what is missing before a parcel of the same day comes is drawn below nothing, and the parcel at the day’s end', () => {
  const series = falling([1, -1, 4, 4], [1, 4, 4, 4]);
  const drawing = drawRundown({ ...picture, series, arrivals: ['2026-05-05'] });
  expect(drawing.missing).not.toBe('');
  expect(drawing.zeroY).toBeLessThan(100);
  const [arrival] = drawing.arrivals;
  expect(arrival?.x).toBe(50);
  expect(drawing.line).toContain(`H50V${arrival?.y}`);
});

test('marks stand on their days, Mondays are named, and what lies outside is left out', () => {
  const drawing = drawRundown({
    ...picture,
    series: falling([3, 3, 3, 3, 3, 3, 3, 3, 3, 3]),
    safety: 2,
    orderBy: '2026-05-09',
    arrivals: ['2026-05-30'],
  });
  expect(drawing.orderX).toBe(50);
  expect(drawing.arrivals).toEqual([]);
  expect(drawing.weeks.map(({ x, date }) => [x, date])).toEqual([
    [0, '2026-05-04'],
    [70, '2026-05-11'],
  ]);
  expect(drawing.safetyY).toBeGreaterThan(drawing.levels.at(-1)!.y);
});

test('a range opens from the line as days go by and is not drawn below nothing', () => {
  const series = falling([4, 3, 1]).map((point, day) => ({
    ...point,
    from: point.balance - day,
    to: point.balance + day,
  }));
  const drawing = drawRundown({ ...picture, series });
  expect(drawing.band.startsWith('M0 ')).toBe(true);
  expect(drawing.band.match(/L/g)).toHaveLength(6);
  const heights = [...drawing.band.matchAll(/[ML][\d.]+ ([\d.]+)/g)].map((found) => Number(found[1]));
  expect(Math.max(...heights)).toBeLessThanOrEqual(drawing.zeroY);
  expect(drawRundown({ ...picture, series: falling([4, 3, 1]) }).band).toBe('');
});

test('of nothing at all is still a picture', () => {
  const drawing = drawRundown({ ...picture, series: falling([0, 0, 0]) });
  expect(
    Object.values(drawing)
      .flat()
      .some((value) => Number.isNaN(value)),
  ).toBe(false);
  expect(drawing.line).toBe('M0 100V100H33.3V100H66.7V100H100');
});
