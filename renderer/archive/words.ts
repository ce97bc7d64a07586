/** Sizes, kinds of backup and tables in words. */
import type { BackupLine } from '../../core/contract/archive.ts';

export function sizeWords(bytes: number): string {
  const megabytes = bytes / 1024 / 1024;
  if (megabytes < 0.95) return `${Math.max(1, Math.round(bytes / 1024))} kB`;
  return megabytes < 1024 ? `${megabytes.toFixed(megabytes < 10 ? 1 : 0)} MB` : `${(megabytes / 1024).toFixed(1)} GB`;
}

export function photographWords(count: number): string {
  if (count === 0) return 'no photographs';
  return count === 1 ? 'one photograph' : `${count} photographs`;
}

export function momentWords(at: number, timeZone: string): string {
  return new Intl.DateTimeFormat('en-GB', { timeZone, dateStyle: 'full', timeStyle: 'short' }).format(at);
}

export const kindWords: Readonly<Record<BackupLine['kind'], string>> = {
  rolling: 'by itself',
  'before an update': 'before the program changed its form',
  'before going back': 'before you went back',
};

/** What the rows of a table are to a person; a table without words here is named as it is. */
const tableNames: Readonly<Record<string, readonly [one: string, many: string]>> = {
  workshop: ['the workshop’s own settings', 'settings'],
  place: ['place', 'places'],
  lot: ['lot', 'lots'],
  book: ['book', 'books'],
  finding: ['finding', 'findings'],
  measure: ['measure of a book', 'measures of books'],
  hazard: ['hazard', 'hazards'],
  treatment: ['treatment', 'treatments'],
  treatment_record: ['treatment record', 'treatment records'],
  photograph: ['photograph', 'photographs'],
  tool: ['tool or press', 'tools and presses'],
  material: ['material', 'materials'],
  movement: ['line of the stock ledger', 'lines of the stock ledger'],
  arrival: ['order', 'orders'],
  piece: ['piece in the drawer', 'pieces in the drawer'],
  course: ['course', 'courses'],
  person: ['person on a course', 'people on courses'],
  syllabus_item: ['line of a syllabus', 'lines of syllabuses'],
  course_copy: ['practice copy', 'practice copies'],
  plan: ['plan', 'plans'],
  plan_task: ['step of a plan', 'steps of plans'],
  entry: ['line of the Day-book', 'lines of the Day-book'],
  backlog_sample: ['random sample of the backlog', 'random samples of the backlog'],
  stock_lot: ['lot of a material', 'lots of materials'],
  booking: ['step whose materials were booked out', 'steps whose materials were booked out'],
  supplier: ['supplier', 'suppliers'],
  price_quote: ['price as quoted', 'prices as quoted'],
  substitute: ['substitute for a material', 'substitutes for materials'],
  recipe: ['recipe', 'recipes'],
  ingredient: ['ingredient of a recipe', 'ingredients of recipes'],
  book_colour: ['measured colour of a book', 'measured colours of books'],
  cutting_habits: ['way in which cloth and paper are cut', 'ways in which cloth and paper are cut'],
  course_frame: ['frame of a course', 'frames of courses'],
  course_date: ['date thought of for a course', 'dates thought of for courses'],
  course_talk: ['talk or outing of a course', 'talks and outings of courses'],
  room: ['bedroom', 'bedrooms'],
  guest: ['person’s answers about their stay', 'people’s answers about their stay'],
  met: ['operation somebody has met', 'operations people have met'],
  course_note: ['note of what happened on a course', 'notes of what happened on courses'],
  letter: ['letter', 'letters'],
  course_pair: ['decision about who has which copy', 'decisions about who has which copy'],
  course_ruined: ['spoilt practice copy', 'spoilt practice copies'],
  course_sharing: ['allocation kept under a name', 'allocations kept under a name'],
  course_terms: ['course’s deposit and last day to decide', 'courses’ deposits and last days to decide'],
  deposit: ['deposit paid', 'deposits paid'],
  own_operation: ['version of an operation of your own', 'versions of operations of your own'],
  own_treatment: ['treatment of your own', 'treatments of your own'],
  saved_view: ['view of the Shelf', 'views of the Shelf'],
};

export function rowsOf(table: string, count: number): string {
  const [one, many] = tableNames[table] ?? [table.replaceAll('_', ' '), table.replaceAll('_', ' ')];
  return table === 'workshop' ? one : `${count} ${count === 1 ? one : many}`;
}
