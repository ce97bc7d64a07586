/** A bench week as the desk and the page see it: its hours, the plan that holds, and what has been done of it. */
import type { Week, WeekTask } from '../../core/contract/bench.ts';
import { ok, type Result, refuse } from '../../core/result.ts';
import { weeklyHours } from '../../core/schedule/bench-week.ts';
import { instantOf, minuteOf, openWindows, originOf } from '../../core/schedule/calendar.ts';
import type { Calendar } from '../../core/schedule/problem.ts';
import { listTools, planTasks, type StoredTask, weekPlan } from '../store/bench.ts';
import { readHabits } from '../store/habits.ts';
import { libraryOf } from '../store/operations.ts';
import type { Workshop } from '../store/workshop.ts';

/** A plan looks this far past its week, so that what does not fit, or takes longer, shows as late and not as impossible. */
const daysAhead = 42;

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
    plan: holding && { ...holding, tasks: planTasks(store.db, holding.id).map((task) => shownTask(store, task)) },
  };
}

/** Open minutes that are left after a minute. */
export function openMinutes(windows: Calendar, from: number): number {
  return windows.reduce((sum, window) => sum + Math.max(0, window.to - Math.max(window.from, from)), 0);
}

function shownTask(store: Workshop, task: StoredTask): WeekTask {
  const { planId, position, title, ...rest } = task;
  const cautions = task.kind === 'hands' ? (libraryOf(store.db).byId(task.operationId)?.cautions ?? []) : [];
  return { ...rest, book: title, cautions: cautions.map((caution) => caution.sentence) };
}
