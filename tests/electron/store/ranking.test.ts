import { expect, test } from 'vitest';
import { assess, defaultWeights, neighboursKept, strengthsOf, type Weights } from '../../../core/triage/priority.ts';
import { readSurveyed } from '../../../electron/store/books.ts';
import { changeHabits } from '../../../electron/store/habits.ts';
import { reason, score, steadinessOf } from '../../../electron/store/ranking.ts';
import { assessment, book } from '../../../electron/store/schema.ts';
import { listShelf } from '../../../electron/store/shelf.ts';
import type { Workshop } from '../../../electron/store/workshop.ts';
import { fillShelf } from '../../measure/shelf-books.ts';
import { newWorkshop } from './folders.ts';

/** Each book's score and reason out of the file, beside those of core under the same weights. */
function bothWays({ db }: Workshop, weights: Weights) {
  const rows = db.select({ id: assessment.bookId, score, reason }).from(assessment).all();
  const surveyed = readSurveyed(
    db,
    rows.map(({ id }) => id),
  );
  const reckoned = surveyed.map(({ book, findings, hazards }) => {
    const found = assess(book, findings, hazards, weights);
    return { id: book.id, score: found.score, reason: found.reason };
  });
  return { rows, reckoned };
}

test('the file reckons scores and reasons as core does, under any weights, and a change of weights writes no book (200 books, seed 5)', () => {
  const workshop = newWorkshop();
  fillShelf(workshop, 200, 5);
  const stored = workshop.db.select().from(assessment).all();
  const several: readonly Weights[] = [
    {},
    { significance: 0, decay: 10, use: 1, benefit: 1 },
    { significance: 10, decay: 0, use: 0, benefit: 0.5 },
    { significance: 0, decay: 0, use: 0, benefit: 0 },
    { use: 7 },
  ];
  const orders = several.map((weights) => {
    expect(changeHabits(workshop, { weights })).toMatchObject({ ok: true });
    const { rows, reckoned } = bothWays(workshop, { ...defaultWeights, ...weights });
    expect(rows.map(({ id, reason }) => ({ id, reason }))).toEqual(reckoned.map(({ id, reason }) => ({ id, reason })));
    for (const [at, row] of rows.entries()) expect(row.score).toBeCloseTo(reckoned[at]?.score ?? Number.NaN, 3);
    const shown = listShelf(workshop, { words: '', filter: {}, sort: 'attention', offset: 0, limit: 300 }).rows;
    const scores = shown.map((row) => row.score);
    expect(scores).toEqual(scores.toSorted((one, other) => other - one));
    return shown.map((row) => row.id).join();
  });
  expect(new Set(orders).size).toBeGreaterThan(3);
  expect(workshop.db.select().from(assessment).all()).toEqual(stored);
  workshop.undo();
  expect(
    listShelf(workshop, { words: '', filter: {}, sort: 'attention', offset: 0, limit: 300 })
      .rows.map(({ id }) => id)
      .join(),
  ).toBe(orders[3]);
});

test('what is done or left by decision scores 0 in the file as in core, and comes last until the decision is taken back', () => {
  const workshop = newWorkshop();
  fillShelf(workshop, 60, 7);
  const order = () => listShelf(workshop, { words: '', filter: {}, sort: 'attention', offset: 0, limit: 100 }).rows;
  const [first, second] = order();
  expect(second?.score).toBeGreaterThan(0);
  const steady = steadinessOf(workshop, null).books;
  workshop.write('Leave one and finish another', (change) => {
    change.update(book, first?.id ?? '', { fate: 'leave' });
    change.update(book, second?.id ?? '', { stage: 'done' });
  });
  for (const weights of [{}, { significance: 9, decay: 0, use: 0, benefit: 0 }]) {
    changeHabits(workshop, { weights });
    const { rows, reckoned } = bothWays(workshop, { ...defaultWeights, ...weights });
    expect(rows).toEqual(reckoned.map((one) => ({ ...one, score: expect.closeTo(one.score, 3) })));
    for (const [id, words] of [
      [first?.id, 'You decided to leave it.'],
      [second?.id, 'Done.'],
    ]) {
      expect(order().find((row) => row.id === id)).toMatchObject({ score: 0, reason: words });
    }
  }
  expect(steadinessOf(workshop, null).books).toBe(steady - 2);
});

test('how steady the order is and between which ranks a book stays are reckoned from the same parts', () => {
  const workshop = newWorkshop();
  fillShelf(workshop, 120, 6);
  const shown = listShelf(workshop, { words: '', filter: {}, sort: 'attention', offset: 0, limit: 300 }).rows;
  const todo = shown.filter((row) => row.minutes.likely > 0);
  const parts = new Map(
    workshop.db
      .select()
      .from(assessment)
      .all()
      .map((row) => [row.bookId, row]),
  );
  const strengths = todo.map(({ id, minutes }) => {
    const row = parts.get(id)!;
    return strengthsOf([row.significance, row.decay, row.use, row.benefit], defaultWeights, minutes.likely);
  });
  const whole = steadinessOf(workshop, null);
  expect(whole).toEqual({ books: todo.length, kept: neighboursKept(strengths), range: null });
  for (const [place, { id }] of todo.entries()) {
    const { range } = steadinessOf(workshop, id);
    expect(range?.best).toBeLessThanOrEqual(place + 1);
    expect(range?.worst).toBeGreaterThanOrEqual(place + 1);
  }
});
