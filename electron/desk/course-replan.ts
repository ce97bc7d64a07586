/** One change to a course week, everything else laid out around it, and what moved by it. */
import type { WeekChange, WeekReplanned } from '../../core/contract/course-plan.ts';
import { pinKey } from '../../core/course/timetable.ts';
import { ok, type Result, refuse } from '../../core/result.ts';
import type { Pin } from '../../core/schedule/bench-week.ts';
import { minuteOf } from '../../core/schedule/calendar.ts';
import type { PlannerAnswer, PlannerInput } from '../engines/planner-worker.ts';
import { inThread } from '../engines/thread.ts';
import { type KeptTask, keptWeek } from '../store/course-plan.ts';
import { planTask } from '../store/schema.ts';
import type { Workshop } from '../store/workshop.ts';
import { type CourseFacts, readCourse } from './course-facts.ts';
import { courseView } from './course-view.ts';
import { movesOf, pinsOf, saveWeek, weekNow } from './course-week.ts';

/** Lays out the rest around the change and keeps it in one journal entry. Refuses in words and changes nothing. */
export async function replanCourse(
  store: Workshop,
  facts: CourseFacts,
  change: WeekChange,
  nowMs: number,
): Promise<Result<WeekReplanned>> {
  const kept = keptWeek(store.db, facts.course.id);
  if (kept.length === 0) return refuse('The week is not laid out yet. Do that first.');
  if (facts.frame.now >= facts.frame.end) return refuse('This course is over.', 'startsOn');
  const asked = changed(facts, kept, change);
  if (!asked.ok) return asked;
  const { label, pins, only } = asked.value;
  if (only !== null) {
    const pinned = store.write(label, (write) =>
      write.update(planTask, only.id, { pinnedAt: only.startAt, waitsFor: 'Is pinned to this time.' }),
    );
    return pinned.ok ? viewed(store, facts, nowMs, []) : pinned;
  }
  const standing = weekNow(store, facts, kept, pins);
  if (!standing.ok) return standing;
  const { week, seen } = standing.value;
  const input: PlannerInput = { problem: week.problem, seed: 1, seconds: 0, riskRuns: 0, seen };
  const answer = await inThread<PlannerInput, never, PlannerAnswer>('planner-worker', input, { onStop: 'ask' });
  if (!answer.ok) return answer;
  if (JSON.stringify(keptWeek(store.db, facts.course.id)) !== JSON.stringify(kept))
    return refuse('The week was changed while this was laid out. Do it again.');
  const { plan } = answer.value;
  const saved = saveWeek(store, facts, week, plan, { label, nowMs });
  if (!saved.ok) return saved;
  const names = new Map(facts.confirmed.map(({ id, name }) => [id, name]));
  const titles = new Map(facts.copies.map(({ copy }) => [copy.id, copy.title]));
  const moves = movesOf(facts, kept, week, plan).map(({ meaning, from, to }) => ({
    who: names.get(meaning.personId ?? '') ?? 'Everybody',
    book: titles.get(meaning.copyId ?? '') ?? '',
    label: meaning.label,
    from,
    to,
  }));
  return viewed(store, facts, nowMs, moves);
}

type Asked = Readonly<{
  label: string;
  pins: ReadonlyMap<string, Pin>;
  /** Where nothing moves by it: the row to pin where it is. */
  only: KeptTask | null;
}>;

function changed(facts: CourseFacts, kept: readonly KeptTask[], change: WeekChange): Result<Asked> {
  const pins = pinsOf(facts, kept);
  if (change.kind === 'rest') return ok({ label: 'Lay out the rest of the course anew', pins, only: null });
  const asked = kept.find((one) => one.id === change.taskId);
  if (!asked) return refuse('This step is not in the week any more; it has been laid out anew.', 'taskId');
  const task = handsOf(kept, asked);
  const who = facts.confirmed.find(({ id }) => id === task.personId)?.name ?? 'everybody';
  const words = `${task.label}, ${who}`;
  const key = pinKey({ copyId: task.bookId, operationId: task.operationId ?? '' });
  const was = minuteOf(facts.origin, task.startAt);
  if (was < facts.frame.now) return refuse(`“${words}” was to begin before now; only what is to come can be moved.`);
  if (change.kind === 'pin') return ok({ label: `Pin ${words}`, pins, only: task });
  if (change.kind === 'unpin') {
    pins.delete(key);
    return ok({ label: `Let go ${words}`, pins, only: null });
  }
  const shift = Math.round((change.startAt - asked.startAt) / 60_000);
  if (shift === 0) return refuse('It is there already.', 'startAt');
  pins.set(key, { at: was + shift, ...(shift > 0 ? { least: was + 1 } : { most: was - 1 }) });
  return ok({ label: `Move ${words}`, pins, only: null });
}

/** The hand-work that a wait follows, or the task itself. */
function handsOf(kept: readonly KeptTask[], task: KeptTask): KeptTask {
  if (task.kind !== 'drying' && task.kind !== 'pressing') return task;
  const hands = kept.find(
    (one) => one.kind === 'hands' && one.bookId === task.bookId && one.operationId === task.operationId,
  );
  return hands ?? task;
}

function viewed(
  store: Workshop,
  { course }: CourseFacts,
  nowMs: number,
  moves: WeekReplanned['moves'],
): Result<WeekReplanned> {
  const facts = readCourse(store, course.id, nowMs);
  return facts.ok ? ok({ course: courseView(store, facts.value, nowMs), moves }) : facts;
}
