/** The bench week: which books, planned around drying and presses, started and finished at the bench. */
import { eventIterator, type } from '@orpc/contract';
import { z } from 'zod';
import type { ToolKind } from '../treatment/treatment.ts';
import { toolKinds } from '../treatment/treatment.ts';
import { ask, date, type FileAnswer, id, line } from './ask.ts';

export type Tool = Readonly<{ id: string; kind: ToolKind; name: string; capacity: number; note: string }>;

export const taskStates = ['planned', 'started', 'paused', 'finished', 'set aside'] as const;
export type TaskState = (typeof taskStates)[number];

/** One bar of the week. Instants in UTC milliseconds. */
export type WeekTask = Readonly<{
  id: string;
  bookId: string;
  book: string;
  operationId: string;
  label: string;
  kind: 'hands' | 'drying' | 'pressing';
  startAt: number;
  endAt: number;
  /** When the press or weight is free again; later than the end where it waits for someone to open it. */
  heldUntil: number | null;
  tools: readonly string[];
  waitsFor: string;
  cautions: readonly string[];
  state: TaskState;
  startedAt: number | null;
  finishedAt: number | null;
}>;

/** How good the plan is, in the page's words and as figures. */
export type Quality = Readonly<{
  /** UTC milliseconds: when the last book of the plan is out. */
  finishAt: number;
  /** No plan can finish everything before this. */
  boundAt: number;
  /** At most this share of the plan's measure could still be won; 0 when proven best. */
  gap: number;
  /** What the gap measures: lateness, completion or finish. */
  measure: string;
  /** Share of simulated weeks, durations drawn from their ranges, in which every book is out by the week's end; null where not reckoned. */
  chance: number | null;
  late: number;
  remarks: readonly string[];
}>;

export type Week = Readonly<{
  startsOn: string;
  timeZone: string;
  /** Open bench hours as instants. */
  hours: readonly Readonly<{ from: number; to: number }>[];
  handMinutes: number;
  tools: readonly Tool[];
  plan: Readonly<{ id: string; madeAt: number; quality: Quality; tasks: readonly WeekTask[] }> | null;
}>;

export type Choice = Readonly<{
  handMinutes: number;
  usedMinutes: number;
  chosen: readonly WeekCandidate[];
  missed: readonly (WeekCandidate & Readonly<{ because: string }>)[];
  /** True when no other set of books is worth more within these hours and presses. */
  optimal: boolean;
}>;
export type WeekCandidate = Readonly<{ bookId: string; title: string; reason: string; minutes: number; value: number }>;

/** What planning says while it works; the last one is `done`. */
export type Planning =
  | Readonly<{ kind: 'progress'; words: string; schedules: number; finishAt: number; gap: number }>
  | Readonly<{ kind: 'done'; week: Week }>;

const bookIds = z.array(id).max(200, 'A week of more than 200 books cannot be read; choose fewer.');

export const benchContract = {
  week: ask.input(z.object({ startsOn: date })).output(type<Week>()),
  /** Proposes the set of books worth most within the hours and presses of the week; `keep` are in whatever happens. */
  choose: ask
    .input(
      z.object({ startsOn: date, handMinutes: z.int().min(0).max(10_080).optional(), keep: bookIds, leave: bookIds }),
    )
    .output(type<Choice>()),
  /**
   * Plans the week, saves the plan, and says how far it is while it works. `stop` ends it early and the last piece is the saved best so far;
   * leaving the stream does the same without anyone to hear of it.
   */
  plan: ask
    .input(
      z.object({
        startsOn: date,
        bookIds: bookIds.min(1, 'Choose at least one book.'),
        seconds: z.number().min(0).max(60),
      }),
    )
    .output(eventIterator(type<Planning>())),
  /** Ends the planning that goes on, if any does. */
  stop: ask.output(type<Readonly<{ stopped: boolean }>>()),
  /** Starts, pauses, finishes or sets aside a step; finishing writes the day-book. `minutes` answers a forgotten clock. */
  mark: ask
    .input(
      z.object({
        taskId: id,
        action: z.enum(['start', 'pause', 'finish', 'set aside', 'take up']),
        minutes: z.int().min(0).max(1440).optional(),
      }),
    )
    .output(type<Week>()),
  saveTool: ask
    .input(
      z.object({
        id: id.optional(),
        kind: z.enum(toolKinds),
        name: line.min(1, 'Give the tool a name.'),
        capacity: z.int().min(0, 'Places cannot be negative.').max(50),
        note: line,
      }),
    )
    .output(type<Tool>()),
  removeTool: ask.input(z.object({ id })).output(type<Readonly<{ name: string }>>()),
  printWeek: ask.input(z.object({ startsOn: date })).output(type<FileAnswer>()),
};
