/** Which tables a person's change may touch, and which follow from others. */
import * as schema from './schema.ts';
import * as courses from './schema-course.ts';
import * as coursePlans from './schema-course-plan.ts';
import * as offcuts from './schema-offcuts.ts';
import * as photographs from './schema-photographs.ts';
import * as shelf from './schema-shelf.ts';
import * as stockroom from './schema-stockroom.ts';

export const journalled = {
  workshop: schema.workshop,
  place: schema.place,
  lot: schema.lot,
  book: schema.book,
  finding: schema.finding,
  measure: schema.measure,
  hazard: schema.hazard,
  treatment: schema.treatment,
  backlogSample: schema.backlogSample,
  tool: schema.tool,
  material: schema.material,
  stockLot: schema.stockLot,
  booking: schema.booking,
  movement: schema.movement,
  supplier: stockroom.supplier,
  priceQuote: stockroom.priceQuote,
  substitute: stockroom.substitute,
  recipe: stockroom.recipe,
  ingredient: stockroom.ingredient,
  arrival: schema.arrival,
  piece: schema.piece,
  bookColour: offcuts.bookColour,
  cuttingHabits: offcuts.cuttingHabits,
  course: schema.course,
  person: schema.person,
  syllabusItem: schema.syllabusItem,
  courseCopy: schema.courseCopy,
  courseFrame: courses.courseFrame,
  courseDate: courses.courseDate,
  courseTalk: courses.courseTalk,
  room: courses.room,
  guest: courses.guest,
  met: courses.met,
  courseNote: courses.courseNote,
  letter: courses.letter,
  coursePair: coursePlans.coursePair,
  courseRuined: coursePlans.courseRuined,
  courseSharing: coursePlans.courseSharing,
  courseTerms: coursePlans.courseTerms,
  deposit: coursePlans.deposit,
  plan: schema.plan,
  planTask: schema.planTask,
  entry: schema.entry,
  photograph: photographs.photograph,
  treatmentRecord: photographs.treatmentRecord,
  ownOperation: shelf.ownOperation,
  ownTreatment: shelf.ownTreatment,
  savedView: shelf.savedView,
} as const;

export type JournalledTable = (typeof journalled)[keyof typeof journalled];
export type DerivedTable = typeof schema.assessment;
