/**
 * Copies of the workshop's file in `backups/`. At rest, while this process holds the folder and no connection is open, the file itself is
 * copied; while the workshop is open, SQLite copies it (snapshot.ts). Either way a copy takes its name only once it was opened and found whole.
 */
import {
  closeSync,
  copyFileSync,
  existsSync,
  fsyncSync,
  mkdirSync,
  openSync,
  readdirSync,
  renameSync,
  rmSync,
  statSync,
} from 'node:fs';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { type BackupKind, backupsToKeep } from '../../core/archive/backups.ts';
import { assert, ok, type Result, refuse } from '../../core/result.ts';
import { copyDatabase } from './snapshot.ts';
import { findDamage, inWords } from './soundness.ts';

export type BackupFile = Readonly<{
  name: string;
  /** UTC milliseconds, to the second. */
  takenAt: number;
  kind: BackupKind;
  bytes: number;
  /** Number of the last migration of the copy. */
  version: number;
}>;

const endings: Readonly<Record<BackupKind, string>> = {
  rolling: '',
  'before an update': '-before-update',
  'before going back': '-before-going-back',
};
const backupName = /^(\d{4}-\d\d-\d\d)T(\d\d)-(\d\d)-(\d\d)Z-v(\d+)(-[a-z-]+)?\.sqlite$/;

/** Every copy there is, newest first. A file that is not named as one is none. */
export function listBackups(folder: string): readonly BackupFile[] {
  const backups = join(folder, 'backups');
  if (!existsSync(backups)) return [];
  const found = readdirSync(backups).flatMap((name): BackupFile[] => {
    const parts = backupName.exec(name);
    if (parts === null) return [];
    const [, day, hour, minute, second, version, ending = ''] = parts;
    const takenAt = Date.parse(`${day}T${hour}:${minute}:${second}Z`);
    if (Number.isNaN(takenAt)) return [];
    const kind = (Object.keys(endings) as BackupKind[]).find((one) => endings[one] === ending) ?? 'rolling';
    const bytes = statSync(join(backups, name), { throwIfNoEntry: false })?.size;
    return bytes === undefined ? [] : [{ name, takenAt, kind, bytes, version: Number(version) }];
  });
  return found.sort((one, other) => other.takenAt - one.takenAt || (one.name < other.name ? 1 : -1));
}

/** Copies the file at rest and drops the copies that need not be kept. Throws when the disk refuses. Returns the copy's name. */
export function backUp(folder: string, version: number, now: number, kind: BackupKind = 'rolling'): string {
  const place = placeFor(folder, version, now, kind);
  try {
    copyFileSync(join(folder, 'workshop.sqlite'), place.part);
    const copy = new Database(place.part, { fileMustExist: true });
    try {
      // A copy stands alone: it keeps no log beside it.
      copy.pragma('journal_mode = DELETE');
    } finally {
      copy.close();
    }
    const trouble = troubleWith(place.part, version, 'quickly');
    assert(trouble === null, `a backup is whole: ${trouble}`);
    finish(place);
  } finally {
    rmSync(place.part, { force: true });
  }
  dropOld(folder, now);
  return place.name;
}

/** Copies the file of a workshop that is open, and goes through every page and index of the copy. For a thread: it blocks the one it runs in. */
export async function backUpOpen(folder: string, version: number, now: number): Promise<Result<string>> {
  const place = placeFor(folder, version, now, 'rolling');
  try {
    await copyDatabase(folder, place.part);
    const trouble = troubleWith(place.part, version, 'thoroughly');
    if (trouble !== null) {
      return refuse(
        `The workshop’s file is damaged (${trouble}), so no backup was made of it; the older ones were kept. Close the workshop and open it again to see what can be done.`,
      );
    }
    finish(place);
  } finally {
    rmSync(place.part, { force: true });
  }
  dropOld(folder, now);
  return ok(place.name);
}

/** What is wrong with a copy, null where it opens and is whole. Every page and index is gone through. */
export function checkBackup(folder: string, { name, version }: Pick<BackupFile, 'name' | 'version'>): string | null {
  return troubleWith(join(folder, 'backups', name), version, 'thoroughly');
}

type Place = Readonly<{ name: string; part: string; path: string }>;

/** Two copies in one second, or a clock put back, must not write over one another: the later takes the next second that is free. */
function placeFor(folder: string, version: number, now: number, kind: BackupKind): Place {
  const backups = join(folder, 'backups');
  mkdirSync(backups, { recursive: true });
  const taken = readdirSync(backups);
  for (let at = now; ; at += 1000) {
    const stamp = `${new Date(at).toISOString().slice(0, 19).replaceAll(':', '-')}Z`;
    if (taken.some((name) => name.startsWith(stamp))) continue;
    const name = `${stamp}-v${version}${endings[kind]}.sqlite`;
    const path = join(backups, name);
    return { name, part: `${path}.part`, path };
  }
}

function finish({ part, path }: Place): void {
  const handle = openSync(part, 'r+');
  fsyncSync(handle);
  closeSync(handle);
  renameSync(part, path);
}

function troubleWith(file: string, version: number, how: 'quickly' | 'thoroughly'): string | null {
  let copy: Database.Database | null = null;
  try {
    copy = new Database(file, { readonly: true, fileMustExist: true });
    const found = copy.pragma('user_version', { simple: true });
    if (found !== version) return `it is of version ${found}, and is named for version ${version}`;
    if (how === 'quickly') return findDamage(copy);
    const verdict = copy.pragma('integrity_check(1)', { simple: true }) as string;
    return verdict === 'ok' ? null : inWords(verdict);
  } catch (error) {
    if (error instanceof Database.SqliteError && /^SQLITE_(CORRUPT|NOTADB)/.test(error.code)) return error.message;
    throw error;
  } finally {
    copy?.close();
  }
}

function dropOld(folder: string, now: number): void {
  const backups = listBackups(folder);
  const kept = new Set(backupsToKeep(backups, now));
  for (const old of backups) if (!kept.has(old)) rmSync(join(folder, 'backups', old.name), { force: true });
}
