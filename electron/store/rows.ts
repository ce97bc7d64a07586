/** Rows as the file has them: column names and driver values, so that the journal reads without this program's names for things. */
import type Database from 'better-sqlite3';
import { getTableColumns, getTableName } from 'drizzle-orm';
import { assert } from '../../core/result.ts';
import type { DerivedTable, JournalledTable } from './tables.ts';
import { journalled } from './tables.ts';

type Value = string | number | bigint | Buffer | null;
/** A row by column name. */
export type Image = Readonly<Record<string, Value>>;

type Column = Readonly<{ key: string; name: string; otherwise: unknown; encode(value: unknown): Value }>;
type Shape = Readonly<{ table: string; columns: readonly Column[]; names: ReadonlySet<string> }>;

/** Reads and writes rows of one open file through statements prepared once. */
export function openRows(raw: Database.Database) {
  const statements = new Map<string, Database.Statement>();
  function prepared(sql: string): Database.Statement {
    let statement = statements.get(sql);
    if (statement === undefined) {
      statement = raw.prepare(sql);
      statements.set(sql, statement);
    }
    return statement;
  }

  return {
    read(table: string, id: string): Image | null {
      return (prepared(`SELECT * FROM "${table}" WHERE id = ?`).get(id) as Image | undefined) ?? null;
    },
    insert(table: string, image: Image): void {
      const names = Object.keys(image);
      const sql = `INSERT INTO "${table}" (${quoted(names)}) VALUES (${names.map(() => '?').join(',')})`;
      prepared(sql).run(Object.values(image));
    },
    /** Sets every column of the image; the row must be there. */
    update(table: string, id: string, image: Image): void {
      const sql = `UPDATE "${table}" SET ${assignments(Object.keys(image))} WHERE id = ?`;
      const { changes } = prepared(sql).run([...Object.values(image), id]);
      assert(changes === 1, `one row of ${table} is ${id}`);
    },
    remove(table: string, id: string): void {
      const { changes } = prepared(`DELETE FROM "${table}" WHERE id = ?`).run(id);
      assert(changes === 1, `one row of ${table} is ${id}`);
    },
    /** Puts in or overwrites a row of a table whose key is its first column. */
    put(table: string, image: Image): void {
      const names = Object.keys(image);
      const sql = `INSERT INTO "${table}" (${quoted(names)}) VALUES (${names.map(() => '?').join(',')})
        ON CONFLICT DO UPDATE SET ${names.map((name) => `"${name}" = excluded."${name}"`).join(',')}`;
      prepared(sql).run(Object.values(image));
    },
    has(table: string, id: string): boolean {
      return prepared(`SELECT 1 FROM "${table}" WHERE id = ?`).get(id) !== undefined;
    },
  };
}

/** A whole new row: what is left out is the column's default, else null. */
export function encodeRow(table: JournalledTable | DerivedTable, row: Readonly<Record<string, unknown>>): Image {
  const image: Record<string, Value> = {};
  for (const { key, name, otherwise, encode } of shapeOf(table).columns) image[name] = encode(row[key] ?? otherwise);
  return image;
}

/** The named columns only; a key no column has is a defect. */
export function encodePatch(table: JournalledTable, patch: Readonly<Record<string, unknown>>): Image {
  const image: Record<string, Value> = {};
  const { columns } = shapeOf(table);
  for (const key of Object.keys(patch)) {
    const column = columns.find((candidate) => candidate.key === key);
    assert(column !== undefined, `${getTableName(table)} has a column for ${key}`);
    if (patch[key] !== undefined) image[column.name] = column.encode(patch[key]);
  }
  return image;
}

/** True where this program still has the table and every column that a row of the journal names. */
export function isKnown(table: string, image: Image): boolean {
  const shape = knownShapes().get(table);
  return shape !== undefined && Object.keys(image).every((name) => shape.names.has(name));
}

const shapes = new Map<JournalledTable | DerivedTable, Shape>();
function shapeOf(table: JournalledTable | DerivedTable): Shape {
  const known = shapes.get(table);
  if (known !== undefined) return known;
  const columns = Object.entries(getTableColumns(table)).map(([key, column]) => ({
    key,
    name: column.name,
    otherwise: column.default,
    encode: (value: unknown): Value =>
      value === undefined || value === null ? null : (column.mapToDriverValue(value) as Value),
  }));
  const shape = { table: getTableName(table), columns, names: new Set(columns.map((column) => column.name)) };
  shapes.set(table, shape);
  return shape;
}

let shapesByName: ReadonlyMap<string, Shape> | undefined;
function knownShapes(): ReadonlyMap<string, Shape> {
  shapesByName ??= new Map(Object.values(journalled).map((table) => [getTableName(table), shapeOf(table)]));
  return shapesByName;
}

function quoted(names: readonly string[]): string {
  return names.map((name) => `"${name}"`).join(',');
}

function assignments(names: readonly string[]): string {
  return names.map((name) => `"${name}" = ?`).join(',');
}
