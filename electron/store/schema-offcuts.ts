/** Tables of the Offcuts room beside the pieces themselves. */
import { integer, sqliteTable, text, uniqueIndex } from 'drizzle-orm/sqlite-core';
import { book } from './schema.ts';

/** A colour measured on a book or typed for its repair: of its covering or of its endpapers, Lab at D50. */
export const bookColour = sqliteTable(
  'book_colour',
  {
    id: text('id').primaryKey(),
    bookId: text('book_id')
      .notNull()
      .references(() => book.id),
    /** `covering` or `endpaper`. */
    of: text('of').notNull(),
    lab: text('lab', { mode: 'json' }).$type<[number, number, number]>().notNull(),
    /** How it was measured. */
    measured: text('measured').notNull(),
  },
  (table) => [uniqueIndex('book_colour_of').on(table.bookId, table.of)],
);

/** How this bench cuts: one row once a person has changed it, none before. */
export const cuttingHabits = sqliteTable('cutting_habits', {
  id: text('id').primaryKey(),
  /** What the blade takes. */
  kerfUm: integer('kerf_um').notNull(),
  /** Cut off new sheets all round. */
  trimUm: integer('trim_um').notNull(),
  /** Short side of the smallest remnant that is kept. */
  usefulUm: integer('useful_um').notNull(),
  /** Turns of the work at most; null for any number. */
  mostTurns: integer('most_turns'),
});
