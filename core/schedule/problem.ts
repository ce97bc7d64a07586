/**
 * A scheduling problem and its answer as plain data: tasks that need hands, tools and press places, in calendars with nights and
 * breaks, with drying between them. The bench week and a course week are both written this way. With every calendar open, no lags
 * and no weights it is the resource-constrained project scheduling problem of the literature (Kolisch & Sprecher 1997).
 *
 * Every time is a whole number of minutes after the plan's origin; every duration a whole number of minutes. Times before the
 * origin are negative and allowed.
 */

/** An open stretch of time: minutes from `from` up to, not including, `to`. */
export type Span = Readonly<{ from: number; to: number }>;

/** Open windows, sorted, disjoint, none empty. Outside them nothing that follows this calendar goes on. */
export type Calendar = readonly Span[];

export const resourceKinds = ['hands', 'press', 'tool', 'place'] as const;
/**
 * What a resource is, for behaviour in breaks and for the words of an explanation. `hands` (a person, a tutor's attention) are let
 * go while a breakable task pauses; a press, tool or place stays taken until the task is over.
 */
export type ResourceKind = (typeof resourceKinds)[number];

/** Something only so many tasks can use at once. */
export type Resource = Readonly<{
  id: string;
  /** As a sentence can use it: "nipping press", "Anna". */
  label: string;
  kind: ResourceKind;
  /** Whole units available from the beginning of time: 1 for a person, the number of places for a press. */
  capacity: number;
  /** From minute `at` on, the capacity is this instead; sorted by `at`. Zero means away or out of order. */
  changes?: readonly Readonly<{ at: number; capacity: number }>[];
}>;

/** Interchangeable resources: a demand on the pool is met by any one member, which then carries the whole amount. */
export type Pool = Readonly<{ id: string; label: string; members: readonly string[] }>;

/** So many units of a resource, or of any one member of a pool (`resource` may name either). */
export type Demand = Readonly<{ resource: string; amount: number }>;

/**
 * This task starts at least `minLag` minutes after the other is out (see `Placed.out`), and, where `maxLag` is given, at most
 * `maxLag` minutes after. `minLag` may be negative (an overlap); `maxLag` 0 with `minLag` 0 means at once.
 */
export type After = Readonly<{ task: string; minLag: number; maxLag?: number }>;

/** How far a task has come: at work with minutes left as of the problem's `now`, or over. Such tasks are never moved. */
export type Progress =
  | Readonly<{ state: 'started'; start: number; left: number }>
  | Readonly<{ state: 'finished'; start: number; end: number }>;

export type Task = Readonly<{
  id: string;
  /** As a sentence can use it: "pasting down, Hymns 1871". */
  label: string;
  /** Planned minutes of work, or of drying; 0 for a milestone. */
  minutes: number;
  /** Low, likely, high minutes, for the chance that the plan holds; the plan itself uses `minutes`. */
  range?: Readonly<{ low: number; likely: number; high: number }>;
  /** Name of a calendar in the problem, or null for what goes on day and night, such as drying. */
  calendar: string | null;
  /** A whole task fits inside one window of its calendar; a breakable one pauses where the calendar closes. */
  shape: 'whole' | 'breakable';
  demands: readonly Demand[];
  /**
   * Pressing and drying under weight: the calendar in which somebody is there. The task can only be put in while that calendar is
   * open or at the minute it closes, and keeps all that it demands until the first open minute at or after its end. Null: let go at its end.
   */
  heldUntil: string | null;
  after: readonly After[];
  /** Not before this minute. Null: any time from the problem's `now`. */
  release: number | null;
  /** Wanted out by this minute; being later counts as lateness times weight. Null: whenever. */
  due: number | null;
  /** Importance per minute of lateness and of completion; 0 for all but what a person waits for, usually a book's last step. */
  weight: number;
  /** Starts at exactly this minute, as a person has decided; later only where begun work it follows runs late. Null: free. */
  pinned: number | null;
  progress: Progress | null;
}>;

export type Problem = Readonly<{
  /** Nothing that has not started may start before this minute. */
  now: number;
  calendars: Readonly<Record<string, Calendar>>;
  resources: readonly Resource[];
  pools: readonly Pool[];
  tasks: readonly Task[];
}>;

/** Where a task went. */
export type Placed = Readonly<{
  task: string;
  start: number;
  /** The minute after its last minute of work or drying. */
  end: number;
  /** When what follows may begin: taken out of the press for a held task, otherwise the same as `end`. */
  out: number;
  /** The stretches in which it is worked at; more than one only for a breakable task that pauses. */
  pieces: readonly Span[];
  /** What it occupies, with pools resolved to the member that was chosen. */
  uses: readonly Demand[];
}>;

/** Compared in this order, less is better. All in minutes; the first two are multiplied by weights and summed. */
export type Objective = Readonly<{
  /** Sum of weight × minutes out after due. */
  lateness: number;
  /** Sum of weight × minutes out after `now`; what is over by `now` counts nothing. */
  completion: number;
  /** The last minute anything is out. */
  finish: number;
}>;

export const waitKinds = [
  'nothing',
  'pinned',
  'started',
  'release',
  'drying',
  'task',
  'press',
  'hands',
  'tool',
  'place',
  'hours',
  'order',
] as const;
/** What a task waits for; `order` when it could go earlier but the plan sets it aside for others or keeps it beside a later step. */
export type WaitKind = (typeof waitKinds)[number];

/** Why a task does not start earlier. */
export type Reason = Readonly<{
  task: string;
  waitsFor: WaitKind;
  /** The task waited for, or the one that has the resource until then. */
  blocker: string | null;
  resource: string | null;
  /** "Waits for the nipping press until …" without the time, which the page writes in its own way. */
  sentence: string;
}>;

export type Plan = Readonly<{
  /** One per task, in the order of the problem's tasks. */
  placed: readonly Placed[];
  objective: Objective;
  /** No plan can be better than this, part by part. */
  bound: Objective;
  /** How much better another plan could be at most, as a fraction of this plan's first part that is not proven best; 0 when proven best. */
  gap: number;
  /** One per task, in the order of the problem's tasks. */
  reasons: readonly Reason[];
  stats: Readonly<{ schedules: number; seed: number }>;
  remarks: readonly string[];
}>;

/** Something a plan breaks; an answer of the engine never has one. */
export type Violation = Readonly<{ task: string; sentence: string }>;

/** When things will be out under uncertain durations, in minutes after the origin. */
export type Risk = Readonly<{
  runs: number;
  /** One per task, in the order of the problem's tasks; `onTime` is the share of runs out by its due time, 1 where it has none. */
  tasks: readonly Readonly<{ task: string; p50: number; p80: number; onTime: number }>[];
  finish: Readonly<{ p50: number; p80: number }>;
  /** Share of runs in which every due time is met. */
  allOnTime: number;
}>;

/** What re-planning changed, against the plan people have seen. */
export type Move = Readonly<{ task: string; from: number; to: number }>;
