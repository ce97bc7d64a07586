/** What is known of the people of one course, put together: what they told, with what is usual where they told nothing. */

import type { GuestInput, ProgrammeInput } from '../../core/contract/course-people.ts';
import type { MealTime } from '../../core/course/guest.ts';
import { courseMealsUsual, type Eater, guestUsual } from '../../core/course/meals.ts';
import type { Sleeper } from '../../core/course/residence.ts';
import type { PersonRow } from '../store/course.ts';
import { frameOf, type GuestRow, guestsOf } from '../store/course-people.ts';
import type { Reader } from '../store/workshop.ts';

export type Told = GuestInput & Readonly<{ roomId: string | null; roomByHand: boolean }>;

/** A row as the page knows it; what is usual where there is none. */
export function toldOf(row: GuestRow | undefined | null): Told {
  if (!row) return { ...guestUsual, roomId: null, roomByHand: false };
  const { id: _, personId: __, ...told } = row;
  return {
    ...told,
    needs: [...told.needs],
    foodAllergies: [...told.foodAllergies],
    shareWith: [...told.shareWith],
    notWith: [...told.notWith],
    couldCome: [...told.couldCome],
    answers: { ...told.answers },
  };
}

export function toldBy(db: Reader, courseId: string, people: readonly PersonRow[]): ReadonlyMap<string, Told> {
  const rows = guestsOf(db, courseId);
  return new Map(people.map(({ id }) => [id, toldOf(rows.get(id))]));
}

export function programmeOf(db: Reader, courseId: string): ProgrammeInput {
  const row = frameOf(db, courseId);
  if (!row) return { firm: false, meals: [...courseMealsUsual], helpers: [], reading: '' };
  const { firm, meals, helpers, reading } = row;
  return { firm, meals: [...meals], helpers: [...helpers], reading };
}

type Days = Readonly<{ startsOn: string; endsOn: string }>;

export function eaterOf(person: PersonRow, told: Told, { startsOn, endsOn }: Days): Eater {
  return {
    name: person.name,
    diet: person.diet,
    foodAllergies: told.foodAllergies,
    arrivesOn: told.arrivesOn ?? startsOn,
    firstMeal: told.firstMeal,
    leavesOn: told.leavesOn ?? endsOn,
    lastMeal: told.lastMeal,
  };
}

/** The confirmed, and whoever teaches, helps or cooks: they are there from the first meal of the first day to the last of the last. */
export function eatersOf(
  confirmed: readonly PersonRow[],
  told: ReadonlyMap<string, Told>,
  { helpers }: ProgrammeInput,
  days: Days,
): readonly Eater[] {
  return [
    ...confirmed.map((person) => eaterOf(person, told.get(person.id) ?? toldOf(null), days)),
    ...helpers.map(({ name, role, diet }) => ({
      name: name === '' ? role : name,
      diet,
      foodAllergies: [],
      arrivesOn: days.startsOn,
      firstMeal: 'breakfast' as const,
      leavesOn: days.endsOn,
      lastMeal: 'supper' as const,
    })),
  ];
}

export function sleepersOf(confirmed: readonly PersonRow[], told: ReadonlyMap<string, Told>): readonly Sleeper[] {
  return confirmed.flatMap(({ id, name }) => {
    const one = told.get(id) ?? toldOf(null);
    if (one.sleepsOut) return [];
    const { needs, wish, wishQuiet, shareWith, notWith, roomId, roomByHand } = one;
    return [{ id, name, needs, wish, wishQuiet, shareWith, notWith, kept: roomByHand ? roomId : null }];
  });
}

/** Served meals in the order of the day. */
export function servedOf(programme: ProgrammeInput): readonly MealTime[] {
  return programme.meals.toSorted((one, other) => one.at - other.at);
}
