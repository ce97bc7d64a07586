/**
 * The one writer. Every change runs in one transaction that also keeps, in the journal, each row before and after; undo replays an entry
 * backwards and redo forwards, each as an entry of its own. A do `stands`, is `undone`, or is `forgotten` once it was undone and something
 * new was done. Rows go back in exactly the reverse order they came, so every state on the way was once a valid one.
 */
import type Database from 'better-sqlite3';
import { getTableName } from 'drizzle-orm';
import { v7 as uuidv7 } from 'uuid';
import type { HistoryLine } from '../../core/contract/workshop.ts';
import type { Result } from '../../core/result.ts';
import { assert, ok, refuse } from '../../core/result.ts';
import { countEpochs } from './epoch.ts';
import type { Image } from './rows.ts';
import { encodePatch, encodeRow, isKnown, openRows } from './rows.ts';
import { Refused, sayDiskTrouble, sayRowTrouble } from './trouble.ts';
import type { Change, Derived, Workshop } from './workshop.ts';

type RowChange = Readonly<{ table: string; id: string; before: Image | null; after: Image | null }>;
type Entry = Readonly<{ seq: number; label: string }>;
type Journal = Pick<Workshop, 'write' | 'undo' | 'redo' | 'next' | 'history' | 'onBooksTouched' | 'refresh'>;

/** Rows in one run of the journal: enough to make runs few, few enough that one is held in memory with ease. */
const rowsInARun = 500;

/** What a change may alter: these books, and those these operations are to be done on. */
type Touched = Readonly<{ books: Set<string>; operations: Set<string> }>;

function nothingTouched(): Touched {
  return { books: new Set(), operations: new Set() };
}

/** Books worked out anew at once when a job of their kind is noted; more would be felt. The rest follow when they next change. */
const mostTaught = 500;

export function openJournal(raw: Database.Database, now: () => number): Journal {
  const rows = openRows(raw);
  const takenBack = countEpochs(raw);
  const sql = {
    begin: raw.prepare('BEGIN IMMEDIATE'),
    commit: raw.prepare('COMMIT'),
    rollback: raw.prepare('ROLLBACK'),
    entry: raw.prepare('INSERT INTO journal (at, label, kind, answers, standing) VALUES (?, ?, ?, ?, ?)'),
    run: raw.prepare('INSERT INTO journal_run (seq, run, changes) VALUES (?, ?, ?)'),
    forget: raw.prepare("UPDATE journal SET standing = 'forgotten' WHERE standing = 'undone'"),
    stand: raw.prepare('UPDATE journal SET standing = ? WHERE seq = ?'),
    newest: raw.prepare("SELECT seq, label FROM journal WHERE standing = 'stands' ORDER BY seq DESC LIMIT 1"),
    // Of several undone entries the one undone last is the oldest.
    undone: raw.prepare("SELECT seq, label FROM journal WHERE standing = 'undone' ORDER BY seq LIMIT 1"),
    runs: raw.prepare('SELECT run FROM journal_run WHERE seq = ? ORDER BY run').pluck(),
    changes: raw.prepare('SELECT changes FROM journal_run WHERE seq = ? AND run = ?').pluck(),
    withOperation: raw
      .prepare('SELECT book_id FROM assessment WHERE instr(operations, ?) > 0 ORDER BY minutes_likely DESC LIMIT ?')
      .pluck(),
    history: raw.prepare('SELECT seq, at, label, kind FROM journal ORDER BY seq DESC LIMIT ?'),
  };
  let writing = false;
  let whenTouched: (bookIds: readonly string[], derived: Derived) => void = () => {};
  const derived: Derived = {
    put(table, row) {
      assert(writing, 'derived rows are put within a write');
      rows.put(getTableName(table), encodeRow(table, row));
    },
  };

  /** One transaction: kept whole or not at all. The connection refuses writes outside of it. */
  function transact<T>(body: () => T): Result<T> {
    assert(!writing, 'a write is not begun within a write');
    writing = true;
    raw.pragma('query_only = OFF');
    try {
      sql.begin.run();
      const value = body();
      sql.commit.run();
      return ok(value);
    } catch (error) {
      // A full disk may have ended the transaction already.
      if (raw.inTransaction) sql.rollback.run();
      takenBack();
      if (error instanceof Refused) return { ok: false, refusal: error.refusal };
      const refusal = sayDiskTrouble(error);
      if (refusal === null) throw error;
      return refuse(`${refusal.sentence} Nothing of this change was kept.`);
    } finally {
      raw.pragma('query_only = ON');
      writing = false;
    }
  }

  function derive({ books, operations }: Touched): void {
    const touched = new Set(books);
    // What one job taught moves the next of its kind; asked once an operation, however many jobs there are.
    for (const operation of operations) {
      for (const bookId of sql.withOperation.all(JSON.stringify(operation), mostTaught)) touched.add(bookId as string);
    }
    const there = [...touched].filter((id) => rows.has('book', id));
    if (there.length > 0) whenTouched(there, derived);
  }

  /** Adds the books whose derived rows a change may alter, or the operation by which they are found. */
  function touch({ books, operations }: Touched, { table, id, before, after }: RowChange): void {
    const add = (to: Set<string>, column: string) => {
      for (const value of [before?.[column], after?.[column]]) if (typeof value === 'string') to.add(value);
    };
    if (table === 'book') books.add(id);
    if (table === 'entry') add(operations, 'operation_id');
    if (table === 'finding' || table === 'hazard' || table === 'treatment' || table === 'measure')
      add(books, 'book_id');
  }

  function write<T>(label: string, work: (change: Change) => T): Result<T> {
    return transact(() => {
      const record = openRecord(label);
      const value = work(changer(record.keep));
      assert(!(value instanceof Promise), 'the work of a write does not wait');
      derive(record.close());
      return value;
    });
  }

  /** Collects row changes into the journal; the entry is begun by the first of them, so that doing nothing leaves nothing to undo. */
  function openRecord(label: string) {
    const touched = nothingTouched();
    let seq: number | bigint | null = null;
    let run = 0;
    let kept: RowChange[] = [];
    function flush(): void {
      if (kept.length === 0) return;
      if (seq === null) {
        sql.forget.run();
        seq = sql.entry.run(now(), label, 'do', null, 'stands').lastInsertRowid;
      }
      sql.run.run(seq, run, JSON.stringify(kept));
      run += 1;
      kept = [];
    }
    return {
      keep(change: RowChange): void {
        kept.push(change);
        touch(touched, change);
        if (kept.length >= rowsInARun) flush();
      },
      close(): Touched {
        flush();
        return touched;
      },
    };
  }

  function changer(keep: (change: RowChange) => void): Change {
    return {
      insert(table, row) {
        const id = row.id ?? uuidv7();
        const after = encodeRow(table, { ...row, id });
        attempt('insert', after, () => rows.insert(getTableName(table), after));
        keep({ table: getTableName(table), id, before: null, after });
        return id;
      },
      update(table, id, patch) {
        const name = getTableName(table);
        const before = present(name, id);
        const change = encodePatch(table, patch);
        assert(!('id' in change), 'a row keeps its id');
        const changed = Object.fromEntries(
          Object.entries(change).filter(([column, value]) => before[column] !== value),
        );
        if (Object.keys(changed).length === 0) return;
        attempt('update', changed, () => rows.update(name, id, changed));
        keep({ table: name, id, before, after: { ...before, ...changed } });
      },
      remove(table, id) {
        const name = getTableName(table);
        const before = present(name, id);
        attempt('remove', before, () => rows.remove(name, id));
        keep({ table: name, id, before, after: null });
      },
      refuse(sentence, field) {
        throw new Refused(field === undefined ? { sentence } : { sentence, field });
      },
    };
  }

  function present(table: string, id: string): Image {
    const row = rows.read(table, id);
    if (row === null) throw new Refused({ sentence: 'This is no longer there; it may have been removed meanwhile.' });
    return row;
  }

  function attempt(act: 'insert' | 'update' | 'remove', image: Image, body: () => void): void {
    try {
      body();
    } catch (error) {
      const refusal = sayRowTrouble(error, act);
      if (refusal === null) throw error;
      throw new Refused(refusal.field === 'shelfMark' ? { ...refusal, sentence: sayTaken(image) } : refusal);
    }
  }

  function sayTaken(image: Image): string {
    const mark = image.shelf_mark;
    const other = raw.prepare('SELECT title FROM book WHERE shelf_mark = ?').pluck().get(mark) as string | undefined;
    return `The shelf mark “${mark}” is already taken${other ? ` by “${shortened(other)}”` : ''}.`;
  }

  function replay(kind: 'undo' | 'redo'): Result<Readonly<{ label: string }>> {
    const entry = (kind === 'undo' ? sql.newest : sql.undone).get() as Entry | undefined;
    if (entry === undefined)
      return refuse(kind === 'undo' ? 'There is nothing to undo.' : 'There is nothing to do again.');
    return transact(() => {
      raw.pragma('defer_foreign_keys = ON');
      const touched = nothingTouched();
      for (const change of changesOf(entry.seq, kind)) {
        const [from, to] = kind === 'undo' ? [change.after, change.before] : [change.before, change.after];
        restore(entry.label, change, from, to);
        touch(touched, change);
      }
      sql.stand.run(kind === 'undo' ? 'undone' : 'stands', entry.seq);
      sql.entry.run(now(), entry.label, kind, entry.seq, null);
      derive(touched);
      return { label: entry.label };
    });
  }

  /** The entry's rows in the order they were changed, or the reverse; one run in memory at a time. */
  function* changesOf(seq: number, kind: 'undo' | 'redo'): Generator<RowChange> {
    const runs = sql.runs.all(seq) as number[];
    for (const run of kind === 'undo' ? runs.toReversed() : runs) {
      const changes = JSON.parse(sql.changes.get(seq, run) as string) as readonly RowChange[];
      yield* kind === 'undo' ? changes.toReversed() : changes;
    }
  }

  function restore(label: string, { table, id }: RowChange, from: Image | null, to: Image | null): void {
    if (!isKnown(table, { ...from, ...to })) {
      throw new Refused({
        sentence: `“${label}” was done by an earlier version of the program and can no longer be taken back.`,
      });
    }
    if (to === null) rows.remove(table, id);
    else if (from === null) rows.insert(table, to);
    else rows.update(table, id, to);
  }

  return {
    write,
    undo: () => replay('undo'),
    redo: () => replay('redo'),
    next() {
      const labelOf = (entry: unknown) => (entry as Entry | undefined)?.label ?? null;
      return { undo: labelOf(sql.newest.get()), redo: labelOf(sql.undone.get()) };
    },
    history: (limit) => sql.history.all(limit) as HistoryLine[],
    onBooksTouched(callback) {
      whenTouched = callback;
    },
    refresh: (bookIds) => transact(() => derive({ ...nothingTouched(), books: new Set(bookIds) })),
  };
}

function shortened(title: string): string {
  return title.length > 60 ? `${title.slice(0, 59)}…` : title;
}
