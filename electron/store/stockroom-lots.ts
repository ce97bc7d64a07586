/** Queries of lots: what is left of each, what they cost, and the lines of the ledger that move them. */
import { and, asc, eq, sql } from 'drizzle-orm';
import type { LotBalance, Portion } from '../../core/stock/lots.ts';
import { movement, stockLot } from './schema.ts';
import type { Change, Draft, Reader } from './workshop.ts';

export type LotRow = LotBalance &
  Readonly<{
    materialId: string;
    supplier: string;
    costMinor: number | null;
    number: string;
    note: string;
    /** All that ever came into it. */
    receivedMillionths: number;
  }>;

/** Every lot with the sum of its movements; what is in no lot as a row of its own where there ever was any. Of one material or of all. */
export function listLots(db: Reader, materialId?: string): readonly LotRow[] {
  const sums = db
    .select({
      materialId: movement.materialId,
      lotId: movement.lotId,
      quantityMillionths: sql<number>`sum(${movement.quantityMillionths})`,
      receivedMillionths: sql<number>`sum(case when ${movement.kind} = 'in' then ${movement.quantityMillionths} else 0 end)`,
      lot: stockLot,
    })
    .from(movement)
    .leftJoin(stockLot, eq(stockLot.id, movement.lotId))
    .where(materialId === undefined ? undefined : eq(movement.materialId, materialId))
    .groupBy(movement.materialId, movement.lotId)
    .all();
  return sums.map(({ lot, ...row }) => ({
    ...row,
    receivedOn: lot?.receivedOn ?? '',
    bestBefore: lot?.bestBefore ?? null,
    supplier: lot?.supplier ?? '',
    costMinor: lot?.costMinor ?? null,
    number: lot?.number ?? '',
    note: lot?.note ?? '',
  }));
}

/** Ids of the lines that moved a batch: what went into it and what came of it, oldest first. */
export function batchLines(db: Reader, lotId: string): readonly string[] {
  const inputs = db
    .select({ id: movement.id })
    .from(movement)
    .where(eq(movement.madeLotId, lotId))
    .orderBy(asc(movement.id))
    .all();
  if (inputs.length === 0) return [];
  const output = db
    .select({ id: movement.id })
    .from(movement)
    .where(and(eq(movement.lotId, lotId), eq(movement.kind, 'in')))
    .orderBy(asc(movement.id))
    .all();
  return [...inputs, ...output].map((row) => row.id);
}

/** Enters a line of the ledger for each portion; answers their ids. */
export function putPortions(
  change: Change,
  portions: readonly Portion[],
  rest: Omit<Draft<typeof movement>, 'id' | 'lotId' | 'quantityMillionths'>,
): readonly string[] {
  return portions.map((portion) => change.insert(movement, { ...rest, ...portion }));
}
