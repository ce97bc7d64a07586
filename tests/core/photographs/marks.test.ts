import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { drawMark, markKinds, mmPerPixel, type PictureMark } from '../../../core/photographs/marks.ts';

const spot = fc.record({ x: fc.integer({ min: 0, max: 4000 }), y: fc.integer({ min: 0, max: 4000 }) });

describe('a scale', () => {
  test('follows from a line of known length: 3-4-5, 500 pixels long, 100 mm', () => {
    const line = { from: { x: 100, y: 100 }, to: { x: 400, y: 500 }, lengthMm: 100 };
    expect(mmPerPixel(line)).toEqual({ ok: true, value: 0.2 });
  });

  test('does not depend on which end is first, and doubles with the length (seed 11)', () => {
    fc.assert(
      fc.property(spot, spot, fc.double({ min: 1, max: 900, noNaN: true }), (from, to, lengthMm) => {
        const one = mmPerPixel({ from, to, lengthMm });
        expect(mmPerPixel({ from: to, to: from, lengthMm })).toEqual(one);
        const twice = mmPerPixel({ from, to, lengthMm: lengthMm * 2 });
        if (one.ok && twice.ok) expect(twice.value).toBeCloseTo(one.value * 2, 9);
        expect(one.ok).toBe(Math.hypot(to.x - from.x, to.y - from.y) >= 100);
      }),
      { seed: 11, numRuns: 200 },
    );
  });

  test.each([0, -3, Number.NaN])('is refused for a line of %d mm', (lengthMm) => {
    expect(mmPerPixel({ from: { x: 0, y: 0 }, to: { x: 900, y: 0 }, lengthMm })).toMatchObject({ ok: false });
  });
});

describe('a mark', () => {
  test('of any kind lies where it was drawn, whichever corner came first (seed 12)', () => {
    fc.assert(
      fc.property(fc.constantFrom(...markKinds), spot, spot, (kind, from, to) => {
        const mark: PictureMark = { kind, from, to, words: 'here' };
        const { paths, ellipse, words } = drawMark(mark, 4);
        expect(words?.text).toBe('here');
        const [left, right] = [Math.min(from.x, to.x), Math.max(from.x, to.x)];
        const [top, bottom] = [Math.min(from.y, to.y), Math.max(from.y, to.y)];
        if (kind === 'box' || kind === 'ring') {
          expect(drawMark({ ...mark, from: to, to: from }, 4)).toEqual({ paths, ellipse, words });
        }
        if (kind === 'box') {
          const xs = paths.flat().map(({ x }) => x);
          const ys = paths.flat().map(({ y }) => y);
          expect([Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)]).toEqual([
            left,
            right,
            top,
            bottom,
          ]);
        }
        if (ellipse !== null) {
          const { centre, rx, ry } = ellipse;
          expect([centre.x - rx, centre.x + rx, centre.y - ry, centre.y + ry]).toEqual([left, right, top, bottom]);
        }
        if (kind === 'arrow') {
          expect(paths[0]).toEqual([from, to]);
          // Both barbs end at the head, equally long, and lie behind it.
          const [one, head, other] = paths[1]!;
          expect(head).toEqual(to);
          const far = (barb: typeof head) => Math.hypot(barb!.x - to.x, barb!.y - to.y);
          expect(far(one)).toBeCloseTo(far(other), 6);
        }
      }),
      { seed: 12, numRuns: 200 },
    );
  });

  test('without words says none', () => {
    const mark: PictureMark = { kind: 'ring', from: { x: 0, y: 0 }, to: { x: 9, y: 9 }, words: '  ' };
    expect(drawMark(mark, 1).words).toBe(null);
  });
});
