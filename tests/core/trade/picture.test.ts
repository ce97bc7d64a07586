import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Drawing } from '../../../core/trade/drawing.ts';
import { drawingFile } from '../../../core/trade/drawing-file.ts';
import { measureWords, pictureOf } from '../../../core/trade/picture.ts';
import { type Mark, wordsBox } from '../../../core/trade/picture-marks.ts';
import { calculations } from '../../../core/trade/reckoner.ts';

const seed = 20_261_125;

/** Letters all as wide as each other, so that the picture is the same wherever it is drawn. */
const letter = {
  widths: Object.fromEntries([...'ABCDEFGHIJKLMNOPQRSTUVWXYZ '].map((sign) => [sign, 0.6])),
  capHeight: 0.7,
};

const drawn = calculations.filter(({ id }) => drawingOf(id, {}) !== undefined);

function drawingOf(id: string, typed: Readonly<Record<string, string>>): Drawing | undefined {
  const answer = calculations.find((one) => one.id === id)?.reckon(typed, { unit: 'mm', glyphs: letter });
  return answer?.ok ? answer.value.drawing : undefined;
}

type Box = ReturnType<typeof wordsBox>;
const isWords = (mark: Mark) => mark.kind === 'words';

function touches(one: Box, other: Box): boolean {
  const thin = 1e-5;
  return (
    one.left + thin < other.right &&
    other.left + thin < one.right &&
    one.top + thin < other.bottom &&
    other.top + thin < one.bottom
  );
}

describe('a drawing laid out to be read', () => {
  test.each(drawn.map(({ title, id }) => [title, id] as const))(
    `%s writes no figure over another, nor over another’s line, whatever the size of book and letters, seed ${seed}`,
    (_, id) => {
      const size = fc.record({
        height: fc.integer({ min: 90, max: 420 }),
        width: fc.integer({ min: 70, max: 300 }),
        thickness: fc.integer({ min: 6, max: 90 }),
      });
      fc.assert(
        fc.property(size, fc.double({ min: 2, max: 16, noNaN: true }), fc.boolean(), (book, letterMm, both) => {
          const typed = Object.fromEntries(Object.entries(book).map(([side, mm]) => [side, `${mm} mm`]));
          const drawing = drawingOf(id, typed);
          if (drawing === undefined) return;
          const { marks, leftMm, topMm, widthMm, heightMm } = pictureOf(drawing, letterMm, measureWords('mm', both));
          const words = marks.filter(isWords);
          const measures = drawing.shapes.filter(({ kind }) => kind === 'dimension').length;
          expect(words.filter(({ of }) => of === 'measure')).toHaveLength(measures);
          for (const [index, one] of words.entries()) {
            const box = wordsBox(one, letterMm);
            expect(box.left).toBeGreaterThan(leftMm);
            expect(box.right).toBeLessThan(leftMm + widthMm);
            expect(box.top).toBeGreaterThan(topMm);
            expect(box.bottom).toBeLessThan(topMm + heightMm);
            for (const other of words.slice(index + 1)) {
              expect(touches(box, wordsBox(other, letterMm)), `${one.words} over ${other.words}`).toBe(false);
            }
            for (const mark of marks) {
              if (mark.kind !== 'lines' || mark.look !== 'dimension' || mark.says === one.says) continue;
              for (const [from, to] of mark.lines) {
                if (from === undefined || to === undefined) continue;
                const line = {
                  left: Math.min(from.x, to.x),
                  right: Math.max(from.x, to.x),
                  top: Math.min(from.y, to.y),
                  bottom: Math.max(from.y, to.y),
                };
                expect(touches(box, line), `${one.words} over the line of ${mark.says}`).toBe(false);
              }
            }
          }
        }),
        { seed, numRuns: 25 },
      );
    },
  );

  test('hatching lies inside the outline it marks, the hollow of a back included', () => {
    const drawing = drawingOf('back', {});
    if (drawing === undefined) throw new Error('not drawn');
    const { marks } = pictureOf(drawing, 3, measureWords('mm', false));
    const outline = marks.find((mark) => mark.kind === 'lines' && mark.look === 'original');
    const hatch = marks.find((mark) => mark.kind === 'lines' && mark.look === 'hatch');
    if (outline?.kind !== 'lines' || hatch?.kind !== 'lines') throw new Error('not drawn');
    const points = outline.lines[0] ?? [];
    expect(hatch.lines.length).toBeGreaterThan(10);
    for (const [from, to] of hatch.lines) {
      if (from === undefined || to === undefined) throw new Error('half a line');
      expect(inside(points, { x: (from.x + to.x) / 2, y: (from.y + to.y) / 2 })).toBe(true);
    }
  });
});

/** Pictures to look at lie in fixtures/drawings; `npx vitest run -u tests/core/trade/picture.test.ts` draws them anew. */
describe('the picture file', () => {
  test.each(drawn.map(({ title, id }) => [title, id] as const))('%s is drawn as it was', async (_, id) => {
    const drawing = drawingOf(id, {});
    if (drawing === undefined) throw new Error('not drawn');
    await expect(drawingFile(drawing, measureWords('mm', true))).toMatchFileSnapshot(
      `../../../fixtures/drawings/${id}.svg`,
    );
  });

  test('says its own size in real millimetres and escapes what a title may hold', () => {
    const file = drawingFile(
      {
        title: 'A & B < C',
        widthMm: 1,
        heightMm: 1,
        loose: [],
        shapes: [{ kind: 'grain', from: { x: 0, y: 0 }, to: { x: 1, y: 1 } }],
      },
      measureWords('mm', false),
    );
    expect(file).toContain('<title>A &amp; B &lt; C</title>');
    const case_ = drawingOf('case', {});
    if (case_ === undefined) throw new Error('not drawn');
    const [, width, height, view] =
      /width="([\d.]+)mm" height="([\d.]+)mm" viewBox="([^"]+)"/.exec(drawingFile(case_, measureWords('mm', true))) ??
      [];
    expect(view?.split(' ').slice(2)).toEqual([width, height]);
  });
});

function inside(points: readonly Readonly<{ x: number; y: number }>[], { x, y }: Readonly<{ x: number; y: number }>) {
  let within = false;
  for (const [index, from] of points.entries()) {
    const to = points[(index + 1) % points.length] ?? from;
    if (from.y > y !== to.y > y && x < from.x + ((y - from.y) / (to.y - from.y)) * (to.x - from.x)) within = !within;
  }
  return within;
}
