/** The bench week: which books, planned around drying and presses, started and finished at the bench. */
import { eventIterator, type } from '@orpc/contract';
import { z } from 'zod';
import type { Gap } from '../schedule/gap-words.ts';
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
  /** Where a person put it; null where the plan may move it. */
  pinnedAt: number | null;
  /** Out by then in half, and in four fifths, of the simulated weeks; null where not reckoned. */
  p50At: number | null;
  p80At: number | null;
  /** Share of the simulated weeks in which it is out by the week's end; null where not reckoned or not wanted by then. */
  onTime: number | null;
}>;

/** How good the plan is, in the page's words and as figures. */
export type Quality = Gap &
  Readonly<{
    /** UTC milliseconds: when the last book of the plan is out. */
    finishAt: number;
    /** No plan can finish everything before this. */
    boundAt: number;
    /** Share of simulated weeks, durations drawn from their ranges, in which every book is out by the week's end; null where not reckoned. */
    chance: number | null;
    /** From so many simulated weeks; fewer where planning was stopped early. */
    runs: number;
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

/** A hand-step that a new plan begins at another time than the plan that was seen. Instants in UTC milliseconds. */
export type Moved = Readonly<{ bookId: string; book: string; label: string; from: number; to: number }>;

/** The week planned on, and what moved by it. */
export type Replanned = Readonly<{ week: Week; moves: readonly Moved[] }>;

/** What a person changes in a plan; everything else is planned around it. */
const planChange = z.discriminatedUnion('kind', [
  /** The step begins at the nearest time it finds room; `whole` moves its book: from its next step on. */
  z.object({ kind: z.literal('move'), taskId: id, startAt: z.int(), whole: z.boolean() }),
  z.object({ kind: z.literal('pin'), taskId: id }),
  z.object({ kind: z.literal('unpin'), taskId: id }),
  z.object({ kind: z.literal('set aside'), bookId: id }),
  z.object({ kind: z.literal('take up'), bookId: id }),
  /** Nothing but the time has changed. */
  z.object({ kind: z.literal('time') }),
]);
export type PlanChange = z.infer<typeof planChange>;

/** What planning says while it works; the last one is `done`. */
export type Planning =
  | (Gap & Readonly<{ kind: 'progress'; words: string; schedules: number; finishAt: number }>)
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
  /** Plans the rest of the week on from now around one change, keeping the order people have seen unless another wins enough. */
  replan: ask.input(z.object({ startsOn: date, change: planChange })).output(type<Replanned>()),
  /** Starts, pauses or finishes a step; finishing writes the day-book. `minutes` answers a forgotten clock. */
  mark: ask
    .input(
      z.object({
        taskId: id,
        action: z.enum(['start', 'pause', 'finish']),
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
  /** One day's steps in order, with their cautions and a box to tick, and what comes out of the presses. */
  printDay: ask.input(z.object({ startsOn: date, day: date })).output(type<FileAnswer>()),
  printWeek: ask.input(z.object({ startsOn: date })).output(type<FileAnswer>()),
};
