/** The operations this workshop works with: those the program brings and its own, and treatments kept under a name. */
import { asc } from 'drizzle-orm';
import { assert } from '../../core/result.ts';
import { broughtLibrary, type Library, libraryWith } from '../../core/treatment/library.ts';
import type { Operation } from '../../core/treatment/operation.ts';
import { epochOf } from './epoch.ts';
import { ownOperation } from './schema-shelf.ts';
import type { Reader } from './workshop.ts';

export type OwnRow = typeof ownOperation.$inferSelect;

/** All versions of the workshop's own operations, oldest first. */
export function ownVersions(db: Reader): readonly OwnRow[] {
  return db.select().from(ownOperation).orderBy(asc(ownOperation.operationId), asc(ownOperation.version)).all();
}

/** The newest version of each that is not withdrawn. */
export function ownOperations(rows: readonly OwnRow[]): readonly Operation[] {
  const newest = new Map(rows.map((row) => [row.operationId, row]));
  return [...newest.values()]
    .filter((row) => !row.withdrawn)
    .map((row) => ({ ...row.definition, id: row.operationId, version: row.version }));
}

const kept = new WeakMap<object, Readonly<{ epoch: string; state: string; library: Library }>>();

/** The merged library; kept until the workshop's own operations change. */
export function libraryOf(db: Reader): Library {
  const epoch = epochOf(db);
  const known = kept.get(db);
  if (known?.epoch === epoch) return known.library;
  const rows = ownVersions(db);
  const state = rows.map(({ operationId, version }) => `${operationId} ${version}`).join('\n');
  const library = known?.state === state ? known.library : merged(rows);
  kept.set(db, { epoch, state, library });
  return library;
}

function merged(rows: readonly OwnRow[]): Library {
  if (rows.length === 0) return broughtLibrary;
  const library = libraryWith(ownOperations(rows));
  assert(library.ok, 'operations in the file were checked when they were written');
  return library.value;
}

/**
 * Tells one state of the library from another in the column that also holds the version of the rules: assessments of another state are
 * worked out anew.
 */
export function libraryStamp(db: Reader): number {
  const rows = ownVersions(db);
  let stamp = 0;
  for (const { operationId, version } of rows) {
    for (const letter of `${operationId} ${version};`) stamp = (stamp * 31 + (letter.codePointAt(0) ?? 0)) % 1_000_003;
  }
  return stamp;
}
