/** Sheets, sewing and loose pieces drawn to scale. */
import { across, area, type Drawing, down, framed, grainFrom, lineMm, type Point, type Shape } from './drawing.ts';
import type { Station } from './sewing.ts';
import type { Piece } from './working.ts';

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
