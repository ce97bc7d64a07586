/**
 * What is decided of a course's copies and its money: pairs that must not be, copies that are spoilt, allocations kept under a name to be
 * compared; deposits, and the day by which it is settled whether the course takes place.
 */
import { index, integer, sqliteTable, text, uniqueIndex } from 'drizzle-orm/sqlite-core';
import type { KeptValue } from '../../core/course/compare.ts';
import { book, course, person } from './schema.ts';

/** This copy is not to be this person's. */
export const coursePair = sqliteTable(
  'course_pair',
  {
    id: text('id').primaryKey(),
    courseId: text('course_id')
      .notNull()
      .references(() => course.id),
    personId: text('person_id')
      .notNull()
      .references(() => person.id),
    bookId: text('book_id')
      .notNull()
      .references(() => book.id),
  },
  (table) => [
    uniqueIndex('course_pair_both').on(table.courseId, table.personId, table.bookId),
    index('course_pair_person').on(table.personId),
  ],
);

/** A copy of the course that can no longer be worked on. */
export const courseRuined = sqliteTable(
  'course_ruined',
  {
    id: text('id').primaryKey(),
    courseId: text('course_id')
      .notNull()
      .references(() => course.id),
    bookId: text('book_id')
      .notNull()
      .references(() => book.id),
    at: integer('at').notNull(),
    what: text('what').notNull(),
  },
  (table) => [uniqueIndex('course_ruined_copy').on(table.courseId, table.bookId)],
);

/** An allocation kept under a name. */
export const courseSharing = sqliteTable(
  'course_sharing',
  {
    id: text('id').primaryKey(),
    courseId: text('course_id')
      .notNull()
      .references(() => course.id),
    name: text('name').notNull(),
    madeAt: integer('made_at').notNull(),
    /** Whose each copy was: [person, copy], by their ids. */
    pairs: text('pairs', { mode: 'json' }).$type<readonly (readonly [string, string])[]>().notNull(),
    value: text('value', { mode: 'json' }).$type<KeptValue>().notNull(),
  },
  (table) => [uniqueIndex('course_sharing_name').on(table.courseId, table.name)],
);

/** Terms of payment of a course: one row, where any were said. */
export const courseTerms = sqliteTable(
  'course_terms',
  {
    id: text('id').primaryKey(),
    courseId: text('course_id')
      .notNull()
      .references(() => course.id),
    depositMinor: integer('deposit_minor').notNull(),
    /** The last day on which it can be called off without losing more than `lostMinor`. */
    decideOn: text('decide_on'),
    /** Fixed costs already spent or owed on that day, whether it takes place or not. */
    lostMinor: integer('lost_minor').notNull(),
  },
  (table) => [uniqueIndex('course_terms_course').on(table.courseId)],
);

/** What a person has paid ahead. */
export const deposit = sqliteTable(
  'deposit',
  {
    id: text('id').primaryKey(),
    personId: text('person_id')
      .notNull()
      .references(() => person.id),
    paidMinor: integer('paid_minor').notNull(),
    paidOn: text('paid_on').notNull(),
  },
  (table) => [uniqueIndex('deposit_person').on(table.personId)],
);
