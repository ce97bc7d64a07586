/**
 * An open workshop: a folder with `workshop.sqlite`, `photographs/` and `backups/`, held by one process at a time.
 *
 * Reading goes through `db` (drizzle) or `raw`; both refuse to write. Changing goes through `write` alone, which journals every row
 * before and after, so that `undo` and `redo` work after a restart as well.
 */
import { existsSync, mkdirSync, readdirSync, realpathSync, renameSync, rmSync, statSync } from 'node:fs';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import type { BetterSQLite3Database } from 'drizzle-orm/better-sqlite3';
import { drizzle } from 'drizzle-orm/better-sqlite3';
import { v7 as uuidv7 } from 'uuid';
import { type BackupKind, isBackupDue } from '../../core/archive/backups.ts';
import type { Habits, HistoryLine } from '../../core/contract/workshop.ts';
import type { Result } from '../../core/result.ts';
import { assert, ok, refuse } from '../../core/result.ts';
import { keepAssessments } from './assessments.ts';
import { backUp, listBackups } from './backups.ts';
import { applicationId, examine, findWorkshop, holdFolder, refuseUnwritable } from './folder.ts';
import { isTimeZone } from './habits.ts';
import { openJournal } from './journal.ts';
import type { Step } from './migrate.ts';
import { migrate, readSteps } from './migrate.ts';
import { sweepOriginals } from './photographs.ts';
import { workshop as workshopTable } from './schema.ts';
import type { DerivedTable, JournalledTable } from './tables.ts';
import { sayDiskTrouble } from './trouble.ts';
import { keepUp } from './upkeep.ts';

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
   * treatments changed. One callback at a time, at first the one that keeps the
   * assessments; what it derives is put with `derived.put`.
   */
  onBooksTouched(callback: (bookIds: readonly string[], derived: Derived) => void): void;
  /** Works the derived rows of these books out anew, outside the journal; for a new version of the rules. */
  refresh(bookIds: readonly string[]): Result<void>;
  /** Books still to be worked out by new rules or new operations, of how many; both 0 when all are. They show what was known before. */
  upkeep(): Readonly<{ left: number; of: number }>;
  /**
   * False when the file is no longer where it was opened: the folder was moved or a stick pulled. Writing is refused then, because what goes
   * to a file that has no name any more is lost.
   */
  isThere(): boolean;
  close(): void;
}>;

export type OpenOptions = Readonly<{
  /** UTC milliseconds; the journal and the backups are dated by it. */
  now?: () => number;
  /** The migrations to know of; those shipped with the program unless a test says otherwise. */
  steps?: readonly Step[];
  /** Told in a sentence what could not be done but does not keep the workshop shut. */
  note?: (words: string) => void;
}>;

export type NewWorkshop = Readonly<{ name: string; timeZone: string; currency: string; isDemo?: boolean }> &
  Partial<Habits>;

/** Monday to Friday, two sittings of three and a half hours: common practice, no source. A person sets their own. */
const usualDay: readonly [number, number][] = [
  [9 * 60, 12 * 60 + 30],
  [13 * 60 + 30, 17 * 60],
];
const dayMs = 86_400_000;
const usualWeek = [usualDay, usualDay, usualDay, usualDay, usualDay, [], []].map((day) => [...day]);

/**
 * Opens the workshop in a folder. Refuses, and changes nothing, where the folder is missing or holds none, where another program has it
 * open, where a newer version made it, where its file is damaged, and where it cannot be written to. Before a migration, and once a day,
 * the file is copied into `backups/`.
 */
export function openWorkshop(folder: string, options: OpenOptions = {}): Result<Workshop> {
  const steps = options.steps ?? readSteps();
  const now = options.now ?? Date.now;
  let found: Result<string>;
  try {
    found = findWorkshop(folder, steps.length);
  } catch (error) {
    return refuseUnwritable(folder, error);
  }
  if (!found.ok) return found;
  const home = found.value;
  const held = holdFolder(home);
  if (!held.ok) return held;
  let opened = false;
  let raw: Database.Database | null = null;
  try {
    const version = examine(home, steps.length);
    if (!version.ok) return version;
    if (version.value < steps.length) backUpAtRest(home, version.value, now(), 'before an update');
    else if (isBackupDue(listBackups(home), now(), dayMs)) backUpIfRoom(home, version.value, now(), options.note);
    const connection = connect(home);
    raw = connection;
    migrate(connection, steps);
    mkdirSync(join(home, 'photographs'), { recursive: true });
    sweepOriginals(connection, home, now());
    connection.pragma('query_only = ON');
    const db = drizzle(connection);
    const journal = openJournal(connection, now);
    const assessments = keepAssessments(db);
    journal.onBooksTouched(assessments.assessBooks);
    const upkeep = keepUp(journal, assessments, (words) => options.note?.(words));
    upkeep.look();
    let closed = false;
    const close = () => {
      if (closed) return;
      closed = true;
      upkeep.stop();
      connection.close();
      held.value.release();
    };
    const file = join(home, 'workshop.sqlite');
    const { ino, dev } = statSync(file);
    const isThere = () => {
      try {
        const found = statSync(file);
        return found.ino === ino && found.dev === dev;
      } catch {
        // A disk that does not answer has no file either.
        return false;
      }
    };
    const whereItWas = <T>(act: () => Result<T>): Result<T> => (isThere() ? act() : refuse(sayGone(home)));
    opened = true;
    return ok({
      folder: home,
      db,
      raw: connection,
      ...journal,
      write: (label, work) => whereItWas(() => upkeep.after(journal.write(label, work))),
      undo: () => whereItWas(() => upkeep.after(journal.undo())),
      redo: () => whereItWas(() => upkeep.after(journal.redo())),
      upkeep: upkeep.state,
      isThere,
      close,
    });
  } catch (error) {
    return refuseUnwritable(home, error);
  } finally {
    // Whatever stopped it, the folder is free for the next try.
    if (!opened) {
      raw?.close();
      held.value.release();
    }
  }
}

function sayGone(home: string): string {
  return `The folder ${home} is no longer there: was it moved, or the stick pulled out? Nothing of this change was kept; all before it was. Put the folder back and open the workshop again.`;
}

/** Makes a workshop in a folder that does not exist yet or is empty, and opens it. */
export function createWorkshop(folder: string, habits: NewWorkshop, options: OpenOptions = {}): Result<Workshop> {
  if (!isTimeZone(habits.timeZone)) return refuse(`There is no time zone called ${habits.timeZone}.`, 'timeZone');
  try {
    mkdirSync(folder, { recursive: true });
    const home = realpathSync(folder);
    if (existsSync(join(home, 'workshop.sqlite'))) return refuse(`There is a workshop in ${folder} already.`, 'folder');
    const strangers = readdirSync(home).filter((name) => !name.startsWith('.') && !ownNames.has(name));
    if (strangers.length > 0) {
      return refuse(
        `The folder ${folder} already holds something else (${strangers[0]}). Choose an empty or a new folder.`,
        'folder',
      );
    }
    const held = holdFolder(home);
    if (!held.ok) return held;
    try {
      makeFile(home, habits, options.steps ?? readSteps(), (options.now ?? Date.now)());
    } finally {
      held.value.release();
    }
  } catch (error) {
    return refuseUnwritable(folder, error);
  }
  return openWorkshop(folder, options);
}

const unfinished = 'workshop.unfinished';
const ownNames: ReadonlySet<string> = new Set([
  'workshop.lock',
  'backups',
  'photographs',
  'thumbnails',
  unfinished,
  `${unfinished}-journal`,
]);

/** The file takes its name only once it is whole, so that a plug pulled meanwhile leaves no half workshop. */
function makeFile(home: string, habits: NewWorkshop, steps: readonly Step[], now: number): void {
  const file = join(home, unfinished);
  for (const old of [file, `${file}-journal`]) rmSync(old, { force: true });
  mkdirSync(join(home, 'photographs'), { recursive: true });
  mkdirSync(join(home, 'backups'), { recursive: true });
  const raw = new Database(file);
  try {
    raw.pragma(`application_id = ${applicationId}`);
    migrate(raw, steps);
    drizzle(raw)
      .insert(workshopTable)
      .values({
        id: uuidv7(),
        name: habits.name,
        timeZone: habits.timeZone,
        currency: habits.currency,
        units: habits.units ?? 'mm',
        weekHours: habits.weekHours ?? usualWeek,
        daysOff: habits.daysOff ?? [],
        weights: habits.weights ?? {},
        hourlyRateMinor: habits.hourlyRateMinor ?? 0,
        paper: habits.paper ?? 'A4',
        heading: habits.heading ?? '',
        isDemo: habits.isDemo ?? false,
        createdAt: now,
      })
      .run();
  } finally {
    raw.close();
  }
  renameSync(file, join(home, 'workshop.sqlite'));
}

/** Copies the file after what a killed process left in the log was brought into it, so that the file alone is the workshop. */
function backUpAtRest(home: string, version: number, now: number, kind: BackupKind): void {
  const raw = connect(home);
  try {
    const [folded] = raw.pragma('wal_checkpoint(TRUNCATE)') as readonly { busy: number }[];
    if (folded?.busy !== 0) throw new Database.SqliteError('the log could not be folded in', 'SQLITE_BUSY');
  } finally {
    raw.close();
  }
  backUp(home, version, now, kind);
}

function connect(home: string): Database.Database {
  const raw = new Database(join(home, 'workshop.sqlite'), { fileMustExist: true, timeout: 2000 });
  try {
    assert(raw.pragma('journal_mode = WAL', { simple: true }) === 'wal', 'the disk can hold a write-ahead log');
    raw.pragma('synchronous = FULL');
    raw.pragma('foreign_keys = ON');
    raw.pragma('cache_size = -65536');
    return raw;
  } catch (error) {
    raw.close();
    throw error;
  }
}

/** The daily copy must not keep a person from their work: a full disk is only noted. */
function backUpIfRoom(home: string, version: number, now: number, note: OpenOptions['note']): void {
  try {
    backUpAtRest(home, version, now, 'rolling');
  } catch (error) {
    const refusal = sayDiskTrouble(error);
    if (refusal === null) throw error;
    note?.(`No backup was made today: ${refusal.sentence}`);
  }
}
