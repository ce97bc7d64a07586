/** Deciding fates together: what there is to decide, the proposal in its thread, and a person's yes to it. */
import { type Fate, levels } from '../../core/book/book.ts';
import { blocks } from '../../core/book/hazards.ts';
import type { Accepted, Deciding, FateLine, FatesProposed, FatesStart, Need } from '../../core/contract/fates.ts';
import { ok, type Result } from '../../core/result.ts';
import type { Library } from '../../core/treatment/library.ts';
import { type CourseNeed, type FateBook, type Fates, fateBook } from '../../core/triage/fates.ts';
import { givesOf, wantsOf, worthWithNew } from '../../core/triage/old-material.ts';
import { type Assessment, assess, defaultWeights } from '../../core/triage/priority.ts';
import type { FatesInput } from '../engines/fates-worker.ts';
import { inThread } from '../engines/thread.ts';
import { readSurveyed, type Surveyed } from '../store/books.ts';
import { listCourses } from '../store/course.ts';
import { effortOf } from '../store/effort.ts';
import { booksToDecide, countUndecided, drawerMatter } from '../store/fates.ts';
import { readHabits } from '../store/habits.ts';
import { libraryOf } from '../store/operations.ts';
import { book } from '../store/schema.ts';
import type { Workshop } from '../store/workshop.ts';
import { type CourseFacts, readCourse, requiredOf } from './course-facts.ts';
import { answer, inWorkshop } from './desk.ts';
import { streamed } from './stream.ts';

/** More are not weighed at once: the rest of a longer shelf keeps what it has. */
const mostBooks = 3000;

const { fates: room } = inWorkshop;

/** Deciding that goes on, by workshop, so that it can be told to stop. */
const working = new WeakMap<Workshop, AbortController>();

export const fates = {
  start: room.start.handler(({ context }) => startOf(context.store, context.now())),
  propose: room.propose.handler(({ input, context, signal }) =>
    streamed<Deciding>(signal, async (say, stop) => {
      const told = new AbortController();
      working.set(context.store, told);
      try {
        const any = AbortSignal.any([stop, told.signal]);
        return { kind: 'done', proposed: await proposeFates(context.store, input, say, any) };
      } finally {
        if (working.get(context.store) === told) working.delete(context.store);
      }
    }),
  ),
  stop: room.stop.handler(({ context }) => {
    const told = working.get(context.store);
    told?.abort();
    return { stopped: told !== undefined };
  }),
  accept: room.accept.handler(({ input, context, errors }) =>
    answer(acceptFates(context.store, input.decisions), errors),
  ),
};

function startOf(store: Workshop, nowMs: number): FatesStart {
  const { habits } = readHabits(store.db);
  const weekMinutes = habits.weekHours.flat().reduce((sum, [from, to]) => sum + to - from, 0);
  const courses = listCourses(store.db).flatMap(({ id }) => {
    const facts = readCourse(store, id, nowMs);
    if (!facts.ok || (facts.value.windows.at(-1)?.to ?? 0) <= facts.value.frame.now) return [];
    const { course } = facts.value;
    return [{ id, title: course.title, startsOn: course.startsOn, ...needsOf(libraryOf(store.db), facts.value) }];
  });
  return { weekMinutes, ...countUndecided(store), courses };
}

/**
 * Copies a course's people would need for what everybody must meet, less those it has. Nobody meets an operation on an easier book than
 * the operation itself. Before anyone is confirmed those who were asked count; before that, one copy for each operation.
 */
function needsOf(library: Library, facts: CourseFacts): Readonly<{ people: number; needs: readonly Need[] }> {
  const asked = facts.people.filter(({ standing }) => standing === 'interested' || standing === 'offered');
  const people = facts.confirmed.length > 0 ? facts.confirmed : asked;
  const counts = new Map<string, number>();
  for (const operationId of requiredOf(facts)) {
    const own = library.byId(operationId)?.level ?? 'newcomer';
    const wanted = people.length > 0 ? people.map((one) => one.level) : [own];
    for (const level of wanted) {
      const harder = levels[Math.max(levels.indexOf(level), levels.indexOf(own))] ?? level;
      const key = `${harder}|${operationId}`;
      counts.set(key, (counts.get(key) ?? 0) + 1);
    }
  }
  const needs: Need[] = [];
  for (const [key, wanted] of counts) {
    const [level, operationId] = key.split('|') as [Need['level'], string];
    const has = facts.copies.filter(
      ({ copy }) => copy.blocked === null && copy.level === level && copy.teaches.includes(operationId),
    ).length;
    if (wanted > has) needs.push({ operationId, level, copies: wanted - has });
  }
  return { people: people.length, needs };
}

type Question = Readonly<{ handMinutes: number; needs: readonly Need[]; seconds: number }>;
type Weighed = Readonly<{ one: Surveyed; assessment: Assessment; options: FateBook }>;

async function proposeFates(
  store: Workshop,
  question: Question,
  say: (piece: Deciding) => void,
  stop: AbortSignal,
): Promise<FatesProposed> {
  const courseNeeds = summed(question.needs);
  const ids = booksToDecide(store, mostBooks);
  const weighed = weigh(store, ids, courseNeeds);
  const books = weighed.map(({ options }) => options);
  say({ kind: 'progress', words: `Weighing ${count(books.length)} against each other` });

  const held = drawerMatter(store.db);
  const used = new Set(
    books.flatMap(({ options }) => options.flatMap(({ wants }) => wants.map((one) => one.materialId))),
  );
  const materials = [...used].map((id) => ({ id, name: id, onHand: held.get(id) ?? 0 }));
  const limits = { handMinutes: question.handMinutes, courseNeeds, materials };
  const found = await inThread<FatesInput, number, Fates>(
    'fates-worker',
    { books, limits, seconds: question.seconds },
    {
      signal: stop,
      onStop: 'ask',
      onProgress: () =>
        say({ kind: 'progress', words: `Prices are known; looking for the best plan of ${count(books.length)}` }),
    },
  );
  const { open, locked, unsurveyed } = countUndecided(store);
  const left = open + locked - ids.length;
  const remarks: string[] = [];
  if (left > 0) {
    remarks.push(`The ${ids.length} books with most at stake were weighed; ${count(left)} more keep what they have.`);
  }
  if (unsurveyed > 0) {
    remarks.push(`Left out, since nobody has surveyed them: ${count(unsurveyed)}. Of them nothing is known yet.`);
  }
  return {
    status: found.status,
    gap: found.gap,
    usedMinutes: found.usedMinutes,
    handMinutes: question.handMinutes,
    hourWorth: found.hourWorth,
    short: found.short.map(({ need: { operationId, level, copies: wanted }, copies }) => ({
      need: { operationId, level, copies: wanted },
      copies,
    })),
    decisions: found.decisions.map((decision, index) => lineOf(decision, weighed[index])),
    remarks,
  };
}

/** The same operation at the same level, asked for by two courses, is one need. */
function summed(needs: readonly Need[]): readonly CourseNeed[] {
  const byKey = new Map<string, CourseNeed>();
  for (const need of needs) {
    const id = `${need.operationId}|${need.level}`;
    byKey.set(id, { ...need, id, copies: (byKey.get(id)?.copies ?? 0) + need.copies });
  }
  return [...byKey.values()];
}

function weigh(store: Workshop, ids: readonly string[], courseNeeds: readonly CourseNeed[]): readonly Weighed[] {
  const weights = { ...defaultWeights, ...readHabits(store.db).habits.weights };
  const effort = effortOf(store.db);
  const library = libraryOf(store.db);
  return readSurveyed(store.db, ids).map((one) => {
    const assessment = assess(one.book, one.findings, one.hazards, weights, effort, one.kept, library);
    const pieces = {
      wants: wantsOf(one.book, assessment.proposal.needs),
      gives: givesOf(one.book, one.findings),
      asNew: worthWithNew,
    };
    return { one, assessment, options: fateBook(one.book, one.hazards, assessment, courseNeeds, pieces) };
  });
}

function lineOf(decision: Fates['decisions'][number], weighed: Weighed | undefined): FateLine {
  const { bookId, fate, reason, otherwise } = decision;
  const { title, shelfMark, fate: now } = weighed?.one.book ?? { title: '', shelfMark: null, fate: null };
  const minutes = weighed?.options.options.find((option) => option.fate === fate)?.minutes ?? 0;
  const locked = weighed?.options.locked !== null;
  return { bookId, title, shelfMark, now, fate, locked, minutes, reason, otherwise };
}

/** Nothing is taken on trust: what was decided or seen of a book since it was proposed counts. */
function acceptFates(
  store: Workshop,
  decisions: readonly Readonly<{ bookId: string; fate: Fate }>[],
): Result<Accepted> {
  const wanted = new Map(decisions.map(({ bookId, fate }) => [bookId, fate]));
  const left: Accepted['left'][number][] = [];
  const changes: Readonly<{ bookId: string; fate: Fate }>[] = [];
  for (const { one, options } of weigh(store, [...wanted.keys()], [])) {
    const { id: bookId, title } = one.book;
    const fate = wanted.get(bookId) ?? 'leave';
    const because = whyNot(one, options, fate);
    if (because !== null) left.push({ bookId, title, because });
    else if (one.book.fate !== fate) changes.push({ bookId, fate });
  }
  if (changes.length === 0) return ok({ changed: 0, left });
  const kept = store.write(`Decide the fates of ${count(changes.length)} together`, (change) => {
    for (const { bookId, fate } of changes) change.update(book, bookId, { fate });
  });
  return kept.ok ? ok({ changed: changes.length, left }) : kept;
}

function whyNot({ book: one, hazards }: Surveyed, { locked, options, vetoes }: FateBook, fate: Fate): string | null {
  if (locked !== null) return 'You have decided this one yourself meanwhile.';
  if (one.stage !== 'waiting' && one.stage !== 'surveyed' && one.stage !== 'agreed') return 'It has been begun.';
  const stop = blocks(hazards, 'plan');
  if (stop !== null || options.some((option) => option.fate === fate)) return stop;
  return vetoes.find((veto) => veto.fate === fate)?.because ?? 'This is not open to it.';
}

function count(books: number): string {
  return books === 1 ? 'one book' : `${books.toLocaleString('en')} books`;
}
