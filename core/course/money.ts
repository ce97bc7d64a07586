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

export type Sensitivity = Readonly<{
  what: 'fee' | 'people' | 'fixed costs' | 'costs a head';
  /** Left over with each of these changes, as fractions of the present figure. */
  results: readonly Readonly<{ change: number; resultMinor: number }>[];
  /** The figure at which nothing is left over and nothing lost, other things as they are; null where none is. */
  evenAt: number | null;
}>;

/** What is left over when one figure turns out otherwise than thought, and how far each may go before the course loses. People in whole heads. */
export function sensitivity(money: CourseMoney, people: number, changes: readonly number[]): readonly Sensitivity[] {
  const { feeMinor, fixedCostMinor, perHeadCostMinor } = money;
  const line = (
    what: Sensitivity['what'],
    now: number,
    evenAt: number | null,
    resultWith: (figure: number) => number,
  ): Sensitivity => ({
    what,
    results: changes.map((change) => ({ change, resultMinor: resultWith(Math.round(now * (1 + change))) })),
    evenAt,
  });
  const even = breakEven(money);
  const [fixedEven, headEven] = [
    people * (feeMinor - perHeadCostMinor),
    people === 0 ? null : Math.floor(feeMinor - fixedCostMinor / people),
  ];
  return [
    line('fee', feeMinor, people === 0 ? null : coveringFee(money, people), (fee) =>
      resultOf({ ...money, feeMinor: fee }, people),
    ),
    line('people', people, even.ok ? even.value : null, (heads) => resultOf(money, heads)),
    line('fixed costs', fixedCostMinor, fixedEven < 0 ? null : fixedEven, (cost) =>
      resultOf({ ...money, fixedCostMinor: cost }, people),
    ),
    line('costs a head', perHeadCostMinor, headEven === null || headEven < 0 ? null : headEven, (cost) =>
      resultOf({ ...money, perHeadCostMinor: cost }, people),
    ),
  ];
}

/** How many people fewer than these the course could do with before it loses, and as a share of them; below 0 where it loses already. */
export function marginOfSafety(people: number, evenPeople: number): Readonly<{ people: number; share: number }> {
  return { people: people - evenPeople, share: people === 0 ? 0 : (people - evenPeople) / people };
}

export type Decision = Readonly<{
  /** `pays`; `less is lost` than by calling it off, since that money is gone either way; `call off`. */
  verdict: 'pays' | 'less is lost' | 'call off';
  /** People from which going loses less than calling off; null where no number does. */
  goFrom: number | null;
  /** Left over, or lost, if it takes place with these people, and if it is called off and their fees are given back. */
  ifItGoesMinor: number;
  ifCalledOffMinor: number;
}>;

/**
 * Whether to let it take place on the day of decision. Of the fixed costs `lostMinor` are spent or owed on that day either way, so only the
 * rest counts against going (relevant costs, as in any account of sunk cost). Deposits go back to people where it is called off.
 */
export function decide(money: CourseMoney, lostMinor: number, people: number): Decision {
  const lost = Math.min(lostMinor, money.fixedCostMinor);
  const ifItGoesMinor = resultOf(money, people);
  const ifCalledOffMinor = lost === 0 ? 0 : -lost;
  const go = breakEven({ ...money, fixedCostMinor: money.fixedCostMinor - lost });
  const verdict = ifItGoesMinor >= 0 ? 'pays' : ifItGoesMinor >= ifCalledOffMinor ? 'less is lost' : 'call off';
  return { verdict, goFrom: go.ok ? go.value : null, ifItGoesMinor, ifCalledOffMinor };
}
