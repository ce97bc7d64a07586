/** One change to a planned week, everything else planned around it, and what moved by it. */
import type { Moved, PlanChange, Replanned } from '../../core/contract/bench.ts';
import { ok, type Result, refuse } from '../../core/result.ts';
import { type BenchWeek, benchWeek, type Pin } from '../../core/schedule/bench-week.ts';
import { instantOf, minuteOf } from '../../core/schedule/calendar.ts';
import type { Placed, Plan } from '../../core/schedule/problem.ts';
import type { PlannerAnswer, PlannerInput } from '../engines/planner-worker.ts';
import { inThread } from '../engines/thread.ts';
import { listTools, type StoredTask } from '../store/bench.ts';
import { planTask } from '../store/schema.ts';
import type { Workshop } from '../store/workshop.ts';
import { booksToPlan } from './bench-books.ts';
import { readWeek, type WeekFrame } from './bench-frame.ts';
import { pinsOf, sameDoings, tasksHolding } from './bench-plan.ts';
import { keyOf, savePlan } from './bench-save.ts';

/** Simulated weeks: the chance within 3 in 100 in a few tenths of a second. */
const riskRuns = 250;

/**
 * Plans the rest of the week on from now around the change and saves it in one journal entry. Refuses in words and changes nothing; told
 * to stop it keeps the best it has.
 */
export async function replanWeek(
  store: Workshop,
  frame: WeekFrame,
  change: PlanChange,
  nowMs: number,
  stop: AbortSignal,
): Promise<Result<Replanned>> {
  const before = tasksHolding(store, frame);
  if (before.length === 0) return refuse('There is no plan for this week yet. Plan it first.', 'startsOn');
  if (frame.now > frame.weekEnd) return refuse('That week is over. Choose this week or a later one.', 'startsOn');
  const asked = changed(before, frame, change);
  if (!asked.ok) return asked;
  const { label, pins, aside, only } = asked.value;
  const underWay = before.filter((task) => task.state === 'started' || task.state === 'paused');
  const open = before.filter(
    (task) =>
      task.state !== 'finished' && (!aside.has(task.bookId) || underWay.some((one) => one.bookId === task.bookId)),
  );
  if (only !== null || open.length === 0) {
    const rows =
      only ?? before.filter((task) => task.state === 'planned').map(({ id }) => ({ id, state: 'set aside' }));
    const kept = store.write(label, (write) => {
      for (const { id, ...patch } of rows) write.update(planTask, id, patch);
    });
    return kept.ok ? ok({ week: readWeek(store, frame), moves: [] }) : kept;
  }

  const tools = listTools(store.db);
  const bookIds = [...new Set(open.map((task) => task.bookId))];
  const books = booksToPlan(store, frame, { bookIds, tools, underWay, pins, aside });
  if (!books.ok) return books;
  const week = benchWeek(books.value, tools, frame.hands, { now: frame.now, weekEnd: frame.weekEnd });
  if (!week.ok) return week;
  const seen = placesSeen(week.value, frame, before);
  const input: PlannerInput = { problem: week.value.problem, seed: 1, seconds: 0, riskRuns, seen };
  const answer = await inThread<PlannerInput, never, PlannerAnswer>('planner-worker', input, {
    signal: stop,
    onStop: 'ask',
  });
  if (!answer.ok) return answer;
  if (!sameDoings(before, tasksHolding(store, frame)))
    return refuse('The bench went on while this was planned. Do it again.');
  const saved = savePlan(store, frame, week.value, answer.value, { label, nowMs, before, aside });
  if (!saved.ok) return saved;
  return ok({ week: readWeek(store, frame), moves: movesOf(week.value, frame, before, answer.value.plan) });
}

type Changed = Readonly<{
  label: string;
  pins: ReadonlyMap<string, ReadonlyMap<string, Pin>>;
  aside: ReadonlySet<string>;
  /** Where nothing moves by it: the rows to change. */
  only: readonly Readonly<{ id: string; pinnedAt?: number; waitsFor?: string }>[] | null;
}>;

function changed(before: readonly StoredTask[], frame: WeekFrame, change: PlanChange): Result<Changed> {
  const pins = pinsOf(before, frame);
  const aside = new Set(before.filter((task) => task.state === 'set aside').map((task) => task.bookId));
  const same = { pins, aside, only: null };
  switch (change.kind) {
    case 'time':
      return ok({ ...same, label: 'Plan the rest of the week anew' });
    case 'set aside':
    case 'take up': {
      const from = change.kind === 'set aside' ? 'planned' : 'set aside';
      const row = before.find((task) => task.bookId === change.bookId && task.state === from);
      if (!row)
        return refuse(`Nothing of this book can be ${change.kind === 'set aside' ? 'set aside' : 'taken up'} now.`);
      if (change.kind === 'set aside') aside.add(change.bookId);
      else aside.delete(change.bookId);
      return ok({ ...same, label: `${change.kind === 'set aside' ? 'Set aside' : 'Take up'} ${row.title}` });
    }
  }
  const task = before.find((one) => one.id === change.taskId);
  if (!task) return refuse('This step is not in the plan any more; the week has been planned anew.', 'taskId');
  const step = change.kind === 'move' && change.whole ? firstOpen(before, task) : handsOf(before, task);
  if (step?.state !== 'planned')
    return refuse(`“${task.label}, ${task.title}” is ${task.state}; only what is still to do can be moved.`, 'taskId');
  const words = `${step.label}, ${step.title}`;
  const ofBook = pins.get(step.bookId) ?? new Map<string, Pin>();
  pins.set(step.bookId, ofBook);
  if (change.kind === 'pin') {
    const only = [{ id: step.id, pinnedAt: step.startAt, waitsFor: 'Is pinned to this time.' }];
    return ok({ ...same, only, label: `Pin ${words}` });
  }
  if (change.kind === 'unpin') {
    ofBook.delete(step.operationId);
    return ok({ ...same, label: `Let go ${words}` });
  }
  const shift = Math.round((change.startAt - task.startAt) / 60_000);
  if (shift === 0) return refuse('It is there already.', 'startAt');
  const was = minuteOf(frame.origin, step.startAt);
  if (was + shift < frame.now && shift < 0 && was <= frame.now) return refuse('That time has gone.', 'startAt');
  if (change.whole) for (const [operation, pin] of ofBook) ofBook.set(operation, { at: pin.at + shift });
  ofBook.set(step.operationId, { at: was + shift, ...(shift > 0 ? { least: was + 1 } : { most: was - 1 }) });
  return ok({ ...same, label: change.whole ? `Move ${step.title}` : `Move ${words}` });
}

/** The hand-work that a wait follows, or the step itself. */
function handsOf(tasks: readonly StoredTask[], task: StoredTask): StoredTask | undefined {
  if (task.kind === 'hands') return task;
  return tasks.find(
    (one) => one.kind === 'hands' && one.bookId === task.bookId && one.operationId === task.operationId,
  );
}

/** The next hand-step of a task's book that is still to do. */
function firstOpen(tasks: readonly StoredTask[], task: StoredTask): StoredTask | undefined {
  return tasks
    .filter((one) => one.bookId === task.bookId && one.kind === 'hands' && one.state === 'planned')
    .toSorted((a, b) => a.position - b.position)[0];
}

/** Where the tasks of the new problem are in the plan people have seen. */
function placesSeen(week: BenchWeek, frame: WeekFrame, before: readonly StoredTask[]): readonly Placed[] {
  const rows = new Map(before.filter((task) => task.state !== 'set aside').map((task) => [keyOf(task), task]));
  return week.tasks.flatMap((meaning): Placed[] => {
    const row = rows.get(keyOf(meaning));
    if (!row) return [];
    const [start, end] = [minuteOf(frame.origin, row.startAt), minuteOf(frame.origin, row.endAt)];
    const hands = row.kind === 'hands' ? [{ resource: 'hands', amount: 1 }] : [];
    return [
      {
        task: meaning.task,
        start,
        end,
        out: row.heldUntil === null ? end : minuteOf(frame.origin, row.heldUntil),
        pieces: [{ from: start, to: end }],
        uses: [...hands, ...row.tools.map((resource) => ({ resource, amount: 1 }))],
      },
    ];
  });
}

/** Hand-steps that begin at another time than before, by their new time. */
function movesOf(week: BenchWeek, frame: WeekFrame, before: readonly StoredTask[], plan: Plan): readonly Moved[] {
  const rows = new Map(before.filter((task) => task.state === 'planned').map((task) => [keyOf(task), task]));
  return week.tasks
    .flatMap((meaning, index): Moved[] => {
      const row = rows.get(keyOf(meaning));
      const to = instantOf(frame.origin, plan.placed[index]!.start);
      if (!row || meaning.kind !== 'hands' || row.startAt === to) return [];
      return [{ bookId: row.bookId, book: row.title, label: row.label, from: row.startAt, to }];
    })
    .toSorted((a, b) => a.to - b.to);
}
