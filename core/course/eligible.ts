/** Which copies may be given to whom at all: hazards, allergies, difficulty, hours and what a person has ruled out. */
import type { Level } from '../book/book.ts';
import { broughtLibrary, type Library, materialsTouched } from '../treatment/library.ts';
import { learnerMinutes, oneOf, rankOf } from './pace.ts';

export type Learner = Readonly<{
  id: string;
  name: string;
  level: Level;
  /** Minutes of the course this person has for work of their own. */
  minutes: number;
  /** Operations the person hopes to meet. */
  wishes: readonly string[];
  /** Materials and hazards in the person's own words; see `touchesAllergy`. */
  allergies: readonly string[];
  /** Required operations this person need not meet; see `excusedFrom`. */
  excused: readonly string[];
}>;

export type PracticeCopy = Readonly<{
  id: string;
  title: string;
  /** The most demanding step of its treatment. */
  level: Level;
  /** Bench minutes of its treatment, before a learner's pace. */
  minutes: number;
  /** Operations of its treatment. */
  teaches: readonly string[];
  /** Materials the treatment uses and hazards of the book, however decided. */
  touches: readonly string[];
  /** Why nobody may be given it: an open or confirmed hazard. */
  blocked: string | null;
}>;

/** `keep`: this copy is this person's. `never`: it is not to be. */
export type PairRule = Readonly<{ personId: string; copyId: string; rule: 'keep' | 'never' }>;

/** A person's own level and the one above; never two above. The workshop's own rule. */
const stretchAllowed = 1;

/** Why this copy may not be this person's, as a sentence, or null where it may. */
export function whyNot(person: Learner, copy: PracticeCopy): string | null {
  if (copy.blocked !== null) return copy.blocked;
  const allergy = touchesAllergy(person.allergies, copy.touches);
  if (allergy !== null) return `Its treatment uses ${allergy}, which ${person.name} must not meet.`;
  if (levelsAbove(person, copy) > stretchAllowed) {
    return `It is work for ${oneOf(copy.level)}, two levels above ${oneOf(person.level)}.`;
  }
  if (learnerMinutes(copy.minutes, person.level) > person.minutes) {
    return `It takes longer than ${person.name} has in the whole course.`;
  }
  return null;
}

/** Whether the person still grows on the copy: it is at their own level or above. */
export function growsOn({ person, copy }: Readonly<{ person: Learner; copy: PracticeCopy }>): boolean {
  return levelsAbove(person, copy) >= 0;
}

/** How many levels the copy asks above the person's own; below 0 where it asks less. */
export function levelsAbove(person: Learner, copy: PracticeCopy): number {
  return rankOf(copy.level) - rankOf(person.level);
}

/**
 * Operations that cannot be done at all without what the person must not meet: no copy would help, so nothing is asked of them there but to
 * watch.
 */
export function excusedFrom(
  allergies: readonly string[],
  operationIds: readonly string[],
  library: Library = broughtLibrary,
): readonly string[] {
  return operationIds.filter((id) => keptFrom(allergies, id, library) !== null);
}

/** The material or hazard for which somebody with these allergies cannot do an operation at all; null where they can. */
export function keptFrom(
  allergies: readonly string[],
  operationId: string,
  library: Library = broughtLibrary,
): string | null {
  const operation = library.byId(operationId);
  return operation === undefined ? null : touchesAllergy(allergies, materialsTouched(operation));
}

/**
 * The first material or hazard that one of the allergies names. Words count both ways round, so that “PVA” finds “PVA adhesive” and
 * “wheat starch paste” finds “wheat starch”: rather one copy too few than one reaction.
 */
export function touchesAllergy(allergies: readonly string[], touches: readonly string[]): string | null {
  for (const allergy of allergies) {
    const found = touches.find((touch) => sameWords(allergy, touch));
    if (found !== undefined) return found;
  }
  return null;
}

export function sameWords(allergy: string, touch: string): boolean {
  const [one, other] = [plainWords(allergy), plainWords(touch)];
  if (one === '') return false;
  return other.includes(one) || one.includes(other) || one.split(' ').some((word) => isTelling(word, other));
}

/** A word of four letters or more that is a whole word of the other. */
function isTelling(word: string, other: string): boolean {
  return word.length >= 4 && !vague.has(word) && other.split(' ').includes(word);
}

const vague: ReadonlySet<string> = new Set(['paper', 'allergy', 'allergic', 'skin', 'dust', 'with', 'from', 'book']);

function plainWords(text: string): string {
  return text
    .toLowerCase()
    .replace(/[^\p{Letter}\p{Number}]+/gu, ' ')
    .trim();
}
