import { ok, type Result, refuse } from '../result.ts';

/** Going through a shelf: what share each kind has in a count, and which level of treatment a time at the bench is. */

/** Shares of a count in per cent, to a tenth, and the total. Refuses an empty count and what is no count. */
export function sharesOf(counts: readonly number[]): Result<Readonly<{ total: number; percent: readonly number[] }>> {
  if (counts.length === 0) return refuse('There is nothing to count up.', 'counts');
  if (!counts.every((count) => Number.isSafeInteger(count) && count >= 0))
    return refuse('A count is a whole number, nothing or more.', 'counts');
  const total = counts.reduce((sum, count) => sum + count, 0);
  if (!(total > 0)) return refuse('All counts are nothing, so there are no shares.', 'counts');
  return ok({ total, percent: counts.map((count) => Math.round((1000 * count) / total) / 10) });
}

/**
 * The level of a treatment by its time at the bench: 15 minutes or less, up to two hours, more. Association of Research Libraries, as applied
 * by the University of Arkansas and Duke University. The published wordings differ at exactly 15 minutes ("15 minutes or less", "less than
 * 15"); here it is level 1.
 */
export function levelByMinutes(minutes: number): Result<1 | 2 | 3> {
  if (!(minutes > 0 && minutes < 100_000)) return refuse('A treatment takes some time at the bench.', 'minutes');
  if (minutes <= 15) return ok(1);
  return ok(minutes <= 120 ? 2 : 3);
}
