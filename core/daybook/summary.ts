/** A period of the day-book added up: plain sums over what was written, each correction counting against what it corrects. */
import type { StockUnit } from '../stock/material.ts';

export type TimeRow = Readonly<{
  /** The plain date it was done on. */
  day: string;
  bookId: string | null;
  book: string | null;
  operation: string | null;
  minutes: number;
  /** An entry that takes another back: its minutes are negative, and it undoes one time of its operation. */
  isAnswer: boolean;
}>;

export type UseRow = Readonly<{
  bookId: string | null;
  book: string;
  materialId: string;
  material: string;
  unit: StockUnit;
  wasted: boolean;
  /** What went out; negative where a line answers another. In the material's unit. */
  quantity: number;
  costMinor: number;
}>;

export type JobRow = Readonly<{ operation: string; estimatedMinutes: number; actualMinutes: number }>;

export function minutesByOperation(
  rows: readonly Pick<TimeRow, 'operation' | 'minutes' | 'isAnswer'>[],
): readonly Readonly<{ operation: string; minutes: number; times: number }>[] {
  return grouped(rows, ({ operation }) => operation ?? 'other')
    .map(([operation, members]) => ({
      operation,
      minutes: total(members, ({ minutes }) => minutes),
      times: total(members, ({ isAnswer }) => (isAnswer ? -1 : 1)),
    }))
    .filter(({ minutes }) => minutes !== 0)
    .sort((one, other) => other.minutes - one.minutes);
}

export function minutesByDay(rows: readonly TimeRow[]): readonly Readonly<{ day: string; minutes: number }>[] {
  return grouped(rows, ({ day }) => day)
    .map(([day, members]) => ({ day, minutes: total(members, ({ minutes }) => minutes) }))
    .filter(({ minutes }) => minutes !== 0)
    .sort((one, other) => (one.day < other.day ? -1 : 1));
}

/** Minutes and materials of each book, most minutes first; what is about no book stands under null. */
export function byBook(
  times: readonly TimeRow[],
  uses: readonly UseRow[],
): readonly Readonly<{ bookId: string | null; book: string; minutes: number; materialsMinor: number }>[] {
  const sums = new Map<string | null, { book: string; minutes: number; materials: number }>();
  const sumOf = ({ bookId, book }: Readonly<{ bookId: string | null; book: string | null }>) => {
    const sum = sums.get(bookId) ?? { book: book ?? '', minutes: 0, materials: 0 };
    sums.set(bookId, sum);
    return sum;
  };
  for (const row of times) sumOf(row).minutes += row.minutes;
  for (const row of uses) sumOf(row).materials += row.costMinor;
  return [...sums]
    .map(([bookId, { book, minutes, materials }]) => ({
      bookId,
      book,
      minutes,
      materialsMinor: Math.round(materials),
    }))
    .filter(({ minutes, materialsMinor }) => minutes !== 0 || materialsMinor !== 0)
    .sort((one, other) => other.minutes - one.minutes || other.materialsMinor - one.materialsMinor);
}

/** What was used of each material and what spoilt, dearest first; `costMinor` is of both. */
export function byMaterial(uses: readonly UseRow[]) {
  return grouped(uses, ({ materialId }) => materialId)
    .map(([materialId, members]) => {
      const amount = (wasted: boolean) =>
        Math.round(total(members, (row) => (row.wasted === wasted ? row.quantity : 0)) * 1e6) / 1e6;
      const { material, unit } = members[0]!;
      const costMinor = Math.round(total(members, (row) => row.costMinor));
      return { materialId, material, unit, quantity: amount(false), wasted: amount(true), costMinor };
    })
    .filter(({ quantity, wasted }) => quantity !== 0 || wasted !== 0)
    .sort((one, other) => other.costMinor - one.costMinor);
}

/** All actual minutes of an operation over all estimated ones, with how many jobs that rests on; most jobs first. */
export function estimatesAgainstActuals(jobs: readonly JobRow[]) {
  const told = jobs.filter(({ estimatedMinutes, actualMinutes }) => estimatedMinutes > 0 && actualMinutes > 0);
  return grouped(told, ({ operation }) => operation)
    .map(([operation, members]) => {
      const estimatedMinutes = Math.round(total(members, (job) => job.estimatedMinutes));
      const actualMinutes = total(members, (job) => job.actualMinutes);
      const ratio = actualMinutes / total(members, (job) => job.estimatedMinutes);
      return { operation, n: members.length, estimatedMinutes, actualMinutes, ratio };
    })
    .sort((one, other) => other.n - one.n || (one.operation < other.operation ? -1 : 1));
}

function grouped<T, K>(rows: readonly T[], key: (row: T) => K): [K, T[]][] {
  return [...Map.groupBy(rows, key)];
}

function total<T>(rows: readonly T[], of: (row: T) => number): number {
  return rows.reduce((sum, row) => sum + of(row), 0);
}
