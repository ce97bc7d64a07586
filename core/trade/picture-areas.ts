/** Parts as marks: outlines by their material, the original hatched, grain arrows. */
import type { Point, Shape } from './drawing.ts';
import type { Look, Mark } from './picture-marks.ts';

export type Area = Extract<Shape, { kind: 'area' }>;

export function areaMarks(area: Area, letterMm: number): readonly Mark[] {
  const look = areaLook(area);
  const outline: Mark = { kind: 'lines', look, closed: true, lines: [area.points], says: area.label };
  if (look !== 'original') return [outline];
  return [
    outline,
    { kind: 'lines', look: 'hatch', closed: false, lines: hatch(area.points, letterMm * 0.7), says: '' },
  ];
}

function areaLook({ role, material }: Area): Look {
  if (role === 'original') return 'original';
  if (role === 'beneath') return 'beneath';
  if (material === 'board' || material === 'stiffener') return 'board';
  if (material === 'mull' || material === 'kraft') return 'lining';
  return material === 'covering cloth' || material === 'covering leather' ? 'new' : 'paper';
}

/** Lines at 45 degrees inside an outline of any shape: where each crosses the outline, in pairs. */
function hatch(points: readonly Point[], apartMm: number): readonly (readonly Point[])[] {
  const lines: (readonly Point[])[] = [];
  const sums = points.map(({ x, y }) => x + y);
  const [first, last] = [Math.min(...sums), Math.max(...sums)];
  // As many as anyone can tell apart, however small the letters.
  const step = Math.max(apartMm * Math.SQRT2, (last - first) / 400);
  for (let sum = first + step / 2; sum < last; sum += step) {
    const crossings: Point[] = [];
    for (const [index, from] of points.entries()) {
      const to = points[(index + 1) % points.length] ?? from;
      const [before, after] = [from.x + from.y - sum, to.x + to.y - sum];
      if (before < 0 === after < 0) continue;
      const share = before / (before - after);
      crossings.push({ x: from.x + share * (to.x - from.x), y: from.y + share * (to.y - from.y) });
    }
    crossings.sort((one, other) => one.x - other.x);
    for (let pair = 0; pair + 1 < crossings.length; pair += 2) lines.push(crossings.slice(pair, pair + 2));
  }
  return lines;
}

export function grainMark(from: Point, to: Point, letterMm: number): Mark {
  const length = Math.hypot(to.x - from.x, to.y - from.y) || 1;
  const [dx, dy] = [(to.x - from.x) / length, (to.y - from.y) / length];
  const reach = Math.min(length * 0.35, letterMm * 4);
  const barb = Math.min(letterMm * 0.6, reach);
  const middle = { x: (from.x + to.x) / 2, y: (from.y + to.y) / 2 };
  const along = (by: number, aside: number): Point => ({
    x: middle.x + dx * by - dy * aside,
    y: middle.y + dy * by + dx * aside,
  });
  const head = (sign: number) => [
    along(sign * (reach - barb), barb * 0.6),
    along(sign * reach, 0),
    along(sign * (reach - barb), -barb * 0.6),
  ];
  return {
    kind: 'lines',
    look: 'grain',
    closed: false,
    lines: [[along(-reach, 0), along(reach, 0)], head(1), head(-1)],
    says: 'grain',
  };
}
