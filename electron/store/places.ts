/** Lots and places by the names a person knows them by. */
import { count, eq } from 'drizzle-orm';
import type { Lot, Place } from '../../core/contract/shelf.ts';
import { book, lot, place } from './schema.ts';
import type { Change, Reader } from './workshop.ts';

/** Between a place and the place it is in. */
const within = ' › ';

export function listLots(db: Reader): readonly Lot[] {
  return db
    .select({ id: lot.id, name: lot.name, books: count(book.id) })
    .from(lot)
    .leftJoin(book, eq(book.lotId, lot.id))
    .groupBy(lot.id)
    .all()
    .toSorted(byName);
}

export function listPlaces(db: Reader): readonly Place[] {
  const names = placeNames(db);
  return db
    .select({ id: place.id, books: count(book.id) })
    .from(place)
    .leftJoin(book, eq(book.placeId, place.id))
    .groupBy(place.id)
    .all()
    .map((row) => ({ ...row, name: names.get(row.id) ?? '' }))
    .toSorted(byName);
}

/** Every place by its whole path. */
export function placeNames(db: Reader): ReadonlyMap<string, string> {
  const rows = new Map(
    db
      .select()
      .from(place)
      .all()
      .map((row) => [row.id, row]),
  );
  const names = new Map<string, string>();
  for (const [id, row] of rows) {
    const path = [row.name];
    const seen = new Set([id]);
    let parent = row.parentId;
    while (parent !== null && !seen.has(parent)) {
      seen.add(parent);
      const above = rows.get(parent);
      if (above !== undefined) path.unshift(above.name);
      parent = above?.parentId ?? null;
    }
    names.set(id, path.join(within));
  }
  return names;
}

/** The lot of this name, made if there is none; null for an empty name. */
export function lotNamed(db: Reader, change: Change, name: string): string | null {
  const wanted = tidy(name);
  if (wanted === '') return null;
  const known = db
    .select()
    .from(lot)
    .all()
    .find((row) => same(row.name, wanted));
  return known?.id ?? change.insert(lot, { name: wanted, note: '' });
}

/** The place of this path, with the places it is in made as needed; null for an empty name. */
export function placeNamed(db: Reader, change: Change, path: string): string | null {
  const rows = db.select().from(place).all();
  let id: string | null = null;
  for (const name of path.split(/[›>]/).map(tidy)) {
    if (name === '') continue;
    const parentId: string | null = id;
    const known: typeof place.$inferSelect | undefined = rows.find(
      (row) => row.parentId === parentId && same(row.name, name),
    );
    id = known?.id ?? change.insert(place, { name, parentId });
  }
  return id;
}

function tidy(name: string): string {
  return name.trim().replace(/\s+/g, ' ');
}

function same(one: string, other: string): boolean {
  return one.localeCompare(other, undefined, { sensitivity: 'accent' }) === 0;
}

function byName(one: Readonly<{ name: string }>, other: Readonly<{ name: string }>): number {
  return one.name.localeCompare(other.name, undefined, { numeric: true });
}
