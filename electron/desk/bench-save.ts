/** A plan as it is kept: every step where it goes, how sure that is, and what was begun, finished, paused or set aside before. */
import type { Quality } from '../../core/contract/bench.ts';
import type { Result } from '../../core/result.ts';
import type { BenchWeek } from '../../core/schedule/bench-week.ts';
import { instantOf } from '../../core/schedule/calendar.ts';
import { shortOf } from '../../core/schedule/objective.ts';
import type { Plan, Risk } from '../../core/schedule/problem.ts';
import type { StoredTask } from '../store/bench.ts';
import { plan as planTable, planTask } from '../store/schema.ts';
import type { Workshop } from '../store/workshop.ts';
import type { WeekFrame } from './bench-frame.ts';

export type Kept = Readonly<{
  /** As undo shows it. */
  label: string;
  nowMs: number;
  /** Rows of the plan before. */
  before: readonly StoredTask[];
  /** Books whose steps are shown but not planned. */
  aside: ReadonlySet<string>;
}>;

/** One book's step or wait is the same in every plan that holds it. */
export function keyOf(task: Readonly<{ bookId: string; operationId: string; kind: string }>): string {
  return `${task.kind === 'hands' ? 'hands' : 'wait'} ${task.operationId} ${task.bookId}`;
}

/** Saves the plan in one journal entry. */
export function savePlan(
  store: Workshop,
  frame: WeekFrame,
  week: BenchWeek,
  { plan, risk }: Readonly<{ plan: Plan; risk: Risk | null }>,
  kept: Kept,
): Result<string> {
  const at = (minute: number) => instantOf(frame.origin, minute);
  const planned = new Set(week.tasks.map(keyOf));
  const begun = kept.before.filter((task) => task.state === 'started' || task.state === 'paused');
  const paused = new Set(begun.filter((task) => task.state === 'paused').map(keyOf));
  const finished = kept.before.filter((task) => task.state === 'finished' && !planned.has(keyOf(task)));
  const aside = kept.before.filter(
    (task) =>
      kept.aside.has(task.bookId) &&
      (task.state === 'planned' || task.state === 'set aside') &&
      !planned.has(keyOf(task)),
  );
  const firstFree = new Map<string, number>();
  for (const { bookId, position } of finished)
    firstFree.set(bookId, Math.max(firstFree.get(bookId) ?? 0, position + 1));

  return store.write(kept.label, (change) => {
    const planId = change.insert(planTable, {
      kind: 'week',
      startsOn: frame.startsOn,
      madeAt: kept.nowMs,
      seed: plan.stats.seed,
      quality: { ...qualityOf(frame, plan, risk) },
    });
    // What was under way goes on in the new plan; in the old one it must not seem to hold a press for ever.
    for (const task of begun) change.update(planTask, task.id, { state: 'set aside' });
    for (const { id, planId: _, title, ...task } of finished) change.insert(planTask, { ...task, planId });
    for (const { id, planId: _, title, ...task } of aside)
      change.insert(planTask, { ...task, planId, state: 'set aside', pinnedAt: null, p50At: null, p80At: null });
    for (const [index, meaning] of week.tasks.entries()) {
      const placed = plan.placed[index]!;
      const { progress, pinned, due } = week.problem.tasks[index]!;
      const likely = risk?.tasks[index];
      const rest = paused.has(keyOf(meaning)) ? 'paused' : 'planned';
      change.insert(planTask, {
        planId,
        bookId: meaning.bookId,
        operationId: meaning.operationId,
        position: meaning.position + (firstFree.get(meaning.bookId) ?? 0),
        label: meaning.label,
        kind: meaning.kind,
        startAt: at(placed.start),
        endAt: at(placed.end),
        heldUntil: meaning.kind === 'pressing' ? at(placed.out) : null,
        tools: placed.uses.map((use) => use.resource).filter((resource) => resource !== 'hands'),
        waitsFor: plan.reasons[index]?.sentence ?? '',
        state: progress ? 'started' : rest,
        startedAt: progress ? at(placed.start) : null,
        pinnedAt: pinned === null ? null : at(pinned),
        p50At: instantOrNull(frame, likely?.p50),
        p80At: instantOrNull(frame, likely?.p80),
        onTime: due === null ? null : (likely?.onTime ?? null),
      });
    }
    return planId;
  });
}

/** Null where it was not reckoned, or a run found no place for it at all. */
function instantOrNull(frame: WeekFrame, minute: number | undefined): number | null {
  return minute === undefined || !Number.isFinite(minute) ? null : instantOf(frame.origin, minute);
}

export function qualityOf(frame: Pick<WeekFrame, 'origin' | 'weekEnd'>, plan: Plan, risk: Risk | null): Quality {
  const { objective, bound } = plan;
  const { measure, above } = shortOf(objective, bound);
  return {
    finishAt: instantOf(frame.origin, objective.finish),
    boundAt: instantOf(frame.origin, bound.finish),
    gap: plan.gap,
    measure,
    gapMinutes: Math.ceil(above),
    chance: risk?.allOnTime ?? null,
    runs: risk?.runs ?? 0,
    late: plan.placed.filter((placed) => placed.out > frame.weekEnd).length,
    remarks: plan.remarks,
  };
}
