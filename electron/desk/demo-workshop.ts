/** The invented workshop to look around in: its tools, cupboard, course and people. Everything in it is made up and says so. */
import { readFileSync, rmSync } from 'node:fs';
import { eq } from 'drizzle-orm';
import { Temporal } from 'temporal-polyfill';
import { assert, type Result } from '../../core/result.ts';
import { book, course, courseCopy, material, movement, person, syllabusItem, tool } from '../store/schema.ts';
import { courseTalk, guest, letter, room } from '../store/schema-course.ts';
import { courseTerms } from '../store/schema-course-plan.ts';
import { ingredient, recipe, substitute, supplier } from '../store/schema-stockroom.ts';
import { type Change, createWorkshop, type OpenOptions, type Workshop } from '../store/workshop.ts';
import { type Told, toldOf } from './course-guests.ts';
import { putPiecesInDrawer } from './demo-pieces.ts';
import { look, take } from './takein.ts';

type DemoMaterial = Readonly<{
  name: string;
  kind: string;
  unit: string;
  packQuantity: number;
  packPriceMinor: number;
  supplier: string;
  leadDays: number;
  shelfLifeDays: number | null;
  sheetHeightMm: number | null;
  sheetWidthMm: number | null;
  grain: string | null;
  caliperMm: number | null;
  colour: string;
  place: string;
  note: string;
  onHand: number;
}>;
type DemoTalk = Omit<typeof courseTalk.$inferSelect, 'id' | 'courseId' | 'who' | 'reading'>;
type DemoGuest = Readonly<{ name: string }> & Partial<Told>;
type DemoTerms = Readonly<{ depositMinor: number; decideDaysBefore: number; lostMinor: number }>;
type DemoPerson = Omit<typeof person.$inferSelect, 'id' | 'courseId'>;
type DemoCourse = Omit<typeof course.$inferSelect, 'id' | 'startsOn'> & Readonly<{ startsInDays: number }>;
type Demo = Readonly<{
  name: string;
  timeZone: string;
  currency: string;
  units: 'mm' | 'in';
  weekHours: [number, number][][];
  daysOff: string[];
  hourlyRateMinor: number;
  tools: readonly Omit<typeof tool.$inferSelect, 'id'>[];
  materials: readonly DemoMaterial[];
  suppliers: readonly Omit<typeof supplier.$inferSelect, 'id'>[];
  substitutes: readonly Readonly<{ of: string; by: string; note: string }>[];
  recipes: readonly Readonly<{
    of: string;
    yield: number;
    keepsDays: number;
    note: string;
    ingredients: readonly Readonly<{ name: string; quantity: number }>[];
  }>[];
  course: DemoCourse;
  rooms: readonly Omit<typeof room.$inferSelect, 'id'>[];
  guests: readonly DemoGuest[];
  letter: Omit<typeof letter.$inferSelect, 'id'>;
  talks: readonly DemoTalk[];
  terms: DemoTerms;
  people: readonly DemoPerson[];
  syllabus: readonly Readonly<{ operationId: string; required: boolean; demonstrationMinutes: number }>[];
}>;

/** Makes the demo in a new folder and leaves it open. */
export function makeDemoWorkshop(folder: string, options: OpenOptions): Result<Workshop> {
  const demo = JSON.parse(readFileSync(new URL('../../fixtures/demo/workshop.json', import.meta.url), 'utf8')) as Demo;
  const { name, timeZone, currency, units, weekHours, daysOff, hourlyRateMinor } = demo;
  const habits = { name, timeZone, currency, units, weekHours, daysOff, hourlyRateMinor, isDemo: true };
  const made = createWorkshop(folder, habits, options);
  if (!made.ok) return made;
  const now = (options.now ?? Date.now)();
  let ready: Result<unknown> | null = null;
  try {
    ready = fill(made.value, demo, now);
  } finally {
    // Half a demo would be opened as a whole one the next time.
    if (ready?.ok !== true) {
      made.value.close();
      rmSync(folder, { recursive: true, force: true });
    }
  }
  return ready.ok ? made : ready;
}

function fill(workshop: Workshop, demo: Demo, now: number): Result<unknown> {
  const filled = workshop.write('Set up the invented workshop', (change) => {
    for (const row of demo.tools) change.insert(tool, row);
    fillCupboard(change, demo, now);
    enrol(change, demo, now);
  });
  const taken = filled.ok ? takeInList(workshop, now) : filled;
  const copied = taken.ok ? putCopiesOnCourse(workshop) : taken;
  return copied.ok ? putPiecesInDrawer(workshop) : copied;
}

/** The demo's books come as anybody's would: out of a messy list. What cannot be read is left out, as the list's own page would show. */
function takeInList(workshop: Workshop, now: number): Result<unknown> {
  const fileName = 'shelf-list.csv';
  const bytes = readFileSync(new URL(`../../fixtures/demo/${fileName}`, import.meta.url));
  const looked = look({ fileName, base64: bytes.toString('base64') });
  if (!looked.ok) return looked;
  const { token, columns, defaultUnit } = looked.value;
  const mapping = columns.map(({ field }) => field);
  return take(workshop, { token, mapping, defaultUnit, fixes: [], leave: [], skipDuplicates: true }, now);
}

function fillCupboard(change: Change, demo: Demo, now: number): void {
  const ids = new Map(demo.materials.map((row) => [row.name, stock(change, row, now)]));
  const idOf = (name: string) => {
    const id = ids.get(name);
    assert(id, `the demo has the material ${name}`);
    return id;
  };
  for (const row of demo.suppliers) change.insert(supplier, row);
  for (const { of, by, note } of demo.substitutes) {
    change.insert(substitute, { materialId: idOf(of), substituteId: idOf(by), note });
  }
  for (const { of, yield: made, keepsDays, note, ingredients } of demo.recipes) {
    const row = { materialId: idOf(of), yieldMillionths: millionths(made), keepsDays, note };
    const recipeId = change.insert(recipe, row);
    for (const { name, quantity } of ingredients) {
      change.insert(ingredient, { recipeId, materialId: idOf(name), quantityMillionths: millionths(quantity) });
    }
  }
}

function stock(change: Change, row: DemoMaterial, now: number): string {
  const { packQuantity, sheetHeightMm, sheetWidthMm, caliperMm, onHand, ...same } = row;
  const um = (mm: number | null) => (mm === null ? null : Math.round(mm * 1000));
  const materialId = change.insert(material, {
    ...same,
    packMillionths: millionths(packQuantity),
    sheetHeightUm: um(sheetHeightMm),
    sheetWidthUm: um(sheetWidthMm),
    caliperUm: um(caliperMm),
  });
  const quantityMillionths = millionths(onHand);
  const reason = 'Counted when the workshop was set up';
  if (onHand > 0) change.insert(movement, { materialId, kind: 'counted', quantityMillionths, at: now, reason });
  return materialId;
}

/** Every book meant for practice is put on the course; who gets which is left to the person at the bench. */
function putCopiesOnCourse(workshop: Workshop): Result<unknown> {
  const held = workshop.db.select({ id: course.id }).from(course).get();
  assert(held, 'the demo has its course');
  const copies = workshop.db.select({ id: book.id }).from(book).where(eq(book.fate, 'practice')).all();
  return workshop.write(`Put ${copies.length} practice copies on the course`, (change) => {
    for (const { id: bookId } of copies) {
      change.insert(courseCopy, { courseId: held.id, bookId, locked: false, reason: '' });
    }
  });
}

/** The course begins on the first Monday at least so many days ahead, so that there is always time to prepare it. */
function enrol(change: Change, demo: Demo, now: number): void {
  const { startsInDays, ...row } = demo.course;
  const day = Temporal.Instant.fromEpochMilliseconds(now).toZonedDateTimeISO(demo.timeZone).toPlainDate();
  const soonest = day.add({ days: startsInDays });
  const startsOn = soonest.add({ days: (8 - soonest.dayOfWeek) % 7 });
  assert(startsOn.dayOfWeek === 1, 'the demo course begins on a Monday');
  const courseId = change.insert(course, { ...row, startsOn: startsOn.toString() });
  for (const talk of demo.talks) change.insert(courseTalk, { ...talk, courseId, who: '', reading: '' });
  const { decideDaysBefore, ...terms } = demo.terms;
  const decideOn = startsOn.subtract({ days: decideDaysBefore }).toString();
  change.insert(courseTerms, { ...terms, courseId, decideOn });
  const ids = new Map(demo.people.map((one) => [one.name, change.insert(person, { ...one, courseId })]));
  for (const { name, ...told } of demo.guests) {
    const personId = ids.get(name);
    assert(personId, `the demo has the person ${name}`);
    change.insert(guest, { ...toldOf(null), ...told, personId });
  }
  for (const one of demo.rooms) change.insert(room, one);
  change.insert(letter, demo.letter);
  for (const [position, item] of demo.syllabus.entries()) change.insert(syllabusItem, { ...item, courseId, position });
}

function millionths(quantity: number): number {
  return Math.round(quantity * 1_000_000);
}
