/** For each task of a plan, what keeps it from starting earlier. */
import { never } from './clock.ts';
import type { Compiled } from './compile.ts';
import { startFrom } from './compile.ts';
import type { Schedule } from './fit.ts';
import { firstFit, occupy } from './fit.ts';
import type { Reason, WaitKind } from './problem.ts';
import { makeProfile } from './profile.ts';

/** One reason per task, in the order of the problem's tasks. */
export function explainSchedule(compiled: Compiled, schedule: Schedule): Reason[] {
  const { problem } = compiled;
  const profiles = problem.resources.map((r) => makeProfile(r.capacity, r.changes ?? [], compiled.count));
  for (let task = 0; task < compiled.count; task++)
    if (problem.tasks[task]!.progress?.state !== 'finished')
      occupy(compiled, profiles, task, schedule, 1, compiled.fixed[task] ? problem.now : -never);
  return problem.tasks.map((_, task) => reasonFor(compiled, schedule, profiles, task));
}

function reasonFor(
  compiled: Compiled,
  schedule: Schedule,
  profiles: Parameters<typeof firstFit>[1],
  task: number,
): Reason {
  const { problem, before } = compiled;
  const { id, progress, pinned, release } = problem.tasks[task]!;
  const say = (
    waitsFor: WaitKind,
    sentence: string,
    blocker: number | null = null,
    resource: number | null = null,
  ): Reason => ({
    task: id,
    waitsFor,
    blocker: blocker === null ? null : problem.tasks[blocker]!.id,
    resource: resource === null ? null : problem.resources[resource]!.id,
    sentence,
  });
  if (progress) return say('started', progress.state === 'finished' ? 'Is over.' : 'Has been started.');
  if (pinned !== null) return say('pinned', 'Is pinned to this time.');
  const start = schedule.start[task]!;
  let ready = problem.now;
  let cause: Reason = say('nothing', 'Starts at once.');
  if (release !== null && release > ready) {
    ready = release;
    cause = say('release', 'Cannot begin before this time.');
  }
  for (let a = before.at[task]!; a < before.at[task + 1]!; a++) {
    const other = before.task[a]!;
    const from = schedule.out[other]! + before.minLag[a]!;
    if (from <= ready) continue;
    ready = from;
    cause = waitFor(compiled, other, say);
  }
  if (ready >= start) return cause;
  const blame = { resource: -1 };
  occupy(compiled, profiles, task, schedule, -1);
  const earliest = firstFit(compiled, profiles, task, ready, schedule.chosen.slice(), blame);
  occupy(compiled, profiles, task, schedule, 1);
  if (earliest < start) return setAside(compiled, schedule, task, say);
  if (blame.resource < 0) {
    // Closing hours between what came before and the start are the lesser news when drying overnight is the cause.
    return startFrom(compiled, task, ready) === ready
      ? cause
      : cause.waitsFor === 'drying'
        ? cause
        : say('hours', 'Waits for working hours.');
  }
  const resource = blame.resource;
  const { kind, label } = problem.resources[resource]!;
  const blocker = lastHolder(compiled, schedule, task, resource);
  const by = blocker === null ? '' : `, which ${problem.tasks[blocker]!.label} has until then`;
  return say(kind, `Waits for ${kind === 'hands' ? label : `the ${label}`}${by}.`, blocker, resource);
}

type Say = (waitsFor: WaitKind, sentence: string, blocker?: number | null, resource?: number | null) => Reason;

function waitFor(compiled: Compiled, other: number, say: Say): Reason {
  const task = compiled.problem.tasks[other]!;
  if (task.heldUntil !== null) return say('drying', `Waits for ${task.label} to come out.`, other);
  if (task.calendar === null) return say('drying', `Waits for ${task.label} to dry.`, other);
  return say('task', `Follows ${task.label}.`, other);
}

/** It could go earlier, but what must follow soon could not, or the plan puts others first. */
function setAside(compiled: Compiled, schedule: Schedule, task: number, say: Say): Reason {
  const { after } = compiled;
  for (let a = after.at[task]!; a < after.at[task + 1]!; a++) {
    const [next, maxLag] = [after.task[a]!, after.maxLag[a]!];
    if (maxLag < never && schedule.start[next]! > schedule.out[task]! - 1)
      return say('order', `Starts so that ${compiled.problem.tasks[next]!.label} can follow in time.`, next);
  }
  return say('order', 'Could go earlier; the plan puts other work first.');
}

/** Who has the resource last before this task starts. */
function lastHolder(compiled: Compiled, schedule: Schedule, task: number, resource: number): number | null {
  let holder: number | null = null;
  for (let other = 0; other < compiled.count; other++) {
    if (other === task || schedule.out[other]! > schedule.start[task]! || schedule.out[other] === schedule.start[other])
      continue;
    const uses = [...compiled.demandOf.subarray(compiled.demandAt[other]!, compiled.demandAt[other + 1]!).keys()].some(
      (k) => schedule.chosen[compiled.demandAt[other]! + k] === resource,
    );
    if (uses && (holder === null || schedule.out[other]! > schedule.out[holder]!)) holder = other;
  }
  return holder;
}
