import { ok, type Result, refuse } from '../result.ts';

/**
 * What a treatment costs: minutes at a rate, materials, and overhead on both; given as a range, and rounded no finer than anyone can know
 * it. Money in integer minor units.
 */

export type WorkToQuote = Readonly<{
  /** Bench minutes: least, likely, most. */
  minutes: Readonly<{ least: number; likely: number; most: number }>;
  ratePerHourMinor: number;
  materialsMinor: Readonly<{ least: number; most: number }>;
  /** Share added for rent, tools and light: 0.2 for a fifth. */
  overheadShare: number;
}>;

export type Quotation = Readonly<{
  fromMinor: number;
  likelyMinor: number;
  toMinor: number;
  /** What the figures are rounded to. */
  stepMinor: number;
  working: readonly Readonly<{ label: string; formula: string; minor: number }>[];
}>;

/** A range to offer. The least is rounded down and the most up, so that rounding never promises more than was reckoned. */
export function quote(work: WorkToQuote): Result<Quotation> {
  const { minutes, ratePerHourMinor, materialsMinor, overheadShare } = work;
  if (
    !(
      minutes.least >= 0 &&
      minutes.least <= minutes.likely &&
      minutes.likely <= minutes.most &&
      Number.isFinite(minutes.most)
    )
  ) {
    return refuse('The least minutes come before the likely and those before the most.', 'minutes');
  }
  if (!(Number.isInteger(ratePerHourMinor) && ratePerHourMinor >= 0))
    return refuse('The rate an hour is a sum of money.', 'rate');
  if (
    !(materialsMinor.least >= 0 && materialsMinor.least <= materialsMinor.most && Number.isFinite(materialsMinor.most))
  ) {
    return refuse('Materials cost least what they cost least.', 'materials');
  }
  if (!(overheadShare >= 0 && overheadShare <= 5))
    return refuse('Overhead is a share of the rest, from nothing to five times.', 'overhead');
  const total = (spent: number, materials: number) =>
    ((spent * ratePerHourMinor) / 60 + materials) * (1 + overheadShare);
  const least = total(minutes.least, materialsMinor.least);
  const likely = total(minutes.likely, (materialsMinor.least + materialsMinor.most) / 2);
  const most = total(minutes.most, materialsMinor.most);
  const stepMinor = stepFor(most);
  return ok({
    fromMinor: Math.floor(least / stepMinor + 1e-9) * stepMinor,
    likelyMinor: Math.round(likely / stepMinor) * stepMinor,
    toMinor: Math.ceil(most / stepMinor - 1e-9) * stepMinor,
    stepMinor,
    working: [
      {
        label: 'Time, likely',
        formula: 'minutes ÷ 60 × rate',
        minor: Math.round((minutes.likely * ratePerHourMinor) / 60),
      },
      {
        label: 'Materials',
        formula: 'middle of least and most',
        minor: Math.round((materialsMinor.least + materialsMinor.most) / 2),
      },
      { label: 'With overhead', formula: 'both × (1 + overhead)', minor: Math.round(likely) },
    ],
  });
}

/** A 1, 2 or 5 with noughts, about a twentieth of the sum and at least one unit of money of a hundred. */
function stepFor(mostMinor: number): number {
  const about = mostMinor / 20;
  let step = 100;
  for (const factor of [2, 2.5, 2, 2, 2.5, 2, 2, 2.5, 2]) {
    if (step * factor > about) break;
    step *= factor;
  }
  return step;
}
