/**
 * A material's balance by day: what is on hand now, less what is promised on its day, plus what has been ordered on the day it is due. The
 * first shortage names the book or the course that meets it. On one day things are taken before a parcel comes: what arrives in the afternoon
 * does not help the morning.
 */
import type { MaterialNeed } from './material.ts';

export const purposes = ['week', 'course', 'treatments'] as const;
/** Planned on the bench, taught on the course, or agreed with no day yet. */
export type Purpose = (typeof purposes)[number];

/** What a room asks of the cupboard: a need, the day it is met (null: agreed, no day yet), and for whom. */
export type DatedNeed = Readonly<{
  date: string | null;
  need: MaterialNeed;
  purpose: Purpose;
  bookId: string | null;
  courseId: string | null;
  /** The book's or the course's title. */
  title: string;
  /** The step, in words: "Reback in cloth". */
  why: string;
  /** Colour in words, where a cloth is to match. */
  colour: string;
}>;

/** A need settled on one material, in millionths of its unit. */
export type Promised = Readonly<{
  date: string | null;
  quantityMillionths: number;
  purpose: Purpose;
  bookId: string | null;
  courseId: string | null;
  title: string;
  why: string;
  working: string;
}>;

export type Arrival = Readonly<{ dueOn: string; quantityMillionths: number }>;

export type Shortage = Readonly<{
  /** Null: once the agreed treatments without a day are begun. */
  date: string | null;
  /** How much is missing at that moment. */
  missingMillionths: number;
  /** What is to be done that finds too little. */
  cause: Promised;
}>;

/** The balance at the end of a day, and when all of the day is taken but no parcel has come yet. */
export type Point = Readonly<{ date: string; low: number; balance: number }>;

export type Projection = Readonly<{
  /** One point a day, today first, the last at the horizon; the undated are not in it. */
  points: readonly Point[];
  /** What is left at the horizon when everything agreed without a day is taken as well. */
  afterAll: number;
  /** The least balance of any moment that an order of today could still help, up to and including that. */
  lowest: number;
  shortage: Shortage | null;
  /** The first day on whose course the balance falls below `floor`; null where none does. */
  belowFloorOn: string | null;
  /** The first such day that an order of today could still help. */
  helpableOn: string | null;
  /** Whole days from today before the first dated shortage; null where there is none within the horizon. */
  coverDays: number | null;
}>;

export type ProjectionInput = Readonly<{
  today: string;
  horizonDays: number;
  onHandMillionths: number;
  promises: readonly Promised[];
  arrivals: readonly Arrival[];
  /** Safety stock, in millionths. */
  floorMillionths?: number;
  /** Days in which an order comes: `lowest` is taken from the day after on. None: over all days. */
  leadDays?: number;
}>;

/** Runs the balance forward. What is overdue, either way, counts as of today; what lies past the horizon counts with the undated. */
export function project(input: ProjectionInput): Projection {
  const { today, horizonDays, floorMillionths = 0, leadDays = -1 } = input;
  const first = dayNumber(today);
  const dayOf = (date: string) => Math.max(0, dayNumber(date) - first);
  const taken: Promised[][] = Array.from({ length: horizonDays + 1 }, () => []);
  const coming = new Array<number>(horizonDays + 1).fill(0);
  const undated: Promised[] = [];
  for (const promise of input.promises) {
    const day = promise.date === null ? undefined : taken[dayOf(promise.date)];
    (day ?? undated).push(promise);
  }
  let later = 0;
  for (const arrival of input.arrivals) {
    const day = dayOf(arrival.dueOn);
    if (day <= horizonDays) coming[day] = coming[day]! + arrival.quantityMillionths;
    else later += arrival.quantityMillionths;
  }

  let balance = input.onHandMillionths;
  let lowest = Number.POSITIVE_INFINITY;
  let shortage: Shortage | null = null;
  let belowFloorOn: string | null = null;
  let helpableOn: string | null = null;
  const take = (promise: Promised, date: string | null) => {
    balance -= promise.quantityMillionths;
    if (balance < 0) shortage ??= { date, missingMillionths: -balance, cause: promise };
  };
  const points: Point[] = [];
  for (let day = 0; day <= horizonDays; day++) {
    const date = dateOf(first + day);
    for (const promise of taken[day]!) take(promise, date);
    if (balance < floorMillionths) belowFloorOn ??= date;
    if (day > leadDays) {
      lowest = Math.min(lowest, balance);
      if (balance < floorMillionths) helpableOn ??= date;
    }
    const low = balance;
    balance += coming[day]!;
    points.push({ date, low, balance });
  }
  balance += later;
  for (const promise of undated) take(promise, null);
  lowest = Math.min(lowest, balance);
  const short = shortage as Shortage | null;
  const coverDays = short === null || short.date === null ? null : dayNumber(short.date) - first;
  return { points, afterAll: balance, lowest, shortage: short, belowFloorOn, helpableOn, coverDays };
}

/** Eight times in ten the balance lies in the band: the normal deviate of 10 % at either end (NIST/SEMATECH e-Handbook, table 1.3.6.7.1). */
const bandDeviate = 1.2816;

export type Banded = Point &
  Readonly<{ /** The lower and the upper edge at the end of the day. */ from: number; to: number }>;

/**
 * The projection with its range: days vary as independently as they did in the ledger, so that the band widens with the root of the days.
 * `deviationPerDay` in millionths; none gives a band of no width. The first day on whose lower edge something would be missing is
 * `couldMissOn`.
 */
export function withRange(
  points: readonly Point[],
  deviationPerDay: number,
): Readonly<{ points: readonly Banded[]; couldMissOn: string | null }> {
  const banded = points.map((point, day) => {
    const half = Math.round(bandDeviate * deviationPerDay * Math.sqrt(day));
    return { ...point, from: point.balance - half, to: point.balance + half };
  });
  const missing = banded.find(({ low, balance, from }) => low - (balance - from) < 0);
  return { points: banded, couldMissOn: missing?.date ?? null };
}

/** Days since 1 January 1970 of a plain date, YYYY-MM-DD. */
export function dayNumber(date: string): number {
  return Math.round(Date.parse(`${date}T00:00:00Z`) / 86_400_000);
}

/** The plain date of a day number. */
export function dateOf(day: number): string {
  return new Date(day * 86_400_000).toISOString().slice(0, 10);
}
