/** Tells whether the file has changed since something was worked out of it. */
import type Database from 'better-sqlite3';
import { sql } from 'drizzle-orm';
import type { Reader } from './workshop.ts';

/**
 * Makes `epochOf` answerable on this connection. Returns what is to be called when a change is taken back before it was kept: SQLite
 * counts rows that changed, not that they changed back.
 */
export function countEpochs(raw: Database.Database): () => void {
  let rolledBack = 0;
  raw.function('rolled_back', { deterministic: false }, () => rolledBack);
  return () => {
    rolledBack += 1;
  };
}

/** Another word for every state of the file this connection has seen; the same word only for the same state. */
export function epochOf(db: Reader): string {
  return db.values<[string]>(sql`SELECT total_changes() || ' ' || rolled_back()`)[0]?.[0] ?? '';
}
