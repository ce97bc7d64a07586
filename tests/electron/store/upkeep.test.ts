import { afterEach, describe, expect, test, vi } from 'vitest';
import { ok } from '../../../core/result.ts';
import { keepUp } from '../../../electron/store/upkeep.ts';

/** A shelf of so many books, all made by rules 0; `make` is what the bench's rules are now. */
function shelf(count: number) {
  const madeBy = new Map(Array.from({ length: count }, (_, at) => [`book ${at}`, 0]));
  const bench = { rules: 1 };
  const slices: number[] = [];
  const upkeep = keepUp(
    {
      refresh(ids) {
        slices.push(ids.length);
        for (const id of ids) madeBy.set(id, bench.rules);
        return ok(undefined);
      },
    },
    {
      assessBooks: () => {},
      rules: () => bench.rules,
      outdated: () => [...madeBy].filter(([, rules]) => rules !== bench.rules).map(([id]) => id),
    },
    () => {},
  );
  const old = () => [...madeBy.values()].filter((rules) => rules !== bench.rules).length;
  return { bench, slices, upkeep, old };
}

afterEach(() => void vi.useRealTimers());

describe('after other rules or operations', () => {
  test('a short shelf is worked out before anybody is answered', () => {
    const { upkeep, old } = shelf(900);
    upkeep.look();
    expect([old(), upkeep.state()]).toEqual([0, { left: 0, of: 0 }]);
  });

  test('a long one is worked out a slice at a time, saying how far it is, and begins again where the rules change meanwhile', () => {
    vi.useFakeTimers();
    const { bench, upkeep, old, slices } = shelf(5000);
    upkeep.look();
    expect(upkeep.state()).toEqual({ left: 4000, of: 5000 });
    vi.advanceTimersByTime(200);
    expect(upkeep.state().left).toBeLessThan(4000);
    bench.rules = 2;
    upkeep.after(ok(null));
    expect(upkeep.state()).toEqual({ left: 4000, of: 5000 });
    vi.runAllTimers();
    expect([old(), upkeep.state()]).toEqual([0, { left: 0, of: 0 }]);
    expect(Math.max(...slices.slice(1, 5))).toBeLessThanOrEqual(200);
  });

  test('nothing is done any more once the workshop is closed', () => {
    vi.useFakeTimers();
    const { upkeep, slices } = shelf(5000);
    upkeep.look();
    upkeep.stop();
    vi.runAllTimers();
    expect(slices).toEqual([1000]);
  });
});
