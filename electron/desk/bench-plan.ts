/** Planning a bench week: what is left to do on the chosen books, through the schedule engine, into a saved plan. */

import { blocks } from '../../core/book/hazards.ts';
import type { Planning, Quality, Tool, Week, WeekTask } from '../../core/contract/bench.ts';
import { ok, type Result, refuse } from '../../core/result.ts';
import {
  type BenchBook,
  type BenchWeek,
  benchWeek,
  type UnderWay,
  weeklyHours,
} from '../../core/schedule/bench-week.ts';
import { instantOf, minuteOf, openWindows, originOf } from '../../core/schedule/calendar.ts';
import type { Calendar, Plan, Risk } from '../../core/schedule/problem.ts';
import { operationById } from '../../core/treatment/library.ts';
import type { PlannerAnswer, PlannerInput, PlannerProgress } from '../engines/planner-worker.ts';
import { inThread } from '../engines/thread.ts';
import { listTools, planTasks, type StoredTask, weekPlan } from '../store/bench.ts';
import { readSurveyed, remainingSteps } from '../store/books.ts';
import { readHabits } from '../store/habits.ts';
import { plan as planTable, planTask } from '../store/schema.ts';
import type { Workshop } from '../store/workshop.ts';

/** A plan looks this far past its week, so that what does not fit shows as late and not as impossible. */
const daysAhead = 21;
const riskRuns = 1000;

export type WeekFrame = Readonly<{
  startsOn: string;
  timeZone: string;
  /** UTC milliseconds of the plan's minute 0. */
  origin: number;
  /** Open hours from the week's first day on, well past its end, in minutes after the origin. */
  hands: Calendar;
  /** The last open minute within the seven days. */
  weekEnd: number;
  /** This moment in minutes after the origin, 0 for a week to come. */
  now: number;
}>;

/** The hours of a week by the workshop's habits. Refuses a week without any. */
export function weekFrame(store: Workshop, startsOn: string, nowMs: number): Result<WeekFrame> {
  const { habits } = readHabits(store.db);
  const hours = {
    timeZone: habits.timeZone,
    weekly: weeklyHours(habits.weekHours),
    daysOff: habits.daysOff,
    extra: [],
  };
  const origin = originOf(startsOn, habits.timeZone);
  if (!origin.ok) return origin;
  const hands = openWindows(hours, startsOn, daysAhead);
  if (!hands.ok) return hands;
  const inWeek = hands.value.filter((window) => window.from < 7 * 1440);
  const weekEnd = inWeek.at(-1)?.to;
  if (weekEnd === undefined) return refuse('No bench hours are open in this week. Set the hours first.', 'weekHours');
  const now = Math.max(0, minuteOf(origin.value, nowMs));
  return ok({ startsOn, timeZone: habits.timeZone, origin: origin.value, hands: hands.value, weekEnd, now });
}

/** The week as the page shows it, with the plan that holds. */
export function readWeek(store: Workshop, frame: WeekFrame): Week {
  const at = (minute: number) => instantOf(frame.origin, minute);
  const hours = frame.hands.map((window) => ({ from: at(window.from), to: at(window.to) }));
  const inWeek = frame.hands.filter((window) => window.from < 7 * 1440);
  const holding = weekPlan(store.db, frame.startsOn);
  return {
    startsOn: frame.startsOn,
    timeZone: frame.timeZone,
    hours,
    handMinutes: openMinutes(inWeek, frame.now),
    tools: listTools(store.db),
    plan: holding && { ...holding, tasks: planTasks(store.db, holding.id).map(shownTask) },
  };
}

/** Open minutes that are left after a minute. */
export function openMinutes(windows: Calendar, from: number): number {
  return windows.reduce((sum, window) => sum + Math.max(0, window.to - Math.max(window.from, from)), 0);
}

function shownTask(task: StoredTask): WeekTask {
  const { planId, position, title, ...rest } = task;
  const cautions = task.kind === 'hands' ? (operationById(task.operationId)?.cautions ?? []) : [];
  return { ...rest, book: title, cautions: cautions.map((caution) => caution.sentence) };
}

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
  const tools = listTools(store.db);
  const before = weekPlan(store.db, frame.startsOn);
  const tasksBefore = before ? planTasks(store.db, before.id) : [];
  const underWay = tasksBefore.filter((task) => task.state === 'started' || task.state === 'paused');
  // A book on the bench or in a press is in the plan whether it was chosen or not.
  const all = [...new Set([...underWay.map((task) => task.bookId), ...bookIds])];
  const books = booksToPlan(store, frame, all, tools, underWay);
  if (!books.ok) return books;
  const week = benchWeek(books.value, tools, frame.hands, { now: frame.now, weekEnd: frame.weekEnd });
  if (!week.ok) return week;

  const input: PlannerInput = { problem: week.value.problem, seed: 1, seconds: options.seconds, riskRuns };
  const answer = await inThread<PlannerInput, PlannerProgress, PlannerAnswer>('planner-worker', input, {
    signal: options.stop,
    onStop: 'ask',
    onProgress: ({ schedules, objective, gap }) =>
      options.say({
        kind: 'progress',
        words: `${schedules.toLocaleString('en')} plans tried`,
        schedules,
        finishAt: instantOf(frame.origin, objective.finish),
        gap,
      }),
  });
  if (!answer.ok) return answer;
  const saved = savePlan(store, frame, week.value, answer.value.plan, answer.value.risk, {
    nowMs: options.nowMs,
    finished: tasksBefore.filter((task) => task.state === 'finished'),
    carried: underWay,
    titles: new Map(books.value.map((book) => [book.bookId, book.title])),
  });
  if (!saved.ok) return saved;
  return ok({ kind: 'done', week: readWeek(store, frame) });
}

function booksToPlan(
  store: Workshop,
  frame: WeekFrame,
  bookIds: readonly string[],
  tools: readonly Tool[],
  tasksUnderWay: readonly StoredTask[],
): Result<readonly BenchBook[]> {
  const books: BenchBook[] = [];
  const surveyed = readSurveyed(store.db, bookIds);
  for (const one of surveyed) {
    const { book } = one;
    const stop = blocks(one.hazards, 'plan');
    if (stop) return refuse(`“${book.title}”: ${stop}`, 'bookIds');
    const underWay = tasksUnderWay.find((task) => task.bookId === book.id);
    const steps = stepsFrom(remainingSteps(store.db, one), underWay, store, one);
    if (steps.length === 0) continue;
    books.push({
      bookId: book.id,
      title: book.title,
      weight: 1,
      steps,
      ...(underWay?.state === 'started' ? { underWay: underWayOf(underWay, frame, tools) } : {}),
    });
  }
  if (books.length === 0) return refuse('None of these books has anything left to do.', 'bookIds');
  return ok(books);
}

type Steps = ReturnType<typeof remainingSteps>;

/** The remaining steps, beginning with the one whose drying is still going on although its hand-work is finished. */
function stepsFrom(
  remaining: Steps,
  underWay: StoredTask | undefined,
  store: Workshop,
  one: ReturnType<typeof readSurveyed>[number],
): Steps {
  if (!underWay || underWay.kind === 'hands') return remaining;
  const whole = remainingSteps(store.db, one, { withFinished: true });
  const drying = whole.find((step) => step.operationId === underWay.operationId);
  return drying ? [drying, ...remaining.filter((step) => step.operationId !== underWay.operationId)] : remaining;
}

function underWayOf(task: StoredTask, frame: WeekFrame, tools: readonly Tool[]): UnderWay {
  const since = minuteOf(frame.origin, task.startedAt ?? task.startAt);
  const length = Math.round((task.endAt - task.startAt) / 60_000);
  const tool = task.kind === 'pressing' ? (tools.find((one) => task.tools.includes(one.id))?.id ?? null) : null;
  return { kind: task.kind, since, left: Math.max(0, since + length - frame.now), tool };
}

function savePlan(
  store: Workshop,
  frame: WeekFrame,
  week: BenchWeek,
  plan: Plan,
  risk: Risk | null,
  kept: Readonly<{
    nowMs: number;
    finished: readonly StoredTask[];
    carried: readonly StoredTask[];
    titles: ReadonlyMap<string, string>;
  }>,
): Result<string> {
  const at = (minute: number) => instantOf(frame.origin, minute);
  const quality = qualityOf(frame, plan, risk);
  const count = kept.titles.size;
  return store.write(`Plan the week of ${frame.startsOn}: ${count} ${count === 1 ? 'book' : 'books'}`, (change) => {
    const planId = change.insert(planTable, {
      kind: 'week',
      startsOn: frame.startsOn,
      madeAt: kept.nowMs,
      seed: plan.stats.seed,
      quality: { ...quality },
    });
    // What was under way goes on in the new plan; in the old one it must not seem to hold a press for ever.
    for (const task of kept.carried) change.update(planTask, task.id, { state: 'set aside' });
    for (const { id, planId: _, title, ...task } of kept.finished) change.insert(planTask, { ...task, planId });
    for (const [index, meaning] of week.tasks.entries()) {
      const placed = plan.placed[index]!;
      const progress = week.problem.tasks[index]!.progress;
      change.insert(planTask, {
        planId,
        bookId: meaning.bookId,
        operationId: meaning.operationId,
        position: meaning.position,
        label: meaning.label,
        kind: meaning.kind,
        startAt: at(placed.start),
        endAt: at(placed.end),
        heldUntil: meaning.kind === 'pressing' ? at(placed.out) : null,
        tools: placed.uses.map((use) => use.resource).filter((resource) => resource !== 'hands'),
        waitsFor: plan.reasons[index]?.sentence ?? '',
        state: progress ? 'started' : 'planned',
        startedAt: progress ? at(placed.start) : null,
      });
    }
    return planId;
  });
}

export function qualityOf(frame: Pick<WeekFrame, 'origin' | 'weekEnd'>, plan: Plan, risk: Risk | null): Quality {
  const { objective, bound } = plan;
  const measure =
    objective.lateness > bound.lateness
      ? 'lateness'
      : objective.completion > bound.completion
        ? 'completion'
        : 'finish';
  return {
    finishAt: instantOf(frame.origin, objective.finish),
    boundAt: instantOf(frame.origin, bound.finish),
    gap: plan.gap,
    measure,
    chance: risk?.allOnTime ?? null,
    late: plan.placed.filter((placed) => placed.out > frame.weekEnd).length,
    remarks: plan.remarks,
  };
}
