/** What the Stockroom knows beside materials and their ledger: suppliers, prices as they were quoted, what will do instead, what is made here. */
import { index, integer, sqliteTable, text, uniqueIndex } from 'drizzle-orm/sqlite-core';
import { material } from './schema.ts';

/** Terms of the supplier whom materials name in words. */
export const supplier = sqliteTable(
  'supplier',
  {
    id: text('id').primaryKey(),
    name: text('name').notNull(),
    postageMinor: integer('postage_minor').notNull(),
    /** No postage from this much on; null where it is always asked. */
    freeFromMinor: integer('free_from_minor'),
    minimumMinor: integer('minimum_minor').notNull(),
    /** Days a parcel takes; a material that takes longer says so itself. Null: each material says. */
    leadDays: integer('lead_days'),
    note: text('note').notNull(),
  },
  (table) => [uniqueIndex('supplier_name').on(table.name)],
);

export const priceQuote = sqliteTable(
  'price_quote',
  {
    id: text('id').primaryKey(),
    materialId: text('material_id')
      .notNull()
      .references(() => material.id),
    quotedOn: text('quoted_on').notNull(),
    packMillionths: integer('pack_millionths').notNull(),
    packPriceMinor: integer('pack_price_minor').notNull(),
    supplier: text('supplier').notNull(),
    note: text('note').notNull(),
  },
  (table) => [index('price_quote_material').on(table.materialId, table.quotedOn)],
);

/** Where the first runs out, the second would do. */
export const substitute = sqliteTable(
  'substitute',
  {
    id: text('id').primaryKey(),
    materialId: text('material_id')
      .notNull()
      .references(() => material.id),
    substituteId: text('substitute_id')
      .notNull()
      .references(() => material.id),
    note: text('note').notNull(),
  },
  (table) => [
    uniqueIndex('substitute_pair').on(table.materialId, table.substituteId),
    index('substitute_of').on(table.substituteId),
  ],
);

/** How a material is made here: one batch yields so much, and keeps so long. */
export const recipe = sqliteTable(
  'recipe',
  {
    id: text('id').primaryKey(),
    materialId: text('material_id')
      .notNull()
      .references(() => material.id),
    yieldMillionths: integer('yield_millionths').notNull(),
    keepsDays: integer('keeps_days').notNull(),
    note: text('note').notNull(),
  },
  (table) => [uniqueIndex('recipe_material').on(table.materialId)],
);

export const ingredient = sqliteTable(
  'ingredient',
  {
    id: text('id').primaryKey(),
    recipeId: text('recipe_id')
      .notNull()
      .references(() => recipe.id),
    materialId: text('material_id')
      .notNull()
      .references(() => material.id),
    quantityMillionths: integer('quantity_millionths').notNull(),
  },
  (table) => [
    uniqueIndex('ingredient_pair').on(table.recipeId, table.materialId),
    index('ingredient_of').on(table.materialId),
  ],
);
