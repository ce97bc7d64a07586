import { describe, expect, test } from 'vitest';
import { type Hours, instantOf, minuteOf, openWindows, originOf } from '../../../core/schedule/calendar.ts';

const bench: Hours = {
  timeZone: 'Europe/London',
  weekly: [1, 2, 3, 4, 5, 6, 7].flatMap((weekday) => [
    { weekday, from: '09:00', to: '12:30' },
    { weekday, from: '13:30', to: '17:30' },
  ]),
  daysOff: [],
  extra: [],
};

function windows(hours: Hours, start: string, days: number) {
  const result = openWindows(hours, start, days);
  if (!result.ok) throw new Error(result.refusal.sentence);
  return result.value;
}

function wallClock(start: string, minute: number): string {
  const origin = originOf(start, bench.timeZone);
  if (!origin.ok) throw new Error(origin.refusal.sentence);
  return new Date(instantOf(origin.value, minute)).toLocaleTimeString('en-GB', {
    timeZone: bench.timeZone,
    hour: '2-digit',
    minute: '2-digit',
  });
}

describe('working hours', () => {
  // British Summer Time began on 29 March 2026 at 01:00 UTC and ends on 25 October 2026 at 01:00 UTC (Summer Time Order 2002).
  test.each([
    ['2026-03-28', 'forward', 23 * 60],
    ['2026-10-24', 'back', 25 * 60],
  ])('stay at nine by the wall clock when the clocks go %s (%s)', (start, _direction, minutesOfSecondDay) => {
    const open = windows(bench, start, 3);
    expect(open).toHaveLength(6);
    for (const window of [open[0]!, open[2]!, open[4]!]) expect(wallClock(start, window.from)).toBe('09:00');
    expect(open[4]!.from - open[2]!.from).toBe(24 * 60);
    expect(open[2]!.from - open[0]!.from).toBe(minutesOfSecondDay);
    for (const window of open) expect([210, 240]).toContain(window.to - window.from);
  });

  test('lose an hour where a window spans the change', () => {
    const night = { ...bench, weekly: [{ weekday: 7, from: '00:00', to: '06:00' }] };
    expect(windows(night, '2026-03-29', 1)).toEqual([{ from: 0, to: 300 }]);
    expect(windows(night, '2026-10-25', 1)).toEqual([{ from: 0, to: 420 }]);
  });

  test('are shut on days off, except for extra hours, and joined where they touch', () => {
    const hours = {
      ...bench,
      daysOff: ['2026-06-02'],
      extra: [
        { date: '2026-06-02', from: '10:00', to: '11:00' },
        { date: '2026-06-01', from: '17:30', to: '19:00' },
      ],
    };
    expect(windows(hours, '2026-06-01', 2)).toEqual([
      { from: 540, to: 750 },
      { from: 810, to: 1140 },
      { from: 1440 + 600, to: 1440 + 660 },
    ]);
  });

  test('turn minutes into instants and back', () => {
    const origin = originOf('2026-03-28', 'Europe/London');
    if (!origin.ok) throw new Error(origin.refusal.sentence);
    expect(origin.value).toBe(Date.UTC(2026, 2, 28));
    expect(minuteOf(origin.value, instantOf(origin.value, 2000))).toBe(2000);
    expect(minuteOf(origin.value, instantOf(origin.value, 2000) + 59_999)).toBe(2000);
  });

  test.each([
    [{ ...bench, timeZone: 'Europe/Nowhere' }, '2026-03-28', '“Europe/Nowhere” is not a time zone.'],
    [bench, '2026-02-30', '“2026-02-30” is not a date.'],
    [{ ...bench, weekly: [{ weekday: 6, from: '9am', to: '12:00' }] }, '2026-03-28', '“9am” is not a time of day.'],
    [
      { ...bench, weekly: [{ weekday: 6, from: '17:00', to: '12:00' }] },
      '2026-03-28',
      'Hours from 17:00 to 12:00 are empty.',
    ],
  ])('are refused in words when they make no sense (%#)', (hours, start, sentence) => {
    const result = openWindows(hours, start, 2);
    expect(result.ok ? '' : result.refusal.sentence).toBe(sentence);
  });
});
