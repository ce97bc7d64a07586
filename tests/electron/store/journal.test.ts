import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { rulesVersion } from '../../../core/triage/priority.ts';
import {
  assessment,
  book,
  finding,
  material,
  movement,
  workshop as workshopTable,
} from '../../../electron/store/schema.ts';
import type { Change, Workshop } from '../../../electron/store/workshop.ts';
import { bookDraft, got, newWorkshop, reopened, sentenceOf } from './folders.ts';

/** Every row of the tables the histories below touch, in order. */
function rowsOf(workshop: Workshop): Record<string, unknown[]> {
  const all = (table: string) => workshop.raw.prepare(`SELECT * FROM ${table} ORDER BY 1`).all();
  return Object.fromEntries(
    ['book', 'finding', 'assessment', 'book_number', 'workshop'].map((table) => [
      table,
      // Numbers of the search index may differ; that each book has one may not.
      table === 'book_number'
        ? all(table)
            .map((row) => (row as { book_id: string }).book_id)
            .sort()
        : all(table),
    ]),
  );
}

describe('the journal', () => {
  test('undoes and does again any history, as a list of whole states would (seed 20)', () => {
    type Step = Readonly<{
      act: 'take in' | 'change' | 'remove' | 'habits' | 'refused' | 'undo' | 'redo' | 'restart';
      pick: number;
    }>;
    const step: fc.Arbitrary<Step> = fc.record({
      act: fc.oneof(
        { weight: 5, arbitrary: fc.constant<Step['act']>('take in') },
        { weight: 4, arbitrary: fc.constant<Step['act']>('change') },
        { weight: 3, arbitrary: fc.constant<Step['act']>('remove') },
        { weight: 1, arbitrary: fc.constantFrom<Step['act']>('habits', 'refused', 'restart') },
        { weight: 6, arbitrary: fc.constant<Step['act']>('undo') },
        { weight: 4, arbitrary: fc.constant<Step['act']>('redo') },
      ),
      pick: fc.nat(1000),
    });
    fc.assert(
      fc.property(fc.array(step, { minLength: 1, maxLength: 25 }), (steps) => {
        let workshop = newWorkshop();
        // The model: states in the order they were reached, and where among them we are.
        const states = [rowsOf(workshop)];
        let here = 0;
        const idsOf = (table: string) =>
          workshop.raw.prepare(`SELECT id FROM ${table} ORDER BY id`).pluck().all() as string[];
        function done(work: (change: Change) => void): void {
          got(workshop.write('A step', work));
          const now = rowsOf(workshop);
          if (JSON.stringify(now) === JSON.stringify(states[here])) return;
          here += 1;
          states.splice(here, Infinity, now);
        }
        for (const { act, pick } of steps) {
          const books = idsOf('book');
          const id = books[pick % Math.max(1, books.length)];
          if (act === 'take in') {
            done((change) => {
              const bookId = change.insert(book, bookDraft(`Book ${pick}`, { shelfMark: `${pick} ${books.length}` }));
              for (let part = 0; part < pick % 3; part++) {
                change.insert(finding, { bookId, part: 'spine', damage: 'torn', severity: 2, note: '' });
              }
              change.update(book, bookId, { note: 'Just in' });
            });
          } else if (act === 'change' && id !== undefined) {
            done((change) =>
              change.update(book, id, { title: `Title ${pick % 7}`, heightUm: pick % 5 === 0 ? null : pick }),
            );
          } else if (act === 'remove' && id !== undefined) {
            done((change) => {
              const findings = workshop.raw
                .prepare('SELECT id FROM finding WHERE book_id = ?')
                .pluck()
                .all(id) as string[];
              for (const one of findings) change.remove(finding, one);
              change.remove(book, id);
            });
          } else if (act === 'habits') {
            const only = idsOf('workshop')[0] as string;
            done((change) => change.update(workshopTable, only, { weights: { use: pick % 4 } }));
          } else if (act === 'refused') {
            const refused = workshop.write('Never', (change) => {
              change.insert(book, bookDraft('Never'));
              change.refuse('Not today.');
            });
            expect(sentenceOf(refused)).toBe('Not today.');
          } else if (act === 'undo') {
            expect(workshop.undo().ok).toBe(here > 0);
            here = Math.max(0, here - 1);
          } else if (act === 'redo') {
            expect(workshop.redo().ok).toBe(here < states.length - 1);
            here = Math.min(states.length - 1, here + 1);
          } else if (act === 'restart') {
            workshop = reopened(workshop);
          }
          expect(rowsOf(workshop)).toEqual(states[here]);
          expect(workshop.next()).toEqual({
            undo: here > 0 ? 'A step' : null,
            redo: here < states.length - 1 ? 'A step' : null,
          });
        }
        while (workshop.undo().ok);
        expect(rowsOf(workshop)).toEqual(states[0]);
        while (workshop.redo().ok);
        expect(rowsOf(workshop)).toEqual(states.at(-1));
        workshop.close();
      }),
      { seed: 20, numRuns: 30 },
    );
  });

  test('does nothing again that was undone before something new was done', () => {
    const workshop = newWorkshop();
    for (const title of ['first', 'second']) workshop.write(title, (change) => change.insert(book, bookDraft(title)));
    workshop.undo();
    workshop.write('third', (change) => change.insert(book, bookDraft('third')));
    workshop.undo();
    workshop.undo();
    expect(got(workshop.redo()).label).toBe('first');
    expect(got(workshop.redo()).label).toBe('third');
    expect(sentenceOf(workshop.redo())).toBe('There is nothing to do again.');
    expect(workshop.history(3).map(({ label, kind }) => `${kind} ${label}`)).toEqual([
      'redo third',
      'redo first',
      'undo first',
    ]);
  });

  test('keeps no entry of a write that changed nothing', () => {
    const workshop = newWorkshop();
    const id = got(workshop.write('Take in', (change) => change.insert(book, bookDraft('A'))));
    workshop.write('Nothing', (change) => change.update(book, id, { title: 'A', author: '' }));
    expect(workshop.next().undo).toBe('Take in');
  });

  test('takes thousands of rows back in one step, over several runs of its own', () => {
    const workshop = newWorkshop();
    workshop.write('Take in 1300 books', (change) => {
      for (let index = 0; index < 1300; index++) change.insert(book, bookDraft(`Book ${index}`));
    });
    const count = () => workshop.raw.prepare('SELECT count(*) FROM book').pluck().get();
    expect(count()).toBe(1300);
    workshop.undo();
    expect(count()).toBe(0);
    workshop.redo();
    expect(count()).toBe(1300);
  });

  test('refuses in words what an earlier version did to a table that is no more', () => {
    const workshop = newWorkshop();
    workshop.write('Weigh the cat', (change) => change.insert(book, bookDraft('A')));
    workshop.raw.pragma('query_only = OFF');
    workshop.raw.exec(`UPDATE journal_run SET changes = replace(changes, '"table":"book"', '"table":"cat"')`);
    workshop.raw.pragma('query_only = ON');
    expect(sentenceOf(workshop.undo())).toBe(
      '“Weigh the cat” was done by an earlier version of the program and can no longer be taken back.',
    );
    expect(workshop.next().undo).toBe('Weigh the cat');
  });
});

describe('the one writer', () => {
  test('is the only way to write', () => {
    const workshop = newWorkshop();
    expect(() => workshop.raw.exec('DELETE FROM workshop')).toThrow('readonly');
    // @ts-expect-error the reader has no insert
    expect(() => workshop.db.insert(book)).toBeDefined();
    workshop.write('A', (change) => change.insert(book, bookDraft('A')));
    expect(() => workshop.raw.exec('DELETE FROM book')).toThrow('readonly');
  });

  test('is not begun within itself', () => {
    const workshop = newWorkshop();
    const nested = () => workshop.write('Outer', () => workshop.write('Inner', () => 1));
    expect(nested).toThrow('Broken invariant: a write is not begun within a write');
    expect(workshop.write('After', (change) => change.insert(book, bookDraft('A'))).ok).toBe(true);
  });

  test('keeps nothing of a write that a defect ended, and lets the defect through', () => {
    const workshop = newWorkshop();
    const failing = () =>
      workshop.write('A', (change) => {
        change.insert(book, bookDraft('A'));
        throw new TypeError('a bug');
      });
    expect(failing).toThrow(TypeError);
    expect(workshop.raw.prepare('SELECT count(*) FROM book').pluck().get()).toBe(0);
    expect(workshop.history(9)).toEqual([]);
  });

  test('says which book has a shelf mark already, and keeps nothing of the rest', () => {
    const workshop = newWorkshop();
    workshop.write('A', (change) => change.insert(book, bookDraft('The Elements', { shelfMark: 'K 12' })));
    const refused = workshop.write('B', (change) => {
      change.insert(book, bookDraft('One more'));
      change.insert(book, bookDraft('Another', { shelfMark: 'K 12' }));
    });
    expect(refused).toEqual({
      ok: false,
      refusal: { sentence: 'The shelf mark “K 12” is already taken by “The Elements”.', field: 'shelfMark' },
    });
    expect(workshop.raw.prepare('SELECT title FROM book').pluck().all()).toEqual(['The Elements']);
  });

  test('lets a swap of two shelf marks be undone', () => {
    const workshop = newWorkshop();
    const [a, b] = got(
      workshop.write('Take in', (change) =>
        ['a', 'b'].map((mark) => change.insert(book, bookDraft(mark, { shelfMark: mark }))),
      ),
    ) as [string, string];
    workshop.write('Swap', (change) => {
      change.update(book, a, { shelfMark: null });
      change.update(book, b, { shelfMark: 'a' });
      change.update(book, a, { shelfMark: 'b' });
    });
    const marks = () => workshop.raw.prepare('SELECT title || shelf_mark FROM book ORDER BY title').pluck().all();
    expect(marks()).toEqual(['ab', 'ba']);
    workshop.undo();
    expect(marks()).toEqual(['aa', 'bb']);
    workshop.redo();
    expect(marks()).toEqual(['ab', 'ba']);
  });

  test('refuses to change or remove what is gone, and to remove what others need', () => {
    const workshop = newWorkshop();
    const gone = 'This is no longer there; it may have been removed meanwhile.';
    expect(sentenceOf(workshop.write('A', (change) => change.update(book, 'x', { title: 'y' })))).toBe(gone);
    expect(sentenceOf(workshop.write('A', (change) => change.remove(book, 'x')))).toBe(gone);
    expect(
      sentenceOf(
        workshop.write('A', (change) =>
          change.insert(finding, { bookId: 'x', part: 'spine', damage: 'torn', severity: 1, note: '' }),
        ),
      ),
    ).toBe('What this belongs to is no longer there; it may have been removed meanwhile.');
    const needed = got(
      workshop.write('Buy', (change) => {
        const mull = { kind: 'mull', unit: 'm', packMillionths: 1, packPriceMinor: 1, supplier: '', leadDays: 1 };
        const materialId = change.insert(material, { name: 'Mull', ...mull, colour: '', place: '', note: '' });
        change.insert(movement, { materialId, kind: 'in', quantityMillionths: 1, at: 0, reason: '' });
        return materialId;
      }),
    );
    expect(sentenceOf(workshop.write('A', (change) => change.remove(material, needed)))).toBe(
      'Other records still need this, so it cannot be removed.',
    );
  });

  test('answers a full disk in words, keeps nothing of the change, and goes on when there is room again', () => {
    const workshop = newWorkshop();
    workshop.write('Small', (change) => change.insert(book, bookDraft('Small')));
    const pages = workshop.raw.pragma('page_count', { simple: true }) as number;
    workshop.raw.pragma(`max_page_count = ${pages + 5}`);
    const big = (change: Change) => {
      for (let index = 0; index < 2000; index++) change.insert(book, bookDraft(`Book ${index} ${'x'.repeat(200)}`));
    };
    expect(sentenceOf(workshop.write('Big', big))).toBe(
      'The disk is full; make room and try again. Nothing of this change was kept.',
    );
    expect(workshop.raw.prepare('SELECT title FROM book').pluck().all()).toEqual(['Small']);
    expect(workshop.next()).toEqual({ undo: 'Small', redo: null });
    workshop.raw.pragma('max_page_count = 1000000');
    expect(workshop.write('Big', big).ok).toBe(true);
    expect(workshop.raw.pragma('integrity_check', { simple: true })).toBe('ok');
  });
});

describe('assessments', () => {
  const assessed = (workshop: Workshop) => workshop.db.select().from(assessment).all();

  test('are there with the change that calls for them, and go and come with undo and redo', () => {
    const workshop = newWorkshop();
    const bookId = got(workshop.write('Take in', (change) => change.insert(book, bookDraft('A'))));
    const before = assessed(workshop);
    expect(before).toMatchObject([{ bookId, rules: rulesVersion }]);
    workshop.write('Survey', (change) =>
      change.insert(finding, { bookId, part: 'spine', damage: 'torn', severity: 3, note: '' }),
    );
    const after = assessed(workshop);
    expect(after[0]?.decay).not.toBe(before[0]?.decay);
    workshop.undo();
    expect(assessed(workshop)).toEqual(before);
    workshop.redo();
    expect(assessed(workshop)).toEqual(after);
    workshop.undo();
    workshop.undo();
    expect(assessed(workshop)).toEqual([]);
  });

  test('of an earlier version of the rules are worked out anew at opening', () => {
    const workshop = newWorkshop();
    workshop.write('Take in', (change) => change.insert(book, bookDraft('A')));
    const right = assessed(workshop);
    workshop.raw.pragma('query_only = OFF');
    workshop.raw.exec("UPDATE assessment SET rules = 0, reasons = '[]'");
    workshop.raw.pragma('query_only = ON');
    expect(assessed(reopened(workshop))).toEqual(right);
  });
});
