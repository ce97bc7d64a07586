/**
 * Photographs, and what only a person can say in a book's treatment record. The picture itself lies untouched in the workshop's
 * `photographs/` under its hash; a row says what it shows. Places in a picture are pixels of it upright, from the upper left.
 */
import { index, integer, sqliteTable, text, uniqueIndex } from 'drizzle-orm/sqlite-core';
import type { KnownLine, PictureMark } from '../../core/photographs/marks.ts';
import { book, finding, piece } from './schema.ts';

export const photograph = sqliteTable(
  'photograph',
  {
    id: text('id').primaryKey(),
    /** SHA-256 of the file, in hexadecimal: its name in the folder. */
    hash: text('hash').notNull(),
    mediaType: text('media_type').notNull(),
    bytes: integer('bytes').notNull(),
    /** Width and height of the picture upright. */
    widthPx: integer('width_px').notNull(),
    heightPx: integer('height_px').notNull(),
    /** When the camera says it was taken; null where it does not. */
    takenAt: integer('taken_at'),
    addedAt: integer('added_at').notNull(),
    /** What it shows: a book, a finding of that book as well, or a piece of the drawer. */
    bookId: text('book_id').references(() => book.id),
    findingId: text('finding_id').references(() => finding.id),
    pieceId: text('piece_id').references(() => piece.id),
    /** before, during or after treatment; empty where that does not matter. */
    stage: text('stage').notNull(),
    caption: text('caption').notNull(),
    /** As the file was called when it came. */
    fileName: text('file_name').notNull(),
    /** A line in the picture whose length is known. */
    scale: text('scale', { mode: 'json' }).$type<KnownLine | null>(),
    marks: text('marks', { mode: 'json' }).$type<readonly PictureMark[]>().notNull(),
  },
  (table) => [
    index('photograph_hash').on(table.hash),
    index('photograph_book').on(table.bookId),
    index('photograph_finding').on(table.findingId),
    index('photograph_piece').on(table.pieceId),
  ],
);

/** One row a book; everything else a record holds follows from the other tables. */
export const treatmentRecord = sqliteTable(
  'treatment_record',
  {
    id: text('id').primaryKey(),
    bookId: text('book_id')
      .notNull()
      .references(() => book.id),
    /** Materials, structure and what makes this copy itself, beyond the shelf's fields. */
    description: text('description').notNull(),
    conditionBefore: text('condition_before').notNull(),
    /** Why it was treated, for whom, and what was agreed with them. */
    purpose: text('purpose').notNull(),
    /** Where and why the work differed from what was agreed. */
    departures: text('departures').notNull(),
    /** Original material taken off and kept, and where it now is. */
    kept: text('kept', { mode: 'json' }).$type<readonly Readonly<{ what: string; where: string }>[]>().notNull(),
    conditionAfter: text('condition_after').notNull(),
    care: text('care').notNull(),
    signedBy: text('signed_by').notNull(),
    signedOn: text('signed_on'),
  },
  (table) => [uniqueIndex('treatment_record_book').on(table.bookId)],
);
