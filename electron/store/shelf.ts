/**
 * Queries of the Shelf. The order of the whole list is worked out once for each combination of filter and sort and kept until something
 * in the file changes; a search then only picks from it, so that every key typed over a hundred thousand books is answered at once.
 */
import { asc, desc, eq } from 'drizzle-orm';
import type { Hazard } from '../../core/book/book.ts';
import { blocks } from '../../core/book/hazards.ts';
import type {
  BookEntry,
  BookOpened,
  NotedFinding,
  NotedHazard,
  ShelfPage,
  ShelfQuery,
  ShelfRow,
} from '../../core/contract/shelf.ts';
import type { ShelfSort } from '../../core/contract/shelf-words.ts';
import type { Step } from '../../core/treatment/treatment.ts';
import { suggestFate } from '../../core/triage/fate.ts';
import { assess, defaultWeights } from '../../core/triage/priority.ts';
import { agreedTreatment, bookOf, findingOf, hazardOf } from './books.ts';
import { effortOf } from './effort.ts';
import { readHabits } from './habits.ts';
import { libraryOf } from './operations.ts';
import { placeNames } from './places.ts';
import { reasonIn, score, scoreIn } from './ranking.ts';
import { keptMeasures } from './reckoner.ts';
import { assessment, book, entry, finding, hazard, lot } from './schema.ts';
import { booksFound } from './search.ts';
import type { Reader, Workshop } from './workshop.ts';

export function listShelf(store: Workshop, query: ShelfQuery & Readonly<{ offset: number; limit: number }>): ShelfPage {
  const { offset, limit } = query;
  const { total, numbers } = stretchOf(store, query, offset, offset + limit);
  return { total, offset, rows: rowsOf(store, numbers) };
}

export function listShelfIds(store: Workshop, query: ShelfQuery, limit: number): readonly string[] {
  const { numbers } = stretchOf(store, query, 0, limit);
  const ids = store.raw
    .prepare('SELECT n.book_id FROM json_each(?) j JOIN book_number n ON n.number = j.value ORDER BY j.key')
    .pluck();
  return ids.all(JSON.stringify(numbers)) as string[];
}

/** Where a book stands in the list, from 0; null when it does not answer the question. */
export function shelfPosition(store: Workshop, query: ShelfQuery, id: string): number | null {
  const number = store.raw.prepare('SELECT number FROM book_number WHERE book_id = ?').pluck().get(id);
  if (number === undefined) return null;
  const at = stretchOf(store, query, 0, Number.POSITIVE_INFINITY).numbers.indexOf(number as number);
  return at < 0 ? null : at;
}

type Stretch = Readonly<{ total: number; numbers: readonly number[] }>;

/** Books by their number in the search index, in the list's order, from one place in the list to before another. */
function stretchOf(store: Workshop, query: ShelfQuery, from: number, to: number): Stretch {
  const ordered = orderOf(store, query);
  const found = foundOf(store, query.words);
  if (found === null) return { total: ordered.length, numbers: ordered.slice(from, to) };
  const among = new Uint8Array(found.reduce((most, number) => Math.max(most, number), 0) + 1);
  for (const number of found) among[number] = 1;
  // Unfiltered, whatever was found is in the order: its number is known without going through all of it.
  const filtered = Object.values(query.filter).some((value) => value !== undefined);
  const numbers: number[] = [];
  let count = 0;
  for (const number of ordered) {
    if (among[number] !== 1) continue;
    if (count >= from && count < to) numbers.push(number);
    count += 1;
    if (count >= to && !filtered) break;
  }
  return { total: filtered ? count : found.length, numbers };
}

/** Books by the words last looked for, kept until something changes: a list is asked for stretch by stretch with the same words. */
const looked = new WeakMap<Workshop, Readonly<{ changes: number; words: string; found: readonly number[] | null }>>();

function foundOf(store: Workshop, words: string): readonly number[] | null {
  const changes = store.raw.prepare('SELECT total_changes()').pluck().get() as number;
  const known = looked.get(store);
  if (known?.changes === changes && known.words === words) return known.found;
  const found = booksFound(store.raw, words, (word) => {
    const begins = ` ${word.toLowerCase()}`;
    return [...placeNames(store.db)].filter(([, path]) => ` ${path.toLowerCase()}`.includes(begins)).map(([id]) => id);
  });
  looked.set(store, { changes, words, found });
  return found;
}

type Orders = { changes: number; byQuestion: Map<string, readonly number[]> };
const kept = new WeakMap<Workshop, Orders>();
/** A person goes back and forth between a few; each takes under a megabyte at a hundred thousand books. */
const mostKept = 8;

function orderOf(store: Workshop, { filter, sort }: ShelfQuery): readonly number[] {
  const changes = store.raw.prepare('SELECT total_changes()').pluck().get() as number;
  let orders = kept.get(store);
  if (orders === undefined || orders.changes !== changes) {
    orders = { changes, byQuestion: new Map() };
    kept.set(store, orders);
  }
  const question = JSON.stringify([filter, sort]);
  const known = orders.byQuestion.get(question);
  if (known !== undefined) return known;
  if (orders.byQuestion.size >= mostKept) orders.byQuestion.clear();
  const { where, values } = conditions(filter);
  const order = store.raw
    .prepare(
      `SELECT n.number FROM assessment a JOIN book_number n ON n.book_id = a.book_id
       ${where === '' && !needsBook(sort) ? '' : 'JOIN book b ON b.id = a.book_id'}
       ${where} ORDER BY ${sortColumns[sort]}, n.number`,
    )
    .pluck()
    .all(values) as number[];
  orders.byQuestion.set(question, order);
  return order;
}

const sortColumns: Readonly<Record<ShelfSort, string>> = {
  attention: `${scoreIn('a')} DESC`,
  title: 'b.title COLLATE NOCASE',
  author: "b.author = '', b.author COLLATE NOCASE, b.title COLLATE NOCASE",
  year: 'b.year_from IS NULL, b.year_from, b.year_to',
  'shelf mark': 'b.shelf_mark IS NULL, b.shelf_mark COLLATE NOCASE',
  'least work': 'a.minutes_likely = 0, a.minutes_likely',
  'most work': 'a.minutes_likely DESC',
  height: 'b.height_um DESC',
  newest: 'b.created_at DESC',
};

function needsBook(sort: ShelfSort): boolean {
  return sortColumns[sort].includes('b.');
}

function conditions(filter: ShelfQuery['filter']): Readonly<{ where: string; values: readonly string[] }> {
  const parts: string[] = [];
  const values: string[] = [];
  function equal(column: string, value: string | undefined): void {
    if (value === undefined) return;
    parts.push(`${column} = ?`);
    values.push(value);
  }
  if (filter.fate === 'undecided') parts.push('b.fate IS NULL');
  else equal('b.fate', filter.fate);
  equal('b.stage', filter.stage);
  equal('b.lot_id', filter.lotId);
  equal('b.place_id', filter.placeId);
  equal('b.binding', filter.binding);
  equal('a.level', filter.level);
  const confirmed = "EXISTS (SELECT 1 FROM hazard h WHERE h.book_id = b.id AND h.state = 'confirmed')";
  if (filter.hazard === 'undecided') parts.push('a.hazard_open = 1');
  if (filter.hazard === 'confirmed') parts.push(confirmed);
  if (filter.hazard === 'none') parts.push(`a.hazard_open = 0 AND NOT ${confirmed}`);
  return { where: parts.length === 0 ? '' : `WHERE ${parts.join(' AND ')}`, values };
}

type Shown = Omit<
  ShelfRow,
  'minutes' | 'fateLocked' | 'surveyed' | 'hazardOpen' | 'place' | 'heightMm' | 'thicknessMm'
> &
  Readonly<{
    heightUm: number | null;
    thicknessUm: number | null;
    low: number;
    likely: number;
    high: number;
    locked: number;
    findings: number;
    hazard: number;
    placeId: string | null;
  }>;

function rowsOf(store: Workshop, numbers: readonly number[]): readonly ShelfRow[] {
  const shown = store.raw
    .prepare(
      `SELECT b.id, b.shelf_mark AS shelfMark, b.title, b.author, b.date_text AS dateText, b.binding, b.colour, b.pattern,
         b.height_um AS heightUm, b.thickness_um AS thicknessUm, b.place_id AS placeId, b.fate, b.fate_locked AS locked, b.stage,
         a.suggested_fate AS suggestedFate, ${scoreIn('a')} AS score, a.minutes_low AS low, a.minutes_likely AS likely, a.minutes_high AS high,
         a.level, ${reasonIn('a')} AS reason, a.hazard_open AS hazard,
         EXISTS (SELECT 1 FROM finding f WHERE f.book_id = b.id) AS findings
       FROM json_each(?) j JOIN book_number n ON n.number = j.value
         JOIN book b ON b.id = n.book_id JOIN assessment a ON a.book_id = b.id ORDER BY j.key`,
    )
    .all(JSON.stringify(numbers)) as Shown[];
  const names = placeNames(store.db);
  return shown.map(({ heightUm, thicknessUm, low, likely, high, locked, findings, hazard: open, placeId, ...row }) => ({
    ...row,
    title: shortened(row.title),
    author: shortened(row.author),
    heightMm: heightUm === null ? null : heightUm / 1000,
    thicknessMm: thicknessUm === null ? null : thicknessUm / 1000,
    place: placeId === null ? '' : (names.get(placeId) ?? ''),
    fateLocked: locked === 1,
    surveyed: row.stage !== 'waiting' || findings === 1,
    minutes: { low, likely, high },
    hazardOpen: open === 1,
  }));
}

/** A list has no room for more; the book itself is opened with every letter of it. */
function shortened(words: string): string {
  return words.length > 300 ? `${words.slice(0, 299)}…` : words;
}

/** A book with everything that follows from it; null when it is not there. */
export function openBook(store: Workshop, id: string): BookOpened | null {
  const { db } = store;
  const row = db.select().from(book).where(eq(book.id, id)).get();
  if (row === undefined) return null;
  const one = bookOf(row);
  const findings = findingsOf(db, id);
  const hazards = hazardsOf(db, id);
  const weights = { ...defaultWeights, ...readHabits(db).habits.weights };
  const { proposal, priority } = assess(
    one,
    findings,
    hazards,
    weights,
    effortOf(db),
    keptMeasures(db, id),
    libraryOf(db),
  );
  const agreed = agreedTreatment(db, id);
  const { lotId, placeId } = one;
  const inLot = lotId === null ? undefined : db.select().from(lot).where(eq(lot.id, lotId)).get();
  return {
    book: one,
    lot: inLot?.name ?? '',
    place: placeId === null ? '' : (placeNames(db).get(placeId) ?? ''),
    findings,
    hazards,
    stopped: stopOf(hazards),
    proposal,
    priority,
    suggestedFate: suggestFate(one, findings, proposal, hazards),
    rank: rankOf(store, id),
    agreed: agreed && {
      agreedAt: agreed.agreedAt,
      steps: agreed.steps,
      current: sameSteps(agreed.steps, proposal.steps),
    },
    entries: entriesOf(db, id),
  };
}

function findingsOf(db: Reader, id: string): readonly NotedFinding[] {
  const rows = db.select().from(finding).where(eq(finding.bookId, id)).orderBy(asc(finding.id)).all();
  return rows.map((row) => ({ id: row.id, ...findingOf(row) }));
}

function hazardsOf(db: Reader, id: string): readonly NotedHazard[] {
  const rows = db.select().from(hazard).where(eq(hazard.bookId, id)).orderBy(asc(hazard.id)).all();
  return rows.map((row) => ({ id: row.id, decidedAt: row.decidedAt, ...hazardOf(row) }));
}

function stopOf(hazards: readonly Hazard[]): string | null {
  return blocks(hazards, 'plan');
}

/** Its place by attention: how many books stand before it, and one. */
function rankOf({ raw, db }: Workshop, id: string): number {
  const own = db.select({ score }).from(assessment).where(eq(assessment.bookId, id)).get()?.score ?? 0;
  const before = raw
    .prepare(
      `SELECT count(*) FROM (SELECT n.number, ${scoreIn('a')} AS score FROM assessment a JOIN book_number n ON n.book_id = a.book_id)
       WHERE score > ? OR (score = ? AND number < (SELECT number FROM book_number WHERE book_id = ?))`,
    )
    .pluck()
    .get(own, own, id) as number;
  return before + 1;
}

function sameSteps(agreed: readonly Step[], proposed: readonly Step[]): boolean {
  return (
    agreed.length === proposed.length &&
    agreed.every(
      ({ operationId, minutes, learned }, at) =>
        proposed[at]?.operationId === operationId &&
        // What the day-book has taught since is no change of the treatment.
        (learned !== undefined || proposed[at].learned !== undefined || proposed[at].minutes.likely === minutes.likely),
    )
  );
}

function entriesOf(db: Reader, id: string): readonly BookEntry[] {
  const rows = db.select().from(entry).where(eq(entry.bookId, id)).orderBy(desc(entry.at), desc(entry.id)).all();
  return rows.map(({ id: entryId, at, operationId, note, minutes }) => {
    const operation = operationId === null ? undefined : libraryOf(db).byId(operationId);
    const words = [operation?.name ?? operationId ?? '', note].filter((part) => part !== '').join(': ');
    return { id: entryId, at, words, minutes };
  });
}
