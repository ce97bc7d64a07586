/** Everything a book's treatment record is made of, read out of the tables. */
import { and, asc, desc, eq, isNotNull, notInArray } from 'drizzle-orm';
import type { Photograph } from '../../core/contract/photographs.ts';
import { propose } from '../../core/treatment/propose.ts';
import {
  type MaterialUsed,
  type PieceTold,
  type RecordFacts,
  type RecordWords,
  unsaidWords,
} from '../../core/treatment/record-shape.ts';
import { agreedTreatment, readSurveyed } from './books.ts';
import { effortOf } from './effort.ts';
import { readHabits } from './habits.ts';
import { pieceById } from './offcuts.ts';
import { libraryOf } from './operations.ts';
import { listPhotographs } from './photographs.ts';
import { placeNames } from './places.ts';
import { book, booking, entry, lot, material, movement, piece, stockLot } from './schema.ts';
import { treatmentRecord } from './schema-photographs.ts';
import type { Reader } from './workshop.ts';

export type RecordRead = Readonly<{ facts: RecordFacts; photographs: readonly Photograph[] }>;

/** A record longer than this is a year's work on one book. */
const mostEntries = 1000;
/** More would not be looked through on paper; those before and after come first. Common practice, no source. */
const mostPhotographs = 60;

/** Null where the book is not there. */
export function readRecord(db: Reader, bookId: string): RecordRead | null {
  const surveyed = readSurveyed(db, [bookId])[0];
  if (surveyed === undefined) return null;
  const { book: one, findings, hazards } = surveyed;
  const { habits } = readHabits(db);
  const day = new Intl.DateTimeFormat('en-GB', { timeZone: habits.timeZone, dateStyle: 'medium' });
  const agreed = agreedTreatment(db, bookId);
  const words = recordWords(db, bookId);
  const photographs = shownPhotographs(listPhotographs(db, { kind: 'book', bookId }));
  const lotRow = one.lotId === null ? undefined : db.select().from(lot).where(eq(lot.id, one.lotId)).get();
  const facts: RecordFacts = {
    book: one,
    place: one.placeId === null ? '' : (placeNames(db).get(one.placeId) ?? ''),
    lot: lotRow?.name ?? '',
    findings,
    hazards,
    proposal: propose(one, findings, hazards, { effort: effortOf(db), kept: surveyed.kept, library: libraryOf(db) }),
    agreed: agreed && { steps: agreed.steps, on: day.format(agreed.agreedAt), note: agreed.note },
    done: entriesOf(db, bookId).map(({ at, operationId, note, minutes }) => ({
      on: day.format(at),
      what: [operationId === null ? '' : nameOf(db, operationId), note].filter(Boolean).join('. '),
      minutes,
    })),
    materials: materialsUsed(db, bookId),
    added: piecesIn(db, bookId, day),
    takenOff: piecesFrom(db, bookId, day),
    photographs: photographs.map(({ id, stage, finding, caption, takenAt, scale }) => ({
      id,
      stage,
      scaled: scale !== null,
      words: [stage && `${stage} treatment`, finding, caption, takenAt === null ? '' : `taken ${day.format(takenAt)}`]
        .filter(Boolean)
        .join(', '),
    })),
    words,
    // A plain date, whatever the time zone.
    signedOn:
      words.signedOn === null
        ? ''
        : new Intl.DateTimeFormat('en-GB', { timeZone: 'UTC', dateStyle: 'medium' }).format(
            Date.parse(`${words.signedOn}T12:00:00Z`),
          ),
    workshop: habits.name,
  };
  return { facts, photographs };
}

/** The row that holds a person's words; null where nobody has said anything yet. */
export function recordRow(db: Reader, bookId: string): typeof treatmentRecord.$inferSelect | null {
  return db.select().from(treatmentRecord).where(eq(treatmentRecord.bookId, bookId)).get() ?? null;
}

function recordWords(db: Reader, bookId: string): RecordWords {
  const row = recordRow(db, bookId);
  if (row === null) return unsaidWords;
  const { id: _, bookId: __, ...words } = row;
  return words;
}

function shownPhotographs(all: readonly Photograph[]): readonly Photograph[] {
  if (all.length <= mostPhotographs) return all;
  const first = all.filter(({ stage }) => stage !== 'during');
  return [...first, ...all.filter(({ stage }) => stage === 'during')].slice(0, mostPhotographs);
}

/** The oldest first; what another entry corrects is left to that one. */
function entriesOf(db: Reader, bookId: string): readonly (typeof entry.$inferSelect)[] {
  const corrected = db.select({ id: entry.answers }).from(entry).where(isNotNull(entry.answers));
  return db
    .select()
    .from(entry)
    .where(and(eq(entry.bookId, bookId), notInArray(entry.id, corrected)))
    .orderBy(desc(entry.at), desc(entry.id))
    .limit(mostEntries)
    .all()
    .toReversed();
}

/** What the ledger says went into the book: lines and their answers together, by material, lot and step. */
function materialsUsed(db: Reader, bookId: string): readonly MaterialUsed[] {
  const rows = db
    .select({ movement, material, lot: stockLot, operationId: booking.operationId })
    .from(movement)
    .innerJoin(material, eq(material.id, movement.materialId))
    .leftJoin(stockLot, eq(stockLot.id, movement.lotId))
    .leftJoin(booking, eq(booking.id, movement.bookingId))
    .where(eq(movement.bookId, bookId))
    .orderBy(asc(movement.at), asc(movement.id))
    .all();
  const sums = Map.groupBy(rows, (row) => JSON.stringify([row.material.id, row.lot?.id, row.operationId]));
  return [...sums.values()].flatMap((group) => {
    const [first] = group;
    const millionths = group.reduce((sum, row) => sum - row.movement.quantityMillionths, 0);
    if (first === undefined || millionths === 0) return [];
    const { number, supplier, receivedOn } = first.lot ?? { number: '', supplier: '', receivedOn: '' };
    return {
      name: first.material.name,
      supplier: supplier || first.material.supplier,
      quantity: millionths / 1e6,
      unit: first.material.unit,
      lot: [number, receivedOn && `of ${receivedOn}`].filter(Boolean).join(' '),
      operation: first.operationId === null ? '' : nameOf(db, first.operationId),
    };
  });
}

function piecesIn(db: Reader, bookId: string, day: Intl.DateTimeFormat): readonly PieceTold[] {
  const ids = db.select({ id: piece.id }).from(piece).where(eq(piece.usedBookId, bookId)).orderBy(piece.usedAt).all();
  return ids.flatMap(({ id }) => {
    const found = pieceById(db, id);
    if (found === null) return [];
    const { name, donor, material: sheet, place, usedAt } = found;
    const from = donor === null ? (sheet ?? '') : bookWords(donor);
    return { name, otherBook: from, where: place, on: usedAt === null ? '' : day.format(usedAt) };
  });
}

/** Pieces cut up into others are told by those. */
function piecesFrom(db: Reader, bookId: string, day: Intl.DateTimeFormat): readonly PieceTold[] {
  const ids = db.select({ id: piece.id }).from(piece).where(eq(piece.donorBookId, bookId)).orderBy(piece.id).all();
  return ids.flatMap(({ id }) => {
    const found = pieceById(db, id);
    if (found === null || (found.usedAt !== null && found.usedFor === null)) return [];
    const { name, usedFor, place, usedAt } = found;
    const to = usedFor === null ? '' : usedFor.id === bookId ? 'this book again' : bookWords(usedFor);
    return { name, otherBook: to, where: place, on: usedAt === null ? '' : day.format(usedAt) };
  });
}

function bookWords({ title, shelfMark }: Readonly<{ title: string; shelfMark: string | null }>): string {
  return shelfMark === null ? `“${title}”` : `${shelfMark}, “${title}”`;
}

function nameOf(db: Reader, operationId: string): string {
  return libraryOf(db).byId(operationId)?.name ?? operationId;
}

/** For a label: the book's title, or null where it is not there. */
export function recordTitle(db: Reader, bookId: string): string | null {
  return db.select({ title: book.title }).from(book).where(eq(book.id, bookId)).get()?.title ?? null;
}
