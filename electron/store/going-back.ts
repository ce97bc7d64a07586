/**
 * Going back to a copy: what it would change, told before, and the change itself, which first keeps the present state as a copy of its own,
 * so that going back is taken back by going back once more.
 */
import {
  closeSync,
  copyFileSync,
  existsSync,
  fsyncSync,
  mkdtempSync,
  openSync,
  readdirSync,
  renameSync,
  rmSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import type { Comparison } from '../../core/contract/archive.ts';
import { ok, type Result, refuse } from '../../core/result.ts';
import { backUp, checkBackup, listBackups } from './backups.ts';
import { findWorkshop, holdFolder, refuseUnwritable } from './folder.ts';
import { fileVersion, migrate, type Step } from './migrate.ts';

/** So many books are named of each kind; the counts tell of all. */
const mostNamed = 30;

/**
 * What going back to a copy would change, table by table and with the books by name. The copy is brought to this program's version aside.
 * Reads only; for a thread, because it goes through every row.
 */
export function compareBackup(
  folder: string,
  name: string,
  steps: readonly Step[],
  names: readonly string[],
): Result<Comparison> {
  const backup = listBackups(folder).find((one) => one.name === name);
  if (backup === undefined) return refuse('This backup is no longer there.', 'name');
  const damage = checkBackup(folder, backup);
  if (damage !== null) return refuse(`This backup cannot be gone back to: it is damaged (${damage}).`, 'name');
  if (backup.version > steps.length) return refuse('This backup is of a newer version of the program.', 'name');
  const aside = mkdtempSync(join(tmpdir(), 'kettlestitch-'));
  const then = join(aside, 'then.sqlite');
  let raw: Database.Database | null = null;
  try {
    copyFileSync(join(folder, 'backups', name), then);
    const old = new Database(then);
    try {
      migrate(old, steps);
    } finally {
      old.close();
    }
    raw = new Database(join(folder, 'workshop.sqlite'), { readonly: true, fileMustExist: true, timeout: 5000 });
    raw.prepare('ATTACH ? AS past').run(then);
    const tables = names
      .map((table) => compareTable(raw as Database.Database, table))
      .filter(({ back, gone, changed }) => back + gone + changed > 0);
    return ok({
      name,
      takenAt: backup.takenAt,
      tables,
      books: compareBooks(raw),
      missingPhotographs: missingPhotographs(raw, folder),
    });
  } finally {
    raw?.close();
    rmSync(aside, { recursive: true, force: true });
  }
}

function compareTable(raw: Database.Database, table: string) {
  const count = (sql: string) => raw.prepare(`SELECT count(*) ${sql}`).pluck().get() as number;
  return {
    table,
    back: count(`FROM past."${table}" WHERE id NOT IN (SELECT id FROM main."${table}")`),
    gone: count(`FROM main."${table}" WHERE id NOT IN (SELECT id FROM past."${table}")`),
    changed: count(`FROM main."${table}" m JOIN past."${table}" p ON p.id = m.id WHERE ${differs(raw, table)}`),
  };
}

function differs(raw: Database.Database, table: string): string {
  const columns = (raw.pragma(`table_info("${table}")`) as readonly Readonly<{ name: string }>[]).map(
    ({ name }) => name,
  );
  const row = (from: string) => columns.map((column) => `${from}."${column}"`).join(', ');
  return `(${row('m')}) IS NOT (${row('p')})`;
}

/** A book is changed where its own row is, or a finding, hazard, treatment or measure of it came, went or changed. */
function compareBooks(raw: Database.Database): Comparison['books'] {
  const named = (sql: string) => {
    const titles = raw.prepare(sql).pluck().all() as string[];
    return { total: titles.length, titles: titles.slice(0, mostNamed) };
  };
  const parts = ['finding', 'hazard', 'treatment', 'measure'].flatMap((table) => [
    `SELECT book_id FROM past."${table}" WHERE id NOT IN (SELECT id FROM main."${table}")`,
    `SELECT book_id FROM main."${table}" WHERE id NOT IN (SELECT id FROM past."${table}")`,
    `SELECT m.book_id FROM main."${table}" m JOIN past."${table}" p ON p.id = m.id WHERE ${differs(raw, table)}`,
  ]);
  return {
    back: named('SELECT title FROM past.book WHERE id NOT IN (SELECT id FROM main.book) ORDER BY title'),
    gone: named('SELECT title FROM main.book WHERE id NOT IN (SELECT id FROM past.book) ORDER BY title'),
    changed: named(
      `SELECT p.title FROM main.book m JOIN past.book p ON p.id = m.id
       WHERE ${differs(raw, 'book')} OR m.id IN (${parts.join(' UNION ALL ')}) ORDER BY p.title`,
    ),
  };
}

/** Photographs the copy tells of whose files are in the folder no more. */
function missingPhotographs(raw: Database.Database, folder: string): number {
  const there = new Set<string>();
  const root = join(folder, 'photographs');
  if (existsSync(root))
    for (const name of readdirSync(root, { recursive: true }))
      there.add(
        String(name)
          .slice(-80)
          .replace(/^.*[\\/]/, '')
          .replace(/\.[^.]*$/, ''),
      );
  const hashes = raw.prepare('SELECT DISTINCT hash FROM past.photograph').pluck().all() as string[];
  return hashes.filter((hash) => !there.has(hash)).length;
}

/**
 * Puts a copy in the place of the workshop's file; the workshop must be closed. The present state is kept as a copy first and its name
 * returned. After a pulled plug there is the one file or the other, whole.
 */
export function goBack(folder: string, name: string, steps: readonly Step[], now: number): Result<string> {
  const found = findWorkshop(folder, steps.length);
  if (!found.ok) return found;
  const home = found.value;
  const backup = listBackups(home).find((one) => one.name === name);
  if (backup === undefined) return refuse('This backup is no longer there.', 'name');
  const damage = checkBackup(home, backup);
  if (damage !== null) return refuse(`This backup cannot be gone back to: it is damaged (${damage}).`, 'name');
  if (backup.version > steps.length) return refuse('This backup is of a newer version of the program.', 'name');
  const held = holdFolder(home);
  if (!held.ok) return held;
  const file = join(home, 'workshop.sqlite');
  const part = `${file}.part`;
  try {
    copyFileSync(join(home, 'backups', name), part);
    const raw = new Database(file, { fileMustExist: true, timeout: 2000 });
    const version = fileVersion(raw);
    raw.pragma('wal_checkpoint(TRUNCATE)');
    // A log left beside the file would be read into the copy that takes its place.
    raw.pragma('journal_mode = DELETE');
    raw.close();
    const kept = backUp(home, version, now, 'before going back');
    putInPlace(part, file);
    return ok(kept);
  } catch (error) {
    return refuseUnwritable(home, error);
  } finally {
    rmSync(part, { force: true });
    held.value.release();
  }
}

/** Names a whole file over another, on the disk before and after. */
export function putInPlace(part: string, file: string): void {
  const handle = openSync(part, 'r+');
  fsyncSync(handle);
  closeSync(handle);
  renameSync(part, file);
}
