/** The Bench answers: its week, its tools, the clock on each step. */
import { eq } from 'drizzle-orm';
import type { Planning } from '../../core/contract/bench.ts';
import { ok, type Result, refuse } from '../../core/result.ts';
import { instantOf, minuteOf } from '../../core/schedule/calendar.ts';
import { printDay } from '../print/day.ts';
import { printWeek } from '../print/week.ts';
import { listTools, planTasks, type StoredTask, taskById, weekPlan } from '../store/bench.ts';
import { book, entry, plan, planTask, tool } from '../store/schema.ts';
import type { Change, Workshop } from '../store/workshop.ts';
import { chooseBooks } from './bench-choice.ts';
import { readWeek, weekFrame } from './bench-frame.ts';
import { planWeek } from './bench-plan.ts';
import { replanWeek } from './bench-replan.ts';
import { answer, inWorkshop } from './desk.ts';
import { streamed } from './stream.ts';

/** A clock that has run longer than this is asked about, never believed. Common practice, no source. */
const believableMinutes = 240;

const { bench: room } = inWorkshop;

/** Planning that goes on, by workshop, so that it can be told to stop. */
const goingOn = new WeakMap<Workshop, AbortController>();

/** What stops the planning that begins now; what went on before it is told to stop. */
function stopperOf(store: Workshop): AbortController {
  const told = new AbortController();
  goingOn.get(store)?.abort();
  goingOn.set(store, told);
  return told;
}

/** The last change of a plan that goes on, by workshop: each is planned around what the one before it left. */
const lastChange = new WeakMap<Workshop, Promise<unknown>>();

function afterOthers<T>(store: Workshop, work: () => Promise<T>): Promise<T> {
  const done = (lastChange.get(store) ?? Promise.resolve()).then(work, work);
  lastChange.set(store, done);
  return done;
}

export const bench = {
  week: room.week.handler(({ input, context, errors }) => {
    const frame = answer(weekFrame(context.store, input.startsOn, context.now()), errors);
    return readWeek(context.store, frame);
  }),
  choose: room.choose.handler(async ({ input, context, errors }) => {
    const frame = answer(weekFrame(context.store, input.startsOn, context.now()), errors);
    return answer(await chooseBooks(context.store, frame, input), errors);
  }),
  plan: room.plan.handler(({ input, context, errors, signal }) => {
    const frame = answer(weekFrame(context.store, input.startsOn, context.now()), errors);
    return streamed<Planning>(signal, async (say, left) => {
      const told = stopperOf(context.store);
      const stop = AbortSignal.any([left, told.signal]);
      const options = { seconds: input.seconds, nowMs: context.now(), stop, say };
      return answer(await planWeek(context.store, frame, input.bookIds, options), errors);
    });
  }),
  stop: room.stop.handler(({ context }) => {
    const told = goingOn.get(context.store);
    told?.abort();
    return { stopped: told !== undefined };
  }),
  replan: room.replan.handler(({ input, context, errors }) =>
    afterOthers(context.store, async () => {
      const frame = answer(weekFrame(context.store, input.startsOn, context.now()), errors);
      const told = stopperOf(context.store);
      return answer(await replanWeek(context.store, frame, input.change, context.now(), told.signal), errors);
    }),
  ),
  mark: room.mark.handler(({ input, context, errors }) => {
    const startsOn = answer(mark(context.store, input, context.now()), errors);
    return readWeek(context.store, answer(weekFrame(context.store, startsOn, context.now()), errors));
  }),
  saveTool: room.saveTool.handler(({ input, context, errors }) => {
    const { id, ...row } = input;
    const words = id === undefined ? `Add the tool ${row.name}` : `Change the tool ${row.name}`;
    const saved = context.store.write(words, (change) => {
      if (id === undefined) return change.insert(tool, row);
      change.update(tool, id, row);
      return id;
    });
    return { ...row, id: answer(saved, errors) };
  }),
  removeTool: room.removeTool.handler(({ input, context, errors }) => {
    const found = listTools(context.store.db).find((one) => one.id === input.id);
    const name = found?.name ?? 'tool';
    answer(
      context.store.write(`Remove the tool ${name}`, (change) => change.remove(tool, input.id)),
      errors,
    );
    return { name };
  }),
  printDay: room.printDay.handler(async ({ input, context, errors }) => {
    const frame = answer(weekFrame(context.store, input.startsOn, context.now()), errors);
    return answer(await printDay(context.store, readWeek(context.store, frame), input.day), errors);
  }),
  printWeek: room.printWeek.handler(async ({ input, context, errors }) => {
    const frame = answer(weekFrame(context.store, input.startsOn, context.now()), errors);
    return answer(await printWeek(context.store, readWeek(context.store, frame)), errors);
  }),
};

type Mark = Readonly<{
  taskId: string;
  action: 'start' | 'pause' | 'finish';
  minutes?: number | undefined;
}>;

/** Moves one step on and keeps the day-book; answers which week it belongs to. */
function mark(store: Workshop, input: Mark, now: number): Result<string> {
  const task = taskById(store.db, input.taskId);
  if (!task) return refuse('This step is not in the plan any more; the week has been planned anew.', 'taskId');
  const startsOn = store.db.select().from(plan).where(eq(plan.id, task.planId)).get()?.startsOn;
  if (startsOn === undefined) return refuse('This step belongs to no plan.', 'taskId');
  const holding = weekPlan(store.db, startsOn);
  if (holding?.id !== task.planId)
    return refuse('The week has been planned anew since; mark the step in the new plan.', 'taskId');

  const marked = markTask(store, task, startsOn, input, now);
  return marked.ok ? ok(startsOn) : marked;
}

function markTask(store: Workshop, task: StoredTask, startsOn: string, input: Mark, now: number): Result<unknown> {
  const words = `${task.label}, ${task.title}`;
  const siblings = planTasks(store.db, task.planId).filter((other) => other.bookId === task.bookId);
  switch (input.action) {
    case 'start': {
      if (task.state !== 'planned' && task.state !== 'paused')
        return refuse(`“${words}” is ${task.state} already.`, 'action');
      const first = siblings.find(
        (other) => other.position < task.position && other.state !== 'finished' && other.state !== 'set aside',
      );
      if (first) {
        const still = first.kind === 'hands' || first.state === 'planned' ? 'is not finished' : 'is not out yet';
        return refuse(`“${first.label}” comes before it and ${still}.`, 'action');
      }
      // One pair of hands: what they leave is paused, with its minutes.
      const left = task.kind === 'hands' ? atWork(planTasks(store.db, task.planId)) : undefined;
      const had = left ? clockOf(left, undefined, now) : ok(0);
      if (!had.ok) {
        return refuse(
          `“${left?.label}, ${left?.title}” has been under way for long. Finish or pause it first.`,
          'action',
        );
      }
      return store.write(`Start ${words}`, (change) => {
        if (left) {
          change.update(planTask, left.id, { state: 'paused', startedAt: null });
          logMinutes(change, left, had.value, now);
        }
        change.update(planTask, task.id, { state: 'started', startedAt: now });
        change.update(book, task.bookId, { stage: task.kind === 'pressing' ? 'pressing' : 'in hand' });
      });
    }
    case 'pause':
    case 'finish': {
      if (task.state !== 'started' && !(input.action === 'finish' && task.state === 'paused')) {
        return refuse(`“${words}” has not been started.`, 'action');
      }
      const clock = task.kind === 'hands' ? clockOf(task, input.minutes, now) : ok(null);
      if (!clock.ok) return clock;
      const finished = input.action === 'finish';
      return store.write(`${finished ? 'Finish' : 'Pause'} ${words}`, (change) => {
        change.update(
          planTask,
          task.id,
          finished ? { state: 'finished', finishedAt: now } : { state: 'paused', startedAt: null },
        );
        logMinutes(change, task, clock.value ?? 0, now);
        if (finished) moveOn(change, task, siblings, now, whenAttended(store, startsOn, now));
      });
    }
  }
}

function atWork(tasks: readonly StoredTask[]): StoredTask | undefined {
  return tasks.find((task) => task.kind === 'hands' && task.state === 'started');
}

function logMinutes(change: Change, { bookId, operationId }: StoredTask, minutes: number, at: number): void {
  if (minutes > 0) change.insert(entry, { at, bookId, operationId, minutes, note: '' });
}

/** Minutes the clock stands at. One that ran too long to be true is asked about. */
function clockOf(task: StoredTask, given: number | undefined, now: number): Result<number> {
  if (given !== undefined) return ok(given);
  if (task.startedAt === null) return ok(0);
  const minutes = Math.max(0, Math.round((now - task.startedAt) / 60_000));
  if (minutes <= believableMinutes) return ok(minutes);
  const hours = Math.floor(minutes / 60);
  return refuse(
    `The clock on “${task.label}” has run for ${hours} hours. How many minutes did it really take?`,
    'minutes',
  );
}

/** After hand-work the paste dries from now on; after the last step the book is done. */
function moveOn(
  change: Change,
  task: StoredTask,
  siblings: readonly StoredTask[],
  now: number,
  attended: (instant: number) => number,
): void {
  const next = siblings.filter((other) => other.position > task.position).sort((a, b) => a.position - b.position)[0];
  if (next && task.kind === 'hands' && next.kind !== 'hands' && next.operationId === task.operationId) {
    const endAt = now + (next.endAt - next.startAt);
    change.update(planTask, next.id, {
      state: 'started',
      startedAt: now,
      startAt: now,
      endAt,
      heldUntil: next.heldUntil === null ? null : attended(endAt),
    });
    change.update(book, task.bookId, { stage: next.kind === 'pressing' ? 'pressing' : 'in hand' });
    return;
  }
  change.update(book, task.bookId, { stage: next ? 'in hand' : 'done' });
}

/** From an instant on, the first at which somebody is there to open a press, by the hours of the week the plan is for. */
function whenAttended(store: Workshop, startsOn: string, now: number): (instant: number) => number {
  const frame = weekFrame(store, startsOn, now);
  if (!frame.ok) return (instant) => instant;
  const { origin, hands } = frame.value;
  return (instant) => {
    const minute = minuteOf(origin, instant);
    const window = hands.find(({ to }) => to >= minute);
    return window === undefined || window.from <= minute ? instant : instantOf(origin, window.from);
  };
}
