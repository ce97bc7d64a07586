/** A drawing of the Reckoner on paper at its own size: as many sheets as it takes, each with a bar to lay a rule against. */
import {
  ClipPath,
  Defs,
  Document,
  type DocumentProps,
  G,
  Line,
  Page,
  Path,
  Rect,
  renderToBuffer,
  Svg,
  Text,
  View,
} from '@react-pdf/renderer';
import { createElement as h, type ReactElement, type ReactNode } from 'react';
import type { Drawing } from '../../core/trade/drawing.ts';
import { pathOf, printLetterMm, printLooks } from '../../core/trade/drawing-file.ts';
import { measureWords, type Picture, pictureOf } from '../../core/trade/picture.ts';
import { type Mark, movedMark } from '../../core/trade/picture-marks.ts';
import { type Paper, type Tile, type Tiling, tilesFor } from '../../core/trade/tiles.ts';
import { faint, ink } from './sheet.ts';

const pointsPerMm = 72 / 25.4;
const barMm = 100;
/** The printing library takes what is quite as tall as its page for too tall. */
const hairMm = 0.1;

/** The sheets as PDF bytes. `lead` says whose drawing it is. */
export function printDrawing(
  drawing: Drawing,
  options: Readonly<{ units: 'mm' | 'in'; paper: Paper; lead: string; workshop: string }>,
): Promise<Buffer> {
  const picture = pictureOf(drawing, printLetterMm, measureWords(options.units, true));
  const tiling = tilesFor(picture, options.paper);
  const sheets = tiling.tiles.map((tile, index) => sheet(picture, tiling, tile, index, options));
  const document = h(Document, { title: drawing.title, creator: 'Kettlestitch', producer: 'Kettlestitch' }, ...sheets);
  return renderToBuffer(document as ReactElement<DocumentProps>);
}

function sheet(
  picture: Picture,
  tiling: Tiling,
  tile: Tile,
  index: number,
  { lead, workshop }: Readonly<{ lead: string; workshop: string }>,
): ReactNode {
  const { paperWidthMm, paperHeightMm, shownWidthMm, shownHeightMm, shownLeftMm, shownTopMm, tiles, sharedMm } = tiling;
  const many = tiles.length > 1;
  const clip = `shown-${index}`;
  const foot = shownTopMm + shownHeightMm;
  const words = [
    `${picture.title}, at its own size. ${lead}`,
    many
      ? `Sheet ${index + 1} of ${tiles.length}: row ${tile.row + 1}, place ${tile.column + 1}. Cut at the corner marks and lay each sheet ${sharedMm} mm over its neighbour.`
      : 'Print at 100 per cent, without fitting to the page.',
    `The bar is ${barMm} mm, 3 15/16 in. Lay a rule against it before cutting by this sheet.`,
    workshop,
  ];
  return h(
    Page,
    { key: index, size: [paperWidthMm * pointsPerMm, paperHeightMm * pointsPerMm] },
    h(
      Svg,
      {
        style: { position: 'absolute', left: 0, top: 0 },
        width: paperWidthMm * pointsPerMm,
        height: (paperHeightMm - hairMm) * pointsPerMm,
        viewBox: `0 0 ${paperWidthMm} ${paperHeightMm - hairMm}`,
      },
      h(
        Defs,
        null,
        h(
          ClipPath,
          { id: clip },
          h(Rect, { x: shownLeftMm, y: shownTopMm, width: shownWidthMm, height: shownHeightMm }),
        ),
      ),
      h(
        G,
        { clipPath: `url(#${clip})` },
        // In the sheet's own millimetres: the printing library cuts off what a shifted group holds above or left of its nought.
        ...picture.marks
          .filter((mark) => onSheet(mark, tiling, tile))
          .map((mark, key) => markDrawn(movedMark(mark, shownLeftMm - tile.leftMm, shownTopMm - tile.topMm), key)),
      ),
      ...(many ? cornerMarks(tiling) : []),
      ...checkBar(shownLeftMm, foot + 9),
      ...(many ? sheetMap(tiling, tile, paperWidthMm - shownLeftMm, foot + 5) : []),
    ),
    h(
      View,
      {
        style: {
          position: 'absolute',
          left: shownLeftMm * pointsPerMm,
          top: (foot + 11.5) * pointsPerMm,
          width: (shownWidthMm - 30) * pointsPerMm,
          fontFamily: ['Sans', 'Sans wide'],
          fontSize: 7.5,
          color: faint,
        },
      },
      ...words.filter((line) => line !== '').map((line, key) => h(Text, { key }, line)),
    ),
  );
}

/** Marks that cannot be seen on this sheet are left out, so that a large drawing does not print as many times as it has sheets. */
function onSheet(mark: Mark, { shownWidthMm, shownHeightMm }: Tiling, { leftMm, topMm }: Tile): boolean {
  const reach = mark.kind === 'words' ? mark.widthMm : 1;
  const points = mark.kind === 'words' ? [mark.at] : mark.lines.flat();
  const xs = points.map(({ x }) => x);
  const ys = points.map(({ y }) => y);
  return (
    Math.max(...xs) + reach > leftMm &&
    Math.min(...xs) - reach < leftMm + shownWidthMm &&
    Math.max(...ys) + reach > topMm &&
    Math.min(...ys) - reach < topMm + shownHeightMm
  );
}

function markDrawn(mark: Mark, key: number): ReactNode {
  if (mark.kind === 'lines') {
    const { fill = 'none', stroke, widthMm, dashMm } = printLooks[mark.look];
    return h(Path, {
      key,
      d: pathOf(mark.lines, mark.closed),
      fill,
      stroke,
      strokeWidth: widthMm,
      ...(dashMm === undefined ? {} : { strokeDasharray: dashMm }),
    });
  }
  const { at, turned, words, widthMm, of } = mark;
  return h(
    G,
    { key, ...(turned ? { transform: `rotate(-90, ${at.x}, ${at.y})` } : {}) },
    h(Rect, {
      x: at.x - widthMm / 2,
      y: at.y - printLetterMm / 2,
      width: widthMm,
      height: printLetterMm,
      fill: '#ffffff',
      fillOpacity: 0.85,
    }),
    lettered(words, at.x, at.y + printLetterMm * 0.35, of === 'measure' ? ink : faint, 'middle'),
  );
}

function lettered(words: string, x: number, y: number, fill: string, textAnchor: 'start' | 'middle'): ReactNode {
  return h(
    Text,
    { key: `${words} ${x} ${y}`, x, y, fill, textAnchor, style: { fontSize: printLetterMm, fontFamily: 'Sans' } },
    words,
  );
}

/** A pair of short lines outside each corner of what the sheet shows. */
function cornerMarks({
  shownLeftMm: left,
  shownTopMm: top,
  shownWidthMm,
  shownHeightMm,
}: Tiling): readonly ReactNode[] {
  const [right, bottom] = [left + shownWidthMm, top + shownHeightMm];
  const [away, reach] = [1, 6];
  const line = (x1: number, y1: number, x2: number, y2: number) =>
    h(Line, { key: `${x1} ${y1} ${x2} ${y2}`, x1, y1, x2, y2, stroke: ink, strokeWidth: 0.15 });
  return [left, right].flatMap((x) => {
    const outX = x === left ? -1 : 1;
    return [top, bottom].flatMap((y) => {
      const outY = y === top ? -1 : 1;
      return [line(x + outX * away, y, x + outX * reach, y), line(x, y + outY * away, x, y + outY * reach)];
    });
  });
}

function checkBar(x: number, y: number): readonly ReactNode[] {
  const ticks = Array.from({ length: barMm / 10 + 1 }, (_, ten) => ten * 10);
  const line = (x1: number, y1: number, x2: number, y2: number) =>
    h(Line, { key: `bar ${x1} ${y1} ${x2}`, x1, y1, x2, y2, stroke: ink, strokeWidth: 0.2 });
  return [line(x, y, x + barMm, y), ...ticks.map((at) => line(x + at, y - (at % 50 === 0 ? 3 : 1.8), x + at, y))];
}

/** All sheets as they lie beside each other, with this one filled. */
function sheetMap({ rows, columns }: Tiling, tile: Tile, right: number, top: number): readonly ReactNode[] {
  const cell = Math.min(5, 22 / columns, 20 / rows);
  const left = right - columns * cell;
  return Array.from({ length: rows * columns }, (_, place) => {
    const [row, column] = [Math.floor(place / columns), place % columns];
    return h(Rect, {
      key: `map ${place}`,
      x: left + column * cell,
      y: top + row * cell,
      width: cell,
      height: cell,
      fill: row === tile.row && column === tile.column ? ink : '#ffffff',
      stroke: ink,
      strokeWidth: 0.2,
    });
  });
}
