import { ok, type Result, refuse } from '../result.ts';
import type { Step } from './working.ts';

/**
 * Surveying a shelf: how many books a random sample needs, what share each kind has in a count, and which level of treatment a time at the
 * bench is. The sample is the textbook one for a proportion (M. C. Drott, College & Research Libraries, 1969), with the correction for a
 * small shelf.
 */

export type Sample = Readonly<{ books: number; exact: number; working: readonly Step[]; remarks: readonly string[] }>;

/** Refuses a confidence, share or margin that no survey can have. A shelf of unknown size is taken as endless. */
export function sampleSize(
  wanted: Readonly<{ confidence: number; share: number; margin: number }>,
  shelf?: number,
): Result<Sample> {
  const { confidence, share, margin } = wanted;
  if (!(confidence >= 0.5 && confidence <= 0.9999))
    return refuse('How sure to be is between 50 and 99.99 per cent.', 'confidence');
  if (!(share > 0 && share < 1))
    return refuse('The share expected is between nothing and all; half is safest.', 'share');
  if (!(margin >= 0.001 && margin < 0.5))
    return refuse('The answer may be off by 0.1 to under 50 per cent either way.', 'margin');
  if (shelf !== undefined && !(Number.isInteger(shelf) && shelf > 0))
    return refuse('A shelf has a whole number of books.', 'shelf');
  const z = standardDeviations(confidence);
  const endless = (z * z * share * (1 - share)) / (margin * margin);
  const exact = shelf === undefined ? endless : endless / (1 + (endless - 1) / shelf);
  const books = Math.min(shelf ?? Number.POSITIVE_INFINITY, Math.ceil(exact - 1e-9));
  return ok({
    books,
    exact,
    working: [
      { label: 'Standard deviations', formula: 'of the normal curve, both sides', value: z, unit: '' },
      {
        label: 'Without end',
        formula: 'z² × share × (1 − share) ÷ margin²',
        value: endless,
        unit: '',
        source: 'M. C. Drott, College & Research Libraries, 1969',
      },
      ...(shelf === undefined
        ? []
        : [
            {
              label: 'For this shelf',
              formula: 'n ÷ (1 + (n − 1) ÷ books)',
              value: exact,
              unit: '' as const,
              source: 'CoOL, cdl 1991/0055',
            },
          ]),
    ],
    remarks: [
      'Rounded up; lists that round to the nearest print 384 for 95 per cent, half, five per cent.',
      'Good only for books drawn by chance: not the first of each shelf.',
    ],
  });
}

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

/**
 * The number of standard deviations about the middle that hold this share of a normal distribution. P. J. Acklam's rational approximation of
 * the inverse (relative error under 1.15e-9); coefficients as he published them in 2003.
 */
function standardDeviations(confidence: number): number {
  const p = (1 + confidence) / 2;
  const rational = (above: readonly number[], below: readonly number[], x: number) =>
    above.reduce((sum, one) => sum * x + one, 0) / below.reduce((sum, one) => sum * x + one, 0);
  if (p > 0.97575) {
    const q = Math.sqrt(-2 * Math.log(1 - p));
    return -rational(
      [
        -7.784894002430293e-3, -3.223964580411365e-1, -2.400758277161838, -2.549732539343734, 4.374664141464968,
        2.938163982698783,
      ],
      [7.784695709041462e-3, 3.224671290700398e-1, 2.445134137142996, 3.754408661907416, 1],
      q,
    );
  }
  const q = p - 0.5;
  const r = q * q;
  return (
    q *
    rational(
      [
        -3.969683028665376e1, 2.209460984245205e2, -2.759285104469687e2, 1.38357751867269e2, -3.066479806614716e1,
        2.506628277459239,
      ],
      [-5.447609879822406e1, 1.615858368580409e2, -1.556989798598866e2, 6.680131188771972e1, -1.328068155288572e1, 1],
      r,
    )
  );
}
