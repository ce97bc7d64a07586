/**
 * What must be true of a folder before it is opened, and the lock that keeps two programs out of one workshop. Every refusal here comes
 * before anything in the folder is changed; the empty lock file is the only thing that may be left behind.
 */
import { closeSync, existsSync, openSync, readSync, realpathSync, rmSync, statSync } from 'node:fs';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import type { Result } from '../../core/result.ts';
import { ok, refuse } from '../../core/result.ts';
import { listBackups } from './backups.ts';
import { fileVersion } from './migrate.ts';
import { findDamage } from './soundness.ts';
import { sayDiskTrouble } from './trouble.ts';

/** "KSTW", in the header of every workshop's file, so that another program's database is not taken for one. */
export const applicationId = 0x4b_53_54_57;

export type Hold = Readonly<{ release(): void }>;

/** Folders held by this process: SQLite's file locks do not keep a process from itself once another handle of it is closed. */
const heldHere = new Set<string>();

/** The folder by its one true name, where it is one that holds a workshop no newer than `version`. */
export function findWorkshop(folder: string, version: number): Result<string> {
  if (!existsSync(folder)) return refuse(`There is no folder ${folder}.`, 'folder');
  if (!statSync(folder).isDirectory()) return refuse(`${folder} is a file; a workshop is a folder.`, 'folder');
  const home = realpathSync(folder);
  const file = join(home, 'workshop.sqlite');
  if (!existsSync(file)) return refuse(`The folder ${folder} holds no workshop.`, 'folder');
  if (heldHere.has(home)) return sayHeld(folder);
  const header = readHeader(file);
  if (header === null) return sayDamaged(home, 'it does not begin as such a file must');
  if (header.applicationId !== applicationId) {
    return refuse(`${file} is a database of another program, not a workshop.`, 'folder');
  }
  if (header.version > version) return sayNewer(folder);
  return ok(home);
}

/** Keeps every other program out of the folder until released; the lock ends with the process, however it ends. */
export function holdFolder(home: string): Result<Hold> {
  let lock: Database.Database | null = null;
  try {
    lock = new Database(join(home, 'workshop.lock'), { timeout: 0 });
    lock.pragma('journal_mode = MEMORY');
    lock.exec('BEGIN EXCLUSIVE');
  } catch (error) {
    lock?.close();
    if (error instanceof Database.SqliteError && error.code.startsWith('SQLITE_BUSY')) return sayHeld(home);
    return refuseUnwritable(home, error);
  }
  const held = lock;
  heldHere.add(home);
  return ok({
    release() {
      held.close();
      heldHere.delete(home);
    },
  });
}

/** Reads the whole file without changing it, and says its version where it is sound and not newer than `version`. */
export function examine(home: string, version: number): Result<number> {
  const file = join(home, 'workshop.sqlite');
  const hadLog = existsSync(`${file}-wal`);
  let probe: Database.Database | null = null;
  try {
    probe = new Database(file, { readonly: true, fileMustExist: true, timeout: 2000 });
    const found = fileVersion(probe);
    if (found > version) return sayNewer(home);
    const damage = found > 0 ? findDamage(probe) : 'it was never finished';
    return damage === null ? ok(found) : sayDamaged(home, damage);
  } catch (error) {
    if (error instanceof Database.SqliteError && /^SQLITE_(CORRUPT|NOTADB)/.test(error.code)) {
      return sayDamaged(home, error.message);
    }
    return refuseUnwritable(home, error);
  } finally {
    probe?.close();
    // Reading leaves an empty log behind, which a connection that may not write cannot take away again.
    if (!hadLog) for (const left of ['-wal', '-shm']) rmSync(file + left, { force: true });
  }
}

/** Trouble of the disk at opening; a defect is thrown. */
export function refuseUnwritable(home: string, error: unknown): Result<never> {
  const refusal = sayDiskTrouble(error);
  if (refusal === null) throw error;
  return refuse(`${home} cannot be opened. ${refusal.sentence}`, 'folder');
}

function sayHeld(folder: string): Result<never> {
  return refuse(
    `The workshop in ${folder} is already open in another window or program. Close it there first.`,
    'folder',
  );
}

function sayNewer(folder: string): Result<never> {
  return refuse(
    `The workshop in ${folder} was made by a newer version of the program. Nothing was changed; open it with that version.`,
    'folder',
  );
}

function sayDamaged(home: string, what: string): Result<never> {
  const [backup] = listBackups(home);
  const way =
    backup === undefined
      ? 'There is no backup in this folder; look for an earlier copy of it.'
      : `The newest backup is backups/${backup.name}; the first screen offers to make the workshop good from it.`;
  return refuse(`The workshop’s file in ${home} is damaged (${what}). Nothing was changed. ${way}`, 'folder');
}

/** Version and owner from the first 100 bytes (SQLite file format, section 1.3); null where it is no SQLite file. */
function readHeader(file: string): Readonly<{ version: number; applicationId: number }> | null {
  const header = Buffer.alloc(100);
  const handle = openSync(file, 'r');
  try {
    if (readSync(handle, header, 0, 100, 0) < 100) return null;
  } finally {
    closeSync(handle);
  }
  if (header.toString('latin1', 0, 16) !== 'SQLite format 3\0') return null;
  return { version: header.readInt32BE(60), applicationId: header.readInt32BE(68) };
}
