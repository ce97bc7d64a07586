import * as fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { raiseHazards } from '../../../core/book/hazards.ts';
import { chanceFrom } from '../../../core/schedule/random.ts';
import { propose } from '../../../core/treatment/propose.ts';
import { assess, defaultWeights, prioritise, type Ranked, stability } from '../../../core/triage/priority.ts';
import { anyBook, anyFinding, anyHazard, book, found } from '../treatment/books.ts';

const hinge = [found('hinges', 'loose', 2)];

function scoreFor(changes: Parameters<typeof book>[0], findings = hinge): number {
  return prioritise(book(changes), findings, propose(book(changes), findings, [])).score;
}

describe('priority', () => {
  test('need rises one step as the grade falls one step (Blanton Museum of Art, UT Austin)', () => {
    const decay = ([1, 2, 3] as const).map(
      (severity) =>
        prioritise(book(), [found('hinges', 'loose', severity)], propose(book(), hinge, [])).parts.find(
          (part) => part.name === 'decay',
        )?.value ?? 0,
    );
    expect((decay[1] ?? 0) - (decay[0] ?? 0)).toBeCloseTo(1 / 3);
    expect((decay[2] ?? 0) - (decay[1] ?? 0)).toBeCloseTo(1 / 3);
  });

  test('slight mould is as urgent as severe damage, because it goes on by itself', () => {
    const findings = [found('leaves', 'mould', 1)];
    const parts = prioritise(book(), findings, propose(book(), findings, [])).parts;
    expect(parts.find((part) => part.name === 'decay')?.value).toBe(1);
  });

  test('is the weighted mean of its parts times 100, divided by hours', () => {
    const findings = [found('text block', 'detached', 3)];
    const proposal = propose(book(), findings, []);
    const { score, parts } = prioritise(book(), findings, proposal, { significance: 1, decay: 2, use: 3, benefit: 4 });
    const mean = parts.reduce((sum, part) => sum + part.weight * part.value, 0) / 10;
    expect(score).toBeCloseTo((100 * mean) / (proposal.minutes.likely / 60), 2);
  });

  test('a more significant book, and one in use every day, come first', () => {
    expect(scoreFor({ significance: 2 })).toBeGreaterThan(scoreFor({ significance: 0 }));
    expect(scoreFor({ use: 'daily reading' })).toBeGreaterThan(scoreFor({ use: 'display' }));
  });

  test('of two alike the one with less work comes first', () => {
    expect(scoreFor({}, [found('hinges', 'loose', 2)])).toBeGreaterThan(
      scoreFor({}, [found('hinges', 'loose', 3)]) / 2,
    );
    const thin = book({ pages: 100, thicknessMm: 12 });
    const thick = book({ pages: 900, thicknessMm: 60 });
    const sewing = [found('sewing', 'broken', 3)];
    expect(prioritise(thin, sewing, propose(thin, sewing, [])).score).toBeGreaterThan(
      prioritise(thick, sewing, propose(thick, sewing, [])).score,
    );
  });

  test('a book with nothing to do scores 0', () => {
    expect(scoreFor({}, [])).toBe(0);
  });

  test('scaling all weights changes nothing', () => {
    const proposal = propose(book(), hinge, []);
    const tenfold = Object.fromEntries(Object.entries(defaultWeights).map(([name, weight]) => [name, weight * 10]));
    expect(prioritise(book(), hinge, proposal, tenfold).score).toBe(prioritise(book(), hinge, proposal).score);
  });
});

describe('stability under other weights', () => {
  const chance = chanceFrom(11);
  const names = ['significance', 'decay', 'use', 'benefit'] as const;
  const books: Ranked[] = Array.from({ length: 12 }, (_, index) => ({
    bookId: `b${index}`,
    minutes: 30 + Math.floor(chance() * 300),
    parts: names.map((name) => ({
      name,
      value: Math.round(chance() * 3) / 3,
      weight: defaultWeights[name] ?? 0,
      why: '',
    })),
  }));
  const value = ({ parts, minutes }: Ranked, factors: readonly number[]) =>
    parts.reduce((sum, part, index) => sum + part.value * part.weight * (factors[index] ?? 1), 0) / minutes;
  const order = (factors: readonly number[]) =>
    [...books].sort((one, other) => value(other, factors) - value(one, factors)).map((each) => each.bookId);

  test('no weights drawn within 20 % put a book outside its range of ranks (2,000 draws, seed 11)', () => {
    const { ranks } = stability(books);
    for (let draw = 0; draw < 2000; draw++) {
      const places = order(names.map(() => 0.8 + 0.4 * chance()));
      for (const { bookId, best, worst } of ranks) {
        const place = places.indexOf(bookId) + 1;
        expect(place).toBeGreaterThanOrEqual(best);
        expect(place).toBeLessThanOrEqual(worst);
      }
    }
  });

  test('with weights that do not move, every order without ties is steady', () => {
    const distinct = order([1, 1, 1, 1]).map((id) => books.find((each) => each.bookId === id) as Ranked);
    expect(stability(distinct, 0).steady).toBe(1);
  });

  test('a list of one is steady', () => {
    expect(stability(books.slice(0, 1))).toEqual({ steady: 1, ranks: [{ bookId: 'b0', best: 1, worst: 1 }] });
  });
});

describe('an assessment', () => {
  test('of a book with an undecided hazard says so and suggests to leave it', () => {
    const green = book({ yearFrom: 1855, yearTo: 1855, colour: 'green' });
    const assessed = assess(green, hinge, raiseHazards(green, hinge));
    expect(assessed).toMatchObject({ hazardOpen: true, suggestedFate: 'leave' });
    expect(assessed.reason).toMatch(/arsenical green/);
  });

  test.each([
    ['clean only', {}, [found('boards', 'dirty', 1)]],
    ['restore', { significance: 2 }, [found('spine', 'torn', 3)]],
    ['practice', { significance: 0, use: 'teaching' }, [found('spine', 'torn', 3)]],
    [
      'salvage',
      { significance: 0, completeness: 'incomplete' },
      [found('sewing', 'broken', 3), found('corners', 'broken', 3)],
    ],
    ['leave', {}, []],
    ['practice', { significance: 0, fate: 'practice', fateLocked: true }, [found('spine', 'torn', 3)]],
  ] as const)('suggests %s', (fate, changes, findings) => {
    expect(assess(book(changes), findings, []).suggestedFate).toBe(fate);
  });

  test('never suggests to break a complete, rare, scarce, significant or hazardous book (1,000 random books, seed 5)', () => {
    fc.assert(
      fc.property(
        anyBook,
        fc.array(anyFinding, { maxLength: 8 }),
        fc.array(anyHazard, { maxLength: 2 }),
        (any, findings, hazards) => {
          const { suggestedFate, score, minutes } = assess(any, findings, hazards);
          expect(Number.isFinite(score) && score >= 0 && Number.isFinite(minutes.likely)).toBe(true);
          if (suggestedFate !== 'salvage') return;
          expect(any).toMatchObject({ scarcity: 'common', completeness: 'incomplete', significance: 0 });
          expect(
            hazards.every(
              (hazard) => hazard.state === 'cleared' || (hazard.state === 'confirmed' && hazard.kind === 'red rot'),
            ),
          ).toBe(true);
        },
      ),
      { seed: 5, numRuns: 1000 },
    );
  });
});
