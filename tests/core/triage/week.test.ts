import { describe, expect, test } from 'vitest';
import { chanceFrom } from '../../../core/schedule/random.ts';
import { propose } from '../../../core/treatment/propose.ts';
import { pack } from '../../../core/triage/knapsack.ts';
import { type Candidate, type Capacity, candidateOf, chooseWeek } from '../../../core/triage/week.ts';
import { book, found } from '../treatment/books.ts';

function candidate(bookId: string, value: number, minutes: number, more: Partial<Candidate> = {}): Candidate {
  return { bookId, value, minutes, toolMinutes: {}, needs: [], donors: [], locked: false, ...more };
}
const hours = (handMinutes: number, more: Partial<Capacity> = {}): Capacity => ({
  handMinutes,
  toolMinutes: {},
  stock: [],
  ...more,
});

describe('the knapsack', () => {
  test('problem 1 of Petersen 1967 has the optimum 3800', () => {
    const values = [100, 600, 1200, 2400, 500, 2000];
    const weights = [
      [8, 12, 13, 64, 22, 41],
      [8, 12, 13, 75, 22, 41],
      [3, 6, 4, 18, 6, 4],
      [5, 10, 8, 32, 6, 12],
      [5, 13, 8, 42, 6, 20],
      [5, 13, 8, 48, 6, 20],
      [0, 0, 0, 0, 8, 0],
      [3, 0, 4, 0, 8, 0],
      [3, 2, 4, 0, 8, 4],
      [3, 2, 4, 8, 8, 4],
    ];
    const capacities = [80, 96, 20, 36, 44, 48, 10, 18, 22, 24];
    const rows = weights.map((row, index) => ({ weights: row, capacity: capacities[index] ?? 0 }));
    expect(pack({ values, rows })).toMatchObject({ value: 3800, bound: 3800, optimal: true });
  });

  test('equals brute force on 400 random cases of up to 13 items and 5 rows (seed 3)', () => {
    const chance = chanceFrom(3);
    for (let round = 0; round < 400; round++) {
      const items = 1 + Math.floor(chance() * 13);
      const fractions = round % 2 === 0;
      const number = (most: number) => (fractions ? chance() * most : Math.floor(chance() * most));
      const values = Array.from({ length: items }, () => number(50) - (chance() < 0.1 ? 10 : 0));
      const rows = Array.from({ length: 1 + Math.floor(chance() * 5) }, () => {
        const weights = Array.from({ length: items }, () => (chance() < 0.3 ? 0 : number(30)));
        const sum = weights.reduce((total, weight) => total + weight, 0);
        return { weights, capacity: chance() < 0.1 ? 0 : sum * chance() };
      });
      let best = 0;
      for (let set = 0; set < 2 ** items; set++) {
        const fits = rows.every(
          (row) =>
            row.weights.reduce((total, weight, item) => total + ((set >> item) & 1 ? weight : 0), 0) <=
            row.capacity + 1e-9,
        );
        if (fits)
          best = Math.max(
            best,
            values.reduce((total, value, item) => total + ((set >> item) & 1 ? value : 0), 0),
          );
      }
      const packed = pack({ values, rows });
      expect(packed.optimal).toBe(true);
      expect(packed.value).toBeCloseTo(best, 5);
      for (const row of rows) {
        const used = row.weights.reduce((total, weight, item) => total + (packed.taken[item] ? weight : 0), 0);
        expect(used).toBeLessThanOrEqual(row.capacity + 1e-6);
      }
    }
  });

  test('equals dynamic programming over one row with 40, 400 and 3,000 items (Bellman 1957; seed 31)', () => {
    const chance = chanceFrom(31);
    for (const items of [40, 400, 3000]) {
      const weights = Array.from({ length: items }, () => 1 + Math.floor(chance() * 300));
      const values = weights.map(() => 1 + Math.floor(chance() * 100));
      const capacity = 2400;
      const best = new Float64Array(capacity + 1);
      for (let item = 0; item < items; item++) {
        const weight = weights[item] ?? 0;
        for (let room = capacity; room >= weight; room--) {
          best[room] = Math.max(best[room] ?? 0, (best[room - weight] ?? 0) + (values[item] ?? 0));
        }
      }
      expect(pack({ values, rows: [{ weights, capacity }] })).toMatchObject({ value: best[capacity], optimal: true });
    }
  });

  test('stopped early it still keeps every limit and its bound is no lie (seed 9)', () => {
    const chance = chanceFrom(9);
    const values = Array.from({ length: 60 }, () => 10 + chance() * 5);
    const rows = Array.from({ length: 6 }, () => ({ weights: values.map(() => 5 + chance() * 10), capacity: 150 }));
    const stopped = pack({ values, rows }, 20 * 60 * 6);
    const longer = pack({ values, rows }, 2000 * 60 * 6);
    expect(stopped.optimal).toBe(false);
    expect(stopped.bound).toBeGreaterThanOrEqual(longer.value - 1e-6);
    expect(stopped.bound).toBeGreaterThanOrEqual(stopped.value);
    for (const row of rows) {
      expect(
        row.weights.reduce((sum, weight, item) => sum + (stopped.taken[item] ? weight : 0), 0),
      ).toBeLessThanOrEqual(150);
    }
  });
});

test('a recased book holds the nipping press for its nip and its night', () => {
  const proposal = propose(book(), [found('text block', 'detached', 3)], []);
  const pressed = proposal.steps.find((step) => step.operationId === 'recase');
  expect(candidateOf('a', proposal, 5)).toMatchObject({
    value: 5,
    minutes: proposal.minutes.likely,
    toolMinutes: { 'nipping press': (pressed?.minutes.likely ?? 0) + 720 },
  });
});

describe('a week', () => {
  test('takes the books worth most within the hours, not the first that fit', () => {
    const choice = chooseWeek(
      [candidate('long', 60, 300), candidate('a', 40, 150), candidate('b', 35, 150)],
      hours(300),
    );
    expect(choice.chosen).toEqual(['a', 'b']);
    expect(choice.value).toBe(75);
    expect(choice.missed).toEqual([
      {
        bookId: 'long',
        because: 'It would fit with 5 h more; these hours are worth more in the others.',
        never: false,
      },
    ]);
  });

  test('keeps a locked book whatever it costs', () => {
    const choice = chooseWeek([candidate('kept', 1, 280, { locked: true }), candidate('b', 90, 60)], hours(300));
    expect(choice.chosen).toEqual(['kept']);
    expect(choice.missed[0]?.because).toMatch(/40 min more/);
    expect(chooseWeek([candidate('kept', 1, 900, { locked: true })], hours(300)).chosen).toEqual(['kept']);
  });

  test('respects press places and says so', () => {
    const pressed = { toolMinutes: { 'nipping press': 720 } } as const;
    const choice = chooseWeek(
      [candidate('a', 10, 30, pressed), candidate('b', 9, 30, pressed)],
      hours(300, { toolMinutes: { 'nipping press': 1000 } }),
    );
    expect(choice.chosen).toEqual(['a']);
    expect(choice.missed[0]?.because).toBe('The nipping press is taken: 7 h 20 of it are short.');
  });

  test('respects the stock on hand and says what is short', () => {
    const cloth = { needs: [{ kind: 'book cloth', unit: 'm2', quantity: 0.05 }] } as const;
    const choice = chooseWeek(
      [candidate('a', 10, 30, cloth), candidate('b', 9, 30, cloth)],
      hours(300, { stock: [{ kind: 'book cloth', unit: 'm2', quantity: 0.08 }] }),
    );
    expect(choice.chosen).toEqual(['a']);
    expect(choice.missed[0]?.because).toMatch(/not enough book cloth: 200 cm² more would do/);
  });

  test('breaks into a donor once', () => {
    const wreck = { donors: ['w1'] };
    const choice = chooseWeek(
      [candidate('a', 5, 10, wreck), candidate('b', 9, 10, wreck), candidate('c', 1, 10)],
      hours(300),
    );
    expect(choice.chosen).toEqual(['b', 'c']);
    expect(choice.missed[0]?.because).toMatch(/old piece/);
  });

  test('leaves what is worth nothing, and what no week can hold', () => {
    const choice = chooseWeek([candidate('idle', 0, 10), candidate('huge', 50, 9000)], hours(300));
    expect(choice.chosen).toEqual([]);
    expect(choice.missed.map((missed) => missed.because)).toEqual([
      'Nothing would be gained by doing it this week.',
      'It takes 150 h and the week has 5 h.',
    ]);
    expect(choice.missed.map((missed) => missed.never)).toEqual([false, true]);
  });

  test('another order of the candidates gives the same value, and another hour never less (seed 21)', () => {
    const chance = chanceFrom(21);
    const books = Array.from({ length: 60 }, (_, index) =>
      candidate(`b${index}`, Math.round(chance() * 100), 20 + Math.floor(chance() * 300), {
        toolMinutes: chance() < 0.5 ? { 'nipping press': 720 } : {},
      }),
    );
    const week = (handMinutes: number) => hours(handMinutes, { toolMinutes: { 'nipping press': 8000 } });
    const straight = chooseWeek(books, week(1800));
    expect(chooseWeek([...books].reverse(), week(1800)).value).toBeCloseTo(straight.value);
    expect(chooseWeek(books, week(1860)).value).toBeGreaterThanOrEqual(straight.value);
    expect(straight.optimal).toBe(true);
  });
});
