/** Cutting plans: the stock there is of a kind, the plan in its thread, and its booking out of the cupboard and the drawer. */
import { v7 as uuidv7 } from 'uuid';
import type { PlannedCut } from '../../core/contract/offcuts.ts';
import type { CutPlan, CutSheet, Rect } from '../../core/cutting/stock.ts';
import { assert, ok, type Result, refuse } from '../../core/result.ts';
import type { PieceKind } from '../../core/salvage/piece.ts';
import { takeOldest } from '../../core/stock/lots.ts';
import type { Material } from '../../core/stock/material.ts';
import { bladeCaution, shearCaution } from '../../core/treatment/operations-basic.ts';
import type { CutterAnswer, CutterInput } from '../engines/cutter-worker.ts';
import { inThread } from '../engines/thread.ts';
import { pieceById, titlesOf } from '../store/offcuts.ts';
import { entry, piece } from '../store/schema.ts';
import { onHandMillionths } from '../store/stockroom.ts';
import { listLots, putPortions } from '../store/stockroom-lots.ts';
import type { Change, Workshop } from '../store/workshop.ts';
import {
  type CutAsked,
  coloursOf,
  type Offered,
  type Origin,
  type Part,
  stockOf,
  suited,
  wholeMetres,
} from './offcuts-stock.ts';

type Kept = Readonly<{ planned: PlannedCut; parts: readonly Part[]; origins: ReadonlyMap<string, Origin> }>;

/** Plans shown and not yet accepted, by workshop; the oldest are forgotten. */
const kept = new WeakMap<Workshop, Map<string, Kept>>();
const mostKept = 20;

const boards: ReadonlySet<PieceKind> = new Set(['greyboard', 'box board', 'spine card']);

/** Plans the cuts of one kind of material. */
export async function planCut(store: Workshop, asked: CutAsked): Promise<Result<PlannedCut>> {
  const there = stockOf(store, asked);
  if (there.length === 0) {
    return refuse(
      `There is no ${asked.kind} on hand: neither a sheet in the Stockroom nor a piece in the drawer.`,
      'kind',
    );
  }
  const { kerfMm, usefulMm, mostTurns } = asked;
  const colours = coloursOf(store, asked);
  const titles = titlesOf(
    store.db,
    asked.parts.flatMap(({ bookId }) => bookId ?? []),
  );
  const tries = [there, wholeMetres(there)];
  for (const [index, offered] of tries.entries()) {
    const { wanted, remarks } = suited(asked, offered, colours, titles);
    const problem = { wanted, stock: offered.map(({ stock }) => stock), settings: { kerfMm, usefulMm, mostTurns } };
    const input: CutterInput = { task: 'plan', problem, seed: 1 };
    const answer = await inThread<CutterInput, never, CutterAnswer>('cutter-worker', input, { onStop: 'end' });
    assert(answer.task === 'plan', 'the thread answers what it was asked');
    if (!answer.plan.ok) return answer.plan;
    const plan = answer.plan.value;
    const origins = new Map(offered.map(({ stock, origin }) => [stock.id, origin]));
    // Lengths of one roll share its cloth: where they take more than there is, it is offered in whole metres and their rest.
    if (index === 0 && beyondRoll(store, plan, origins)) continue;
    const planned: PlannedCut = {
      planId: uuidv7(),
      kind: asked.kind,
      plan: { ...plan, remarks: [...remarks, ...plan.remarks] },
      stock: sourcesOf(offered),
      cautions: (boards.has(asked.kind) ? [shearCaution, bladeCaution] : [bladeCaution]).map(
        ({ sentence }) => sentence,
      ),
    };
    keep(store, { planned, parts: asked.parts, origins });
    return ok(planned);
  }
  throw new Error('Broken invariant: whole metres of a roll and their rest are never more than the roll');
}

/** Pieces and materials, each once in however many lengths a roll is offered. */
function sourcesOf(offered: readonly Offered[]): PlannedCut['stock'] {
  const sources = offered.map(({ origin, stock: { name, offcut } }) =>
    origin.of === 'piece'
      ? { id: origin.id, name, offcut }
      : { id: origin.material.id, name: origin.material.name, offcut },
  );
  return [...new Map(sources.map((source) => [source.id, source])).values()];
}

function keep(store: Workshop, one: Kept): void {
  const plans = kept.get(store) ?? new Map<string, Kept>();
  plans.set(one.planned.planId, one);
  const [oldest] = plans.keys();
  if (plans.size > mostKept && oldest !== undefined) plans.delete(oldest);
  kept.set(store, plans);
}

export function keptPlan(store: Workshop, planId: string): Result<Kept> {
  const found = kept.get(store)?.get(planId);
  return found ? ok(found) : refuse('This plan is no longer at hand. Plan the cuts again.', 'planId');
}

/** What each material gives up, in its own unit. */
function takenOf(plan: CutPlan, origins: ReadonlyMap<string, Origin>): ReadonlyMap<Material, number> {
  const taken = new Map<Material, number>();
  for (const { stockId } of plan.sheets) {
    const origin = origins.get(stockId);
    if (!origin || origin.of === 'piece') continue;
    taken.set(origin.material, (taken.get(origin.material) ?? 0) + origin.quantity);
  }
  return taken;
}

function beyondRoll(store: Workshop, plan: CutPlan, origins: ReadonlyMap<string, Origin>): boolean {
  return [...takenOf(plan, origins)].some(
    ([material, quantity]) => millionthsOf(quantity) > onHandMillionths(store.db, material.id),
  );
}

function millionthsOf(quantity: number): number {
  return Math.round(quantity * 1e6);
}

/** Books a plan: sheets out of the cupboard, pieces out of the drawer, remnants into it, and each part to its book. */
export function acceptCut(
  store: Workshop,
  planId: string,
  now: number,
): Result<Readonly<{ pieces: number; remnants: number }>> {
  const found = keptPlan(store, planId);
  if (!found.ok) return found;
  const { planned, parts, origins } = found.value;
  const { plan } = planned;
  const changed = changedSince(store, plan, origins);
  if (changed !== null) return refuse(`${changed} Plan the cuts again.`, 'planId');
  const count = plan.sheets.reduce((sum, sheet) => sum + sheet.pieces.length, 0);
  let remnants = 0;
  const written = store.write(`Cut ${count} ${count === 1 ? 'piece' : 'pieces'} of ${planned.kind}`, (change) => {
    for (const sheet of plan.sheets) {
      const origin = origins.get(sheet.stockId);
      assert(origin, 'every sheet of a plan has its stock');
      remnants += sheet.remnants.length;
      if (origin.of === 'piece') cutPiece(store, change, origin.id, sheet, parts, now);
      else {
        const same = fromMaterial(origin.material, planned.kind);
        for (const { wantedId, rect, turned } of sheet.pieces) {
          const part = parts.find((one) => one.id === wantedId);
          // What was cut for no book is only an entry of the ledger.
          if (part && part.bookId !== null) putCut(change, same, rect, turned, sheet.grain, part, now);
        }
        putRemnants(change, sheet, same);
      }
    }
    for (const [material, quantity] of takenOf(plan, origins)) {
      const books = new Set(plan.sheets.flatMap((sheet) => sheet.pieces.map((one) => bookOf(parts, one.wantedId))));
      const [bookId] = books;
      putPortions(change, takeOldest(listLots(store.db, material.id), millionthsOf(quantity)), {
        materialId: material.id,
        kind: 'out',
        at: now,
        reason: `Cut for ${count} ${count === 1 ? 'piece' : 'pieces'}`,
        bookId: books.size === 1 ? (bookId ?? null) : null,
      });
    }
  });
  if (!written.ok) return written;
  kept.get(store)?.delete(planId);
  return ok({ pieces: count, remnants });
}

function bookOf(parts: readonly Part[], wantedId: string): string | null {
  return parts.find((part) => part.id === wantedId)?.bookId ?? null;
}

/** What is no longer as it was when the plan was made; null where all is. */
function changedSince(store: Workshop, plan: CutPlan, origins: ReadonlyMap<string, Origin>): string | null {
  for (const sheet of plan.sheets) {
    const origin = origins.get(sheet.stockId);
    if (origin?.of !== 'piece') continue;
    const now = pieceById(store.db, origin.id);
    if (now === null || now.usedAt !== null) return `${sheet.name} is not in the drawer any more.`;
    if (now.heightMm !== sheet.heightMm || now.widthMm !== sheet.widthMm) return `${sheet.name} has another size now.`;
  }
  for (const [material, quantity] of takenOf(plan, origins)) {
    if (onHandMillionths(store.db, material.id) < millionthsOf(quantity))
      return `There is less of ${material.name} now.`;
  }
  return null;
}

type Bequest = Omit<typeof piece.$inferInsert, 'id' | 'heightUm' | 'widthUm' | 'grain'>;

function fromMaterial(material: Material, kind: PieceKind): Bequest {
  return {
    kind,
    colour: material.colour,
    pattern: null,
    yearFrom: null,
    yearTo: null,
    place: '',
    note: `Left of ${material.name}`,
    materialId: material.id,
  };
}

/** The whole piece is gone; its parts belong to their books now, and what is left of it goes back into the drawer. */
function cutPiece(
  store: Workshop,
  change: Change,
  pieceId: string,
  sheet: CutSheet,
  parts: readonly Part[],
  now: number,
): void {
  const whole = pieceById(store.db, pieceId);
  assert(whole, 'a piece that is cut is there');
  const { kind, colour, lab, measured, pattern, yearFrom, yearTo, place, donor } = whole;
  const same: Bequest = {
    kind,
    colour,
    lab: lab === null ? null : [...lab],
    measured,
    pattern,
    yearFrom,
    yearTo,
    place,
    note: '',
    donorBookId: donor?.id ?? null,
    fromPieceId: pieceId,
  };
  change.update(piece, pieceId, { usedAt: now, reservedBookId: null });
  for (const { wantedId, rect, turned } of sheet.pieces) {
    const part = parts.find((one) => one.id === wantedId);
    assert(part, 'every piece of a plan was asked for');
    const { bookId: usedBookId, what: name } = part;
    putCut(change, same, rect, turned, sheet.grain, part, now);
    if (usedBookId !== null) {
      const from = donor === null ? whole.name : `${whole.name}, from “${donor.title}”`;
      change.insert(entry, { at: now, bookId: usedBookId, minutes: null, note: `Cut ${name} out of ${from}.` });
    }
  }
  putRemnants(change, sheet, same);
}

/** A part as it left the shear, in its own upright; its note says what it is. */
function putCut(
  change: Change,
  bequest: Bequest,
  rect: Rect,
  turned: boolean,
  grain: CutSheet['grain'],
  part: Part,
  now: number,
): void {
  const [heightMm, widthMm] = turned ? [rect.widthMm, rect.heightMm] : [rect.heightMm, rect.widthMm];
  const along = grain === null ? null : turned === (grain === 'width') ? 'height' : 'width';
  change.insert(piece, {
    ...bequest,
    heightUm: um(heightMm),
    widthUm: um(widthMm),
    grain: along,
    note: part.what,
    usedAt: now,
    usedBookId: part.bookId,
  });
}

function putRemnants(change: Change, sheet: CutSheet, bequest: Bequest): void {
  for (const { heightMm, widthMm } of sheet.remnants) {
    change.insert(piece, { ...bequest, heightUm: um(heightMm), widthUm: um(widthMm), grain: sheet.grain });
  }
}

function um(millimetres: number): number {
  return Math.round(millimetres * 1000);
}
