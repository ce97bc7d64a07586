/** Changes of what the Stockroom knows beside the ledger: suppliers' terms, prices, what would do instead, and what is made here. */
import type { BatchInput, QuoteInput, RecipeInput, SupplierInput } from '../../core/contract/stockroom.ts';
import { ok, type Result, refuse } from '../../core/result.ts';
import { enter, exactWords, toMillionths } from '../../core/stock/ledger.ts';
import { bestBeforeOf, costOfUse, type Portion, takeOldest } from '../../core/stock/lots.ts';
import type { Material } from '../../core/stock/material.ts';
import { movement, stockLot } from '../store/schema.ts';
import { ingredient, priceQuote, recipe, substitute, supplier } from '../store/schema-stockroom.ts';
import { materialById, onHandMillionths } from '../store/stockroom.ts';
import { listLots, putPortions } from '../store/stockroom-lots.ts';
import { listSubstitutes, readTerms, recipeOf } from '../store/stockroom-terms.ts';
import type { Workshop } from '../store/workshop.ts';

type Words = Readonly<{ words: string }>;

export function saveSupplier(store: Workshop, input: SupplierInput): Result<Readonly<{ name: string }>> {
  const name = input.name.trim();
  if (name === '') return refuse('Give the supplier’s name.', 'name');
  const known = readTerms(store.db).get(name);
  const row = { ...input, name, note: input.note.trim() };
  const saved = store.write(`Keep the terms of ${name}`, (change) => {
    if (known?.id) change.update(supplier, known.id, row);
    else change.insert(supplier, row);
  });
  return saved.ok ? ok({ name }) : saved;
}

export function addQuote(store: Workshop, input: QuoteInput, today: string): Result<Words> {
  const found = materialById(store.db, input.materialId);
  if (found === null) return gone('materialId');
  if (input.on > today) return refuse('This price is of a day that has not come.', 'on');
  const { on, packQuantity, ...same } = input;
  const row = { ...same, quotedOn: on, packMillionths: toMillionths(packQuantity) };
  const written = store.write(`Note a price of ${found.name}`, (change) => change.insert(priceQuote, row));
  return written.ok ? ok({ words: `Noted a price of ${found.name}.` }) : written;
}

export function saveSubstitutes(
  store: Workshop,
  input: Readonly<{ materialId: string; substitutes: readonly Readonly<{ materialId: string; note: string }>[] }>,
): Result<Words> {
  const found = materialById(store.db, input.materialId);
  if (found === null) return gone('materialId');
  const wanted = new Map(input.substitutes.map((one) => [one.materialId, one.note.trim()]));
  if (wanted.has(found.id)) return refuse('A material cannot stand in for itself.', 'substitutes');
  for (const id of wanted.keys()) if (materialById(store.db, id) === null) return gone('substitutes');
  const before = listSubstitutes(store.db).filter((row) => row.materialId === found.id);
  const written = store.write(`Say what would do instead of ${found.name}`, (change) => {
    for (const row of before) {
      const note = wanted.get(row.substituteId);
      if (note === undefined) change.remove(substitute, row.id);
      else change.update(substitute, row.id, { note });
    }
    for (const [substituteId, note] of wanted) {
      if (before.some((row) => row.substituteId === substituteId)) continue;
      change.insert(substitute, { materialId: found.id, substituteId, note });
    }
  });
  return written.ok ? ok({ words: `Kept what would do instead of ${found.name}.` }) : written;
}

export function saveRecipe(store: Workshop, input: RecipeInput): Result<Words> {
  const found = materialById(store.db, input.materialId);
  if (found === null) return gone('materialId');
  const parts = readParts(store, found, input.ingredients);
  if (!parts.ok) return parts;
  const before = recipeOf(store.db, found.id);
  const { keepsDays } = input;
  const row = { materialId: found.id, yieldMillionths: toMillionths(input.yield), keepsDays, note: input.note.trim() };
  const written = store.write(`Say how ${found.name} is made`, (change) => {
    for (const old of before?.ingredients ?? []) change.remove(ingredient, old.id);
    if (before) change.update(recipe, before.id, row);
    const recipeId = before?.id ?? change.insert(recipe, row);
    for (const part of parts.value) {
      change.insert(ingredient, { recipeId, materialId: part.material.id, quantityMillionths: part.millionths });
    }
  });
  return written.ok ? ok({ words: `Kept how ${found.name} is made.` }) : written;
}

export function removeRecipe(store: Workshop, input: Readonly<{ materialId: string }>): Result<Words> {
  const found = materialById(store.db, input.materialId);
  const before = recipeOf(store.db, input.materialId);
  if (found === null || before === null) return refuse('Nothing says how this is made.', 'materialId');
  const written = store.write(`Forget how ${found.name} is made`, (change) => {
    for (const old of before.ingredients) change.remove(ingredient, old.id);
    change.remove(recipe, before.id);
  });
  return written.ok ? ok({ words: `${found.name} is no longer made here.` }) : written;
}

/** The ingredients out, first to expire first, and the batch in as one lot that cost what they cost: one entry of the journal. */
export function makeBatch(
  store: Workshop,
  input: BatchInput,
  now: number,
  today: string,
): Result<Readonly<{ onHand: number; words: string }>> {
  const found = materialById(store.db, input.materialId);
  if (found === null) return gone('materialId');
  const parts = readParts(store, found, input.ingredients);
  if (!parts.ok) return parts;
  const keepsDays = recipeOf(store.db, found.id)?.keepsDays ?? found.shelfLifeDays;
  const reason = input.reason.trim();
  const taken: Readonly<{ material: Material; portions: readonly Portion[]; costMinor: number }>[] = [];
  for (const [index, { material, quantity }] of parts.value.entries()) {
    const before = onHandMillionths(store.db, material.id);
    const entry = enter(before, { kind: 'out', quantity, reason }, material.unit);
    if (!entry.ok) {
      const { sentence, field } = entry.refusal;
      return refuse(`${material.name}: ${sentence}`, field === 'reason' ? 'reason' : `ingredients.${index}.quantity`);
    }
    const lots = listLots(store.db, material.id);
    const portions = takeOldest(lots, -entry.value.quantityMillionths);
    const costMinor = portions.reduce((sum, portion) => {
      const lot = lots.find(({ lotId }) => lotId === portion.lotId) ?? null;
      return sum + costOfUse(-portion.quantityMillionths, lot, material);
    }, 0);
    taken.push({ material, portions, costMinor });
  }
  const costMinor = Math.round(taken.reduce((sum, one) => sum + one.costMinor, 0));
  const made = toMillionths(input.made);
  const words = `${exactWords(made, found.unit)} of ${found.name}`;
  const written = store.write(`Make ${words}`, (change) => {
    const madeLotId = change.insert(stockLot, {
      materialId: found.id,
      receivedOn: today,
      bestBefore: bestBeforeOf(today, keepsDays),
      supplier: '',
      costMinor,
      number: input.number.trim(),
      note: 'Made here',
    });
    for (const { material, portions } of taken) {
      const why = reason === '' ? `For ${words}` : `For ${words}. ${reason}`;
      putPortions(change, portions, { materialId: material.id, kind: 'out', at: now, reason: why, madeLotId });
    }
    const line = { kind: 'in', quantityMillionths: made, at: now, reason: 'Made here', lotId: madeLotId };
    change.insert(movement, { ...line, materialId: found.id });
  });
  if (!written.ok) return written;
  return ok({ onHand: onHandMillionths(store.db, found.id) / 1e6, words: `Made ${words}.` });
}

type Part = Readonly<{ material: Material; quantity: number; millionths: number }>;

function readParts(
  store: Workshop,
  product: Material,
  named: readonly Readonly<{ materialId: string; quantity: number }>[],
): Result<readonly Part[]> {
  const parts: Part[] = [];
  for (const [index, { materialId, quantity }] of named.entries()) {
    const material = materialById(store.db, materialId);
    const field = `ingredients.${index}.materialId`;
    if (material === null) return gone(field);
    if (material.id === product.id) return refuse('Nothing is made of itself.', field);
    if (parts.some((part) => part.material.id === materialId)) return refuse(`${material.name} is named twice.`, field);
    parts.push({ material, quantity, millionths: toMillionths(quantity) });
  }
  return ok(parts);
}

function gone(field: string): Result<never> {
  return refuse('This material is no longer in the cupboard.', field);
}
