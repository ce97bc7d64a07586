import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { erasePerson } from '../../../electron/store/erase.ts';
import { book, course, courseCopy, entry, person, plan, planTask } from '../../../electron/store/schema.ts';
import { courseNote, guest, met } from '../../../electron/store/schema-course.ts';
import { coursePair } from '../../../electron/store/schema-course-plan.ts';
import type { Workshop } from '../../../electron/store/workshop.ts';
import { bookDraft, got, newWorkshop, reopened, sentenceOf } from './folders.ts';

const courseRow = {
  title: 'A week',
  startsOn: '2026-07-06',
  days: 5,
  dayHours: [[540, 750]] as const,
  tutors: 1,
  helpers: 0,
  benches: 4,
  feeMinor: 0,
  fixedCostMinor: 0,
  perHeadCostMinor: 0,
  copiesEach: [1, 2] as const,
  spares: 0,
  note: '',
};
const plain = { level: 'newcomer', standing: 'confirmed', wishes: [], allergies: [], diet: '', note: '' };
const told = {
  firstMeal: 'lunch',
  lastMeal: 'lunch',
  sleepsOut: false,
  needs: [],
  otherNeeds: '',
  foodAllergies: [],
  wish: 'either',
  wishQuiet: false,
  shareWith: [] as string[],
  notWith: [],
  answers: {},
  booksDone: 0,
  levelByHand: true,
  couldCome: [],
  roomByHand: false,
} as const;

/** A course on which Zephyrine, renamed once, has a copy, a bar of the week, lines in the day-book and a friend. */
function peopled(workshop: Workshop) {
  const write = <T>(label: string, work: Parameters<typeof workshop.write<T>>[1]) => got(workshop.write(label, work));
  const courseId = write('Plan the course', (change) => change.insert(course, courseRow));
  const bookId = write('Take in', (change) => change.insert(book, bookDraft('Flora')));
  const friend = write('Enrol Bo', (change) => change.insert(person, { ...plain, courseId, name: 'Bo' }));
  const id = write('Enrol Zephyrine Oldname', (change) =>
    change.insert(person, { ...plain, courseId, name: 'Zephyrine Oldname', diet: 'quincefree' }),
  );
  const copyId = write('Put a copy on', (change) =>
    change.insert(courseCopy, { courseId, bookId, locked: false, reason: '' }),
  );
  write('Change what was told', (change) => {
    change.insert(guest, { ...told, personId: id, contact: 'zephyrine@example.org', shareWith: [friend] });
    change.insert(guest, { ...told, personId: friend, contact: '', shareWith: [id] });
  });
  write('Change Zephyrine Marchbanks', (change) => {
    change.update(person, id, { name: 'Zephyrine Marchbanks', note: 'hates wasps' });
    change.update(courseCopy, copyId, { personId: id, locked: true, reason: 'Zephyrine Marchbanks grows on it.' });
  });
  const planId = write('Lay out the week', (change) => {
    const made = change.insert(plan, {
      kind: 'course',
      courseId,
      startsOn: '2026-07-06',
      madeAt: 0,
      seed: 0,
      quality: {},
    });
    const bar = {
      planId: made,
      kind: 'hands',
      endAt: 5,
      tools: [],
      waitsFor: '',
      state: 'planned',
      position: 0,
      startAt: 0,
    };
    change.insert(planTask, { ...bar, personId: id, label: 'Mend' });
    change.insert(planTask, {
      ...bar,
      personId: friend,
      label: 'Tip in',
      waitsFor: 'Waits for ZEPHYRINE  Marchbanks.',
    });
    return made;
  });
  write('During the week', (change) => {
    change.insert(coursePair, { courseId, personId: id, bookId });
    change.insert(met, { courseId, personId: id, operationId: 'mend tears', how: 'alone', at: 5 });
    change.insert(courseNote, {
      courseId,
      kind: 'incident',
      at: 5,
      personId: id,
      what: 'A cut.',
      done: 'Plaster for Zephyrine Marchbanks.',
    });
    change.insert(entry, { at: 5, bookId, courseId, personId: id, operationId: 'mend tears', minutes: 30, note: '' });
  });
  return { courseId, bookId, friend, id, copyId, planId };
}

/** Every byte of the workshop's files that can still be read. */
function bytesOf(workshop: Workshop): string {
  return readdirSync(workshop.folder)
    .filter((name) => name.startsWith('workshop.sqlite'))
    .map((name) => readFileSync(join(workshop.folder, name), 'latin1'))
    .join('\n');
}

const traces = [
  'Zephyrine',
  'ZEPHYRINE',
  'Oldname',
  'Marchbanks',
  'zephyrine@example.org',
  'quincefree',
  'hates wasps',
];

test('an erased person is in no byte of the file or its log, also not after the program is opened again', () => {
  const workshop = newWorkshop();
  const { id } = peopled(workshop);
  const before = bytesOf(workshop);
  for (const trace of [...traces, id]) expect(before).toContain(trace);
  expect(got(erasePerson(workshop, id, 9)).history).toBeGreaterThan(4);
  const after = bytesOf(workshop);
  for (const trace of [...traces, id]) expect(after).not.toContain(trace);
  const again = reopened(workshop);
  for (const trace of [...traces, id]) expect(bytesOf(again)).not.toContain(trace);
  expect(again.raw.pragma('integrity_check', { simple: true })).toBe('ok');
  expect(again.raw.pragma('foreign_key_check')).toEqual([]);
  expect(sentenceOf(erasePerson(again, id, 9))).toBe('This person is not on the list any more.');
});

test('after an erasure the rest of the history is undone and done again, and never brings the person back', () => {
  const workshop = newWorkshop();
  const { id, copyId, friend } = peopled(workshop);
  got(erasePerson(workshop, id, 9));
  const { raw } = workshop;
  const people = () => raw.prepare('SELECT name FROM person ORDER BY name').pluck().all();
  expect(people()).toEqual(['Bo']);
  expect(raw.prepare('SELECT person_id, minutes FROM entry').all()).toEqual([{ person_id: null, minutes: 30 }]);
  expect(raw.prepare('SELECT waits_for FROM plan_task').pluck().all()).toEqual(['Waits for erased person.']);
  expect(raw.prepare('SELECT person_id, locked FROM course_copy WHERE id = ?').get(copyId)).toEqual({
    person_id: null,
    locked: 0,
  });
  const undone: string[] = [];
  for (let next = workshop.undo(); next.ok; next = workshop.undo()) {
    undone.push(next.value.label);
    expect(people().filter((name) => name !== 'Bo')).toEqual([]);
  }
  expect(undone.length).toBeGreaterThan(5);
  expect(undone.some((label) => label.startsWith('Erase'))).toBe(false);
  expect(undone).not.toContain('Enrol erased person');
  expect(people()).toEqual([]);
  for (let next = workshop.redo(); next.ok; next = workshop.redo());
  expect(people()).toEqual(['Bo']);
  expect(raw.prepare('SELECT person_id FROM guest').pluck().all()).toEqual([friend]);
  expect(raw.prepare('SELECT label FROM plan_task').pluck().all()).toEqual(['Tip in']);
  expect(raw.pragma('foreign_key_check')).toEqual([]);
});

test('the same name as an author’s stays on the book, and on another course, and is counted', () => {
  const workshop = newWorkshop();
  const { id, courseId } = peopled(workshop);
  got(
    workshop.write('Take in', (change) => {
      change.insert(book, bookDraft('Memoirs', { author: 'Zephyrine Marchbanks' }));
      change.insert(person, { ...plain, courseId, name: 'Zephyrine Marchbanks' });
    }),
  );
  expect(got(erasePerson(workshop, id, 9)).elsewhere).toBeGreaterThanOrEqual(2);
  expect(workshop.raw.prepare("SELECT author FROM book WHERE title = 'Memoirs'").pluck().get()).toBe(
    'Zephyrine Marchbanks',
  );
  expect(workshop.raw.prepare('SELECT name FROM person ORDER BY name').pluck().all()).toEqual([
    'Bo',
    'Zephyrine Marchbanks',
  ]);
});
