/** The Course answers about what is decided: pairs, allocations by name, putting one right, the week moved, how many, money, calendars. */
import type { Course } from '../../core/contract/course.ts';
import type { Counting, CoursePairs, Mending } from '../../core/contract/course-plan.ts';
import type { HowMany, HowManyTask } from '../../core/course/how-many.ts';
import { ok, type Result, refuse } from '../../core/result.ts';
import type { CounterProgress } from '../engines/counter-worker.ts';
import { inThread } from '../engines/thread.ts';
import { listTools } from '../store/bench.ts';
import { listRooms } from '../store/course-people.ts';
import type { Workshop } from '../store/workshop.ts';
import { calendarOf } from './course-calendars.ts';
import { allocationProblem, type CourseFacts, readCourse, worksOf } from './course-facts.ts';
import { acceptMend, proposeMend } from './course-mend.ts';
import { moneyView, setDeposit, setTerms } from './course-money.ts';
import { replanCourse } from './course-replan.ts';
import { compareKept, dropSharing, keepSharing, pairsView, rulePair, takeSharing } from './course-sharing.ts';
import { whileStoppable } from './course-stop.ts';
import { courseView } from './course-view.ts';
import { answer, inWorkshop } from './desk.ts';
import { streamed } from './stream.ts';

const { coursePlan: room } = inWorkshop;

type Place = Readonly<{ store: Workshop; now: () => number }>;

const read = ({ store, now }: Place, courseId: string) => readCourse(store, courseId, now());

/** Does it to the course as it stands, and shows what `view` makes of it afterwards. */
function after<T>(
  place: Place,
  courseId: string,
  change: (facts: CourseFacts) => Result<unknown>,
  view: (facts: CourseFacts) => T,
): Result<T> {
  const facts = read(place, courseId);
  if (!facts.ok) return facts;
  const done = change(facts.value);
  if (!done.ok) return done;
  const anew = read(place, courseId);
  return anew.ok ? ok(view(anew.value)) : anew;
}

const pairsAfter = (place: Place, courseId: string, change: (facts: CourseFacts) => Result<unknown>) =>
  after<CoursePairs>(place, courseId, change, (facts) => pairsView(place.store, facts));

const nothing = (): Result<unknown> => ok(null);

export const coursePlan = {
  pairs: room.pairs.handler(({ input, context, errors }) =>
    answer(pairsAfter(context, input.courseId, nothing), errors),
  ),
  rule: room.rule.handler(({ input, context, errors }) =>
    answer(
      pairsAfter(context, input.courseId, (facts) => rulePair(context.store, facts, input)),
      errors,
    ),
  ),
  keepSharing: room.keepSharing.handler(({ input, context, errors }) =>
    answer(
      pairsAfter(context, input.courseId, (facts) =>
        keepSharing(context.store, facts, input.name.trim(), context.now()),
      ),
      errors,
    ),
  ),
  dropSharing: room.dropSharing.handler(({ input, context, errors }) =>
    answer(
      pairsAfter(context, input.courseId, (facts) => dropSharing(context.store, facts, input.id)),
      errors,
    ),
  ),
  takeSharing: room.takeSharing.handler(({ input, context, errors }) =>
    answer(
      pairsAfter(context, input.courseId, (facts) => takeSharing(context.store, facts, input.id)),
      errors,
    ),
  ),
  compare: room.compare.handler(({ input, context, errors }) => {
    const facts = answer(read(context, input.courseId), errors);
    return answer(compareKept(context.store, facts, input.first, input.second), errors);
  }),
  proposeMend: room.proposeMend.handler(({ input, context, errors, signal }) => {
    const facts = answer(read(context, input.courseId), errors);
    return streamed<Mending>(signal, async (say, stop) =>
      answer(
        await whileStoppable(context.store, { seconds: input.seconds, stop, say }, (work) =>
          proposeMend(context.store, facts, input, work),
        ),
        errors,
      ),
    );
  }),
  acceptMend: room.acceptMend.handler(({ input, context, errors }) =>
    answer(
      after<Course>(
        context,
        input.courseId,
        (facts) => acceptMend(context.store, facts, input, context.now()),
        (facts) => courseView(context.store, facts, context.now()),
      ),
      errors,
    ),
  ),
  replan: room.replan.handler(async ({ input, context, errors }) => {
    const facts = answer(read(context, input.courseId), errors);
    return answer(await replanCourse(context.store, facts, input.change, context.now()), errors);
  }),
  howMany: room.howMany.handler(({ input, context, errors, signal }) => {
    const facts = answer(read(context, input.courseId), errors);
    const task = answer(howManyTask(context.store, facts, input.from, input.to), errors);
    return streamed<Counting>(signal, (say, stop) =>
      whileStoppable(context.store, { stop }, async (work): Promise<Counting> => {
        const soFar = await inThread<HowManyTask, CounterProgress, HowMany>('counter-worker', task, {
          signal: work.stop,
          onStop: 'ask',
          onProgress: (piece) => say({ kind: 'progress', ...piece }),
        });
        return { kind: 'done', words: '', soFar };
      }),
    );
  }),
  money: room.money.handler(({ input, context, errors }) =>
    answer(
      after(context, input.courseId, nothing, (facts) => moneyView(context.store, facts, context.now())),
      errors,
    ),
  ),
  setTerms: room.setTerms.handler(({ input: { courseId, ...terms }, context, errors }) =>
    answer(
      after(
        context,
        courseId,
        (facts) => setTerms(context.store, facts, terms),
        (facts) => moneyView(context.store, facts, context.now()),
      ),
      errors,
    ),
  ),
  setDeposit: room.setDeposit.handler(({ input, context, errors }) =>
    answer(
      after(
        context,
        input.courseId,
        (facts) => setDeposit(context.store, facts, input),
        (facts) => moneyView(context.store, facts, context.now()),
      ),
      errors,
    ),
  ),
  calendar: room.calendar.handler(async ({ input, context, errors }) => {
    const facts = answer(read(context, input.courseId), errors);
    return answer(
      await calendarOf(courseView(context.store, facts, context.now()), input.whose, context.now()),
      errors,
    );
  }),
};

function howManyTask(store: Workshop, facts: CourseFacts, from: number, to: number): Result<HowManyTask> {
  if (from > to) return refuse('The least number is above the most.', 'from');
  const works = worksOf(facts);
  if (works.length === 0) return refuse('Nobody has a copy yet. Allocate the copies first.');
  const beds = listRooms(store.db).reduce((sum, room) => sum + room.beds, 0);
  // As though it had not begun: the question is about the course, not about what is left of it.
  return ok({
    frame: { ...facts.frame, now: 0 },
    people: facts.confirmed.map(({ id, name }) => ({ id, name })),
    works,
    demonstrations: facts.demonstrations,
    tools: listTools(store.db),
    allocation: allocationProblem(facts),
    beds: beds === 0 ? null : beds,
    from,
    to,
  });
}
