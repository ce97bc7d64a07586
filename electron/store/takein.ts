/** What taking in a list reads and writes: the books to compare with, the names of lots and places, and the new books. */
import type { KnownBook } from '../../core/book/check-list.ts';
import type { ListedBook } from '../../core/book/list.ts';
import { raiseHazardsOf } from './hazards.ts';
import { lotNamed, placeNamed } from './places.ts';
import { book, finding } from './schema.ts';
import type { Change, Reader } from './workshop.ts';

export function knownBooks(db: Reader): readonly KnownBook[] {
  const rows = db
    .select({
      id: book.id,
      shelfMark: book.shelfMark,
      title: book.title,
      author: book.author,
      yearFrom: book.yearFrom,
      yearTo: book.yearTo,
      heightUm: book.heightUm,
      widthUm: book.widthUm,
    })
    .from(book)
    .all();
  return rows.map(({ heightUm, widthUm, ...same }) => ({
    ...same,
    heightMm: heightUm === null ? null : heightUm / 1000,
    widthMm: widthUm === null ? null : widthUm / 1000,
  }));
}

/** Puts in the books with their findings and the hazards these raise; lots and places named for the first time are made. */
export function putListedBooks(db: Reader, change: Change, books: readonly ListedBook[], now: number): void {
  const lotIds = new Map<string, string | null>();
  const placeIds = new Map<string, string | null>();
  const bookIds: string[] = [];
  for (const listed of books) {
    const { findings, lot, place, heightMm, widthMm, thicknessMm, ...row } = listed;
    const lotId = remembered(lotIds, lot, () => lotNamed(db, change, lot));
    const placeId = remembered(placeIds, place, () => placeNamed(db, change, place));
    const sizes = { heightUm: um(heightMm), widthUm: um(widthMm), thicknessUm: um(thicknessMm) };
    const bookId = change.insert(book, { ...row, ...sizes, lotId, placeId, createdAt: now });
    for (const found of findings) change.insert(finding, { bookId, ...found });
    bookIds.push(bookId);
  }
  raiseHazardsOf(db, change, bookIds);
}

/** Looking a name up once a list, not once a row. */
function remembered(ids: Map<string, string | null>, name: string, look: () => string | null): string | null {
  const known = ids.get(name);
  if (known !== undefined) return known;
  const id = look();
  ids.set(name, id);
  return id;
}

function um(mm: number | null): number | null {
  return mm === null ? null : Math.round(mm * 1000);
}
