/**
 * Kills a writing process again and again and looks at what is left. A killed process leaves its writes with the operating system, so this
 * shows that no half change survives and no whole one is lost with the process; it cannot show what a disk does when the power fails.
 */
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { createInterface } from 'node:readline';
import { setTimeout as pause } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import { chanceFrom } from '../../core/schedule/random.ts';
import { createWorkshop, openWorkshop, type Workshop } from '../../electron/store/workshop.ts';

export type CrashTally = Readonly<{
  kills: number;
  /** Kills that met the process before it had acknowledged anything: mostly while it was opening the workshop. */
  beforeAny: number;
  acknowledged: number;
  /** Acknowledged changes that were not there afterwards. */
  lost: number;
  /** Openings after a kill at which the file, the journal or the rows that follow from others did not hold together. */
  unsound: number;
  troubles: readonly string[];
}>;

type Said = Readonly<{ seq: number; books: Readonly<Record<string, string | null>> }>;
type Row = Readonly<Record<string, unknown>>;
type Kept = Readonly<{ table: string; id: string; before: Row | null; after: Row | null }>;

const writer = fileURLToPath(new URL('./crash-writer.ts', import.meta.url));
const tables = ['book', 'finding', 'hazard'];

/** `kills` kills at seeded moments within `mostMs` of the first writing, one in five while opening, on one workshop in an empty folder. */
export async function crash(folder: string, kills: number, seed: number, mostMs: number): Promise<CrashTally> {
  const made = createWorkshop(folder, { name: 'Crash', timeZone: 'UTC', currency: 'EUR' });
  if (!made.ok) throw new Error(made.refusal.sentence);
  made.value.close();
  const chance = chanceFrom(seed);
  const books = new Map<string, string | null>();
  const ledger = openLedger();
  const troubles: string[] = [];
  const tally = { kills: 0, beforeAny: 0, acknowledged: 0, lost: 0, unsound: 0 };
  while (tally.kills < kills) {
    const opening = chance() < 0.2;
    const said = await killed(folder, seed * 1000 + tally.kills, chance() * (opening ? 400 : mostMs), opening);
    tally.kills += 1;
    if (said.length === 0) tally.beforeAny += 1;
    tally.acknowledged += said.length;
    for (const change of said) for (const [id, title] of Object.entries(change.books)) books.set(id, title);

    const opened = openWorkshop(folder);
    if (!opened.ok) {
      tally.unsound += 1;
      troubles.push(`kill ${tally.kills}: ${opened.refusal.sentence}`);
      break;
    }
    const workshop = opened.value;
    const lost = missing(workshop, said, books, ledger.read(workshop));
    const wrong = [...soundness(workshop), ...ledger.differences(workshop)];
    if (wrong.length > 0) tally.unsound += 1;
    tally.lost += lost.length;
    for (const trouble of [...lost, ...wrong]) troubles.push(`kill ${tally.kills}: ${trouble}`);
    workshop.close();
  }
  return { ...tally, troubles };
}

/** Starts the writer, kills it after a while, and returns what it had acknowledged. */
async function killed(folder: string, seed: number, afterMs: number, opening: boolean): Promise<readonly Said[]> {
  const child = spawn(process.execPath, [writer, folder, String(seed)], { stdio: ['ignore', 'pipe', 'inherit'] });
  const said: Said[] = [];
  const lines = createInterface({ input: child.stdout });
  const ready = once(lines, 'line');
  lines.on('line', (line) => {
    // The last line may have been cut off by the kill; what was not wholly said was not acknowledged.
    if (!line.endsWith('}')) return;
    const heard = JSON.parse(line) as Said | { ready: true };
    if ('seq' in heard) said.push(heard);
  });
  const closed = once(lines, 'close');
  const gone = once(child, 'exit');
  if (!opening) await Promise.race([ready, gone]);
  await Promise.race([pause(afterMs), gone]);
  if (!child.kill('SIGKILL')) throw new Error('The writer ended by itself.');
  await Promise.all([gone, closed]);
  return said;
}

/** Acknowledged changes the journal does not know, and books that are not as they were said to be. */
function missing(
  workshop: Workshop,
  said: readonly Said[],
  books: Map<string, string | null>,
  fresh: Entries,
): string[] {
  const lost = said.filter(({ seq }) => seq > fresh.last).map(({ seq }) => `entry ${seq} is lost`);
  // One change may have been kept and not yet said: the books it touched are as it left them.
  const spoken = said.at(-1)?.seq;
  const unsaid = fresh.entries.filter(({ seq }) => seq > (spoken ?? fresh.before));
  if (unsaid.length > 1) lost.push(`${unsaid.length} entries nobody was told of`);
  const titleOf = workshop.raw.prepare('SELECT title FROM book WHERE id = ?').pluck();
  for (const { rows } of unsaid) {
    for (const { table, id } of rows)
      if (table === 'book') books.set(id, (titleOf.get(id) as string | undefined) ?? null);
  }
  for (const [id, title] of books) {
    const found = (titleOf.get(id) as string | undefined) ?? null;
    if (found !== title) lost.push(`book ${id} is ${found}, was said to be ${title}`);
    if (title === null) books.delete(id);
  }
  return lost;
}

function soundness(workshop: Workshop): string[] {
  const { raw } = workshop;
  const wrong: string[] = [];
  const verdict = raw.pragma('integrity_check', { simple: true });
  if (verdict !== 'ok') wrong.push(`integrity_check: ${verdict}`);
  if ((raw.pragma('foreign_key_check') as unknown[]).length > 0) wrong.push('a row without what it belongs to');
  const count = (table: string) => raw.prepare(`SELECT count(*) FROM ${table}`).pluck().get() as number;
  for (const table of ['assessment', 'book_number', 'book_search_docsize']) {
    if (count(table) !== count('book')) wrong.push(`${count(table)} rows of ${table} for ${count('book')} books`);
  }
  return wrong;
}

type Entries = Readonly<{
  before: number;
  last: number;
  entries: readonly Readonly<{ seq: number; rows: readonly Kept[] }>[];
}>;

/** Plays the journal from its beginning, written without the store's own code, and holds the tables against it. */
function openLedger() {
  const state = new Map<string, Row>();
  let last = 0;
  return {
    read({ raw }: Workshop): Entries {
      const before = last;
      const entries = (
        raw
          .prepare('SELECT seq, kind, coalesce(answers, seq) AS of FROM journal WHERE seq > ? ORDER BY seq')
          .all(last) as {
          seq: number;
          kind: string;
          of: number;
        }[]
      ).map(({ seq, kind, of }) => {
        const runs = raw
          .prepare('SELECT changes FROM journal_run WHERE seq = ? ORDER BY run')
          .pluck()
          .all(of) as string[];
        const rows = runs.flatMap((run) => JSON.parse(run) as Kept[]);
        for (const row of kind === 'undo' ? rows.toReversed() : rows) {
          const to = kind === 'undo' ? row.before : row.after;
          if (to === null) state.delete(`${row.table} ${row.id}`);
          else state.set(`${row.table} ${row.id}`, to);
        }
        last = seq;
        return { seq, rows };
      });
      return { before, last, entries };
    },
    differences({ raw }: Workshop): string[] {
      const wrong: string[] = [];
      let there = 0;
      for (const table of tables) {
        for (const row of raw.prepare(`SELECT * FROM ${table}`).iterate() as Iterable<Row>) {
          there += 1;
          const kept = state.get(`${table} ${row.id}`);
          if (kept === undefined || Object.keys(row).some((name) => row[name] !== kept[name])) {
            wrong.push(`${table} ${row.id} is not as the journal has it`);
          }
        }
      }
      if (there !== state.size) wrong.push(`${there} rows, ${state.size} by the journal`);
      return wrong;
    },
  };
}
