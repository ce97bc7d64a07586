import { describe, expect, test } from 'vitest';
import { measureCase } from '../../../core/trade/case.ts';
import { drawCase } from '../../../core/trade/drawing-covers.ts';
import { drawStations } from '../../../core/trade/drawing-sheets.ts';
import { measureWords, pictureOf } from '../../../core/trade/picture.ts';
import { sewingStations } from '../../../core/trade/sewing.ts';
import { papers, tilesFor } from '../../../core/trade/tiles.ts';
import { printDrawing } from '../../../electron/print/drawing.ts';
import { readPdfPages } from './pdf-paths.ts';

type Points = readonly Readonly<{ x: number; y: number }>[];

const options = { units: 'mm', lead: 'An invented book', workshop: 'An invented bench' } as const;

function sizeOf(path: Points) {
  const xs = path.map(({ x }) => x);
  const ys = path.map(({ y }) => y);
  return { left: Math.min(...xs), wide: Math.max(...xs) - Math.min(...xs), high: Math.max(...ys) - Math.min(...ys) };
}

function near(one: number, other: number): boolean {
  return Math.abs(one - other) < 0.1;
}

describe.each(papers)('a drawing printed at its own size on %s', (paper) => {
  test('has its boards, its covering and the check bar within 0.1 mm, read back from the file’s own coordinates', async () => {
    // Boards of exactly 200 mm, so that the error over 200 mm is the error of the board.
    const made = measureCase({ heightMm: 193.65, widthMm: 130, thicknessMm: 28 }, { squareMm: 3.175 });
    if (!made.ok) throw new Error(made.refusal.sentence);
    expect(made.value.boardHeightMm).toBeCloseTo(200, 9);
    const drawing = drawCase(made.value);
    const pages = readPdfPages(await printDrawing(drawing, { ...options, paper }));
    const tiling = tilesFor(pictureOf(drawing, 3.2, measureWords('mm', true)), paper);
    expect(pages).toHaveLength(tiling.tiles.length);
    expect(pages.length).toBeGreaterThan(1);

    const step = tiling.shownWidthMm - tiling.sharedMm;
    const boardsAt = new Set<string>();
    for (const [index, page] of pages.entries()) {
      expect(near(page.widthMm, tiling.paperWidthMm) && near(page.heightMm, tiling.paperHeightMm)).toBe(true);
      expect(page.paths.some((path) => near(sizeOf(path).wide, 100) && sizeOf(path).high < 0.01)).toBe(true);
      const { row = 0, column = 0 } = tiling.tiles[index] ?? {};
      for (const path of page.paths) {
        const { left, wide, high } = sizeOf(path);
        if (path.length < 4 || !near(high, made.value.boardHeightMm) || !near(wide, made.value.boardWidthMm)) continue;
        expect(Math.abs(high - 200)).toBeLessThan(0.1);
        if (row === 0) boardsAt.add((left + column * step).toFixed(1));
      }
    }
    // Laid over each other by the strip they share, the sheets show each board at one and the same place.
    expect(boardsAt.size).toBe(2);
    const cover = made.value.pieces.find(({ part }) => part === 'cover');
    const whole = pages.flatMap(({ paths }) => paths.map(sizeOf));
    expect(whole.some(({ wide, high }) => near(wide, cover?.widthMm ?? 0) && near(high, cover?.heightMm ?? 0))).toBe(
      true,
    );
  });

  test('pricks its stations where the arithmetic has them', async () => {
    const made = sewingStations(210, 3, 'tapes');
    if (!made.ok) throw new Error(made.refusal.sentence);
    const [page] = readPdfPages(await printDrawing(drawStations(210, made.value.stations), { ...options, paper }));
    const paths = page?.paths ?? [];
    const fold = paths.find((path) => near(sizeOf(path).high, 210) && sizeOf(path).wide < 0.01);
    const head = Math.min(...(fold ?? []).map(({ y }) => y));
    for (const { fromHeadMm } of made.value.stations) {
      const mark = paths.find((path) => near(sizeOf(path).wide, 8) && near((path[0]?.y ?? 0) - head, fromHeadMm));
      expect(mark, `a mark ${fromHeadMm} mm from the head`).toBeDefined();
    }
  });
});

describe('sheets for a drawing', () => {
  test.each([
    [100, 100, 1],
    [186, 255, 1],
    [187, 100, 1],
    [362, 255, 2],
    [363, 255, 3],
    [1000, 700, 18],
  ])('%s by %s mm takes %s of A4', (widthMm, heightMm, sheets) => {
    expect(tilesFor({ leftMm: 0, topMm: 0, widthMm, heightMm }, 'A4').tiles).toHaveLength(sheets);
  });

  test('cover every point of the drawing and share a strip with each neighbour', () => {
    for (let widthMm = 50; widthMm < 1200; widthMm += 61) {
      const tiling = tilesFor({ leftMm: -7, topMm: 3, widthMm, heightMm: 400 }, 'Letter');
      const lefts = [...new Set(tiling.tiles.map(({ leftMm }) => leftMm))].sort((a, b) => a - b);
      expect(lefts[0]).toBeLessThanOrEqual(-7 + 1e-9);
      expect((lefts.at(-1) ?? 0) + tiling.shownWidthMm).toBeGreaterThanOrEqual(widthMm - 7 - 1e-9);
      for (const [index, left] of lefts.slice(1).entries()) {
        expect((lefts[index] ?? 0) + tiling.shownWidthMm - left).toBeCloseTo(tiling.sharedMm, 9);
      }
    }
  });
});
