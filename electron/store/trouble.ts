/** Puts what SQLite and the file system refuse into sentences a person can act on. Everything else is a defect and stays an exception. */
import Database from 'better-sqlite3';
import type { Refusal } from '../../core/result.ts';

/** Carries a refusal out of a transaction that must be rolled back. */
export class Refused extends Error {
  readonly refusal: Refusal;
  constructor(refusal: Refusal) {
    super(refusal.sentence);
    this.refusal = refusal;
  }
}

/** By the columns SQLite names when a unique index refuses a row. */
const takenSentences: Readonly<Record<string, Refusal>> = {
  'book.shelf_mark': { sentence: 'Another book already has this shelf mark.', field: 'shelfMark' },
  'hazard.book_id, hazard.kind': { sentence: 'This hazard is already noted for the book.', field: 'kind' },
  'syllabus_item.course_id, syllabus_item.operation_id': {
    sentence: 'This operation is already in the syllabus.',
    field: 'operationId',
  },
  'course_copy.course_id, course_copy.book_id': {
    sentence: 'This book is already a copy for the course.',
    field: 'bookId',
  },
};

/** Trouble with the disk or the file; null for anything that is not. */
export function sayDiskTrouble(error: unknown): Refusal | null {
  const code = codeOf(error);
  if (code === null) return null;
  for (const [pattern, sentence] of diskSentences) if (pattern.test(code)) return { sentence: sentence(code) };
  return null;
}

const diskSentences: readonly (readonly [RegExp, (code: string) => string])[] = [
  [/^(SQLITE_FULL|ENOSPC|EDQUOT)/, () => 'The disk is full; make room and try again.'],
  [
    /^(SQLITE_READONLY|SQLITE_PERM|EROFS|EACCES|EPERM)/,
    () => 'The workshop’s folder cannot be written to; allow writing there, or copy the folder elsewhere.',
  ],
  [
    /^(SQLITE_IOERR|SQLITE_CANTOPEN|EIO|ENXIO|ENODEV)/,
    (code) => `The disk with the workshop’s folder did not answer properly (${code}); see that it is still connected.`,
  ],
  [
    /^(SQLITE_BUSY|SQLITE_LOCKED)/,
    () => 'Another program is using the workshop’s file; close that program and try again.',
  ],
  [
    /^(SQLITE_CORRUPT|SQLITE_NOTADB)/,
    () => 'The workshop’s file is damaged; close the workshop and open it again to see which backup to go back to.',
  ],
  [/^SQLITE_TOOBIG/, () => 'This text is too long to keep.'],
];

/** A row that a unique index or a foreign key refuses while it is put in, changed or removed; null for anything else. */
export function sayRowTrouble(error: unknown, act: 'insert' | 'update' | 'remove'): Refusal | null {
  const code = codeOf(error);
  if (code === 'SQLITE_CONSTRAINT_UNIQUE') {
    return takenSentences[(error as Error).message.replace('UNIQUE constraint failed: ', '')] ?? null;
  }
  if (code !== 'SQLITE_CONSTRAINT_FOREIGNKEY') return null;
  return act === 'remove'
    ? { sentence: 'Other records still need this, so it cannot be removed.' }
    : { sentence: 'What this belongs to is no longer there; it may have been removed meanwhile.' };
}

function codeOf(error: unknown): string | null {
  if (error instanceof Database.SqliteError) return error.code;
  if (error instanceof Error && 'code' in error && typeof error.code === 'string') return error.code;
  return null;
}
