import * as fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { raiseHazards } from '../../../core/book/hazards.ts';
import { chanceFrom } from '../../../core/schedule/random.ts';
import { propose } from '../../../core/treatment/propose.ts';
import {
  assess,
  defaultWeights,
  neighboursKept,
  prioritise,
  rankRange,
  strengthsOf,
} from '../../../core/triage/priority.ts';
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
  const books = Array.from({ length: 12 }, (_, index) => ({
    id: `b${index}`,
    minutes: 30 + Math.floor(chance() * 300),
    values: Array.from({ length: 4 }, () => Math.round(chance() * 3) / 3),
  }));
  const strengths = new Map(books.map(({ id, values, minutes }) => [id, strengthsOf(values, defaultWeights, minutes)]));
  const value = (id: string, factors: readonly number[]) =>
    (strengths.get(id) ?? []).reduce((sum, each, part) => sum + each * (factors[part] ?? 1), 0);
  const order = (factors: readonly number[]) =>
    books.map(({ id }) => id).sort((one, other) => value(other, factors) - value(one, factors));
  const usual = order([1, 1, 1, 1]);
  const ranked = usual.map((id) => strengths.get(id) ?? []);

  test('no weights drawn within 20 % put a book outside its range of ranks, nor turn round neighbours said to keep (2,000 draws, seed 11)', () => {
    const ranges = usual.map((_, place) => rankRange(ranked, place));
    const turned = new Set<string>();
    for (let draw = 0; draw < 2000; draw++) {
      const places = order([1, 2, 3, 4].map(() => 0.8 + 0.4 * chance()));
      for (const [at, { best, worst }] of ranges.entries()) {
        const place = places.indexOf(usual[at] ?? '') + 1;
        expect(place).toBeGreaterThanOrEqual(best);
        expect(place).toBeLessThanOrEqual(worst);
      }
      for (let at = 0; at + 1 < usual.length; at++) {
        if (places.indexOf(usual[at] ?? '') > places.indexOf(usual[at + 1] ?? '')) turned.add(String(at));
      }
    }
    const kept = neighboursKept(ranked);
    expect(kept).toBeLessThanOrEqual(1 - turned.size / (usual.length - 1));
    expect(kept).toBeGreaterThan(0);
    expect(turned.size).toBeGreaterThan(0);
  });

  test('with weights that do not move, every order is steady', () => {
    expect(neighboursKept(ranked, 0)).toBe(1);
    expect(rankRange(ranked, 3, 0)).toEqual({ best: 4, worst: 4 });
  });

  test('a list of one is steady, and books alike in everything keep their order', () => {
    expect(neighboursKept(ranked.slice(0, 1))).toBe(1);
    expect(
      neighboursKept([
        [1, 2, 0, 1],
        [1, 2, 0, 1],
      ]),
    ).toBe(1);
    expect(
      rankRange(
        [
          [1, 2, 0, 1],
          [1, 2, 0, 1],
        ],
        1,
      ),
    ).toEqual({ best: 2, worst: 2 });
  });
});

describe('an assessment', () => {
  test('of a book with an undecided hazard says so and suggests to leave it', () => {
    const green = book({ yearFrom: 1855, yearTo: 1855, colour: 'green' });
    const assessed = assess(green, hinge, raiseHazards(green, hinge));
    expect(assessed).toMatchObject({ hazardOpen: true, suggestedFate: 'leave' });
    expect(assessed.reason).toMatch(/^Look at this first: possible arsenical green/);
    expect(assessed.score).toBeGreaterThan(0);
  });

  test.each([
    ['You decided to leave it.', { fate: 'leave' }],
    ['Done.', { stage: 'done' }],
    ['Done.', { stage: 'done', fate: 'restore', fateLocked: true }],
  ] as const)('of what is settled scores 0 under any weights and says: %s', (reason, changes) => {
    const settled = book({
      significance: 3,
      use: 'daily reading',
      yearFrom: 1855,
      yearTo: 1855,
      colour: 'green',
      ...changes,
    });
    for (const weights of [defaultWeights, { significance: 10, decay: 0, use: 0, benefit: 0 }]) {
      const assessed = assess(settled, hinge, raiseHazards(settled, hinge), weights);
      expect(assessed).toMatchObject({ score: 0, reason, reasons: [reason] });
      expect(assessed.priority.worth).toBeGreaterThan(0);
    }
  });

  test.each([
    [
      [found('joints', 'split', 2), found('spine', 'missing', 2), found('boards', 'dirty', 1)],
      /^Joints split, spine missing; (\d+ min|\d+ h( \d\d)?) puts most of it right\.$/,
    ],
    [[found('boards', 'dirty', 1)], /^Boards slightly dirty; \d+ min puts it right\.$/],
    [[found('boards', 'missing', 2), found('boards', 'detached', 2)], /^Boards missing and detached; /],
    [[found('leaves', 'mould', 1), found('spine', 'torn', 2)], /^Mould on the leaves; /],
  ])('says what is wrong with the book itself and what would be done', (findings, words) => {
    expect(assess(book(), findings, [], { significance: 0, decay: 1, use: 0, benefit: 0 }).reason).toMatch(words);
  });

  test('names significance or use first where that weighs most', () => {
    const rare = book({ significance: 3, scarcity: 'scarce', use: 'teaching' });
    const reasonUnder = (weights: Record<string, number>) => assess(rare, hinge, [], weights).reason;
    expect(reasonUnder({ significance: 1, decay: 0, use: 0, benefit: 0 })).toMatch(
      /^Outstanding significance, scarce: hinges loose; /,
    );
    expect(reasonUnder({ significance: 0, decay: 0, use: 1, benefit: 0 })).toMatch(/^For teaching: hinges loose; /);
  });

  test('of a book nobody has surveyed asks for a survey; of one where nothing was found says so', () => {
    expect(assess(book({ stage: 'waiting' }), [], []).reason).toMatch(/^Survey it first/);
    expect(assess(book({ stage: 'surveyed' }), [], []).reason).toBe('Nothing was found.');
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
