import { formatInches, formatMm } from '../units/lengths.ts';
import type { Drawing, Point, Shape } from './drawing.ts';

/**
 * A drawing made ready to be looked at: what lies where in millimetres, the original material hatched, grain arrows, and every measure
 * written where it runs into no other. The page, the printer and the picture file all draw from this, so that they cannot differ. Only the
 * size of the lettering is theirs to say, because it depends on how large a millimetre is to whoever reads.
 */

/** What a mark is of, and so how it is drawn. */
export type Look =
  | 'new'
  | 'board'
  | 'paper'
  | 'lining'
  | 'original'
  | 'beneath'
  | 'cut'
  | 'fold'
  | 'hatch'
  | 'grain'
  | 'dimension'
  | 'witness';

export type Mark =
  /** Closed and filled where `closed`; several open lines otherwise. `says` names the part. */
  | Readonly<{ kind: 'lines'; look: Look; closed: boolean; lines: readonly (readonly Point[])[]; says: string }>
  /** Words in the middle of a box that nothing else written touches; `turned` reads from below. */
  | Readonly<{
      kind: 'words';
      of: 'measure' | 'part';
      at: Point;
      turned: boolean;
      words: string;
      widthMm: number;
      says: string;
    }>;

export type Picture = Readonly<{
  title: string;
  /** The corner of the frame, in the drawing's own millimetres; marks are in the same. */
  leftMm: number;
  topMm: number;
  widthMm: number;
  heightMm: number;
  letterMm: number;
  marks: readonly Mark[];
}>;

type Box = Readonly<{ left: number; top: number; right: number; bottom: number }>;
type Dimension = Extract<Shape, { kind: 'dimension' }>;
type Area = Extract<Shape, { kind: 'area' }>;

/** Inner dimension lines were given this far out by the drawing; only their order is taken over. */
const tierMm = 9;

/**
 * Lays the drawing out for letters so many millimetres tall, each measure in the caller's words. Loose pieces are laid in rows, each with the
 * room its own measures take, about `wider` times as wide as high.
 */
export function pictureOf(drawing: Drawing, letterMm: number, words: (mm: number) => string, wider = 1.4): Picture {
  const groups = drawing.loose.map((from, place) => drawing.shapes.slice(from, drawing.loose[place + 1]));
  const { marks, frame } =
    groups.length > 1
      ? inRows(
          groups.map((shapes) => layOut(shapes, letterMm, words)),
          letterMm,
          wider,
        )
      : layOut(drawing.shapes, letterMm, words);
  return {
    title: drawing.title,
    leftMm: frame.left,
    topMm: frame.top,
    widthMm: frame.right - frame.left,
    heightMm: frame.bottom - frame.top,
    letterMm,
    marks,
  };
}

/** A mark somewhere else on the same ground. */
export function movedMark(mark: Mark, right: number, down: number): Mark {
  const shift = ({ x, y }: Point): Point => ({ x: x + right, y: y + down });
  return mark.kind === 'words'
    ? { ...mark, at: shift(mark.at) }
    : { ...mark, lines: mark.lines.map((line) => line.map(shift)) };
}

type LaidOut = Readonly<{ marks: readonly Mark[]; frame: Box }>;

function layOut(shapes: readonly Shape[], letterMm: number, words: (mm: number) => string): LaidOut {
  const marks: Mark[] = [];
  for (const shape of shapes) {
    if (shape.kind === 'area') marks.push(...areaMarks(shape, letterMm));
    if (shape.kind === 'line') {
      const look = shape.role === 'cut' || shape.role === 'original' ? shape.role : 'fold';
      marks.push({ kind: 'lines', look, closed: false, lines: [shape.points], says: shape.label });
    }
    if (shape.kind === 'grain') marks.push(grainMark(shape.from, shape.to, letterMm));
  }
  const areas = shapes.filter((shape) => shape.kind === 'area').filter(({ role }) => role !== 'beneath');
  const written = placeDimensions(shapes, areas, letterMm, words);
  marks.push(...written.marks, ...partNames(areas, shapes, written.taken, letterMm));
  return { marks, frame: around(marks, letterMm) };
}

/** Loose pieces in rows, tall ones first so that a row wastes little. */
function inRows(pieces: readonly LaidOut[], letterMm: number, wider: number): LaidOut {
  const gap = letterMm;
  const sized = pieces
    .map(({ marks, frame }) => ({ marks, frame, wide: frame.right - frame.left, high: frame.bottom - frame.top }))
    .sort((one, other) => other.high - one.high);
  const ground = sized.reduce((sum, { wide, high }) => sum + (wide + gap) * (high + gap), 0);
  const rowMm = Math.max(Math.sqrt(ground * wider), ...sized.map(({ wide }) => wide));
  const marks: Mark[] = [];
  let [x, y, rowHigh, widest] = [0, 0, 0, 0];
  for (const piece of sized) {
    if (x > 0 && x + piece.wide > rowMm) [x, y, rowHigh] = [0, y + rowHigh + gap, 0];
    const [right, down] = [x - piece.frame.left, y - piece.frame.top];
    marks.push(...piece.marks.map((mark) => movedMark(mark, right, down)));
    x += piece.wide + gap;
    rowHigh = Math.max(rowHigh, piece.high);
    widest = Math.max(widest, x - gap);
  }
  return { marks, frame: { left: 0, top: 0, right: widest, bottom: y + rowHigh } };
}

/** Every measure once, as a sentence, for those who cannot see the drawing. */
export function spokenMeasures(drawing: Drawing, words: (mm: number) => string): string {
  const said = drawing.shapes.flatMap((shape) =>
    shape.kind === 'dimension' ? [`${shape.label} ${words(shape.mm)}`] : [],
  );
  return [...new Set(said)].join(', ');
}

/** How a drawing writes its measures: in one unit, or where there is room in both. */
export function measureWords(units: 'mm' | 'in', both: boolean): (mm: number) => string {
  const [first, second] = units === 'mm' ? [formatMm, formatInches] : [formatInches, formatMm];
  return both ? (mm) => `${first(mm)} · ${second(mm)}` : first;
}

/** Room that words take: widths of the page's sans as shares of its size, each a little generous. */
function wordsWidth(words: string, letterMm: number): number {
  let sum = 0;
  for (const sign of words) sum += /[mwMW×]/.test(sign) ? 0.86 : /[ .,:;/'()il1]/.test(sign) ? 0.36 : 0.56;
  return sum * letterMm;
}

/** The box that words take up, a thin margin included. */
export function wordsBox(mark: Words, letterMm: number): Box {
  const along = mark.widthMm / 2;
  const across = letterMm * 0.55;
  const [x, y] = mark.turned ? [across, along] : [along, across];
  return { left: mark.at.x - x, top: mark.at.y - y, right: mark.at.x + x, bottom: mark.at.y + y };
}

function areaMarks(area: Area, letterMm: number): readonly Mark[] {
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

function grainMark(from: Point, to: Point, letterMm: number): Mark {
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

/**
 * Puts each dimension line as near to what it measures as it can stand without its line or its figure touching another's: those the
 * drawing wants near come first, and among them those whose figure fits their line.
 */
function placeDimensions(
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
function partNames(
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

type Words = Extract<Mark, { kind: 'words' }>;

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

function around(marks: readonly Mark[], letterMm: number): Box {
  const boxes = marks.flatMap((mark) =>
    mark.kind === 'words' ? [wordsBox(mark, letterMm)] : mark.lines.map((line) => boxOf(line)),
  );
  const edge = letterMm * 0.5;
  return {
    left: Math.min(...boxes.map(({ left }) => left)) - edge,
    top: Math.min(...boxes.map(({ top }) => top)) - edge,
    right: Math.max(...boxes.map(({ right }) => right)) + edge,
    bottom: Math.max(...boxes.map(({ bottom }) => bottom)) + edge,
  };
}

function boxOf(points: readonly Point[]): Box {
  return {
    left: Math.min(...points.map(({ x }) => x)),
    top: Math.min(...points.map(({ y }) => y)),
    right: Math.max(...points.map(({ x }) => x)),
    bottom: Math.max(...points.map(({ y }) => y)),
  };
}

/** Touching edges, and what rounding makes of them, are not an overlap. */
function overlap(one: Box, other: Box): boolean {
  const more = 1e-6;
  return (
    one.left + more < other.right &&
    other.left + more < one.right &&
    one.top + more < other.bottom &&
    other.top + more < one.bottom
  );
}
