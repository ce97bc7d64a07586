/**
 * The bench week as a scheduling problem: each book's remaining steps as hand-work, each wait as drying in the air or under a press that
 * holds the book until somebody is there to open it. One pair of hands; tools as many as the workshop has.
 */

import type { Result } from '../result.ts';
import { ok, refuse } from '../result.ts';
import type { Step, ToolKind, Wait } from '../treatment/treatment.ts';
import type { WeeklyHours } from './calendar.ts';
import type { Calendar, Pool, Problem, Resource, Task } from './problem.ts';

export type BenchTool = Readonly<{ id: string; kind: ToolKind; name: string; capacity: number }>;

/** A book for the week: what is left to do, and how much it matters against the others. */
export type BenchBook = Readonly<{
  bookId: string;
  title: string;
  weight: number;
  steps: readonly Step[];
  /** The first of the steps is being worked at since this minute, or its work is done and the book dries since then. */
  underWay?: UnderWay;
  /** Steps that a person put at a minute, by operation; each goes to the nearest minute at which its work finds room. */
  pins?: ReadonlyMap<string, Pin>;
}>;
/** Wanted at a minute; not before `least` and not after `most`, where a person moved it that way. */
export type Pin = Readonly<{ at: number; least?: number; most?: number }>;
export type UnderWay = Readonly<{ kind: TaskKind; since: number; left: number; tool: string | null }>;

export type TaskKind = 'hands' | 'drying' | 'pressing';
/** What a task of the problem stands for. `position` orders a book's tasks. */
export type BenchTask = Readonly<{
  task: string;
  bookId: string;
  operationId: string;
  position: number;
  kind: TaskKind;
  label: string;
}>;

export type BenchWeek = Readonly<{ problem: Problem; tasks: readonly BenchTask[] }>;

const handsId = 'hands';

/**
 * Builds the problem. `hands` are the open windows in minutes after the origin, reaching well past the week so that what does not fit
 * shows as late and not as impossible; `weekEnd` is the minute by which a book should be out; `now` the earliest start.
 * Refuses a week that needs a tool the workshop does not have, naming the tool and the book.
 */
export function benchWeek(
  books: readonly BenchBook[],
  tools: readonly BenchTool[],
  hands: Calendar,
  times: Readonly<{ now: number; weekEnd: number }>,
): Result<BenchWeek> {
  const longestWindow = Math.max(0, ...hands.map((window) => window.to - window.from));
  if (longestWindow === 0) return refuse('No bench hours are open in this week. Set the hours first.', 'weekHours');

  const usable = tools.filter((tool) => tool.capacity > 0);
  const kinds = new Set(usable.map((tool) => tool.kind));
  const tasks: Task[] = [];
  const meanings: BenchTask[] = [];

  for (const book of books) {
    let previous: string | null = null;
    let position = 0;
    const put = (task: Task, kind: TaskKind, operationId: string, label: string) => {
      tasks.push(task);
      meanings.push({ task: task.id, bookId: book.bookId, operationId, position: position++, kind, label });
      previous = task.id;
    };
    for (const [index, step] of book.steps.entries()) {
      const held = step.wait && step.wait.held !== 'air' ? step.wait.held : null;
      const missing = [...step.tools, ...(held ? [held] : [])].find((kind) => !kinds.has(kind));
      if (missing) {
        return refuse(
          `“${book.title}” needs a ${missing} for “${step.name}”, and the workshop has none. Add one under Tools.`,
          'tools',
        );
      }
      const underWay = index === 0 ? (book.underWay ?? null) : null;
      const goal = index === book.steps.length - 1 ? { due: times.weekEnd, weight: book.weight } : noGoal;
      const id = `${book.bookId}:${index}`;
      if (underWay === null || underWay.kind === 'hands') {
        const ownGoal = step.wait ? noGoal : goal;
        const work = workTask(id, book, step, longestWindow, previous, underWay, ownGoal);
        const wanted = book.pins?.get(step.operationId);
        const pinned = wanted === undefined || underWay ? null : nearestStart(hands, work, wanted, times.now);
        if (pinned === null && (wanted?.least !== undefined || wanted?.most !== undefined)) {
          const way = wanted.least === undefined ? 'earlier' : 'later';
          return refuse(`“${step.name}” of “${book.title}” finds no room ${way} in the hours there are.`, 'startAt');
        }
        put({ ...work, pinned }, 'hands', step.operationId, step.name);
      }
      if (step.wait) {
        const drying = underWay?.kind === 'hands' ? null : underWay;
        const task = waitTask(`${id}:wait`, book, step.wait, held, previous, drying, goal);
        put(task, held ? 'pressing' : 'drying', step.operationId, step.wait.what);
      }
    }
  }

  const shared = toolResources(usable);
  return ok({
    problem: {
      now: times.now,
      calendars: { [handsId]: hands },
      resources: [{ id: handsId, label: 'your hands', kind: 'hands', capacity: 1 }, ...shared.resources],
      pools: shared.pools,
      tasks,
    },
    tasks: meanings,
  });
}

type Goal = Readonly<{ due: number | null; weight: number }>;
const noGoal: Goal = { due: null, weight: 0 };

function workTask(
  id: string,
  book: BenchBook,
  step: Step,
  longestWindow: number,
  previous: string | null,
  underWay: UnderWay | null,
  goal: Goal,
): Task {
  const minutes = Math.max(1, Math.round(step.minutes.likely));
  return {
    id,
    label: `${step.name}, ${book.title}`,
    minutes,
    range: step.minutes,
    calendar: handsId,
    shape: mayPause(step, minutes, longestWindow) ? 'breakable' : 'whole',
    demands: [{ resource: handsId, amount: 1 }, ...step.tools.map((kind) => ({ resource: kind, amount: 1 }))],
    heldUntil: null,
    after: previous ? [{ task: previous, minLag: 0 }] : [],
    release: null,
    ...goal,
    pinned: null,
    progress: progressOf(underWay),
  };
}

/**
 * The minute nearest to the wanted one at which work finds room in its hours, not before `now`; the earlier of two as near. Null where
 * no stretch of hours holds it.
 */
export function nearestStart(
  hands: Calendar,
  work: Pick<Task, 'minutes' | 'shape'>,
  wanted: Pin,
  now: number,
): number | null {
  let nearest: number | null = null;
  for (const window of hands) {
    const first = Math.max(window.from, now, wanted.least ?? now);
    const last = Math.min(
      work.shape === 'whole' ? window.to - work.minutes : window.to - 1,
      wanted.most ?? Number.POSITIVE_INFINITY,
    );
    if (last < first) continue;
    const start = Math.min(Math.max(wanted.at, first), last);
    if (nearest === null || Math.abs(start - wanted.at) < Math.abs(nearest - wanted.at)) nearest = start;
  }
  return nearest;
}

/** Sewing or taking down for an hour and a half and more. Common practice, no source. */
const longWork = 90;

/** Long work without paste may stop for dinner; pasting is finished once begun, unless no stretch of hours is long enough. */
function mayPause(step: Step, minutes: number, longestWindow: number): boolean {
  return minutes > longestWindow || (step.wait === null && minutes >= longWork);
}

function waitTask(
  id: string,
  book: BenchBook,
  wait: Wait,
  held: ToolKind | null,
  work: string | null,
  underWay: UnderWay | null,
  goal: Goal,
): Task {
  // A pasted book goes under the press or weight at once: the paste does not wait.
  const after = work === null ? [] : [held ? { task: work, minLag: 0, maxLag: 0 } : { task: work, minLag: 0 }];
  return {
    id,
    label: `${wait.what}, ${book.title}`,
    minutes: Math.max(1, Math.round(wait.minutes)),
    calendar: null,
    shape: 'whole',
    demands: held ? [{ resource: underWay?.tool ?? held, amount: 1 }] : [],
    heldUntil: held ? handsId : null,
    after,
    release: null,
    ...goal,
    pinned: null,
    progress: progressOf(underWay),
  };
}

function progressOf(underWay: UnderWay | null): Task['progress'] {
  return underWay && { state: 'started', start: underWay.since, left: underWay.left };
}

/** The workshop's weekly hours, Monday first in minutes after midnight, as the calendar reads them. */
export function weeklyHours(weekHours: readonly (readonly (readonly [number, number])[])[]): readonly WeeklyHours[] {
  return weekHours.flatMap((day, index) =>
    day
      .filter(([from, to]) => to > from)
      .map(([from, to]) => ({ weekday: index + 1, from: clock(from), to: clock(to) })),
  );
}

/** Every usable tool by its id, and a pool by kind, so that a step asks for a nipping press and not for a certain one. */
export function toolResources(
  tools: readonly BenchTool[],
): Readonly<{ resources: readonly Resource[]; pools: readonly Pool[] }> {
  const resources: Resource[] = [];
  const members = new Map<ToolKind, string[]>();
  for (const tool of tools) {
    if (tool.capacity <= 0) continue;
    resources.push({
      id: tool.id,
      label: tool.name,
      kind: presses.has(tool.kind) ? 'press' : 'tool',
      capacity: tool.capacity,
    });
    members.set(tool.kind, [...(members.get(tool.kind) ?? []), tool.id]);
  }
  return { resources, pools: [...members].map(([kind, ids]) => ({ id: kind, label: kind, members: ids })) };
}

const presses: ReadonlySet<ToolKind> = new Set(['nipping press', 'standing press', 'lying press', 'weights']);

function clock(minutes: number): string {
  return `${String(Math.floor(minutes / 60)).padStart(2, '0')}:${String(minutes % 60).padStart(2, '0')}`;
}
