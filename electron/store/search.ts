/** Finding anything by what a person types: books through the search index, the few materials, people and courses by looking at each. */
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
