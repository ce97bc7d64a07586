/** Queries of what the Stockroom knows beside the ledger: suppliers' terms, prices, substitutes and recipes. */
import { asc, desc, eq } from 'drizzle-orm';
import type { SupplierTerms } from '../../core/contract/stockroom.ts';
import { ingredient, priceQuote, recipe, substitute, supplier } from './schema-stockroom.ts';
import type { Reader } from './workshop.ts';

/** Terms by the supplier's name. */
export function readTerms(db: Reader): ReadonlyMap<string, SupplierTerms> {
  return new Map(
    db
      .select()
      .from(supplier)
      .all()
      .map((row) => [row.name, row]),
  );
}

/** What is said of a supplier nobody has entered: nothing. */
export function unknownTerms(name: string): SupplierTerms {
  return { id: null, name, postageMinor: 0, freeFromMinor: null, minimumMinor: 0, leadDays: null, note: '' };
}

export type QuoteRow = typeof priceQuote.$inferSelect;

/** Newest first; of one material or of all. */
export function listQuotes(db: Reader, materialId?: string): readonly QuoteRow[] {
  return db
    .select()
    .from(priceQuote)
    .where(materialId === undefined ? undefined : eq(priceQuote.materialId, materialId))
    .orderBy(desc(priceQuote.quotedOn), desc(priceQuote.id))
    .all();
}

export type SubstituteRow = typeof substitute.$inferSelect;

/** In the order they were named. */
export function listSubstitutes(db: Reader): readonly SubstituteRow[] {
  return db.select().from(substitute).orderBy(asc(substitute.id)).all();
}

export type RecipeRow = typeof recipe.$inferSelect &
  Readonly<{ ingredients: readonly (typeof ingredient.$inferSelect)[] }>;

export function recipeOf(db: Reader, materialId: string): RecipeRow | null {
  const row = db.select().from(recipe).where(eq(recipe.materialId, materialId)).get();
  if (row === undefined) return null;
  const ingredients = db
    .select()
    .from(ingredient)
    .where(eq(ingredient.recipeId, row.id))
    .orderBy(asc(ingredient.id))
    .all();
  return { ...row, ingredients };
}

/** Every recipe by its first ingredient, which is what treatments ask for. */
export function listRecipes(db: Reader): readonly RecipeRow[] {
  return db
    .select({ materialId: recipe.materialId })
    .from(recipe)
    .orderBy(asc(recipe.id))
    .all()
    .flatMap(({ materialId }) => recipeOf(db, materialId) ?? []);
}
