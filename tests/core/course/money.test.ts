import { expect, test } from 'vitest';
import { breakEven, coveringFee, decide, marginOfSafety, resultOf, sensitivity } from '../../../core/course/money.ts';

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

// Fixed costs $10,000, a shirt sold at $50 and made for $20: 334 sold break even, and of 500 sold $5,000 are left and a third are safe
// (5.4 Break-even Analysis, e-consult.co.ke, the T-shirt shop).
test('the margin of safety of a published worked example, a shop of T-shirts, is 166 shirts or 33.2 %', () => {
  const money = { feeMinor: 5_000, fixedCostMinor: 1_000_000, perHeadCostMinor: 2_000 };
  const even = breakEven(money);
  if (!even.ok) throw new Error('it breaks even');
  expect(even.value).toBe(334);
  expect(marginOfSafety(500, even.value)).toEqual({ people: 166, share: 0.332 });
  expect(resultOf(money, 500)).toBe(500_000);
});

test('each figure goes as far as it may before the course loses, and not one unit farther', () => {
  const money = { feeMinor: 42_000, fixedCostMinor: 180_000, perHeadCostMinor: 9_500 };
  const people = 9;
  const lines = sensitivity(money, people, [-0.2, 0, 0.2]);
  const even = (what: string) => lines.find((line) => line.what === what)?.evenAt ?? Number.NaN;
  const check = (good: number, bad: number) => {
    expect(good).toBeGreaterThanOrEqual(0);
    expect(bad).toBeLessThan(0);
  };
  check(
    resultOf({ ...money, feeMinor: even('fee') }, people),
    resultOf({ ...money, feeMinor: even('fee') - 1 }, people),
  );
  check(resultOf(money, even('people')), resultOf(money, even('people') - 1));
  check(
    resultOf({ ...money, fixedCostMinor: even('fixed costs') }, people),
    resultOf({ ...money, fixedCostMinor: even('fixed costs') + 1 }, people),
  );
  check(
    resultOf({ ...money, perHeadCostMinor: even('costs a head') }, people),
    resultOf({ ...money, perHeadCostMinor: even('costs a head') + 1 }, people),
  );
  for (const { results } of lines) expect(results[1]).toEqual({ change: 0, resultMinor: resultOf(money, people) });
  expect(lines[0]?.results[2]).toEqual({ change: 0.2, resultMinor: resultOf({ ...money, feeMinor: 50_400 }, people) });
});

test('what is spent already does not count against going: below the break-even it may still lose less than calling off', () => {
  const money = { feeMinor: 40_000, fixedCostMinor: 200_000, perHeadCostMinor: 10_000 };
  expect(decide(money, 110_000, 7)).toEqual({
    verdict: 'pays',
    goFrom: 3,
    ifItGoesMinor: 10_000,
    ifCalledOffMinor: -110_000,
  });
  expect(decide(money, 110_000, 3)).toMatchObject({ verdict: 'less is lost', ifItGoesMinor: -110_000 });
  expect(decide(money, 110_000, 2)).toMatchObject({ verdict: 'call off', ifItGoesMinor: -140_000 });
  expect(decide(money, 0, 6)).toMatchObject({ verdict: 'call off', goFrom: 7, ifCalledOffMinor: 0 });
  // No more can be lost than the fixed costs come to.
  expect(decide(money, 999_000, 0)).toMatchObject({ verdict: 'less is lost', goFrom: 0, ifCalledOffMinor: -200_000 });
});
