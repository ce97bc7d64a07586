/** A list of people as a table: each row read for itself, and what cannot be read said of its row. */
import { type Level, levels } from '../book/book.ts';
import type { Library } from '../treatment/library.ts';
import { type Meal, meals, type Need, needs } from './guest.ts';

export const listColumns = [
  'Name',
  'Contact',
  'Standing',
  'Level',
  'Diet',
  'Must not eat',
  'Must not touch',
  'Needs',
  'Hopes to meet',
  'Arrives',
  'First meal',
  'Leaves',
  'Last meal',
  'Note',
] as const;
type Column = (typeof listColumns)[number];

const otherNames: Readonly<Record<string, Column>> = {
  person: 'Name',
  'full name': 'Name',
  email: 'Contact',
  'e-mail': 'Contact',
  phone: 'Contact',
  address: 'Contact',
  status: 'Standing',
  experience: 'Level',
  food: 'Diet',
  'food allergies': 'Must not eat',
  allergies: 'Must not touch',
  'material allergies': 'Must not touch',
  access: 'Needs',
  'access needs': 'Needs',
  wishes: 'Hopes to meet',
  arrival: 'Arrives',
  departure: 'Leaves',
  notes: 'Note',
  remarks: 'Note',
};

const listStandings = ['interested', 'offered', 'confirmed', 'waiting', 'withdrawn'] as const;
type Standing = (typeof listStandings)[number];

export type ListedPerson = Readonly<{
  name: string;
  contact: string;
  standing: Standing;
  /** Null where the list says nothing. */
  level: Level | null;
  diet: string;
  foodAllergies: readonly string[];
  allergies: readonly string[];
  needs: readonly Need[];
  wishes: readonly string[];
  arrivesOn: string | null;
  firstMeal: Meal | null;
  leavesOn: string | null;
  lastMeal: Meal | null;
  note: string;
}>;

export type ListedRow = Readonly<{
  line: number;
  person: ListedPerson | null;
  trouble: string;
  remarks: readonly string[];
}>;

/** The column of each heading; null where none is meant. Nothing where no heading is a name. */
export function columnsOf(headings: readonly string[]): readonly (Column | null)[] | null {
  const found = headings.map((heading) => {
    const words = heading.trim().toLowerCase();
    return listColumns.find((column) => column.toLowerCase() === words) ?? otherNames[words] ?? null;
  });
  return found.includes('Name') ? found : null;
}

/** Reads one row. What is not understood of an allergy or a need is never dropped: it is kept in words, with a remark. */
export function readListed(
  line: number,
  columns: readonly (Column | null)[],
  cells: readonly string[],
  library: Library,
): ListedRow {
  const cell = (column: Column) =>
    columns
      .flatMap((one, index) => (one === column ? [(cells[index] ?? '').trim()] : []))
      .filter((words) => words !== '')
      .join('; ');
  const refused = (trouble: string): ListedRow => ({ line, person: null, trouble, remarks: [] });
  const name = cell('Name').replace(/\s+/g, ' ');
  if (name === '') return refused('There is no name in this row.');
  const standing = oneOf(listStandings, cell('Standing'));
  if (standing === undefined)
    return refused(`“${cell('Standing')}” is no standing: write ${listStandings.join(', ')}.`);
  const level = oneOf(levels, cell('Level'));
  if (level === undefined)
    return refused(`“${cell('Level')}” is no level: write ${levels.join(', ')}, or leave it empty.`);
  const firstMeal = oneOf(meals, cell('First meal'));
  const lastMeal = oneOf(meals, cell('Last meal'));
  if (firstMeal === undefined || lastMeal === undefined) return refused(`A meal is one of ${meals.join(', ')}.`);
  for (const column of ['Arrives', 'Leaves'] as const) {
    if (cell(column) !== '' && !isDate(cell(column))) {
      return refused(`“${cell(column)}” under ${column} is no date: write it as 2026-07-31.`);
    }
  }
  const [arrivesOn, leavesOn] = [cell('Arrives') || null, cell('Leaves') || null];
  if (arrivesOn !== null && leavesOn !== null && arrivesOn > leavesOn)
    return refused('This person leaves before they arrive.');

  const remarks: string[] = [];
  const known: Need[] = [];
  const unread: string[] = [];
  for (const words of listed(cell('Needs'))) {
    const need = oneOf(needs, words.toLowerCase());
    if (need) known.push(need);
    else unread.push(words);
  }
  if (unread.length > 0) remarks.push(`Kept in the note, for you to see to: needs ${unread.join(', ')}.`);
  const wishes: string[] = [];
  for (const words of listed(cell('Hopes to meet'))) {
    const id = library.operations.find((one) =>
      [one.id, one.name].some((each) => each.toLowerCase() === words.toLowerCase()),
    )?.id;
    if (id === undefined) remarks.push(`“${words}” is no operation of this bench and stays in the note.`);
    if (id === undefined) unread.push(`hopes to meet ${words}`);
    else if (!wishes.includes(id)) wishes.push(id);
  }
  return {
    line,
    trouble: '',
    remarks,
    person: {
      name,
      contact: cell('Contact'),
      standing: standing ?? 'interested',
      level,
      diet: cell('Diet'),
      foodAllergies: listed(cell('Must not eat')),
      allergies: listed(cell('Must not touch')),
      needs: known,
      wishes,
      arrivesOn,
      firstMeal,
      leavesOn,
      lastMeal,
      note: [cell('Note'), ...unread].filter((words) => words !== '').join('; '),
    },
  };
}

/** Null for an empty cell, undefined for what is none of them. */
function oneOf<Word extends string>(words: readonly Word[], cell: string): Word | null | undefined {
  const typed = cell.trim().toLowerCase();
  return typed === '' ? null : words.find((word) => word === typed);
}

function listed(cell: string): readonly string[] {
  const words = cell.split(/[;,]/).map((word) => word.trim());
  return [...new Set(words.filter((word) => word !== '' && !/^(none|no|-|–)$/i.test(word)))];
}

function isDate(text: string): boolean {
  if (!/^\d{4}-\d\d-\d\d$/.test(text)) return false;
  const at = Date.parse(`${text}T00:00:00Z`);
  return Number.isFinite(at) && new Date(at).toISOString().startsWith(text);
}
