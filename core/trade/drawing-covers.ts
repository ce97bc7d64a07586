/** Cover, back and finishing drawn to scale: what is cut, what is the book's own, and where it lies. */
import type { Back, Linings } from './back.ts';
import type { CaseMeasures } from './case.ts';
import { across, area, type Drawing, down, framed, lineMm, type Point, type Shape, upAndDown } from './drawing.ts';
import type { Panels } from './panels.ts';
import type { BackAndBoards, SpinePiece } from './reback.ts';

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

/** A side with its outer edge at nought: cut off there at head and tail by so much along both edges. */
function sideOutline(width: number, height: number, cut: number): readonly Point[] {
  const inner = [
    { x: width, y: 0 },
    { x: width, y: height },
  ];
  if (cut === 0) return [{ x: 0, y: 0 }, ...inner, { x: 0, y: height }];
  return [{ x: cut, y: 0 }, ...inner, { x: cut, y: height }, { x: 0, y: height - cut }, { x: 0, y: cut }];
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
