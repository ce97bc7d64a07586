/** Queries of the Day-book. */
import { and, asc, desc, eq, gte, inArray, isNotNull, lt } from 'drizzle-orm';
import type { DayEntry } from '../../core/contract/daybook.ts';
import type { StockUnit } from '../../core/stock/material.ts';
import { libraryOf } from './operations.ts';
import { book, entry, material, movement, plan, planTask } from './schema.ts';
import type { Reader } from './workshop.ts';

/** From an instant on, up to another. */
export type Between = Readonly<{ from: number; to: number }>;

/** The newest entries first, of one book or of all. */
export function listEntries(db: Reader, bookId: string | undefined, limit: number): readonly DayEntry[] {
  return readEntries(db, bookId === undefined ? undefined : eq(entry.bookId, bookId), limit);
}

export function entriesBetween(db: Reader, { from, to }: Between): readonly DayEntry[] {
  return readEntries(db, and(gte(entry.at, from), lt(entry.at, to)), -1);
}

function readEntries(db: Reader, where: ReturnType<typeof and>, limit: number): readonly DayEntry[] {
  const corrected = new Set(
    db
      .select({ answers: entry.answers })
      .from(entry)
      .where(isNotNull(entry.answers))
      .all()
      .map(({ answers }) => answers),
  );
  const library = libraryOf(db);
  return db
    .select({ entry, title: book.title })
    .from(entry)
    .leftJoin(book, eq(book.id, entry.bookId))
    .where(where)
    .orderBy(desc(entry.at), desc(entry.id))
    .limit(limit)
    .all()
    .map(({ entry: row, title }) => ({
      id: row.id,
      at: row.at,
      bookId: row.bookId,
      book: title,
      operationId: row.operationId,
      operation: row.operationId === null ? null : (library.byId(row.operationId)?.name ?? row.operationId),
      minutes: row.minutes,
      note: row.note,
      answers: row.answers,
      corrected: corrected.has(row.id),
    }));
}

export type UsedRow = Readonly<{
  movementId: string;
  at: number;
  kind: string;
  bookId: string | null;
  book: string | null;
  materialId: string;
  material: string;
  unit: StockUnit;
  quantityMillionths: number;
  lotId: string | null;
  madeLotId: string | null;
  reason: string;
  packMillionths: number;
  packPriceMinor: number;
}>;

/** Lines of the ledger that took something out or wrote it off, oldest first, with the lines that answer them. */
export function usedBetween(db: Reader, { from, to }: Between): readonly UsedRow[] {
  return db
    .select({ movement, title: book.title, material })
    .from(movement)
    .innerJoin(material, eq(material.id, movement.materialId))
    .leftJoin(book, eq(book.id, movement.bookId))
    .where(and(inArray(movement.kind, ['out', 'wasted']), gte(movement.at, from), lt(movement.at, to)))
    .orderBy(asc(movement.at), asc(movement.id))
    .all()
    .map(({ movement: row, title, material: of }) => ({
      movementId: row.id,
      at: row.at,
      kind: row.kind,
      bookId: row.bookId,
      book: title,
      materialId: of.id,
      material: of.name,
      unit: of.unit as StockUnit,
      quantityMillionths: row.quantityMillionths,
      lotId: row.lotId,
      madeLotId: row.madeLotId,
      reason: row.reason,
      packMillionths: of.packMillionths,
      packPriceMinor: of.packPriceMinor,
    }));
}

export type FinishedTask = Readonly<{ bookId: string; operationId: string; finishedAt: number }>;

/** Hand-work of bench weeks that was finished in the period, each step once. */
export function finishedBetween(db: Reader, { from, to }: Between): readonly FinishedTask[] {
  const rows = db
    .select({ bookId: planTask.bookId, operationId: planTask.operationId, finishedAt: planTask.finishedAt })
    .from(planTask)
    .innerJoin(plan, eq(plan.id, planTask.planId))
    .where(
      and(
        eq(plan.kind, 'week'),
        eq(planTask.kind, 'hands'),
        eq(planTask.state, 'finished'),
        gte(planTask.finishedAt, from),
        lt(planTask.finishedAt, to),
      ),
    )
    .all();
  const once = new Map(rows.map((row) => [`${row.bookId} ${row.operationId} ${row.finishedAt}`, row]));
  return [...once.values()].flatMap(({ bookId, operationId, finishedAt }) =>
    bookId === null || operationId === null || finishedAt === null ? [] : [{ bookId, operationId, finishedAt }],
  );
}

/** Books that are done whose last step was finished in the period, with when. */
export function booksDoneBetween(
  db: Reader,
  { from, to }: Between,
): readonly Readonly<{ bookId: string; book: string; at: number }>[] {
  const last = new Map<string, Readonly<{ bookId: string; book: string; at: number }>>();
  const rows = db
    .select({ bookId: book.id, title: book.title, at: planTask.finishedAt })
    .from(planTask)
    .innerJoin(book, eq(book.id, planTask.bookId))
    .innerJoin(plan, eq(plan.id, planTask.planId))
    .where(
      and(
        eq(plan.kind, 'week'),
        eq(book.stage, 'done'),
        eq(planTask.state, 'finished'),
        isNotNull(planTask.finishedAt),
      ),
    )
    .orderBy(asc(planTask.finishedAt))
    .all();
  for (const { bookId, title, at } of rows) last.set(bookId, { bookId, book: title, at: at ?? 0 });
  return [...last.values()].filter(({ at }) => at >= from && at < to);
}
