/** The Shelf answers: the list, one book with what follows from it, and the changes a person makes to either. */
import { eq } from 'drizzle-orm';
import type { Book } from '../../core/book/book.ts';
import { blocks } from '../../core/book/hazards.ts';
import { readPages, readYears } from '../../core/book/imprint.ts';
import type { BookOpened, BookPatch } from '../../core/contract/shelf.ts';
import { assert, ok, type Result, refuse } from '../../core/result.ts';
import { propose } from '../../core/treatment/propose.ts';
import { readSurveyed, type Surveyed } from '../store/books.ts';
import { effortOf } from '../store/effort.ts';
import { raiseHazardsOf } from '../store/hazards.ts';
import { libraryOf } from '../store/operations.ts';
import { keepWithoutFinding, removePhotographs } from '../store/photographs.ts';
import { listLots, listPlaces, lotNamed, placeNamed } from '../store/places.ts';
import { steadinessOf } from '../store/ranking.ts';
import { book, finding, hazard, measure, treatment } from '../store/schema.ts';
import { bookColour } from '../store/schema-offcuts.ts';
import { treatmentRecord } from '../store/schema-photographs.ts';
import { listShelf, listShelfIds, openBook, shelfPosition } from '../store/shelf.ts';
import type { Change, Patch, Workshop } from '../store/workshop.ts';
import { answer, inWorkshop, type Refusals } from './desk.ts';

const { shelf: room } = inWorkshop;

export const shelf = {
  list: room.list.handler(({ input, context }) => listShelf(context.store, input)),
  ids: room.ids.handler(({ input, context }) => listShelfIds(context.store, input, input.limit)),
  position: room.position.handler(({ input, context }) => shelfPosition(context.store, input, input.id)),
  book: room.book.handler(({ input, context, errors }) => opened(context.store, input.id, errors)),
  steadiness: room.steadiness.handler(({ input, context }) => steadinessOf(context.store, input.id)),
  lots: room.lots.handler(({ context }) => listLots(context.store.db)),
  places: room.places.handler(({ context }) => listPlaces(context.store.db)),
  create: room.create.handler(({ input, context, errors }) => {
    const id = answer(createBook(context.store, input, context.now()), errors);
    return opened(context.store, id, errors);
  }),
  save: room.save.handler(({ input, context, errors }) => {
    const one = answer(surveyed(context.store, input.id), errors);
    answer(saveBook(context.store, one, input.patch), errors);
    return opened(context.store, input.id, errors);
  }),
  remove: room.remove.handler(({ input, context, errors }) => {
    const { store } = context;
    const first = answer(surveyed(store, input.ids[0] ?? ''), errors);
    const words = input.ids.length === 1 ? quote(first.book.title) : `${input.ids.length} books`;
    answer(
      store.write(`Remove ${words} from the shelf`, (change) => {
        for (const id of input.ids) removeBook(store, change, id);
      }),
      errors,
    );
    return { removed: input.ids.length };
  }),
  saveMany: room.saveMany.handler(({ input, context, errors }) => {
    answer(saveMany(context.store, input.ids, input.patch), errors);
    return { changed: input.ids.length };
  }),
  addFinding: room.addFinding.handler(({ input, context, errors }) => {
    const { store } = context;
    const { book: one } = answer(surveyed(store, input.bookId), errors);
    const words = `Note ${input.part} ${input.damage} of ${quote(one.title)}`;
    const kept = store.write(words, (change) => {
      change.insert(finding, input);
      if (one.stage === 'waiting') change.update(book, one.id, { stage: 'surveyed' });
      raiseHazardsOf(store.db, change, [one.id]);
    });
    answer(kept, errors);
    return opened(store, input.bookId, errors);
  }),
  saveFinding: room.saveFinding.handler(({ input, context, errors }) => {
    const { store } = context;
    const row = answer(noted(store, input.id), errors);
    const kept = store.write(`Change ${row.part} ${row.damage} of ${titleOf(store, row.bookId)}`, (change) => {
      change.update(finding, input.id, given(input.patch));
      raiseHazardsOf(store.db, change, [row.bookId]);
    });
    answer(kept, errors);
    return opened(store, row.bookId, errors);
  }),
  removeFinding: room.removeFinding.handler(({ input, context, errors }) => {
    const { store } = context;
    const row = answer(noted(store, input.id), errors);
    const kept = store.write(`Take back ${row.part} ${row.damage} of ${titleOf(store, row.bookId)}`, (change) => {
      keepWithoutFinding(store.db, change, input.id);
      change.remove(finding, input.id);
      raiseHazardsOf(store.db, change, [row.bookId]);
    });
    answer(kept, errors);
    return opened(store, row.bookId, errors);
  }),
  decideHazard: room.decideHazard.handler(({ input, context, errors }) => {
    const bookId = answer(decideHazard(context.store, input, context.now()), errors);
    return opened(context.store, bookId, errors);
  }),
  agree: room.agree.handler(({ input, context, errors }) => {
    const one = answer(surveyed(context.store, input.id), errors);
    answer(agree(context.store, one, context.now()), errors);
    return opened(context.store, input.id, errors);
  }),
};

const notThere = 'This book is no longer on the shelf; it may have been removed meanwhile.';

export function opened(store: Workshop, id: string, errors: Refusals): BookOpened {
  const found = openBook(store, id);
  return answer(found === null ? refuse(notThere) : ok(found), errors);
}

export function surveyed(store: Workshop, id: string): Result<Surveyed> {
  const [one] = readSurveyed(store.db, [id]);
  return one === undefined ? refuse(notThere) : ok(one);
}

function noted(store: Workshop, id: string): Result<typeof finding.$inferSelect> {
  const row = store.db.select().from(finding).where(eq(finding.id, id)).get();
  return row === undefined ? refuse('This finding is no longer there; it may have been removed meanwhile.') : ok(row);
}

function createBook(store: Workshop, patch: BookPatch & Readonly<{ title: string }>, now: number): Result<string> {
  return store.write(`Put in ${quote(patch.title)}`, (change) => {
    const id = change.insert(book, {
      ...blank,
      ...rowPatch(store, change, patch, null),
      title: patch.title,
      createdAt: now,
    });
    raiseHazardsOf(store.db, change, [id]);
    return id;
  });
}

/** A book of which nothing is known. */
const blank = {
  author: '',
  imprint: '',
  dateText: '',
  format: '',
  pagesText: '',
  colour: '',
  fateLocked: false,
  stage: 'waiting',
  use: 'occasional reading',
  significance: 0,
  scarcity: 'unknown',
  completeness: 'unknown',
  note: '',
} as const;

function saveBook(store: Workshop, one: Surveyed, patch: BookPatch): Result<void> {
  const stop = fateStop(one, patch.fate);
  if (stop !== null) return refuse(stop, 'fate');
  return store.write(labelOf(quote(one.book.title), patch), (change) => {
    change.update(book, one.book.id, rowPatch(store, change, patch, one.book));
    raiseHazardsOf(store.db, change, [one.book.id]);
  });
}

function saveMany(store: Workshop, ids: readonly string[], patch: BookPatch): Result<void> {
  const books = readSurveyed(store.db, ids);
  const stopped = books.filter((one) => fateStop(one, patch.fate) !== null);
  const [first] = stopped;
  if (first !== undefined) {
    const others = stopped.length === 1 ? '' : `, and ${stopped.length - 1} more like it`;
    return refuse(`Nothing was changed. ${quote(first.book.title)}: ${fateStop(first, patch.fate)}${others}`, 'fate');
  }
  return store.write(labelOf(`${books.length} books`, patch), (change) => {
    const row = rowPatch(store, change, patch, null);
    for (const one of books) change.update(book, one.book.id, row);
  });
}

/** Why a hazard keeps the book from this fate: no learner gets it, no piece of it goes into another book. */
function fateStop({ book: one, hazards }: Surveyed, fate: BookPatch['fate']): string | null {
  if (fate === one.fate) return null;
  if (fate === 'practice') return blocks(hazards, 'student');
  if (fate === 'salvage') return blocks(hazards, 'salvage');
  return null;
}

/** What is typed, as the columns keep it; years and pages follow from their words, and a fate said by a person is theirs. */
function rowPatch(store: Workshop, change: Change, patch: BookPatch, before: Book | null): Patch<typeof book> {
  const { lot, place, heightMm, widthMm, thicknessMm, fate, fateLocked, shelfMark, ...same } = given(patch);
  const row: Patch<typeof book> = { ...same };
  if (shelfMark !== undefined) row.shelfMark = shelfMark?.trim() || null;
  if (heightMm !== undefined) row.heightUm = micrometres(heightMm);
  if (widthMm !== undefined) row.widthUm = micrometres(widthMm);
  if (thicknessMm !== undefined) row.thicknessUm = micrometres(thicknessMm);
  if (lot !== undefined) row.lotId = lotNamed(store.db, change, lot);
  if (place !== undefined) row.placeId = placeNamed(store.db, change, place);
  if (fate !== undefined) {
    row.fate = fate;
    row.fateLocked = fate !== null;
  }
  if (fateLocked !== undefined) row.fateLocked = fateLocked && (fate ?? before?.fate ?? null) !== null;
  if (patch.dateText !== undefined) {
    const years = readYears(patch.dateText);
    row.yearFrom = years.ok ? years.value.from : null;
    row.yearTo = years.ok ? years.value.to : null;
  }
  if (patch.pagesText !== undefined) {
    const pages = readPages(patch.pagesText);
    row.pages = pages.ok ? pages.value.pages : null;
  }
  return row;
}

function micrometres(mm: number | null): number | null {
  return mm === null ? null : Math.round(mm * 1000);
}

type Decision = Readonly<{ id: string; state: 'raised' | 'confirmed' | 'cleared'; decision: string }>;

/** Answers which book it was. A hazard is decided by a sentence, not by a click. */
function decideHazard(store: Workshop, input: Decision, now: number): Result<string> {
  const row = store.db.select().from(hazard).where(eq(hazard.id, input.id)).get();
  if (row === undefined) return refuse('This hazard is no longer there; the rules may not raise it any more.');
  const decision = input.decision.trim();
  const open = input.state === 'raised';
  if (!open && decision.length < 3) {
    return refuse('Write down what you looked at and what was decided, so that it can be read later.', 'decision');
  }
  const verb = { raised: 'Reopen', confirmed: 'Confirm', cleared: 'Clear' }[input.state];
  const kept = store.write(`${verb} ${row.kind} on ${titleOf(store, row.bookId)}`, (change) => {
    change.update(hazard, row.id, { state: input.state, decision, decidedAt: open ? null : now });
    if (open) raiseHazardsOf(store.db, change, [row.bookId]);
    if (input.state === 'confirmed') unfitFate(store, change, row.bookId);
  });
  return kept.ok ? ok(row.bookId) : kept;
}

/** A hazard confirmed later takes away a fate it forbids. */
function unfitFate(store: Workshop, change: Change, bookId: string): void {
  const [one] = readSurveyed(store.db, [bookId]);
  assert(one !== undefined, 'a hazard is on a book');
  const { fate } = one.book;
  if (fateStop({ ...one, book: { ...one.book, fate: null } }, fate) === null) return;
  change.update(book, bookId, { fate: null, fateLocked: false });
}

function agree(store: Workshop, { book: one, findings, hazards, kept }: Surveyed, now: number): Result<void> {
  const stop = blocks(hazards, 'plan');
  if (stop !== null) return refuse(stop, 'hazard');
  const { steps } = propose(one, findings, hazards, {
    effort: effortOf(store.db),
    kept,
    library: libraryOf(store.db),
  });
  if (steps.length === 0) return refuse('There is nothing to agree to: no treatment is proposed for this book.');
  return store.write(`Agree to the treatment of ${quote(one.title)}`, (change) => {
    change.insert(treatment, { bookId: one.id, agreedAt: now, steps, note: '' });
    if (one.stage === 'waiting' || one.stage === 'surveyed') change.update(book, one.id, { stage: 'agreed' });
  });
}

/** A book with its survey; refused where the day-book, the drawer, the course or a plan still tells of it. */
function removeBook({ db }: Workshop, change: Change, id: string): void {
  removePhotographs(db, change, { bookId: id });
  for (const table of [finding, hazard, treatment, measure, treatmentRecord, bookColour] as const) {
    const rows = db.select({ id: table.id }).from(table).where(eq(table.bookId, id)).all();
    for (const row of rows) change.remove(table, row.id);
  }
  change.remove(book, id);
}

function titleOf(store: Workshop, bookId: string): string {
  const row = store.db.select({ title: book.title }).from(book).where(eq(book.id, bookId)).get();
  return quote(row?.title ?? '');
}

const fieldWords: Readonly<Partial<Record<keyof BookPatch, string>>> = {
  shelfMark: 'shelf mark',
  dateText: 'date',
  heightMm: 'height',
  widthMm: 'width',
  thicknessMm: 'thickness',
  pagesText: 'pages',
};

/** "Set the fate of “Rambles in Dorset” to restore", "Change the height and width of 12 books". */
function labelOf(whose: string, patch: BookPatch): string {
  const { fate, fateLocked, ...rest } = given(patch);
  if (fate !== undefined)
    return fate === null ? `Take back the fate of ${whose}` : `Set the fate of ${whose} to ${fate}`;
  if (fateLocked !== undefined) return `${fateLocked ? 'Lock' : 'Unlock'} the fate of ${whose}`;
  const names = Object.keys(rest).map((key) => fieldWords[key as keyof BookPatch] ?? key);
  return `Change the ${names.length > 3 ? 'description' : names.join(' and ')} of ${whose}`;
}

export function quote(title: string): string {
  return `“${title.length > 60 ? `${title.slice(0, 59)}…` : title}”`;
}

/** Without the fields that were left out. */
export function given<T extends object>(patch: T): { [K in keyof T]: Exclude<T[K], undefined> } {
  const entries = Object.entries(patch).filter(([, value]) => value !== undefined);
  return Object.fromEntries(entries) as { [K in keyof T]: Exclude<T[K], undefined> };
}
