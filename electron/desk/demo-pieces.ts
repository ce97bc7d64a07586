/** What the wrecks of the invented workshop have given up already, by their shelf marks. */
import { readFileSync } from 'node:fs';
import { inArray } from 'drizzle-orm';
import { assert, type Result } from '../../core/result.ts';
import { readSurveyed } from '../store/books.ts';
import { book, piece } from '../store/schema.ts';
import type { Workshop } from '../store/workshop.ts';
import { donorBlocked } from './offcuts-repairs.ts';

type DemoPiece = Readonly<{
  shelfMark: string;
  what: string;
  kind: string;
  heightMm: number;
  widthMm: number;
  grain: 'height' | 'width' | null;
  colour: string;
  lab: [number, number, number] | null;
  measured: string;
  pattern: string | null;
  yearFrom: number | null;
  yearTo: number | null;
  place: string;
}>;

/** Puts the pieces into the drawer; the books they came from must be on the shelf. */
export function putPiecesInDrawer(workshop: Workshop): Result<unknown> {
  const file = new URL('../../fixtures/demo/pieces.json', import.meta.url);
  const { pieces } = JSON.parse(readFileSync(file, 'utf8')) as { pieces: readonly DemoPiece[] };
  const marks = [...new Set(pieces.map((one) => one.shelfMark))];
  const rows = workshop.db.select({ id: book.id }).from(book).where(inArray(book.shelfMark, marks)).all();
  const donors = readSurveyed(
    workshop.db,
    rows.map(({ id }) => id),
  );
  const byMark = new Map(donors.map((one) => [one.book.shelfMark, one]));
  return workshop.write(`Put ${pieces.length} pieces of ${marks.length} wrecks into the drawer`, (change) => {
    for (const { shelfMark, what, heightMm, widthMm, ...same } of pieces) {
      const donor = byMark.get(shelfMark);
      assert(donor && donorBlocked(donor) === null, `the wreck ${shelfMark} of the demo may be broken`);
      change.insert(piece, {
        ...same,
        heightUm: Math.round(heightMm * 1000),
        widthUm: Math.round(widthMm * 1000),
        note: what,
        donorBookId: donor.book.id,
      });
    }
  });
}
