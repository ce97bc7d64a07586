/**
 * The treatment record on paper, and the card that lies in the book. What they say is composed in core; here it is set: photographs two
 * to a row at one scale where both have one, their marks drawn over them as lines.
 */
import { Ellipse, Image, Polyline, Rect, Svg, Text, View } from '@react-pdf/renderer';
import { createElement as h, type ReactNode } from 'react';
import type { FileAnswer } from '../../core/contract/ask.ts';
import { drawMark, strokeOf } from '../../core/photographs/marks.ts';
import { ok, type Result, refuse } from '../../core/result.ts';
import { composeRecord } from '../../core/treatment/record.ts';
import type { RecordPart, RecordPhotograph } from '../../core/treatment/record-shape.ts';
import { readHabits } from '../store/habits.ts';
import { readRecord } from '../store/records.ts';
import type { Workshop } from '../store/workshop.ts';
import { barMm, pictureWords, type RecordPicture, recordPictures } from './record-pictures.ts';
import { caution, faint, hairline, ink, paragraph, printSheet, section, table, widthWithin } from './sheet.ts';

const gone = 'This book is no longer in the workshop.';

/** The record as a PDF on the workshop's paper. Refuses a book that is not there. */
export async function printRecord(store: Workshop, bookId: string): Promise<Result<FileAnswer>> {
  const read = readRecord(store.db, bookId);
  if (read === null) return refuse(gone, 'bookId');
  const { habits } = readHabits(store.db);
  const record = composeRecord(read.facts);
  const pictures = await recordPictures(store.folder, read.photographs);
  const width = widthWithin(habits);
  const body = record.sections.flatMap(({ title, parts }) => [
    section(title),
    ...parts.map((part) => partView(part, pictures, width)),
  ]);
  const bytes = await printSheet({ title: record.title.slice(0, 300), lead: record.lead, workshop: habits, body });
  return ok({
    fileName: fileName(read.facts.book, 'record.pdf'),
    mediaType: 'application/pdf',
    base64: bytes.toString('base64'),
  });
}

/** Of an A6 sheet (ISO 216), in points. */
const card = { width: 297.64, height: 419.53 };

/** One page with the card to cut out. */
export async function printCard(store: Workshop, bookId: string): Promise<Result<FileAnswer>> {
  const read = readRecord(store.db, bookId);
  if (read === null) return refuse(gone, 'bookId');
  const { habits } = readHabits(store.db);
  const record = composeRecord(read.facts);
  const title = record.title.length > 120 ? `${record.title.slice(0, 119)}…` : record.title;
  const rows = record.card.map(([name, words]) =>
    h(
      View,
      { key: name, style: { marginBottom: 4 } },
      h(Text, { style: { fontSize: 6.5, color: faint } }, name),
      h(Text, { style: { fontSize: 8, lineHeight: 1.2 } }, plain(words)),
    ),
  );
  const face = h(
    View,
    {
      wrap: false,
      style: { ...card, borderWidth: 0.5, borderStyle: 'dashed', borderColor: faint, padding: 14, overflow: 'hidden' },
    },
    h(
      Text,
      { style: { fontFamily: ['Serif', 'Serif wide'], fontSize: 11, fontWeight: 600, marginBottom: 4 } },
      plain(title),
    ),
    ...rows,
    h(
      Text,
      { style: { position: 'absolute', left: 14, right: 14, bottom: 8, fontSize: 6.5, color: faint } },
      plain(`${habits.name}. The treatment record has all of it.`),
    ),
  );
  const bytes = await printSheet({
    title: 'Card for the book',
    lead: 'Cut along the line; acid-free paper. It lies in the book and touches no plate.',
    workshop: habits,
    body: [face],
  });
  return ok({
    fileName: fileName(read.facts.book, 'card.pdf'),
    mediaType: 'application/pdf',
    base64: bytes.toString('base64'),
  });
}

/** "B25 Rambles in Dorset record.pdf", of letters every system can keep. */
export function fileName(book: Readonly<{ shelfMark: string | null; title: string }>, what: string): string {
  const words = [book.shelfMark ?? '', book.title.slice(0, 40), what].filter((one) => one !== '').join(' ');
  return words
    .replace(/[^\p{L}\p{N} ._-]/gu, '')
    .replace(/ {2,}/g, ' ')
    .trim();
}

function partView(part: RecordPart, pictures: ReadonlyMap<string, RecordPicture>, width: number): ReactNode {
  switch (part.kind) {
    case 'words':
      return paragraph(part.words);
    case 'missing':
      return h(Text, { style: { color: faint, marginBottom: 5 } }, part.words);
    case 'caution':
      return caution(part.words);
    case 'table':
      return table(part.columns, part.rows);
    case 'photographs':
      return picturesView(part.photographs, pictures, width);
  }
}

const gap = 12;
/** No picture taller than this, so that three rows fit a page. Common practice, no source. */
const mostHigh = 250;

function picturesView(
  told: readonly RecordPhotograph[],
  pictures: ReadonlyMap<string, RecordPicture>,
  width: number,
): ReactNode {
  const shown = told.flatMap(({ id, words }) => {
    const picture = pictures.get(id);
    return picture === undefined ? [] : [{ picture, words }];
  });
  const missing = told.length - shown.length;
  const rows: ReactNode[] = [];
  for (let at = 0; at < shown.length; at += 2) {
    const row = shown.slice(at, at + 2);
    const widths = rowWidths(
      row.map(({ picture }) => picture),
      width,
    );
    const faces = row.map(({ picture, words }, side) =>
      h(
        View,
        { key: picture.photograph.id, style: { width: widths[side] ?? 0, marginRight: gap } },
        pictureView(picture, widths[side] ?? 0),
        h(Text, { style: { fontSize: 8, color: faint, marginTop: 2 } }, plain(pictureWords(picture, words))),
      ),
    );
    rows.push(h(View, { key: at, wrap: false, style: { flexDirection: 'row', marginVertical: 6 } }, ...faces));
  }
  const left =
    missing === 0
      ? null
      : h(Text, { style: { color: faint } }, `${missing} of the photographs can no longer be read and are left out.`);
  return h(View, null, ...rows, left);
}

/** At one scale where all of a row have one; else equally wide. None higher than there is room for. */
function rowWidths(row: readonly RecordPicture[], width: number): readonly number[] {
  const room = (width - gap) / 2;
  const mm = row.map(({ widthMm }) => widthMm);
  const ratio = ({ photograph }: RecordPicture) => photograph.heightPx / photograph.widthPx;
  if (row.length > 1 && mm.every((one) => one !== null)) {
    const widest = Math.max(...mm);
    const highest = Math.max(...row.map((picture, at) => (mm[at] ?? 0) * ratio(picture)));
    const points = Math.min(room / widest, mostHigh / highest);
    return mm.map((one) => one * points);
  }
  return row.map((picture) => Math.min(room, mostHigh / ratio(picture)));
}

function pictureView({ photograph, jpeg, widthMm }: RecordPicture, width: number): ReactNode {
  const { widthPx, heightPx, marks } = photograph;
  const height = (width * heightPx) / widthPx;
  // A line must be seen in print whatever the picture's pixels are.
  const stroke = Math.max(strokeOf(widthPx, heightPx), (0.8 * widthPx) / width);
  const shapes = marks.flatMap((mark, index) => {
    const { paths, ellipse } = drawMark(mark, stroke);
    const lines = [['#ffffff', stroke * 2.4] as const, [ink, stroke] as const].flatMap(
      ([colour, strokeWidth], under) => [
        ...paths.map((path, at) =>
          h(Polyline, {
            key: `${index} ${under} ${at}`,
            points: path.map(({ x, y }) => `${x},${y}`).join(' '),
            stroke: colour,
            strokeWidth,
            fill: 'none',
          }),
        ),
        ellipse === null
          ? null
          : h(Ellipse, {
              key: `${index} ${under} ring`,
              cx: ellipse.centre.x,
              cy: ellipse.centre.y,
              rx: ellipse.rx,
              ry: ellipse.ry,
              stroke: colour,
              strokeWidth,
              fill: 'none',
            }),
      ],
    );
    return lines;
  });
  // Set beside the drawing, not within it: only there are the sheet's own fonts used.
  const points = width / widthPx;
  const texts = marks.flatMap((mark, index) => {
    const { words } = drawMark(mark, stroke);
    if (words === null) return [];
    const fontSize = Math.max(words.size * points, 6.5);
    const at = { left: words.at.x * points, top: words.at.y * points - fontSize };
    const style = {
      position: 'absolute',
      ...at,
      fontSize,
      lineHeight: 1,
      backgroundColor: 'rgba(255,255,255,0.8)',
    } as const;
    return h(Text, { key: index, style }, plain(words.text));
  });
  const bar = widthMm === null ? null : (barMm(widthMm) * widthPx) / widthMm;
  const high = Math.max(widthPx, heightPx) / 90;
  return h(
    View,
    { style: { width, height, borderWidth: 0.5, borderColor: hairline } },
    h(Image, { src: { data: jpeg, format: 'jpg' }, style: { width, height } }),
    h(
      Svg,
      { width, height, viewBox: `0 0 ${widthPx} ${heightPx}`, style: { position: 'absolute', top: 0, left: 0 } },
      ...shapes,
      bar === null
        ? null
        : h(Rect, {
            x: high,
            y: heightPx - high * 2,
            width: bar,
            height: high,
            fill: ink,
            stroke: '#ffffff',
            strokeWidth: stroke / 2,
          }),
    ),
    ...texts,
  );
}

function plain(words: string): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: that is what is being removed
  return words.replace(/[\u0000-\u0008\u000b-\u001f\u007f]/g, ' ');
}
