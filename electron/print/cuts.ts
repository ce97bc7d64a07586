/** The cutting sheet on paper: each sheet to scale with its cuts numbered, then the cuts in order with their fence settings. */
import { Rect as Box, G, Line, Svg, Text, View } from '@react-pdf/renderer';
import { createElement as h, type ReactNode } from 'react';
import type { FileAnswer } from '../../core/contract/ask.ts';
import type { PlannedCut } from '../../core/contract/offcuts.ts';
import { cutLines, partWords, pieceGroups, pieceLetter, readyWith, sayCut } from '../../core/cutting/picture.ts';
import type { CutSheet } from '../../core/cutting/stock.ts';
import { formatInches, formatMm } from '../../core/units/lengths.ts';
import { readHabits } from '../store/habits.ts';
import type { Workshop } from '../store/workshop.ts';
import { caution, faint, hairline, ink, paragraph, printSheet, section, table } from './sheet.ts';

/** Room for the picture of one sheet, in points. */
const most = { width: 515, height: 300 };

export async function printCuts(store: Workshop, { kind, plan, cautions }: PlannedCut): Promise<FileAnswer> {
  const { habits } = readHabits(store.db);
  const words = habits.units === 'mm' ? formatMm : formatInches;
  const count = plan.sheets.reduce((sum, sheet) => sum + sheet.pieces.length, 0);
  const body: ReactNode[] = [
    ...cautions.map((sentence) => caution(`${sentence} Follow your local rules.`)),
    ...plan.uncut.map((one) => paragraph(`Not cut: ${one.count} × ${one.name}; ${one.because}.`)),
  ];
  for (const [index, sheet] of plan.sheets.entries()) {
    body.push(
      section(`${index + 1}. ${sheet.name}, ${words(sheet.heightMm)} × ${words(sheet.widthMm)}`),
      picture(sheet),
    );
    body.push(pieceList(sheet, words), cutList(sheet, words));
    for (const rect of sheet.remnants)
      body.push(paragraph(`Back into the drawer: ${words(rect.heightMm)} × ${words(rect.widthMm)}.`));
  }
  if (plan.remarks.length > 0) body.push(section('Mind'), ...plan.remarks.map(paragraph));
  const waste = plan.areas.stock === 0 ? 0 : Math.round((plan.areas.waste / plan.areas.stock) * 100);
  const bytes = await printSheet({
    title: `Cutting sheet: ${kind}`,
    lead: `${count} ${count === 1 ? 'piece' : 'pieces'} out of ${plan.sheets.length}; ${waste} % waste. Dimensions are height by width.`,
    workshop: habits,
    body,
  });
  return {
    fileName: `cutting-${kind.replaceAll(' ', '-').toLowerCase()}.pdf`,
    mediaType: 'application/pdf',
    base64: bytes.toString('base64'),
  };
}

function pieceList(sheet: CutSheet, words: (mm: number) => string): ReactNode {
  return table(
    [
      { head: 'Piece', share: 1.2 },
      { head: 'What', share: 4 },
      { head: 'Height', share: 1.2, align: 'right' },
      { head: 'Width', share: 1.2, align: 'right' },
    ],
    pieceGroups(sheet).map(({ letters, name, heightMm, widthMm }) => [letters, name, words(heightMm), words(widthMm)]),
  );
}

function cutList(sheet: CutSheet, words: (mm: number) => string): ReactNode {
  return table(
    [
      { head: 'Cut', share: 0.6 },
      { head: 'Through', share: 2.4 },
      { head: 'Fence', share: 2.6 },
      { head: 'Ready', share: 1 },
      { head: 'Done', share: 0.6 },
    ],
    sheet.cuts.map((cut) => [
      String(cut.number),
      partWords(cut, sheet, words),
      `${sayCut(cut, words(cut.atMm))}${cut.trim ? ' (trim)' : ''}`,
      readyWith(cut, sheet)
        .map((piece) => pieceLetter(piece - 1))
        .join(', '),
      '……',
    ]),
  );
}

function picture(sheet: CutSheet): ReactNode {
  const scale = Math.min(most.width / sheet.widthMm, most.height / sheet.heightMm);
  const [width, height] = [sheet.widthMm * scale, sheet.heightMm * scale];
  const label = (x: number, y: number, text: string, size: number, fill: string, key: string) =>
    h(
      Text as unknown as 'text',
      { key, x, y: y + size * 0.35, fill, textAnchor: 'middle', style: { fontSize: size } } as object,
      text,
    );
  return h(
    View,
    { style: { height: height + 6 }, wrap: false },
    h(
      Svg,
      { width: width + 2, height: height + 2, viewBox: `-1 -1 ${width + 2} ${height + 2}` },
      h(Box, { x: 0, y: 0, width, height, fill: '#ffffff', stroke: ink, strokeWidth: 0.8 }),
      ...sheet.pieces.map(({ rect }, index) => {
        const [w, t] = [rect.widthMm * scale, rect.heightMm * scale];
        const size = Math.max(4, Math.min(11, w * 0.6, t * 0.6));
        return h(
          G,
          { key: `p${index}` },
          h(Box, {
            x: rect.xMm * scale,
            y: rect.yMm * scale,
            width: w,
            height: t,
            fill: '#e8e4dc',
            stroke: hairline,
            strokeWidth: 0.4,
          }),
          label(rect.xMm * scale + w / 2, rect.yMm * scale + t / 2, pieceLetter(index), size, ink, `l${index}`),
        );
      }),
      ...cutLines(sheet).map((line) =>
        h(Line, {
          key: `c${line.number}`,
          x1: line.from.x * scale,
          y1: line.from.y * scale,
          x2: line.to.x * scale,
          y2: line.to.y * scale,
          stroke: line.trim ? faint : ink,
          strokeWidth: 0.7,
        }),
      ),
      ...cutLines(sheet).map((line) => {
        const words = String(line.number);
        const [x, y] = [line.label.x * scale, line.label.y * scale];
        const size = Math.max(2.4, Math.min(6.5, line.roomMm * scale * 0.5));
        const reach = size * (0.45 + 0.54 * words.length);
        return h(
          G,
          { key: `n${line.number}` },
          h(Box, { x: x - reach / 2, y: y - size * 0.58, width: reach, height: size * 1.16, fill: '#ffffff' }),
          label(x, y, words, size, ink, `m${line.number}`),
        );
      }),
    ),
  );
}
