import type { Book } from '../book/book.ts';
import { ok, type Result, refuse } from '../result.ts';
import type { BookSize } from '../units/lengths.ts';
import type { Calculation } from './calculation.ts';
import { type CaseHabits, measureCase } from './case.ts';
import { hasBoards, type KeptMeasures, ownCase, sharedScope, typedMm } from './own-case.ts';
import { calculations } from './reckoner.ts';

/**
 * The Reckoner's calculations on one book: each starts from the book's own size and binding, and keeps apart what a person measured or
 * chose otherwise. Change the book and everything follows but what was kept.
 */

type Described = Pick<Book, 'title' | 'heightMm' | 'widthMm' | 'thicknessMm' | 'pages' | 'binding'>;

/** What every book in boards has: shown whether anything was kept or not. */
const always = ['case', 'spine-piece', 'linings', 'endpapers'] as const;

/** These start from the same case, and keep apart what is theirs alone. */
const following: ReadonlySet<string> = new Set(['jacket', 'recase', 'back']);

/** Under which name a calculation's fields are kept. */
export function scopeOf(calculation: string): string {
  return isAlways(calculation) ? sharedScope : calculation;
}

/** A calculation as it stands for a book: what is typed into each field, and which of it was kept. */
export type OnBook = Readonly<{
  calculation: Calculation;
  typed: Readonly<Record<string, string>>;
  /** The fields a person said otherwise, with what the book itself gives. */
  differs: Readonly<Record<string, string>>;
}>;

/** The calculations of a book, those every book has first, then those something was kept for. */
export function calculationsOn(book: Described, kept: KeptMeasures): readonly OnBook[] {
  const shown = calculations.filter(({ id }) => isAlways(id) || kept[id] !== undefined);
  return shown.map((calculation) => onBook(calculation, book, kept));
}

export function onBook(calculation: Calculation, book: Described, kept: KeptMeasures): OnBook {
  const keptHere = kept[scopeOf(calculation.id)] ?? {};
  const ofCase = kept[sharedScope] ?? {};
  const own = { ...ownValues(calculation.id, book, ofCase), ...(following.has(calculation.id) ? ofCase : {}) };
  const typed: Record<string, string> = {};
  const differs: Record<string, string> = {};
  for (const [key, field] of Object.entries(calculation.fields)) {
    const itself = own[key] ?? field.usual;
    const said = keptHere[key];
    typed[key] = said ?? itself;
    if (said !== undefined) differs[key] = itself;
  }
  return { calculation, typed, differs };
}

/** Refuses a book that was not measured, in the words of whoever has to measure it. */
export function measured(book: Described): Result<BookSize> {
  const { heightMm, widthMm, thicknessMm } = book;
  if (heightMm !== null && widthMm !== null && thicknessMm !== null) return ok({ heightMm, widthMm, thicknessMm });
  const missing = Object.entries({ height: heightMm, width: widthMm, thickness: thicknessMm })
    .filter(([, mm]) => mm === null)
    .map(([side]) => side);
  return refuse(`Measure the ${missing.join(' and the ')} of this book first.`);
}

/** What the book's size and binding say of a calculation's fields; nothing where it is not measured. */
function ownValues(
  id: string,
  book: Described,
  kept: Readonly<Record<string, string>>,
): Readonly<Record<string, string>> {
  const size = measured(book);
  if (!size.ok) return {};
  const outside = typedSize(size.value);
  if (overBoards.has(id)) return { ...outside, measured: 'boards' };
  const given = Object.fromEntries(
    ['board', 'square', 'joint'].flatMap((key) => (kept[key] ? [[key, kept[key]]] : [])),
  );
  const { block, habits } = ownCase(size.value, hasBoards(book), { [sharedScope]: given });
  return {
    ...typedSize(block),
    ...(book.pages === null ? {} : { pages: String(book.pages) }),
    ...(id === 'lettering' ? { title: book.title.toUpperCase() } : {}),
    back: habits.back,
    style: styleOf(book),
    covering: coveringOf(book),
    // The very board and squares that were taken off, so that the case comes out as large as the book is.
    board: typedMm(habits.boardMm),
    square: typedMm(habits.squareMm),
    ...(id === 'recase' ? oldCase(block, habits) : {}),
  };
}

/** These measure a book as it stands, boards and all. */
const overBoards: ReadonlySet<string> = new Set(['wrapper', 'box', 'recognise', 'panels']);

/** The old case as it should have been made for this block, to be corrected by what is measured on it. */
function oldCase(block: BookSize, habits: Partial<CaseHabits>): Readonly<Record<string, string>> {
  const made = measureCase(block, habits);
  if (!made.ok) return {};
  const { boardHeightMm, boardWidthMm, boardMm, back } = made.value;
  return {
    'board high': typedMm(boardHeightMm),
    'board wide': typedMm(boardWidthMm),
    'old board': typedMm(boardMm),
    'old back': typedMm(back.widthMm),
  };
}

function styleOf({ binding }: Described): string {
  if (binding?.startsWith('quarter')) return 'quarter';
  return binding?.startsWith('half') ? 'half' : 'full';
}

function coveringOf({ binding }: Described): string {
  if (binding === 'paper boards') return 'paper';
  return binding?.endsWith('leather') || binding === 'vellum' ? 'leather' : 'cloth';
}

function typedSize({ heightMm, widthMm, thicknessMm }: BookSize): Readonly<Record<string, string>> {
  return { height: typedMm(heightMm), width: typedMm(widthMm), thickness: typedMm(thicknessMm) };
}

function isAlways(id: string): boolean {
  return (always as readonly string[]).includes(id);
}
