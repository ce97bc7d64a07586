/** The course week around what is pinned and what is past: the problem for the engine, where it stands now, and keeping the answer. */
import type { CourseTask as Meaning } from '../../core/course/timetable.ts';
import { type CourseWeek, courseWeek, pinKey } from '../../core/course/timetable.ts';
import { ok, type Result } from '../../core/result.ts';
import type { Pin } from '../../core/schedule/bench-week.ts';
import { instantOf, minuteOf } from '../../core/schedule/calendar.ts';
import type { Demand, Placed, Plan, Problem, Progress, Task } from '../../core/schedule/problem.ts';
import { listTools } from '../store/bench.ts';
import type { KeptTask } from '../store/course-plan.ts';
import { plan as planTable, planTask } from '../store/schema.ts';
import type { Workshop } from '../store/workshop.ts';
import { qualityOf } from './bench-save.ts';
import { type CourseFacts, worksOf } from './course-facts.ts';

/** One task of the week, whichever plan holds it. */
function keyOf(task: Readonly<{ kind: string; bookId: string | null; operationId: string | null }>): string {
  const of = pinKey({ copyId: task.bookId, operationId: task.operationId ?? '' });
  return task.kind === 'drying' || task.kind === 'pressing' ? `${of}, waiting` : of;
}

function keyOfMeaning({ kind, copyId, operationId }: Meaning): string {
  return keyOf({ kind, bookId: copyId, operationId });
}

/** Pins of the week as it is kept, by `pinKey`; those whose time has gone no longer bind. */
export function pinsOf(facts: CourseFacts, kept: readonly KeptTask[]): Map<string, Pin> {
  const pins = new Map<string, Pin>();
  for (const task of kept) {
    if (task.pinnedAt === null) continue;
    const at = minuteOf(facts.origin, task.pinnedAt);
    if (at >= facts.frame.now) pins.set(pinKey({ copyId: task.bookId, operationId: task.operationId ?? '' }), { at });
  }
  return pins;
}

export type Standing = Readonly<{ week: CourseWeek; seen: readonly Placed[] | null }>;

/**
 * The problem as of now. Before the course every task is free but for its pins; once it goes on, what was to begin by now counts as begun in
 * the hands that have it, and the rest is planned on from there.
 */
export function weekNow(
  store: Workshop,
  facts: CourseFacts,
  kept: readonly KeptTask[],
  pins: ReadonlyMap<string, Pin>,
): Result<Standing> {
  const tools = listTools(store.db);
  const week = courseWeek(facts.frame, facts.confirmed, worksOf(facts), facts.demonstrations, tools, pins);
  if (!week.ok) return week;
  const { problem, tasks: meanings } = week.value;
  const rows = new Map(kept.map((task) => [keyOf(task), task]));
  const seen = meanings.flatMap((meaning, index): Placed[] => {
    const row = rows.get(keyOfMeaning(meaning));
    const task = problem.tasks[index];
    // In other hands it is other work.
    if (!row || !task || row.personId !== meaning.personId) return [];
    const [start, end] = [minuteOf(facts.origin, row.startAt), minuteOf(facts.origin, row.endAt)];
    const out = row.heldUntil === null ? end : minuteOf(facts.origin, row.heldUntil);
    return [
      { task: meaning.task, start, end, out, pieces: [{ from: start, to: end }], uses: usesOf(problem, task, row) },
    ];
  });
  const places = new Map(seen.map((placed) => [placed.task, placed]));
  const tasks = problem.tasks.map((task): Task => {
    const progress = progressOf(places.get(task.id), facts.frame.now);
    return progress ? { ...task, pinned: null, release: null, progress } : task;
  });
  return ok({ week: { problem: { ...problem, tasks }, tasks: meanings }, seen: seen.length > 0 ? seen : null });
}

function progressOf(placed: Placed | undefined, now: number): Progress | null {
  if (!placed || placed.start >= now) return null;
  if (placed.out <= now) return { state: 'finished', start: placed.start, end: placed.end };
  return { state: 'started', start: placed.start, left: Math.max(0, placed.end - now) };
}

/** What the task has of each thing it asks, as the kept row names it. */
function usesOf(problem: Problem, task: Task, row: KeptTask): readonly Demand[] {
  const left = [...row.tools];
  return task.demands.map(({ resource, amount }) => {
    const members = problem.pools.find(({ id }) => id === resource)?.members ?? [resource];
    const at = left.findIndex((id) => members.includes(id));
    const [member] = at < 0 ? [] : left.splice(at, 1);
    return { resource: member ?? resource, amount };
  });
}

/** Keeps a week in one journal entry. */
export function saveWeek(
  store: Workshop,
  facts: CourseFacts,
  { problem, tasks }: CourseWeek,
  plan: Plan,
  kept: Readonly<{ label: string; nowMs: number }>,
): Result<string> {
  const at = (minute: number) => instantOf(facts.origin, minute);
  const people = new Set(facts.confirmed.map(({ id }) => `hands of ${id}`));
  return store.write(kept.label, (change) => {
    const planId = change.insert(planTable, {
      kind: 'course',
      courseId: facts.course.id,
      startsOn: facts.course.startsOn,
      madeAt: kept.nowMs,
      seed: plan.stats.seed,
      quality: { ...qualityOf({ origin: facts.origin, weekEnd: facts.frame.end }, plan, null) },
    });
    for (const [index, meaning] of tasks.entries()) {
      const [placed, task] = [plan.placed[index], problem.tasks[index]];
      if (!placed || !task) continue;
      change.insert(planTask, {
        planId,
        bookId: meaning.copyId,
        personId: meaning.personId,
        operationId: meaning.operationId,
        position: meaning.position,
        label: meaning.label,
        kind: meaning.kind,
        startAt: at(placed.start),
        endAt: at(placed.end),
        heldUntil: meaning.kind === 'pressing' ? at(placed.out) : null,
        tools: placed.uses.map(({ resource }) => resource).filter((id) => !people.has(id)),
        waitsFor: plan.reasons[index]?.sentence ?? '',
        state: 'planned',
        pinnedAt: task.pinned === null ? null : at(placed.start),
      });
    }
    return planId;
  });
}

/** Hand-work and demonstrations that begin at another time than before, by their new time. */
export function movesOf(facts: CourseFacts, kept: readonly KeptTask[], { tasks }: CourseWeek, plan: Plan) {
  const rows = new Map(kept.map((task) => [keyOf(task), task]));
  return tasks
    .flatMap((meaning, index) => {
      const row = rows.get(keyOfMeaning(meaning));
      const placed = plan.placed[index];
      if (!row || !placed || meaning.kind === 'drying' || meaning.kind === 'pressing') return [];
      const to = instantOf(facts.origin, placed.start);
      return row.startAt === to ? [] : [{ meaning, from: row.startAt, to }];
    })
    .toSorted((a, b) => a.to - b.to);
}
