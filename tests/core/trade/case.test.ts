import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Result } from '../../../core/result.ts';
import {
  type BackShape,
  leavesFromThickness,
  measureBack,
  measureLinings,
  swellRange,
  textBlockThickness,
} from '../../../core/trade/back.ts';
import { type CaseStyle, measureCase, textBlockWithin } from '../../../core/trade/case.ts';
import { measureEndpapers, measureJacket, measureSpinePiece, measureWrapper } from '../../../core/trade/reback.ts';
import { areaOfPieces, type Piece } from '../../../core/trade/working.ts';
import { type BookSize, mmPerInch } from '../../../core/units/lengths.ts';

const seed = 20_261_125;
const inch = mmPerInch;
const octavo: BookSize = { heightMm: 8 * inch, widthMm: 5 * inch, thicknessMm: 1 * inch };

function must<T>(result: Result<T>): T {
  if (!result.ok) throw new Error(result.refusal.sentence);
  return result.value;
}
function piece(pieces: readonly Piece[], part: string): Piece {
  const found = pieces.find((one) => one.part === part);
  if (found === undefined) throw new Error(`no ${part}`);
  return found;
}

describe('a case', () => {
  test('has boards taller than the text by 1/4 to 3/8 in, so squares of 1/8 to 3/16 in (Vaughn 1914, "Case binding")', () => {
    const small = must(measureCase(octavo));
    expect((small.boardHeightMm - octavo.heightMm) / inch).toBeCloseTo(1 / 4, 12);
    expect(small.squareMm / inch).toBeCloseTo(1 / 8, 12);
    const large = must(measureCase({ ...octavo, heightMm: 12 * inch }));
    expect((large.boardHeightMm - 12 * inch) / inch).toBeCloseTo(3 / 8, 12);
    expect(large.squareMm / inch).toBeCloseTo(3 / 16, 12);
  });

  test('turns its cloth in by 3/4 in at each edge (Vaughn 1914)', () => {
    const { pieces, boardHeightMm, flatWidthMm } = must(measureCase(octavo));
    const cover = piece(pieces, 'cover');
    expect((cover.heightMm - boardHeightMm) / inch).toBeCloseTo(1.5, 12);
    expect((cover.widthMm - flatWidthMm) / inch).toBeCloseTo(1.5, 12);
  });

  test('has the board of a book 9 3/4 in tall as tall as its untrimmed leaf, 10 in (Roberts & Etherington 1982, "book sizes")', () => {
    expect(must(measureCase({ ...octavo, heightMm: 9.75 * inch })).boardHeightMm / inch).toBeCloseTo(10, 12);
  });

  test('has boards as wide as the book when the joint is as wide as the square (Vaughn 1914)', () => {
    expect(must(measureCase(octavo, { jointMm: inch / 8, squareMm: inch / 8 })).boardWidthMm).toBeCloseTo(
      octavo.widthMm,
      12,
    );
  });

  test.each([
    [3.2, false],
    [4.8, false],
    [6.3, false],
    [2, true],
    [8, true],
  ])('remarks on a joint of %d mm outside 1/8 to 1/4 in (Getty AAT, "French joints"): %s', (jointMm, remarked) => {
    const { remarks } = must(measureCase(octavo, { jointMm }));
    expect(remarks.some((remark) => /joint/.test(remark))).toBe(remarked);
  });

  test('worked by hand: a flat book 200 x 130 x 25 mm, 2 mm board, 3 mm squares, 4 mm joint, 20 mm turn-in', () => {
    const measures = must(
      measureCase(
        { heightMm: 200, widthMm: 130, thicknessMm: 25 },
        { back: 'flat', boardMm: 2, squareMm: 3, jointMm: 4, turnInMm: 20 },
      ),
    );
    expect(measures.boardHeightMm).toBe(206);
    expect(measures.boardWidthMm).toBe(129);
    expect(measures.back.widthMm).toBe(29);
    expect(measures.gapMm).toBeCloseTo(2 * Math.sqrt(8), 12);
    expect(piece(measures.pieces, 'cover').heightMm).toBe(246);
    expect(piece(measures.pieces, 'cover').widthMm).toBeCloseTo(2 * 129 + 29 + 4 * Math.sqrt(8) + 40, 12);
  });

  test.each([
    ['no thickness', { ...octavo, thicknessMm: 0 }, {}],
    ['negative height', { ...octavo, heightMm: -1 }, {}],
    ['not a number', { ...octavo, widthMm: Number.NaN }, {}],
    ['centimetres taken for millimetres', { ...octavo, heightMm: 2250 }, {}],
    ['a joint wider than the board', octavo, { jointMm: 70 }],
    ['squares out of all reason', octavo, { squareMm: 40 }],
    ['a turn-in less than the board', octavo, { turnInMm: 1 }],
    ['a spine share over six tenths', octavo, { style: 'half' as const, spineShare: 0.8 }],
  ])('refuses %s with a sentence', (_, book, habits) => {
    const measured = measureCase(book, habits);
    expect(!measured.ok && measured.refusal.sentence).toMatch(/\.$|\?$/);
  });

  test('in quarter style the sides and the spine covering together cover both boards', () => {
    const measures = must(measureCase(octavo, { style: 'quarter', back: 'flat' }));
    const spine = piece(measures.pieces, 'spine covering');
    const sides = piece(measures.pieces, 'sides');
    const seen = spine.widthMm + 2 * (sides.widthMm - measures.turnInMm) - 2 * (inch / 8);
    expect(seen).toBeCloseTo(measures.flatWidthMm, 9);
  });

  const book = fc.record({
    heightMm: fc.double({ min: 90, max: 450, noNaN: true }),
    widthMm: fc.double({ min: 70, max: 350, noNaN: true }),
    thicknessMm: fc.double({ min: 12, max: 90, noNaN: true }),
  });
  const shape = fc.constantFrom<BackShape>('flat', 'rounded');
  const style = fc.constantFrom<CaseStyle>('full', 'quarter', 'half');

  test(`a thicker book never needs narrower cloth, a taller one never shorter, seed ${seed}`, () => {
    fc.assert(
      fc.property(book, shape, fc.double({ min: 0, max: 40, noNaN: true }), (size, back, more) => {
        const cover = (block: BookSize) => piece(must(measureCase(block, { back })).pieces, 'cover');
        expect(cover({ ...size, thicknessMm: size.thicknessMm + more }).widthMm).toBeGreaterThanOrEqual(
          cover(size).widthMm - 1e-9,
        );
        expect(cover({ ...size, heightMm: size.heightMm + more }).heightMm).toBeGreaterThanOrEqual(
          cover(size).heightMm - 1e-9,
        );
      }),
      { seed },
    );
  });

  test(`with every measure and habit scaled, every piece scales with it, seed ${seed}`, () => {
    fc.assert(
      fc.property(book, shape, style, fc.double({ min: 0.5, max: 2, noNaN: true }), (size, back, kind, k) => {
        const habits = { back, style: kind, boardMm: 2, squareMm: 3, jointMm: 5, turnInMm: 19, sideOverlapMm: 3 };
        const scaled = {
          ...habits,
          boardMm: 2 * k,
          squareMm: 3 * k,
          jointMm: 5 * k,
          turnInMm: 19 * k,
          sideOverlapMm: 3 * k,
        };
        const one = must(measureCase(size, habits)).pieces;
        const other = must(
          measureCase(
            { heightMm: size.heightMm * k, widthMm: size.widthMm * k, thicknessMm: size.thicknessMm * k },
            scaled,
          ),
        ).pieces;
        for (const [index, { heightMm, widthMm }] of one.entries()) {
          expect(other[index]?.heightMm).toBeCloseTo(heightMm * k, 6);
          expect(other[index]?.widthMm).toBeCloseTo(widthMm * k, 6);
        }
      }),
      { seed },
    );
  });

  test(`the block inside boards is the block the case was measured for, seed ${seed}`, () => {
    fc.assert(
      fc.property(book, (size) => {
        const measures = must(measureCase(size, { back: 'flat' }));
        const { boardMm, squareMm } = measures;
        const outside = {
          heightMm: measures.boardHeightMm,
          widthMm: size.widthMm + squareMm,
          thicknessMm: size.thicknessMm + 2 * boardMm,
        };
        const block = must(textBlockWithin(outside, { boardMm, squareMm }));
        expect(block.heightMm).toBeCloseTo(size.heightMm, 9);
        expect(block.widthMm).toBeCloseTo(size.widthMm, 9);
        expect(block.thicknessMm).toBeCloseTo(size.thicknessMm, 9);
      }),
      { seed },
    );
  });

  test('a book thinner than two boards is refused', () => {
    expect(textBlockWithin({ heightMm: 200, widthMm: 130, thicknessMm: 3 }).ok).toBe(false);
  });
});

describe('the back', () => {
  test('half a circle is pi over two times its chord, and a slight round hardly wider than flat', () => {
    const half = must(measureBack(20, 'rounded', 2.5, 180));
    expect(half.widthMm).toBeCloseTo((Math.PI / 2) * 25, 9);
    expect(half.riseMm).toBeCloseTo(12.5, 9);
    const slight = must(measureBack(20, 'rounded', 2.5, 1));
    expect(slight.widthMm).toBeCloseTo(25, 3);
  });

  test('the shoulder is no less deep than the board (Adam 1903)', () => {
    expect(must(measureBack(20, 'rounded', 2.5)).shoulderMm).toBeGreaterThanOrEqual(2.5);
  });

  test(`a rounder back is wider and stands out further, seed ${seed}`, () => {
    const degrees = fc.double({ min: 5, max: 170, noNaN: true });
    fc.assert(
      fc.property(degrees, fc.double({ min: 1, max: 10, noNaN: true }), (round, more) => {
        const one = must(measureBack(25, 'rounded', 2, round));
        const other = must(measureBack(25, 'rounded', 2, round + more));
        expect(other.widthMm).toBeGreaterThan(one.widthMm);
        expect(other.riseMm).toBeGreaterThan(one.riseMm);
      }),
      { seed },
    );
  });

  test('320 pages at 100 micrometres a leaf are 16 mm (leaves × caliper)', () => {
    expect(must(textBlockThickness(160, 0.1)).thicknessMm).toBeCloseTo(16, 12);
    expect(leavesFromThickness(16, 0.1)).toEqual({ ok: true, value: { leaves: 160, from: 145, to: 178 } });
  });

  test.each([
    ['all along', 20, 10.6],
    ['two on', 12, 6.36],
  ] as const)(
    '20 sections on 25/3 thread of 0.53 mm %s: %d threads, at most %d mm (threads × diameter)',
    (sewn, threads, toMm) => {
      const swell = must(swellRange(20, 0.53, sewn));
      expect(swell.threads).toBe(threads);
      expect(swell.toMm).toBeCloseTo(toMm, 9);
      expect(swell.fromMm).toBe(0);
    },
  );

  test.each([
    [() => measureBack(0, 'flat', 2)],
    [() => measureBack(20, 'rounded', 2, 270)],
    [() => measureBack(20, 'flat', 0)],
    [() => textBlockThickness(12.5, 0.1)],
    [() => textBlockThickness(100, 10)],
    [() => swellRange(0, 0.5, 'all along')],
    [() => swellRange(10, 50, 'all along')],
    [() => leavesFromThickness(-1, 0.1)],
  ])('nonsense is refused: %s', (ask) => {
    expect(ask().ok).toBe(false);
  });
});

describe('linings', () => {
  test('super 1 1/2 in down each endpaper is 3 in wider than the back, and within the 2 to 3 in the book also gives (Vaughn 1914)', () => {
    const { pieces } = must(measureLinings(octavo, 30, { mullOverlapMm: 1.5 * inch }));
    expect((piece(pieces, 'mull').widthMm - 30) / inch).toBeCloseTo(3, 12);
  });

  test('mull overlaps at least 1 1/4 in each side (Bailey 1916, spec. 21) and stops 1/2 in short at each end (Bailey, reference books)', () => {
    const mull = piece(must(measureLinings(octavo, 30)).pieces, 'mull');
    expect((mull.widthMm - 30) / 2 / inch).toBeGreaterThanOrEqual(1.25);
    expect((octavo.heightMm - mull.heightMm) / 2 / inch).toBeCloseTo(0.5, 12);
  });

  test('on a reference book overlaps under 2 in are remarked on (Bailey 1916, reference-book spec. 1 and 6)', () => {
    const large = { ...octavo, heightMm: 13 * inch, widthMm: 9 * inch };
    expect(must(measureLinings(large, 60)).remarks.join(' ')).toMatch(/2 in down each side/);
    expect(must(measureLinings(large, 60, { mullOverlapMm: 2 * inch })).remarks.join(' ')).not.toMatch(
      /2 in down each side/,
    );
  });

  test('a hollow two on and two off takes four widths of the back, one on and two off three (Zaehnsdorf 1890)', () => {
    const hollow = (kind: 'one on, two off' | 'two on, two off') =>
      piece(must(measureLinings(octavo, 30, { hollow: kind })).pieces, 'hollow').widthMm;
    expect(hollow('two on, two off')).toBe(120);
    expect(hollow('one on, two off')).toBe(90);
  });

  test('nonsense is refused', () => {
    expect(measureLinings(octavo, 0).ok).toBe(false);
    expect(measureLinings(octavo, 30, { mullShortMm: 110 }).ok).toBe(false);
    expect(measureLinings(octavo, 30, { mullOverlapMm: 200 }).ok).toBe(false);
    expect(measureLinings(octavo, 30, { kraftLayers: 1.5 }).ok).toBe(false);
  });
});

describe('a reback', () => {
  const book = must(measureCase(octavo));

  test('under the old cloth reaches 1/8 in and 1 in under it; over the board 3/4 in (Indiana University, Book Repair Manual)', () => {
    expect(must(measureSpinePiece(book, 'under the old cloth')).reachMm / inch).toBeCloseTo(1.125, 12);
    expect(must(measureSpinePiece(book, 'over the board')).reachMm / inch).toBeCloseTo(0.75, 12);
  });

  test('has a spine piece as wide as the back, both joints and both reaches', () => {
    const { pieces, reachMm } = must(measureSpinePiece(book, 'under the old cloth'));
    expect(piece(pieces, 'spine piece').widthMm).toBeCloseTo(book.back.widthMm + 2 * book.gapMm + 2 * reachMm, 12);
    expect(piece(pieces, 'spine stiffener').widthMm).toBeCloseTo(book.back.widthMm, 12);
  });

  test('keeps all of the old spine and of the old sides but the slivers', () => {
    const { originals } = must(measureSpinePiece(book, 'under the old cloth'));
    expect(originals.map(({ part }) => part)).toEqual(['old spine', 'old cloth of the sides']);
    expect(originals[1]?.widthMm).toBeCloseTo(book.boardWidthMm - inch / 8, 12);
  });

  test('is refused when it would cover half the board', () => {
    expect(measureSpinePiece(book, 'over the board', { onBoardMm: 80 }).ok).toBe(false);
  });
});

describe('endpapers, jacket and wrapper', () => {
  test('a single folio at each end is twice as wide as the block', () => {
    expect(must(measureEndpapers(octavo, 'single folio')).pieces).toEqual([
      { part: 'endpapers', material: 'endpaper', heightMm: 8 * inch, widthMm: 10 * inch, count: 2, grain: 'height' },
    ]);
  });

  test('a hinged double folio takes four sheets and two strips, and leaves what is to be trimmed', () => {
    const { pieces } = must(measureEndpapers(octavo, 'double folio with cloth hinge', 2));
    expect(piece(pieces, 'endpapers')).toMatchObject({ count: 4, heightMm: 8 * inch + 4, widthMm: 10 * inch + 4 });
    expect(piece(pieces, 'hinges').count).toBe(2);
    expect(areaOfPieces(pieces)).toBeCloseTo(4 * (8 * inch + 4) * (10 * inch + 4) + 2 * (8 * inch + 4) * 30, 6);
  });

  test('a jacket goes round back, joints, boards and fore-edges and in by its flaps', () => {
    const book = must(measureCase(octavo));
    const jacket = must(measureJacket(book, 50));
    expect(jacket.pieces[0]?.widthMm).toBeCloseTo(book.flatWidthMm + 2 * book.boardMm + 100, 9);
    expect(measureJacket(book, 500).ok).toBe(false);
  });

  test('a wrapper needs a whole size', () => {
    expect(measureWrapper({ ...octavo, thicknessMm: 0 }).ok).toBe(false);
    expect(
      must(measureWrapper({ heightMm: 200, widthMm: 100, thicknessMm: 20 })).pieces.map((one) => [
        one.heightMm,
        one.widthMm,
      ]),
    ).toEqual([
      [200, 330],
      [480, 100],
    ]);
  });
});
