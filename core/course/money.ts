/** What a course costs, from how many people it pays, and what it would have to cost them. Money in minor units. */
import { ok, type Result, refuse } from '../result.ts';

export type CourseMoney = Readonly<{ feeMinor: number; fixedCostMinor: number; perHeadCostMinor: number }>;

/**
 * The least number of people from which nothing is lost: fixed costs over what each person leaves after their own costs, rounded up. Refuses a
 * fee that does not cover what each person costs.
 */
export function breakEven({ feeMinor, fixedCostMinor, perHeadCostMinor }: CourseMoney): Result<number> {
  if (fixedCostMinor <= 0) return ok(0);
  const left = feeMinor - perHeadCostMinor;
  if (left <= 0)
    return refuse('The fee does not cover what each person costs: more people would lose more.', 'feeMinor');
  return ok(Math.ceil(fixedCostMinor / left));
}

/** What is left over, or lost where negative, with this many people paying. */
export function resultOf(money: CourseMoney, people: number): number {
  return people * (money.feeMinor - money.perHeadCostMinor) - money.fixedCostMinor;
}

/** The fee at which this many people, at least one, just cover all costs, rounded up to the minor unit. */
export function coveringFee(money: CourseMoney, people: number): number {
  return Math.ceil(money.perHeadCostMinor + money.fixedCostMinor / Math.max(1, people));
}
