/** Queries for sizing up the backlog: the unsurveyed books by stratum, the sample that is kept, what was found in its books. */
import type { StrataBy } from '../../core/contract/backlog.ts';
import type { Stratum } from '../../core/triage/sample.ts';
import { placeNames } from './places.ts';
import { backlogSample } from './schema.ts';
import type { Reader, Workshop } from './workshop.ts';

const unsurveyed = "b.stage = 'waiting' AND NOT EXISTS (SELECT 1 FROM finding f WHERE f.book_id = b.id)";

/** Books nobody has noted anything of, by lot, by the outermost place they stand in, or all together. */
export function unsurveyedBy({ raw, db }: Workshop, by: StrataBy): readonly Stratum[] {
  const rows = raw
    .prepare(
      `SELECT b.id, b.place_id AS placeId, l.name AS lot FROM book b LEFT JOIN lot l ON l.id = b.lot_id WHERE ${unsurveyed} ORDER BY b.id`,
    )
    .all() as Readonly<{ id: string; placeId: string | null; lot: string | null }>[];
  const names = placeNames(db);
  const nameOf = (row: (typeof rows)[number]) => {
    if (by === 'nothing') return '';
    if (by === 'lot') return row.lot ?? 'no lot';
    return names.get(row.placeId ?? '')?.split(' › ')[0] ?? 'no place';
  };
  return [...Map.groupBy(rows, nameOf)]
    .map(([name, books]) => ({ name, ids: books.map(({ id }) => id) }))
    .sort((one, other) => one.name.localeCompare(other.name, 'en', { numeric: true }));
}

/** The sample that is kept; there is one at most. */
export function keptSample(db: Reader): typeof backlogSample.$inferSelect | null {
  return db.select().from(backlogSample).all().at(-1) ?? null;
}

export type DrawnBook = Readonly<{
  id: string;
  title: string;
  shelfMark: string | null;
  place: string;
  surveyed: boolean;
  minutes: number;
  hazard: boolean;
}>;

/** The drawn books that are still on the shelf. */
export function drawnBooks({ raw, db }: Workshop, ids: readonly string[]): readonly DrawnBook[] {
  const names = placeNames(db);
  const rows = raw
    .prepare(
      `SELECT b.id, b.title, b.shelf_mark AS shelfMark, b.place_id AS placeId, NOT (${unsurveyed}) AS surveyed,
         a.minutes_likely AS minutes,
         EXISTS (SELECT 1 FROM hazard h WHERE h.book_id = b.id AND h.state <> 'cleared') AS hazard
       FROM json_each(?) j JOIN book b ON b.id = j.value JOIN assessment a ON a.book_id = b.id`,
    )
    .all(JSON.stringify(ids)) as Readonly<{
    id: string;
    title: string;
    shelfMark: string | null;
    placeId: string | null;
    surveyed: number;
    minutes: number;
    hazard: number;
  }>[];
  return rows.map(({ placeId, surveyed, hazard, ...row }) => ({
    ...row,
    place: names.get(placeId ?? '') ?? '',
    surveyed: surveyed === 1,
    hazard: hazard === 1,
  }));
}
