/**
 * Copies of the workshop's file in `backups/`. A copy is taken while this process holds the folder and no connection is open, so the file
 * rests; it is checked before it counts.
 */
import { closeSync, copyFileSync, fsyncSync, mkdirSync, openSync, readdirSync, renameSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { assert } from '../../core/result.ts';
import { findDamage } from './soundness.ts';

/** Common practice, no source: ten days of daily work. */
const keptBackups = 10;
const dayMs = 86_400_000;

const backupName = /^(\d{4}-\d\d-\d\d)T(\d\d)-(\d\d)-(\d\d)Z.*\.sqlite$/;

/** The newest copy's file name and when it was taken; null where there is none. */
export function newestBackup(folder: string): Readonly<{ name: string; takenAt: number }> | null {
  const name = backupNames(folder).at(-1);
  if (name === undefined) return null;
  const [, day, hour, minute, second] = backupName.exec(name) ?? [];
  return { name, takenAt: Date.parse(`${day}T${hour}:${minute}:${second}Z`) };
}

/** True when the last copy is older than a day, or dated in the future by a clock that was wrong. */
export function isBackupDue(folder: string, now: number): boolean {
  const newest = newestBackup(folder);
  return newest === null || Math.abs(now - newest.takenAt) > dayMs;
}

/** Copies the file, opens the copy to see that it is whole, and drops the oldest copies beyond ten. Throws when the disk refuses. */
export function backUp(folder: string, version: number, now: number): string {
  const backups = join(folder, 'backups');
  mkdirSync(backups, { recursive: true });
  const stamp = new Date(now).toISOString().slice(0, 19).replaceAll(':', '-');
  const name = `${stamp}Z-v${version}.sqlite`;
  const part = join(backups, `${name}.part`);
  try {
    copyFileSync(join(folder, 'workshop.sqlite'), part);
    checkCopy(part, version);
    const handle = openSync(part, 'r+');
    fsyncSync(handle);
    closeSync(handle);
    renameSync(part, join(backups, name));
  } finally {
    rmSync(part, { force: true });
  }
  for (const old of backupNames(folder).slice(0, -keptBackups)) rmSync(join(backups, old));
  return name;
}

/** A copy stands alone: it keeps no log beside it. */
function checkCopy(file: string, version: number): void {
  const copy = new Database(file, { fileMustExist: true });
  try {
    copy.pragma('journal_mode = DELETE');
    assert(copy.pragma('user_version', { simple: true }) === version, 'a backup has the version of its workshop');
    const damage = findDamage(copy);
    assert(damage === null, `a backup is whole: ${damage}`);
  } finally {
    copy.close();
  }
}

function backupNames(folder: string): readonly string[] {
  try {
    return readdirSync(join(folder, 'backups'))
      .filter((name) => backupName.test(name))
      .sort();
  } catch {
    return [];
  }
}
