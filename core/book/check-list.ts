/**
 * Holds a list's rows against each other and against the books there are: which can be taken in, which cannot and why, which are there already.
 */
import { quoted } from '../units/numbers.ts';
import type { ListField } from './columns.ts';
import { type ListedBook, type Reading, type ReadRow, type RowTrouble, readRow } from './list.ts';

/** A record of the file; `line` is the line of the file on which it begins, counted from 1, and names it. */
export type ListRow = Readonly<{ line: number; cells: readonly string[]; trouble?: string | undefined }>;

/** What is compared of a book that is in the workshop already. */
export type KnownBook = Readonly<{
  id: string;
  shelfMark: string | null;
  title: string;
  author: string;
  yearFrom: number | null;
  yearTo: number | null;
  heightMm: number | null;
  widthMm: number | null;
}>;

export type GoodRow = Readonly<{ line: number; book: ListedBook }>;
export type BadRow = Readonly<{ line: number; cells: readonly string[]; troubles: readonly RowTrouble[] }>;
export type KnownRow = Readonly<{ line: number; book: ListedBook; known: KnownBook; because: string }>;

export type CheckedList = Readonly<{
  good: readonly GoodRow[];
  bad: readonly BadRow[];
  /** Rows of books that are in the workshop already. */
  duplicates: readonly KnownRow[];
  remarks: readonly string[];
}>;

/**
 * Checks every row. A shelf mark used twice in the file is a trouble of the later row. A row with a shelf mark of the workshop is that same
 * book when title, or author and date, agree; otherwise the mark is wrongly used. Without two marks to compare, the same title, author, date
 * and size (to 2 mm) are the same book; two marks that differ are two copies. `read` may remember rows read before.
 */
export function checkList(
  rows: readonly ListRow[],
  reading: Reading,
  known: readonly KnownBook[],
  read: (cells: ListRow['cells']) => ReadRow = (cells) => readRow(cells, reading),
): CheckedList {
  const byMark = new Map(known.flatMap((book) => (book.shelfMark === null ? [] : [[book.shelfMark, book] as const])));
  const byLooks = Map.groupBy(known, looksOf);
  const marks = new Map<string, number>();
  const kept = new Map<ListField, number>();
  const good: GoodRow[] = [];
  const bad: BadRow[] = [];
  const duplicates: KnownRow[] = [];
  const twins = new Map<string, number>();

  for (const { line, cells, trouble } of rows) {
    const { book, troubles, keptInWords } = read(cells);
    const all = trouble === undefined ? [...troubles] : [{ column: null, field: null, reason: trouble }];
    const mark = book.shelfMark;
    const column = reading.mapping.indexOf('shelf mark');
    const markTrouble = (reason: string) => all.push({ column, field: 'shelf mark', reason });
    let here: KnownRow | null = null;
    if (mark !== null && trouble === undefined) {
      const earlier = marks.get(mark);
      const same = byMark.get(mark);
      if (earlier !== undefined)
        markTrouble(`The shelf mark ${quoted(mark)} is also on ${reading.rowsAre ?? 'line'} ${earlier}.`);
      else marks.set(mark, line);
      if (same !== undefined && isSame(book, same)) {
        here = { line, book, known: same, because: `shelf mark ${mark}` };
      } else if (same !== undefined) {
        markTrouble(`The shelf mark ${quoted(mark)} is that of ${quoted(same.title)} in the workshop.`);
      }
    }
    here ??= lookalike(line, book, byLooks);
    if (all.length > 0) {
      bad.push({ line, cells, troubles: all });
      continue;
    }
    for (const field of new Set(keptInWords)) kept.set(field, (kept.get(field) ?? 0) + 1);
    if (here !== null) {
      duplicates.push(here);
      continue;
    }
    good.push({ line, book });
    if (mark === null) twins.set(looksOf(book), (twins.get(looksOf(book)) ?? 0) + 1);
  }
  const copies = [...twins.values()].filter((count) => count > 1).length;
  const remarks = [...kept].map(([field, count]) => keptWords(field, count));
  if (copies > 0) {
    remarks.push(
      `${copies === 1 ? 'One book is' : `${copies} books are`} in the list more than once without shelf marks; each is taken as a copy of its own.`,
    );
  }
  return { good, bad, duplicates, remarks };
}

function keptWords(field: ListField, count: number): string {
  const rows = count === 1 ? 'one row' : `${count} rows`;
  return field === 'pages' || field === 'format'
    ? `The ${field} of ${rows} could not be read as ${field === 'pages' ? 'a count' : 'a fold of a known sheet'}; the words are kept.`
    : `The ${field} of ${rows} is in words this program does not know; they are kept in the note.`;
}

type Looks = Pick<KnownBook, 'title' | 'author' | 'yearFrom' | 'yearTo'>;

/** Title, author and years, blind to capitals, marks and spaces. */
function looksOf({ title, author, yearFrom, yearTo }: Looks): string {
  return `${plain(title)}|${plain(author)}|${yearFrom ?? ''}|${yearTo ?? ''}`;
}

function plain(words: string): string {
  return words
    .normalize('NFD')
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, '');
}

function isSame(book: ListedBook, known: KnownBook): boolean {
  if (plain(book.title) === plain(known.title)) return true;
  const author = plain(book.author);
  return author !== '' && author === plain(known.author) && book.yearFrom !== null && book.yearFrom === known.yearFrom;
}

/** Rounding between inches and millimetres, and a tape read twice: common practice, no source. */
const sizeToleranceMm = 2;

function lookalike(
  line: number,
  book: ListedBook,
  byLooks: ReadonlyMap<string, readonly KnownBook[]>,
): KnownRow | null {
  const near = (one: number | null, other: number | null) =>
    one === null || other === null ? one === other : Math.abs(one - other) <= sizeToleranceMm;
  const same = byLooks
    .get(looksOf(book))
    ?.find(
      (known) =>
        (book.shelfMark === null || known.shelfMark === null) &&
        near(book.heightMm, known.heightMm) &&
        near(book.widthMm, known.widthMm),
    );
  return same === undefined ? null : { line, book, known: same, because: 'same title, author, date and size' };
}
