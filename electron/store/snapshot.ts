/**
 * A copy of a workshop's file as it stood at one moment, while somebody goes on writing to it. SQLite copies page by page through a
 * connection of its own; never by the file system, which would let go of the locks this process holds.
 */
import { closeSync, fsyncSync, openSync } from 'node:fs';
import { join } from 'node:path';
import Database from 'better-sqlite3';

/** Copies the workshop in `folder` to the new file `to`, which stands alone without a log beside it and is on the disk when this returns. */
export async function copyDatabase(folder: string, to: string): Promise<void> {
  const raw = new Database(join(folder, 'workshop.sqlite'), { readonly: true, fileMustExist: true, timeout: 5000 });
  try {
    // All pages in one go: a write in between would begin the copy anew.
    await raw.backup(to, { progress: () => 0x7fff_ffff });
  } finally {
    raw.close();
  }
  const copy = new Database(to, { fileMustExist: true });
  try {
    copy.pragma('journal_mode = DELETE');
  } finally {
    copy.close();
  }
  const handle = openSync(to, 'r+');
  try {
    fsyncSync(handle);
  } finally {
    closeSync(handle);
  }
}
