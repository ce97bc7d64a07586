import { spawn } from 'node:child_process';
import { createHash } from 'node:crypto';
import { once } from 'node:events';
import {
  chmodSync,
  copyFileSync,
  readdirSync,
  readFileSync,
  symlinkSync,
  truncateSync,
  unlinkSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import Database from 'better-sqlite3';
import { describe, expect, onTestFinished, test } from 'vitest';
import { readSteps } from '../../../electron/store/migrate.ts';
import { book } from '../../../electron/store/schema.ts';
import { createWorkshop, openWorkshop } from '../../../electron/store/workshop.ts';
import { temporaryFolder } from '../test-desk.ts';
import { bookDraft, got, habits, newWorkshop, reopened, sentenceOf } from './folders.ts';

/** Every file of a folder with a digest of its bytes, but for the empty lock file. */
function filesOf(folder: string): Record<string, string> {
  const names = readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && entry.name !== 'workshop.lock')
    .map((entry) => join(entry.parentPath, entry.name));
  return Object.fromEntries(
    names.sort().map((name) => [name, createHash('sha256').update(readFileSync(name)).digest('hex')]),
  );
}

/** A closed workshop with some books in it. */
function closedWorkshop(): string {
  const workshop = newWorkshop();
  workshop.write('Take in', (change) => {
    for (let index = 0; index < 300; index++)
      change.insert(book, bookDraft(`Book ${index}`, { note: 'x'.repeat(300) }));
  });
  workshop.close();
  return workshop.folder;
}

function alter(folder: string, sql: string): void {
  const raw = new Database(join(folder, 'workshop.sqlite'));
  raw.exec(sql);
  raw.close();
}

/** Runs as a user whom permissions bind: the superuser may write anywhere. */
function asNobody<T>(run: () => T): T {
  if (process.geteuid?.() !== 0) return run();
  process.seteuid?.(65_534);
  try {
    return run();
  } finally {
    process.seteuid?.(0);
  }
}

describe('opening a workshop', () => {
  test('finds what was there before, in tables that take no wrong kind of value', () => {
    const workshop = newWorkshop();
    workshop.write('Take in', (change) => change.insert(book, bookDraft('Æsop’s Fables')));
    const again = reopened(workshop);
    expect(again.db.select({ title: book.title }).from(book).all()).toEqual([{ title: 'Æsop’s Fables' }]);
    expect(again.raw.pragma('journal_mode', { simple: true })).toBe('wal');
    expect(again.raw.pragma('synchronous', { simple: true })).toBe(2);
    expect(again.raw.pragma('foreign_keys', { simple: true })).toBe(1);
    const loose = again.raw
      .prepare("SELECT name FROM pragma_table_list WHERE strict = 0 AND type = 'table' AND name NOT LIKE 'sqlite_%'")
      .all();
    expect(loose).toEqual([]);
    expect(readdirSync(again.folder).sort()).toEqual([
      'backups',
      'photographs',
      'workshop.lock',
      'workshop.sqlite',
      'workshop.sqlite-shm',
      'workshop.sqlite-wal',
    ]);
  });

  test('refuses a folder that is missing, a file, or empty', () => {
    const folder = temporaryFolder();
    writeFileSync(join(folder, 'file'), '');
    expect(sentenceOf(openWorkshop(join(folder, 'none')))).toBe(`There is no folder ${join(folder, 'none')}.`);
    expect(sentenceOf(openWorkshop(join(folder, 'file')))).toMatch('is a file; a workshop is a folder.');
    expect(sentenceOf(openWorkshop(folder))).toMatch('holds no workshop.');
    expect(readdirSync(folder)).toEqual(['file']);
  });

  test('refuses a workshop of a newer version and changes nothing', () => {
    const folder = closedWorkshop();
    alter(folder, 'PRAGMA user_version = 9000');
    const before = filesOf(folder);
    expect(sentenceOf(openWorkshop(folder))).toMatch('was made by a newer version of the program. Nothing was changed');
    expect(filesOf(folder)).toEqual(before);
  });

  test('refuses a newer version also where that is written only in the log beside the file', () => {
    const folder = closedWorkshop();
    const newer = temporaryFolder();
    const raw = new Database(join(folder, 'workshop.sqlite'));
    raw.pragma('wal_autocheckpoint = 0');
    raw.pragma('user_version = 9000');
    for (const name of ['workshop.sqlite', 'workshop.sqlite-wal']) copyFileSync(join(folder, name), join(newer, name));
    raw.close();
    const before = filesOf(newer);
    expect(sentenceOf(openWorkshop(newer))).toMatch('was made by a newer version');
    const after = filesOf(newer);
    // Reading a log makes SQLite keep an index of it, which holds nothing of its own.
    delete after[join(newer, 'workshop.sqlite-shm')];
    expect(after).toEqual(before);
  });

  test.each<[string, (file: string) => void]>([
    ['is not a database at all', (file) => writeFileSync(file, 'Dear diary'.repeat(1000))],
    ['is empty', (file) => truncateSync(file, 0)],
    ['ends too soon', (file) => truncateSync(file, Math.floor(readFileSync(file).length / 2 / 4096) * 4096)],
    [
      'has pages of noise in it',
      (file) => {
        const bytes = readFileSync(file);
        bytes.fill(0x5a, 4096 * 12, 4096 * 40);
        writeFileSync(file, bytes);
      },
    ],
  ])('refuses a workshop whose file %s, names the newest backup, and changes nothing', (_, damage) => {
    const folder = closedWorkshop();
    got(openWorkshop(folder)).close();
    damage(join(folder, 'workshop.sqlite'));
    const before = filesOf(folder);
    expect(sentenceOf(openWorkshop(folder))).toMatch(
      /is damaged \(.+\)\. Nothing was changed\. The newest backup is backups\/\d{4}-/,
    );
    expect(filesOf(folder)).toEqual(before);
  });

  test('refuses a database of another program', () => {
    const folder = temporaryFolder();
    alter(folder, 'CREATE TABLE recipe (id)');
    expect(sentenceOf(openWorkshop(folder))).toMatch('is a database of another program, not a workshop.');
  });

  test('refuses a folder this process has open, by whatever name, and leaves it open', () => {
    const workshop = newWorkshop();
    const alias = join(temporaryFolder(), 'alias');
    symlinkSync(workshop.folder, alias);
    expect(sentenceOf(openWorkshop(workshop.folder))).toMatch('is already open in another window or program.');
    expect(sentenceOf(openWorkshop(alias))).toMatch('is already open in another window or program.');
    expect(workshop.write('Still', (change) => change.insert(book, bookDraft('A'))).ok).toBe(true);
  });

  test('refuses a folder another process has open, until that process ends, were it by a kill', async () => {
    const folder = closedWorkshop();
    const writer = fileURLToPath(new URL('../../measure/crash-writer.ts', import.meta.url));
    const child = spawn(process.execPath, [writer, folder, '1'], { stdio: ['ignore', 'pipe', 'inherit'] });
    onTestFinished(() => void child.kill('SIGKILL'));
    await once(child.stdout, 'data');
    expect(sentenceOf(openWorkshop(folder))).toMatch('is already open in another window or program.');
    child.kill('SIGKILL');
    await once(child, 'exit');
    got(openWorkshop(folder)).close();
  });

  test('refuses a folder that may be read but not written, says so, and changes nothing', () => {
    const folder = closedWorkshop();
    const before = filesOf(folder);
    for (const name of readdirSync(folder)) chmodSync(join(folder, name), 0o555);
    chmodSync(folder, 0o555);
    const sentence = asNobody(() => sentenceOf(openWorkshop(folder)));
    chmodSync(folder, 0o755);
    expect(sentence).toMatch(/cannot be opened\. The workshop’s folder cannot be written to;/);
    expect(filesOf(folder)).toEqual(before);
  });
});

describe('making a workshop', () => {
  test('refuses a folder with a workshop or anything else in it, and an unknown time zone', () => {
    const folder = closedWorkshop();
    expect(sentenceOf(createWorkshop(folder, habits))).toMatch('There is a workshop in');
    const other = temporaryFolder();
    writeFileSync(join(other, 'letters.txt'), '');
    expect(sentenceOf(createWorkshop(other, habits))).toMatch('already holds something else (letters.txt)');
    expect(sentenceOf(createWorkshop(temporaryFolder(), { ...habits, timeZone: 'Mars/Olympus' }))).toBe(
      'There is no time zone called Mars/Olympus.',
    );
  });

  test('says in words that a folder cannot be made where writing is not allowed', () => {
    const folder = temporaryFolder();
    chmodSync(folder, 0o555);
    const sentence = asNobody(() => sentenceOf(createWorkshop(join(folder, 'new'), habits)));
    expect(sentence).toMatch(/new cannot be opened\. The workshop’s folder cannot be written to/);
  });

  test('begins again where it was killed halfway', () => {
    const folder = temporaryFolder();
    writeFileSync(join(folder, 'workshop.unfinished'), 'half');
    const made = got(createWorkshop(folder, habits));
    expect(made.next()).toEqual({ undo: null, redo: null });
    made.close();
    expect(readdirSync(folder).sort()).toEqual(['backups', 'photographs', 'workshop.lock', 'workshop.sqlite']);
  });
});

describe('backups', () => {
  const day = 86_400_000;
  const backupsOf = (folder: string) => readdirSync(join(folder, 'backups')).sort();

  test('are made once a day at opening, are thinned as they grow old, and each opens as a workshop of its own', () => {
    let now = Date.UTC(2026, 0, 1, 9);
    let workshop = newWorkshop({ now: () => now });
    for (let morning = 0; morning < 20; morning++) {
      workshop.write('Take in', (change) => change.insert(book, bookDraft(`Book of day ${morning}`)));
      now += day + 1000;
      workshop = reopened(reopened(workshop, { now: () => now }), { now: () => now });
    }
    const names = backupsOf(workshop.folder);
    // A fortnight of days, and before it one each for the weeks that begin on a Thursday, as 1970 did.
    expect(names.map((name) => name.slice(8, 10)).join(' ')).toBe('07 08 09 10 11 12 13 14 15 16 17 18 19 20 21');
    expect(names.at(-1)).toBe(`2026-01-21T09-00-20Z-v${readSteps().length}.sqlite`);
    const restored = temporaryFolder();
    copyFileSync(join(workshop.folder, 'backups', names.at(-1) as string), join(restored, 'workshop.sqlite'));
    const old = got(openWorkshop(restored));
    expect(old.raw.prepare('SELECT count(*) FROM book').pluck().get()).toBe(20);
    old.close();
  });

  test('hold what a killed process had only written to the log', async () => {
    const folder = closedWorkshop();
    const killed = temporaryFolder();
    const workshop = got(openWorkshop(folder));
    workshop.raw.pragma('wal_autocheckpoint = 0');
    workshop.write('Late', (change) => change.insert(book, bookDraft('Late')));
    for (const name of ['workshop.sqlite', 'workshop.sqlite-wal']) copyFileSync(join(folder, name), join(killed, name));
    workshop.close();
    got(openWorkshop(killed)).close();
    const backup = new Database(join(killed, 'backups', backupsOf(killed)[0] as string), { readonly: true });
    expect(backup.prepare("SELECT count(*) FROM book WHERE title = 'Late'").pluck().get()).toBe(1);
    backup.close();
  });

  test('do not keep a person out when there is nowhere to put them', () => {
    const folder = closedWorkshop();
    for (const name of ['.', 'workshop.lock', 'workshop.sqlite', 'photographs']) chmodSync(join(folder, name), 0o777);
    for (const name of backupsOf(folder)) unlinkSync(join(folder, 'backups', name));
    chmodSync(join(folder, 'backups'), 0o555);
    const notes: string[] = [];
    asNobody(() => got(openWorkshop(folder, { note: (words) => notes.push(words) })).close());
    expect(notes.join()).toMatch(/^No backup was made today: The workshop’s folder cannot be written to/);
  });
});

test('a workshop that fails while it is being opened lets its folder go', () => {
  const folder = closedWorkshop();
  const raw = new Database(join(folder, 'workshop.sqlite'));
  raw.exec('DROP TABLE assessment');
  raw.close();
  expect(() => openWorkshop(folder)).toThrow('assessment');
  // The second try meets the same trouble, not a folder that is still held.
  expect(() => openWorkshop(folder)).toThrow('assessment');
});
