/** Queries of the drawer: pieces with the books they came from, are kept for and went to. */
import { and, desc, eq, inArray, isNotNull, isNull, or } from 'drizzle-orm';
import { alias } from 'drizzle-orm/sqlite-core';
import type { GrainPattern } from '../../core/book/book.ts';
import type { PieceLine } from '../../core/contract/offcuts.ts';
import { labOfWords } from '../../core/salvage/colour-words.ts';
import type { Lab, PieceKind } from '../../core/salvage/piece.ts';
import type { MaterialNeed } from '../../core/stock/material.ts';
import type { Step } from '../../core/treatment/treatment.ts';
import { score } from './ranking.ts';
import { assessment, book, material, piece, plan, planTask } from './schema.ts';
import { bookColour, cuttingHabits } from './schema-offcuts.ts';
import type { Reader } from './workshop.ts';

type Row = typeof piece.$inferSelect;

const donor = alias(book, 'donor');
const keeper = alias(book, 'keeper');
const recipient = alias(book, 'recipient');

function lines(db: Reader) {
  const named = (table: typeof donor) => ({ id: table.id, title: table.title, shelfMark: table.shelfMark });
  return db
    .select({
      row: piece,
      donor: named(donor),
      keeper: named(keeper as unknown as typeof donor),
      recipient: named(recipient as unknown as typeof donor),
      material: material.name,
    })
    .from(piece)
    .leftJoin(donor, eq(donor.id, piece.donorBookId))
    .leftJoin(keeper, eq(keeper.id, piece.reservedBookId))
    .leftJoin(recipient, eq(recipient.id, piece.usedBookId))
    .leftJoin(material, eq(material.id, piece.materialId));
}

/** All pieces, the newest first. */
export function listPieces(db: Reader): readonly PieceLine[] {
  return lines(db).orderBy(desc(piece.id)).all().map(lineOf);
}

export function pieceById(db: Reader, id: string): PieceLine | null {
  const found = lines(db).where(eq(piece.id, id)).get();
  return found ? lineOf(found) : null;
}

/** What was cut from this piece, and from what was cut from it. */
export function cutFrom(db: Reader, id: string): readonly PieceLine[] {
  const children = lines(db).where(eq(piece.fromPieceId, id)).orderBy(piece.id).all().map(lineOf);
  return children.flatMap((child) => [child, ...cutFrom(db, child.id)]);
}

function lineOf(found: {
  row: Row;
  donor: PieceLine['donor'];
  keeper: PieceLine['donor'];
  recipient: PieceLine['donor'];
  material: string | null;
}): PieceLine {
  const { row } = found;
  const lab = row.lab ?? null;
  return {
    id: row.id,
    name: nameOf(row),
    kind: row.kind as PieceKind,
    heightMm: row.heightUm / 1000,
    widthMm: row.widthUm / 1000,
    grain: row.grain as PieceLine['grain'],
    colour: row.colour,
    lab,
    measured: row.measured,
    shownLab: lab ?? labOfWords(row.colour),
    pattern: row.pattern as GrainPattern | null,
    yearFrom: row.yearFrom,
    yearTo: row.yearTo,
    place: row.place,
    note: row.note,
    donor: found.donor,
    reservedFor: found.keeper,
    usedAt: row.usedAt,
    usedFor: found.recipient,
    material: found.material,
    fromPieceId: row.fromPieceId,
  };
}

function nameOf({ colour, pattern, kind, heightUm, widthUm }: Row): string {
  const words = [colour, pattern ?? '', kind].filter((word) => word !== '').join(' ');
  return `${words}, ${Math.round(heightUm / 1000)} × ${Math.round(widthUm / 1000)} mm`;
}

/** Books at work or to be mended, those in the newest week first, then by worth. */
export function booksForRepair(db: Reader, limit: number): readonly string[] {
  const newest = db
    .select({ id: plan.id })
    .from(plan)
    .where(eq(plan.kind, 'week'))
    .orderBy(desc(plan.madeAt), desc(plan.id))
    .limit(1)
    .get();
  const planned = newest
    ? db
        .selectDistinct({ id: planTask.bookId })
        .from(planTask)
        .where(and(eq(planTask.planId, newest.id), isNotNull(planTask.bookId)))
        .all()
        .map((row) => row.id ?? '')
    : [];
  const worth = db
    .select({ id: book.id })
    .from(book)
    .innerJoin(assessment, eq(assessment.bookId, book.id))
    .where(
      and(
        inArray(book.stage, ['waiting', 'surveyed', 'agreed', 'in hand', 'pressing']),
        or(eq(book.fate, 'restore'), and(isNull(book.fate), eq(assessment.suggestedFate, 'restore'))),
        eq(assessment.hazardOpen, false),
      ),
    )
    .orderBy(desc(score), book.id)
    .limit(limit)
    .all()
    .map((row) => row.id);
  return [...new Set([...planned, ...worth])];
}

/** Books to be broken for their pieces, or broken already. */
export function donorIds(db: Reader): readonly string[] {
  const wrecks = db.select({ id: book.id }).from(book).where(eq(book.fate, 'salvage')).all();
  const broken = db.selectDistinct({ id: piece.donorBookId }).from(piece).where(isNotNull(piece.donorBookId)).all();
  return [...new Set([...wrecks, ...broken].map((row) => row.id ?? ''))];
}

export type BookColour = Readonly<{ id: string; bookId: string; of: ColouredPart; lab: Lab; measured: string }>;

/** The covering of a book has one colour, whatever it is covered in, and its endpapers another. */
export type ColouredPart = 'covering' | 'endpaper';

/** Colours measured on these books, by book and part. */
export function bookColours(
  db: Reader,
  bookIds: readonly string[],
): (bookId: string, of: ColouredPart) => BookColour | null {
  const rows = db
    .select()
    .from(bookColour)
    .where(inArray(bookColour.bookId, [...new Set(bookIds)]))
    .all();
  const byPart = new Map(rows.map((row) => [`${row.bookId} ${row.of}`, { ...row, of: row.of as ColouredPart }]));
  return (bookId, of) => byPart.get(`${bookId} ${of}`) ?? null;
}

/** As a person last set them, with the id of their row; null where they never did. */
export function cuttingHabitsRow(db: Reader): typeof cuttingHabits.$inferSelect | null {
  return db.select().from(cuttingHabits).limit(1).get() ?? null;
}

/** Titles by book. */
export function titlesOf(db: Reader, bookIds: readonly string[]): ReadonlyMap<string, string> {
  const rows = db
    .select({ id: book.id, title: book.title })
    .from(book)
    .where(inArray(book.id, [...new Set(bookIds)]))
    .all();
  return new Map(rows.map(({ id, title }) => [id, title]));
}

/**
 * The steps of a book without the pieces that were cut for it by a cutting plan: those have left the cupboard and the drawer already, whether
 * their step is finished or not.
 */
export function lessCut(db: Reader, bookId: string, steps: readonly Step[]): readonly Step[] {
  const done = cutAlready(db, bookId);
  if (done.size === 0) return steps;
  return steps.map((step) => ({ ...step, needs: step.needs.flatMap((need) => needLess(need, done)) }));
}

/** Takes from `done` what covers this need; nothing of the need is left where all of it was cut. */
function needLess(need: MaterialNeed, done: Map<string, number>): readonly MaterialNeed[] {
  const { cut, kind, quantity } = need;
  if (cut === null) return [need];
  const key = cutKey(kind, cut.what);
  const wanted = Math.ceil(cut.count);
  const there = Math.min(wanted, done.get(key) ?? 0);
  if (there === 0) return [need];
  done.set(key, (done.get(key) ?? 0) - there);
  const left = wanted - there;
  return left === 0 ? [] : [{ ...need, quantity: (quantity * left) / wanted, cut: { ...cut, count: left } }];
}

/** How many pieces of each kind and purpose were cut for a book. */
function cutAlready(db: Reader, bookId: string): Map<string, number> {
  const rows = db.select({ kind: piece.kind, note: piece.note }).from(piece).where(eq(piece.usedBookId, bookId)).all();
  const counts = new Map<string, number>();
  for (const { kind, note } of rows) counts.set(cutKey(kind, note), (counts.get(cutKey(kind, note)) ?? 0) + 1);
  return counts;
}

function cutKey(kind: string, what: string): string {
  return `${kind} ${what}`;
}
