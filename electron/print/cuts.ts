/** The cutting sheet on paper: each sheet to scale with its cuts numbered, then the cuts in order with their fence settings. */
import { Rect as Box, G, Line, Svg, Text, View } from '@react-pdf/renderer';
import { createElement as h, type ReactNode } from 'react';
import type { FileAnswer } from '../../core/contract/ask.ts';
import type { PlannedCut } from '../../core/contract/offcuts.ts';
import {
  type CutLine,
  cutLines,
  letterSize,
  panesOf,
  partWords,
  pieceGroups,
  pieceLetter,
  readyWith,
  sayCut,
  within,
} from '../../core/cutting/picture.ts';
import type { CutSheet, Rect } from '../../core/cutting/stock.ts';
import { formatInches, formatMm } from '../../core/units/lengths.ts';
import { readHabits } from '../store/habits.ts';
import type { Workshop } from '../store/workshop.ts';
import { caution, faint, hairline, ink, paragraph, printSheet, section, table } from './sheet.ts';

/** Room for the picture of one sheet, and of a part of one that is drawn larger, in points. */
const most = { width: 515, height: 300 };
const mostOfPane = { width: 515, height: 330 };
/** Smaller is not read at arm's length over a shear, in points. Common practice, no source. */
const leastLetter = 6;
const leastNumber = 4.5;

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
      ...pictures(sheet, words),
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

/** The sheet as a whole, and where that is too small to read, in parts after it. */
function pictures(sheet: CutSheet, words: (mm: number) => string): readonly ReactNode[] {
  const { overview, panes, scale } = panesOf(sheet, most, mostOfPane, leastLetter);
  const whole: Rect = { xMm: 0, yMm: 0, widthMm: sheet.widthMm, heightMm: sheet.heightMm };
  return [
    panes.length === 0 ? picture(sheet, whole, overview) : overviewOf(sheet, panes, overview),
    ...panes.flatMap((pane, index) => [
      paragraph(
        `Part ${index + 1} of ${panes.length}: ${words(pane.xMm)} to ${words(pane.xMm + pane.widthMm)} from the left, ${words(pane.yMm)} to ${words(pane.yMm + pane.heightMm)} from the head; neighbours share a strip.`,
      ),
      picture(sheet, pane, scale),
    ]),
  ];
}

/** Where everything lies, too small to be lettered, and which part shows what of it. */
function overviewOf(sheet: CutSheet, panes: readonly Rect[], scale: number): ReactNode {
  const [width, height] = [sheet.widthMm * scale, sheet.heightMm * scale];
  const box = ({ xMm, yMm, widthMm, heightMm }: Rect) => ({
    x: xMm * scale,
    y: yMm * scale,
    width: widthMm * scale,
    height: heightMm * scale,
  });
  return h(
    View,
    { style: { height: height + 6 }, wrap: false },
    h(
      Svg,
      { width: width + 2, height: height + 2, viewBox: `-1 -1 ${width + 2} ${height + 2}` },
      h(Box, { x: 0, y: 0, width, height, fill: '#ffffff', stroke: ink, strokeWidth: 0.8 }),
      ...sheet.pieces.map(({ rect }, index) =>
        h(Box, { key: `p${index}`, ...box(rect), fill: '#e8e4dc', stroke: hairline, strokeWidth: 0.4 }),
      ),
      ...panes.flatMap((pane, index) => {
        const { x, y, width: w, height: t } = box(pane);
        return [
          h(Box, { key: `f${index}`, ...box(pane), fill: 'none', stroke: ink, strokeWidth: 0.8 }),
          h(Box, { key: `b${index}`, x: x + w / 2 - 34, y: y + t / 2 - 8, width: 68, height: 16, fill: '#ffffff' }),
          label(x + w / 2, y + t / 2, `Part ${index + 1}`, 11, ink, `n${index}`),
        ];
      }),
    ),
  );
}

/** What of the sheet lies in the pane. A letter or number that would come out too small to read is left out; the tables have them all. */
function picture(sheet: CutSheet, pane: Rect, scale: number): ReactNode {
  const [width, height] = [pane.widthMm * scale, pane.heightMm * scale];
  const x = (mm: number) => (mm - pane.xMm) * scale;
  const y = (mm: number) => (mm - pane.yMm) * scale;
  const pieces = sheet.pieces.flatMap(({ rect }, index) => {
    const shown = within(rect, pane);
    return shown === null ? [] : [{ shown, index }];
  });
  const lines = cutLines(sheet).flatMap((line) => {
    const shown = lineWithin(line, pane);
    return shown === null ? [] : [{ line, shown }];
  });
  return h(
    View,
    { style: { height: height + 6 }, wrap: false },
    h(
      Svg,
      { width: width + 2, height: height + 2, viewBox: `-1 -1 ${width + 2} ${height + 2}` },
      h(Box, { x: 0, y: 0, width, height, fill: '#ffffff', stroke: ink, strokeWidth: 0.8 }),
      ...pieces.map(({ shown, index }) => {
        const size = Math.min(11, letterSize(shown, index, scale));
        const [w, t] = [shown.widthMm * scale, shown.heightMm * scale];
        const [left, top] = [x(shown.xMm), y(shown.yMm)];
        return h(
          G,
          { key: `p${index}` },
          h(Box, { x: left, y: top, width: w, height: t, fill: '#e8e4dc', stroke: hairline, strokeWidth: 0.4 }),
          size < leastLetter ? null : label(left + w / 2, top + t / 2, pieceLetter(index), size, ink, `l${index}`),
        );
      }),
      ...lines.map(({ line, shown }) =>
        h(Line, {
          key: `c${line.number}`,
          x1: x(shown.from.x),
          y1: y(shown.from.y),
          x2: x(shown.to.x),
          y2: y(shown.to.y),
          stroke: line.trim ? faint : ink,
          strokeWidth: 0.7,
        }),
      ),
      ...lines.map(({ line, shown }) => {
        const words = String(line.number);
        const at = shown.label;
        const size = Math.min(6.5, line.roomMm * scale * 0.3);
        if (at === null || size < leastNumber) return null;
        const reach = size * (0.45 + 0.54 * words.length);
        return h(
          G,
          { key: `n${line.number}` },
          h(Box, {
            x: x(at.x) - reach / 2,
            y: y(at.y) - size * 0.58,
            width: reach,
            height: size * 1.16,
            fill: '#ffffff',
          }),
          label(x(at.x), y(at.y), words, size, ink, `m${line.number}`),
        );
      }),
    ),
  );
}

function label(x: number, y: number, text: string, size: number, fill: string, key: string): ReactNode {
  return h(
    Text as unknown as 'text',
    { key, x, y: y + size * 0.35, fill, textAnchor: 'middle', style: { fontSize: size } } as object,
    text,
  );
}

type Shown = Readonly<{
  from: CutLine['from'];
  to: CutLine['to'];
  /** Null where the number stands in another part. */
  label: CutLine['label'] | null;
}>;

/** What of a cut lies in the pane; a cut along the edge of two parts is in both. */
function lineWithin({ from, to, label: at }: CutLine, pane: Rect): Shown | null {
  const [right, foot] = [pane.xMm + pane.widthMm, pane.yMm + pane.heightMm];
  const clamp = (value: number, low: number, high: number) => Math.max(low, Math.min(high, value));
  const inside = (one: number, other: number, low: number, high: number) => one <= high && other >= low;
  if (!inside(from.x, to.x, pane.xMm, right) || !inside(from.y, to.y, pane.yMm, foot)) return null;
  const own = at.x >= pane.xMm && at.x <= right && at.y >= pane.yMm && at.y <= foot;
  return {
    from: { x: clamp(from.x, pane.xMm, right), y: clamp(from.y, pane.yMm, foot) },
    to: { x: clamp(to.x, pane.xMm, right), y: clamp(to.y, pane.yMm, foot) },
    label: own ? at : null,
  };
}
