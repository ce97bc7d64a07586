/**
 * A process made to be killed: opens the workshop in a folder and changes it without end, saying each change once it is acknowledged.
 * `node crash-writer.ts FOLDER SEED`. Lines are JSON: {"ready":true}, then {"seq":…,"books":{id: title or null}} after each write returned.
 */
import { writeSync } from 'node:fs';
import { chanceFrom } from '../../core/schedule/random.ts';
import { book, finding, hazard } from '../../electron/store/schema.ts';
import { type Change, openWorkshop } from '../../electron/store/workshop.ts';

const [folder, seed] = process.argv.slice(2);
if (folder === undefined || seed === undefined) throw new Error('crash-writer.ts FOLDER SEED');
const chance = chanceFrom(Number(seed));
const opened = openWorkshop(folder);
if (!opened.ok) throw new Error(opened.refusal.sentence);
const workshop = opened.value;
const upTo = (most: number) => Math.floor(chance() * most);
// Straight to the pipe: what is buffered in this process would die with it although it was acknowledged.
const say = (line: unknown) => writeSync(1, `${JSON.stringify(line)}\n`);
const idsOf = (table: string) => workshop.raw.prepare(`SELECT id FROM ${table} ORDER BY id`).pluck().all() as string[];
const titleOf = workshop.raw.prepare('SELECT title FROM book WHERE id = ?').pluck();
const newest = workshop.raw.prepare(
  'SELECT seq, coalesce(answers, seq) AS rows FROM journal ORDER BY seq DESC LIMIT 1',
);
const touched = workshop.raw
  .prepare(
    `SELECT DISTINCT c.value ->> 'id' FROM journal_run r, json_each(r.changes) c
     WHERE r.seq = ? AND c.value ->> 'table' = 'book'`,
  )
  .pluck();

say({ ready: true });
for (let step = 0; ; step++) {
  const dice = chance();
  if (dice < 0.12) workshop.undo();
  else if (dice < 0.2) workshop.redo();
  else workshop.write(`Step ${seed}.${step}`, (change) => (dice < 0.55 ? takeIn(change, step) : alter(change, step)));
  const { seq, rows } = (newest.get() ?? { seq: 0, rows: 0 }) as { seq: number; rows: number };
  const books = Object.fromEntries((touched.all(rows) as string[]).map((id) => [id, titleOf.get(id) ?? null]));
  say({ seq, books });
}

/** Mostly a few books, now and then many, so that kills meet large transactions and the folding of the log into the file too. */
function takeIn(change: Change, step: number): void {
  const count = chance() < 0.1 ? 200 + upTo(300) : 1 + upTo(5);
  for (let index = 0; index < count; index++) {
    const bookId = change.insert(book, draft(`Book ${seed}.${step}.${index}`));
    if (chance() < 0.7) {
      change.insert(finding, { bookId, part: 'spine', damage: 'torn', severity: 1 + upTo(3), note: '' });
    }
    if (chance() < 0.1) {
      change.insert(hazard, { bookId, kind: 'mould', state: 'raised', reason: 'Seen', decision: '' });
    }
  }
}

/** Changes some books and takes others away; more go when there are many, so that the file stays small enough to be checked often. */
function alter(change: Change, step: number): void {
  const ids = idsOf('book');
  const count = Math.min(ids.length, ids.length > 1500 ? 500 : 1 + upTo(10));
  const from = upTo(ids.length - count + 1);
  for (const id of ids.slice(from, from + count)) {
    if (chance() < 0.5) {
      change.update(book, id, { title: `Changed ${seed}.${step}`, heightUm: 100_000 + upTo(300_000) });
      continue;
    }
    for (const table of [finding, hazard] as const) {
      const name = table === finding ? 'finding' : 'hazard';
      const rows = workshop.raw.prepare(`SELECT id FROM ${name} WHERE book_id = ?`).pluck().all(id) as string[];
      for (const row of rows) change.remove(table, row);
    }
    change.remove(book, id);
  }
}

function draft(title: string) {
  const words = { author: 'Nobody', imprint: 'Nowhere', dateText: '1860', format: 'crown 8vo', pagesText: '320' };
  const standing = { stage: 'waiting', use: 'reference', significance: 1, scarcity: 'common', completeness: 'unknown' };
  return { title, ...words, colour: 'green', fateLocked: false, ...standing, note: '', createdAt: 0 };
}
