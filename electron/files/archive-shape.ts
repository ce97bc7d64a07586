/** What a workshop's zip holds: agreed by the one that packs and the one that unpacks, and told to people in its README. */
import { z } from 'zod';

/** Raised when a zip of this program can no longer be read by the one before. */
export const archiveForm = 1;

const count = z.int().min(0).max(1e9);

/** `manifest.json`. What it says is believed only where it agrees with what is found. */
export const manifestShape = z.object({
  program: z.literal('kettlestitch'),
  form: z.int().min(1),
  madeBy: z.string().max(100),
  madeAt: z.int().min(0).max(8.64e15),
  workshop: z.string().max(20_000),
  /** Number of the last migration of the database. */
  databaseVersion: z.int().min(1).max(100_000),
  databaseSha256: z.string().regex(/^[0-9a-f]{64}$/),
  tables: z.record(z.string().regex(/^\w{1,60}$/), count),
  photographs: count,
});
export type Manifest = Readonly<z.infer<typeof manifestShape>>;

export const databaseName = 'workshop.sqlite';
export const manifestName = 'manifest.json';

/** Original photographs by the SHA-256 of their bytes; the folder is its first two figures. */
export const photographName = /^photographs\/([0-9a-f]{2})\/(\1[0-9a-f]{62})\.[a-z0-9]{1,5}$/;

/** Every other file that may be in such a zip. */
const plainNames = /^(?:README\.txt|terms\.json|manifest\.json|workshop\.sqlite|(?:json|csv)\/\w{1,60}\.(?:json|csv))$/;

export function belongs(name: string): boolean {
  return plainNames.test(name) || photographName.test(name);
}

/** Tables of the search index and SQLite's own say nothing that is not in the others. */
export function isOwnTable(name: string): boolean {
  return !/^(?:sqlite_|book_search)/.test(name);
}
