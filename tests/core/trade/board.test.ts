import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Result } from '../../../core/result.ts';
import {
  basisWeightFromGsm,
  boardByNumber,
  boardCalipersThou,
  boardForBook,
  caliperFromBulk,
  dampGrowth,
  greyboardThickness,
  gsmFromBasisWeight,
  type PaperCategory,
  paperOrBoard,
  sheetMass,
} from '../../../core/trade/board.ts';
import { mmPerInch } from '../../../core/units/lengths.ts';

const seed = 20_261_125;

function must<T>(result: Result<T>): T {
  if (!result.ok) throw new Error(result.refusal.sentence);
  return result.value;
}

describe('basis weight', () => {
  test.each([
    [20, 'bond', 75.19],
    [24, 'bond', 90.23],
    [28, 'bond', 105.27],
    [50, 'text', 74.01],
    [60, 'text', 88.81],
    [70, 'text', 103.61],
    [80, 'text', 118.41],
    [90, 'text', 133.21],
    [50, 'cover', 135.2],
    [65, 'cover', 175.77],
    [80, 'cover', 216.33],
    [100, 'cover', 270.41],
    [67, 'bristol', 146.92],
    [110, 'index', 198.88],
  ] as const)('%d lb %s is %d g/m² (pounds per 500 sheets of the basic size)', (pounds, category, gsm) => {
    expect(must(gsmFromBasisWeight(pounds, category))).toBeCloseTo(gsm, 1);
  });

  test.each([
    [28, 'bond', 105.3],
    [90, 'text', 133.218],
    [100, 'cover', 270.42],
    [24, 'bond', 90],
    [50, 'cover', 135],
    [80, 'text', 118],
  ] as const)(
    '%d lb %s agrees with the printed %d g/m² within half a per cent (Sylvamo, Times Printers, printer-paper guide)',
    (pounds, category, printed) => {
      expect(Math.abs(must(gsmFromBasisWeight(pounds, category)) / printed - 1)).toBeLessThan(0.005);
    },
  );

  test.each([
    ['bond', 374],
    ['text', 950],
    ['cover', 520],
    ['index', 777.75],
    ['bristol', 641.25],
    ['tag', 864],
  ] as const)(
    'the factor of %s is 1406.14 ÷ %d, and within 0.05 per cent of the trade’s 1406.5 ÷ area (Sylvamo technical page)',
    (category, area) => {
      const factor = must(gsmFromBasisWeight(1, category));
      expect(factor * area).toBeCloseTo(1406.14, 1);
      expect(Math.abs((factor * area) / 1406.5 - 1)).toBeLessThan(0.0005);
    },
  );

  test(`there and back is the same weight, seed ${seed}`, () => {
    const category = fc.constantFrom<PaperCategory>('bond', 'text', 'cover', 'index', 'bristol', 'tag');
    fc.assert(
      fc.property(fc.double({ min: 1, max: 400, noNaN: true }), category, (pounds, kind) => {
        expect(must(basisWeightFromGsm(must(gsmFromBasisWeight(pounds, kind)), kind))).toBeCloseTo(pounds, 9);
      }),
      { seed },
    );
  });
});

describe('paper', () => {
  test('80 g/m² at a bulk of 1.25 is 100 micrometres (ISO 534 relation)', () => {
    expect(must(caliperFromBulk(80, 1.25))).toBeCloseTo(0.1, 12);
    expect(caliperFromBulk(80, 12.5).ok).toBe(false);
  });

  test('an A4 sheet of 80 g/m² weighs 4.99 g (ISO 216 sides)', () => {
    expect(must(sheetMass(80, 210, 297))).toBeCloseTo(4.99, 2);
  });

  test.each([
    [0.012, 'board'],
    [0.02, 'board'],
    [0.0059, 'paper'],
    [0.006, 'mostly called paper'],
    [0.009, 'mostly called paper'],
  ] as const)('%d in is %s (Roberts & Etherington 1982, "board")', (inches, name) => {
    expect(paperOrBoard(inches * mmPerInch)).toBe(name);
  });
});

describe('damp paper', () => {
  test('0.30 per cent of 210 mm across the grain is 0.63 mm, 0.15 per cent of 297 mm along it 0.45 mm; both lie in the range', () => {
    const across = must(dampGrowth(210, 'across the grain'));
    const along = must(dampGrowth(297, 'along the grain'));
    expect((across.fromMm + across.toMm) / 2).toBeCloseTo(0.63, 2);
    expect((along.fromMm + along.toMm) / 2).toBeCloseTo(0.45, 2);
  });

  test('the same length grows more across the grain than along it (R. P. Grant 2000; Roberts & Etherington 1982)', () => {
    expect(must(dampGrowth(100, 'across the grain')).fromMm).toBeGreaterThanOrEqual(
      must(dampGrowth(100, 'along the grain')).toMm,
    );
  });
});

describe('board', () => {
  test.each([
    [12, 4.167, 4882, 5.42],
    [16, 3.125, 3662, 4.07],
    [18, 2.778, 3255, 3.62],
    [20, 2.5, 2929, 3.25],
    [25, 2, 2344, 2.6],
    [30, 1.667, 1953, 2.17],
    [40, 1.25, 1465, 1.63],
  ])(
    'No. %d is %d lb a sheet and %d g/m² (Bailey 1916, "Boards"), %d mm at an assumed density',
    (number, pounds, gsm, mm) => {
      const board = must(boardByNumber(number));
      expect(board.poundsPerSheet).toBeCloseTo(pounds, 3);
      expect(Math.abs(board.gsm - gsm)).toBeLessThanOrEqual(1);
      expect(board.thicknessMm).toBeCloseTo(mm, 1);
    },
  );

  test('numbers that were not made are refused', () => {
    expect(boardByNumber(11).ok).toBe(false);
    expect(boardByNumber(71).ok).toBe(false);
  });

  test.each([
    [59, 1.499],
    [70, 1.778],
    [80, 2.032],
    [88, 2.235],
    [98, 2.489],
    [123, 3.124],
  ])('.%d in board is %d mm (25.4 mm to the inch; the series from memory)', (thou, mm) => {
    expect(boardCalipersThou).toContain(thou);
    expect((thou / 1000) * mmPerInch).toBeCloseTo(mm, 3);
  });

  test.each([
    [615, 1.0],
    [775, 1.2],
    [970, 1.5],
    [1160, 1.8],
    [1290, 2.0],
    [1420, 2.2],
    [1581, 2.45],
    [1645, 2.5],
  ])('greyboard of %d g/m² is about %d mm (deprintedbox.com list and formula)', (gsm, mm) => {
    expect(Math.abs(must(greyboardThickness(gsm)) - mm)).toBeLessThan(0.06);
  });

  test.each([1845, 2150, 2460])(
    'greyboard of %d g/m² is refused: the same list leaves its own formula there',
    (gsm) => {
      const asked = greyboardThickness(gsm);
      expect(!asked.ok && asked.refusal.sentence).toMatch(/measure the board/);
    },
  );

  test(`a taller or a thicker book never gets a thinner board, seed ${seed}`, () => {
    const mm = fc.double({ min: 50, max: 600, noNaN: true });
    fc.assert(
      fc.property(
        mm,
        fc.double({ min: 2, max: 100, noNaN: true }),
        fc.double({ min: 0, max: 100, noNaN: true }),
        (heightMm, thicknessMm, more) => {
          const one = boardForBook({ heightMm, widthMm: 100, thicknessMm }).thicknessMm;
          expect(
            boardForBook({ heightMm: heightMm + more, widthMm: 100, thicknessMm }).thicknessMm,
          ).toBeGreaterThanOrEqual(one);
          expect(
            boardForBook({ heightMm, widthMm: 100, thicknessMm: thicknessMm + more }).thicknessMm,
          ).toBeGreaterThanOrEqual(one);
        },
      ),
      { seed },
    );
  });
});
