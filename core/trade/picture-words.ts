/** Where a drawing is written on: each measure as near to what it measures as it can stand, each name where there is room for it. */
import type { Point, Shape } from './drawing.ts';
import type { Area } from './picture-areas.ts';
import { type Box, boxOf, type Mark, overlap, type Words, wordsBox } from './picture-marks.ts';

type Dimension = Extract<Shape, { kind: 'dimension' }>;

/** Inner dimension lines were given this far out by the drawing; only their order is taken over. */
const tierMm = 9;

/**
 * Puts each dimension line as near to what it measures as it can stand without its line or its figure touching another's: those the
 * drawing wants near come first, and among them those whose figure fits their line.
 */
export function placeDimensions(
  shapes: readonly Shape[],
  areas: readonly Area[],
  letterMm: number,
  words: (mm: number) => string,
): Readonly<{ marks: readonly Mark[]; taken: readonly Box[] }> {
  const wanted = shapes
    .filter((shape) => shape.kind === 'dimension')
    .map((shape) => {
      const level = shape.from.y === shape.to.y;
      const figure = words(shape.mm);
      const widthMm = wordsWidth(figure, letterMm);
      const tier = Math.max(1, Math.round(Math.abs(shape.offsetMm) / tierMm));
      return { shape, level, figure, widthMm, tier, fits: widthMm + letterMm * 0.4 <= shape.mm };
    })
    .sort(
      (one, other) => one.tier - other.tier || Number(other.fits) - Number(one.fits) || one.shape.mm - other.shape.mm,
    );
  const solid = areas.map(({ points }) => boxOf(points));
  const taken: Box[] = [];
  const lines: Mark[] = [];
  const figures: Mark[] = [];
  for (const one of wanted) {
    const place = firstFree(one, letterMm, solid, taken);
    taken.push(...place.boxes);
    lines.push(...place.lines);
    figures.push(place.figure);
  }
  return { marks: [...lines, ...figures], taken };
}

type Wanted = Readonly<{ shape: Dimension; level: boolean; figure: string; widthMm: number; fits: boolean }>;

type Placed = Readonly<{ boxes: readonly Box[]; lines: readonly Mark[]; figure: Mark }>;

/** Steps outwards until nothing is touched. After so many steps only other measures count, so that there is always a place. */
function firstFree(wanted: Wanted, letterMm: number, solid: readonly Box[], taken: readonly Box[]): Placed {
  for (let step = 0; ; step++) {
    const others = step < 60 ? [...taken, ...solid] : taken;
    const ways = wanted.level
      ? [levelAt(wanted, letterMm, step)]
      : [uprightAt(wanted, letterMm, step, wanted.fits), uprightAt(wanted, letterMm, step, !wanted.fits)];
    const free = ways.find(({ boxes }) => !boxes.some((box) => others.some((other) => overlap(box, other))));
    if (free !== undefined) return free;
  }
}

/** Measured across: the figure stands over its line, whether it fits it or not. */
function levelAt({ shape, figure, widthMm }: Wanted, letterMm: number, step: number): Placed {
  const { from, to, offsetMm } = shape;
  const out = step * letterMm * 0.5;
  const y =
    offsetMm < 0 ? Math.min(from.y, to.y) - letterMm * 0.7 - out : Math.max(from.y, to.y) + letterMm * 1.6 + out;
  const tick = letterMm * 0.3;
  return placed(shape, figure, widthMm, letterMm, {
    line: [
      { x: from.x, y },
      { x: to.x, y },
    ],
    ticks: [from.x, to.x].map((x) => [
      { x, y: y - tick },
      { x, y: y + tick },
    ]),
    at: { x: (from.x + to.x) / 2, y: y - letterMm * 0.68 },
    turned: false,
  });
}

/** Measured up and down: the figure lies along its line, or stands beside it. */
function uprightAt({ shape, figure, widthMm }: Wanted, letterMm: number, step: number, along: boolean): Placed {
  const { from, to, offsetMm } = shape;
  const out = step * letterMm * 0.5;
  const right = offsetMm >= 0;
  const near = along && right ? 1.6 : 0.7;
  const x = right ? Math.max(from.x, to.x) + letterMm * near + out : Math.min(from.x, to.x) - letterMm * near - out;
  const y = (from.y + to.y) / 2;
  const tick = letterMm * 0.3;
  const aside = (right ? 1 : -1) * (widthMm / 2 + letterMm * 0.4);
  return placed(shape, figure, widthMm, letterMm, {
    line: [
      { x, y: from.y },
      { x, y: to.y },
    ],
    ticks: [from.y, to.y].map((at) => [
      { x: x - tick, y: at },
      { x: x + tick, y: at },
    ]),
    at: along ? { x: x - letterMm * 0.68, y } : { x: x + aside, y },
    turned: along,
  });
}

type Geometry = Readonly<{
  line: readonly [Point, Point];
  ticks: readonly (readonly Point[])[];
  at: Point;
  turned: boolean;
}>;

function placed(shape: Dimension, figure: string, widthMm: number, letterMm: number, geometry: Geometry): Placed {
  const { line, ticks, at, turned } = geometry;
  const says = `${shape.label}: ${figure}`;
  const mark: Mark = { kind: 'words', of: 'measure', at, turned, words: figure, widthMm, says };
  const [first, second] = line;
  return {
    boxes: [boxOf(ticks.flat()), wordsBox(mark, letterMm)],
    figure: mark,
    lines: [
      {
        kind: 'lines',
        look: 'witness',
        closed: false,
        lines: [
          [shape.from, first],
          [shape.to, second],
        ],
        says: '',
      },
      { kind: 'lines', look: 'dimension', closed: false, lines: [line, ...ticks], says },
    ],
  };
}

/** Writes each part's name into it where there is room that no later part, arrow, measure or other name takes. */
export function partNames(
  areas: readonly Area[],
  shapes: readonly Shape[],
  measures: readonly Box[],
  letterMm: number,
): readonly Mark[] {
  const arrows = shapes.flatMap((shape) => {
    if (shape.kind !== 'grain') return [];
    const { left, top, right, bottom } = boxOf([shape.from, shape.to]);
    return [{ left: left - letterMm * 0.4, top, right: right + letterMm * 0.4, bottom }];
  });
  const taken = [...measures, ...arrows];
  const names: Mark[] = [];
  for (const [index, area] of areas.entries()) {
    const others = [...taken, ...areas.slice(index + 1).map(({ points }) => boxOf(points))];
    const name = nameSpots(area, letterMm).find((mark) => {
      const room = wordsBox(mark, letterMm);
      return !others.some((other) => overlap(room, other));
    });
    if (name === undefined) continue;
    names.push(name);
    taken.push(wordsBox(name, letterMm));
  }
  return names;
}

/** Places for a part's name inside it, the best first; none where it is too small, or not a rectangle. */
function nameSpots(area: Area, letterMm: number): readonly Words[] {
  if (area.points.length !== 4) return [];
  const box = boxOf(area.points);
  const [wide, high] = [box.right - box.left, box.bottom - box.top];
  const widthMm = wordsWidth(area.label, letterMm);
  const turned = widthMm + letterMm * 0.6 > wide;
  const [along, across] = [widthMm / 2 + letterMm * 0.15, letterMm * 0.7];
  const [side, reach] = turned ? [across, along] : [along, across];
  if (2 * side > wide || 2 * reach > high) return [];
  const xs = [(box.left + box.right) / 2, box.left + side, box.right - side];
  const ys = [0.13, 0.87, 0, 1, 0.5].map((share) =>
    Math.min(Math.max(box.top + share * high, box.top + reach), box.bottom - reach),
  );
  return xs.flatMap((x) =>
    ys.map((y): Words => ({ kind: 'words', of: 'part', at: { x, y }, turned, words: area.label, widthMm, says: '' })),
  );
}

/** Room that words take: widths of the page's sans as shares of its size, each a little generous. */
function wordsWidth(words: string, letterMm: number): number {
  let sum = 0;
  for (const sign of words) sum += /[mwMW×]/.test(sign) ? 0.86 : /[ .,:;/'()il1]/.test(sign) ? 0.36 : 0.56;
  return sum * letterMm;
}
