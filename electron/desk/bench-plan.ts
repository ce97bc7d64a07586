/** Planning a bench week: what is left to do on the chosen books, through the schedule engine, into a saved plan. */
import type { Planning } from '../../core/contract/bench.ts';
import { ok, type Result, refuse } from '../../core/result.ts';
import { benchWeek, type Pin } from '../../core/schedule/bench-week.ts';
import { instantOf } from '../../core/schedule/calendar.ts';
import { shortOf } from '../../core/schedule/objective.ts';
import type { PlannerAnswer, PlannerInput, PlannerProgress } from '../engines/planner-worker.ts';
import { inThread } from '../engines/thread.ts';
import { listTools, planTasks, type StoredTask, weekPlan } from '../store/bench.ts';
import type { Workshop } from '../store/workshop.ts';
import { booksToPlan } from './bench-books.ts';
import { readWeek, type WeekFrame } from './bench-frame.ts';
import { savePlan } from './bench-save.ts';

/** Simulated weeks for each second that planning may take, within these bounds: enough for the chance to stand within 2 in 100. */
const runsPerSecond = 500;
const runs = { fewest: 60, most: 1000 };
/** Given again where the bench went on meanwhile. */
const againSeconds = 0.2;

/**
 * Plans the week for these books and saves the plan in one journal entry. Says how far it is while it works; raising `stop` keeps the best
 * so far. Refuses books that a hazard keeps off the bench and weeks that cannot be, in words.
 */
export async function planWeek(
  store: Workshop,
  frame: WeekFrame,
  bookIds: readonly string[],
  options: Readonly<{ seconds: number; nowMs: number; stop: AbortSignal; say: (piece: Planning) => void }>,
): Promise<Result<Planning>> {
  if (frame.now > frame.weekEnd) return refuse('That week is over. Choose this week or a later one.', 'startsOn');
  for (let { seconds } = options; ; seconds = againSeconds) {
    const tools = listTools(store.db);
    const before = tasksHolding(store, frame);
    const underWay = before.filter((task) => task.state === 'started' || task.state === 'paused');
    // A book on the bench or in a press is in the plan whether it was chosen or not.
    const all = [...new Set([...underWay.map((task) => task.bookId), ...bookIds])];
    const wanted = { bookIds: all, tools, underWay, pins: pinsOf(before, frame), aside: new Set<string>() };
    const books = booksToPlan(store, frame, wanted);
    if (!books.ok) return books;
    const week = benchWeek(books.value, tools, frame.hands, { now: frame.now, weekEnd: frame.weekEnd });
    if (!week.ok) return week;

    const riskRuns = Math.min(runs.most, Math.max(runs.fewest, Math.round(options.seconds * runsPerSecond)));
    const input: PlannerInput = { problem: week.value.problem, seed: 1, seconds, riskRuns, seen: null };
    const answer = await inThread<PlannerInput, PlannerProgress, PlannerAnswer>('planner-worker', input, {
      signal: options.stop,
      onStop: 'ask',
      onProgress: ({ schedules, objective, bound, gap }) => {
        const { measure, above } = shortOf(objective, bound);
        options.say({
          kind: 'progress',
          words: `${schedules.toLocaleString('en')} plans tried`,
          schedules,
          finishAt: instantOf(frame.origin, objective.finish),
          gap,
          measure,
          gapMinutes: Math.ceil(above),
        });
      },
    });
    if (!answer.ok) return answer;
    // Somebody began or finished a step meanwhile: that counts, and this plan does not know of it.
    if (!sameDoings(before, tasksHolding(store, frame))) continue;
    const count = books.value.length;
    const label = `Plan the week of ${frame.startsOn}: ${count} ${count === 1 ? 'book' : 'books'}`;
    const kept = { label, nowMs: options.nowMs, before, aside: new Set<string>() };
    const saved = savePlan(store, frame, week.value, answer.value, kept);
    if (!saved.ok) return saved;
    return ok({ kind: 'done', week: readWeek(store, frame) });
  }
}

export function tasksHolding(store: Workshop, frame: WeekFrame): readonly StoredTask[] {
  const holding = weekPlan(store.db, frame.startsOn);
  return holding ? planTasks(store.db, holding.id) : [];
}

/** Pins that are still to come, by book and operation. */
export function pinsOf(tasks: readonly StoredTask[], frame: WeekFrame): Map<string, Map<string, Pin>> {
  const pins = new Map<string, Map<string, Pin>>();
  for (const { bookId, operationId, state, pinnedAt } of tasks) {
    if (state !== 'planned' || pinnedAt === null) continue;
    const at = Math.round((pinnedAt - frame.origin) / 60_000);
    if (at >= frame.now) pins.set(bookId, (pins.get(bookId) ?? new Map()).set(operationId, { at }));
  }
  return pins;
}

export function sameDoings(one: readonly StoredTask[], other: readonly StoredTask[]): boolean {
  const doings = (tasks: readonly StoredTask[]) =>
    JSON.stringify(
      tasks.map(({ id, state, startedAt, finishedAt, pinnedAt }) => [id, state, startedAt, finishedAt, pinnedAt]),
    );
  return doings(one) === doings(other);
}
