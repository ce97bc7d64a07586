/** Who eats when: every meal of the course by diet, with what must not be in it, from the days on which people come and go. */
import { dateOf, dayNumber } from '../stock/projection.ts';
import { type Answers, type Meal, type MealTime, meals, type Need } from './guest.ts';

export type Eater = Readonly<{
  name: string;
  diet: string;
  /** Foods in the person's own words. */
  foodAllergies: readonly string[];
  arrivesOn: string;
  firstMeal: Meal;
  leavesOn: string;
  lastMeal: Meal;
}>;

export type MealLine = Readonly<{
  date: string;
  meal: Meal;
  people: number;
  /** By diet, the commonest first; they add up to `people`. */
  diets: readonly Readonly<{ diet: string; people: number }>[];
  /** Everybody there who must not eat something, each by name. */
  without: readonly Readonly<{ name: string; foods: readonly string[] }>[];
}>;

/** Where nobody said otherwise. Common practice, no source. */
export const courseMealsUsual: readonly MealTime[] = [
  { meal: 'breakfast', at: 480, minutes: 45 },
  { meal: 'lunch', at: 750, minutes: 60 },
  { meal: 'supper', at: 1110, minutes: 60 },
];

/** A person who told nothing yet: there from the first day’s lunch to the last day’s lunch. Common practice, no source. */
export const guestUsual = {
  contact: '',
  arrivesOn: null,
  firstMeal: 'lunch',
  leavesOn: null,
  lastMeal: 'lunch',
  sleepsOut: false,
  needs: [] as Need[],
  otherNeeds: '',
  foodAllergies: [] as string[],
  wish: 'either',
  wishQuiet: false,
  shareWith: [] as string[],
  notWith: [] as string[],
  answers: {} as Answers,
  booksDone: 0,
  levelByHand: true,
  couldCome: [] as string[],
} as const;

const noDiet = 'no diet told';

/** Every meal served, from the first arrival to the last departure; meals at which nobody is there are left out. */
export function mealLines(eaters: readonly Eater[], served: readonly MealTime[]): readonly MealLine[] {
  if (eaters.length === 0) return [];
  const first = Math.min(...eaters.map(({ arrivesOn }) => dayNumber(arrivesOn)));
  const last = Math.max(...eaters.map(({ leavesOn }) => dayNumber(leavesOn)));
  const kinds = meals.filter((meal) => served.some((one) => one.meal === meal));
  const lines: MealLine[] = [];
  for (let day = first; day <= last; day++) {
    for (const meal of kinds) {
      const there = eaters.filter((eater) => isThere(eater, day, meal));
      if (there.length === 0) continue;
      lines.push({
        date: dateOf(day),
        meal,
        people: there.length,
        diets: [...Map.groupBy(there, dietOf)]
          .map(([diet, people]) => ({ diet, people: people.length }))
          .toSorted((one, other) => other.people - one.people || (one.diet < other.diet ? -1 : 1)),
        without: there
          .filter(({ foodAllergies }) => foodAllergies.length > 0)
          .map(({ name, foodAllergies }) => ({ name, foods: foodAllergies })),
      });
    }
  }
  return lines;
}

/** Meals of one person, of those that are served. */
export function mealsOf(eater: Eater, served: readonly MealTime[]): number {
  const kinds = meals.filter((meal) => served.some((one) => one.meal === meal));
  let count = 0;
  for (let day = dayNumber(eater.arrivesOn); day <= dayNumber(eater.leavesOn); day++) {
    count += kinds.filter((meal) => isThere(eater, day, meal)).length;
  }
  return count;
}

function isThere(eater: Eater, day: number, meal: Meal): boolean {
  const at = order(day, meal);
  return (
    at >= order(dayNumber(eater.arrivesOn), eater.firstMeal) && at <= order(dayNumber(eater.leavesOn), eater.lastMeal)
  );
}

function order(day: number, meal: Meal): number {
  return day * meals.length + meals.indexOf(meal);
}

function dietOf({ diet }: Eater): string {
  const words = diet.trim().toLowerCase();
  return words === '' ? noDiet : words;
}
