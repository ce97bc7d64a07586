import { describe, expect, test } from 'vitest';
import { type ClockedStep, leftBehind } from '../../../core/schedule/behind.ts';

const minute = 60_000;
const step = (change: Partial<ClockedStep>): ClockedStep => ({
  label: 'Recase',
  book: 'Ferns',
  kind: 'hands',
  state: 'planned',
  startAt: 0,
  endAt: 60 * minute,
  ...change,
});

describe('a plan and the clock', () => {
  test('a step that has not begun a quarter of an hour after its time is left behind, and not before that', () => {
    expect(leftBehind([step({})], 15 * minute)).toBeNull();
    expect(leftBehind([step({})], 16 * minute)).toMatchObject({ how: 'not begun', minutes: 16 });
  });

  test('a step under way counts from when it should be over, paused as well', () => {
    expect(leftBehind([step({ state: 'started' })], 70 * minute)).toBeNull();
    expect(leftBehind([step({ state: 'paused' })], 90 * minute)).toMatchObject({ how: 'takes longer', minutes: 30 });
  });

  test('the one that lags most is named; drying, what is finished and what is set aside lag never', () => {
    const others = (['finished', 'set aside'] as const).map((state) => step({ state, startAt: -1000 * minute }));
    const drying = step({ kind: 'drying', startAt: -1000 * minute });
    const late = step({ label: 'Line', startAt: -60 * minute });
    expect(leftBehind([step({}), ...others, drying, late], 30 * minute)?.step.label).toBe('Line');
    expect(leftBehind([...others, drying], 30 * minute)).toBeNull();
  });
});
