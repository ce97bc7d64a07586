import { expect, test } from 'vitest';
import { effortOf } from '../../../electron/store/effort.ts';
import { book, entry, finding } from '../../../electron/store/schema.ts';
import { openBook } from '../../../electron/store/shelf.ts';
import type { Workshop } from '../../../electron/store/workshop.ts';
import { bookDraft, got, newWorkshop } from './folders.ts';

/** Ten books alike, each with a joint to mend. */
function shelf(): Readonly<{ workshop: Workshop; ids: readonly string[] }> {
  const workshop = newWorkshop();
  const ids = got(
    workshop.write('Take in', (change) =>
      Array.from({ length: 10 }, (_, at) => {
        const bookId = change.insert(book, { ...bookDraft(`Book ${at}`), binding: 'cloth case', format: 'crown 8vo' });
        change.insert(finding, { bookId, part: 'hinges', damage: 'loose', severity: 2, count: null, note: '' });
        return bookId;
      }),
    ),
  );
  return { workshop, ids };
}

const stepOf = (workshop: Workshop, id: string) => openBook(workshop, id)!.proposal.steps[0]!;
const listed = ({ raw }: Workshop, id: string) =>
  raw.prepare('SELECT minutes_likely FROM assessment WHERE book_id = ?').pluck().get(id) as number;

test('minutes logged in the day-book move the estimate of the next book, on the book and in the list, and undo takes that back', () => {
  const { workshop, ids } = shelf();
  const last = ids[9]!;
  const published = stepOf(workshop, last);
  const before = listed(workshop, last);
  expect(published.learned).toBeUndefined();
  expect(effortOf(workshop.db)).toBeNull();

  const { operationId } = published;
  const took = published.minutes.likely * 3;
  for (const bookId of ids.slice(0, 8)) {
    workshop.write('Finish', (change) => {
      // Two sittings of one job are one observation.
      for (const minutes of [Math.round(took / 3), Math.round((2 * took) / 3)]) {
        change.insert(entry, { at: 0, bookId, operationId, minutes, note: '' });
      }
    });
  }
  const learned = stepOf(workshop, last);
  expect(learned.learned).toMatchObject({ observations: 8 });
  expect(learned.minutes.likely).toBeGreaterThan(published.minutes.likely * 2);
  expect(learned.minutes.likely).toBeLessThanOrEqual(took);
  expect(learned.learned!.low).toBeLessThan(learned.minutes.likely);
  expect(learned.learned!.high).toBeGreaterThan(learned.minutes.likely);
  expect(listed(workshop, last)).toBeGreaterThan(before);

  for (let undone = 0; undone < 8; undone++) workshop.undo();
  expect(stepOf(workshop, last)).toEqual(published);
  expect(listed(workshop, last)).toBe(before);
});

test('entries without minutes, a book or an operation teach nothing', () => {
  const { workshop, ids } = shelf();
  const { operationId } = stepOf(workshop, ids[0]!);
  workshop.write('Note', (change) => {
    change.insert(entry, { at: 0, bookId: ids[0]!, operationId, minutes: null, note: 'looked at it' });
    change.insert(entry, { at: 0, bookId: null, operationId, minutes: 40, note: '' });
    change.insert(entry, { at: 0, bookId: ids[0]!, operationId: null, minutes: 40, note: '' });
  });
  expect(effortOf(workshop.db)).toBeNull();
});
