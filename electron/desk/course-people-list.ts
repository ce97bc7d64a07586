/** A list of people taken in from a table, row by row, and given out as one. */

import type { FileAnswer } from '../../core/contract/ask.ts';
import type { PeopleList } from '../../core/contract/course-people.ts';
import { nameWith, ownNames } from '../../core/course/names.ts';
import { columnsOf, type ListedRow, listColumns, readListed } from '../../core/course/people-list.ts';
import { ok, type Result, refuse } from '../../core/result.ts';
import { readTable, writeTable } from '../files/csv.ts';
import { decode } from '../files/decode.ts';
import { courseById, peopleOf } from '../store/course.ts';
import { libraryOf } from '../store/operations.ts';
import { person } from '../store/schema.ts';
import type { Workshop } from '../store/workshop.ts';
import { toldBy, toldOf } from './course-guests.ts';
import { putGuest } from './course-people-changes.ts';

/** What taking the list in would do, row by row. */
export function lookAtList(store: Workshop, courseId: string, base64: string): Result<PeopleList> {
  if (!courseById(store.db, courseId)) return refuse('This course is not there any more.', 'courseId');
  const decoded = decode(Buffer.from(base64, 'base64'));
  if (!decoded.ok) return decoded;
  const read = readTable(decoded.value.text);
  if (!read.ok) return read;
  const [head, ...body] = read.value.rows;
  const headings = head?.cells ?? [];
  const columns = columnsOf(headings);
  if (columns === null) {
    return refuse(`No column is headed Name. The first row must hold headings, as ${listColumns.join(', ')}.`, 'file');
  }
  if (body.length === 0) return refuse('The list has headings and no rows below them.', 'file');
  if (body.length > 500) return refuse('The list has more than 500 people. Split it.', 'file');
  const known = new Set(peopleOf(store.db, courseId).map(({ name }) => plain(name)));
  const library = libraryOf(store.db);
  const rows = body.map(({ line, cells, trouble }): ListedRow => {
    if (trouble) return { line, person: null, trouble, remarks: [] };
    const row = readListed(line, columns, cells, library);
    if (row.person === null) return row;
    const name = plain(row.person.name);
    if (known.has(name)) return { ...row, person: null, trouble: `${row.person.name} is on the list already.` };
    known.add(name);
    return row;
  });
  return ok({
    rows,
    good: rows.filter((row) => row.person !== null).length,
    leftOut: headings.filter((heading, index) => columns[index] === null && heading.trim() !== ''),
  });
}

/** Takes in every row that can be read, but those left; one step to undo. */
export function takeList(
  store: Workshop,
  courseId: string,
  base64: string,
  leave: readonly number[],
): Result<Readonly<{ taken: number }>> {
  const looked = lookAtList(store, courseId, base64);
  if (!looked.ok) return looked;
  const people = looked.value.rows.flatMap((row) =>
    row.person === null || leave.includes(row.line) ? [] : [row.person],
  );
  if (people.length === 0) return refuse('No row of this list can be taken in.', 'file');
  return store.write(`Take in a list of ${people.length} ${people.length === 1 ? 'person' : 'people'}`, (change) => {
    for (const {
      name,
      level,
      standing,
      wishes,
      allergies,
      diet,
      note,
      needs,
      firstMeal,
      lastMeal,
      ...told
    } of people) {
      const personId = change.insert(person, {
        courseId,
        name,
        level: level ?? 'newcomer',
        standing,
        wishes: [...wishes],
        allergies: [...allergies],
        diet,
        note,
      });
      putGuest(store, change, personId, {
        contact: told.contact,
        arrivesOn: told.arrivesOn,
        leavesOn: told.leavesOn,
        foodAllergies: [...told.foodAllergies],
        needs: [...needs],
        ...(firstMeal ? { firstMeal } : {}),
        ...(lastMeal ? { lastMeal } : {}),
      });
    }
    return { taken: people.length };
  });
}

/** The people of a course as a table that `lookAtList` reads again. */
export function listPeople(store: Workshop, courseId: string): Result<FileAnswer> {
  const found = courseById(store.db, courseId);
  if (!found) return refuse('This course is not there any more.', 'courseId');
  const people = peopleOf(store.db, courseId);
  const told = toldBy(store.db, courseId, people);
  const own = ownNames(libraryOf(store.db));
  const rows = people.map((one) => {
    const guest = told.get(one.id) ?? toldOf(null);
    return [
      one.name,
      guest.contact,
      one.standing,
      one.level,
      one.diet,
      guest.foodAllergies.join('; '),
      one.allergies.join('; '),
      guest.needs.join('; '),
      one.wishes.map((id) => nameWith(own, id)).join('; '),
      guest.arrivesOn ?? '',
      guest.firstMeal,
      guest.leavesOn ?? '',
      guest.lastMeal,
      [one.note, guest.otherNeeds].filter((words) => words !== '').join('; '),
    ];
  });
  return ok({
    fileName: `people-${found.startsOn}.csv`,
    mediaType: 'text/csv',
    base64: Buffer.from(writeTable([listColumns, ...rows], ',')).toString('base64'),
  });
}

function plain(name: string): string {
  return name.trim().toLowerCase();
}
