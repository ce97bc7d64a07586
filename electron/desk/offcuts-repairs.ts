/** What the books need from the drawer, and the drawer as the engines see it. */
import type { Book } from '../../core/book/book.ts';
import { blocks } from '../../core/book/hazards.ts';
import type {
  DonorLine,
  MatchAnswer,
  PartToCut,
  PieceLine,
  PieceOpened,
  RepairLine,
  TogetherAnswer,
} from '../../core/contract/offcuts.ts';
import type { Wanted } from '../../core/cutting/stock.ts';
import { assert, ok, type Result, refuse } from '../../core/result.ts';
import { labOfWords } from '../../core/salvage/colour-words.ts';
import { type Repair, withoutPoints } from '../../core/salvage/match.ts';
import { type DrawerPiece, type PieceKind, pieceKinds } from '../../core/salvage/piece.ts';
import type { CutterAnswer, CutterInput } from '../engines/cutter-worker.ts';
import { inThread } from '../engines/thread.ts';
import { readSurveyed, type Surveyed } from '../store/books.ts';
import {
  type BookColour,
  bookColours,
  booksForRepair,
  type ColouredPart,
  cutFrom,
  donorIds,
  lessCut,
  listPieces,
  pieceById,
} from '../store/offcuts.ts';
import { remainingSteps } from '../store/remaining.ts';
import type { Workshop } from '../store/workshop.ts';

/** Kinds for which something of the same date and look is sought; the others may be new. */
export const matchedKinds: ReadonlySet<PieceKind> = new Set(['book cloth', 'leather', 'endpaper']);
/** Of the covering, which the book's colour and pattern are of. */
export const coveringKinds: ReadonlySet<PieceKind> = new Set(['book cloth', 'leather']);

/** As many as can be read through. */
const mostBooks = 120;

/** What the treatments of these books still need cut, less what was cut for them; hazards keep a book out. */
export function partsNeeded(books: readonly Surveyed[], store: Workshop): readonly PartToCut[] {
  return books.flatMap((one) => {
    if (blocks(one.hazards, 'plan') !== null) return [];
    return lessCut(store.db, one.book.id, remainingSteps(store.db, one)).flatMap((step) =>
      step.needs.flatMap(({ kind, cut }, index): PartToCut[] => {
        const found = pieceKinds.find((name) => name === kind);
        if (cut === null || found === undefined) return [];
        return [
          {
            id: `${one.book.id}.${step.operationId}.${index}`,
            bookId: one.book.id,
            book: one.book.title,
            kind: found,
            what: cut.what,
            heightMm: tenth(cut.heightMm),
            widthMm: tenth(cut.widthMm),
            grain: cut.grain,
            count: Math.ceil(cut.count),
          },
        ];
      }),
    );
  });
}

/** A piece is cut to a tenth of a millimetre at best. */
function tenth(mm: number): number {
  return Math.round(mm * 10) / 10;
}

export function booksAtWork(store: Workshop): readonly Surveyed[] {
  return readSurveyed(store.db, booksForRepair(store.db, mostBooks));
}

type Open = Readonly<{ line: RepairLine; parts: readonly PartToCut[]; book: Book }>;

/** Every book that needs cloth, leather or old paper, by kind. */
export function openRepairs(store: Workshop): readonly Open[] {
  return repairsOf(booksAtWork(store), store);
}

function repairsOf(books: readonly Surveyed[], store: Workshop): readonly Open[] {
  const colours = bookColours(
    store.db,
    books.map((one) => one.book.id),
  );
  return books.flatMap((one) => {
    const byKind = Map.groupBy(partsNeeded([one], store), (part) => part.kind);
    return [...byKind].flatMap(([kind, parts]) =>
      matchedKinds.has(kind)
        ? [
            {
              line: repairLine(one.book, kind, parts, colours(one.book.id, colouredPart(kind))),
              parts,
              book: one.book,
            },
          ]
        : [],
    );
  });
}

/** Which side of a book a piece of this kind is to look like. */
export function colouredPart(kind: PieceKind): ColouredPart {
  return coveringKinds.has(kind) ? 'covering' : 'endpaper';
}

function repairLine(
  book: Book,
  kind: PieceKind,
  parts: readonly PartToCut[],
  measured: Pick<BookColour, 'lab' | 'measured'> | null,
): RepairLine {
  const covering = coveringKinds.has(kind);
  return {
    bookId: book.id,
    title: book.title,
    kind,
    what: [...new Set(parts.map((part) => part.what))].join(', '),
    colour: covering ? book.colour : '',
    shownLab: measured?.lab ?? (covering ? labOfWords(book.colour) : null),
    lab: measured?.lab ?? null,
    measured: measured?.measured ?? '',
    pattern: covering ? book.pattern : null,
    date: book.dateText,
  };
}

function coreRepair({ line, parts, book }: Open): Repair {
  return {
    id: `${line.bookId}.${line.kind}`,
    name: line.title,
    kind: line.kind,
    parts: parts.map(wantedOf),
    lab: line.shownLab,
    measured: line.lab !== null,
    pattern: coveringKinds.has(line.kind) ? book.pattern : null,
    yearFrom: book.yearFrom,
    yearTo: book.yearTo,
  };
}

export function wantedOf({
  id,
  what,
  heightMm,
  widthMm,
  grain,
  count,
}: Omit<PartToCut, 'book' | 'bookId' | 'kind'>): Wanted {
  return { id, name: what, heightMm, widthMm, grain, count };
}

function drawerPiece(line: PieceLine): DrawerPiece {
  const { id, name, kind, heightMm, widthMm, grain, pattern, yearFrom, yearTo } = line;
  return {
    id,
    name,
    kind,
    heightMm,
    widthMm,
    grain,
    pattern,
    yearFrom,
    yearTo,
    lab: line.shownLab,
    measured: line.lab !== null,
  };
}

/** What lies in the drawer for this book: everything not kept for another. */
function freeFor(store: Workshop, bookIds: readonly string[]): readonly PieceLine[] {
  return listPieces(store.db).filter(
    ({ usedAt, reservedFor }) => usedAt === null && (reservedFor === null || bookIds.includes(reservedFor.id)),
  );
}

async function rank(repairs: readonly Repair[], pieces: readonly DrawerPiece[], together: boolean) {
  const input: CutterInput = { task: 'rank', repairs, pieces, together };
  const answer = await inThread<CutterInput, never, CutterAnswer>('cutter-worker', input, { onStop: 'end' });
  assert(answer.task === 'rank', 'the thread answers what it was asked');
  return answer;
}

export async function matchFor(
  store: Workshop,
  asked: Readonly<{ bookId: string; kind: PieceKind }>,
): Promise<Result<MatchAnswer>> {
  const open = repairsOf(readSurveyed(store.db, [asked.bookId]), store).find(({ line }) => line.kind === asked.kind);
  if (!open) return refuse(`Nothing of this book needs ${asked.kind} any more.`, 'bookId');
  const pieces = freeFor(store, [asked.bookId]);
  const { rankings } = await rank([coreRepair(open)], pieces.map(drawerPiece), false);
  const byId = new Map(pieces.map((piece) => [piece.id, piece]));
  const { matches, misfits } = rankings[0]!;
  return ok({
    repair: open.line,
    parts: open.parts,
    matches: matches.flatMap((match) => {
      const piece = byId.get(match.pieceId);
      return piece ? [{ ...match, piece }] : [];
    }),
    misfits: misfits.map((misfit) => ({ ...misfit, name: byId.get(misfit.pieceId)?.name ?? '' })),
  });
}

export async function matchAll(
  store: Workshop,
  asked: readonly Readonly<{ bookId: string; kind: PieceKind }>[],
): Promise<Result<TogetherAnswer>> {
  const bookIds = [...new Set(asked.map((one) => one.bookId))];
  const open = repairsOf(readSurveyed(store.db, bookIds), store).filter(({ line }) =>
    asked.some((one) => one.bookId === line.bookId && one.kind === line.kind),
  );
  if (open.length === 0) return refuse('None of these books needs a piece any more.', 'repairs');
  const pieces = freeFor(store, bookIds);
  const { together } = await rank(open.map(coreRepair), pieces.map(drawerPiece), true);
  assert(together, 'the thread shares the pieces out where asked to');
  const byId = new Map(pieces.map((piece) => [piece.id, piece]));
  return ok({
    given: open.map(({ line }, index) => {
      const { match, words } = together.given[index]!;
      return { repair: line, piece: match ? (byId.get(match.pieceId) ?? null) : null, match, words };
    }),
    points: together.points,
    proven: together.proven,
  });
}

/**
 * The pieces of the drawer that each book counts on, by book. The earlier books choose first; one for which nothing is left that suits it
 * counts on its best match all the same, beside the book that has chosen it. A piece kept for a book is nobody else's and is not listed.
 */
export async function piecesCountedOn(
  store: Workshop,
  books: readonly Surveyed[],
): Promise<ReadonlyMap<string, readonly string[]>> {
  const counted = new Map<string, readonly string[]>();
  const lying = listPieces(store.db).filter(({ usedAt }) => usedAt === null);
  const free = lying.filter(({ reservedFor }) => reservedFor === null);
  if (free.length === 0) return counted;
  const open = repairsOf(books, store).filter(
    ({ line }) => !lying.some(({ reservedFor, kind }) => reservedFor?.id === line.bookId && kind === line.kind),
  );
  if (open.length === 0) return counted;
  const input: CutterInput = { task: 'turns', repairs: open.map(coreRepair), pieces: free.map(drawerPiece) };
  const answer = await inThread<CutterInput, never, CutterAnswer>('cutter-worker', input, { onStop: 'end' });
  assert(answer.task === 'turns', 'the thread answers what it was asked');
  for (const [index, { line }] of open.entries()) {
    const pieceId = answer.chosen[index] ?? null;
    if (pieceId !== null) counted.set(line.bookId, [...(counted.get(line.bookId) ?? []), pieceId]);
  }
  return counted;
}

/** A piece with where it came from, what became of it, and the books it would suit. */
export async function openPiece(store: Workshop, id: string): Promise<Result<PieceOpened>> {
  const piece = pieceById(store.db, id);
  if (!piece) return refuse('This piece is not in the drawer any more.', 'id');
  const cameFrom: PieceLine[] = [];
  for (let from = piece.fromPieceId; from !== null; ) {
    const larger = pieceById(store.db, from);
    if (!larger) break;
    cameFrom.unshift(larger);
    from = larger.fromPieceId;
  }
  return ok({ piece, cameFrom, became: cutFrom(store.db, id), suits: await booksSuited(store, piece) });
}

async function booksSuited(store: Workshop, piece: PieceLine): Promise<PieceOpened['suits']> {
  if (piece.usedAt !== null) return [];
  const open = openRepairs(store).filter(({ line }) => line.kind === piece.kind);
  if (open.length === 0) return [];
  const { rankings } = await rank(open.map(coreRepair), [drawerPiece(piece)], false);
  return open
    .flatMap(({ line }, index) => {
      const match = rankings[index]?.matches[0];
      if (!match || match.points >= withoutPoints) return [];
      const words = match.reasons
        .filter((reason) => reason.of === 'colour' || reason.of === 'pattern')
        .map((reason) => reason.words)
        .join('; ');
      return [{ bookId: line.bookId, title: line.title, what: line.what, points: match.points, words }];
    })
    .sort((a, b) => a.points - b.points)
    .slice(0, 12);
}

/** Why this book must not be broken for its pieces, in a sentence; null where it may. */
export function donorBlocked({ book, hazards }: Surveyed): string | null {
  const hazard = blocks(hazards, 'salvage');
  if (hazard !== null) return hazard;
  if (book.fate !== 'salvage') return 'It is not marked for salvage; decide its fate on the Shelf first.';
  if (book.scarcity === 'rare' || book.scarcity === 'scarce')
    return `It is ${book.scarcity}: such a book is not broken up.`;
  if (book.completeness === 'complete') return 'It is complete: a complete book is not broken up.';
  return null;
}

export function donors(store: Workshop): readonly DonorLine[] {
  const counts = new Map<string, number>();
  for (const { donor } of listPieces(store.db)) {
    if (donor) counts.set(donor.id, (counts.get(donor.id) ?? 0) + 1);
  }
  return readSurveyed(store.db, donorIds(store.db))
    .map((one) => ({
      id: one.book.id,
      title: one.book.title,
      shelfMark: one.book.shelfMark,
      binding: one.book.binding ?? '',
      colour: one.book.colour,
      date: one.book.dateText,
      pattern: one.book.pattern,
      yearFrom: one.book.yearFrom,
      yearTo: one.book.yearTo,
      pieces: counts.get(one.book.id) ?? 0,
      blocked: donorBlocked(one),
    }))
    .sort((a, b) => a.title.localeCompare(b.title, 'en'));
}
