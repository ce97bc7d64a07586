/** An independent look at a plan: every rule of the problem in the plainest form, sharing nothing with the engine that made the plan. */
import type { Calendar, Placed, Plan, Problem, Span, Task, Violation } from './problem.ts';

/** All that a plan breaks, in sentences; empty for a valid plan. */
export function check(problem: Problem, plan: Plan): Violation[] {
  const found: Violation[] = [];
  if (plan.placed.length !== problem.tasks.length)
    return [{ task: '', sentence: 'The plan and the problem have different tasks.' }];
  const placedOf = new Map(plan.placed.map((placed) => [placed.task, placed]));
  for (const task of problem.tasks) {
    const placed = placedOf.get(task.id);
    if (!placed) found.push({ task: task.id, sentence: `${task.label} is not in the plan.` });
    else
      for (const sentence of [
        ...timesOf(problem, task, placed, placedOf),
        ...lagsOf(problem, task, placed, placedOf),
        ...usesOf(problem, task, placed),
      ])
        found.push({ task: task.id, sentence });
  }
  return [...found, ...overloads(problem, placedOf), ...wrongObjective(problem, plan, placedOf)];
}

function timesOf(problem: Problem, task: Task, placed: Placed, placedOf: ReadonlyMap<string, Placed>): string[] {
  const { start, end, out, pieces } = placed;
  if (task.progress) return task.progress.start === start ? [] : [`${task.label} was begun at another time.`];
  const wrong: string[] = [];
  if (![start, end, out].every(Number.isSafeInteger)) wrong.push(`${task.label} has times that are not whole minutes.`);
  if (start < problem.now || (task.release !== null && start < task.release))
    wrong.push(`${task.label} starts too early.`);
  // A pin gives way to begun work that runs late, and to nothing else.
  const overrun = task.after.some((after) => {
    const other = problem.tasks.find((one) => one.id === after.task)!;
    return task.pinned !== null && other.progress !== null && placedOf.get(other.id)!.out + after.minLag > task.pinned;
  });
  if (task.pinned !== null && (overrun ? start < task.pinned : start !== task.pinned))
    wrong.push(`${task.label} is not where it is pinned.`);
  const calendar = task.calendar === null ? null : problem.calendars[task.calendar]!;
  const worked = pieces.reduce((sum, piece) => sum + piece.to - piece.from, 0);
  if (worked !== task.minutes) wrong.push(`${task.label} is worked at for ${worked} minutes, not ${task.minutes}.`);
  if ((pieces[0]?.from ?? start) !== start || (pieces.at(-1)?.to ?? start) !== end)
    wrong.push(`${task.label}: its pieces do not begin and end with it.`);
  if (pieces.length > 1 && (task.shape === 'whole' || !calendar)) wrong.push(`${task.label} is broken into pieces.`);
  if (calendar && task.minutes === 0 && !calendar.some((window) => window.from <= start && start <= window.to))
    wrong.push(`${task.label} is outside its hours.`);
  for (const [k, piece] of pieces.entries()) {
    if (calendar && !calendar.some((window) => window.from <= piece.from && piece.to <= window.to))
      wrong.push(`${task.label} is worked at outside its hours.`);
    const next = pieces[k + 1];
    if (next && calendar?.some((window) => window.from < next.from && window.to > piece.to))
      wrong.push(`${task.label} pauses while its hours are open.`);
  }
  const presence = task.heldUntil === null ? null : problem.calendars[task.heldUntil]!;
  if (presence && !presence.some((window) => window.from <= start && start <= window.to))
    wrong.push(`${task.label} is put in when nobody is there.`);
  if (out !== (presence ? firstPresent(presence, end) : end)) wrong.push(`${task.label} is out at the wrong minute.`);
  return wrong;
}

function firstPresent(presence: Calendar, minute: number): number | undefined {
  const window = presence.find((one) => one.to > minute);
  return window && Math.max(minute, window.from);
}

function lagsOf(problem: Problem, task: Task, placed: Placed, placedOf: ReadonlyMap<string, Placed>): string[] {
  if (task.progress) return [];
  return task.after.flatMap((after) => {
    const lag = placed.start - placedOf.get(after.task)!.out;
    if (lag < after.minLag) return [`${task.label} starts too soon after “${after.task}”.`];
    // After begun work the clock has the last word.
    const begun = problem.tasks.find((one) => one.id === after.task)!.progress !== null;
    if (after.maxLag !== undefined && !begun && lag > after.maxLag)
      return [`${task.label} starts too long after “${after.task}”.`];
    return [];
  });
}

function usesOf(problem: Problem, task: Task, placed: Placed): string[] {
  const left = placed.uses.map((use) => ({ ...use, met: false }));
  const ableOf = (demand: { resource: string }) =>
    problem.pools.find((pool) => pool.id === demand.resource)?.members ?? [demand.resource];
  const demands = task.demands
    .filter((demand) => demand.amount > 0)
    .toSorted((a, b) => ableOf(a).length - ableOf(b).length);
  for (const demand of demands) {
    const able = ableOf(demand);
    const use = left.find((one) => !one.met && one.amount === demand.amount && able.includes(one.resource));
    if (!use) return [`${task.label} does not have the “${demand.resource}” it needs.`];
    use.met = true;
  }
  const pooled = left
    .filter((use) => demands.every((demand) => demand.resource !== use.resource))
    .map((use) => use.resource);
  if (new Set(pooled).size < pooled.length) return [`${task.label} counts one of a pool twice.`];
  return left.some((use) => !use.met) ? [`${task.label} occupies what it does not need.`] : [];
}

/** Every resource at every minute where its use or its capacity changes. */
function overloads(problem: Problem, placedOf: ReadonlyMap<string, Placed>): Violation[] {
  return problem.resources.flatMap((resource) => {
    const spans = problem.tasks.flatMap((task) => {
      const placed = placedOf.get(task.id);
      if (!placed || task.progress?.state === 'finished') return [];
      return placed.uses
        .filter((use) => use.resource === resource.id)
        .flatMap((use) =>
          occupied(problem, task, placed, resource.kind === 'hands').map((span) => ({
            ...span,
            task,
            amount: use.amount,
          })),
        );
    });
    const times = new Set([...spans.map((span) => span.from), ...(resource.changes ?? []).map((change) => change.at)]);
    const found: Violation[] = [];
    for (const time of times) {
      const capacity = (resource.changes ?? []).reduce(
        (level, change) => (change.at <= time ? change.capacity : level),
        resource.capacity,
      );
      const inUse = spans.filter((span) => span.from <= time && time < span.to);
      const used = inUse.reduce((sum, span) => sum + span.amount, 0);
      // What is begun is there whether it fits or not; only what the plan adds can be wrong.
      const added = inUse.find((span) => !span.task.progress);
      if (used > capacity && added)
        found.push({
          task: added.task.id,
          sentence: `${resource.label} would carry ${used} where ${capacity} fit, with ${added.task.label}.`,
        });
    }
    return found;
  });
}

function occupied(problem: Problem, task: Task, placed: Placed, hands: boolean): readonly Span[] {
  const pauses = hands && task.shape === 'breakable' && task.calendar !== null && task.heldUntil === null;
  const spans = pauses ? placed.pieces : [{ from: placed.start, to: placed.out }];
  return spans
    .map((span) => ({ from: task.progress ? Math.max(problem.now, span.from) : span.from, to: span.to }))
    .filter((span) => span.to > span.from);
}

function wrongObjective(problem: Problem, plan: Plan, placedOf: ReadonlyMap<string, Placed>): Violation[] {
  let [lateness, completion, finish] = [0, 0, problem.now];
  for (const task of problem.tasks) {
    const out = placedOf.get(task.id)?.out ?? 0;
    lateness += task.due === null ? 0 : task.weight * Math.max(0, out - task.due);
    completion += task.weight * Math.max(0, out - problem.now);
    finish = Math.max(finish, out);
  }
  const near = (a: number, b: number) => Math.abs(a - b) <= 1e-6 * (1 + Math.abs(b));
  const { objective, bound } = plan;
  const same =
    near(objective.lateness, lateness) && near(objective.completion, completion) && objective.finish === finish;
  const bounded =
    bound.lateness <= lateness + 1e-6 &&
    bound.completion <= completion + 1e-6 * (1 + completion) &&
    bound.finish <= finish;
  return [
    ...(same ? [] : [{ task: '', sentence: 'The plan’s value is not what its times give.' }]),
    ...(bounded ? [] : [{ task: '', sentence: 'The plan is better than its bound.' }]),
  ];
}
