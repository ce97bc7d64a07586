/** The day-book's period added up, on the page, as CSV and on paper. */
import { Temporal } from 'temporal-polyfill';
import type { FileAnswer } from '../../core/contract/ask.ts';
import type { Summary, UsedLine } from '../../core/contract/daybook.ts';
import {
  byBook,
  byMaterial,
  estimatesAgainstActuals,
  minutesByDay,
  minutesByOperation,
} from '../../core/daybook/summary.ts';
import { ok, type Result, refuse } from '../../core/result.ts';
import { costOfUse } from '../../core/stock/lots.ts';
import { propose } from '../../core/treatment/propose.ts';
import { writeTable } from '../files/csv.ts';
import { loggedMinutes } from '../store/bench.ts';
import { agreedTreatment, readSurveyed } from '../store/books.ts';
import {
  type Between,
  booksDoneBetween,
  entriesBetween,
  finishedBetween,
  type UsedRow,
  usedBetween,
} from '../store/daybook.ts';
import { readHabits } from '../store/habits.ts';
import { libraryOf } from '../store/operations.ts';
import { listLots } from '../store/stockroom-lots.ts';
import type { Workshop } from '../store/workshop.ts';
import { answerId, isAnswer } from './stockroom-changes.ts';
import { lotWords } from './stockroom-reading.ts';

type Period = Readonly<{ from: string; to: string }>;

/** Materials taken out or written off in a period, each at the price of its lot; what went into a batch made here is in the batch. */
export function usedLines(store: Workshop, period: Between): readonly (UsedLine & Readonly<{ wasted: boolean }>)[] {
  const lots = new Map(listLots(store.db).map((lot) => [lot.lotId === null ? '' : lot.lotId, lot]));
  const rows = usedBetween(store.db, period).filter((row) => row.madeLotId === null);
  const ids = new Set(rows.map((row) => row.movementId));
  return rows.map((row) => {
    const lot = row.lotId === null ? null : (lots.get(row.lotId) ?? null);
    const { movementId, at, bookId, materialId, material, unit, reason } = row;
    return {
      ...{ movementId, at, bookId, materialId, material, unit, reason },
      book: row.book ?? '',
      quantity: 0 - row.quantityMillionths / 1e6,
      costMinor: costOf(row, lot),
      lot: lot === null ? '' : lotWords(lot),
      closed: isAnswer(movementId) || ids.has(answerId(movementId)),
      wasted: row.kind === 'wasted',
    };
  });
}

function costOf(row: UsedRow, lot: Parameters<typeof costOfUse>[1]): number {
  const pack = { packQuantity: row.packMillionths / 1e6, packPriceMinor: row.packPriceMinor };
  return costOfUse(0 - row.quantityMillionths, lot, pack);
}

/** Both days belong to the period. */
export function readSummary(store: Workshop, { from, to }: Period): Result<Summary> {
  if (to < from) return refuse('The period ends before it begins.', 'to');
  const { timeZone, currency, hourlyRateMinor } = readHabits(store.db).habits;
  const midnight = (day: Temporal.PlainDate) => day.toZonedDateTime({ timeZone }).epochMilliseconds;
  const period = {
    from: midnight(Temporal.PlainDate.from(from)),
    to: midnight(Temporal.PlainDate.from(to).add({ days: 1 })),
  };
  const dayOf = (at: number) =>
    Temporal.Instant.fromEpochMilliseconds(at).toZonedDateTimeISO(timeZone).toPlainDate().toString();
  const times = entriesBetween(store.db, period).flatMap((one) => {
    if (one.minutes === null || one.minutes === 0) return [];
    const { bookId, book, operation, minutes, answers } = one;
    return [{ day: dayOf(one.at), bookId, book, operation, minutes, isAnswer: answers !== null }];
  });
  const uses = usedLines(store, period);
  const finished = booksDoneBetween(store.db, period).map(({ bookId, book, at }) => ({ bookId, book, on: dayOf(at) }));
  const done = new Set(finished.map(({ bookId }) => bookId));
  const minutes = times.reduce((sum, row) => sum + row.minutes, 0);
  const cost = (wasted: boolean) =>
    Math.round(uses.reduce((sum, row) => sum + (row.wasted === wasted ? row.costMinor : 0), 0));
  return ok({
    from,
    to,
    currency,
    minutes,
    byOperation: minutesByOperation(times),
    byDay: minutesByDay(times),
    byBook: byBook(times, uses).map((row) => ({ ...row, finished: row.bookId !== null && done.has(row.bookId) })),
    finished,
    materials: byMaterial(uses),
    labourMinor: hourlyRateMinor > 0 ? Math.round((minutes / 60) * hourlyRateMinor) : null,
    materialsMinor: cost(false),
    wastedMinor: cost(true),
    estimates: estimatesAgainstActuals(jobsOf(store, period)),
  });
}

/** What finished steps were reckoned to take: as agreed, or by the published bands, never by what was learned from themselves. */
function jobsOf(store: Workshop, period: Between) {
  const tasks = finishedBetween(store.db, period);
  const steps = new Map(
    readSurveyed(store.db, [...new Set(tasks.map(({ bookId }) => bookId))]).map(({ book, findings, hazards, kept }) => {
      const agreed = agreedTreatment(store.db, book.id);
      return [
        book.id,
        { since: agreed?.agreedAt ?? 0, steps: agreed?.steps ?? propose(book, findings, hazards, { kept }).steps },
      ];
    }),
  );
  const library = libraryOf(store.db);
  return tasks.flatMap(({ bookId, operationId }) => {
    const of = steps.get(bookId);
    const step = of?.steps.find((one) => one.operationId === operationId);
    if (of === undefined || step === undefined) return [];
    const operation = library.byId(operationId)?.name ?? step.name;
    const actualMinutes = loggedMinutes(store.db, bookId, operationId, of.since);
    return [{ operation, estimatedMinutes: step.minutes.likely, actualMinutes }];
  });
}

/** Every part of the summary below the other, each row saying which part it belongs to. */
export function exportSummary(store: Workshop, period: Period): Result<FileAnswer> {
  const read = readSummary(store, period);
  if (!read.ok) return read;
  const { value } = read;
  const rows: (readonly string[])[] = [
    ['Part', 'What', 'Minutes', 'Times', 'Quantity', 'Unit', 'Spoilt', 'Cost, minor units', 'Ratio'],
  ];
  const put = (part: string, what: string, cells: Readonly<Record<string, string | number>>) => {
    const of = (name: string) => String(cells[name] ?? '');
    rows.push([
      part,
      what,
      of('minutes'),
      of('times'),
      of('quantity'),
      of('unit'),
      of('wasted'),
      of('cost'),
      of('ratio'),
    ]);
  };
  for (const row of value.byOperation) put('operation', row.operation, row);
  for (const row of value.byDay) put('day', row.day, row);
  for (const row of value.byBook) put('book', row.book, { minutes: row.minutes, cost: row.materialsMinor });
  for (const row of value.finished) put('finished', row.book, { quantity: row.on });
  for (const { material, costMinor, ...row } of value.materials) put('material', material, { ...row, cost: costMinor });
  for (const row of value.estimates) {
    put('estimated', row.operation, { minutes: row.estimatedMinutes, times: row.n });
    put('actual', row.operation, { minutes: row.actualMinutes, times: row.n, ratio: row.ratio.toFixed(3) });
  }
  put('in all', 'labour', { minutes: value.minutes, cost: value.labourMinor ?? '' });
  put('in all', 'materials used', { cost: value.materialsMinor });
  put('in all', 'materials spoilt', { cost: value.wastedMinor });
  const base64 = Buffer.from(writeTable(rows, ',')).toString('base64');
  return ok({ fileName: `day-book-${period.from}-${period.to}.csv`, mediaType: 'text/csv', base64 });
}
