/**
 * Erases one person for good: their rows, what the history kept of them before and after every change, and their name wherever a course
 * speaks of it. The rest of the history can still be undone, as though the person had never been there. The file is then written anew
 * (VACUUM) and its log cut to nothing, so that no freed page holds the name either. What a disk keeps of overwritten blocks is beyond any
 * program; so are copies made before.
 */
import type Database from 'better-sqlite3';
import { assert, ok, type Result, refuse } from '../../core/result.ts';
import { sayDiskTrouble } from './trouble.ts';
import type { Workshop } from './workshop.ts';

export type Erasure = Readonly<{
  /** Entries of the history that named the person. */
  history: number;
  /** Rows outside of courses in which the same words stand, and were left: a book’s author may share the name. */
  elsewhere: number;
}>;

type Image = Record<string, unknown>;
type Change = { table: string; id: string; before: Image | null; after: Image | null };

/** Stands where the name stood. */
const instead = 'erased person';

/** Rows that are only about the person go whole; where others are only tied to them, the tie goes. */
const ownTables: ReadonlySet<string> = new Set(['course_pair', 'deposit', 'guest', 'met', 'plan_task']);

/** Tables in which a course speaks of people: its own, which are named for it, and these. */
const otherTables: ReadonlySet<string> = new Set([
  'deposit',
  'entry',
  'guest',
  'letter',
  'met',
  'movement',
  'person',
  'plan',
  'plan_task',
  'room',
  'syllabus_item',
]);

function isOfCourses(table: string): boolean {
  return table.startsWith('course') || otherTables.has(table);
}

/** Takes the person out of the file and its history. `now` dates the line that the history keeps of it. */
export function erasePerson(store: Workshop, personId: string, now: number): Result<Erasure> {
  const { raw } = store;
  const person = raw.prepare('SELECT id FROM person WHERE id = ?').get(personId);
  if (person === undefined) return refuse('This person is not on the list any more.', 'personId');
  raw.pragma('query_only = OFF');
  raw.pragma('secure_delete = ON');
  try {
    const erasure = raw
      .transaction((): Erasure => {
        raw.pragma('defer_foreign_keys = ON');
        const words = wordsOf(raw, personId);
        const scrub = scrubber(words, personId);
        const ties = tiesOf(raw);
        const history = scrubHistory(raw, personId, scrub, ties);
        for (const tie of ties) untie(raw, tie, personId);
        raw.prepare('DELETE FROM person WHERE id = ?').run(personId);
        scrubRows(raw, scrub);
        raw
          .prepare(
            "INSERT INTO journal (at, label, kind, standing) VALUES (?, 'Erase one person for good', 'do', 'forgotten')",
          )
          .run(now);
        return { history, elsewhere: countElsewhere(raw, words) };
      })
      .immediate();
    raw.exec('VACUUM');
    raw.pragma('wal_checkpoint(TRUNCATE)');
    return ok(erasure);
  } catch (error) {
    const refusal = sayDiskTrouble(error);
    if (refusal === null) throw error;
    return refuse(`${refusal.sentence} The person may not be erased yet; do it again when there is room.`);
  } finally {
    raw.pragma('query_only = ON');
  }
}

/** Every name and contact the person ever went by, the present and those the history knows. */
function wordsOf(raw: Database.Database, personId: string): ReadonlySet<string> {
  const found = new Set<string>();
  const add = (image: Image | null | undefined) => {
    for (const word of [image?.name, image?.contact]) {
      if (typeof word === 'string' && word.trim().length > 1) found.add(word.trim());
    }
  };
  add(raw.prepare('SELECT name FROM person WHERE id = ?').get(personId) as Image);
  add(raw.prepare('SELECT contact FROM guest WHERE person_id = ?').get(personId) as Image | undefined);
  const runs = raw.prepare('SELECT changes FROM journal_run WHERE instr(changes, ?) > 0').pluck();
  for (const changes of runs.iterate(personId) as IterableIterator<string>) {
    for (const change of JSON.parse(changes) as readonly Change[]) {
      for (const image of [change.before, change.after]) {
        if (change.id === personId || (change.table === 'guest' && image?.person_id === personId)) add(image);
      }
    }
  }
  return found;
}

type Scrub = (text: string) => string;

function scrubber(words: ReadonlySet<string>, personId: string): Scrub {
  const longestFirst = [...words].toSorted((one, other) => other.length - one.length);
  const patterns = longestFirst.map((word) => {
    const plain = word.replace(/[.*+?^${}()|[\]\\]/g, '\\$&').replace(/\s+/g, '\\s+');
    return new RegExp(`(?<![\\p{L}\\p{N}])${plain}(?![\\p{L}\\p{N}])`, 'giu');
  });
  return (text) =>
    patterns.reduce((left, pattern) => left.replace(pattern, instead), text).replaceAll(personId, 'erased');
}

type Tie = Readonly<{ table: string; column: string; gone: boolean }>;

/** Every column that names a person, of whichever table; where it may not be empty, its row goes. */
function tiesOf(raw: Database.Database): readonly Tie[] {
  return raw
    .prepare(
      `SELECT m.name AS "table", f."from" AS "column", c."notnull" AS must
       FROM sqlite_schema m, pragma_foreign_key_list(m.name) f, pragma_table_info(m.name) c
       WHERE m.type = 'table' AND f."table" = 'person' AND c.name = f."from"`,
    )
    .all()
    .map((row) => {
      const { table, column, must } = row as { table: string; column: string; must: number };
      return { table, column, gone: must === 1 || ownTables.has(table) };
    });
}

function untie(raw: Database.Database, { table, column, gone }: Tie, personId: string): void {
  if (gone) raw.prepare(`DELETE FROM "${table}" WHERE "${column}" = ?`).run(personId);
  else if (table === 'course_copy') {
    raw.prepare("UPDATE course_copy SET person_id = NULL, locked = 0, reason = '' WHERE person_id = ?").run(personId);
  } else raw.prepare(`UPDATE "${table}" SET "${column}" = NULL WHERE "${column}" = ?`).run(personId);
}

/** Names of other people on other courses stay, though they be the same. */
function isAnothersName(table: string, column: string): boolean {
  return (table === 'person' && column === 'name') || (table === 'guest' && column === 'contact');
}

function scrubImage(table: string, image: Image, scrub: Scrub): Image {
  if (!isOfCourses(table)) return image;
  return Object.fromEntries(
    Object.entries(image).map(([column, value]) => [
      column,
      typeof value === 'string' && !isAnothersName(table, column) ? scrub(value) : value,
    ]),
  );
}

/** Rewrites what the history kept; entries of which nothing is left cannot be undone any more, and are passed over. */
function scrubHistory(raw: Database.Database, personId: string, scrub: Scrub, ties: readonly Tie[]): number {
  const tieOf = new Map(ties.map((tie) => [tie.table, tie]));
  const touched = new Set<number>();
  const put = raw.prepare('UPDATE journal_run SET changes = ? WHERE seq = ? AND run = ?');
  const keys = raw.prepare('SELECT seq, run FROM journal_run').all() as { seq: number; run: number }[];
  const read = raw.prepare('SELECT changes FROM journal_run WHERE seq = ? AND run = ?').pluck();
  for (const { seq, run } of keys) {
    const before = read.get(seq, run) as string;
    const kept = (JSON.parse(before) as readonly Change[]).flatMap((change): readonly Change[] => {
      const { table, id } = change;
      if (table === 'person' && id === personId) return [];
      const tie = tieOf.get(table);
      const images = [change.before, change.after];
      const tied = tie !== undefined && images.some((image) => image?.[tie.column] === personId);
      if (tied && tie.gone) return [];
      const [from, to] = images.map((image) => {
        if (image === null) return null;
        const free =
          tied && image[tie.column] === personId
            ? { ...image, [tie.column]: null, ...(table === 'course_copy' ? { locked: 0, reason: '' } : {}) }
            : image;
        return scrubImage(table, free, scrub);
      });
      return [{ ...change, before: from ?? null, after: to ?? null }];
    });
    const after = JSON.stringify(kept);
    if (after === before) continue;
    put.run(after, seq, run);
    touched.add(seq);
  }
  const label = raw.prepare('UPDATE journal SET label = ? WHERE seq = ?');
  for (const row of raw.prepare('SELECT seq, label FROM journal').all() as { seq: number; label: string }[]) {
    const words = scrub(row.label);
    if (words === row.label) continue;
    label.run(words, row.seq);
    touched.add(row.seq);
  }
  raw
    .prepare(
      `UPDATE journal SET standing = 'forgotten' WHERE standing IN ('stands', 'undone')
         AND NOT EXISTS (SELECT 1 FROM journal_run r WHERE r.seq = journal.seq AND r.changes <> '[]')`,
    )
    .run();
  return touched.size;
}

function scrubRows(raw: Database.Database, scrub: Scrub): void {
  for (const table of tablesOf(raw).filter(isOfCourses)) {
    const columns = textColumns(raw, table).filter((column) => column !== 'id' && !column.endsWith('_id'));
    if (columns.length === 0) continue;
    for (const row of raw.prepare(`SELECT * FROM "${table}"`).all() as Image[]) {
      for (const column of columns) {
        const value = row[column];
        if (typeof value !== 'string' || isAnothersName(table, column)) continue;
        const words = scrub(value);
        if (words !== value) raw.prepare(`UPDATE "${table}" SET "${column}" = ? WHERE id = ?`).run(words, row.id);
      }
    }
  }
}

function countElsewhere(raw: Database.Database, words: ReadonlySet<string>): number {
  const tables = tablesOf(raw).filter((name) => !/^(sqlite_|book_search|journal)/.test(name));
  let count = 0;
  for (const table of tables) {
    const columns = textColumns(raw, table);
    if (columns.length === 0) continue;
    const somewhere = columns.map((column) => `instr(lower("${column}"), ?) > 0`).join(' OR ');
    for (const word of words) {
      const found = raw
        .prepare(`SELECT count(*) FROM "${table}" WHERE ${somewhere}`)
        .pluck()
        .get(...columns.map(() => word.toLowerCase()));
      assert(typeof found === 'number', 'a count is a number');
      count += found;
    }
  }
  return count;
}

function tablesOf(raw: Database.Database): readonly string[] {
  return raw.prepare("SELECT name FROM sqlite_schema WHERE type = 'table'").pluck().all() as string[];
}

function textColumns(raw: Database.Database, table: string): readonly string[] {
  return raw
    .prepare("SELECT name FROM pragma_table_info(?) WHERE type = 'TEXT' COLLATE NOCASE")
    .pluck()
    .all(table) as string[];
}
