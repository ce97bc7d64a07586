import { ok, type Result, refuse } from '../result.ts';
import { dateOf, dayNumber } from '../stock/projection.ts';
import { type LengthUnit, readSize } from '../units/lengths.ts';
import { adhesiveForArea, type Batch, batchOf, type RecipeName, startingCoverage, strengthLeft } from './adhesive.ts';
import { noSource, type Step } from './working.ts';

/**
 * What to cook for a day: the surfaces of its jobs, the wet adhesive they take with what brush and pot keep, how much stock that is when it is
 * thinned for use, and until when what is left over is good. Recipes and keeping have their sources in `adhesive.ts`; coverage and loss are
 * common practice, no source.
 */

export type Job = Readonly<{ name: string; heightMm: number; widthMm: number; count: number }>;

/**
 * Jobs as they are listed, one to a line: "Linings, Ferns: 190 x 62 mm, 2", name and count to be left out at will. Refuses the first line
 * that has no size, and more lines than a day has.
 */
export function readJobs(list: string, unit: LengthUnit): Result<readonly Job[]> {
  const lines = list
    .split('\n')
    .map((line) => line.trim())
    .filter((line) => line !== '');
  if (lines.length === 0) return refuse('List at least one surface to be pasted: its name, then high × wide.');
  if (lines.length > mostLines) return refuse(`More than ${mostLines} jobs are more than a day.`);
  const jobs: Job[] = [];
  for (const line of lines) {
    const [, name = '', rest = ''] = /^(?:(.*):)?([^:]*)$/.exec(line) ?? [];
    const [, size = '', times] = /^(.*?)(?:[,;]\s+(\d{1,4}))?$/.exec(rest.trim()) ?? [];
    const read = readSize(size, { defaultUnit: unit });
    if (!read.ok) return refuse(`“${line.slice(0, 60)}”: ${read.refusal.sentence}`);
    const { heightMm, widthMm } = read.value;
    const count = times === undefined ? 1 : Number(times);
    if (count === 0) return refuse(`“${line.slice(0, 60)}” is wanted no times; leave it out.`);
    jobs.push({ name: name.trim() || `surface ${jobs.length + 1}`, heightMm, widthMm, count });
  }
  return ok(jobs);
}

const mostLines = 200;

export type DayBatch = Readonly<{
  /** Ready to brush on, thinned. */
  wetG: number;
  /** Cooked, before it is thinned. */
  cookedG: number;
  leftOverG: number;
  batch: Batch;
  /** Days it keeps at least and at most, and the last days of each where it is said when it was made. */
  keepsDays: readonly [number, number];
  goodUntil: readonly [string, string] | null;
  working: readonly Step[];
}>;

export type DayHabits = Readonly<{
  recipe: RecipeName;
  /** Parts of water to one of the cooked adhesive. */
  waterParts: number;
  lostShare: number;
  /** Less than this is not worth cooking, and burns. */
  leastG: number;
  /** YYYY-MM-DD; empty where nobody said. */
  madeOn: string;
}>;

/** The batch for these jobs. Refuses no jobs, shares that cannot be, a date that is none, and more than a pot holds, at the field. */
export function batchForDay(
  jobs: readonly Job[],
  { recipe, waterParts, lostShare, leastG, madeOn }: DayHabits,
): Result<DayBatch> {
  const areaMm2 = jobs.reduce((sum, { heightMm, widthMm, count }) => sum + heightMm * widthMm * count, 0);
  const coverage = startingCoverage[recipe === 'methylcellulose' ? 'methylcellulose' : 'paste'];
  const wet = adhesiveForArea(areaMm2, coverage, lostShare);
  if (!wet.ok) return refuse(wet.refusal.sentence, wet.refusal.field === 'lost' ? 'lost' : 'jobs');
  const left = strengthLeft(waterParts);
  if (!left.ok) return left;
  const wetG = wet.value.grams;
  const stockG = wetG * left.value;
  const cookedG = Math.max(stockG, leastG);
  const batch = batchOf(recipe, cookedG);
  if (!batch.ok) return refuse(batch.refusal.sentence, stockG > leastG ? 'jobs' : 'least');
  const made = madeOn.trim() === '' ? null : dayOf(madeOn.trim());
  if (made !== null && !made.ok) return made;
  const { keepsDays } = batch.value.recipe;
  return ok({
    wetG,
    cookedG,
    leftOverG: cookedG - stockG,
    batch: batch.value,
    keepsDays,
    goodUntil: made === null ? null : [dateOf(made.value + keepsDays[0]), dateOf(made.value + keepsDays[1])],
    working: [
      ...wet.value.working,
      {
        label: 'Cooked, before thinning',
        formula: `adhesive ÷ (1 + ${waterParts} of water)`,
        value: stockG,
        unit: 'g',
        source: 'strength × volume stays',
      },
      {
        label: 'Cooked altogether',
        formula: 'as much, or the least worth cooking',
        value: cookedG,
        unit: 'g',
        source: noSource,
      },
      ...batch.value.working,
    ],
  });
}

/** The number of a day that there is in the calendar. */
function dayOf(text: string): Result<number> {
  const day = /^\d{4}-\d{2}-\d{2}$/.test(text) ? dayNumber(text) : Number.NaN;
  // The thirtieth of February is read as the first or second of March.
  const there = Number.isFinite(day) && day > dayNumber('1900-01-01') && dateOf(day) === text;
  return there ? ok(day) : refuse('Write the day as year-month-day, such as 2026-05-04.', 'made');
}
