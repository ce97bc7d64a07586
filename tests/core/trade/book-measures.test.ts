import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { bindings } from '../../../core/book/book.ts';
import { calculationsOn, measured, onBook, scopeOf } from '../../../core/trade/book-measures.ts';
import { calculations } from '../../../core/trade/reckoner.ts';

const seed = 20_261_125;
const octavo = {
  title: 'Ferns of the North Combe',
  heightMm: 196,
  widthMm: 128,
  thicknessMm: 34,
  pages: 320,
  binding: 'cloth case',
} as const;

function find(id: string) {
  const found = calculations.find((one) => one.id === id);
  if (found === undefined) throw new Error(id);
  return found;
}

function answerOf(id: string, book: Parameters<typeof onBook>[1], kept: Parameters<typeof onBook>[2] = {}) {
  const answer = find(id).reckon(onBook(find(id), book, kept).typed, { unit: 'mm' });
  if (!answer.ok) throw new Error(answer.refusal.sentence);
  return answer.value;
}

function pieceOf(id: string, part: string, ...rest: [Parameters<typeof onBook>[1], Parameters<typeof onBook>[2]?]) {
  const piece = answerOf(id, rest[0], rest[1]).pieces.find((one) => one.part === part);
  if (piece === undefined) throw new Error(`${id} has no ${part}`);
  return piece;
}

describe('a book’s own measures', () => {
  test(`give back a case as high and as wide as the book that was measured, seed ${seed}`, () => {
    const books = fc.record({
      heightMm: fc.integer({ min: 110, max: 420 }),
      widthMm: fc.integer({ min: 80, max: 300 }),
      thicknessMm: fc.integer({ min: 12, max: 90 }),
      binding: fc.constantFrom(...bindings.filter((one) => one !== 'paper wrappers' && one !== 'unbound')),
    });
    fc.assert(
      fc.property(books, (size) => {
        const boards = pieceOf('case', 'boards', { ...octavo, ...size });
        expect(boards.heightMm).toBeCloseTo(size.heightMm, 2);
        expect(boards.widthMm + 4.8).toBeCloseTo(size.widthMm, 2);
      }),
      { seed, numRuns: 60 },
    );
  });

  test('follow the book: a taller one has a taller case, spine piece, mull and endpapers', () => {
    const taller = { ...octavo, heightMm: 236 };
    for (const [id, part] of [
      ['case', 'boards'],
      ['case', 'cover'],
      ['spine-piece', 'spine piece'],
      ['linings', 'mull'],
      ['endpapers', 'endpapers'],
    ] as const) {
      expect(pieceOf(id, part, taller).heightMm - pieceOf(id, part, octavo).heightMm, part).toBeCloseTo(40, 2);
    }
  });

  test('follow the binding: a half leather book is covered in leather at back and corners', () => {
    const parts = answerOf('case', { ...octavo, binding: 'half leather' }).pieces;
    expect(parts.map(({ part }) => part)).toEqual(
      expect.arrayContaining(['spine covering', 'sides', 'corners (triangles, half of this square)']),
    );
    expect(parts.find(({ part }) => part === 'spine covering')?.material).toBe('covering leather');
  });

  test('what was kept of the case holds for its linings and spine piece too, and the rest goes on following the book', () => {
    const kept = { covers: { board: '3 mm', square: '5 mm' } };
    expect(scopeOf('linings')).toBe(scopeOf('case'));
    expect(onBook(find('linings'), octavo, kept).typed).toMatchObject({ board: '3 mm', height: '186 mm' });
    expect(pieceOf('case', 'boards', { ...octavo, heightMm: 236 }, kept).heightMm).toBeCloseTo(236, 2);
    expect(onBook(find('case'), octavo, kept).differs).toHaveProperty('board');
  });

  test('a block fits the case it should have', () => {
    const { figures } = answerOf('recase', octavo);
    expect(figures[0]).toEqual({ label: 'Then', text: 'the old case fits' });
  });

  test('calculations beyond the case are shown for a book once something was kept for them', () => {
    const shown = (kept: Parameters<typeof calculationsOn>[1]) =>
      calculationsOn(octavo, kept).map(({ calculation }) => calculation.id);
    expect(shown({})).toEqual(['case', 'spine-piece', 'linings', 'endpapers']);
    expect(shown({ stations: { supports: '4' } })).toContain('stations');
  });

  test('a book that was not measured says what to measure', () => {
    const answer = measured({ ...octavo, widthMm: null, thicknessMm: null });
    expect(!answer.ok && answer.refusal.sentence).toBe('Measure the width and the thickness of this book first.');
  });

  test('paper wrappers and loose sheets are all block, with no boards to take off', () => {
    const { typed } = onBook(find('case'), { ...octavo, binding: 'paper wrappers' }, {});
    expect(typed).toMatchObject({ height: '196 mm', width: '128 mm', thickness: '34 mm' });
  });
});
