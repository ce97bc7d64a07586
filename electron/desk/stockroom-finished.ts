/** What finished steps took and nobody has booked out of the ledger yet: it is gone, so it counts as of today. */
import { asMade, type Draw, drawOf, type Made } from '../../core/stock/demand.ts';
import { toMillionths } from '../../core/stock/ledger.ts';
import { keepingOf } from '../../core/stock/lots.ts';
import type { Promised } from '../../core/stock/projection.ts';
import type { Step } from '../../core/treatment/treatment.ts';
import { type FinishedStep, unbookedSteps } from '../store/bookings.ts';
import { readSurveyed } from '../store/books.ts';
import { remainingSteps } from '../store/remaining.ts';
import { listStocked } from '../store/stockroom.ts';
import { listLots } from '../store/stockroom-lots.ts';
import { listRecipes } from '../store/stockroom-terms.ts';
import type { Workshop } from '../store/workshop.ts';
import type { Today } from './stockroom-needs.ts';

type Finished = Readonly<{
  finishedAt: number;
  step: Step;
  book: Readonly<{ id: string; title: string; colour: string }>;
  /** One for each material, as planned. */
  draws: readonly Draw[];
  /** What could not be counted, in words. */
  remarks: readonly string[];
}>;

/** Finished steps to be booked out, as they were agreed or proposed; one that is in neither any more, or needs nothing, is left out. */
export function finishedSteps(store: Workshop, today: Today): readonly Finished[] {
  const unbooked = unbookedSteps(store.db, today.now);
  if (unbooked.length === 0) return [];
  const books = new Map(
    readSurveyed(store.db, [...new Set(unbooked.map(({ bookId }) => bookId))]).map((one) => [
      one.book.id,
      { book: one.book, steps: remainingSteps(store.db, one, { withFinished: true }) },
    ]),
  );
  const shelf = listStocked(store.db).map(({ material, onHandMillionths }) => ({
    material,
    onHand: onHandMillionths / 1e6,
  }));
  let made = madeHere(store, today);
  return unbooked.flatMap(({ bookId, operationId, finishedAt }: FinishedStep) => {
    const of = books.get(bookId);
    const step = of?.steps.find((one) => one.operationId === operationId);
    if (of === undefined || step === undefined || step.needs.length === 0) return [];
    const drawn = step.needs.map((need) => drawOf(need, shelf, { colour: of.book.colour }));
    const single = drawn.flatMap(({ draw }) => {
      if (draw === null) return [];
      const taken = asMade(draw, made);
      made = made.map((one) =>
        one.materialId === taken.materialId ? { ...one, left: one.left - taken.quantity } : one,
      );
      return [taken];
    });
    const draws = [...Map.groupBy(single, (draw) => draw.materialId)].map(([materialId, members]) => ({
      materialId,
      // What the ledger can hold: six decimals.
      quantity: toMillionths(members.reduce((sum, draw) => sum + draw.quantity, 0)) / 1e6,
      working: [...new Set(members.map((draw) => draw.working))].join('; '),
    }));
    const remarks = [...new Set(drawn.map(({ remark }) => remark).filter((remark) => remark !== ''))];
    return [{ finishedAt, step, book: of.book, draws, remarks }];
  });
}

/** What is made here and still keeps, by what it is first made of. */
function madeHere(store: Workshop, today: Today): readonly Made[] {
  return listRecipes(store.db).flatMap(({ materialId, yieldMillionths, ingredients }) => {
    const [first] = ingredients;
    if (first === undefined) return [];
    const left = listLots(store.db, materialId)
      .filter((lot) => lot.lotId !== null && keepingOf(lot, today.date, null) !== 'past')
      .reduce((sum, lot) => sum + Math.max(0, lot.quantityMillionths), 0);
    return [
      { materialId, ofId: first.materialId, perUnit: yieldMillionths / first.quantityMillionths, left: left / 1e6 },
    ];
  });
}

/** The same as promised: taken today, whether there is a line of it or not. */
export function finishedPromises(
  store: Workshop,
  today: Today,
): readonly (Promised & Readonly<{ materialId: string }>)[] {
  return finishedSteps(store, today).flatMap(({ step, book, draws }) =>
    draws.map(({ materialId, quantity, working }) => ({
      ...{ materialId, working, date: today.date, purpose: 'week', bookId: book.id, courseId: null },
      ...{ title: book.title, why: `${step.name}, done and not yet booked out` },
      quantityMillionths: toMillionths(quantity),
    })),
  );
}
