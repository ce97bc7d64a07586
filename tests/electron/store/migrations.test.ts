import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import Database from 'better-sqlite3';
import { getTableColumns, getTableName, is } from 'drizzle-orm';
import { getTableConfig, SQLiteTable } from 'drizzle-orm/sqlite-core';
import { describe, expect, test } from 'vitest';
import { migrate, readSteps, type Step } from '../../../electron/store/migrate.ts';
import * as schema from '../../../electron/store/schema.ts';
import { book } from '../../../electron/store/schema.ts';
import * as courseSchema from '../../../electron/store/schema-course.ts';
import * as coursePlanSchema from '../../../electron/store/schema-course-plan.ts';
import * as offcutsSchema from '../../../electron/store/schema-offcuts.ts';
import * as photographsSchema from '../../../electron/store/schema-photographs.ts';
import * as shelfSchema from '../../../electron/store/schema-shelf.ts';
import * as stockroomSchema from '../../../electron/store/schema-stockroom.ts';
import { openWorkshop } from '../../../electron/store/workshop.ts';
import { bookDraft, got, newWorkshop, reopened } from './folders.ts';

/** What each landed migration must be for ever, and the test of its own. A new one is added here in the change that lands it. */
const landed: readonly Readonly<{ number: number; sha256: string; check: (raw: Database.Database) => void }>[] = [
  { number: 1, sha256: '984ed8bf8c751eef3ea18dd9c3a951e4c8ea94ad229042cd0cd25f41ee1d84bb', check: firstTables },
  { number: 2, sha256: '9d184489ecb559a78a3c6ca97f5eac367ff9aca5619adc1e79a8d130405ab374', check: measures },
  { number: 3, sha256: '05ea1c09f2dd0e07e09c4268fb869f3a4ec64070380af4d8dbacc45321a17859', check: planChances },
  { number: 4, sha256: 'd51ee717777e10d81722b86c52bd62f8f00ffccdfa6e95a9e364179d2c62fdaa', check: pieceTrace },
  { number: 5, sha256: '48f124306b0939c852fa8b476e0d4b5d2d395c3fbb48ae8b3ffc5e73499f46b5', check: partsOfPriority },
  { number: 6, sha256: 'aa43a5f327a15720dc88bd9a854500c1b4866148fac08d51b8041df187c3589a', check: sampleOfBacklog },
  { number: 7, sha256: 'a6339b486bcc88155157e0e60327ff5b1fa538a8ca92eb18903c2436179f4579', check: paperAndHeading },
  { number: 8, sha256: 'e3e4068913abb3a5948aa90c22164ffdea16e68197e57fe71f1f1ac33d0f7fb0', check: coloursAndCutting },
  { number: 9, sha256: '5bf8c25f0adf84271c393b553dba13404bd58bf7f71ce245f01bd057546c5d2b', check: photographs },
  { number: 10, sha256: '82a91c16e06b993f6af21016942690fcc50ae05ac171be356be940dd88ab442f', check: lotsAndBookings },
  { number: 11, sha256: '62a8b5667fb6bd7c7f167b481bbf1c93e2f546f66b891f993a94e76d2a48484d', check: peopleAndRooms },
  { number: 12, sha256: '0205e97de96537bd59424f3b6d23cecf18dc00d00d5ec6f296daceddec04309c', check: ownWorkAndViews },
  { number: 13, sha256: 'e7d77f6405a796e15af06d25f92d78fe62551ee14ee478eafbab2010a0ddfc50', check: pairsAndDeposits },
];

/** A pair is ruled out once, a copy spoilt once, an allocation's name and a person's deposit are there once. */
function pairsAndDeposits(raw: Database.Database): void {
  raw.pragma('foreign_keys = ON');
  putBook(raw, 'b');
  raw
    .prepare(
      `INSERT INTO course (id, title, starts_on, days, day_hours, tutors, helpers, benches, fee_minor, fixed_cost_minor,
                           per_head_cost_minor, copies_each, spares, note)
       VALUES ('c', 'A week', '2026-07-06', 5, '[[540,750]]', 1, 0, 4, 0, 0, 0, '[1,2]', 0, '')`,
    )
    .run();
  raw.prepare("INSERT INTO person VALUES ('p', 'c', 'Ada', 'newcomer', 'confirmed', '[]', '[]', '', '')").run();
  const once = (sql: string) => {
    const put = raw.prepare(sql);
    put.run('one');
    expect(() => put.run('two')).toThrow('UNIQUE constraint failed');
  };
  once("INSERT INTO course_pair VALUES (?, 'c', 'p', 'b')");
  once("INSERT INTO course_ruined VALUES (?, 'c', 'b', 5, 'The text block was cut')");
  once("INSERT INTO course_sharing VALUES (?, 'c', 'By wishes', 5, '[]', '{}')");
  once("INSERT INTO course_terms VALUES (?, 'c', 10000, NULL, 0)");
  once("INSERT INTO deposit VALUES (?, 'p', 10000, '2026-05-01')");
  const wrong = raw.prepare("INSERT INTO course_pair VALUES ('x', 'c', ?, 'b')");
  expect(() => wrong.run('nobody')).toThrow('FOREIGN KEY constraint failed');
}

/** An operation is kept once by version, a treatment and a view once by name; amounts are what they say they are. */
function ownWorkAndViews(raw: Database.Database): void {
  const operation = raw.prepare("INSERT INTO own_operation VALUES (?, 'oil hinges', ?, '{}', 0, 1)");
  operation.run('a', 1);
  operation.run('b', 2);
  expect(() => operation.run('c', 2)).toThrow('UNIQUE constraint failed');
  expect(() => operation.run('d', 'three')).toThrow('cannot store TEXT value in INTEGER column');
  raw.prepare("INSERT INTO own_treatment VALUES ('t', 'Quick recase', '[]', '', 1)").run();
  expect(() => raw.prepare("INSERT INTO own_treatment VALUES ('u', 'Quick recase', '[]', '', 1)").run()).toThrow(
    'UNIQUE',
  );
  raw.prepare("INSERT INTO saved_view VALUES ('v', 'Rare first', '{}', '[]')").run();
  expect(() => raw.prepare("INSERT INTO saved_view VALUES ('w', 'Rare first', '{}', '[]')").run()).toThrow('UNIQUE');
}

/** A syllabus from before keeps its operations; a person has one row of what they told, and meets an operation once. */
function peopleAndRooms(raw: Database.Database): void {
  raw.pragma('foreign_keys = ON');
  raw
    .prepare(
      `INSERT INTO course (id, title, starts_on, days, day_hours, tutors, helpers, benches, fee_minor, fixed_cost_minor,
                           per_head_cost_minor, copies_each, spares, note)
       VALUES ('c', 'A week', '2026-07-06', 5, '[[540,750]]', 1, 0, 4, 0, 0, 0, '[1,2]', 0, '')`,
    )
    .run();
  raw.prepare("INSERT INTO person VALUES ('p', 'c', 'Ada', 'newcomer', 'confirmed', '[]', '[]', '', '')").run();
  raw
    .prepare(
      `INSERT INTO syllabus_item (id, course_id, operation_id, required, demonstration_minutes, position)
       VALUES ('s', 'c', 'recase', 1, 20, 0)`,
    )
    .run();
  expect(raw.prepare('SELECT attention, "after", reading FROM syllabus_item').all()).toEqual([
    { attention: null, after: '[]', reading: '' },
  ]);
  raw.prepare("INSERT INTO room VALUES ('r', 'Loft', 2, 0, 1, 1, '')").run();
  const told = raw.prepare(
    `INSERT INTO guest VALUES (?, 'p', '', NULL, 'supper', NULL, 'breakfast', 0, '[]', '', '[]', 'either', 0, '[]', '[]', '{}', 0, 0,
                               '[]', ?, 0)`,
  );
  expect(() => told.run('g', 'no room')).toThrow('FOREIGN KEY constraint failed');
  told.run('g', 'r');
  expect(() => told.run('h', 'r')).toThrow('UNIQUE constraint failed');
  const tick = raw.prepare("INSERT INTO met VALUES (?, 'c', 'p', 'recase', 'alone', 5)");
  tick.run('m');
  expect(() => tick.run('n')).toThrow('UNIQUE constraint failed');
}

/** An empty file with the tables this program reads and writes. */
function firstTables(raw: Database.Database): void {
  raw.prepare("INSERT INTO lot (id, name, note) VALUES ('l', 'Box 4', '')").run();
  expect(raw.prepare('SELECT * FROM lot').all()).toEqual([
    { id: 'l', name: 'Box 4', acquired_on: null, cost_minor: null, note: '' },
  ]);
  expect(() => raw.prepare("INSERT INTO lot (id, name, note, cost_minor) VALUES ('m', '', '', 'dear')").run()).toThrow(
    'cannot store TEXT value in INTEGER column',
  );
}

/** Kept measures beside the books that were there: one value a field, of a book that is there. */
function measures(raw: Database.Database): void {
  raw.pragma('foreign_keys = ON');
  putBook(raw, 'b');
  const put = raw.prepare('INSERT INTO measure (id, book_id, calculation, field, length_um) VALUES (?, ?, ?, ?, ?)');
  put.run('m', 'b', 'covers', 'square', 4800);
  expect(raw.prepare('SELECT * FROM measure').all()).toEqual([
    { id: 'm', book_id: 'b', calculation: 'covers', field: 'square', length_um: 4800, words: null },
  ]);
  expect(() => put.run('n', 'b', 'covers', 'square', 3200)).toThrow('UNIQUE constraint failed');
  expect(() => put.run('n', 'nobody', 'covers', 'joint', 3200)).toThrow('FOREIGN KEY constraint failed');
  expect(() => put.run('n', 'b', 'covers', 'joint', 'wide')).toThrow('cannot store TEXT value in INTEGER column');
}

/** A step planned before is neither pinned nor reckoned; a later one can be. */
function planChances(raw: Database.Database): void {
  raw
    .prepare(
      "INSERT INTO plan (id, kind, starts_on, made_at, seed, quality) VALUES ('p', 'week', '2026-05-04', 0, 1, '{}')",
    )
    .run();
  const put = (id: string, columns: string, ...values: readonly (string | number)[]) =>
    raw
      .prepare(
        `INSERT INTO plan_task (id, plan_id, position, label, kind, start_at, end_at, tools, waits_for, state${columns})
         VALUES (?, 'p', 0, 'Recase', 'hands', 0, 60000, '[]', '', 'planned'${', ?'.repeat(values.length)})`,
      )
      .run(id, ...values);
  put('before', '');
  put('after', ', pinned_at, p50_at, p80_at, on_time', 0, 60_000, 120_000, 0.85);
  expect(raw.prepare('SELECT pinned_at, p50_at, p80_at, on_time FROM plan_task ORDER BY id').all()).toEqual([
    { pinned_at: 0, p50_at: 60_000, p80_at: 120_000, on_time: 0.85 },
    { pinned_at: null, p50_at: null, p80_at: null, on_time: null },
  ]);
  expect(() => put('wrong', ', pinned_at', 'noon')).toThrow('cannot store TEXT value in INTEGER column');
}

/** A piece put in before lies in the drawer and came from no other; what is cut from it says so, and of which book it is part now. */
function pieceTrace(raw: Database.Database): void {
  raw.pragma('foreign_keys = ON');
  putBook(raw, 'b');
  const put = (id: string, columns: string, ...values: readonly (string | number)[]) =>
    raw
      .prepare(
        `INSERT INTO piece (id, kind, height_um, width_um, colour, place, note${columns})
         VALUES (?, 'book cloth', 240000, 160000, '', '', ''${', ?'.repeat(values.length)})`,
      )
      .run(id, ...values);
  put('before', '');
  put('cut', ', from_piece_id, used_at, used_book_id, measured', 'before', 60_000, 'b', 'by hand');
  expect(raw.prepare('SELECT id, from_piece_id, used_at, used_book_id, measured FROM piece ORDER BY id').all()).toEqual(
    [
      { id: 'before', from_piece_id: null, used_at: null, used_book_id: null, measured: '' },
      { id: 'cut', from_piece_id: 'before', used_at: 60_000, used_book_id: 'b', measured: 'by hand' },
    ],
  );
  expect(() => put('wrong', ', from_piece_id', 'no piece')).toThrow('FOREIGN KEY constraint failed');
  expect(() => put('wrong', ', material_id', 'no material')).toThrow('FOREIGN KEY constraint failed');
}

/** One colour for each side of a book that is there; a bench cuts by its own habits once they are said. */
function coloursAndCutting(raw: Database.Database): void {
  raw.pragma('foreign_keys = ON');
  putBook(raw, 'b');
  const put = raw.prepare("INSERT INTO book_colour VALUES (?, ?, ?, '[40,-12.5,3]', 'by hand')");
  put.run('c', 'b', 'covering');
  put.run('d', 'b', 'endpaper');
  expect(() => put.run('e', 'b', 'covering')).toThrow('UNIQUE constraint failed');
  expect(() => put.run('e', 'nobody', 'covering')).toThrow('FOREIGN KEY constraint failed');
  expect(raw.prepare('SELECT lab FROM book_colour').pluck().all()).toEqual(['[40,-12.5,3]', '[40,-12.5,3]']);
  expect(raw.prepare('SELECT * FROM cutting_habits').all()).toEqual([]);
  const habits = raw.prepare('INSERT INTO cutting_habits VALUES (?, ?, 0, 40000, NULL)');
  habits.run('h', 1500);
  expect(() => habits.run('i', 'thin')).toThrow('cannot store TEXT value in INTEGER column');
}

/** No book is assessed until the workshop is opened; then it has the parts of its priority, and goes with its book. */
function partsOfPriority(raw: Database.Database): void {
  raw.pragma('foreign_keys = ON');
  putBook(raw, 'b');
  expect(raw.prepare('SELECT * FROM assessment').all()).toEqual([]);
  const put = (significance: number | string) =>
    raw
      .prepare(
        `INSERT INTO assessment VALUES ('b', ?, 1, 0.5, 0.25, 10, 20, 40, 0, 'newcomer', 'leave', '[]', 0, '[]', 2)`,
      )
      .run(significance);
  expect(() => put('much')).toThrow('cannot store TEXT value in REAL column');
  put(0.75);
  expect(raw.prepare('SELECT significance, decay, "use", benefit FROM assessment').all()).toEqual([
    { significance: 0.75, decay: 1, use: 0.5, benefit: 0.25 },
  ]);
  raw.prepare('DELETE FROM book').run();
  expect(raw.prepare('SELECT * FROM assessment').all()).toEqual([]);
}

/** A sample is kept whole, with how it was drawn. */
function sampleOfBacklog(raw: Database.Database): void {
  const put = raw.prepare("INSERT INTO backlog_sample VALUES (?, 0, ?, 0.95, 0.5, 0.05, 'lot', '[]')");
  put.run('s', 17);
  expect(raw.prepare('SELECT id, seed, confidence, "by" FROM backlog_sample').all()).toEqual([
    { id: 's', seed: 17, confidence: 0.95, by: 'lot' },
  ]);
  expect(() => put.run('t', 'any')).toThrow('cannot store TEXT value in INTEGER column');
}

/** A workshop from before prints on A4 under its name alone. */
function paperAndHeading(raw: Database.Database): void {
  raw
    .prepare(
      `INSERT INTO workshop (id, name, time_zone, currency, units, week_hours, days_off, weights, hourly_rate_minor, is_demo, created_at)
       VALUES ('w', 'Alder Yard', 'UTC', 'EUR', 'mm', '[]', '[]', '{}', 0, 0, 0)`,
    )
    .run();
  expect(raw.prepare('SELECT paper, heading FROM workshop').all()).toEqual([{ paper: 'A4', heading: '' }]);
}

/** A photograph shows a book that is there, or nothing yet; a book has one record. */
function photographs(raw: Database.Database): void {
  raw.pragma('foreign_keys = ON');
  putBook(raw, 'b');
  const put = raw.prepare(
    "INSERT INTO photograph VALUES (?, 'ab', 'image/jpeg', ?, 40, 30, NULL, 0, ?, NULL, NULL, 'before', '', 'a.jpg', NULL, '[]')",
  );
  put.run('p', 1200, 'b');
  expect(raw.prepare('SELECT id, book_id, stage, scale FROM photograph').all()).toEqual([
    { id: 'p', book_id: 'b', stage: 'before', scale: null },
  ]);
  expect(() => put.run('q', 1200, 'no book')).toThrow('FOREIGN KEY constraint failed');
  expect(() => put.run('q', 'many', 'b')).toThrow('cannot store TEXT value in INTEGER column');
  const record = raw.prepare("INSERT INTO treatment_record VALUES (?, 'b', '', '', '', '', '[]', '', '', '', NULL)");
  record.run('r');
  expect(() => record.run('s')).toThrow('UNIQUE constraint failed');
}

/** What moved before is in no lot; a step's materials are dealt with once, and an entry is corrected once. */
function lotsAndBookings(raw: Database.Database): void {
  raw.pragma('foreign_keys = ON');
  putBook(raw, 'b');
  raw
    .prepare(
      `INSERT INTO material (id, name, kind, unit, pack_millionths, pack_price_minor, supplier, lead_days, colour, place, note)
       VALUES ('m', 'Starch', 'wheat starch', 'g', 500000000, 420, '', 4, '', '', '')`,
    )
    .run();
  expect(raw.prepare('SELECT hazard_sheet FROM material').pluck().all()).toEqual(['']);
  raw.prepare("INSERT INTO stock_lot VALUES ('l', 'm', '2026-05-04', NULL, '', NULL, 'B 17', '')").run();
  const put = (id: string, columns: string, ...values: readonly string[]) =>
    raw
      .prepare(
        `INSERT INTO movement (id, material_id, kind, quantity_millionths, at, reason${columns})
         VALUES (?, 'm', 'in', 5, 0, ''${', ?'.repeat(values.length)})`,
      )
      .run(id, ...values);
  put('before', '');
  put('after', ', lot_id', 'l');
  expect(raw.prepare('SELECT id, lot_id, booking_id, made_lot_id FROM movement ORDER BY id').all()).toEqual([
    { id: 'after', lot_id: 'l', booking_id: null, made_lot_id: null },
    { id: 'before', lot_id: null, booking_id: null, made_lot_id: null },
  ]);
  expect(() => put('wrong', ', lot_id', 'no lot')).toThrow('FOREIGN KEY constraint failed');
  const booked = raw.prepare("INSERT INTO booking VALUES (?, 'b', 'reback', 7, 8, '')");
  booked.run('k');
  expect(() => booked.run('j')).toThrow('UNIQUE constraint failed');
  const written = raw.prepare("INSERT INTO entry (id, at, minutes, note, answers) VALUES (?, 0, ?, '', ?)");
  written.run('e', 30, null);
  written.run('f', -30, 'e');
  written.run('g', 5, null);
  expect(() => written.run('h', -30, 'e')).toThrow('UNIQUE constraint failed');
}

/** A book in whatever columns the table has at this version: nothing where that is allowed. */
function putBook(raw: Database.Database, id: string): void {
  const columns = raw.prepare('SELECT name, type, "notnull" AS needed FROM pragma_table_info(\'book\')').all() as {
    name: string;
    type: string;
    needed: number;
  }[];
  const needed = columns.filter((column) => column.needed === 1);
  const values = needed.map(({ name, type }) => (name === 'id' ? id : type === 'INTEGER' ? 0 : ''));
  raw
    .prepare(
      `INSERT INTO book (${needed.map(({ name }) => name).join(',')}) VALUES (${needed.map(() => '?').join(',')})`,
    )
    .run(values);
}

function migrated(steps: readonly Step[], raw = new Database(':memory:')): Database.Database {
  migrate(raw, steps);
  return raw;
}

const sha256 = (text: string) => createHash('sha256').update(text).digest('hex');

describe('migrations', () => {
  const steps = readSteps();

  test('that have landed are never changed, and each has a test', () => {
    expect(steps.map(({ number, sql }) => ({ number, sha256: sha256(sql) }))).toEqual(
      landed.map(({ number, sha256 }) => ({ number, sha256 })),
    );
  });

  test.each(landed)('number $number makes of its forerunner what it should', ({ number, check }) => {
    const raw = migrated(steps.slice(0, number - 1));
    migrated(steps.slice(0, number), raw);
    check(raw);
    expect(raw.pragma('user_version', { simple: true })).toBe(number);
  });

  test('end in the very tables, columns, keys and indexes that the schema describes', () => {
    const raw = migrated(steps);
    // One line a schema file: what a room keeps beside the first tables.
    const described = [
      schema,
      courseSchema,
      coursePlanSchema,
      offcutsSchema,
      photographsSchema,
      shelfSchema,
      stockroomSchema,
    ]
      .flatMap((file) => Object.values(file))
      .filter((value) => is(value, SQLiteTable));
    expect(described.length).toBeGreaterThan(20);
    for (const table of described) {
      const name = getTableName(table);
      const found = raw.prepare('SELECT name, type, "notnull", pk FROM pragma_table_info(?)').all(name);
      const config = getTableConfig(table);
      const key = config.primaryKeys[0]?.columns.map((column) => column.name) ?? [];
      const expected = Object.values(getTableColumns(table)).map((column) => ({
        name: column.name,
        type: column.getSQLType().toUpperCase(),
        notnull: column.notNull ? 1 : 0,
        pk: column.primary ? 1 : key.indexOf(column.name) + 1,
      }));
      expect({
        name,
        columns: found.map((row) => ({ ...(row as object), type: (row as { type: string }).type.toUpperCase() })),
      }).toEqual({ name, columns: expected });
      const indexes = raw
        .prepare("SELECT name FROM pragma_index_list(?) WHERE origin = 'c' ORDER BY name")
        .pluck()
        .all(name);
      const unique = Object.values(getTableColumns(table))
        .filter((column) => column.isUnique)
        .map((column) => column.uniqueName);
      expect(indexes).toEqual([...config.indexes.map((index) => index.config.name), ...unique].sort());
      const keys = raw.prepare('SELECT count(*) FROM pragma_foreign_key_list(?)').pluck().get(name);
      expect({ name, keys }).toEqual({ name, keys: config.foreignKeys.length });
    }
  });

  test('are all read from beside the code, in their order', () => {
    const folder = fileURLToPath(new URL('../../../electron/store/migrations', import.meta.url));
    const files = readdirSync(folder)
      .filter((name) => name.endsWith('.sql'))
      .sort();
    expect(steps.map(({ number, name }) => `${String(number).padStart(4, '0')}-${name}.sql`)).toEqual(files);
    expect(files.map((name) => readFileSync(join(folder, name), 'utf8'))).toEqual(steps.map(({ sql }) => sql));
  });
});

describe('the runner', () => {
  const steps = readSteps();
  const next = (sql: string): readonly Step[] => [...steps, { number: steps.length + 1, name: 'next', sql }];

  test('keeps the children of a table that is rebuilt', () => {
    const raw = migrated([
      {
        number: 1,
        name: 'a',
        sql: `CREATE TABLE parent (id TEXT PRIMARY KEY) STRICT;
              CREATE TABLE child (id TEXT PRIMARY KEY, parent TEXT REFERENCES parent(id) ON DELETE CASCADE) STRICT;
              INSERT INTO parent VALUES ('p'); INSERT INTO child VALUES ('c', 'p');`,
      },
      {
        number: 2,
        name: 'b',
        sql: `CREATE TABLE parent_new (id TEXT PRIMARY KEY, note TEXT) STRICT; INSERT INTO parent_new SELECT id, '' FROM parent;
              DROP TABLE parent; ALTER TABLE parent_new RENAME TO parent;`,
      },
    ]);
    expect(raw.prepare('SELECT * FROM child').all()).toEqual([{ id: 'c', parent: 'p' }]);
    expect(raw.pragma('foreign_keys', { simple: true })).toBe(1);
  });

  test('leaves the file as it was where a step fails or leaves rows without what they belong to', () => {
    const raw = migrated(steps);
    const version = steps.length;
    expect(() => migrate(raw, next('CREATE TABLE one (id TEXT); SELECT nonsense;'))).toThrow('no such column');
    expect(() =>
      migrate(raw, next("INSERT INTO finding VALUES ('f', 'no book', 'spine', 'torn', 1, NULL, '')")),
    ).toThrow(`migration ${version + 1} leaves 1 rows without what they belong to`);
    expect(raw.pragma('user_version', { simple: true })).toBe(version);
    expect(raw.prepare("SELECT name FROM sqlite_schema WHERE name = 'one'").all()).toEqual([]);
    expect(raw.prepare('SELECT count(*) FROM finding').pluck().get()).toBe(0);
    expect(raw.pragma('foreign_keys', { simple: true })).toBe(1);
  });

  test('copies a workshop of an earlier version before it is migrated, and undo reaches back over the migration', () => {
    const now = () => Date.UTC(2026, 5, 1);
    let workshop = newWorkshop({ now });
    workshop.write('Take in', (change) => change.insert(book, bookDraft('A')));
    workshop = reopened(workshop, { now, steps: next("ALTER TABLE book ADD COLUMN smell TEXT NOT NULL DEFAULT ''") });
    expect(workshop.raw.prepare('SELECT title, smell FROM book').all()).toEqual([{ title: 'A', smell: '' }]);
    const backups = readdirSync(join(workshop.folder, 'backups'));
    expect(backups).toContain(`2026-06-01T00-00-00Z-v${steps.length}.sqlite`);
    expect(got(workshop.undo()).label).toBe('Take in');
    expect(got(workshop.redo()).label).toBe('Take in');
    expect(workshop.raw.prepare('SELECT title, smell FROM book').all()).toEqual([{ title: 'A', smell: '' }]);
    workshop.close();
    expect(openWorkshop(workshop.folder)).toMatchObject({ ok: false });
  });
});
