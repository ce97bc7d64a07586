/** Labels on a sheet of so many rows and columns: shelf mark, title and place, and a code that opens the book. */
import { Document, type DocumentProps, Page, Path, renderToBuffer, Svg, Text, View } from '@react-pdf/renderer';
import { createElement, type ReactElement } from 'react';
import type { FileAnswer } from '../../core/contract/ask.ts';
import type { LabelGrid } from '../../core/contract/shelving.ts';
import { ok, type Result, refuse } from '../../core/result.ts';
import { qrPath } from '../files/qr.ts';
import { faint, ink, type Letterhead, printable } from './sheet.ts';

const h = createElement;
const pointsPerMm = 72 / 25.4;

export type Label = Readonly<{ mark: string; title: string; place: string; address: string }>;

/** Smaller ones cannot hold a code that a camera reads at arm's length: 33 squares of 0.4 mm and its margin. Common practice, no source. */
const leastMm = { width: 24, height: 16 };

/** Refuses a grid whose labels would be too small to read. */
export async function printLabels(
  labels: readonly Label[],
  grid: LabelGrid,
  workshop: Letterhead,
): Promise<Result<FileAnswer>> {
  const [pageWidth, pageHeight] = workshop.paper === 'A4' ? [210, 297] : [215.9, 279.4];
  const width = (pageWidth - 2 * grid.leftMm - (grid.columns - 1) * grid.gapAcrossMm) / grid.columns;
  const height = (pageHeight - 2 * grid.topMm - (grid.rows - 1) * grid.gapDownMm) / grid.rows;
  if (width < leastMm.width || height < leastMm.height) {
    return refuse(
      `Labels of ${Math.max(0, width).toFixed(0)} × ${Math.max(0, height).toFixed(0)} mm are too small to read; take fewer rows or columns, or narrower margins.`,
      'grid',
    );
  }
  const perSheet = grid.rows * grid.columns;
  if (grid.used >= perSheet) return refuse('No label is left on the first sheet.', 'grid');
  const sheets = Math.ceil((grid.used + labels.length) / perSheet);
  const pages = Array.from({ length: sheets }, (_, sheet) =>
    h(
      Page,
      { key: sheet, size: workshop.paper, style: { fontFamily: ['Sans', 'Sans wide'], color: ink } },
      ...Array.from({ length: perSheet }, (__, at) => {
        const label = labels[sheet * perSheet + at - grid.used];
        if (label === undefined) return null;
        const left = grid.leftMm + (at % grid.columns) * (width + grid.gapAcrossMm);
        const top = grid.topMm + Math.floor(at / grid.columns) * (height + grid.gapDownMm);
        return labelAt(label, { left, top, width, height }, at);
      }),
    ),
  );
  const document = h(Document, { title: 'Labels', creator: 'Kettlestitch', producer: 'Kettlestitch' }, pages);
  const bytes = await renderToBuffer(document as ReactElement<DocumentProps>);
  return ok({ fileName: 'labels.pdf', mediaType: 'application/pdf', base64: bytes.toString('base64') });
}

type Box = Readonly<{ left: number; top: number; width: number; height: number }>;

/** Kept free all round, so that a printer that draws a little aside still meets the label. */
const insetMm = 1.5;

function labelAt(label: Label, box: Box, key: number): ReactElement {
  const { squares, path } = qrPath(label.address);
  const side = Math.min(box.height - 2 * insetMm, box.width * 0.45);
  const small = box.height < 22 ? 6 : 7;
  return h(
    View,
    {
      key,
      style: {
        position: 'absolute',
        left: box.left * pointsPerMm,
        top: box.top * pointsPerMm,
        width: box.width * pointsPerMm,
        height: box.height * pointsPerMm,
        padding: insetMm * pointsPerMm,
        flexDirection: 'row',
        overflow: 'hidden',
      },
    },
    h(
      Svg,
      { width: side * pointsPerMm, height: side * pointsPerMm, viewBox: `-4 -4 ${squares + 8} ${squares + 8}` },
      h(Path, { d: path, fill: '#000000' }),
    ),
    h(
      View,
      { style: { flex: 1, paddingLeft: insetMm * pointsPerMm } },
      h(Text, { style: { fontSize: 11, fontWeight: 600 } }, printable(label.mark)),
      h(Text, { style: { fontSize: small, maxLines: 2, textOverflow: 'ellipsis' } }, printable(label.title)),
      h(Text, { style: { fontSize: small, color: faint, maxLines: 1 } }, printable(label.place)),
    ),
  );
}
