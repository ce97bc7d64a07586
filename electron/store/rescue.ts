/**
 * A damaged workshop made good: its newest sound copy, and on top of it what the damaged file's journal can still tell of the changes made
 * since. The damaged file is set aside and never written to; it is read through a copy of its own.
 */
import { copyFileSync, existsSync, mkdtempSync, renameSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import type { Rescue } from '../../core/contract/archive.ts';
import { ok, type Result, refuse } from '../../core/result.ts';
import { type BackupFile, checkBackup, listBackups } from './backups.ts';
import { examine, findWorkshop, holdFolder, refuseUnwritable } from './folder.ts';
import { putInPlace } from './going-back.ts';
import { fileVersion, migrate, type Step } from './migrate.ts';
import { type Image, openRows } from './rows.ts';

type Line = Readonly<{
  seq: number;
  at: number;
  label: string;
  kind: string;
  answers: number | null;
  runs: readonly string[];
}>;
type RowChange = Readonly<{ table: string; id: string; before: Image | null; after: Image | null }>;

/** What could be made good, without doing it; null where the workshop in the folder is not damaged. */
export function lookForRescue(folder: string, steps: readonly Step[]): Rescue | null {
  const home = damagedHome(folder, steps);
  if (home === null) return null;
  const backup = soundBackup(home, steps);
  if (backup === null) return { takenAt: null, redone: [], lost: null };
  const made = rebuild(home, backup, steps);
  try {
    return { takenAt: backup.takenAt, redone: made.redone.map(({ label }) => label), lost: made.lost };
  } finally {
    made.drop();
  }
}

/** Sets the damaged file aside and puts the rescued one in its place. Returns where the damaged one lies, within the folder. */
export function rescueWorkshop(folder: string, steps: readonly Step[], now: number): Result<string> {
  const home = damagedHome(folder, steps);
  if (home === null) return refuse(`The workshop in ${folder} is not damaged.`, 'folder');
  const backup = soundBackup(home, steps);
  if (backup === null)
    return refuse('There is no sound backup in this folder to start from. Nothing was changed.', 'folder');
  const held = holdFolder(home);
  if (!held.ok) return held;
  const file = join(home, 'workshop.sqlite');
  const part = `${file}.part`;
  const made = rebuild(home, backup, steps);
  try {
    copyFileSync(made.file, part);
    const aside = `damaged-${new Date(now).toISOString().slice(0, 19).replaceAll(':', '-')}Z.sqlite`;
    for (const log of ['-shm', '-wal']) if (existsSync(file + log)) renameSync(file + log, join(home, aside + log));
    renameSync(file, join(home, aside));
    putInPlace(part, file);
    return ok(aside);
  } catch (error) {
    return refuseUnwritable(home, error);
  } finally {
    made.drop();
    rmSync(part, { force: true });
    held.value.release();
  }
}

/** The folder by its true name where its file is damaged; null where it is sound or the trouble is another one. */
function damagedHome(folder: string, steps: readonly Step[]): string | null {
  const file = join(folder, 'workshop.sqlite');
  if (!existsSync(file)) return null;
  const found = findWorkshop(folder, steps.length);
  const examined = found.ok ? examine(found.value, steps.length) : found;
  return !examined.ok && /’s file in .* is damaged \(/.test(examined.refusal.sentence)
    ? found.ok
      ? found.value
      : folder
    : null;
}

function soundBackup(home: string, steps: readonly Step[]): BackupFile | null {
  return (
    listBackups(home).find((backup) => backup.version <= steps.length && checkBackup(home, backup) === null) ?? null
  );
}

type Rebuilt = Readonly<{ file: string; redone: readonly Line[]; lost: string | null; drop(): void }>;

/** The copy with every later change that can still be read, in order; the first that cannot be made ends it. */
function rebuild(home: string, backup: BackupFile, steps: readonly Step[]): Rebuilt {
  const aside = mkdtempSync(join(tmpdir(), 'kettlestitch-'));
  const file = join(aside, 'rescued.sqlite');
  copyFileSync(join(home, 'backups', backup.name), file);
  const damaged = join(aside, 'damaged.sqlite');
  for (const log of ['', '-wal']) {
    const path = join(home, `workshop.sqlite${log}`);
    if (existsSync(path)) copyFileSync(path, damaged + log);
  }
  const raw = new Database(file);
  const redone: Line[] = [];
  let lost: string | null = null;
  try {
    const last = raw.prepare('SELECT coalesce(max(seq), 0) FROM journal').pluck().get() as number;
    const read = readJournal(damaged, last);
    lost = read.trouble;
    if (read.version > fileVersion(raw)) migrate(raw, steps.slice(0, read.version));
    for (const line of read.lines) {
      try {
        raw.transaction(() => redo(raw, line))();
      } catch (error) {
        lost = `“${line.label}” could not be made again (${(error as Error).message})`;
        break;
      }
      redone.push(line);
    }
    // What follows from the books is worked out anew when the workshop is opened.
    raw.exec('DELETE FROM assessment');
  } finally {
    raw.close();
  }
  return { file, redone, lost, drop: () => rmSync(aside, { recursive: true, force: true }) };
}

/** Changes after `last` as far as they follow one another without a gap and can be read. */
function readJournal(
  file: string,
  last: number,
): Readonly<{ lines: readonly Line[]; version: number; trouble: string | null }> {
  const lines: Line[] = [];
  let version = 0;
  let raw: Database.Database | null = null;
  try {
    raw = new Database(file, { fileMustExist: true });
    version = fileVersion(raw);
    const runs = raw.prepare('SELECT changes FROM journal_run WHERE seq = ? ORDER BY run').pluck();
    const next = raw.prepare('SELECT seq, at, label, kind, answers FROM journal WHERE seq = ?');
    const newest = raw.prepare('SELECT max(seq) FROM journal').pluck().get() as number | null;
    for (let seq = last + 1; seq <= (newest ?? last); seq += 1) {
      const line = next.get(seq) as Omit<Line, 'runs'> | undefined;
      if (line === undefined) return { lines, version, trouble: 'a change in between cannot be read' };
      lines.push({ ...line, runs: runs.all(seq) as string[] });
    }
    return { lines, version, trouble: null };
  } catch (error) {
    if (!(error instanceof Database.SqliteError)) throw error;
    return { lines, version, trouble: 'the rest of the journal cannot be read' };
  } finally {
    raw?.close();
  }
}

/** One entry of the journal done once more: rows, the entry itself, and what it makes of the standing of others. */
function redo(raw: Database.Database, line: Line): void {
  raw.pragma('defer_foreign_keys = ON');
  const rows = openRows(raw);
  const isDo = line.kind === 'do';
  const source = isDo
    ? line.runs
    : (raw.prepare('SELECT changes FROM journal_run WHERE seq = ? ORDER BY run').pluck().all(line.answers) as string[]);
  const changes = source.flatMap((run) => JSON.parse(run) as readonly RowChange[]);
  for (const { table, id, before, after } of line.kind === 'undo' ? changes.toReversed() : changes) {
    const [from, to] = line.kind === 'undo' ? [after, before] : [before, after];
    if (to === null) rows.remove(table, id);
    else if (from === null) rows.insert(table, to);
    else rows.update(table, id, to);
  }
  if (isDo) raw.prepare("UPDATE journal SET standing = 'forgotten' WHERE standing = 'undone'").run();
  else
    raw
      .prepare('UPDATE journal SET standing = ? WHERE seq = ?')
      .run(line.kind === 'undo' ? 'undone' : 'stands', line.answers);
  raw
    .prepare('INSERT INTO journal (seq, at, label, kind, answers, standing) VALUES (?, ?, ?, ?, ?, ?)')
    .run(line.seq, line.at, line.label, line.kind, line.answers, isDo ? 'stands' : null);
  const put = raw.prepare('INSERT INTO journal_run (seq, run, changes) VALUES (?, ?, ?)');
  for (const [run, kept] of line.runs.entries()) put.run(line.seq, run, kept);
}
