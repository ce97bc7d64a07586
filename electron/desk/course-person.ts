/** One person's data: all of it handed over, or erased for good. */

import { rmSync } from 'node:fs';
import { join } from 'node:path';
import type { FileAnswer } from '../../core/contract/ask.ts';
import type { Erased } from '../../core/contract/course-people.ts';
import { nameWith, ownNames } from '../../core/course/names.ts';
import { ok, type Result, refuse } from '../../core/result.ts';
import { printPerson } from '../print/course-people.ts';
import { listBackups } from '../store/backups.ts';
import { courseById, personById } from '../store/course.ts';
import { allOf, listRooms } from '../store/course-people.ts';
import { erasePerson } from '../store/erase.ts';
import { readHabits } from '../store/habits.ts';
import { libraryOf } from '../store/operations.ts';
import type { Workshop } from '../store/workshop.ts';

/** Everything kept about one person, as the file has it or to read. */
export async function takeOut(
  store: Workshop,
  personId: string,
  form: 'json' | 'pdf',
  nowMs: number,
): Promise<Result<FileAnswer>> {
  const found = personById(store.db, personId);
  if (!found) return refuse('This person is not on the list any more.', 'personId');
  const held = courseById(store.db, found.courseId);
  const all = allOf(store.db, personId);
  const remarks = [
    'The history of changes holds earlier forms of the above, until the person is erased.',
    ...copiesBefore(store).map((name) => `The backup ${name} may hold it as well.`),
    'Letters, sheets, lists and zips made earlier are yours to find: the program does not keep them.',
  ];
  const room = listRooms(store.db).find(({ id }) => id === all.told[0]?.roomId)?.name ?? '';
  if (form === 'json') {
    const kept = { course: held && { title: held.title, startsOn: held.startsOn }, room, ...all, remarks };
    return ok({
      fileName: 'person.json',
      mediaType: 'application/json',
      base64: Buffer.from(JSON.stringify({ takenOutAt: new Date(nowMs).toISOString(), ...kept }, null, 2)).toString(
        'base64',
      ),
    });
  }
  const { habits } = readHabits(store.db);
  const when = new Intl.DateTimeFormat('en-GB', { timeZone: habits.timeZone, dateStyle: 'medium', timeStyle: 'short' });
  const own = ownNames(libraryOf(store.db));
  const named = (id: string) => nameWith(own, id);
  const parts = [
    {
      what: 'On the list',
      rows: rowsOf({ course: held?.title ?? '', ...found, wishes: found.wishes.map(named) }, named),
    },
    { what: 'Told', rows: all.told.flatMap((row) => rowsOf({ ...row, room }, named)) },
    {
      what: 'Met',
      rows: all.met.map((row) => [named(row.operationId), `${row.how}, ${when.format(row.at)}`] as const),
    },
    {
      what: 'Noted',
      rows: all.notes.map((row) => [`${row.kind}, ${when.format(row.at)}`, `${row.what} ${row.done}`] as const),
    },
    {
      what: 'In the day-book',
      rows: all.dayBook.map(
        (row) =>
          [when.format(row.at), `${named(row.operationId ?? '')}, ${row.minutes ?? 0} minutes. ${row.note}`] as const,
      ),
    },
    {
      what: 'Paid ahead',
      rows: all.deposits.map((row) => [row.paidOn, (row.paidMinor / 100).toFixed(2)] as const),
    },
    { what: 'Practice copies', rows: all.copies.map((row) => ['Copy', row.reason] as const) },
  ];
  return ok(await printPerson(found.name, parts, remarks, habits));
}

/** "foodAllergies" as "food allergies"; ids and what is empty say nothing to a reader. */
function rowsOf(
  row: Readonly<Record<string, unknown>>,
  named: (id: string) => string,
): readonly (readonly [string, string])[] {
  return Object.entries(row).flatMap(([key, value]) => {
    if (/(^id|Id)$/.test(key) || value === null || value === '' || value === false) return [];
    const words = Array.isArray(value)
      ? value.join(', ')
      : typeof value === 'object'
        ? Object.entries(value as Record<string, string>)
            .map(([id, answer]) => `${named(id)}: ${answer}`)
            .join('; ')
        : value === true
          ? 'yes'
          : String(value);
    return words === '' ? [] : [[key.replace(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`), words] as const];
  });
}

/** Erases a person for good; the name typed must be theirs. */
export function erase(store: Workshop, personId: string, name: string, nowMs: number): Result<Erased> {
  const found = personById(store.db, personId);
  if (!found) return refuse('This person is not on the list any more.', 'personId');
  if (name.trim() !== found.name) {
    return refuse(`Type the name as it stands, ${found.name}, to erase this person for good.`, 'name');
  }
  const done = erasePerson(store, personId, nowMs);
  if (!done.ok) return done;
  const backups = copiesBefore(store);
  const sentences = [
    'The person is erased from the workshop and from its history; undo cannot bring them back.',
    ...(backups.length > 0
      ? [`${backups.length} ${backups.length === 1 ? 'backup' : 'backups'} made before still hold them.`]
      : []),
    'So do copies of the folder, zips, printed sheets and letters made earlier: destroy those yourself.',
    'Where a note names them otherwise, by a first name or by initials, it still does.',
    ...(done.value.elsewhere > 0
      ? [
          `The same words stand in ${done.value.elsewhere} other rows, such as authors, titles or people of other courses, and were left.`,
        ]
      : []),
  ];
  return ok({ ...done.value, backups, sentence: sentences.join(' ') });
}

function copiesBefore(store: Workshop): readonly string[] {
  return listBackups(store.folder).map(({ name }) => name);
}

/** Deletes backups by name; only what is a backup of this workshop. */
export function removeBackups(store: Workshop, names: readonly string[]): Result<Readonly<{ removed: number }>> {
  const there = new Set(copiesBefore(store));
  const chosen = [...new Set(names)].filter((name) => there.has(name));
  for (const name of chosen) rmSync(join(store.folder, 'backups', name));
  return ok({ removed: chosen.length });
}
