/** Materials of finished steps: proposed as planned, corrected by hand, and booked out of the ledger, each step once. */
import type { PendingUse, UseInput } from '../../core/contract/daybook.ts';
import { ok, type Result, refuse } from '../../core/result.ts';
import { amountWords, enter, toMillionths } from '../../core/stock/ledger.ts';
import { inOrderOfUse, keepingOf, takeOldest } from '../../core/stock/lots.ts';
import { stepKey } from '../store/bookings.ts';
import { libraryOf } from '../store/operations.ts';
import { booking } from '../store/schema.ts';
import { listStocked, materialById } from '../store/stockroom.ts';
import { type LotRow, listLots, putPortions } from '../store/stockroom-lots.ts';
import type { Change, Workshop } from '../store/workshop.ts';
import { readToday } from './stockroom-figures.ts';
import { finishedSteps } from './stockroom-finished.ts';
import { lotWords } from './stockroom-reading.ts';

export function pendingUses(store: Workshop, now: number): readonly PendingUse[] {
  const stocked = listStocked(store.db);
  const shelf = stocked.map(({ material, onHandMillionths }) => ({ material, onHand: onHandMillionths / 1e6 }));
  const lots = Map.groupBy(listLots(store.db), (lot) => lot.materialId);
  const today = readToday(store, now);
  return finishedSteps(store, today).map(({ step, book, finishedAt, draws, remarks }) => ({
    ...{ bookId: book.id, book: book.title, operationId: step.operationId, operation: step.name, finishedAt, remarks },
    lines: draws.map(({ materialId, quantity, working }) => {
      const { material, onHand } = shelf.find((one) => one.material.id === materialId)!;
      const of = lots.get(materialId) ?? [];
      return {
        ...{ materialId, material: material.name, unit: material.unit, quantity, onHand, working },
        from: fromWords(of, quantity, today.date),
        lots: inOrderOfUse(of)
          .filter((lot) => lot.lotId !== null && lot.quantityMillionths > 0)
          .map((lot) => ({
            id: lot.lotId ?? '',
            words: `${lotWords(lot)}, ${amountWords(lot.quantityMillionths, material.unit)}`,
            quantity: lot.quantityMillionths / 1e6,
            past: isPast(lot, today.date),
          })),
      };
    }),
  }));
}

function isPast(lot: LotRow, today: string): boolean {
  return keepingOf(lot, today, null) === 'past';
}

/** "of 4 May 2026, then of 9 May 2026 (past its best before)". */
function fromWords(lots: readonly LotRow[], quantity: number, today: string): string {
  return takeOldest(lots, toMillionths(quantity))
    .map(({ lotId }) => lots.find((lot) => lot.lotId === lotId))
    .flatMap((lot) => {
      if (lot === undefined || lot.lotId === null) return [];
      return [`${lotWords(lot)}${isPast(lot, today) ? ' (past its best before)' : ''}`];
    })
    .join(', then ');
}

export function bookUses(
  store: Workshop,
  uses: readonly UseInput[],
  now: number,
): Result<Readonly<{ booked: number; words: string }>> {
  const waiting = new Map(
    finishedSteps(store, readToday(store, now)).map((one) => {
      const { book, step, finishedAt } = one;
      return [stepKey({ bookId: book.id, operationId: step.operationId, finishedAt }), one];
    }),
  );
  const chosen: (UseInput & Readonly<{ name: string; title: string }>)[] = [];
  for (const use of uses) {
    const one = waiting.get(stepKey(use));
    // Asked for twice in one breath is asked for twice as well.
    waiting.delete(stepKey(use));
    if (one === undefined) {
      const name = libraryOf(store.db).byId(use.operationId)?.name ?? 'this step';
      return refuse(`The materials of “${name}” are not waiting any more: each step is booked out once.`, 'uses');
    }
    chosen.push({ ...use, name: one.step.name, title: one.book.title });
  }
  const [first] = chosen;
  const what = chosen.length === 1 && first ? `${first.name}, ${first.title}` : `${chosen.length} steps`;
  const written = store.write(`Book out the materials of ${what}`, (change: Change) => {
    for (const [index, use] of chosen.entries()) {
      const { bookId, operationId, finishedAt } = use;
      const note = use.note.trim();
      const bookingId = change.insert(booking, { bookId, operationId, finishedAt, at: now, note });
      for (const [row, line] of use.lines.entries()) {
        if (line.quantity === 0) continue;
        const field = `uses.${index}.lines.${row}`;
        const found = materialById(store.db, line.materialId);
        if (found === null) change.refuse('One of these materials is no longer in the cupboard.', field);
        // Read anew for each line: the one before may have taken of the same.
        const lots = listLots(store.db, found.id);
        const lot = lots.find(({ lotId }) => lotId === line.lotId);
        if (line.lotId !== undefined && lot === undefined) change.refuse('This lot is not in the cupboard.', field);
        const held = lot ? lot.quantityMillionths : lots.reduce((sum, of) => sum + of.quantityMillionths, 0);
        const entry = enter(held, { kind: 'out', quantity: line.quantity, reason: note }, found.unit);
        if (!entry.ok) change.refuse(`${use.title}, ${found.name}: ${entry.refusal.sentence}`, field);
        const { quantityMillionths } = entry.value;
        const portions = lot ? [{ lotId: lot.lotId, quantityMillionths }] : takeOldest(lots, -quantityMillionths);
        const reason = note === '' ? use.name : `${use.name}. ${note}`;
        putPortions(change, portions, { materialId: found.id, kind: 'out', at: now, reason, bookId, bookingId });
      }
    }
  });
  return written.ok ? ok({ booked: chosen.length, words: `Booked out: ${what}.` }) : written;
}
