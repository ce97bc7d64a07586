/** Queries of a course's people: what they told us, their rooms, what they met, and what a course keeps beside its week. */
import { and, asc, eq, isNotNull } from 'drizzle-orm';
import { courseCopy, entry, material, movement, person } from './schema.ts';
import { courseDate, courseFrame, courseNote, courseTalk, guest, letter, met, room } from './schema-course.ts';
import { coursePair, courseRuined, courseSharing, courseTerms, deposit } from './schema-course-plan.ts';
import type { Reader } from './workshop.ts';

export type GuestRow = typeof guest.$inferSelect;

/** What people of a course told us, by person; whoever told nothing is not in it. */
export function guestsOf(db: Reader, courseId: string): ReadonlyMap<string, GuestRow> {
  const rows = db
    .select({ guest })
    .from(guest)
    .innerJoin(person, eq(person.id, guest.personId))
    .where(eq(person.courseId, courseId))
    .all();
  return new Map(rows.map((row) => [row.guest.personId, row.guest]));
}

export function guestOf(db: Reader, personId: string): GuestRow | null {
  return db.select().from(guest).where(eq(guest.personId, personId)).get() ?? null;
}

export type RoomRow = typeof room.$inferSelect;

export function listRooms(db: Reader): readonly RoomRow[] {
  return db.select().from(room).orderBy(asc(room.name)).all();
}

/** Guests of any course who sleep in a room. */
export function guestsIn(db: Reader, roomId: string): readonly GuestRow[] {
  return db.select().from(guest).where(eq(guest.roomId, roomId)).all();
}

export function frameOf(db: Reader, courseId: string): typeof courseFrame.$inferSelect | null {
  return db.select().from(courseFrame).where(eq(courseFrame.courseId, courseId)).get() ?? null;
}

export function datesOf(db: Reader, courseId: string): readonly (typeof courseDate.$inferSelect)[] {
  return db.select().from(courseDate).where(eq(courseDate.courseId, courseId)).orderBy(asc(courseDate.startsOn)).all();
}

export function dateById(db: Reader, id: string): typeof courseDate.$inferSelect | null {
  return db.select().from(courseDate).where(eq(courseDate.id, id)).get() ?? null;
}

export type TalkRow = typeof courseTalk.$inferSelect;

export function talksOf(db: Reader, courseId: string): readonly TalkRow[] {
  return db
    .select()
    .from(courseTalk)
    .where(eq(courseTalk.courseId, courseId))
    .orderBy(asc(courseTalk.day), asc(courseTalk.fromMinute), asc(courseTalk.id))
    .all();
}

export function metOf(db: Reader, courseId: string): readonly (typeof met.$inferSelect)[] {
  return db.select().from(met).where(eq(met.courseId, courseId)).orderBy(asc(met.at), asc(met.id)).all();
}

export function notesOf(db: Reader, courseId: string): readonly (typeof courseNote.$inferSelect)[] {
  return db
    .select()
    .from(courseNote)
    .where(eq(courseNote.courseId, courseId))
    .orderBy(asc(courseNote.at), asc(courseNote.id))
    .all();
}

export function listLetters(db: Reader): readonly (typeof letter.$inferSelect)[] {
  return db.select().from(letter).orderBy(asc(letter.name)).all();
}

/** Lines of the day-book with minutes of people of this course. */
export function minutesLogged(db: Reader, courseId: string): readonly (typeof entry.$inferSelect)[] {
  return db
    .select()
    .from(entry)
    .where(and(eq(entry.courseId, courseId), isNotNull(entry.minutes), isNotNull(entry.operationId)))
    .orderBy(asc(entry.at), asc(entry.id))
    .all();
}

export type UsedRow = Readonly<{ materialId: string; name: string; unit: string; usedMillionths: number }>;

/** What left the cupboard for this course, corrections reckoned in. */
export function usedBy(db: Reader, courseId: string): readonly UsedRow[] {
  const rows = db
    .select({ id: material.id, name: material.name, unit: material.unit, quantity: movement.quantityMillionths })
    .from(movement)
    .innerJoin(material, eq(material.id, movement.materialId))
    .where(eq(movement.courseId, courseId))
    .all();
  return [...Map.groupBy(rows, ({ id }) => id)].map(([materialId, group]) => ({
    materialId,
    name: group[0]?.name ?? '',
    unit: group[0]?.unit ?? '',
    usedMillionths: -group.reduce((sum, { quantity }) => sum + quantity, 0),
  }));
}

/** Everything tied to one person, as the file has it. */
export function allOf(db: Reader, personId: string) {
  return {
    person: db.select().from(person).where(eq(person.id, personId)).all(),
    told: db.select().from(guest).where(eq(guest.personId, personId)).all(),
    met: db.select().from(met).where(eq(met.personId, personId)).all(),
    notes: db.select().from(courseNote).where(eq(courseNote.personId, personId)).all(),
    dayBook: db.select().from(entry).where(eq(entry.personId, personId)).all(),
    copies: db.select().from(courseCopy).where(eq(courseCopy.personId, personId)).all(),
    pairs: db.select().from(coursePair).where(eq(coursePair.personId, personId)).all(),
    deposits: db.select().from(deposit).where(eq(deposit.personId, personId)).all(),
  };
}

/** What was planned of a course beside its week: terms, ruined copies, allocations kept under a name. */
export function plannedOf(db: Reader, courseId: string) {
  return {
    ruined: db.select().from(courseRuined).where(eq(courseRuined.courseId, courseId)).all(),
    sharings: db.select().from(courseSharing).where(eq(courseSharing.courseId, courseId)).all(),
    terms: db.select().from(courseTerms).where(eq(courseTerms.courseId, courseId)).all(),
  };
}

/** A material and what its ledger says is there. */
export function onHandOfMaterial(
  db: Reader,
  materialId: string,
): Readonly<{ name: string; unit: string; onHandMillionths: number }> | null {
  const found = db.select().from(material).where(eq(material.id, materialId)).get();
  if (!found) return null;
  const lines = db
    .select({ quantity: movement.quantityMillionths })
    .from(movement)
    .where(eq(movement.materialId, materialId))
    .all();
  const onHandMillionths = lines.reduce((sum, { quantity }) => sum + quantity, 0);
  return { name: found.name, unit: found.unit, onHandMillionths };
}
