/**
 * The tables of a workshop. Lengths are integer micrometres, money integer minor units, stock quantities integer millionths of the
 * material's unit, instants UTC milliseconds, plain dates YYYY-MM-DD text. Every table a person's change can touch has a text `id`,
 * because the journal names rows by table and id. Word lists are checked at the contract, not here, so that a later version may add words.
 */
import {
  type AnySQLiteColumn,
  index,
  integer,
  primaryKey,
  real,
  sqliteTable,
  text,
  uniqueIndex,
} from 'drizzle-orm/sqlite-core';

const key = () => text('id').primaryKey();

/** The workshop itself: always one row. */
export const workshop = sqliteTable('workshop', {
  id: key(),
  name: text('name').notNull(),
  timeZone: text('time_zone').notNull(),
  currency: text('currency').notNull(),
  units: text('units').notNull(),
  /** Seven lists of [from, to] minutes after midnight, Monday first. */
  weekHours: text('week_hours', { mode: 'json' }).$type<readonly (readonly [number, number][])[]>().notNull(),
  /** Dates on which the bench is closed. */
  daysOff: text('days_off', { mode: 'json' }).$type<readonly string[]>().notNull(),
  /** Weights of the named parts of a book's priority. */
  weights: text('weights', { mode: 'json' }).$type<Readonly<Record<string, number>>>().notNull(),
  hourlyRateMinor: integer('hourly_rate_minor').notNull(),
  isDemo: integer('is_demo', { mode: 'boolean' }).notNull(),
  createdAt: integer('created_at').notNull(),
  /** Paper of everything printed. */
  paper: text('paper').notNull().default('A4'),
  /** Lines under the name at the head of everything printed: address, telephone. */
  heading: text('heading').notNull().default(''),
});

export const place = sqliteTable('place', {
  id: key(),
  parentId: text('parent_id'),
  name: text('name').notNull(),
});

export const lot = sqliteTable('lot', {
  id: key(),
  name: text('name').notNull(),
  acquiredOn: text('acquired_on'),
  costMinor: integer('cost_minor'),
  note: text('note').notNull(),
});

export const book = sqliteTable(
  'book',
  {
    id: key(),
    shelfMark: text('shelf_mark'),
    title: text('title').notNull(),
    author: text('author').notNull(),
    imprint: text('imprint').notNull(),
    dateText: text('date_text').notNull(),
    yearFrom: integer('year_from'),
    yearTo: integer('year_to'),
    format: text('format').notNull(),
    heightUm: integer('height_um'),
    widthUm: integer('width_um'),
    thicknessUm: integer('thickness_um'),
    pages: integer('pages'),
    pagesText: text('pages_text').notNull(),
    binding: text('binding'),
    colour: text('colour').notNull(),
    pattern: text('pattern'),
    lotId: text('lot_id').references(() => lot.id),
    placeId: text('place_id').references(() => place.id),
    fate: text('fate'),
    fateLocked: integer('fate_locked', { mode: 'boolean' }).notNull(),
    stage: text('stage').notNull(),
    use: text('use').notNull(),
    significance: integer('significance').notNull(),
    scarcity: text('scarcity').notNull(),
    completeness: text('completeness').notNull(),
    note: text('note').notNull(),
    createdAt: integer('created_at').notNull(),
  },
  (table) => [
    uniqueIndex('book_shelf_mark').on(table.shelfMark),
    index('book_lot').on(table.lotId),
    index('book_place').on(table.placeId),
    index('book_stage').on(table.stage),
  ],
);

export const finding = sqliteTable(
  'finding',
  {
    id: key(),
    bookId: text('book_id')
      .notNull()
      .references(() => book.id),
    part: text('part').notNull(),
    damage: text('damage').notNull(),
    severity: integer('severity').notNull(),
    count: integer('count'),
    note: text('note').notNull(),
  },
  (table) => [index('finding_book').on(table.bookId)],
);

/**
 * Where a book differs from what its size and binding give: one field of one calculation of the Reckoner, a length or words. The cover
 * calculations share theirs under one name.
 */
export const measure = sqliteTable(
  'measure',
  {
    id: key(),
    bookId: text('book_id')
      .notNull()
      .references(() => book.id),
    calculation: text('calculation').notNull(),
    field: text('field').notNull(),
    lengthUm: integer('length_um'),
    words: text('words'),
  },
  (table) => [uniqueIndex('measure_field').on(table.bookId, table.calculation, table.field)],
);

export const hazard = sqliteTable(
  'hazard',
  {
    id: key(),
    bookId: text('book_id')
      .notNull()
      .references(() => book.id),
    kind: text('kind').notNull(),
    state: text('state').notNull(),
    reason: text('reason').notNull(),
    decision: text('decision').notNull(),
    decidedAt: integer('decided_at'),
  },
  (table) => [uniqueIndex('hazard_book_kind').on(table.bookId, table.kind)],
);

/** A treatment a person agreed to: frozen steps, so that later changes of the library do not rewrite it. */
export const treatment = sqliteTable(
  'treatment',
  {
    id: key(),
    bookId: text('book_id')
      .notNull()
      .references(() => book.id),
    agreedAt: integer('agreed_at').notNull(),
    /** Step[] of core/treatment/treatment.ts. */
    steps: text('steps', { mode: 'json' }).$type<readonly unknown[]>().notNull(),
    note: text('note').notNull(),
  },
  (table) => [index('treatment_book').on(table.bookId)],
);

/**
 * What follows from a book and its survey, worked out again in the same transaction as any change to them. Derived, so never journalled.
 */
export const assessment = sqliteTable('assessment', {
  bookId: text('book_id')
    .primaryKey()
    .references(() => book.id, { onDelete: 'cascade' }),
  /** The parts of its priority, each from 0 to 1; the score follows from them and the workshop's weights: ranking.ts. */
  significance: real('significance').notNull(),
  decay: real('decay').notNull(),
  use: real('use').notNull(),
  benefit: real('benefit').notNull(),
  minutesLow: integer('minutes_low').notNull(),
  minutesLikely: integer('minutes_likely').notNull(),
  minutesHigh: integer('minutes_high').notNull(),
  waitMinutes: integer('wait_minutes').notNull(),
  level: text('level').notNull(),
  suggestedFate: text('suggested_fate').notNull(),
  /** A reason for each part, for when it weighs most; or the only one. */
  reasons: text('reasons', { mode: 'json' }).$type<readonly string[]>().notNull(),
  hazardOpen: integer('hazard_open', { mode: 'boolean' }).notNull(),
  operations: text('operations', { mode: 'json' }).$type<readonly string[]>().notNull(),
  /** The version of the rules that produced this row; another version is worked out anew at opening. */
  rules: integer('rules').notNull(),
});

/** A random sample of the books that were unsurveyed when it was drawn, to size up all of them. */
export const backlogSample = sqliteTable('backlog_sample', {
  id: key(),
  drawnAt: integer('drawn_at').notNull(),
  seed: integer('seed').notNull(),
  confidence: real('confidence').notNull(),
  share: real('share').notNull(),
  margin: real('margin').notNull(),
  /** What the strata were made by: nothing, lots or places. */
  by: text('by').notNull(),
  /** Each with how many books it had and the ids of those drawn. */
  strata: text('strata', { mode: 'json' })
    .$type<readonly Readonly<{ name: string; books: number; drawn: readonly string[] }>[]>()
    .notNull(),
});

export const tool = sqliteTable('tool', {
  id: key(),
  kind: text('kind').notNull(),
  name: text('name').notNull(),
  capacity: integer('capacity').notNull(),
  note: text('note').notNull(),
});

export const material = sqliteTable('material', {
  id: key(),
  name: text('name').notNull(),
  kind: text('kind').notNull(),
  unit: text('unit').notNull(),
  packMillionths: integer('pack_millionths').notNull(),
  packPriceMinor: integer('pack_price_minor').notNull(),
  supplier: text('supplier').notNull(),
  leadDays: integer('lead_days').notNull(),
  shelfLifeDays: integer('shelf_life_days'),
  sheetHeightUm: integer('sheet_height_um'),
  sheetWidthUm: integer('sheet_width_um'),
  grain: text('grain'),
  caliperUm: integer('caliper_um'),
  colour: text('colour').notNull(),
  place: text('place').notNull(),
  note: text('note').notNull(),
  /** Where its hazard sheet can be read, https only; empty where none is known. */
  hazardSheet: text('hazard_sheet').notNull().default(''),
});

/** What came in together and keeps together: one delivery, or one batch made. What is left of it is the sum of its movements. */
export const stockLot = sqliteTable(
  'stock_lot',
  {
    id: key(),
    materialId: text('material_id')
      .notNull()
      .references(() => material.id),
    receivedOn: text('received_on').notNull(),
    /** Null: it does not spoil, or nobody knows. */
    bestBefore: text('best_before'),
    supplier: text('supplier').notNull(),
    /** What all of it cost; null where that is not known. */
    costMinor: integer('cost_minor'),
    /** The maker's batch number, or what tells it apart. */
    number: text('number').notNull(),
    note: text('note').notNull(),
  },
  (table) => [index('stock_lot_material').on(table.materialId, table.receivedOn)],
);

/** A step finished at the bench whose materials have been dealt with, once for good: booked out of the ledger, or said to be none. */
export const booking = sqliteTable(
  'booking',
  {
    id: key(),
    bookId: text('book_id')
      .notNull()
      .references(() => book.id),
    operationId: text('operation_id').notNull(),
    finishedAt: integer('finished_at').notNull(),
    at: integer('at').notNull(),
    note: text('note').notNull(),
  },
  (table) => [uniqueIndex('booking_step').on(table.bookId, table.operationId, table.finishedAt)],
);

/** The ledger. Rows are added, never changed; a mistake is answered by another row. */
export const movement = sqliteTable(
  'movement',
  {
    id: key(),
    materialId: text('material_id')
      .notNull()
      .references(() => material.id),
    kind: text('kind').notNull(),
    quantityMillionths: integer('quantity_millionths').notNull(),
    at: integer('at').notNull(),
    reason: text('reason').notNull(),
    bookId: text('book_id').references(() => book.id),
    courseId: text('course_id').references(() => course.id),
    /** The lot it came into or out of; null for what came before lots were kept or is in none. */
    lotId: text('lot_id').references(() => stockLot.id),
    /** The finished step it was used in. */
    bookingId: text('booking_id').references(() => booking.id),
    /** The batch it went into. */
    madeLotId: text('made_lot_id').references(() => stockLot.id),
  },
  (table) => [
    index('movement_material').on(table.materialId, table.at),
    index('movement_book').on(table.bookId),
    index('movement_course').on(table.courseId),
    index('movement_lot').on(table.lotId),
    index('movement_booking').on(table.bookingId),
    index('movement_made').on(table.madeLotId),
  ],
);

/** What has been ordered and not yet come. */
export const arrival = sqliteTable(
  'arrival',
  {
    id: key(),
    materialId: text('material_id')
      .notNull()
      .references(() => material.id),
    quantityMillionths: integer('quantity_millionths').notNull(),
    orderedOn: text('ordered_on').notNull(),
    dueOn: text('due_on').notNull(),
    receivedAt: integer('received_at'),
  },
  (table) => [index('arrival_material').on(table.materialId)],
);

/** Salvaged and left-over pieces in the drawer. */
export const piece = sqliteTable(
  'piece',
  {
    id: key(),
    donorBookId: text('donor_book_id').references(() => book.id),
    kind: text('kind').notNull(),
    heightUm: integer('height_um').notNull(),
    widthUm: integer('width_um').notNull(),
    grain: text('grain'),
    colour: text('colour').notNull(),
    /** CIE Lab, D50, as [L, a, b]; null until measured. */
    lab: text('lab', { mode: 'json' }).$type<readonly [number, number, number] | null>(),
    pattern: text('pattern'),
    yearFrom: integer('year_from'),
    yearTo: integer('year_to'),
    place: text('place').notNull(),
    note: text('note').notNull(),
    reservedBookId: text('reserved_book_id').references(() => book.id),
    /** The larger piece this one was cut from, and the material where it is left of a new sheet. */
    fromPieceId: text('from_piece_id').references((): AnySQLiteColumn => piece.id),
    materialId: text('material_id').references(() => material.id),
    /** When it was cut up or pasted in; null while it lies in the drawer. The book that got it, where one did. */
    usedAt: integer('used_at'),
    usedBookId: text('used_book_id').references(() => book.id),
    /** How the colour was measured, in words; empty for a colour that was only described. */
    measured: text('measured').notNull().default(''),
  },
  (table) => [
    index('piece_donor').on(table.donorBookId),
    index('piece_reserved').on(table.reservedBookId),
    index('piece_from').on(table.fromPieceId),
    index('piece_used').on(table.usedBookId),
  ],
);

export const course = sqliteTable('course', {
  id: key(),
  title: text('title').notNull(),
  startsOn: text('starts_on').notNull(),
  days: integer('days').notNull(),
  /** Teaching windows of one day, [from, to] minutes after midnight. */
  dayHours: text('day_hours', { mode: 'json' }).$type<readonly (readonly [number, number])[]>().notNull(),
  tutors: integer('tutors').notNull(),
  helpers: integer('helpers').notNull(),
  benches: integer('benches').notNull(),
  feeMinor: integer('fee_minor').notNull(),
  fixedCostMinor: integer('fixed_cost_minor').notNull(),
  perHeadCostMinor: integer('per_head_cost_minor').notNull(),
  /** Copies each person works on, at least and at most. */
  copiesEach: text('copies_each', { mode: 'json' }).$type<readonly [number, number]>().notNull(),
  spares: integer('spares').notNull(),
  note: text('note').notNull(),
});

export const person = sqliteTable(
  'person',
  {
    id: key(),
    courseId: text('course_id')
      .notNull()
      .references(() => course.id),
    name: text('name').notNull(),
    level: text('level').notNull(),
    standing: text('standing').notNull(),
    /** Operations the person hopes to meet. */
    wishes: text('wishes', { mode: 'json' }).$type<readonly string[]>().notNull(),
    /** Materials and hazards the person must not meet. */
    allergies: text('allergies', { mode: 'json' }).$type<readonly string[]>().notNull(),
    diet: text('diet').notNull(),
    note: text('note').notNull(),
  },
  (table) => [index('person_course').on(table.courseId)],
);

/** An operation of the syllabus: who must meet it, and the demonstration that comes first. */
export const syllabusItem = sqliteTable(
  'syllabus_item',
  {
    id: key(),
    courseId: text('course_id')
      .notNull()
      .references(() => course.id),
    operationId: text('operation_id').notNull(),
    required: integer('required', { mode: 'boolean' }).notNull(),
    demonstrationMinutes: integer('demonstration_minutes').notNull(),
    position: integer('position').notNull(),
    /** More of the tutor than the operation itself asks for; null where that is enough. */
    attention: text('attention').$type<'none' | 'nearby' | 'beside'>(),
    /** Operations of the syllabus that are shown before. */
    after: text('after', { mode: 'json' }).$type<readonly string[]>().notNull().default([]),
    reading: text('reading').notNull().default(''),
  },
  (table) => [uniqueIndex('syllabus_course_operation').on(table.courseId, table.operationId)],
);

/** A practice copy put on the course, and whose it is once allocated. */
export const courseCopy = sqliteTable(
  'course_copy',
  {
    id: key(),
    courseId: text('course_id')
      .notNull()
      .references(() => course.id),
    bookId: text('book_id')
      .notNull()
      .references(() => book.id),
    personId: text('person_id').references(() => person.id),
    locked: integer('locked', { mode: 'boolean' }).notNull(),
    reason: text('reason').notNull(),
  },
  (table) => [
    uniqueIndex('course_copy_book').on(table.courseId, table.bookId),
    index('course_copy_of').on(table.bookId),
    index('course_copy_person').on(table.personId),
  ],
);

/** A plan for a bench week or a course week: the latest for its start is the one that holds. */
export const plan = sqliteTable(
  'plan',
  {
    id: key(),
    kind: text('kind').notNull(),
    courseId: text('course_id').references(() => course.id),
    startsOn: text('starts_on').notNull(),
    madeAt: integer('made_at').notNull(),
    seed: integer('seed').notNull(),
    /** Finish and the proven bound in minutes after the plan's origin, gap in per cent, remarks: what the quality line shows. */
    quality: text('quality', { mode: 'json' }).$type<Readonly<Record<string, unknown>>>().notNull(),
  },
  (table) => [index('plan_starts').on(table.kind, table.startsOn), index('plan_course').on(table.courseId)],
);

export const planTask = sqliteTable(
  'plan_task',
  {
    id: key(),
    planId: text('plan_id')
      .notNull()
      .references(() => plan.id),
    bookId: text('book_id').references(() => book.id),
    personId: text('person_id').references(() => person.id),
    operationId: text('operation_id'),
    position: integer('position').notNull(),
    label: text('label').notNull(),
    /** hands, drying, pressing, demonstration, break. */
    kind: text('kind').notNull(),
    startAt: integer('start_at').notNull(),
    endAt: integer('end_at').notNull(),
    /** When the tool is free again: later than the end where a press waits for someone to open it. */
    heldUntil: integer('held_until'),
    tools: text('tools', { mode: 'json' }).$type<readonly string[]>().notNull(),
    waitsFor: text('waits_for').notNull(),
    /** planned, started, paused, finished, set aside. */
    state: text('state').notNull(),
    startedAt: integer('started_at'),
    finishedAt: integer('finished_at'),
    /** Begins at this instant because a person said so; null where the plan is free to move it. */
    pinnedAt: integer('pinned_at'),
    /** Out by then in half, and in four fifths, of the simulated weeks; null where that was not reckoned. */
    p50At: integer('p50_at'),
    p80At: integer('p80_at'),
    /** Share of the simulated weeks in which it is out by the week's end; null where not reckoned or not wanted by then. */
    onTime: real('on_time'),
  },
  (table) => [
    index('plan_task_plan').on(table.planId, table.startAt),
    index('plan_task_book').on(table.bookId),
    index('plan_task_person').on(table.personId),
    index('plan_task_times').on(table.kind, table.startAt),
  ],
);

/** The day-book: what was done, when, on which book, in how many minutes. */
export const entry = sqliteTable(
  'entry',
  {
    id: key(),
    at: integer('at').notNull(),
    bookId: text('book_id').references(() => book.id),
    courseId: text('course_id').references(() => course.id),
    personId: text('person_id').references(() => person.id),
    operationId: text('operation_id'),
    minutes: integer('minutes'),
    note: text('note').notNull(),
    /** The entry this one corrects: its minutes are that one's the other way. */
    answers: text('answers').references((): AnySQLiteColumn => entry.id),
  },
  (table) => [
    uniqueIndex('entry_answers').on(table.answers),
    index('entry_at').on(table.at),
    index('entry_book').on(table.bookId),
    index('entry_course').on(table.courseId),
    index('entry_person').on(table.personId),
  ],
);

/** Every change, in order, and what was said of it. Written only by the store's one writer. */
export const journal = sqliteTable(
  'journal',
  {
    seq: integer('seq').primaryKey({ autoIncrement: true }),
    at: integer('at').notNull(),
    /** In words, as shown when it is undone: "Take in 160 books from shelf list.csv". */
    label: text('label').notNull(),
    /** do, undo or redo. */
    kind: text('kind').notNull(),
    /** The entry that this one undoes or does again; its rows are that entry's, backwards or forwards. */
    answers: integer('answers'),
    /** Of a do: stands, undone, or forgotten (undone, and something new was done since). */
    standing: text('standing'),
  },
  (table) => [index('journal_standing').on(table.standing, table.seq)],
);

/** The rows a do changed, before and after, in runs short enough to hold in memory one at a time. */
export const journalRun = sqliteTable(
  'journal_run',
  {
    seq: integer('seq')
      .notNull()
      .references(() => journal.seq),
    run: integer('run').notNull(),
    changes: text('changes', { mode: 'json' }).$type<readonly JournalChange[]>().notNull(),
  },
  (table) => [primaryKey({ columns: [table.seq, table.run] })],
);

/** The number under which a book stands in the search index `book_search`, which knows rows by integer only. */
export const bookNumber = sqliteTable('book_number', {
  number: integer('number').primaryKey(),
  bookId: text('book_id')
    .notNull()
    .unique()
    .references(() => book.id, { onDelete: 'cascade' }),
});

/** One row before and after, by column name as the file has it; null where the row did not exist. */
export type JournalChange = Readonly<{
  table: string;
  id: string;
  before: Readonly<Record<string, unknown>> | null;
  after: Readonly<Record<string, unknown>> | null;
}>;
