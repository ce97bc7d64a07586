/**
 * What a course knows beside its copies and its week: dates that are not settled, meals, who teaches, talks and free time; of each person
 * what they told us, where they sleep and what they have met; what happened, and the letters that are filled in.
 */
import { index, integer, sqliteTable, text, uniqueIndex } from 'drizzle-orm/sqlite-core';
import type { Answers, Meal, MealTime, Need, RoomWish } from '../../core/course/guest.ts';
import type { Helper } from '../../core/course/programme.ts';
import { course, person } from './schema.ts';

/** The frame of a course beyond its hours: one row a course, where anything of it was said. */
export const courseFrame = sqliteTable(
  'course_frame',
  {
    id: text('id').primaryKey(),
    courseId: text('course_id')
      .notNull()
      .references(() => course.id),
    /** The dates hold; before, they are only proposed. */
    firm: integer('firm', { mode: 'boolean' }).notNull(),
    meals: text('meals', { mode: 'json' }).$type<readonly MealTime[]>().notNull(),
    helpers: text('helpers', { mode: 'json' }).$type<readonly Helper[]>().notNull(),
    reading: text('reading').notNull(),
  },
  (table) => [uniqueIndex('course_frame_course').on(table.courseId)],
);

/** A first day that is thought of, beside the one in force. */
export const courseDate = sqliteTable(
  'course_date',
  {
    id: text('id').primaryKey(),
    courseId: text('course_id')
      .notNull()
      .references(() => course.id),
    startsOn: text('starts_on').notNull(),
    note: text('note').notNull(),
  },
  (table) => [uniqueIndex('course_date_day').on(table.courseId, table.startsOn)],
);

/** A talk, free time, an outing: nobody is planned at the bench meanwhile. */
export const courseTalk = sqliteTable(
  'course_talk',
  {
    id: text('id').primaryKey(),
    courseId: text('course_id')
      .notNull()
      .references(() => course.id),
    kind: text('kind').notNull(),
    title: text('title').notNull(),
    /** 1 is the first day. */
    day: integer('day').notNull(),
    fromMinute: integer('from_minute').notNull(),
    minutes: integer('minutes').notNull(),
    who: text('who').notNull(),
    reading: text('reading').notNull(),
  },
  (table) => [index('course_talk_course').on(table.courseId, table.day)],
);

/** A bedroom of the house. */
export const room = sqliteTable(
  'room',
  {
    id: text('id').primaryKey(),
    name: text('name').notNull(),
    beds: integer('beds').notNull(),
    stepFree: integer('step_free', { mode: 'boolean' }).notNull(),
    ensuite: integer('ensuite', { mode: 'boolean' }).notNull(),
    quiet: integer('quiet', { mode: 'boolean' }).notNull(),
    note: text('note').notNull(),
  },
  (table) => [uniqueIndex('room_name').on(table.name)],
);

/** What one person told us, and where they sleep; one row a person, where anything was said. */
export const guest = sqliteTable(
  'guest',
  {
    id: text('id').primaryKey(),
    personId: text('person_id')
      .notNull()
      .references(() => person.id),
    contact: text('contact').notNull(),
    /** Null: on the first day, and until the last. */
    arrivesOn: text('arrives_on'),
    firstMeal: text('first_meal').$type<Meal>().notNull(),
    leavesOn: text('leaves_on'),
    lastMeal: text('last_meal').$type<Meal>().notNull(),
    /** Sleeps elsewhere: no bed is kept. */
    sleepsOut: integer('sleeps_out', { mode: 'boolean' }).notNull(),
    needs: text('needs', { mode: 'json' }).$type<readonly Need[]>().notNull(),
    otherNeeds: text('other_needs').notNull(),
    foodAllergies: text('food_allergies', { mode: 'json' }).$type<readonly string[]>().notNull(),
    wish: text('wish').$type<RoomWish>().notNull(),
    wishQuiet: integer('wish_quiet', { mode: 'boolean' }).notNull(),
    shareWith: text('share_with', { mode: 'json' }).$type<readonly string[]>().notNull(),
    notWith: text('not_with', { mode: 'json' }).$type<readonly string[]>().notNull(),
    answers: text('answers', { mode: 'json' }).$type<Answers>().notNull(),
    booksDone: integer('books_done').notNull(),
    /** A person set the level, whatever the answers come to. */
    levelByHand: integer('level_by_hand', { mode: 'boolean' }).notNull(),
    /** First days on which they could come, of those thought of. */
    couldCome: text('could_come', { mode: 'json' }).$type<readonly string[]>().notNull(),
    roomId: text('room_id').references(() => room.id),
    roomByHand: integer('room_by_hand', { mode: 'boolean' }).notNull(),
  },
  (table) => [uniqueIndex('guest_person').on(table.personId), index('guest_room').on(table.roomId)],
);

/** That a person met an operation, and how: watched, with help, alone. */
export const met = sqliteTable(
  'met',
  {
    id: text('id').primaryKey(),
    courseId: text('course_id')
      .notNull()
      .references(() => course.id),
    personId: text('person_id')
      .notNull()
      .references(() => person.id),
    operationId: text('operation_id').notNull(),
    how: text('how').notNull(),
    at: integer('at').notNull(),
  },
  (table) => [
    uniqueIndex('met_person_operation').on(table.personId, table.operationId),
    index('met_course').on(table.courseId),
  ],
);

/** Something that happened, or was said: an incident or a comment. */
export const courseNote = sqliteTable(
  'course_note',
  {
    id: text('id').primaryKey(),
    courseId: text('course_id')
      .notNull()
      .references(() => course.id),
    kind: text('kind').notNull(),
    at: integer('at').notNull(),
    personId: text('person_id').references(() => person.id),
    what: text('what').notNull(),
    done: text('done').notNull(),
  },
  (table) => [index('course_note_course').on(table.courseId, table.at), index('course_note_person').on(table.personId)],
);

/** A text with fields in braces, filled in for each person. */
export const letter = sqliteTable(
  'letter',
  { id: text('id').primaryKey(), name: text('name').notNull(), text: text('text').notNull() },
  (table) => [uniqueIndex('letter_name').on(table.name)],
);
