/** The Offcuts room answers: the drawer, what suits which book, wrecks broken for their pieces, cutting plans. */
import type { CuttingHabits, PieceLine } from '../../core/contract/offcuts.ts';
import { ok, type Result, refuse } from '../../core/result.ts';
import type { Lab, PieceKind } from '../../core/salvage/piece.ts';
import { likelyYields } from '../../core/salvage/yields.ts';
import { printCuts } from '../print/cuts.ts';
import { readSurveyed } from '../store/books.ts';
import { bookColours, cuttingHabitsRow, listPieces, pieceById, titlesOf } from '../store/offcuts.ts';
import { removePhotographs } from '../store/photographs.ts';
import { entry, piece } from '../store/schema.ts';
import { bookColour, cuttingHabits } from '../store/schema-offcuts.ts';
import type { Workshop } from '../store/workshop.ts';
import { answer, inWorkshop } from './desk.ts';
import { acceptCut, keptPlan, planCut } from './offcuts-cuts.ts';
import {
  booksAtWork,
  colouredPart,
  donorBlocked,
  donors,
  matchAll,
  matchFor,
  openPiece,
  openRepairs,
  partsNeeded,
} from './offcuts-repairs.ts';

const { offcuts: room } = inWorkshop;

export const offcuts = {
  drawer: room.drawer.handler(({ context }) => listPieces(context.store.db)),
  open: room.open.handler(async ({ input, context, errors }) =>
    answer(await openPiece(context.store, input.id), errors),
  ),
  save: room.save.handler(({ input, context, errors }) => answer(savePiece(context.store, input), errors)),
  remove: room.remove.handler(({ input, context, errors }) => answer(removePiece(context.store, input.id), errors)),
  reserve: room.reserve.handler(({ input, context, errors }) =>
    answer(reserve(context.store, input.pieceId, input.bookId), errors),
  ),
  release: room.release.handler(({ input, context, errors }) => answer(release(context.store, input.pieceId), errors)),
  repairs: room.repairs.handler(({ context }) => openRepairs(context.store).map(({ line }) => line)),
  match: room.match.handler(async ({ input, context, errors }) => answer(await matchFor(context.store, input), errors)),
  keepColour: room.keepColour.handler(({ input, context, errors }) => answer(keepColour(context.store, input), errors)),
  together: room.together.handler(async ({ input, context, errors }) =>
    answer(await matchAll(context.store, input.repairs), errors),
  ),
  donors: room.donors.handler(({ context }) => donors(context.store)),
  yields: room.yields.handler(({ input, context, errors }) => {
    const [found] = readSurveyed(context.store.db, [input.bookId]);
    return likelyYields(
      answer(found ? ok(found) : refuse('This book is not on the shelf any more.', 'bookId'), errors).book,
    );
  }),
  breakDonor: room.breakDonor.handler(({ input, context, errors }) =>
    answer(breakDonor(context.store, input.bookId, input.pieces, context.now()), errors),
  ),
  cutList: room.cutList.handler(({ context }) => partsNeeded(booksAtWork(context.store), context.store)),
  cuttingHabits: room.cuttingHabits.handler(({ context }) => readCuttingHabits(context.store)),
  saveCuttingHabits: room.saveCuttingHabits.handler(({ input, context, errors }) =>
    answer(saveCuttingHabits(context.store, input), errors),
  ),
  planCut: room.planCut.handler(async ({ input, context, errors }) =>
    answer(await planCut(context.store, input), errors),
  ),
  acceptCut: room.acceptCut.handler(({ input, context, errors }) =>
    answer(acceptCut(context.store, input.planId, context.now()), errors),
  ),
  printCut: room.printCut.handler(async ({ input, context, errors }) => {
    const { planned } = answer(keptPlan(context.store, input.planId), errors);
    return printCuts(context.store, planned);
  }),
};

type PieceDraft = Readonly<{
  kind: PieceKind;
  heightMm: number;
  widthMm: number;
  grain: 'height' | 'width' | null;
  colour: string;
  lab: Lab | null;
  measured: string;
  pattern: PieceLine['pattern'];
  yearFrom: number | null;
  yearTo: number | null;
  place: string;
  note: string;
}>;

/** A draft as the table keeps it; a colour without a measurement has no word on how it was measured. */
function rowOf({ heightMm, widthMm, lab, measured, ...same }: PieceDraft) {
  return {
    ...same,
    heightUm: Math.round(heightMm * 1000),
    widthUm: Math.round(widthMm * 1000),
    lab: lab === null ? null : ([...lab] as [number, number, number]),
    measured: lab === null ? '' : measured || 'Typed in as Lab, D50',
  };
}

function savePiece(
  store: Workshop,
  { id, donorBookId, ...draft }: PieceDraft & Readonly<{ id?: string | undefined; donorBookId: string | null }>,
): Result<PieceLine> {
  const before = id === undefined ? null : pieceById(store.db, id);
  if (id !== undefined && before === null) return refuse('This piece is not in the drawer any more.', 'id');
  if (draft.yearFrom !== null && draft.yearTo !== null && draft.yearFrom > draft.yearTo)
    return refuse('The earlier year comes first.', 'yearTo');
  if (
    before !== null &&
    before.usedAt !== null &&
    (before.heightMm !== draft.heightMm || before.widthMm !== draft.widthMm)
  )
    return refuse('This piece has been cut; its size stays as it was.', 'heightMm');
  if (donorBookId !== null && donorBookId !== (before?.donor?.id ?? null)) {
    const donor = mayBreak(store, donorBookId);
    if (!donor.ok) return { ok: false, refusal: { ...donor.refusal, field: 'donorBookId' } };
  }
  const row = { ...rowOf(draft), donorBookId };
  const written = store.write(
    id === undefined ? `Put ${draft.colour} ${draft.kind} into the drawer` : `Change a piece of ${draft.kind}`,
    (change) => {
      if (id === undefined) return change.insert(piece, row);
      change.update(piece, id, row);
      return id;
    },
  );
  return written.ok ? lineOf(store, written.value) : written;
}

function lineOf(store: Workshop, id: string): Result<PieceLine> {
  const line = pieceById(store.db, id);
  return line ? ok(line) : refuse('This piece is not in the drawer any more.', 'id');
}

function mayBreak(store: Workshop, bookId: string): Result<string> {
  const [found] = readSurveyed(store.db, [bookId]);
  if (!found) return refuse('This book is not on the shelf any more.', 'bookId');
  const because = donorBlocked(found);
  return because === null
    ? ok(found.book.title)
    : refuse(`“${found.book.title}” is not broken up. ${because}`, 'bookId');
}

function removePiece(store: Workshop, id: string): Result<Readonly<{ name: string }>> {
  const line = pieceById(store.db, id);
  if (!line) return refuse('This piece is not in the drawer any more.', 'id');
  if (line.usedAt !== null)
    return refuse('This piece has been used; it stays on record with the book it went to.', 'id');
  const written = store.write(`Take ${line.name} out of the drawer`, (change) => {
    removePhotographs(store.db, change, { pieceId: id });
    change.remove(piece, id);
  });
  return written.ok ? ok({ name: line.name }) : written;
}

function reserve(store: Workshop, pieceId: string, bookId: string): Result<PieceLine> {
  const line = pieceById(store.db, pieceId);
  if (!line || line.usedAt !== null) return refuse('This piece is not in the drawer any more.', 'pieceId');
  if (line.reservedFor !== null && line.reservedFor.id !== bookId)
    return refuse(`It is kept for “${line.reservedFor.title}”. Release it there first.`, 'pieceId');
  const [found] = readSurveyed(store.db, [bookId]);
  if (!found) return refuse('This book is not on the shelf any more.', 'bookId');
  const written = store.write(`Keep ${line.name} for ${found.book.title}`, (change) =>
    change.update(piece, pieceId, { reservedBookId: bookId }),
  );
  return written.ok ? lineOf(store, pieceId) : written;
}

function release(store: Workshop, pieceId: string): Result<PieceLine> {
  const line = pieceById(store.db, pieceId);
  if (!line) return refuse('This piece is not in the drawer any more.', 'pieceId');
  const written = store.write(`Release ${line.name}`, (change) =>
    change.update(piece, pieceId, { reservedBookId: null }),
  );
  return written.ok ? lineOf(store, pieceId) : written;
}

function keepColour(
  store: Workshop,
  { bookId, kind, lab, measured }: Readonly<{ bookId: string; kind: PieceKind; lab: Lab | null; measured: string }>,
): Result<Readonly<{ title: string }>> {
  const title = titlesOf(store.db, [bookId]).get(bookId);
  if (title === undefined) return refuse('This book is not on the shelf any more.', 'bookId');
  const of = colouredPart(kind);
  const before = bookColours(store.db, [bookId])(bookId, of);
  const what = of === 'covering' ? 'the covering' : 'the endpapers';
  const label = `${lab === null ? 'Forget' : 'Keep'} the colour of ${what} of “${title}”`;
  const written = store.write(label, (change) => {
    if (lab === null) {
      if (before !== null) change.remove(bookColour, before.id);
      return;
    }
    const colour = { lab: [...lab] as [number, number, number], measured: measured || 'Typed in as Lab, D50' };
    if (before === null) change.insert(bookColour, { bookId, of, ...colour });
    else change.update(bookColour, before.id, colour);
  });
  return written.ok ? ok({ title }) : written;
}

/** Until a person says otherwise: a knife, nothing trimmed, strips of 40 mm kept. Common practice, no source. */
const usualCutting: CuttingHabits = { kerfMm: 0, trimMm: 0, usefulMm: 40, mostTurns: null };

function readCuttingHabits(store: Workshop): CuttingHabits {
  const row = cuttingHabitsRow(store.db);
  if (row === null) return usualCutting;
  const { kerfUm, trimUm, usefulUm, mostTurns } = row;
  return { kerfMm: kerfUm / 1000, trimMm: trimUm / 1000, usefulMm: usefulUm / 1000, mostTurns };
}

function saveCuttingHabits(
  store: Workshop,
  { kerfMm, trimMm, usefulMm, mostTurns }: CuttingHabits,
): Result<CuttingHabits> {
  const um = (millimetres: number) => Math.round(millimetres * 1000);
  const row = { kerfUm: um(kerfMm), trimUm: um(trimMm), usefulUm: um(usefulMm), mostTurns };
  const before = cuttingHabitsRow(store.db);
  const written = store.write('Change how this bench cuts', (change) => {
    if (before === null) change.insert(cuttingHabits, row);
    else change.update(cuttingHabits, before.id, row);
  });
  return written.ok ? ok(readCuttingHabits(store)) : written;
}

function breakDonor(
  store: Workshop,
  bookId: string,
  pieces: readonly (PieceDraft & Readonly<{ what: string }>)[],
  now: number,
): Result<Readonly<{ title: string; pieces: number }>> {
  const donor = mayBreak(store, bookId);
  if (!donor.ok) return donor;
  const title = donor.value;
  const written = store.write(`Break “${title}” for its pieces`, (change) => {
    for (const { what, ...draft } of pieces) {
      const note = [what, draft.note].filter((words) => words !== '').join('; ');
      change.insert(piece, { ...rowOf({ ...draft, note }), donorBookId: bookId });
    }
    const count = `${pieces.length} ${pieces.length === 1 ? 'piece' : 'pieces'}`;
    change.insert(entry, { at: now, bookId, minutes: null, note: `Broken for salvage: ${count} put into the drawer.` });
  });
  return written.ok ? ok({ title, pieces: pieces.length }) : written;
}
