/** Tables of the Shelf beside the books themselves: the bench's own operations and recipes, and how a person likes to see the list. */
import { integer, sqliteTable, text, uniqueIndex } from 'drizzle-orm/sqlite-core';
import type { Operation } from '../../core/treatment/operation.ts';

/**
 * Operations as this workshop does them: its own, and its own versions of those the program brings. The newest version of each counts; rows
 * are added and never changed, so that a record can say what was meant.
 */
export const ownOperation = sqliteTable(
  'own_operation',
  {
    id: text('id').primaryKey(),
    operationId: text('operation_id').notNull(),
    version: integer('version').notNull(),
    /** All of the operation as it was written; its id and version are the columns'. */
    definition: text('definition', { mode: 'json' }).$type<Operation>().notNull(),
    /** From this version on the workshop does not use it; one the program brings is then as the program brings it. */
    withdrawn: integer('withdrawn', { mode: 'boolean' }).notNull(),
    madeAt: integer('made_at').notNull(),
  },
  (table) => [uniqueIndex('own_operation_version').on(table.operationId, table.version)],
);

/** A treatment kept under a name, to be offered for other books: operations in their order. */
export const ownTreatment = sqliteTable(
  'own_treatment',
  {
    id: text('id').primaryKey(),
    name: text('name').notNull(),
    operations: text('operations', { mode: 'json' }).$type<readonly string[]>().notNull(),
    note: text('note').notNull(),
    madeAt: integer('made_at').notNull(),
  },
  (table) => [uniqueIndex('own_treatment_name').on(table.name)],
);

/** A way of looking at the list: what is asked of it and which columns are shown. */
export const savedView = sqliteTable(
  'saved_view',
  {
    id: text('id').primaryKey(),
    name: text('name').notNull(),
    /** Words, filter and order, as the contract knows them. */
    query: text('query', { mode: 'json' }).$type<unknown>().notNull(),
    columns: text('columns', { mode: 'json' }).$type<readonly string[]>().notNull(),
  },
  (table) => [uniqueIndex('saved_view_name').on(table.name)],
);
