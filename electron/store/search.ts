/** Finding anything by what a person types: books through the search index, the few materials, people and courses by looking at each. */
import type Database from 'better-sqlite3';
import { sql } from 'drizzle-orm';
import type { Found } from '../../core/contract/workshop.ts';
import { course, material, person } from './schema.ts';
import type { Reader } from './workshop.ts';

/** As many as a list under a search field can show. */
const mostBooks = 20;
const mostOthers = 10;
/** Measured: weighing so many hits takes a few milliseconds. */
const mostWeighed = 2000;

/**
 * What was typed as a question to `book_search`: every word must begin a word of the book. Null where nothing is left to look for.
 * Each word is quoted, so that no sign a person types has a meaning of its own there.
 */
export function searchQuestion(words: string): string | null {
  const typed = typedWords(words);
  return typed.length === 0 ? null : typed.map((word) => `"${word.replaceAll('"', '""')}"*`).join(' AND ');
}

/**
 * Numbers of the books that answer what was typed: every word begins a word of the book itself, of a finding, a hazard, its lot or its
 * place. Null where nothing is left to look for.
 */
export function booksFound(raw: Database.Database, words: string, placesLike: PlacesLike): readonly number[] | null {
  const question = searchQuestion(words);
  if (question === null) return null;
  const inBooks = raw.prepare('SELECT rowid FROM book_search WHERE book_search MATCH ?').pluck();
  const typed = typedWords(words);
  // A letter or two begin a word of nearly every finding, and would be answered late.
  if (typed.every((word) => word.length < shortestAround)) return inBooks.all(question) as number[];
  const sets = typed.map((word) => {
    const numbers = new Set(inBooks.all(searchQuestion(word)) as number[]);
    if (word.length >= shortestAround) for (const number of around(raw, word, placesLike)) numbers.add(number);
    return numbers;
  });
  const [first = new Set<number>(), ...rest] = sets;
  return [...first].filter((number) => rest.every((other) => other.has(number)));
}

/** Ids of the places whose path has a word that begins so. */
type PlacesLike = (word: string) => readonly string[];
const shortestAround = 3;

/** Books with a finding, a hazard, a lot or a place that has a word beginning so. */
function around(raw: Database.Database, word: string, placesLike: PlacesLike): readonly number[] {
  const begins = ` ${word.toLowerCase()}`;
  const numbers: number[] = [];
  for (const [text, books] of surveyTexts(raw))
    if (text.includes(begins)) for (const number of books) numbers.push(number);
  const like = `% ${word.replace(/[\\%_]/g, (sign) => `\\${sign}`)}%`;
  const elsewhere = raw
    .prepare(
      `SELECT number FROM book_number WHERE book_id IN (
         SELECT id FROM book WHERE lot_id IN (SELECT id FROM lot WHERE ' ' || name || ' ' || note LIKE @like ESCAPE '\\')
         UNION SELECT id FROM book WHERE place_id IN (SELECT value FROM json_each(@places)))`,
    )
    .pluck()
    .all({ like, places: JSON.stringify(placesLike(word)) }) as number[];
  for (const number of elsewhere) numbers.push(number);
  return numbers;
}

const surveys = new WeakMap<Database.Database, Readonly<{ changes: number; texts: ReadonlyMap<string, number[]> }>>();

/**
 * What findings and hazards say, with the books they say it of; read once between two changes. A shelf of a hundred thousand books has
 * more findings than can be looked through at every key, and few different ones.
 */
function surveyTexts(raw: Database.Database): ReadonlyMap<string, number[]> {
  const changes = raw.prepare('SELECT total_changes()').pluck().get() as number;
  const known = surveys.get(raw);
  if (known?.changes === changes) return known.texts;
  const texts = new Map<string, number[]>();
  const rows = raw
    .prepare(
      `SELECT ' ' || f.part || ' ' || f.damage || ' ' || f.note, n.number FROM finding f JOIN book_number n USING (book_id)
       UNION ALL SELECT ' ' || h.kind || ' ' || h.decision, n.number FROM hazard h JOIN book_number n USING (book_id)`,
    )
    .raw()
    .iterate() as IterableIterator<[string, number]>;
  for (const [text, number] of rows) {
    const key = text.toLowerCase();
    const books = texts.get(key);
    if (books === undefined) texts.set(key, [number]);
    else books.push(number);
  }
  surveys.set(raw, { changes, texts });
  return texts;
}

export function findAnything(db: Reader, words: string): readonly Found[] {
  return [...findBooks(db, words), ...findOthers(db, words)];
}

function findBooks(db: Reader, words: string): readonly Found[] {
  const question = searchQuestion(words);
  if (question === null) return [];
  const [hits] = db.all<{ hits: number }>(
    sql`SELECT count(*) AS hits FROM book_search WHERE book_search MATCH ${question}`,
  );
  // Counting is quick; weighing each of very many hits is not, and no order of thousands helps anyone who sees twenty.
  const order = (hits?.hits ?? 0) <= mostWeighed ? sql`ORDER BY rank` : sql``;
  const rows = db.all<{ id: string; title: string; shelfMark: string | null; author: string; dateText: string }>(
    sql`SELECT b.id, b.title, b.shelf_mark AS shelfMark, b.author, b.date_text AS dateText
        FROM (SELECT rowid, rank FROM book_search WHERE book_search MATCH ${question} ${order} LIMIT ${mostBooks}) s
        JOIN book_number n ON n.number = s.rowid JOIN book b ON b.id = n.book_id`,
  );
  return rows.map(({ id, title, shelfMark, author, dateText }) => ({
    kind: 'book',
    id,
    title,
    detail: [shelfMark, author, dateText].filter(Boolean).join(' · '),
  }));
}

function findOthers(db: Reader, words: string): readonly Found[] {
  const typed = typedWords(words).map(folded);
  if (typed.length === 0) return [];
  const all: Found[] = [
    ...db
      .select()
      .from(material)
      .all()
      .map(
        (row): Found => ({
          kind: 'material',
          id: row.id,
          title: row.name,
          detail: [row.kind, row.colour, row.place].filter(Boolean).join(' · '),
        }),
      ),
    ...db
      .select()
      .from(person)
      .all()
      .map((row): Found => ({ kind: 'person', id: row.id, title: row.name, detail: row.level })),
    ...db
      .select()
      .from(course)
      .all()
      .map((row): Found => ({ kind: 'course', id: row.id, title: row.title, detail: row.startsOn })),
  ];
  const fits = ({ title, detail }: Found) => {
    const text = folded(`${title} ${detail}`);
    return typed.every((word) => text.includes(word));
  };
  return all.filter(fits).slice(0, mostOthers);
}

/**
 * What was typed, word by word. Signs without a letter or figure beside them are passed over, and no control character gets through:
 * a nought would end the question before its closing quote.
 */
function typedWords(words: string): readonly string[] {
  return words.split(/[\s\p{Cc}]+/u).filter((word) => /[\p{L}\p{N}]/u.test(word));
}

/** Without accents and capitals, as the search index compares too. */
function folded(text: string): string {
  return text.normalize('NFD').replace(/\p{M}/gu, '').toLowerCase();
}
