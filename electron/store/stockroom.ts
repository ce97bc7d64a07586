/** Queries of the Stockroom: materials with what is on hand, the ledger, what is on its way, what was used by week, what was agreed to. */
import { and, asc, desc, eq, inArray, isNull, min, notInArray, sql } from 'drizzle-orm';
import type { Material, MovementKind } from '../../core/stock/material.ts';
import { arrival, book, material, movement, treatment } from './schema.ts';
import type { Reader } from './workshop.ts';

export type StockedRow = Readonly<{ material: Material; onHandMillionths: number }>;

/** Every material by name, each with the sum of its ledger. */
export function listStocked(db: Reader): readonly StockedRow[] {
  const sums = new Map(
    db
      .select({ id: movement.materialId, sum: sql<number>`sum(${movement.quantityMillionths})` })
      .from(movement)
      .groupBy(movement.materialId)
      .all()
      .map(({ id, sum }) => [id, sum]),
  );
  return db
    .select()
    .from(material)
    .orderBy(asc(material.name), asc(material.id))
    .all()
    .map((row) => ({ material: materialOf(row), onHandMillionths: sums.get(row.id) ?? 0 }));
}

export function materialById(db: Reader, id: string): Material | null {
  const row = db.select().from(material).where(eq(material.id, id)).get();
  return row ? materialOf(row) : null;
}

function materialOf(row: typeof material.$inferSelect): Material {
  const mm = (micrometres: number | null) => (micrometres === null ? null : micrometres / 1000);
  return {
    id: row.id,
    name: row.name,
    kind: row.kind as Material['kind'],
    unit: row.unit as Material['unit'],
    packQuantity: row.packMillionths / 1e6,
    packPriceMinor: row.packPriceMinor,
    supplier: row.supplier,
    leadDays: row.leadDays,
    shelfLifeDays: row.shelfLifeDays,
    sheetHeightMm: mm(row.sheetHeightUm),
    sheetWidthMm: mm(row.sheetWidthUm),
    grain: row.grain as Material['grain'],
    caliperMm: mm(row.caliperUm),
    colour: row.colour,
    place: row.place,
    note: row.note,
    hazardSheet: row.hazardSheet,
  };
}

export type MovementRow = Readonly<{
  id: string;
  materialId: string;
  kind: MovementKind;
  quantityMillionths: number;
  at: number;
  reason: string;
  bookId: string | null;
  courseId: string | null;
  lotId: string | null;
  bookingId: string | null;
  madeLotId: string | null;
  book: string;
}>;

const movementColumns = {
  id: movement.id,
  materialId: movement.materialId,
  kind: sql<MovementKind>`${movement.kind}`,
  quantityMillionths: movement.quantityMillionths,
  at: movement.at,
  reason: movement.reason,
  bookId: movement.bookId,
  courseId: movement.courseId,
  lotId: movement.lotId,
  bookingId: movement.bookingId,
  madeLotId: movement.madeLotId,
  book: sql<string>`coalesce(${book.title}, '')`,
};

/** The ledger, oldest first; of one material or of all. */
export function listMovements(db: Reader, materialId?: string): readonly MovementRow[] {
  return db
    .select(movementColumns)
    .from(movement)
    .leftJoin(book, eq(book.id, movement.bookId))
    .where(materialId === undefined ? undefined : eq(movement.materialId, materialId))
    .orderBy(asc(movement.at), asc(movement.id))
    .all();
}

export function movementById(db: Reader, id: string): MovementRow | null {
  const row = db
    .select(movementColumns)
    .from(movement)
    .leftJoin(book, eq(book.id, movement.bookId))
    .where(eq(movement.id, id))
    .get();
  return row ?? null;
}

export function onHandMillionths(db: Reader, materialId: string): number {
  return (
    db
      .select({ sum: sql<number | null>`sum(${movement.quantityMillionths})` })
      .from(movement)
      .where(eq(movement.materialId, materialId))
      .get()?.sum ?? 0
  );
}

export type ArrivalRow = typeof arrival.$inferSelect;

/** What is ordered and has not come, the soonest first. */
export function openArrivals(db: Reader): readonly ArrivalRow[] {
  return db.select().from(arrival).where(isNull(arrival.receivedAt)).orderBy(asc(arrival.dueOn), asc(arrival.id)).all();
}

const weekMs = 7 * 86_400_000;
const mostWeeks = 26;

/**
 * What went out or was wasted in each of the whole weeks up to now, oldest first, in the material's unit, since its ledger began and at most
 * half a year back; by material. Lines that answer others count against them.
 */
export function usedByWeek(db: Reader, now: number): ReadonlyMap<string, readonly number[]> {
  const starts = db
    .select({ id: movement.materialId, first: min(movement.at) })
    .from(movement)
    .groupBy(movement.materialId)
    .all();
  const back = sql<number>`cast((${now} - ${movement.at}) / ${weekMs} as integer)`;
  const sums = db
    .select({ id: movement.materialId, back, sum: sql<number>`-sum(${movement.quantityMillionths})` })
    .from(movement)
    .where(
      and(
        inArray(movement.kind, ['out', 'wasted']),
        sql`${movement.at} <= ${now} and ${movement.at} > ${now - mostWeeks * weekMs}`,
      ),
    )
    .groupBy(movement.materialId, back)
    .all();
  const weeks = new Map<string, number[]>();
  for (const { id, first } of starts) {
    const whole = Math.floor((now - (first ?? now)) / weekMs);
    weeks.set(id, new Array<number>(Math.max(0, Math.min(mostWeeks, whole))).fill(0));
  }
  for (const { id, back: weeksBack, sum } of sums) {
    const of = weeks.get(id);
    const index = (of?.length ?? 0) - 1 - weeksBack;
    if (of && index >= 0) of[index] = Math.max(0, sum / 1e6);
  }
  return weeks;
}

/** Books with an agreed treatment that are not done, the earliest agreed first. */
export function agreedBooks(db: Reader): readonly string[] {
  return db
    .select({ id: treatment.bookId })
    .from(treatment)
    .innerJoin(book, eq(book.id, treatment.bookId))
    .where(notInArray(book.stage, ['done']))
    .groupBy(treatment.bookId)
    .orderBy(asc(sql`max(${treatment.agreedAt})`), desc(treatment.bookId))
    .all()
    .map((row) => row.id);
}
