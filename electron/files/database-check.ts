/** Whether a file that came from elsewhere is a workshop’s database and nothing but that. */
import Database from 'better-sqlite3';
import { applicationId } from '../store/folder.ts';
import { migrate, type Step } from '../store/migrate.ts';
import { findDamage } from '../store/soundness.ts';

/**
 * What is wrong with the database, in a sentence; null when it is sound. Its tables, indexes and triggers must be the very ones that this
 * program makes for its version: one more, one less or one changed is refused, so that nothing planted there ever runs.
 */
export function checkDatabase(file: string, steps: readonly Step[]): string | null {
  let raw: Database.Database | null = null;
  try {
    raw = new Database(file, { readonly: true, fileMustExist: true });
    // Nothing in a strange schema may run while it is looked at (sqlite.org/security.html, untrusted databases).
    raw.pragma('trusted_schema = OFF');
    raw.pragma('cell_size_check = ON');
    raw.pragma('mmap_size = 0');
    if (raw.pragma('application_id', { simple: true }) !== applicationId)
      return 'it is the database of another program.';
    const version = raw.pragma('user_version', { simple: true }) as number;
    if (version < 1) return 'it was never finished.';
    if (version > steps.length) return 'it was made by a newer version of the program.';
    const stranger = strangerIn(raw, steps.slice(0, version));
    if (stranger !== null) return stranger;
    const damage = findDamage(raw);
    if (damage !== null) return `it is damaged (${damage}).`;
    const loose = raw.pragma('foreign_key_check') as readonly Readonly<{ table: string }>[];
    if (loose.length > 0) return `rows of “${loose[0]?.table}” belong to nothing.`;
    if (raw.prepare('SELECT count(*) FROM workshop').pluck().get() !== 1) return 'it does not describe one workshop.';
    return null;
  } catch (error) {
    if (error instanceof Database.SqliteError) return `it cannot be read (${error.message}).`;
    throw error;
  } finally {
    raw?.close();
  }
}

type Part = Readonly<{ type: string; name: string; sql: string | null }>;

function strangerIn(raw: Database.Database, steps: readonly Step[]): string | null {
  const expected = new Map(schemaOf(steps).map((part) => [`${part.type} ${part.name}`, part.sql]));
  for (const { type, name, sql } of partsOf(raw)) {
    const known = expected.get(`${type} ${name}`);
    if (known === undefined) return `it holds the ${type} “${name}”, which no workshop has.`;
    if (known !== sql) return `its ${type} “${name}” is not the one a workshop has.`;
    expected.delete(`${type} ${name}`);
  }
  const [missing] = expected.keys();
  return missing === undefined ? null : `it lacks the ${missing}.`;
}

function schemaOf(steps: readonly Step[]): readonly Part[] {
  const model = new Database(':memory:');
  try {
    migrate(model, steps);
    return partsOf(model);
  } finally {
    model.close();
  }
}

function partsOf(raw: Database.Database): readonly Part[] {
  const parts = raw.prepare('SELECT type, name, sql FROM sqlite_schema').all() as Part[];
  return parts.filter(({ name }) => !/^sqlite_(?:stat\d|sequence|autoindex)/.test(name));
}
