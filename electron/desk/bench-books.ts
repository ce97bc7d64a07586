/** What is left to do on the books of a week, with what is under way, paused and pinned in the plan that holds. */
import { blocks } from '../../core/book/hazards.ts';
import type { Tool } from '../../core/contract/bench.ts';
import { ok, type Result, refuse } from '../../core/result.ts';
import type { BenchBook, Pin, UnderWay } from '../../core/schedule/bench-week.ts';
import { minuteOf } from '../../core/schedule/calendar.ts';
import type { Calendar } from '../../core/schedule/problem.ts';
import type { Step } from '../../core/treatment/treatment.ts';
import { loggedMinutes, type StoredTask } from '../store/bench.ts';
import { agreedTreatment, readSurveyed, type Surveyed } from '../store/books.ts';
import { remainingSteps } from '../store/remaining.ts';
import type { Workshop } from '../store/workshop.ts';
import type { WeekFrame } from './bench-frame.ts';

/** Work that has taken as long as it should is expected to take this much longer. Common practice, no source. */
const leastLeft = 10;

export type Wanted = Readonly<{
  bookIds: readonly string[];
  tools: readonly Tool[];
  /** Rows of the plan that holds that are begun and not finished. */
  underWay: readonly StoredTask[];
  /** Minutes at which a person wants a step to begin, by book and operation. */
  pins: ReadonlyMap<string, ReadonlyMap<string, Pin>>;
  /** Books of which only what is under way is finished. */
  aside: ReadonlySet<string>;
}>;

/** The books as the engine takes them. Refuses books that a hazard keeps off the bench, and nothing to do, in words. */
export function booksToPlan(store: Workshop, frame: WeekFrame, wanted: Wanted): Result<readonly BenchBook[]> {
  const books: BenchBook[] = [];
  for (const one of readSurveyed(store.db, wanted.bookIds)) {
    const { book } = one;
    const stop = blocks(one.hazards, 'plan');
    if (stop) return refuse(`“${book.title}”: ${stop}`, 'bookIds');
    const begun = wanted.underWay.find((task) => task.bookId === book.id);
    const left = stepsFrom(store, one, begun);
    const steps = wanted.aside.has(book.id) ? left.slice(0, begun ? 1 : 0) : left;
    if (steps.length === 0) continue;
    books.push({
      bookId: book.id,
      title: book.title,
      weight: 1,
      steps,
      pins: wanted.pins.get(book.id) ?? new Map(),
      ...(begun?.state === 'started' ? { underWay: underWayOf(begun, steps[0]!, frame, wanted.tools) } : {}),
    });
  }
  if (books.length === 0) return refuse('None of these books has anything left to do.', 'bookIds');
  return ok(books);
}

/** The remaining steps, beginning with the one that is under way, less the minutes it has had already. */
function stepsFrom(store: Workshop, one: Surveyed, begun: StoredTask | undefined): readonly Step[] {
  const remaining = remainingSteps(store.db, one);
  if (!begun) return remaining;
  // Its hand-work is finished while its drying still goes on.
  const whole = begun.kind === 'hands' ? remaining : remainingSteps(store.db, one, { withFinished: true });
  const first = whole.find((step) => step.operationId === begun.operationId);
  if (!first) return remaining;
  const since = agreedTreatment(store.db, one.book.id)?.agreedAt ?? 0;
  const had = begun.kind === 'hands' ? loggedMinutes(store.db, one.book.id, first.operationId, since) : 0;
  return [shortened(first, had), ...remaining.filter((step) => step.operationId !== begun.operationId)];
}

function shortened(step: Step, minutes: number): Step {
  if (minutes === 0) return step;
  const less = (all: number) => Math.max(leastLeft, all - minutes);
  const { low, likely, high } = step.minutes;
  return { ...step, minutes: { low: less(low), likely: less(likely), high: less(high) } };
}

function underWayOf(task: StoredTask, step: Step, frame: WeekFrame, tools: readonly Tool[]): UnderWay {
  const since = minuteOf(frame.origin, task.startedAt ?? task.startAt);
  if (task.kind === 'hands') {
    const left = Math.max(leastLeft, Math.round(step.minutes.likely) - openBetween(frame.hands, since, frame.now));
    return { kind: 'hands', since, left, tool: null };
  }
  const length = Math.round((task.endAt - task.startAt) / 60_000);
  const tool = task.kind === 'pressing' ? (tools.find((one) => task.tools.includes(one.id))?.id ?? null) : null;
  return { kind: task.kind, since, left: Math.max(0, since + length - frame.now), tool };
}

function openBetween(hands: Calendar, from: number, to: number): number {
  return hands.reduce((all, window) => all + Math.max(0, Math.min(to, window.to) - Math.max(from, window.from)), 0);
}
