/** What makes a problem impossible or meaningless before any search, said in words. */
import type { Result } from '../result.ts';
import { ok, refuse } from '../result.ts';
import { firstAttended, firstWhole, longestWindow, makeClock, never, windowAt } from './clock.ts';
import type { Calendar, Pool, Problem, Resource, Task } from './problem.ts';

/** The problem itself when it makes sense, otherwise the first thing wrong with it; `field` is the id of the task, resource or calendar. */
export function validate(problem: Problem): Result<Problem> {
  const trouble =
    wrongNames(problem) ??
    wrongCalendars(problem) ??
    wrongResources(problem) ??
    first(problem.tasks, (task) => wrongNumbers(task) ?? wrongDemands(problem, task) ?? wrongHours(problem, task)) ??
    wrongOrder(problem);
  return trouble ? refuse(trouble.sentence, trouble.field) : ok(problem);
}

type Trouble = Readonly<{ sentence: string; field: string }>;

function first<T>(items: Iterable<T>, look: (item: T) => Trouble | null): Trouble | null {
  for (const item of items) {
    const trouble = look(item);
    if (trouble) return trouble;
  }
  return null;
}

function wrongNames(problem: Problem): Trouble | null {
  const seen = new Set<string>();
  for (const { id } of [...problem.resources, ...problem.pools]) {
    if (seen.has(id)) return { sentence: `Two resources are both called “${id}”.`, field: id };
    seen.add(id);
  }
  const members = new Set(problem.resources.map((resource) => resource.id));
  for (const pool of problem.pools) {
    if (pool.members.length === 0) return { sentence: `Nobody belongs to ${pool.label}.`, field: pool.id };
    const stranger = pool.members.find((member) => !members.has(member));
    if (stranger !== undefined)
      return { sentence: `${pool.label} names “${stranger}”, which does not exist.`, field: pool.id };
  }
  const tasks = new Set<string>();
  for (const { id } of problem.tasks) {
    if (tasks.has(id)) return { sentence: `Two tasks are both called “${id}”.`, field: id };
    tasks.add(id);
  }
  return first(problem.tasks, (task) => {
    const calendar = [task.calendar, task.heldUntil].find((name) => name !== null && !(name in problem.calendars));
    if (calendar !== undefined)
      return { sentence: `${task.label} follows the calendar “${calendar}”, which does not exist.`, field: task.id };
    const demand = task.demands.find((d) => !seen.has(d.resource));
    if (demand) return { sentence: `${task.label} needs “${demand.resource}”, which does not exist.`, field: task.id };
    const after = task.after.find((a) => !tasks.has(a.task));
    if (after) return { sentence: `${task.label} comes after “${after.task}”, which does not exist.`, field: task.id };
    return null;
  });
}

function wrongCalendars(problem: Problem): Trouble | null {
  return first(Object.entries(problem.calendars), ([name, calendar]) => {
    let close = Number.NEGATIVE_INFINITY;
    for (const window of calendar) {
      if (
        !Number.isSafeInteger(window.from) ||
        !Number.isSafeInteger(window.to) ||
        window.to <= window.from ||
        window.from < close
      )
        return {
          sentence: `The windows of the calendar “${name}” must be whole minutes, sorted, and not overlap.`,
          field: name,
        };
      close = window.to;
    }
    return null;
  });
}

function wrongResources(problem: Problem): Trouble | null {
  return first(problem.resources, (resource) => {
    const levels = [resource.capacity, ...(resource.changes ?? []).map((change) => change.capacity)];
    if (levels.some((level) => !Number.isSafeInteger(level) || level < 0))
      return {
        sentence: `${capital(resource.label)} must have a whole number of places, none or more.`,
        field: resource.id,
      };
    const times = (resource.changes ?? []).map((change) => change.at);
    if (times.some((at, k) => !Number.isSafeInteger(at) || (k > 0 && at <= times[k - 1]!)))
      return { sentence: `The changes of ${resource.label} must be at whole minutes, in order.`, field: resource.id };
    return null;
  });
}

function wrongNumbers(task: Task): Trouble | null {
  const counts: readonly [string, number][] = [
    ['minutes', task.minutes],
    ...task.demands.map((demand): [string, number] => ['demand', demand.amount]),
  ];
  for (const [what, count] of counts)
    if (!Number.isSafeInteger(count) || count < 0 || count > 1e8)
      return { sentence: `${task.label}: the ${what} must be a whole number, none or more.`, field: task.id };
  const times = [task.release, task.due, task.pinned, ...task.after.flatMap((a) => [a.minLag, a.maxLag ?? null])];
  if (times.some((time) => time !== null && (!Number.isSafeInteger(time) || Math.abs(time) > 1e8)))
    return { sentence: `${task.label}: times and lags must be whole minutes.`, field: task.id };
  if (!Number.isFinite(task.weight) || task.weight < 0)
    return { sentence: `${task.label}: the weight must be a number, none or more.`, field: task.id };
  const range = task.range;
  if (
    range &&
    !(range.low >= 0 && range.low <= range.likely && range.likely <= range.high && Number.isFinite(range.high))
  )
    return { sentence: `${task.label}: low, likely and high minutes must rise.`, field: task.id };
  const lag = task.after.find((a) => a.maxLag !== undefined && a.maxLag < a.minLag);
  if (lag)
    return {
      sentence: `${task.label} must start at least ${lag.minLag} and at most ${lag.maxLag} minutes after “${lag.task}”, which contradict each other.`,
      field: task.id,
    };
  return null;
}

function wrongDemands(problem: Problem, task: Task): Trouble | null {
  if (task.progress?.state === 'finished') return null;
  const wanted = new Map<string, { amount: number; times: number }>();
  for (const demand of task.demands) {
    const before = wanted.get(demand.resource) ?? { amount: 0, times: 0 };
    wanted.set(demand.resource, { amount: before.amount + demand.amount, times: before.times + 1 });
  }
  return first(wanted, ([id, { amount, times }]) => {
    const resource = problem.resources.find((r) => r.id === id);
    if (resource) {
      const most = mostOf(resource);
      if (amount <= most) return null;
      return {
        sentence: `${task.label} needs ${amount} of ${resource.label}, but there ${most === 1 ? 'is' : 'are'} only ${most}.`,
        field: task.id,
      };
    }
    const pool = problem.pools.find((p) => p.id === id)!;
    const largest = Math.max(...task.demands.filter((d) => d.resource === id).map((d) => d.amount));
    const able = membersOf(problem, pool).filter((member) => mostOf(member) >= largest).length;
    if (able === 0)
      return {
        sentence: `${task.label} needs ${largest} of one of ${pool.label}, but none of them has so much.`,
        field: task.id,
      };
    if (times > able)
      return { sentence: `${task.label} needs ${times} of ${pool.label}, but there are only ${able}.`, field: task.id };
    return null;
  });
}

function membersOf(problem: Problem, pool: Pool): Resource[] {
  return problem.resources.filter((resource) => pool.members.includes(resource.id));
}

function mostOf(resource: Resource): number {
  return Math.max(resource.capacity, ...(resource.changes ?? []).map((change) => change.capacity));
}

function wrongHours(problem: Problem, task: Task): Trouble | null {
  if (task.progress) return null;
  const calendar = task.calendar === null ? null : problem.calendars[task.calendar]!;
  const from = Math.max(problem.now, task.release ?? problem.now);
  if (calendar) {
    const clock = makeClock(calendar);
    if (task.shape === 'whole' && task.minutes > longestWindow(clock))
      return {
        sentence: `${task.label} takes ${task.minutes} minutes in one go, but the longest window of its hours is ${longestWindow(clock)} minutes.`,
        field: task.id,
      };
    const fits =
      task.shape === 'whole'
        ? firstWhole(clock, from, task.minutes) < never
        : openAfter(calendar, from) >= task.minutes;
    if (!fits)
      return {
        sentence: `${task.label} takes ${task.minutes} minutes, but its hours end before that much is left.`,
        field: task.id,
      };
  }
  const presence = task.heldUntil === null ? null : problem.calendars[task.heldUntil]!;
  if (presence && firstAttended(makeClock(presence), from) >= never)
    return { sentence: `Nobody is there to put in and take out ${task.label}.`, field: task.id };
  return task.pinned === null ? null : wrongPin(task, task.pinned, from, calendar, presence);
}

function wrongPin(
  task: Task,
  pinned: number,
  from: number,
  calendar: Calendar | null,
  presence: Calendar | null,
): Trouble | null {
  if (pinned < from)
    return {
      sentence: `${task.label} is pinned to a time ${task.release === from ? 'before it can begin' : 'that has gone'}.`,
      field: task.id,
    };
  if (presence && firstAttended(makeClock(presence), pinned) !== pinned)
    return { sentence: `${task.label} is pinned to a time when nobody is there to put it in.`, field: task.id };
  if (!calendar) return null;
  const clock = makeClock(calendar);
  const open =
    task.shape === 'whole' || task.minutes === 0
      ? firstWhole(clock, pinned, task.minutes) === pinned
      : windowAt(clock, pinned) < calendar.length && calendar[windowAt(clock, pinned)]!.from <= pinned;
  return open
    ? null
    : { sentence: `${task.label} is pinned to a time when its hours have no room for it.`, field: task.id };
}

function openAfter(calendar: Calendar, from: number): number {
  return calendar.reduce((sum, window) => sum + Math.max(0, window.to - Math.max(from, window.from)), 0);
}

/** A circle in what comes after what. */
function wrongOrder(problem: Problem): Trouble | null {
  const index = new Map(problem.tasks.map((task, k) => [task.id, k]));
  const state = new Uint8Array(problem.tasks.length);
  const path: number[] = [];
  for (const root of problem.tasks.keys()) {
    if (state[root]) continue;
    const stack: { task: number; next: number }[] = [{ task: root, next: 0 }];
    state[root] = 1;
    path.push(root);
    while (stack.length > 0) {
      const top = stack.at(-1)!;
      const after = problem.tasks[top.task]!.after[top.next++];
      if (!after) {
        state[top.task] = 2;
        path.pop();
        stack.pop();
        continue;
      }
      const before = index.get(after.task)!;
      if (state[before] === 1) {
        const circle = path.slice(path.indexOf(before)).map((k) => problem.tasks[k]!.label);
        return {
          sentence: `These wait for each other in a circle: ${circle.toReversed().join(', then ')}.`,
          field: after.task,
        };
      }
      if (state[before] === 0) {
        state[before] = 1;
        path.push(before);
        stack.push({ task: before, next: 0 });
      }
    }
  }
  return null;
}

function capital(text: string): string {
  return text.slice(0, 1).toUpperCase() + text.slice(1);
}
