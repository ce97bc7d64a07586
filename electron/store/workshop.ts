/**
 * An open workshop: a folder with `workshop.sqlite`, `photographs/` and `backups/`, held by one process at a time.
 *
 * Reading goes through `db` (drizzle) or `raw`; both refuse to write. Changing goes through `write` alone, which journals every row
 * before and after, so that `undo` and `redo` work after a restart as well.
 */
import type Database from 'better-sqlite3';
import type { BetterSQLite3Database } from 'drizzle-orm/better-sqlite3';
import type { HistoryLine } from '../../core/contract/workshop.ts';
import type { Result } from '../../core/result.ts';
import type { DerivedTable, JournalledTable } from './tables.ts';

/** What reading needs of drizzle; writing is left to `write`. */
export type Reader = Pick<
  BetterSQLite3Database,
  'select' | 'selectDistinct' | 'all' | 'get' | 'values' | '$count' | '$with' | 'with'
>;

/** A row as it is put in: columns that may be null may be left out, and so may the id, which is then a new one. */
export type Draft<T extends JournalledTable> = Omit<T['$inferInsert'], 'id'> & { id?: string };
export type Patch<T extends JournalledTable> = Partial<Omit<T['$inferInsert'], 'id'>>;

/** The one writer, as the work inside `write` sees it. */
export type Change = Readonly<{
  /** Puts in a row and returns its id. */
  insert<T extends JournalledTable>(table: T, row: Draft<T>): string;
  /** Changes the named columns of a row; refuses where the row is no longer there. Equal values are no change. */
  update<T extends JournalledTable>(table: T, id: string, patch: Patch<T>): void;
  /** Removes a row; refuses where it is no longer there or other rows still need it. */
  remove(table: JournalledTable, id: string): void;
  /** Gives the whole write up: nothing is kept and `write` returns this refusal. */
  refuse(sentence: string, field?: string): never;
}>;

/** Writes rows that follow from other rows. Never journalled; only within a write, an undo or a redo. */
export type Derived = Readonly<{
  put<T extends DerivedTable>(table: T, row: T['$inferInsert']): void;
}>;

export type Workshop = Readonly<{
  folder: string;
  db: Reader;
  raw: Database.Database;
  /**
   * Runs `work` in one transaction and one journal entry labelled in words as undo will show it ("Take in 160 books from list.csv").
   * A full disk, a read-only folder, a taken shelf mark and the like come back as refusals and nothing is kept; defects are thrown.
   * `work` must not wait for anything and must not write within a write.
   */
  write<T>(label: string, work: (change: Change) => T): Result<T>;
  /** Takes back the newest change that stands, as a new journal entry. */
  undo(): Result<Readonly<{ label: string }>>;
  /** Does again what was last undone; a new change in between forgets it. */
  redo(): Result<Readonly<{ label: string }>>;
  /** Labels of what `undo` and `redo` would do now. */
  next(): Readonly<{ undo: string | null; redo: string | null }>;
  /** The newest lines of the journal, newest first. */
  history(limit: number): readonly HistoryLine[];
  /**
   * Calls back in the same transaction after every do, undo and redo with the books (still there) whose row, findings, hazards or
   * treatments changed. One callback at a time; what it derives is put with `derived.put`.
   */
  onBooksTouched(callback: (bookIds: readonly string[], derived: Derived) => void): void;
  /** Works the derived rows of these books out anew, outside the journal; for a new version of the rules. */
  refresh(bookIds: readonly string[]): Result<void>;
  close(): void;
}>;
