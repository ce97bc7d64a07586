import type { Back, Linings } from './back.ts';
import type { CaseMeasures } from './case.ts';
import type { Panels } from './panels.ts';
import type { BackAndBoards, SpinePiece } from './reback.ts';
import type { Station } from './sewing.ts';
import type { Piece, PieceMaterial } from './working.ts';

/**
 * Drawings to scale as plain geometry in millimetres: x to the right, y down, everything inside 0..width and 0..height, so that the page and
 * the printer draw from the same numbers. Later shapes lie over earlier ones.
 */

export type Point = Readonly<{ x: number; y: number }>;

/** New material, the book's own, what lies hidden beneath, a fold or a cut line. */
export type Role = 'new' | 'original' | 'beneath' | 'fold' | 'cut';

export type Shape =
  | Readonly<{
      kind: 'area';
      points: readonly Point[];
      role: Role;
      material: PieceMaterial | 'text block';
      label: string;
    }>
  | Readonly<{ kind: 'line'; points: readonly Point[]; role: Role; label: string }>
  /** A dimension line `offsetMm` away from what it measures: to the left or above when negative. */
  | Readonly<{ kind: 'dimension'; from: Point; to: Point; offsetMm: number; mm: number; label: string }>
  | Readonly<{ kind: 'grain'; from: Point; to: Point }>;

export type Drawing = Readonly<{
  title: string;
  widthMm: number;
  heightMm: number;
  shapes: readonly Shape[];
  /** Where in the shapes each loose piece begins, in a drawing whose pieces may lie anywhere; else nothing. */
  loose: readonly number[];
}>;

/** Room round a drawing, and from one dimension line to the next. */
const marginMm = 6;
const lineMm = 9;

/** A case lying flat with its inside up: covering, boards, stiffener, joints and turn-ins. */
export function drawCase(measures: CaseMeasures): Drawing {
  const { boardHeightMm: high, boardWidthMm: wide, gapMm: gap, turnInMm: turn, back, flatWidthMm: flat } = measures;
  const shapes: Shape[] = [];
  const cover = measures.pieces.find(({ part }) => part === 'cover' || part === 'spine covering');
  const sides = measures.pieces.find(({ part }) => part === 'sides');
  const corners = measures.pieces.find(({ part }) => part.startsWith('corners'));
  if (corners !== undefined) {
    for (const left of [true, false])
      for (const top of [true, false]) {
        const leg = corners.widthMm;
        const x = left ? -turn : flat + turn;
        const y = top ? -turn : high + turn;
        const points = [
          { x, y },
          { x: x + (left ? leg : -leg), y },
          { x, y: y + (top ? leg : -leg) },
        ];
        shapes.push({ kind: 'area', points, role: 'new', material: corners.material, label: 'corner' });
      }
  }
  if (cover !== undefined) {
    const x = (flat - cover.widthMm) / 2;
    shapes.push(area(x, -turn, cover.widthMm, cover.heightMm, 'new', cover.material, cover.part));
  }
  if (sides !== undefined) {
    const { widthMm, heightMm, material } = sides;
    for (const left of [true, false]) {
      const points = sideOutline(widthMm, heightMm, measures.sideCutMm).map(({ x, y }) => ({
        x: left ? x - turn : flat + turn - x,
        y: y - turn,
      }));
      shapes.push({ kind: 'area', points, role: 'new', material, label: 'side' });
    }
  }
  const stiffenerAt = wide + gap;
  shapes.push(
    area(0, 0, wide, high, 'new', 'board', 'board'),
    area(stiffenerAt, 0, back.widthMm, high, 'new', 'stiffener', 'stiffener'),
    area(flat - wide, 0, wide, high, 'new', 'board', 'board'),
    upAndDown(wide / 2, high),
    upAndDown(flat - wide / 2, high),
    upAndDown(stiffenerAt + back.widthMm / 2, high),
  );
  if (measures.pieces.some(({ part }) => part === 'cover'))
    shapes.push(...cornerCuts(flat, high, turn, measures.boardMm));
  const below = high + turn;
  shapes.push(
    across(0, wide, below, lineMm, 'board'),
    across(wide, stiffenerAt, below, lineMm, 'joint'),
    across(stiffenerAt, stiffenerAt + back.widthMm, below, lineMm, 'back'),
    across(flat - wide, flat, below, lineMm, 'board'),
    across(-turn, flat + turn, below, 2 * lineMm, 'covering'),
    down(0, high, -turn, -lineMm, 'board'),
    down(-turn, high + turn, -turn, -2 * lineMm, 'covering'),
    down(-turn, 0, flat + turn, lineMm, 'turn-in'),
  );
  return framed('Case, lying flat, inside up', shapes);
}

/** A reback from outside, lying flat: old sides, new spine piece under or over them, the old spine back on top. */
export function drawSpinePiece(book: BackAndBoards, piece: SpinePiece): Drawing {
  const { boardHeightMm: high, boardWidthMm: wide, gapMm: gap } = book;
  const back = book.back.widthMm;
  const flat = 2 * (wide + gap) + back;
  const cloth = piece.pieces.find(({ part }) => part === 'spine piece');
  const kept = piece.originals.find(({ part }) => part === 'old cloth of the sides')?.widthMm ?? wide;
  const shapes: Shape[] = [
    area(0, 0, wide, high, 'original', 'board', 'board'),
    area(flat - wide, 0, wide, high, 'original', 'board', 'board'),
  ];
  if (cloth !== undefined) {
    const turn = (cloth.heightMm - high) / 2;
    const x = (flat - cloth.widthMm) / 2;
    shapes.push(
      area(x, -turn, cloth.widthMm, cloth.heightMm, 'new', cloth.material, 'spine piece'),
      across(x, x + cloth.widthMm, high + turn, lineMm, 'spine piece'),
      down(-turn, high + turn, flat, lineMm, 'spine piece'),
      across(x, wide, -turn, -lineMm, 'on the board'),
    );
  }
  shapes.push(
    area(0, 0, kept, high, 'original', 'covering cloth', 'old side'),
    area(flat - kept, 0, kept, high, 'original', 'covering cloth', 'old side'),
    area(wide + gap, 0, back, high, 'original', 'covering cloth', 'old spine'),
    ...(cloth === undefined
      ? []
      : [
          area(
            (flat - cloth.widthMm) / 2,
            (high - cloth.heightMm) / 2,
            cloth.widthMm,
            cloth.heightMm,
            'beneath',
            cloth.material,
            'spine piece, beneath',
          ),
        ]),
    upAndDown(flat / 2, high),
    across(
      wide + gap,
      wide + gap + back,
      high + (cloth === undefined ? 0 : (cloth.heightMm - high) / 2),
      2 * lineMm,
      'back',
    ),
    down(0, high, 0, -lineMm, 'boards'),
  );
  return framed('Reback, lying flat, outside up', shapes);
}

/** The back of the block spread flat with its sides: mull, kraft and hollow as they lie on it. */
export function drawLinings(blockHeightMm: number, back: Back, linings: Linings): Drawing {
  const shapes: Shape[] = [];
  const width = back.widthMm;
  shapes.push(area(0, 0, width, blockHeightMm, 'original', 'text block', 'back of the block'));
  for (const piece of linings.pieces) {
    // A hollow is folded to the width of the back.
    const lies = piece.part === 'hollow' ? width : piece.widthMm;
    const x = (width - lies) / 2;
    const y = (blockHeightMm - piece.heightMm) / 2;
    shapes.push(area(x, y, lies, piece.heightMm, 'new', piece.material, piece.part));
    if (piece.grain === 'height') shapes.push(upAndDown(width / 2, blockHeightMm));
    if (piece.part === 'mull') {
      shapes.push(
        across(x, x + lies, blockHeightMm, 2 * lineMm, 'mull'),
        down(y, y + piece.heightMm, x + lies, lineMm, 'mull'),
        across(width, x + lies, 0, -lineMm, 'overlap'),
        down(0, y, x, -lineMm, 'short of the head'),
      );
    }
  }
  shapes.push(
    across(0, width, blockHeightMm, lineMm, 'back'),
    down(
      0,
      blockHeightMm,
      Math.min(0, ...linings.pieces.map((piece) => (width - piece.widthMm) / 2)),
      -2 * lineMm,
      'block',
    ),
  );
  return framed('Linings of the back', shapes);
}

/** The back seen from the head: the round between its shoulders over the thickness of the block. */
export function drawBackSection(back: Back, blockThicknessMm: number, depthMm = 40): Drawing {
  const { chordMm, riseMm, shoulderMm } = back;
  const outside = (chordMm - blockThicknessMm) / 2;
  const arc: Point[] = [];
  if (riseMm > 0) {
    const radius = (chordMm * chordMm) / 4 / (2 * riseMm) + riseMm / 2;
    const half = 2 * Math.atan2(2 * riseMm, chordMm);
    for (let step = 0; step <= 24; step++) {
      const angle = -half + (step / 24) * 2 * half;
      arc.push({ x: chordMm / 2 + radius * Math.sin(angle), y: radius - radius * Math.cos(angle) });
    }
  } else arc.push({ x: outside, y: 0 }, { x: outside + blockThicknessMm, y: 0 });
  const foot = riseMm + shoulderMm;
  const points: Point[] = [
    ...arc,
    { x: outside + blockThicknessMm, y: foot },
    { x: outside + blockThicknessMm, y: foot + depthMm },
    { x: outside, y: foot + depthMm },
    { x: outside, y: foot },
  ];
  const shapes: Shape[] = [
    { kind: 'area', points, role: 'original', material: 'text block', label: 'text block' },
    across(0, chordMm, 0, -lineMm, 'across the back'),
    across(outside, outside + blockThicknessMm, foot + depthMm, lineMm, 'block'),
  ];
  if (riseMm > 0) shapes.push(down(0, riseMm, chordMm, lineMm, 'rise'));
  return framed('Back, seen from the head', shapes);
}

/** A back with its bands and panels. */
export function drawPanels(backWidthMm: number, panels: Panels): Drawing {
  const shapes: Shape[] = [];
  const bands = panels.bandTopsMm;
  const total = panels.heightsMm.reduce((sum, height) => sum + height, 0);
  let at = 0;
  const bandMm = bands.length > 1 ? (bands[1] ?? 0) - (bands[0] ?? 0) - (panels.heightsMm[1] ?? 0) : 0;
  for (const [place, height] of panels.heightsMm.entries()) {
    shapes.push(
      area(
        0,
        at,
        backWidthMm,
        height,
        'new',
        'covering leather',
        place === 0 ? 'head panel' : place === bands.length ? 'tail panel' : 'panel',
      ),
    );
    shapes.push(down(at, at + height, backWidthMm, lineMm, 'panel'));
    at += height + (place < bands.length ? bandMm : 0);
  }
  for (const top of bands) {
    shapes.push({
      kind: 'line',
      points: [
        { x: 0, y: top },
        { x: backWidthMm, y: top },
      ],
      role: 'fold',
      label: 'band',
    });
    shapes.push({
      kind: 'line',
      points: [
        { x: 0, y: top + bandMm },
        { x: backWidthMm, y: top + bandMm },
      ],
      role: 'fold',
      label: 'band',
    });
  }
  shapes.push(down(0, total + bands.length * bandMm, 0, -lineMm, 'back'), across(0, backWidthMm, at, lineMm, 'back'));
  return framed('Bands and panels', shapes);
}

/** A panel with the lines of its lettering where they stand: each as wide as it comes out and as high as its capitals. */
export function drawLettering(
  panel: Readonly<{ widthMm: number; heightMm: number }>,
  lines: readonly Readonly<{ text: string; widthMm: number }>[],
  capitalMm: number,
  leading: number,
): Drawing {
  const { widthMm, heightMm } = panel;
  const step = capitalMm * leading;
  const tall = capitalMm + (lines.length - 1) * step;
  const first = (heightMm - tall) / 2;
  const shapes: Shape[] = [area(0, 0, widthMm, heightMm, 'new', 'covering leather', 'panel')];
  for (const [place, line] of lines.entries()) {
    const [x, y] = [(widthMm - line.widthMm) / 2, first + place * step];
    shapes.push(area(x, y, line.widthMm, capitalMm, 'new', 'lining paper', line.text));
  }
  const widest = Math.max(...lines.map((line) => line.widthMm));
  shapes.push(
    across((widthMm - widest) / 2, (widthMm + widest) / 2, 0, -lineMm, 'widest line'),
    across(0, widthMm, heightMm, lineMm, 'panel'),
    down(0, heightMm, 0, -lineMm, 'panel'),
    down(first, first + tall, widthMm, lineMm, 'lettering'),
  );
  return framed('Lettering on its panel', shapes);
}

/** A sheet spread flat with its folds, one leaf and the grain of a sheet made with it along the long side. */
export function drawSheet(sheet: Readonly<{ longMm: number; shortMm: number }>, along: number, aside: number): Drawing {
  const { longMm, shortMm } = sheet;
  const [leafAlong, leafAside] = [longMm / along, shortMm / aside];
  const shapes: Shape[] = [
    area(0, 0, longMm, shortMm, 'new', 'endpaper', 'sheet'),
    area(0, 0, leafAlong, leafAside, 'new', 'board', 'leaf'),
  ];
  for (let fold = 1; fold < along; fold++) {
    shapes.push(foldLine({ x: fold * leafAlong, y: 0 }, { x: fold * leafAlong, y: shortMm }));
  }
  for (let fold = 1; fold < aside; fold++) {
    shapes.push(foldLine({ x: 0, y: fold * leafAside }, { x: longMm, y: fold * leafAside }));
  }
  shapes.push(
    grainFrom({ x: longMm * 0.55, y: shortMm * 0.55 }, { x: longMm * 0.95, y: shortMm * 0.55 }),
    across(0, longMm, shortMm, lineMm, 'sheet, long'),
    down(0, shortMm, longMm, lineMm, 'sheet, short'),
    ...(along > 1 ? [across(0, leafAlong, 0, -lineMm, 'leaf')] : []),
    ...(aside > 1 ? [down(0, leafAside, 0, -lineMm, 'leaf')] : []),
  );
  return framed('Sheet and its folds, grain long', shapes);
}

function foldLine(from: Point, to: Point): Shape {
  return { kind: 'line', points: [from, to], role: 'fold', label: 'fold' };
}

/** A fold with its holes, to lay beside a section and prick through. */
export function drawStations(heightMm: number, stations: readonly Station[]): Drawing {
  const shapes: Shape[] = [
    {
      kind: 'line',
      points: [
        { x: 0, y: 0 },
        { x: 0, y: heightMm },
      ],
      role: 'fold',
      label: 'fold',
    },
  ];
  let before = 0;
  for (const { fromHeadMm, hole } of stations) {
    shapes.push({
      kind: 'line',
      points: [
        { x: -4, y: fromHeadMm },
        { x: 4, y: fromHeadMm },
      ],
      role: 'cut',
      label: hole,
    });
    shapes.push(down(before, fromHeadMm, 4, lineMm, hole));
    before = fromHeadMm;
  }
  shapes.push(down(before, heightMm, 4, lineMm, 'tail'), down(0, heightMm, -4, -lineMm, 'fold'));
  return framed('Sewing stations', shapes);
}

/** Pieces to cut, one of each, side by side in rows, with measures and grain: endpapers, jackets, boxes. */
export function drawPieces(title: string, pieces: readonly Piece[]): Drawing {
  const shapes: Shape[] = [];
  const loose: number[] = [];
  const gap = 3 * lineMm;
  const ground = pieces.reduce((sum, { widthMm, heightMm }) => sum + (widthMm + gap) * (heightMm + gap), 0);
  const rowMm = Math.max(1.2 * Math.sqrt(ground), ...pieces.map(({ widthMm }) => widthMm));
  let [x, y, rowHighMm] = [0, 0, 0];
  for (const piece of pieces) {
    const { heightMm, widthMm, grain, material, part, count } = piece;
    if (x > 0 && x + widthMm > rowMm) [x, y, rowHighMm] = [0, y + rowHighMm + gap, 0];
    loose.push(shapes.length);
    shapes.push(area(x, y, widthMm, heightMm, 'new', material, count > 1 ? `${part} × ${count}` : part));
    shapes.push(across(x, x + widthMm, y + heightMm, lineMm, part), down(y, y + heightMm, x, -lineMm, part));
    const [middleX, middleY] = [x + widthMm / 2, y + heightMm / 2];
    if (grain === 'height')
      shapes.push(grainFrom({ x: middleX, y: y + heightMm * 0.3 }, { x: middleX, y: y + heightMm * 0.7 }));
    if (grain === 'width')
      shapes.push(grainFrom({ x: x + widthMm / 4, y: middleY }, { x: x + (3 * widthMm) / 4, y: middleY }));
    x += widthMm + gap;
    rowHighMm = Math.max(rowHighMm, heightMm);
  }
  return framed(title, shapes, loose);
}

function area(
  x: number,
  y: number,
  width: number,
  height: number,
  role: Role,
  material: PieceMaterial | 'text block',
  label: string,
): Shape {
  const points = [
    { x, y },
    { x: x + width, y },
    { x: x + width, y: y + height },
    { x, y: y + height },
  ];
  return { kind: 'area', points, role, material, label };
}

/** A side with its outer edge at nought: cut off there at head and tail by so much along both edges. */
function sideOutline(width: number, height: number, cut: number): readonly Point[] {
  const inner = [
    { x: width, y: 0 },
    { x: width, y: height },
  ];
  if (cut === 0) return [{ x: 0, y: 0 }, ...inner, { x: 0, y: height }];
  return [{ x: cut, y: 0 }, ...inner, { x: cut, y: height }, { x: 0, y: height - cut }, { x: 0, y: cut }];
}

function across(from: number, to: number, y: number, offsetMm: number, label: string): Shape {
  return { kind: 'dimension', from: { x: from, y }, to: { x: to, y }, offsetMm, mm: to - from, label };
}

function down(from: number, to: number, x: number, offsetMm: number, label: string): Shape {
  return { kind: 'dimension', from: { x, y: from }, to: { x, y: to }, offsetMm, mm: to - from, label };
}

function upAndDown(x: number, height: number): Shape {
  return grainFrom({ x, y: height * 0.3 }, { x, y: height * 0.7 });
}

function grainFrom(from: Point, to: Point): Shape {
  return { kind: 'grain', from, to };
}

/** Where the covering is cut off at the corners: at 45 degrees, one and a half boards from the board's corner. Common practice, no source. */
function cornerCuts(flat: number, high: number, turn: number, boardMm: number): readonly Shape[] {
  // A line at 45 degrees this far from the corner crosses each edge of the covering here.
  const reach = 2 * turn - 1.5 * boardMm * Math.SQRT2;
  const cut = (x: number, y: number, right: number, lower: number): Shape => ({
    kind: 'line',
    points: [
      { x: x + right * reach, y },
      { x, y: y + lower * reach },
    ],
    role: 'cut',
    label: 'corner cut',
  });
  return [
    cut(-turn, -turn, 1, 1),
    cut(flat + turn, -turn, -1, 1),
    cut(-turn, high + turn, 1, -1),
    cut(flat + turn, high + turn, -1, -1),
  ];
}

/** Moves everything so that it lies inside a frame with a margin, dimension lines included. */
function framed(title: string, shapes: readonly Shape[], loose: readonly number[] = []): Drawing {
  const all = shapes.flatMap(reachOf);
  const left = Math.min(...all.map(({ x }) => x)) - marginMm;
  const top = Math.min(...all.map(({ y }) => y)) - marginMm;
  const moved = (point: Point): Point => ({ x: point.x - left, y: point.y - top });
  return {
    title,
    loose,
    widthMm: Math.max(...all.map(({ x }) => x)) + marginMm - left,
    heightMm: Math.max(...all.map(({ y }) => y)) + marginMm - top,
    shapes: shapes.map((shape) =>
      shape.kind === 'area' || shape.kind === 'line'
        ? { ...shape, points: shape.points.map(moved) }
        : { ...shape, from: moved(shape.from), to: moved(shape.to) },
    ),
  };
}

/** Every point a shape touches; a dimension also where its line is drawn. */
function reachOf(shape: Shape): readonly Point[] {
  if (shape.kind === 'area' || shape.kind === 'line') return shape.points;
  if (shape.kind === 'grain') return [shape.from, shape.to];
  const level = shape.from.y === shape.to.y;
  const shifted = [shape.from, shape.to].map(({ x, y }) => ({
    x: x + (level ? 0 : shape.offsetMm),
    y: y + (level ? shape.offsetMm : 0),
  }));
  return [shape.from, shape.to, ...shifted];
}
