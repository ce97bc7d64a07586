/**
 * The course week as a scheduling problem: every person's hands, the tutors' attention, shared presses and tools, demonstrations before the
 * first use of what they show, drying overnight. The same engine lays out the bench week.
 */
import type { Level } from '../book/book.ts';
import type { Result } from '../result.ts';
import { ok, refuse } from '../result.ts';
import { type BenchTool, nearestStart, type Pin, toolResources } from '../schedule/bench-week.ts';
import type { Calendar, Demand, Pool, Problem, Resource, Task } from '../schedule/problem.ts';
import type { Attention, Step } from '../treatment/treatment.ts';
import { learnerMinutes, rankOf } from './pace.ts';

export type CourseFrame = Readonly<{
  /** Teaching hours in minutes after the origin, going on past the last day, so that what does not fit shows as late. */
  teaching: Calendar;
  /** First teaching minute of each of the course's days. */
  days: readonly number[];
  /** The last teaching minute of the course. */
  end: number;
  /** Nothing is planned before this minute. */
  now: number;
  tutors: number;
  helpers: number;
  benches: number;
}>;

/** A copy in the hands of its person, with the steps of its treatment in order. */
export type CourseWork = Readonly<{
  personId: string;
  name: string;
  level: Level;
  copyId: string;
  title: string;
  steps: readonly Step[];
}>;

export type Demonstration = Readonly<{ operationId: string; name: string; minutes: number }>;

export type CourseTaskKind = 'hands' | 'drying' | 'pressing' | 'demonstration';
/** What a task of the problem stands for. */
export type CourseTask = Readonly<{
  task: string;
  kind: CourseTaskKind;
  /** Null for a demonstration, which is for everybody. */
  personId: string | null;
  copyId: string | null;
  operationId: string;
  position: number;
  label: string;
}>;
export type CourseWeek = Readonly<{ problem: Problem; tasks: readonly CourseTask[] }>;

const calendar = 'teaching';
/** Learners a tutor can keep an eye on at once; standing beside one takes all of it. Common practice, no source. */
export const eyesOfTutor = 4;

/** One thing of the week, whichever plan holds it: the demonstration of an operation, or its hand-work on a copy. */
export function pinKey(task: Readonly<{ copyId: string | null; operationId: string }>): string {
  return task.copyId === null ? demonstrationId(task.operationId) : `${task.operationId} on ${task.copyId}`;
}

/**
 * Builds the problem. What is pinned, by `pinKey`, goes to the nearest minute at which its work finds room. Demonstrations of operations that nobody does are left out. Refuses a course without hours, without a tutor where
 * somebody must stand beside, or without a tool that a step needs, naming the step.
 */
export function courseWeek(
  frame: CourseFrame,
  people: readonly Readonly<{ id: string; name: string }>[],
  works: readonly CourseWork[],
  demonstrations: readonly Demonstration[],
  tools: readonly BenchTool[],
  pins: ReadonlyMap<string, Pin> = new Map(),
): Result<CourseWeek> {
  const longestWindow = Math.max(0, ...frame.teaching.map((window) => window.to - window.from));
  if (longestWindow === 0) return refuse('The course has no teaching hours yet.', 'dayHours');
  if (frame.tutors < 1) return refuse('A course needs at least one tutor.', 'tutors');
  if (works.length === 0) return refuse('Nobody has a copy yet. Allocate the copies first.');
  const shared = toolResources(tools);
  const missing = missingTool(works, shared.pools);
  if (missing) return missing;

  const tasks: Task[] = [];
  const meanings: CourseTask[] = [];
  const used = new Set(works.flatMap((work) => work.steps.map((step) => step.operationId)));
  const shown = new Set<string>();
  const toShow = demonstrations.filter(({ minutes, operationId }) => minutes > 0 && used.has(operationId));
  for (const { demonstration, release } of spread(toShow, frame.days)) {
    shown.add(demonstration.operationId);
    const task = { ...demonstrationTask(demonstration, people, longestWindow), release };
    const put = pinnedAt(frame, task, pins.get(task.id));
    if (!put.ok) return put;
    tasks.push(put.value);
    meanings.push({
      task: demonstrationId(demonstration.operationId),
      kind: 'demonstration',
      personId: null,
      copyId: null,
      operationId: demonstration.operationId,
      position: meanings.length,
      label: `Demonstration: ${demonstration.name}`,
    });
  }
  const crowded = frame.benches < people.length;
  for (const work of works) {
    let previous: string | null = null;
    for (const [index, step] of work.steps.entries()) {
      const id = `${work.copyId}:${index}`;
      const goal = index === work.steps.length - 1 ? { due: frame.end, weight: 1 } : noGoal;
      const before: string[] = [
        ...(previous === null ? [] : [previous]),
        ...(shown.has(step.operationId) ? [demonstrationId(step.operationId)] : []),
      ];
      const meaning = { personId: work.personId, copyId: work.copyId, operationId: step.operationId };
      const task = handsTask(id, work, step, before, { longestWindow, crowded, goal: step.wait ? noGoal : goal });
      const put = pinnedAt(frame, task, pins.get(pinKey(meaning)));
      if (!put.ok) return put;
      tasks.push(put.value);
      meanings.push({ ...meaning, task: id, kind: 'hands', position: meanings.length, label: step.name });
      previous = id;
      if (!step.wait) continue;
      const wait = waitTask(`${id}:wait`, work, step, id, goal);
      tasks.push(wait);
      const kind = step.wait.held === 'air' ? 'drying' : 'pressing';
      meanings.push({ ...meaning, task: wait.id, kind, position: meanings.length, label: step.wait.what });
      previous = wait.id;
    }
  }
  const own: Resource[] = people.map(({ id, name }) => ({ id: handsOf(id), label: name, kind: 'hands', capacity: 1 }));
  const places: Resource[] = crowded
    ? [{ id: benchesId, label: 'a bench', kind: 'place', capacity: frame.benches }]
    : [];
  return ok({
    problem: {
      now: frame.now,
      calendars: { [calendar]: frame.teaching },
      resources: [...own, ...places, ...teachers(frame), ...shared.resources],
      pools: [...teacherPools(frame), ...shared.pools],
      tasks,
    },
    tasks: meanings,
  });
}

/** The task where a person wants it, or as near as the hours allow; refuses a way in which there are no hours. */
function pinnedAt(frame: CourseFrame, task: Task, wanted: Pin | undefined): Result<Task> {
  if (wanted === undefined) return ok(task);
  const pinned = nearestStart(frame.teaching, task, wanted, frame.now);
  if (pinned === null) {
    const way = wanted.least === undefined ? 'earlier' : 'later';
    return refuse(`For ${task.label} there is no room ${way} in the teaching hours.`, 'startAt');
  }
  return ok({ ...task, release: null, pinned });
}

/** Longer than this in one day nobody watches well. Common practice, no source. */
const shownInDay = 90;

/** Demonstrations in the order of the syllabus, each from the day on which there is still patience for it; more a day where days are few. */
function spread(demonstrations: readonly Demonstration[], days: readonly number[]) {
  const whole = demonstrations.reduce((sum, { minutes }) => sum + minutes, 0);
  // The last day is for finishing.
  const most = Math.max(shownInDay, Math.ceil(whole / Math.max(1, days.length - 1)));
  let [day, today] = [0, 0];
  return demonstrations.map((demonstration) => {
    if (today > 0 && today + demonstration.minutes > most && day < days.length - 1) [day, today] = [day + 1, 0];
    today += demonstration.minutes;
    return { demonstration, release: days[day] ?? null };
  });
}

type Goal = Readonly<{ due: number | null; weight: number }>;
const noGoal: Goal = { due: null, weight: 0 };
const benchesId = 'benches';
const tutorsId = 'a tutor';
const teachersId = 'a tutor or helper';

function handsOf(personId: string): string {
  return `hands of ${personId}`;
}

function demonstrationId(operationId: string): string {
  return `demonstration of ${operationId}`;
}

function teachers({ tutors, helpers }: CourseFrame): readonly Resource[] {
  const named = (kind: string, count: number) =>
    Array.from({ length: count }, (_, index): Resource => {
      const label = count === 1 ? `the ${kind}` : `${kind} ${index + 1}`;
      return { id: `${kind} ${index + 1}`, label, kind: 'hands', capacity: eyesOfTutor };
    });
  return [...named('tutor', tutors), ...named('helper', helpers)];
}

function teacherPools(frame: CourseFrame): readonly Pool[] {
  const ids = teachers(frame).map(({ id }) => id);
  return [
    { id: tutorsId, label: 'a tutor', members: ids.filter((id) => id.startsWith('tutor')) },
    { id: teachersId, label: 'a tutor or helper', members: ids },
  ];
}

/** A learner doing what is above their level is never left quite alone with it. */
export function attentionFor(step: Step, level: Level): Attention {
  return step.attention === 'none' && rankOf(step.level) > rankOf(level) ? 'nearby' : step.attention;
}

const attentionDemands: Readonly<Record<Attention, readonly Demand[]>> = {
  none: [],
  nearby: [{ resource: teachersId, amount: 1 }],
  beside: [{ resource: tutorsId, amount: eyesOfTutor }],
};

function demonstrationTask(
  demonstration: Demonstration,
  people: readonly Readonly<{ id: string }>[],
  longestWindow: number,
): Task {
  return {
    ...plainTask,
    id: demonstrationId(demonstration.operationId),
    label: `the demonstration of “${demonstration.name}”`,
    minutes: demonstration.minutes,
    shape: demonstration.minutes > longestWindow ? 'breakable' : 'whole',
    demands: [
      { resource: tutorsId, amount: eyesOfTutor },
      ...people.map(({ id }) => ({ resource: handsOf(id), amount: 1 })),
    ],
    after: [],
    ...noGoal,
  };
}

function handsTask(
  id: string,
  work: CourseWork,
  step: Step,
  before: readonly string[],
  options: Readonly<{ longestWindow: number; crowded: boolean; goal: Goal }>,
): Task {
  const minutes = learnerMinutes(step.minutes.likely, work.level);
  return {
    ...plainTask,
    id,
    label: `${step.name}, ${work.title}, by ${work.name}`,
    minutes,
    range: {
      low: learnerMinutes(step.minutes.low, work.level),
      likely: minutes,
      high: learnerMinutes(step.minutes.high, work.level),
    },
    shape: minutes > options.longestWindow ? 'breakable' : 'whole',
    demands: [
      { resource: handsOf(work.personId), amount: 1 },
      ...(options.crowded ? [{ resource: benchesId, amount: 1 }] : []),
      ...attentionDemands[attentionFor(step, work.level)],
      ...step.tools.map((kind) => ({ resource: kind, amount: 1 })),
    ],
    after: before.map((task) => ({ task, minLag: 0 })),
    ...options.goal,
  };
}

function waitTask(id: string, work: CourseWork, step: Step, handsId: string, goal: Goal): Task {
  const wait = step.wait ?? { minutes: 1, held: 'air' as const, what: '' };
  const held = wait.held === 'air' ? null : wait.held;
  return {
    ...plainTask,
    id,
    label: `${wait.what}, ${work.title}, of ${work.name}`,
    minutes: Math.max(1, Math.round(wait.minutes)),
    calendar: null,
    demands: held ? [{ resource: held, amount: 1 }] : [],
    heldUntil: held ? calendar : null,
    // A pasted book goes under the press or weight at once: the paste does not wait.
    after: [held ? { task: handsId, minLag: 0, maxLag: 0 } : { task: handsId, minLag: 0 }],
    ...goal,
  };
}

const plainTask = {
  calendar,
  shape: 'whole',
  heldUntil: null,
  release: null,
  pinned: null,
  progress: null,
} as const satisfies Partial<Task>;

function missingTool(works: readonly CourseWork[], pools: readonly Pool[]): Result<never> | null {
  const there = new Set(pools.map((pool) => pool.id));
  for (const work of works) {
    for (const step of work.steps) {
      const held = step.wait && step.wait.held !== 'air' ? [step.wait.held] : [];
      const missing = [...step.tools, ...held].find((kind) => !there.has(kind));
      if (missing) {
        return refuse(
          `“${step.name}” on “${work.title}” needs ${articled(missing)}, and the workshop has none. Add one under Tools at the Bench.`,
          'tools',
        );
      }
    }
  }
  return null;
}

function articled(tool: string): string {
  return tool === 'weights' ? tool : `${tool.startsWith('extraction') ? 'an' : 'a'} ${tool}`;
}
