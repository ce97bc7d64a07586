import type Database from 'better-sqlite3';

/**
 * Goes through every page of every table and says the first thing found wrong, null when all is sound. The search index is looked at as the
 * tables it is kept in: comparing it with itself word by word would take five times as long and it can be built again.
 */
export function findDamage(raw: Database.Database): string | null {
  const tables = raw
    .prepare("SELECT name FROM sqlite_schema WHERE type = 'table' AND sql NOT LIKE 'CREATE VIRTUAL%'")
    .pluck()
    .all() as string[];
  for (const table of ['sqlite_schema', ...tables]) {
    const verdict = raw.pragma(`quick_check('${table.replaceAll("'", "''")}')`, { simple: true }) as string;
    if (verdict !== 'ok') return inWords(verdict);
  }
  return null;
}

/** SQLite's finding without its heading, on one line. */
export function inWords(verdict: string): string {
  return verdict.replace(/^\*+ in database \w+ \*+\s*/, '').replace(/\s+/g, ' ');
}
