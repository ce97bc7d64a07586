/** Long work of the Course: whose copies are whose, and when everybody does what. */
import type { Allocating, CoursePlanning } from '../../core/contract/course.ts';
import type { Allocated } from '../../core/course/allocation.ts';
import { whyNot } from '../../core/course/eligible.ts';
import { ok, type Result, refuse } from '../../core/result.ts';
import type { AllocatorInput } from '../engines/allocator-worker.ts';
import type { PlannerAnswer, PlannerInput, PlannerProgress } from '../engines/planner-worker.ts';
import { inThread } from '../engines/thread.ts';
import { keptWeek } from '../store/course-plan.ts';
import { courseCopy, plan as planTable } from '../store/schema.ts';
import type { Workshop } from '../store/workshop.ts';
import { allocationProblem, type CourseFacts, learnersOf, readCourse } from './course-facts.ts';
import { courseView } from './course-view.ts';
import { pinsOf, saveWeek, weekNow } from './course-week.ts';

type Work<Piece> = Readonly<{ seconds: number; now: () => number; stop: AbortSignal; say: (piece: Piece) => void }>;

/** Allocates what is not locked and keeps it in one journal entry; says what is lacking where it cannot be. */
export async function allocateCourse(
  store: Workshop,
  facts: CourseFacts,
  work: Work<Allocating>,
): Promise<Result<Allocating>> {
  const problem = allocationProblem(facts);
  if (problem.learners.length === 0) return refuse('Nobody is confirmed yet, so there is nobody to give a copy to.');
  if (problem.copies.length === 0) return refuse('No practice copies are on the course yet. Add some from the shelf.');
  const [least, most] = problem.copiesEach;
  if (least > most) return refuse('The least number of copies each is above the most.', 'copiesEach');
  const unfit = problem.rules.flatMap(({ personId, copyId }) => {
    const learner = problem.learners.find((one) => one.id === personId);
    const copy = problem.copies.find((one) => one.id === copyId);
    const because = learner && copy && whyNot(learner, copy);
    return because ? [`“${copy.title}” is kept for ${learner.name}: ${because}`] : [];
  });
  if (unfit[0] !== undefined) return refuse(unfit[0]);

  const input: AllocatorInput = { problem, seconds: work.seconds };
  const found = await inThread<AllocatorInput, string, Allocated>('allocator-worker', input, {
    signal: work.stop,
    onStop: 'ask',
    onProgress: (words) => work.say({ kind: 'progress', words }),
  });
  if (found.kind === 'undecided') return refuse(found.sentence);
  if (found.kind === 'impossible') {
    const { conflict, irreducible, waysOut } = found.shortage;
    return ok({
      kind: 'impossible',
      conflict: conflict.map(({ sentence }) => sentence),
      smallest: irreducible,
      waysOut,
    });
  }
  const owners = new Map(found.pairs.map((pair) => [pair.copyId, pair]));
  const saved = store.write(`Allocate ${found.pairs.length} copies of ${facts.course.title}`, (change) => {
    for (const { row } of facts.copies) {
      if (row.locked) continue;
      const owner = owners.get(row.bookId);
      change.update(courseCopy, row.id, {
        personId: owner?.personId ?? null,
        reason: owner?.reason ?? 'Kept back as a spare.',
      });
    }
    change.insert(planTable, {
      kind: 'allocation',
      courseId: facts.course.id,
      startsOn: facts.course.startsOn,
      madeAt: work.now(),
      seed: 0,
      quality: { proven: found.status === 'best', gap: found.gap, value: found.value },
    });
  });
  return saved.ok ? viewAfter(store, facts, work.now()) : saved;
}

/** Lays out the week and keeps it; refuses while a copy is in the hands of somebody who must not have it. */
export async function planCourse(
  store: Workshop,
  facts: CourseFacts,
  work: Work<CoursePlanning>,
): Promise<Result<CoursePlanning>> {
  if (facts.frame.now >= facts.frame.end) return refuse('This course is over.', 'startsOn');
  const learners = new Map(learnersOf(facts).map((learner) => [learner.id, learner]));
  for (const { row, copy } of facts.copies) {
    const learner = learners.get(row.personId ?? '');
    const because = learner && whyNot(learner, copy);
    if (because) return refuse(`“${copy.title}” is ${learner.name}’s: ${because} Allocate again first.`);
  }
  const kept = keptWeek(store.db, facts.course.id);
  const standing = weekNow(store, facts, kept, pinsOf(facts, kept));
  if (!standing.ok) return standing;
  const { week, seen } = standing.value;
  const isUnderWay = week.problem.tasks.some(({ progress }) => progress !== null);
  const input: PlannerInput = {
    problem: week.problem,
    seed: 1,
    seconds: work.seconds,
    riskRuns: 0,
    seen: isUnderWay ? seen : null,
  };
  const answer = await inThread<PlannerInput, PlannerProgress, PlannerAnswer>('planner-worker', input, {
    signal: work.stop,
    onStop: 'ask',
    onProgress: ({ schedules, gap }) =>
      work.say({
        kind: 'progress',
        words: `${schedules.toLocaleString('en')} timetables tried; at most ${Math.ceil(gap * 100)} % better is possible`,
      }),
  });
  if (!answer.ok) return answer;
  const label = `Lay out the week of ${facts.course.title}`;
  const saved = saveWeek(store, facts, week, answer.value.plan, { label, nowMs: work.now() });
  return saved.ok ? viewAfter(store, facts, work.now()) : saved;
}

function viewAfter(store: Workshop, { course }: CourseFacts, nowMs: number) {
  const facts = readCourse(store, course.id, nowMs);
  return facts.ok ? ok({ kind: 'done', course: courseView(store, facts.value, nowMs) } as const) : facts;
}
