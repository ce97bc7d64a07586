/** The Reckoner answers: prints a drawing at its own size, and keeps what a book differs in. */
import { eq } from 'drizzle-orm';
import type { FileAnswer } from '../../core/contract/ask.ts';
import { ok, type Result, refuse } from '../../core/result.ts';
import { measured, onBook, scopeOf } from '../../core/trade/book-measures.ts';
import { type Calculation, readField } from '../../core/trade/calculation.ts';
import type { KeptMeasures } from '../../core/trade/own-case.ts';
import type { GlyphWidths } from '../../core/trade/panels.ts';
import { calculations } from '../../core/trade/reckoner.ts';
import type { Paper } from '../../core/trade/tiles.ts';
import { printDrawing } from '../print/drawing.ts';
import { bookOf } from '../store/books.ts';
import { readHabits } from '../store/habits.ts';
import { keptMeasures, keptRows } from '../store/reckoner.ts';
import { book, measure } from '../store/schema.ts';
import type { Workshop } from '../store/workshop.ts';
import { answer, inWorkshop } from './desk.ts';

const { reckoner: room } = inWorkshop;

type Typed = Readonly<Record<string, string>>;

export const reckoner = {
  print: room.print.handler(async ({ input, context, errors }) => answer(await print(context.store, input), errors)),
  kept: room.kept.handler(({ input, context, errors }) => {
    answer(bookNamed(context.store, input.bookId), errors);
    return keptMeasures(context.store.db, input.bookId);
  }),
  keep: room.keep.handler(({ input, context, errors }) => answer(keep(context.store, input), errors)),
};

async function print(
  store: Workshop,
  input: Readonly<{
    calculation: string;
    typed: Typed;
    paper: Paper;
    bookId?: string | undefined;
    glyphs?: GlyphWidths | undefined;
  }>,
): Promise<Result<FileAnswer>> {
  const calculation = calculationNamed(input.calculation);
  if (!calculation.ok) return calculation;
  const { habits } = readHabits(store.db);
  const reckoned = calculation.value.reckon(input.typed, {
    unit: habits.units,
    ...(input.glyphs === undefined ? {} : { glyphs: input.glyphs }),
  });
  if (!reckoned.ok) return reckoned;
  const { drawing } = reckoned.value;
  if (drawing === undefined)
    return refuse(`Nothing is drawn for “${calculation.value.title}”, so there is nothing to print.`);
  const named = input.bookId === undefined ? ok(null) : bookNamed(store, input.bookId);
  if (!named.ok) return named;
  const bytes = await printDrawing(drawing, {
    units: habits.units,
    paper: input.paper,
    lead: named.value === null ? '' : shortened(named.value.title),
    workshop: shortened(habits.name),
  });
  return ok({
    fileName: `${calculation.value.id}.pdf`,
    mediaType: 'application/pdf',
    base64: bytes.toString('base64'),
  });
}

/**
 * Keeps the fields that differ from what the book itself gives, under the calculation's scope, in one change. A field typed as the book has
 * it anyway, or emptied, is kept no longer. Refuses what the calculation refuses, where the book is measured.
 */
function keep(
  store: Workshop,
  input: Readonly<{ bookId: string; calculation: string; typed: Typed }>,
): Result<KeptMeasures> {
  const calculation = calculationNamed(input.calculation);
  if (!calculation.ok) return calculation;
  const found = bookNamed(store, input.bookId);
  if (!found.ok) return found;
  const { habits } = readHabits(store.db);
  const { fields, reckon, title } = calculation.value;
  const scope = scopeOf(calculation.value.id);
  const before = keptMeasures(store.db, input.bookId);
  const own = onBook(calculation.value, found.value, { ...before, [scope]: {} }).typed;

  const values = new Map<string, Readonly<{ lengthUm: number | null; words: string | null }> | null>();
  for (const [key, typed] of Object.entries(input.typed)) {
    const field = fields[key];
    if (field === undefined) return refuse(`“${title}” does not ask for that.`, key);
    const read = readField(field, typed, habits.units);
    if (typed.trim() !== '' && !read.ok) return refuse(read.refusal.sentence, key);
    const itself = readField(field, own[key] ?? field.usual, habits.units);
    const same = read.ok && itself.ok && read.value === itself.value;
    if (typed.trim() === '' || same || !read.ok) values.set(key, null);
    else if (field.kind === 'length') values.set(key, { lengthUm: Math.round(Number(read.value) * 1000), words: null });
    else values.set(key, { lengthUm: null, words: typed.trim() });
  }
  if (measured(found.value).ok) {
    const after = { ...before[scope], ...input.typed };
    const kept = Object.fromEntries(Object.entries(after).filter(([, typed]) => typed.trim() !== ''));
    const trial = onBook(calculation.value, found.value, { ...before, [scope]: kept });
    const reckoned = reckon(trial.typed, { unit: habits.units });
    // A calculation that needs what only the page has measured, such as widths of letters, is not refused for it.
    if (!reckoned.ok && reckoned.refusal.field !== undefined) return reckoned;
  }
  const rows = new Map(
    keptRows(store.db, input.bookId)
      .filter((row) => row.calculation === scope)
      .map((row) => [row.field, row]),
  );
  const written = store.write(`Keep measures of ${quote(found.value.title)}`, (change) => {
    for (const [field, value] of values) {
      const row = rows.get(field);
      if (value === null) {
        if (row !== undefined) change.remove(measure, row.id);
      } else if (row !== undefined) change.update(measure, row.id, value);
      else change.insert(measure, { bookId: input.bookId, calculation: scope, field, ...value });
    }
  });
  return written.ok ? ok(keptMeasures(store.db, input.bookId)) : written;
}

function calculationNamed(id: string): Result<Calculation> {
  const found = calculations.find((one) => one.id === id);
  return found === undefined ? refuse('The Reckoner has no such calculation.', 'calculation') : ok(found);
}

function bookNamed(store: Workshop, id: string): Result<ReturnType<typeof bookOf>> {
  const row = store.db.select().from(book).where(eq(book.id, id)).get();
  return row === undefined
    ? refuse('This book is no longer on the shelf; it may have been removed meanwhile.', 'bookId')
    : ok(bookOf(row));
}

function shortened(words: string): string {
  return words.length > 60 ? `${words.slice(0, 59)}…` : words;
}

function quote(title: string): string {
  return `“${shortened(title)}”`;
}
