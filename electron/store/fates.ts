/** Queries for deciding fates: which books are to be weighed, what lies in the drawer, which courses are still to come. */
import { and, inArray, isNull } from 'drizzle-orm';
import { matterOf } from '../../core/triage/old-material.ts';
import { scoreIn } from './ranking.ts';
import { piece } from './schema.ts';
import type { Reader, Workshop } from './workshop.ts';

/** Surveyed, not yet begun, not on a course. */
const surveyed = `
  FROM book b JOIN assessment a ON a.book_id = b.id
  WHERE b.stage IN ('waiting', 'surveyed', 'agreed')
    AND EXISTS (SELECT 1 FROM finding f WHERE f.book_id = b.id)
    AND NOT EXISTS (SELECT 1 FROM course_copy c WHERE c.book_id = b.id)`;
/** Of a book with a possible hazard nothing is decided before somebody has looked. */
const undecided = `${surveyed} AND a.hazard_open = 0`;

export type Counts = Readonly<{ open: number; locked: number; toLookAt: number; unsurveyed: number }>;

export function countUndecided({ raw }: Workshop): Counts {
  const counted = raw
    .prepare(
      `SELECT count(*) FILTER (WHERE b.fate_locked = 0) AS open, count(*) FILTER (WHERE b.fate_locked = 1) AS locked ${undecided}`,
    )
    .get() as { open: number; locked: number };
  const toLookAt = raw.prepare(`SELECT count(*) ${surveyed} AND a.hazard_open = 1`).pluck().get() as number;
  const unsurveyed = raw
    .prepare(
      "SELECT count(*) FROM book b WHERE b.stage = 'waiting' AND NOT EXISTS (SELECT 1 FROM finding f WHERE f.book_id = b.id)",
    )
    .pluck()
    .get() as number;
  return { ...counted, toLookAt, unsurveyed };
}

/**
 * Ids of the books to weigh, at most `most`: those a person has decided first, since they use up hours whatever happens, then up to a
 * quarter that by themselves suggest practice or salvage, then the rest by attention.
 */
export function booksToDecide({ raw }: Workshop, most: number): readonly string[] {
  const pick = (where: string, limit: number) =>
    raw
      .prepare(`SELECT b.id ${undecided} AND ${where} ORDER BY ${scoreIn('a')} DESC, b.id LIMIT ?`)
      .pluck()
      .all(Math.max(0, limit)) as string[];
  const locked = pick('b.fate_locked = 1', most);
  const useful = pick("b.fate_locked = 0 AND a.suggested_fate IN ('practice', 'salvage')", Math.floor(most / 4));
  const chosen = new Set([...locked, ...useful]);
  for (const id of pick('b.fate_locked = 0', most)) {
    if (chosen.size >= most) break;
    chosen.add(id);
  }
  return [...chosen];
}

/** Old material in the drawer that nobody has a claim on, in square centimetres by its name. */
export function drawerMatter(db: Reader): ReadonlyMap<string, number> {
  const rows = db
    .select()
    .from(piece)
    .where(and(isNull(piece.usedAt), isNull(piece.reservedBookId), inArray(piece.kind, ['book cloth', 'endpaper'])))
    .all();
  const held = new Map<string, number>();
  for (const row of rows) {
    // What is left of a new sheet can be bought again.
    if (row.materialId !== null) continue;
    const matter = matterOf(row);
    if (matter === null) continue;
    held.set(matter, (held.get(matter) ?? 0) + (row.heightUm / 10_000) * (row.widthUm / 10_000));
  }
  return held;
}
