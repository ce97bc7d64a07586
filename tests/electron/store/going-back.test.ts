import {
  closeSync,
  copyFileSync,
  existsSync,
  openSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  writeFileSync,
  writeSync,
} from 'node:fs';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { describe, expect, test } from 'vitest';
import { backUp, backUpOpen, checkBackup, listBackups } from '../../../electron/store/backups.ts';
import { compareBackup, goBack } from '../../../electron/store/going-back.ts';
import { readSteps } from '../../../electron/store/migrate.ts';
import { lookForRescue, rescueWorkshop } from '../../../electron/store/rescue.ts';
import { book, finding } from '../../../electron/store/schema.ts';
import { openWorkshop, type Workshop } from '../../../electron/store/workshop.ts';
import { bookDraft, got, newWorkshop, reopened, sentenceOf } from './folders.ts';

const steps = readSteps();
const noon = Date.UTC(2026, 4, 4, 12);
const put = (workshop: Workshop, title: string) =>
  got(workshop.write(`Put in ${title}`, (change) => change.insert(book, bookDraft(title))));
const titles = (workshop: Workshop) => workshop.raw.prepare('SELECT title FROM book ORDER BY title').pluck().all();
/** The clock of the workshops here; what opening copies by itself is an hour older than what the tests copy. */
const clock = { now: () => noon - 3_600_000 };
const copyNow = async (workshop: Workshop) => got(await backUpOpen(workshop.folder, steps.length, noon));

/** Spoils pages that hold rows of a table, and nothing else. */
function spoil(file: string, table: string): void {
  const raw = new Database(file);
  raw.pragma('journal_mode = DELETE');
  const pages = raw
    .prepare("SELECT pageno FROM dbstat WHERE name = ? AND pagetype = 'leaf'")
    .pluck()
    .all(table) as number[];
  raw.close();
  const handle = openSync(file, 'r+');
  for (const page of pages) writeSync(handle, Buffer.alloc(200, 0x5a), 0, 200, (page - 1) * 4096);
  closeSync(handle);
}

describe('a backup of an open workshop', () => {
  test('holds what was kept before it, also from the log, and the workshop goes on being written', async () => {
    const workshop = newWorkshop(clock);
    put(workshop, 'Drover');
    const making = copyNow(workshop);
    put(workshop, 'Mosses');
    const name = await making;
    const copy = new Database(join(workshop.folder, 'backups', name), { readonly: true });
    expect(copy.prepare("SELECT count(*) FROM book WHERE title = 'Drover'").pluck().get()).toBe(1);
    expect(copy.pragma('journal_mode', { simple: true })).toBe('delete');
    copy.close();
    expect(listBackups(workshop.folder)[0]).toMatchObject({
      name,
      kind: 'rolling',
      takenAt: noon,
      version: steps.length,
    });
    expect(titles(workshop)).toEqual(['Drover', 'Mosses']);
  });

  test('never writes over another of the same second, and a spoilt one is told', async () => {
    const workshop = newWorkshop(clock);
    const first = await copyNow(workshop);
    const second = await copyNow(workshop);
    expect(new Set([first, second]).size).toBe(2);
    spoil(join(workshop.folder, 'backups', first), 'book');
    const troubles = listBackups(workshop.folder).map((backup) => [backup.name, checkBackup(workshop.folder, backup)]);
    expect(Object.fromEntries(troubles)).toMatchObject({ [first]: expect.any(String), [second]: null });
  });
});

describe('going back to a backup', () => {
  test('is told before: books that come back, go and change, and it is taken back by going back again', async () => {
    const workshop = newWorkshop(clock);
    const gone = put(workshop, 'Taken away later');
    const changed = put(workshop, 'Surveyed later');
    put(workshop, 'As it was');
    const name = await copyNow(workshop);
    got(workshop.write('Take away', (change) => change.remove(book, gone)));
    got(
      workshop.write('Survey', (change) =>
        change.insert(finding, { bookId: changed, part: 'spine', damage: 'torn', severity: 1, note: '' }),
      ),
    );
    put(workshop, 'Put in since');

    const compared = got(compareBackup(workshop.folder, name, steps, ['book', 'lot', 'finding']));
    expect(compared.books).toEqual({
      back: { total: 1, titles: ['Taken away later'] },
      gone: { total: 1, titles: ['Put in since'] },
      changed: { total: 1, titles: ['Surveyed later'] },
    });
    expect(compared.tables).toEqual([
      { table: 'book', back: 1, gone: 1, changed: 0 },
      { table: 'finding', back: 0, gone: 1, changed: 0 },
    ]);
    expect(titles(workshop)).toHaveLength(3);

    expect(sentenceOf(goBack(workshop.folder, name, steps, noon))).toContain('already open');
    workshop.close();
    const kept = got(goBack(workshop.folder, name, steps, noon + 1000));
    const before = reopened(workshop, clock);
    expect(titles(before)).toEqual(['As it was', 'Surveyed later', 'Taken away later']);
    expect(listBackups(before.folder).find((backup) => backup.name === kept)?.kind).toBe('before going back');

    before.close();
    got(goBack(before.folder, kept, steps, noon + 2000));
    expect(titles(reopened(before, clock))).toEqual(['As it was', 'Put in since', 'Surveyed later']);
    expect(readdirSync(before.folder).filter((file) => /part|unfinished/.test(file))).toEqual([]);
  });

  test('to a spoilt one, or one that is gone, is refused and changes nothing', async () => {
    const workshop = newWorkshop(clock);
    put(workshop, 'Drover');
    const name = await copyNow(workshop);
    spoil(join(workshop.folder, 'backups', name), 'book');
    expect(sentenceOf(compareBackup(workshop.folder, name, steps, ['book', 'lot', 'finding']))).toContain('damaged');
    workshop.close();
    const file = () => readFileSync(join(workshop.folder, 'workshop.sqlite'));
    const was = file();
    expect(sentenceOf(goBack(workshop.folder, name, steps, noon))).toContain('damaged');
    expect(sentenceOf(goBack(workshop.folder, '../workshop.sqlite', steps, noon))).toContain('no longer there');
    expect(file().equals(was)).toBe(true);
  });

  test('to one of an earlier version brings it up to date', () => {
    const workshop = newWorkshop({ ...clock, steps: steps.slice(0, -1) });
    workshop.close();
    const name = backUp(workshop.folder, steps.length - 1, noon);
    const now = reopened(workshop, clock);
    expect(got(compareBackup(now.folder, name, steps, ['book'])).books.changed.total).toBe(0);
    now.close();
    got(goBack(now.folder, name, steps, noon + 1000));
    expect(reopened(now, clock).raw.pragma('user_version', { simple: true })).toBe(steps.length);
  });
});

describe('a damaged workshop', () => {
  /** A workshop with a copy in the middle of its history, closed. */
  async function withHistory() {
    const workshop = newWorkshop(clock);
    put(workshop, 'Before the copy');
    await copyNow(workshop);
    for (let n = 1; n <= 8; n += 1) put(workshop, `After ${n}`);
    got(workshop.undo());
    got(workshop.undo());
    got(workshop.redo());
    const were = titles(workshop);
    const next = workshop.next();
    workshop.close();
    return { workshop, were, next, file: join(workshop.folder, 'workshop.sqlite') };
  }

  test('is made good from its newest sound copy and its own journal: nothing is lost, and undo goes on', async () => {
    const { workshop, were, next, file } = await withHistory();
    spoil(file, 'book');
    const spoilt = readFileSync(file);
    expect(sentenceOf(openWorkshop(workshop.folder))).toContain('is damaged');
    expect(lookForRescue(workshop.folder, steps)).toMatchObject({ takenAt: noon, lost: null, redone: { length: 11 } });
    expect(readFileSync(file).equals(spoilt)).toBe(true);
    const aside = got(rescueWorkshop(workshop.folder, steps, noon));
    const rescued = reopened(workshop, clock);
    expect(titles(rescued)).toEqual(were);
    expect(rescued.next()).toEqual(next);
    expect(rescued.raw.prepare('SELECT count(*) FROM assessment').pluck().get()).toBe(were.length);
    expect(readFileSync(join(workshop.folder, aside)).equals(spoilt)).toBe(true);
    expect(lookForRescue(workshop.folder, steps)).toBeNull();
  });

  test('whose journal is spoilt too goes back to the copy, and says what is lost', async () => {
    const { workshop, file } = await withHistory();
    spoil(file, 'book');
    spoil(file, 'journal_run');
    const found = lookForRescue(workshop.folder, steps);
    expect(found).toMatchObject({ takenAt: noon, redone: [], lost: expect.stringContaining('cannot be read') });
    got(rescueWorkshop(workshop.folder, steps, noon));
    expect(titles(reopened(workshop, clock))).toEqual(['Before the copy']);
  });

  test('without a sound copy is left alone, in words', async () => {
    const { workshop, file } = await withHistory();
    writeFileSync(
      file,
      'no database at all, but a letter that is longer than a hundred bytes so that it might be taken for one. Yours.',
    );
    for (const { name } of listBackups(workshop.folder))
      writeFileSync(join(workshop.folder, 'backups', name), 'spoilt');
    expect(lookForRescue(workshop.folder, steps)).toEqual({ takenAt: null, redone: [], lost: null });
    expect(sentenceOf(rescueWorkshop(workshop.folder, steps, noon))).toContain('Nothing was changed');
    expect(existsSync(file)).toBe(true);
  });

  test('is not seen in a sound one, nor in no workshop', () => {
    const workshop = newWorkshop(clock);
    workshop.close();
    expect(lookForRescue(workshop.folder, steps)).toBeNull();
    expect(lookForRescue(join(workshop.folder, 'nowhere'), steps)).toBeNull();
    expect(sentenceOf(rescueWorkshop(workshop.folder, steps, noon))).toContain('not damaged');
  });
});

describe('a folder that goes away while the workshop is open', () => {
  test('has every change refused in words, and has kept all before it when it comes back', () => {
    const workshop = newWorkshop(clock);
    put(workshop, 'Kept');
    const elsewhere = `${workshop.folder}-pulled`;
    renameSync(workshop.folder, elsewhere);
    const said = sentenceOf(workshop.write('Put in', (change) => change.insert(book, bookDraft('Lost?'))));
    expect(said).toContain('no longer there');
    expect(said).toContain('Nothing of this change was kept');
    expect(sentenceOf(workshop.undo())).toContain('no longer there');
    expect(workshop.isThere()).toBe(false);
    renameSync(elsewhere, workshop.folder);
    put(workshop, 'Kept again');
    expect(titles(reopened(workshop, clock))).toEqual(['Kept', 'Kept again']);
  });

  test('and comes back as another copy is not written through the old one', () => {
    const workshop = newWorkshop(clock);
    put(workshop, 'Kept');
    const file = join(workshop.folder, 'workshop.sqlite');
    copyFileSync(file, `${file}.other`);
    renameSync(`${file}.other`, file);
    expect(sentenceOf(workshop.write('Put in', (change) => change.insert(book, bookDraft('x'))))).toContain(
      'no longer there',
    );
    workshop.close();
    rmSync(`${file}-wal`, { force: true });
  });
});
