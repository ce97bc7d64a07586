/** A schedule of typed arrays as the plan that others read, and back. */
import { assert } from '../result.ts';
import type { Compiled } from './compile.ts';
import { explainSchedule } from './explain.ts';
import type { Schedule } from './fit.ts';
import { emptySchedule } from './fit.ts';
import { gapTo, measure } from './objective.ts';
import type { Demand, Objective, Placed, Plan, Problem, Span, Task } from './problem.ts';

export function planFrom(
  compiled: Compiled,
  schedule: Schedule,
  bound: Objective,
  stats: Plan['stats'],
  remarks: readonly string[],
): Plan {
  const objective = measure(compiled, schedule);
  return {
    placed: compiled.problem.tasks.map((_, task) => placedFrom(compiled, schedule, task)),
    objective,
    bound,
    gap: gapTo(objective, bound, compiled.problem.now),
    reasons: explainSchedule(compiled, schedule),
    stats,
    remarks: [...remarks, ...waitRemarks(compiled, schedule), ...lateRemarks(compiled, schedule)],
  };
}

/** The schedule behind a plan of the same tasks. */
export function scheduleFrom(compiled: Compiled, plan: Plan): Schedule {
  const schedule = emptySchedule(compiled);
  const resourceIndex = new Map(compiled.problem.resources.map((resource, k) => [resource.id, k]));
  for (const [task, placed] of plan.placed.entries()) {
    schedule.start[task] = placed.start;
    schedule.end[task] = placed.end;
    schedule.out[task] = placed.out;
    const uses = placed.uses.map((use) => ({ resource: resourceIndex.get(use.resource)!, amount: use.amount }));
    for (let d = compiled.demandAt[task]!; d < compiled.demandAt[task + 1]!; d++) {
      const able = compiled.candidates[compiled.demandOf[d]!]!;
      const k = uses.findIndex((use) => use.amount === compiled.demandAmount[d] && able.includes(use.resource));
      assert(k >= 0, 'the plan gives every task what it needs');
      schedule.chosen[d] = uses.splice(k, 1)[0]!.resource;
    }
  }
  return schedule;
}

/** The problem with pools replaced by the people that the seen plan has for these tasks. */
export function withPeople(
  problem: Problem,
  seenOf: ReadonlyMap<string, Placed>,
  which: (task: Task) => boolean,
): Problem {
  const resources = new Set(problem.resources.map((resource) => resource.id));
  const tasks = problem.tasks.map((task) => {
    const uses = seenOf.get(task.id)?.uses;
    const known = uses !== undefined && uses.length === task.demands.filter((demand) => demand.amount > 0).length;
    return which(task) && known && uses.every((use) => resources.has(use.resource)) ? { ...task, demands: uses } : task;
  });
  return { ...problem, tasks };
}

function placedFrom(compiled: Compiled, schedule: Schedule, task: number): Placed {
  const { problem } = compiled;
  const [start, end, out] = [schedule.start[task]!, schedule.end[task]!, schedule.out[task]!];
  const uses: Demand[] = [];
  for (let d = compiled.demandAt[task]!; d < compiled.demandAt[task + 1]!; d++)
    uses.push({ resource: problem.resources[schedule.chosen[d]!]!.id, amount: compiled.demandAmount[d]! });
  return { task: problem.tasks[task]!.id, start, end, out, pieces: piecesOf(compiled, task, start, end), uses };
}

function piecesOf(compiled: Compiled, task: number, start: number, end: number): Span[] {
  const { calendar, shape } = compiled.problem.tasks[task]!;
  if (calendar === null || shape === 'whole' || start === end) return end > start ? [{ from: start, to: end }] : [];
  return compiled.problem.calendars[calendar]!.filter((window) => window.to > start && window.from < end).map(
    (window) => ({ from: Math.max(start, window.from), to: Math.min(end, window.to) }),
  );
}

/** What follows begun work later than it should. */
function waitRemarks(compiled: Compiled, schedule: Schedule): string[] {
  const { tasks } = compiled.problem;
  const { before } = compiled;
  const remarks: string[] = [];
  for (const [task, { label, progress, pinned }] of tasks.entries()) {
    if (pinned !== null && !compiled.fixed[task])
      remarks.push(`${label} cannot be where it is pinned: what it follows runs late.`);
    for (let a = before.at[task]!; a < before.at[task + 1]! && !progress; a++) {
      const other = before.task[a]!;
      if (tasks[other]!.progress && schedule.start[task]! - schedule.out[other]! > before.maxLag[a]!)
        remarks.push(`${label} should follow ${tasks[other]!.label} sooner than it can.`);
    }
  }
  return remarks;
}

function lateRemarks(compiled: Compiled, schedule: Schedule): string[] {
  const late = compiled.problem.tasks.filter((_, task) => schedule.out[task]! > compiled.due[task]!);
  if (late.length === 0) return [];
  const names = late.slice(0, 3).map((task) => task.label);
  return [`Later than wanted: ${names.join(', ')}${late.length > 3 ? ` and ${late.length - 3} more` : ''}.`];
}
