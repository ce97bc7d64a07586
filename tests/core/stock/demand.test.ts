import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { drawOf, onHandByKind, piecesOfSheet, usualWasteFactor } from '../../../core/stock/demand.ts';
import { cutNeed, material } from './cupboard.ts';

const board = material('board', { kind: 'greyboard' });

describe('pieces out of a sheet', () => {
  test('run with the grain: 1000 × 700 long grain gives 4 × 4 of 225 × 150, 3 rows the wrong way are not counted', () => {
    const cut = { heightMm: 225, widthMm: 150, grain: 'along height' } as const;
    expect(piecesOfSheet(cut, board)).toBe(16);
    expect(piecesOfSheet(cut, { ...board, grain: 'short' })).toBe(18);
    expect(piecesOfSheet({ ...cut, grain: 'any' }, board)).toBe(18);
  });

  test('are none where one side is a tenth too long', () => {
    const cut = { heightMm: 1000.1, widthMm: 100, grain: 'along height' } as const;
    expect(piecesOfSheet(cut, board)).toBe(0);
  });

  test('never cover more than the sheet, and each row and column counted by laying them out comes to as many (seed 7)', () => {
    const side = fc.integer({ min: 20, max: 1200 });
    const grain = fc.constantFrom('long', 'short', null);
    fc.assert(
      fc.property(side, side, side, side, grain, fc.boolean(), (height, width, long, other, runs, free) => {
        const sheet = { sheetHeightMm: long, sheetWidthMm: other, grain: runs };
        const cut = { heightMm: height, widthMm: width, grain: free ? 'any' : 'along height' } as const;
        const count = piecesOfSheet(cut, sheet);
        expect(count * height * width).toBeLessThanOrEqual(long * other);
        expect(count).toBe(laidOut(cut, sheet));
      }),
      { seed: 7, numRuns: 300 },
    );
  });
});

/** Counts by laying pieces down one by one, the grain of the sheet along x. */
function laidOut(
  cut: Readonly<{ heightMm: number; widthMm: number; grain: 'any' | 'along height' }>,
  sheet: Readonly<{ sheetHeightMm: number; sheetWidthMm: number; grain: 'long' | 'short' | null }>,
): number {
  const sides = [sheet.sheetHeightMm, sheet.sheetWidthMm].toSorted((a, b) => b - a) as [number, number];
  const [x, y] = sheet.grain === 'short' ? [sides[1], sides[0]] : sides;
  const lay = (alongX: number, alongY: number) => {
    let pieces = 0;
    for (let left = 0; left + alongX <= x; left += alongX) {
      for (let top = 0; top + alongY <= y; top += alongY) pieces += 1;
    }
    return pieces;
  };
  const right = lay(cut.heightMm, cut.widthMm);
  return cut.grain === 'any' || sheet.grain === null ? Math.max(right, lay(cut.widthMm, cut.heightMm)) : right;
}

describe('a draw', () => {
  test('of two boards is two sixteenths of a sheet, and says how many come out of one', () => {
    const need = cutNeed('greyboard', { heightMm: 225, widthMm: 150, grain: 'along height', count: 2 });
    const { draw } = drawOf(need, [{ material: board, onHand: 5 }]);
    expect(draw?.quantity).toBeCloseTo(2 / 16, 12);
    expect(draw?.working).toContain('16 out of a sheet of 1000 × 700 mm');
  });

  test('from a roll is its length by how many lie side by side, the warp along the roll', () => {
    const cloth = material('cloth', { kind: 'book cloth', unit: 'm', sheetHeightMm: null, sheetWidthMm: 1060 });
    const need = cutNeed('book cloth', { heightMm: 260, widthMm: 380, grain: 'along height', count: 1 });
    const { draw } = drawOf(need, [{ material: cloth, onHand: 2 }]);
    expect(draw?.quantity).toBeCloseTo(0.26 / 2, 12);
    const wide = cutNeed('book cloth', { heightMm: 260, widthMm: 1100, grain: 'along height', count: 1 });
    expect(drawOf(wide, [{ material: cloth, onHand: 2 }])).toMatchObject({ draw: null });
  });

  test('of an area whose cuts are not known is by area, with the waste factor named', () => {
    const need = { kind: 'greyboard', unit: 'm2', quantity: 1.4, cut: null, working: '' } as const;
    const { draw } = drawOf(need, [{ material: board, onHand: 5 }]);
    expect(draw?.quantity).toBeCloseTo((1.4 * usualWasteFactor) / 0.7, 12);
    expect(draw?.working).toContain('for waste');
  });

  test('of glue by mass from a bottle by volume goes by its density', () => {
    const glue = material('PVA', { kind: 'PVA adhesive', unit: 'ml' });
    const need = { kind: 'PVA adhesive', unit: 'g', quantity: 109, cut: null, working: '' } as const;
    expect(drawOf(need, [{ material: glue, onHand: 0 }]).draw?.quantity).toBeCloseTo(100, 9);
  });

  test('falls on the one with most on hand that fits, and on the next where the piece is too large for it', () => {
    const small = material('small', { kind: 'greyboard', sheetHeightMm: 300, sheetWidthMm: 200 });
    const cupboard = [
      { material: small, onHand: 40 },
      { material: board, onHand: 3 },
    ];
    const need = (heightMm: number) =>
      cutNeed('greyboard', { heightMm, widthMm: 150, grain: 'along height', count: 1 });
    expect(drawOf(need(250), cupboard).draw?.materialId).toBe('small');
    expect(drawOf(need(400), cupboard).draw?.materialId).toBe('board');
    const nowhere = drawOf(need(1200), cupboard);
    expect(nowhere.draw).toBeNull();
    expect(nowhere.remark).toContain('no sheet or roll of it holds a piece of 1 × 1200 × 150 mm');
  });

  test('of book cloth falls on the colour nearest in words before the fullest roll', () => {
    const roll = { kind: 'book cloth', unit: 'm', sheetHeightMm: null, sheetWidthMm: 1000 } as const;
    const cupboard = ['dark green', 'maroon', 'dark blue'].map((colour, index) => ({
      material: material(colour, { ...roll, colour }),
      onHand: 9 - index,
    }));
    const need = cutNeed('book cloth', { heightMm: 200, widthMm: 80, grain: 'along height', count: 1 });
    const chosen = (colour: string) => drawOf(need, cupboard, { colour }).draw?.materialId;
    expect(chosen('faded crimson')).toBe('maroon');
    expect(chosen('navy')).toBe('dark blue');
    expect(chosen('')).toBe('dark green');
  });

  test('of a kind nobody stocks says so instead of counting nothing', () => {
    const need = { kind: 'headband', unit: 'm', quantity: 0.1, cut: null, working: '' } as const;
    expect(drawOf(need, [{ material: board, onHand: 5 }])).toEqual({
      draw: null,
      remark: 'No headband is in the cupboard.',
    });
  });
});

describe('what is on hand, as treatments ask for it', () => {
  test('sheets are square metres less a quarter of the area taken for waste; grams stay grams', () => {
    const paste = material('paste', { kind: 'wheat starch', unit: 'g', sheetHeightMm: null, sheetWidthMm: null });
    const there = onHandByKind([
      { material: board, onHand: 2 },
      { material: { ...board, id: 'more' }, onHand: 0.5 },
      { material: paste, onHand: 400 },
    ]);
    const area = ((board.sheetHeightMm ?? 0) * (board.sheetWidthMm ?? 0)) / 1e6;
    expect(there).toContainEqual({ kind: 'wheat starch', unit: 'g', quantity: 400 });
    expect(there.find((one) => one.kind === 'greyboard')?.quantity).toBeCloseTo((2.5 * area) / usualWasteFactor, 9);
  });

  test('a kind of which one material does not convert is left out, not counted short', () => {
    const loose = material('loose', { kind: 'greyboard', unit: 'sheet', sheetHeightMm: null, sheetWidthMm: null });
    expect(
      onHandByKind([
        { material: board, onHand: 2 },
        { material: loose, onHand: 9 },
      ]),
    ).toEqual([]);
  });
});
