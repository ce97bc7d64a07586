/** The Course answers: its frame, people, syllabus and copies, whose is whose, the week, and its sheets. */
import type { Allocating, Course, CoursePlanning } from '../../core/contract/course.ts';
import { practiceCopy } from '../../core/course/copy.ts';
import { ok, type Result } from '../../core/result.ts';
import { type CopyCard, printCards, printTimetable } from '../print/course.ts';
import { readSurveyed } from '../store/books.ts';
import { offeredBooks } from '../store/course.ts';
import { readHabits } from '../store/habits.ts';
import { placeNames } from '../store/places.ts';
import { remainingSteps } from '../store/remaining.ts';
import type { Workshop } from '../store/workshop.ts';
import {
  addCopies,
  giveCopy,
  removeCopies,
  removeCourse,
  removePerson,
  saveCourse,
  savePerson,
  setSyllabus,
} from './course-changes.ts';
import { type CourseFacts, readCourse, worksOf } from './course-facts.ts';
import { allocateCourse, planCourse } from './course-plan.ts';
import { stopWork, whileStoppable } from './course-stop.ts';
import { courseLines, courseView } from './course-view.ts';
import { answer, inWorkshop } from './desk.ts';
import { streamed } from './stream.ts';

const { course: room } = inWorkshop;

export const course = {
  list: room.list.handler(({ context }) => courseLines(context.store)),
  open: room.open.handler(({ input, context, errors }) =>
    answer(shown(context.store, ok(input.id), context.now()), errors),
  ),
  save: room.save.handler(({ input, context, errors }) =>
    answer(shown(context.store, saveCourse(context.store, input), context.now()), errors),
  ),
  remove: room.remove.handler(({ input, context, errors }) => answer(removeCourse(context.store, input.id), errors)),
  savePerson: room.savePerson.handler(({ input, context, errors }) =>
    answer(shown(context.store, savePerson(context.store, input), context.now()), errors),
  ),
  removePerson: room.removePerson.handler(({ input, context, errors }) =>
    answer(shown(context.store, removePerson(context.store, input.id), context.now()), errors),
  ),
  setSyllabus: room.setSyllabus.handler(({ input, context, errors }) =>
    answer(shown(context.store, setSyllabus(context.store, input.courseId, input.items), context.now()), errors),
  ),
  offered: room.offered.handler(({ context }) => {
    const { db } = context.store;
    const fates = new Map(offeredBooks(db).map(({ bookId, fate }) => [bookId, fate]));
    const places = placeNames(db);
    return readSurveyed(db, [...fates.keys()]).map((one) => {
      const { id, ...copy } = practiceCopy(one.book, one.hazards, remainingSteps(db, one));
      const { shelfMark, placeId } = one.book;
      const place = (placeId && places.get(placeId)) ?? '';
      return { ...copy, bookId: id, shelfMark, place, fate: fates.get(id) ?? '' };
    });
  }),
  addCopies: room.addCopies.handler(({ input, context, errors }) =>
    answer(shown(context.store, addCopies(context.store, input.courseId, input.bookIds), context.now()), errors),
  ),
  removeCopies: room.removeCopies.handler(({ input, context, errors }) =>
    answer(shown(context.store, removeCopies(context.store, input.courseId, input.bookIds), context.now()), errors),
  ),
  give: room.give.handler(({ input, context, errors }) =>
    answer(shown(context.store, giveCopy(context.store, input, context.now()), context.now()), errors),
  ),
  allocate: room.allocate.handler(({ input, context, errors, signal }) => {
    const facts = answer(readCourse(context.store, input.courseId, context.now()), errors);
    return streamed<Allocating>(signal, async (say, stop) => {
      const work = { seconds: input.seconds, now: context.now, stop, say };
      return answer(
        await whileStoppable(context.store, work, (told) => allocateCourse(context.store, facts, told)),
        errors,
      );
    });
  }),
  plan: room.plan.handler(({ input, context, errors, signal }) => {
    const facts = answer(readCourse(context.store, input.courseId, context.now()), errors);
    return streamed<CoursePlanning>(signal, async (say, stop) => {
      const work = { seconds: input.seconds, now: context.now, stop, say };
      return answer(
        await whileStoppable(context.store, work, (told) => planCourse(context.store, facts, told)),
        errors,
      );
    });
  }),
  stop: room.stop.handler(({ context }) => ({ stopped: stopWork(context.store) })),
  printTimetable: room.printTimetable.handler(async ({ input, context, errors }) => {
    const { habits } = readHabits(context.store.db);
    return answer(
      await printTimetable(answer(shown(context.store, ok(input.courseId), context.now()), errors), habits),
      errors,
    );
  }),
  printCards: room.printCards.handler(async ({ input, context, errors }) => {
    const { habits } = readHabits(context.store.db);
    const facts = answer(readCourse(context.store, input.courseId, context.now()), errors);
    return answer(await printCards(facts.course.title, cardsOf(facts), habits), errors);
  }),
};

/** What is printed for each copy: its work, and where to fetch it. */
function cardsOf(facts: CourseFacts): readonly CopyCard[] {
  const copies = new Map(facts.copies.map((one) => [one.row.bookId, one]));
  return worksOf(facts).map((work) => {
    const { shelfMark, place } = copies.get(work.copyId) ?? { shelfMark: null, place: '' };
    return { work, where: [shelfMark ?? '', place].filter((word) => word !== '').join(', ') };
  });
}

/** The course as it stands after a change. */
function shown(store: Workshop, changed: Result<string>, nowMs: number): Result<Course> {
  if (!changed.ok) return changed;
  const facts = readCourse(store, changed.value, nowMs);
  return facts.ok ? ok(courseView(store, facts.value, nowMs)) : facts;
}
