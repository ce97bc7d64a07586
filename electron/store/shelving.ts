/** Queries of saved views, places as a tree, and lots with what they cost. */
import { asc, count, eq } from 'drizzle-orm';
import type { LotDetails, PlaceNode, SavedView } from '../../core/contract/shelving.ts';
import { book, lot, place } from './schema.ts';
import { savedView } from './schema-shelf.ts';
import type { Reader } from './workshop.ts';

export function listViews(db: Reader): readonly SavedView[] {
  const rows = db.select().from(savedView).orderBy(asc(savedView.name)).all();
  // Checked at the contract when it was written.
  return rows.map((row) => ({ ...row, query: row.query as SavedView['query'] }));
}

export function placeTree(db: Reader): readonly PlaceNode[] {
  const rows = db
    .select({ id: place.id, parentId: place.parentId, name: place.name, books: count(book.id) })
    .from(place)
    .leftJoin(book, eq(book.placeId, place.id))
    .groupBy(place.id)
    .all();
  const within = new Map(rows.map(({ id, books }) => [id, books]));
  const parents = new Map(rows.map(({ id, parentId }) => [id, parentId]));
  for (const { id, books } of rows) {
    for (const above of placesAbove(id, parents)) within.set(above, (within.get(above) ?? 0) + books);
  }
  return rows
    .map((row) => ({ ...row, within: within.get(row.id) ?? 0 }))
    .toSorted((one, other) => one.name.localeCompare(other.name, undefined, { numeric: true }));
}

/** The places that hold a place, from the nearest outwards. */
export function placesAbove(id: string, parents: ReadonlyMap<string, string | null>): readonly string[] {
  const above: string[] = [];
  for (let at = parents.get(id) ?? null; at !== null && !above.includes(at); at = parents.get(at) ?? null)
    above.push(at);
  return above;
}

export function lotDetails(db: Reader): readonly LotDetails[] {
  return db
    .select({
      id: lot.id,
      name: lot.name,
      acquiredOn: lot.acquiredOn,
      costMinor: lot.costMinor,
      note: lot.note,
      books: count(book.id),
    })
    .from(lot)
    .leftJoin(book, eq(book.lotId, lot.id))
    .groupBy(lot.id)
    .all()
    .map((row) => ({
      ...row,
      perBookMinor: row.costMinor === null || row.books === 0 ? null : Math.round(row.costMinor / row.books),
    }))
    .toSorted((one, other) => one.name.localeCompare(other.name, undefined, { numeric: true }));
}
