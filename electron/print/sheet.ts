/** The one look of everything printed: the workshop's heading, a title, tables and pictures, page numbers, fonts embedded. */
import { createRequire } from 'node:module';
import { Document, type DocumentProps, Font, Page, renderToBuffer, StyleSheet, Text, View } from '@react-pdf/renderer';
import { createElement, type ReactElement, type ReactNode } from 'react';
import type { Habits } from '../../core/contract/workshop.ts';

const h = createElement;
const { resolve } = createRequire(import.meta.url);

const faces = [
  ['Sans', 'source-sans-3', 'latin'],
  ['Sans wide', 'source-sans-3', 'latin-ext'],
  ['Serif', 'source-serif-4', 'latin'],
  ['Serif wide', 'source-serif-4', 'latin-ext'],
] as const;
for (const [family, face, range] of faces) {
  Font.register({
    family,
    fonts: ([400, 600] as const).map((fontWeight) => ({
      src: resolve(`@fontsource/${face}/files/${face}-${range}-${fontWeight}-normal.woff`),
      fontWeight,
    })),
  });
}
// Words are not broken in a list that is read at arm's length.
Font.registerHyphenationCallback((word) => [word]);

/** Ink and hairlines of printed sheets; print is always dark on white. */
export const ink = '#1d1b18';
export const faint = '#6d675e';
export const hairline = '#c9c3b8';

const styles = StyleSheet.create({
  page: {
    paddingTop: 46,
    paddingBottom: 46,
    paddingHorizontal: 40,
    fontFamily: ['Sans', 'Sans wide'],
    fontSize: 9.5,
    color: ink,
  },
  heading: {
    position: 'absolute',
    top: 22,
    left: 40,
    right: 40,
    flexDirection: 'row',
    justifyContent: 'space-between',
    fontSize: 8,
    color: faint,
  },
  letterhead: { marginBottom: 14, paddingBottom: 6, borderBottomWidth: 0.5, borderBottomColor: hairline },
  letterheadName: { fontFamily: ['Serif', 'Serif wide'], fontSize: 12, fontWeight: 600 },
  letterheadLine: { fontSize: 8.5, color: faint },
  foot: { position: 'absolute', bottom: 22, left: 40, right: 40, textAlign: 'right', fontSize: 8, color: faint },
  title: { fontFamily: ['Serif', 'Serif wide'], fontSize: 18, fontWeight: 600, marginBottom: 2 },
  lead: { color: faint, marginBottom: 10 },
  section: { fontFamily: ['Serif', 'Serif wide'], fontSize: 12, fontWeight: 600, marginTop: 12, marginBottom: 4 },
  // A line's height is reckoned from the size named beside it, not from the page's.
  paragraph: { fontSize: 9.5, marginBottom: 5, lineHeight: 1.35 },
  caution: {
    fontSize: 9.5,
    borderLeftWidth: 2,
    borderLeftColor: ink,
    paddingLeft: 6,
    marginVertical: 4,
    lineHeight: 1.3,
  },
  row: { flexDirection: 'row', borderBottomWidth: 0.5, borderBottomColor: hairline, paddingVertical: 3 },
  head: {
    flexDirection: 'row',
    borderBottomWidth: 1,
    borderBottomColor: ink,
    paddingBottom: 3,
    color: faint,
    fontSize: 8,
  },
});

/** The workshop's own heading and its paper, as its habits have them. */
export type Letterhead = Pick<Habits, 'name' | 'heading' | 'paper'>;

export type Sheet = Readonly<{
  title: string;
  lead: string;
  /** Whose sheet it is, and on what paper; a workshop's habits hold it. */
  workshop: Letterhead;
  orientation?: 'portrait' | 'landscape';
  body: readonly ReactNode[];
}>;

/** A sheet as PDF bytes. */
export function printSheet(sheet: Sheet): Promise<Buffer> {
  const page = h(
    Page,
    { size: sheet.workshop.paper, orientation: sheet.orientation ?? 'portrait', style: styles.page },
    h(
      View,
      { style: styles.heading, fixed: true },
      h(Text, null, printable(sheet.workshop.name)),
      h(Text, null, printable(sheet.title)),
    ),
    letterhead(sheet.workshop),
    h(Text, { style: styles.title }, printable(sheet.title)),
    h(Text, { style: styles.lead }, printable(sheet.lead)),
    ...sheet.body,
    h(Text, {
      style: styles.foot,
      fixed: true,
      render: ({ pageNumber, totalPages }) => `Page ${pageNumber} of ${totalPages}`,
    }),
  );
  const document = h(Document, { title: sheet.title, creator: 'Kettlestitch', producer: 'Kettlestitch' }, page);
  return renderToBuffer(document as ReactElement<DocumentProps>);
}

/** Pages of their own, each with the workshop's letterhead: letters and certificates, one a person. */
export function printPages(
  title: string,
  workshop: Letterhead,
  pages: readonly (readonly ReactNode[])[],
  orientation: 'portrait' | 'landscape' = 'portrait',
): Promise<Buffer> {
  const sheets = pages.map((body, key) =>
    h(
      Page,
      { key, size: workshop.paper, orientation, style: styles.page },
      h(
        View,
        { style: styles.letterhead },
        h(Text, { style: styles.letterheadName }, printable(workshop.name)),
        ...workshop.heading
          .split('\n')
          .filter((line) => line.trim() !== '')
          .map((line, index) => h(Text, { key: index, style: styles.letterheadLine }, printable(line))),
      ),
      ...body,
    ),
  );
  const document = h(Document, { title, creator: 'Kettlestitch', producer: 'Kettlestitch' }, ...sheets);
  return renderToBuffer(document as ReactElement<DocumentProps>);
}

/** A title within a page. */
export function heading(words: string): ReactNode {
  return h(Text, { style: styles.title }, printable(words));
}

/** Name and lines at the head of the first page; nothing where the workshop has no lines of its own. */
function letterhead({ name, heading }: Letterhead): ReactNode {
  const lines = heading.split('\n').filter((line) => line.trim() !== '');
  if (lines.length === 0) return null;
  return h(
    View,
    { style: styles.letterhead },
    h(Text, { style: styles.letterheadName }, printable(name)),
    ...lines.map((line, key) => h(Text, { key, style: styles.letterheadLine }, printable(line))),
  );
}

/** Width between a sheet's margins, in points: ISO 216 and 8 1/2 by 11 in. */
export function widthWithin({ paper }: Letterhead, orientation: 'portrait' | 'landscape' = 'portrait'): number {
  const [short, long] = paper === 'A4' ? [595.28, 841.89] : [612, 792];
  return (orientation === 'portrait' ? short : long) - 80;
}

export function section(words: string): ReactNode {
  return h(Text, { style: styles.section, minPresenceAhead: 40 }, printable(words));
}

export function paragraph(words: string): ReactNode {
  return h(Text, { style: styles.paragraph }, printable(words));
}

/** A caution as it stands beside the step it belongs to. */
export function caution(words: string): ReactNode {
  return h(View, { style: styles.caution, wrap: false }, h(Text, null, printable(`Caution: ${words}`)));
}

/** `share` is the column's part of the width; numbers are set flush right. */
export type Column = Readonly<{ head: string; share: number; align?: 'left' | 'right' }>;

/** A table whose head repeats on every page and whose rows are never split across two. */
export function table(columns: readonly Column[], rows: readonly (readonly string[])[]): ReactNode {
  const cell = (words: string, column: Column, key: number) =>
    h(
      Text,
      { key, style: { flex: column.share, textAlign: column.align ?? 'left', paddingRight: 6 } },
      printable(words),
    );
  return h(
    View,
    null,
    h(View, { style: styles.head, fixed: true }, ...columns.map((column, key) => cell(column.head, column, key))),
    ...rows.map((row, index) =>
      h(
        View,
        { key: index, style: styles.row, wrap: false },
        ...columns.map((column, key) => cell(row[key] ?? '', column, key)),
      ),
    ),
  );
}

/** Text the fonts can set: control characters would be drawn as boxes or break the layout. */
export function printable(words: string): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: that is what is being removed
  return words.replace(/[\u0000-\u0008\u000b-\u001f\u007f]/g, ' ');
}
