import { expect, test } from 'vitest';
import { breakEven, coveringFee, resultOf } from '../../../core/course/money.ts';

// Fixed costs $20,000, price $400, variable costs $250: each unit leaves $150 (OpenStax, Principles of Managerial Accounting, 7.2 in the
// Penn State edition, "Breakeven Analysis"). 20,000 / 150 = 133.3, so the 134th unit is the first that pays.
test('the break-even of the worked example in Principles of Managerial Accounting (OpenStax) is the 134th unit', () => {
  const money = { feeMinor: 40_000, fixedCostMinor: 2_000_000, perHeadCostMinor: 25_000 };
  expect(breakEven(money)).toEqual({ ok: true, value: 134 });
  expect(resultOf(money, 133)).toBe(-5_000);
  expect(resultOf(money, 134)).toBe(10_000);
  expect(resultOf(money, 0)).toBe(-2_000_000);
});

test('the covering fee is the least at which so many people lose nothing', () => {
  const money = { feeMinor: 0, fixedCostMinor: 100_001, perHeadCostMinor: 2_000 };
  for (const people of [1, 3, 7, 12]) {
    const feeMinor = coveringFee(money, people);
    expect(resultOf({ ...money, feeMinor }, people)).toBeGreaterThanOrEqual(0);
    expect(resultOf({ ...money, feeMinor: feeMinor - 1 }, people)).toBeLessThan(0);
  }
});

test('a fee below what each person costs is refused, and without fixed costs nobody is needed', () => {
  const dear = breakEven({ feeMinor: 100, fixedCostMinor: 1, perHeadCostMinor: 100 });
  expect(dear).toMatchObject({ ok: false, refusal: { field: 'feeMinor' } });
  expect(breakEven({ feeMinor: 0, fixedCostMinor: 0, perHeadCostMinor: 500 })).toEqual({ ok: true, value: 0 });
});
