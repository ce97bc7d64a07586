/** Answers about photographs, and the pictures themselves for whoever may see the page. */
import { eq } from 'drizzle-orm';
import type { FileAnswer } from '../../core/contract/ask.ts';
import type { Photograph, PhotographSubject } from '../../core/contract/photographs.ts';
import { mmPerPixel } from '../../core/photographs/marks.ts';
import { assert, ok, type Result, refuse } from '../../core/result.ts';
import {
  copyPhotograph,
  type ExaminedPhotograph,
  examinePhotograph,
  keepOriginal,
  keepThumbnail,
  showPhotograph,
} from '../files/photographs.ts';
import { readHabits } from '../store/habits.ts';
import { pieceById } from '../store/offcuts.ts';
import { isKept, listPhotographs, mediaTypeOf, photographById } from '../store/photographs.ts';
import { book, finding } from '../store/schema.ts';
import { photograph } from '../store/schema-photographs.ts';
import { sayDiskTrouble } from '../store/trouble.ts';
import type { Patch, Reader, Workshop } from '../store/workshop.ts';
import { answer, type Desk, inWorkshop } from './desk.ts';

const { photographs: room } = inWorkshop;

export const photographs = {
  list: room.list.handler(({ input, context }) => listPhotographs(context.store.db, input.subject)),
  add: room.add.handler(async ({ input, context, errors }) => {
    const bytes = Buffer.from(input.base64, 'base64');
    const { habits } = readHabits(context.store.db);
    const examined = answer(await inTurn(() => examinePhotograph(bytes, habits.timeZone)), errors);
    const id = answer(add(context.store, examined, input, context.now()), errors);
    await keepThumbnail(context.store.folder, examined.hash, examined.thumbnail);
    return answer(found(context.store.db, id), errors);
  }),
  save: room.save.handler(({ input, context, errors }) => {
    const { db } = context.store;
    const before = answer(found(db, input.id), errors);
    const { scale } = input.changes;
    if (scale) answer(mmPerPixel(scale), errors);
    const patch = Object.fromEntries(Object.entries(input.changes).filter(([, value]) => value !== undefined)) as Patch<
      typeof photograph
    >;
    const [what = 'photograph'] = Object.keys(patch).map((key) => changeWords[key] ?? key);
    const words = `Change the ${what} of a photograph of ${subjectWords(db, before)}`;
    answer(
      context.store.write(words, (change) => change.update(photograph, input.id, patch)),
      errors,
    );
    return answer(found(db, input.id), errors);
  }),
  remove: room.remove.handler(({ input, context, errors }) => {
    const before = answer(found(context.store.db, input.id), errors);
    const label = `Take away a photograph of ${subjectWords(context.store.db, before)}`;
    answer(
      context.store.write(label, (change) => change.remove(photograph, input.id)),
      errors,
    );
    return { label };
  }),
  copy: room.copy.handler(async ({ input, context, errors }): Promise<FileAnswer> => {
    const { store } = context;
    const one = answer(found(store.db, input.id), errors);
    const copy = await inTurn(() => copyPhotograph(store.folder, one, input.marks ? one.marks : []));
    const bytes = answer(copy === null ? refuse(missing) : ok(copy), errors);
    const stem = one.fileName.replace(/\.[^.]{1,5}$/, '').replace(/[^\p{L}\p{N} ._-]/gu, '_') || 'photograph';
    return { fileName: `${stem} copy.jpg`, mediaType: 'image/jpeg', base64: bytes.toString('base64') };
  }),
};

const changeWords: Readonly<Record<string, string>> = {
  stage: 'stage',
  caption: 'caption',
  scale: 'scale',
  marks: 'marks',
};
const missing = 'The original of this photograph is missing from the workshop’s folder, or can no longer be read.';

/** One picture at a time is held unpacked, however many are asked for at once. */
let last: Promise<unknown> = Promise.resolve();
function inTurn<T>(work: () => Promise<T>): Promise<T> {
  const next = last.then(work, work);
  last = next.catch(() => undefined);
  return next;
}

/** The picture behind an address of `photographAddress`; null where the open workshop has none. */
export async function answerPhotograph({ place }: Desk, path: string): Promise<Buffer | null> {
  const [, hash, size] = /^\/photographs\/([0-9a-f]{64})\/(small|large)$/.exec(path) ?? [];
  if (place.workshop === null || hash === undefined) return null;
  const { db, folder } = place.workshop;
  const mediaType = mediaTypeOf(db, hash);
  if (mediaType === null) return null;
  const shown = () => showPhotograph(folder, { hash, mediaType }, size === 'small' ? 'small' : 'large');
  return size === 'small' ? shown() : inTurn(shown);
}

type Added = Readonly<{ subject: PhotographSubject; fileName: string; stage: Photograph['stage']; caption: string }>;

/** The file first, then the row: whatever is cut short, no row tells of a picture that is not there. */
function add(store: Workshop, examined: ExaminedPhotograph, input: Added, now: number): Result<string> {
  const { db, folder } = store;
  const shows = ownersOf(db, input.subject);
  if (!shows.ok) return shows;
  const { subject } = input;
  const owner =
    subject.kind === 'book'
      ? { bookId: subject.bookId }
      : subject.kind === 'finding'
        ? { findingId: subject.findingId }
        : { pieceId: subject.pieceId };
  if (isKept(db, examined.hash, owner)) return refuse('This very photograph is kept here already.', 'file');
  try {
    keepOriginal(folder, examined);
  } catch (error) {
    const trouble = sayDiskTrouble(error);
    if (trouble === null) throw error;
    return { ok: false, refusal: trouble };
  }
  const { hash, mediaType, widthPx, heightPx, takenAt, bytes } = examined;
  const { bookId, findingId, pieceId, words } = shows.value;
  return store.write(`Add a photograph of ${words}`, (change) =>
    change.insert(photograph, {
      ...{ hash, mediaType, bytes: bytes.length, widthPx, heightPx, takenAt, addedAt: now },
      ...{ bookId, findingId, pieceId, stage: input.stage, caption: input.caption.trim(), fileName: input.fileName },
      scale: null,
      marks: [],
    }),
  );
}

type Owners = Readonly<{ bookId: string | null; findingId: string | null; pieceId: string | null; words: string }>;

function ownersOf(db: Reader, subject: PhotographSubject): Result<Owners> {
  switch (subject.kind) {
    case 'book': {
      const words = titleOf(db, subject.bookId);
      if (words === null) return refuse('This book is no longer on the shelf.', 'subject');
      return ok({ bookId: subject.bookId, findingId: null, pieceId: null, words });
    }
    case 'finding': {
      const row = db.select().from(finding).where(eq(finding.id, subject.findingId)).get();
      if (row === undefined) return refuse('This finding is no longer there; it may have been taken back.', 'subject');
      const words = `${row.part} ${row.damage} of ${titleOf(db, row.bookId)}`;
      return ok({ bookId: row.bookId, findingId: row.id, pieceId: null, words });
    }
    case 'piece': {
      const piece = pieceById(db, subject.pieceId);
      if (piece === null) return refuse('This piece is not in the drawer any more.', 'subject');
      return ok({ bookId: null, findingId: null, pieceId: piece.id, words: piece.name });
    }
  }
}

function found(db: Reader, id: string): Result<Photograph> {
  const one = photographById(db, id);
  return one === null ? refuse('This photograph is no longer there; it may have been taken away.') : ok(one);
}

function subjectWords(db: Reader, { bookId, pieceId }: Photograph): string {
  if (bookId !== null) return titleOf(db, bookId) ?? 'a book';
  assert(pieceId !== null, 'a photograph shows a book or a piece');
  return pieceById(db, pieceId)?.name ?? 'a piece';
}

function titleOf(db: Reader, bookId: string): string | null {
  const row = db.select({ title: book.title }).from(book).where(eq(book.id, bookId)).get();
  if (row === undefined) return null;
  return `“${row.title.length > 60 ? `${row.title.slice(0, 59)}…` : row.title}”`;
}
