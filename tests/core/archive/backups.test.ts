import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type Backup, backupsToKeep, isBackupDue } from '../../../core/archive/backups.ts';

const hour = 3_600_000;
const day = 24 * hour;
const noon = Date.UTC(2026, 4, 4, 12);

const rolling = (takenAt: number): Backup => ({ takenAt, kind: 'rolling' });
const anyBackup = fc.record({
  takenAt: fc.integer({ min: noon - 400 * day, max: noon + 30 * day }),
  kind: fc.constantFrom(
    'rolling' as const,
    'rolling' as const,
    'before an update' as const,
    'before going back' as const,
  ),
});
const some = fc.uniqueArray(anyBackup, { maxLength: 120, selector: ({ takenAt }) => takenAt });
const seeded = { seed: 8, numRuns: 300 };

describe('the copies that are kept', () => {
  test('are the same when asked again of what was kept (seed 8)', () => {
    fc.assert(
      fc.property(some, (backups) => {
        const kept = backupsToKeep(backups, noon);
        expect(backupsToKeep(kept, noon)).toEqual(kept);
      }),
      seeded,
    );
  });

  test('hold the newest of every hour, day and week of their spans, and of what is older, no more than the few they must (seed 8)', () => {
    fc.assert(
      fc.property(some, (backups) => {
        const kept = new Set(backupsToKeep(backups, noon));
        const past = backups.filter(({ takenAt }) => takenAt <= noon).toSorted((a, b) => b.takenAt - a.takenAt);
        for (const [length, count] of [
          [hour, 24],
          [day, 14],
          [7 * day, 13],
        ] as const) {
          for (let slot = Math.floor(noon / length) - count + 1; slot * length <= noon; slot += 1) {
            const newest = past.find(({ takenAt }) => Math.floor(takenAt / length) === slot);
            if (newest !== undefined) expect(kept.has(newest)).toBe(true);
          }
        }
        for (const newest of past.slice(0, 3)) expect(kept.has(newest)).toBe(true);
        expect(
          [...kept].filter(({ kind, takenAt }) => kind === 'rolling' && takenAt <= noon).length,
        ).toBeLessThanOrEqual(24 + 14 + 13 + 3);
        expect([...kept].filter(({ takenAt }) => takenAt > noon).length).toBeLessThanOrEqual(13);
      }),
      seeded,
    );
  });

  test('of a year of hourly work always reach back a quarter, never more than about sixty at a time', () => {
    let backups: readonly Backup[] = [];
    for (let now = noon - 365 * day; now <= noon; now += 5 * hour) {
      backups = backupsToKeep([...backups, rolling(now)], now);
      expect(backups.length).toBeLessThanOrEqual(54);
    }
    const ages = backups.map(({ takenAt }) => (noon - takenAt) / day);
    expect(Math.max(...ages)).toBeGreaterThan(80);
    for (let back = 0; back < 13; back += 1)
      expect(ages.some((age) => age >= 7 * back - 7 && age < 7 * back + 7)).toBe(true);
  });

  test('include those before an update or a going back for ninety days, and the newest five for good', () => {
    const special = Array.from(
      { length: 9 },
      (_, index): Backup => ({ takenAt: noon - (80 + index * 20) * day, kind: 'before an update' }),
    );
    const newer = Array.from({ length: 5 }, (_, index) => rolling(noon - index * hour));
    expect(backupsToKeep([...newer, ...special], noon).filter(({ kind }) => kind !== 'rolling')).toEqual(
      special.slice(0, 5),
    );
  });

  test('survive a clock that was a year ahead and came back', () => {
    const ahead = Array.from({ length: 30 }, (_, index) => rolling(noon + 365 * day + index * hour));
    const before = [rolling(noon - 2 * hour), rolling(noon - hour)];
    const kept = backupsToKeep([...before, ...ahead], noon);
    expect(kept).toEqual(expect.arrayContaining(before));
    expect(kept.length).toBe(2 + 10);
  });
});

test('a copy is due when none is from the last hour, whatever is dated in the future', () => {
  expect(isBackupDue([], noon)).toBe(true);
  expect(isBackupDue([rolling(noon - hour + 1)], noon)).toBe(false);
  expect(isBackupDue([rolling(noon - hour)], noon)).toBe(true);
  expect(isBackupDue([rolling(noon + 1)], noon)).toBe(true);
});
