/** What there is to print: weeks that are planned, courses, and books somebody worked on. */
import { sql } from 'drizzle-orm';
import type { Sheets } from '../../core/contract/archive.ts';
import type { Reader } from './workshop.ts';

/** As many as a person looks back or finds in a list; any book’s sheets are also at the book itself. */
const most = { weeks: 12, books: 200 };

export function readSheets(db: Reader): Sheets {
  const weeks = db.all<{ startsOn: string }>(
    sql`SELECT DISTINCT starts_on AS startsOn FROM plan WHERE kind = 'week' ORDER BY starts_on DESC LIMIT ${most.weeks}`,
  );
  return {
    weeks: weeks.map(({ startsOn }) => ({ startsOn, days: daysFrom(startsOn) })),
    courses: db.all(sql`SELECT id, title, starts_on AS startsOn FROM course ORDER BY starts_on DESC`),
    books: db.all(
      sql`SELECT b.id, b.title FROM book b JOIN entry e ON e.book_id = b.id GROUP BY b.id ORDER BY max(e.at) DESC LIMIT ${most.books}`,
    ),
    hasSample: db.get<{ found: number }>(sql`SELECT count(*) AS found FROM backlog_sample`).found > 0,
  };
}

function daysFrom(startsOn: string): readonly string[] {
  const first = Date.parse(`${startsOn}T12:00:00Z`);
  return Array.from({ length: 7 }, (_, day) => new Date(first + day * 86_400_000).toISOString().slice(0, 10));
}
