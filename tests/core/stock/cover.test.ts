import { describe, expect, test } from 'vitest';
import { coverOf } from '../../../core/stock/cover.ts';
import { adviseOrder, usualOrderHabits } from '../../../core/stock/orders.ts';
import { type Arrival, type Promised, project } from '../../../core/stock/projection.ts';
import { material } from './cupboard.ts';

const today = '2026-05-04';
const horizonDays = 60;
const mull = material('Mull', { unit: 'm', leadDays: 9 });
const none = { perDay: 0, deviationPerDay: 0, enough: false };

function cover(
  onHandMillionths: number,
  promises: readonly Promised[],
  usage = none,
  arrivals: readonly Arrival[] = [],
  kept = mull,
) {
  const projection = project({ today, horizonDays, onHandMillionths, promises, arrivals, leadDays: kept.leadDays });
  const common = { today, projection, usage };
  const advice = adviseOrder({ ...common, material: kept, safety: 0, promised: 0, habits: usualOrderHabits });
  const rest = {
    unit: kept.unit,
    leadDays: kept.leadDays,
    promised: promises.length > 0,
    onHandMillionths,
    nextDueOn: arrivals[0]?.dueOn ?? null,
  };
  return coverOf({ ...common, ...rest, advice });
}

function wanted(date: string | null, quantityMillionths: number): Promised {
  const title = 'Nine Winters at Sea';
  return { date, quantityMillionths, purpose: 'week', bookId: 'b', courseId: null, title, why: 'Reline', working: '' };
}

describe('cover', () => {
  test('names the book, the day and the day to order by', () => {
    expect(cover(1_000_000, [wanted('2026-05-24', 1_400_000)])).toEqual({
      state: 'order',
      days: 20,
      usualDays: null,
      sentence: 'On Sun 24 May “Nine Winters at Sea” (Reline) finds 0.4 m too little. Order by Thu 14 May.',
    });
  });

  test('says that an order of today comes too late, and when it would come', () => {
    const short = cover(0, [wanted('2026-05-06', 400_000)]);
    expect(short).toMatchObject({ state: 'short', days: 2 });
    expect(short.sentence).toContain('Ordered today it comes on Wed 13 May: too late.');
  });

  test('says when what is on its way comes, where it comes too late and no more is wanted', () => {
    const arrivals = [{ dueOn: '2026-05-08', quantityMillionths: 5_000_000 }];
    const short = cover(0, [wanted('2026-05-06', 400_000)], none, arrivals);
    expect(short).toMatchObject({ state: 'short', days: 2 });
    expect(short.sentence).toContain('What is on its way is due on Fri 8 May.');
  });

  test('keeps what has no day apart from what has one', () => {
    const later = cover(1_000_000, [wanted(null, 3_000_000)]);
    expect(later).toMatchObject({ state: 'later', days: null });
    expect(later.sentence).toContain('2 m are missing for all of them');
  });

  test('says how long it lasts at its usual use', () => {
    const lasts = cover(10_000_000, [wanted('2026-05-06', 1_000_000)], { ...none, perDay: 0.5, enough: true });
    expect(lasts).toMatchObject({ state: 'lasts', usualDays: 20 });
    expect(lasts.sentence).toBe(
      'Everything promised is there; 9 m are left after it. At its usual use, 3.5 m a week, it lasts 20 days.',
    );
  });

  test('of what is counted says whole pieces, however small the part of one that is missing', () => {
    const sponges = { ...mull, unit: 'piece' as const };
    const short = cover(1_000_000, [wanted('2026-05-24', 1_070_000)], none, [], sponges);
    expect(short.sentence).toBe(
      'On Sun 24 May “Nine Winters at Sea” (Reline) asks for 1 piece more than there will be. Order by Thu 14 May.',
    );
    const later = cover(1_000_000, [wanted(null, 1_070_000)], none, [], sponges);
    expect(later.sentence).toContain('1 piece is missing for all of them');
    const lasts = cover(9_000_000, [wanted('2026-05-06', 50_000)], none, [], sponges);
    expect(lasts.sentence).toBe('Everything promised is there; 9 pieces are left after it.');
  });

  test('rounds what is measured up to what a hand can measure where it is missing, and says when nothing is left', () => {
    const short = cover(1_000_000, [wanted('2026-05-24', 1_000_000), wanted('2026-05-25', 20_000)]);
    expect(short.sentence).toContain('finds 0.1 m too little');
    expect(cover(1_000_000, [wanted('2026-05-24', 1_000_000)]).sentence).toContain('nothing is left after it');
  });

  test('of what nothing asks for is not a length of time', () => {
    expect(cover(0, [])).toMatchObject({ state: 'unused', days: null });
  });
});
