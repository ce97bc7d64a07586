/** For each task of a plan, what keeps it from starting earlier. */
import { never } from './clock.ts';
import type { Compiled } from './compile.ts';
import type { Schedule } from './fit.ts';
import { firstFit, occupy } from './fit.ts';
import { endFrom, outFrom } from './hours.ts';
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

function reasonFor(compiled: Compiled, schedule: Schedule, profiles: Profiles, task: number): Reason {
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
  if (pinned !== null && compiled.fixed[task]) return say('pinned', 'Is pinned to this time.');
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
  const blame = { resource: -1, until: 0 };
  occupy(compiled, profiles, task, schedule, -1);
  const earliest = firstFit(compiled, profiles, task, ready, schedule.chosen.slice(), blame);
  const aside = earliest < start ? setAside(compiled, schedule, profiles, task, earliest, say) : null;
  occupy(compiled, profiles, task, schedule, 1);
  if (aside) return aside;
  // Drying that ends at night is the news, not that the bench is shut until morning.
  if (blame.resource < 0 && cause.waitsFor === 'drying') return cause;
  if (blame.resource < 0 || blame.until < start) return say('hours', 'Waits for working hours.');
  const { kind, label } = problem.resources[blame.resource]!;
  const blocker = lastHolder(compiled, schedule, blame.resource, start, task);
  const by = blocker === null ? '' : `, which ${problem.tasks[blocker]!.label} has until then`;
  return say(kind, `Waits for ${kind === 'hands' ? label : `the ${label}`}${by}.`, blocker, blame.resource);
}

type Profiles = Parameters<typeof firstFit>[1];
type Say = (waitsFor: WaitKind, sentence: string, blocker?: number | null, resource?: number | null) => Reason;

function waitFor(compiled: Compiled, other: number, say: Say): Reason {
  const task = compiled.problem.tasks[other]!;
  if (task.heldUntil !== null) return say('drying', `Waits for ${task.label} to come out.`, other);
  if (task.calendar === null) return say('drying', `Waits for ${task.label} to dry.`, other);
  return say('task', `Follows ${task.label}.`, other);
}

/** It could go earlier, but what must follow soon could not, or the plan puts others first. */
function setAside(
  compiled: Compiled,
  schedule: Schedule,
  profiles: Profiles,
  task: number,
  earliest: number,
  say: Say,
): Reason {
  const { after, problem } = compiled;
  for (let a = after.at[task]!; a < after.at[task + 1]!; a++) {
    const [next, minLag, maxLag] = [after.task[a]!, after.minLag[a]!, after.maxLag[a]!];
    if (maxLag >= never) continue;
    const sentence = `Starts so that ${problem.tasks[next]!.label} can follow in time.`;
    const blame = { resource: -1, until: 0 };
    occupy(compiled, profiles, next, schedule, -1);
    firstFit(
      compiled,
      profiles,
      next,
      outFrom(compiled, task, endFrom(compiled, task, earliest)) + minLag,
      schedule.chosen.slice(),
      blame,
    );
    occupy(compiled, profiles, next, schedule, 1);
    if (blame.resource < 0) return say('order', sentence, next);
    const { kind, label } = problem.resources[blame.resource]!;
    const holder = lastHolder(compiled, schedule, blame.resource, blame.until, next);
    return say(
      kind,
      `${sentence} Until then ${label} ${kind === 'hands' ? 'has other work' : 'is taken'}.`,
      holder,
      blame.resource,
    );
  }
  return say('order', 'Could go earlier; the plan puts other work first.');
}

/** Who has the resource last before a minute. */
function lastHolder(
  compiled: Compiled,
  schedule: Schedule,
  resource: number,
  minute: number,
  except: number,
): number | null {
  let holder: number | null = null;
  for (let task = 0; task < compiled.count; task++) {
    const out = schedule.out[task]!;
    if (task === except || out > minute || out === schedule.start[task]) continue;
    let uses = false;
    for (let d = compiled.demandAt[task]!; d < compiled.demandAt[task + 1]!; d++)
      uses ||= schedule.chosen[d] === resource;
    if (uses && (holder === null || out > schedule.out[holder]!)) holder = task;
  }
  return holder;
}
