import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Result } from '../../../core/result.ts';
import { measureBack, measureLinings } from '../../../core/trade/back.ts';
import { type CaseStyle, measureCase } from '../../../core/trade/case.ts';
import type { Drawing, Point, Shape } from '../../../core/trade/drawing.ts';
import {
  drawBackSection,
  drawCase,
  drawLinings,
  drawPanels,
  drawSpinePiece,
} from '../../../core/trade/drawing-covers.ts';
import { drawPieces, drawStations } from '../../../core/trade/drawing-sheets.ts';
import { dividePanels } from '../../../core/trade/panels.ts';
import { measureEndpapers, measureSpinePiece } from '../../../core/trade/reback.ts';
import { sewingStations } from '../../../core/trade/sewing.ts';

const seed = 20_261_125;

function must<T>(result: Result<T>): T {
  if (!result.ok) throw new Error(result.refusal.sentence);
  return result.value;
}

const book = fc.record({
  heightMm: fc.double({ min: 120, max: 400, noNaN: true }),
  widthMm: fc.double({ min: 90, max: 300, noNaN: true }),
  thicknessMm: fc.double({ min: 12, max: 80, noNaN: true }),
});
const style = fc.constantFrom<CaseStyle>('full', 'quarter', 'half');

function drawingsOf(
  size: { heightMm: number; widthMm: number; thicknessMm: number },
  kind: CaseStyle,
): readonly Drawing[] {
  const measures = must(measureCase(size, { style: kind }));
  return [
    drawCase(measures),
    drawSpinePiece(measures, must(measureSpinePiece(measures, 'under the old cloth'))),
    drawSpinePiece(measures, must(measureSpinePiece(measures, 'over the board'))),
    drawLinings(
      size.heightMm,
      measures.back,
      must(measureLinings(size, measures.back.widthMm, { hollow: 'two on, two off' })),
    ),
    drawBackSection(measures.back, size.thicknessMm),
    drawBackSection(must(measureBack(size.thicknessMm, 'flat', 2)), size.thicknessMm),
    drawPanels(measures.back.widthMm, must(dividePanels(size.heightMm, 5))),
    drawStations(size.heightMm, must(sewingStations(size.heightMm, 3, 'cords')).stations),
    drawPieces('Endpapers', must(measureEndpapers(size, 'double folio with cloth hinge')).pieces),
  ];
}

function measureCaseCut(style: CaseStyle): number {
  return must(measureCase({ heightMm: 200, widthMm: 130, thicknessMm: 25 }, { style })).sideCutMm;
}

function pointsOf(shape: Shape): readonly Point[] {
  if (shape.kind === 'area' || shape.kind === 'line') return shape.points;
  if (shape.kind === 'grain') return [shape.from, shape.to];
  const level = Math.abs(shape.from.y - shape.to.y) < 1e-9;
  return [shape.from, shape.to].flatMap(({ x, y }) => [
    { x, y },
    level ? { x, y: y + shape.offsetMm } : { x: x + shape.offsetMm, y },
  ]);
}

function areaOf(points: readonly Point[]): number {
  let twice = 0;
  for (const [index, { x, y }] of points.entries()) {
    const next = points[(index + 1) % points.length] ?? { x: 0, y: 0 };
    twice += x * next.y - next.x * y;
  }
  return Math.abs(twice) / 2;
}

describe('drawings to scale', () => {
  test(`every point lies inside the frame and every dimension says what it spans, seed ${seed}`, () => {
    fc.assert(
      fc.property(book, style, (size, kind) => {
        for (const drawing of drawingsOf(size, kind)) {
          for (const shape of drawing.shapes) {
            for (const { x, y } of pointsOf(shape)) {
              expect(x).toBeGreaterThan(0);
              expect(y).toBeGreaterThan(0);
              expect(x).toBeLessThan(drawing.widthMm);
              expect(y).toBeLessThan(drawing.heightMm);
            }
            if (shape.kind !== 'dimension') continue;
            const spanned = Math.hypot(shape.to.x - shape.from.x, shape.to.y - shape.from.y);
            expect(shape.mm).toBeCloseTo(spanned, 6);
            expect(shape.mm).toBeGreaterThan(0);
          }
        }
      }),
      { seed, numRuns: 30 },
    );
  });

  test(`the parts of a case are drawn as large as they are to be cut, seed ${seed}`, () => {
    fc.assert(
      fc.property(book, style, (size, kind) => {
        const measures = must(measureCase(size, { style: kind }));
        const drawn = drawCase(measures).shapes.flatMap((shape) =>
          shape.kind === 'area' ? [areaOf(shape.points)] : [],
        );
        const cut =
          measures.pieces.reduce((sum, piece) => sum + piece.heightMm * piece.widthMm * piece.count, 0) -
          2 * measures.sideCutMm ** 2;
        expect(drawn.reduce((sum, mm2) => sum + mm2, 0)).toBeCloseTo(cut, 4);
      }),
      { seed, numRuns: 50 },
    );
  });

  test(`a case is the same from left and right, seed ${seed}`, () => {
    fc.assert(
      fc.property(book, style, (size, kind) => {
        const areas = drawCase(must(measureCase(size, { style: kind }))).shapes.flatMap((shape) =>
          shape.kind === 'area' ? [shape] : [],
        );
        const left = Math.min(...areas.flatMap(({ points }) => points.map(({ x }) => x)));
        const right = Math.max(...areas.flatMap(({ points }) => points.map(({ x }) => x)));
        const spans = (mirror: boolean) =>
          areas
            .map(({ points, label }) => {
              const xs = points.map(({ x }) => (mirror ? left + right - x : x));
              return `${label} ${Math.min(...xs).toFixed(4)} ${Math.max(...xs).toFixed(4)}`;
            })
            .sort();
        expect(spans(true)).toEqual(spans(false));
      }),
      { seed, numRuns: 50 },
    );
  });

  test('the sides of a half binding lie over the long edge of each corner by the overlap, square to it', () => {
    const habits = { style: 'half', sideOverlapMm: 3, turnInMm: 19 } as const;
    const measures = must(measureCase({ heightMm: 200, widthMm: 130, thicknessMm: 25 }, habits));
    const areas = drawCase(measures).shapes.flatMap((shape) => (shape.kind === 'area' ? [shape] : []));
    const corner = areas.find(({ label }) => label === 'corner');
    const side = areas.find(({ label }) => label === 'side');
    if (corner === undefined || side === undefined) throw new Error('not drawn');
    // Both slant lines have x + y constant at the upper left: a triangle's at its ends, the side's between its first and last point.
    const [tip] = corner.points;
    const slant = Math.max(...corner.points.map(({ x, y }) => x + y));
    const cut = Math.min(...side.points.map(({ x, y }) => x + y));
    expect((slant - cut) / Math.SQRT2).toBeCloseTo(3, 9);
    expect(cut).toBeGreaterThan((tip?.x ?? 0) + (tip?.y ?? 0));
    expect(measureCaseCut('quarter')).toBe(0);
  });

  test('a corner cut passes one and a half boards outside the board’s corner', () => {
    const measures = must(measureCase({ heightMm: 200, widthMm: 130, thicknessMm: 25 }, { boardMm: 2, turnInMm: 20 }));
    const { shapes } = drawCase(measures);
    const board = shapes.find((shape) => shape.kind === 'area' && shape.label === 'board');
    const cut = shapes.find((shape) => shape.kind === 'line' && shape.label === 'corner cut');
    if (board?.kind !== 'area' || cut?.kind !== 'line') throw new Error('not drawn');
    const corner = board.points[0] ?? { x: 0, y: 0 };
    const [one, other] = cut.points;
    if (one === undefined || other === undefined) throw new Error('not a line');
    const away =
      Math.abs((other.x - one.x) * (one.y - corner.y) - (one.x - corner.x) * (other.y - one.y)) /
      Math.hypot(other.x - one.x, other.y - one.y);
    expect(away).toBeCloseTo(3, 9);
  });

  test('the drawn round is as high as its rise and as wide as its chord', () => {
    const back = must(measureBack(30, 'rounded', 2.5, 120));
    const drawn = drawBackSection(back, 30).shapes.find((shape) => shape.kind === 'area');
    if (drawn?.kind !== 'area') throw new Error('not drawn');
    const arc = drawn.points.slice(0, 25);
    expect((arc.at(-1)?.x ?? 0) - (arc[0]?.x ?? 0)).toBeCloseTo(back.chordMm, 9);
    expect((arc[0]?.y ?? 0) - (arc[12]?.y ?? 0)).toBeCloseTo(back.riseMm, 9);
    let length = 0;
    for (const [index, { x, y }] of arc.entries()) {
      const before = arc[index - 1];
      if (before !== undefined) length += Math.hypot(x - before.x, y - before.y);
    }
    expect(Math.abs(length / back.widthMm - 1)).toBeLessThan(0.001);
  });

  test('in a reback the old cloth and the old spine are marked as the book’s own, the spine piece as new', () => {
    const measures = must(measureCase({ heightMm: 200, widthMm: 130, thicknessMm: 25 }));
    const { shapes } = drawSpinePiece(measures, must(measureSpinePiece(measures, 'over the board')));
    const roles = Object.fromEntries(
      shapes.flatMap((shape) => (shape.kind === 'area' ? [[shape.label, shape.role]] : [])),
    );
    expect(roles).toMatchObject({ 'old side': 'original', 'old spine': 'original', 'spine piece': 'new' });
  });
});
