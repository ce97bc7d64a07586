/** Letters filled in for each person of a course. They are handed over as a file; the program sends nothing. */
import type { FileAnswer } from '../../core/contract/ask.ts';
import { fillLetter, type LetterField } from '../../core/course/letter-text.ts';
import { nameWith } from '../../core/course/names.ts';
import { ok, type Result, refuse } from '../../core/result.ts';
import { printLetters } from '../print/course-people.ts';
import type { PersonRow } from '../store/course.ts';
import { datesOf, listLetters, listRooms } from '../store/course-people.ts';
import { readHabits } from '../store/habits.ts';
import type { Workshop } from '../store/workshop.ts';
import type { CourseFacts } from './course-facts.ts';
import { programmeOf, toldBy, toldOf } from './course-guests.ts';

type Ask = Readonly<{ letterId: string; standing: string; form: 'txt' | 'pdf' }>;

/** One letter to everybody of a standing. Refuses a letter that names a field there is not, and a standing nobody has. */
export async function mergeLetters(
  store: Workshop,
  facts: CourseFacts,
  { letterId, standing, form }: Ask,
  nowMs: number,
): Promise<Result<FileAnswer>> {
  const found = listLetters(store.db).find(({ id }) => id === letterId);
  if (!found) return refuse('This letter is not there any more.', 'letterId');
  const people = facts.people.filter((one) => one.standing === standing);
  if (people.length === 0) return refuse(`Nobody is ${standing}, so there is nobody to write to.`, 'standing');
  const valuesFor = letterValues(store, facts, nowMs);
  const texts: string[] = [];
  for (const person of people) {
    const text = fillLetter(found.text, valuesFor(person));
    if (!text.ok) return text;
    texts.push(text.value);
  }
  if (form === 'pdf') return ok(await printLetters(found.name, texts, readHabits(store.db).habits));
  // A form feed parts one letter from the next, as printers know it.
  const bytes = Buffer.from(texts.join('\n\f\n'), 'utf8');
  const fileName = `${found.name.replace(/[^\p{L}\p{N}]+/gu, '-').toLowerCase()}.txt`;
  return ok({ fileName, mediaType: 'text/plain', base64: bytes.toString('base64') });
}

function letterValues(store: Workshop, facts: CourseFacts, nowMs: number) {
  const { course, timeZone, currency } = facts;
  const { habits } = readHabits(store.db);
  const programme = programmeOf(store.db, course.id);
  const told = toldBy(store.db, course.id, facts.people);
  const rooms = new Map(listRooms(store.db).map(({ id, name }) => [id, name]));
  const long = new Intl.DateTimeFormat('en-GB', { timeZone: 'UTC', dateStyle: 'full' });
  const day = (date: string) => long.format(Date.parse(`${date}T00:00:00Z`));
  const today = new Intl.DateTimeFormat('en-CA', { timeZone }).format(nowMs);
  const fee = new Intl.NumberFormat('en-GB', { style: 'currency', currency });
  const digits = fee.resolvedOptions().maximumFractionDigits ?? 2;
  const shared = {
    course: course.title,
    starts: day(course.startsOn),
    ends: day(facts.endsOn),
    days: String(course.days),
    dates: datesOf(store.db, course.id)
      .map(({ startsOn }) => day(startsOn))
      .join('; '),
    hours: course.dayHours.map(([from, to]) => `${clock(from)}–${clock(to)}`).join(', '),
    reading: [
      programme.reading,
      ...facts.syllabus.filter(({ reading }) => reading !== '').map(({ reading }) => reading),
    ]
      .filter((words) => words !== '')
      .join('\n'),
    fee: fee.format(course.feeMinor / 10 ** digits),
    teachers: programme.helpers
      .filter(({ role }) => role !== 'cook')
      .map(({ name }) => name)
      .join(', '),
    workshop: habits.name,
    today: day(today),
  };
  return (person: PersonRow): Record<LetterField, string> => {
    const one = told.get(person.id) ?? toldOf(null);
    const beside = facts.confirmed.filter(
      ({ id }) => id !== person.id && one.roomId !== null && told.get(id)?.roomId === one.roomId,
    );
    return {
      ...shared,
      name: person.name,
      level: person.level,
      standing: person.standing,
      arrival: `${day(one.arrivesOn ?? course.startsOn)}, for ${one.firstMeal}`,
      departure: `${day(one.leavesOn ?? facts.endsOn)}, after ${one.lastMeal}`,
      room: rooms.get(one.roomId ?? '') ?? '',
      roommates: beside.map(({ name }) => name).join(', '),
      diet: person.diet,
      foods: one.foodAllergies.join(', '),
      allergies: person.allergies.join(', '),
      needs: [...one.needs, one.otherNeeds].filter((words) => words !== '').join(', '),
      wishes: person.wishes.map((id) => nameWith(facts.ownNames, id)).join(', '),
      copies: facts.copies
        .filter(({ row }) => row.personId === person.id)
        .map(({ copy }) => copy.title)
        .join('; '),
    };
  };
}

function clock(minutes: number): string {
  return `${Math.floor(minutes / 60)}:${String(minutes % 60).padStart(2, '0')}`;
}
