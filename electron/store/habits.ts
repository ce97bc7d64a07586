/** The workshop's one row: its name and how it works. */
import { count } from 'drizzle-orm';
import type { Habits } from '../../core/contract/workshop.ts';
import { assert, type Result, refuse } from '../../core/result.ts';
import { book, workshop as workshopTable } from './schema.ts';
import type { Reader, Workshop } from './workshop.ts';

export function readHabits(db: Reader): Readonly<{ id: string; isDemo: boolean; habits: Habits }> {
  const row = db.select().from(workshopTable).get();
  assert(row, 'a workshop has its one row of habits');
  const { id, isDemo, createdAt: _, units, paper, weekHours, daysOff, ...rest } = row;
  const habits = {
    ...rest,
    units: units === 'in' ? 'in' : 'mm',
    paper: paper === 'LETTER' ? 'LETTER' : 'A4',
    weekHours: weekHours.map((day) => day.map(([from, to]): [number, number] => [from, to])),
    daysOff: [...daysOff],
  } as const satisfies Habits;
  return { id, isDemo, habits };
}

/** What may be changed of the habits: each left out, or given. */
export type HabitsPatch = { readonly [K in keyof Habits]?: Habits[K] | undefined };

export function changeHabits(workshop: Workshop, patch: HabitsPatch): Result<void> {
  if (patch.timeZone !== undefined && !isTimeZone(patch.timeZone)) {
    return refuse(`There is no time zone called ${patch.timeZone}.`, 'timeZone');
  }
  const late = patch.weekHours?.findIndex((day) =>
    day.some(([from, to], index) => from >= to || from < (day[index - 1]?.[1] ?? 0)),
  );
  if (late !== undefined && late >= 0) {
    return refuse('Each sitting must end after it begins, and the next begin no sooner.', `weekHours.${late}`);
  }
  const { id } = readHabits(workshop.db);
  const given = Object.fromEntries(Object.entries(patch).filter(([, value]) => value !== undefined));
  return workshop.write('Change the workshop’s habits', (change) => change.update(workshopTable, id, given));
}

export function countBooks(db: Reader): number {
  return db.select({ books: count() }).from(book).get()?.books ?? 0;
}

export function isTimeZone(name: string): boolean {
  try {
    new Intl.DateTimeFormat('en', { timeZone: name });
    return true;
  } catch {
    return false;
  }
}
