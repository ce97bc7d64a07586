/** The workshop itself: opening a folder, its habits, undo and redo, the press line, and finding anything. */
import { type } from '@orpc/contract';
import { z } from 'zod';
import { ask, date, line } from './ask.ts';

export type WorkshopStatus = Readonly<{
  shell: 'desktop' | 'browser';
  version: string;
  /** Null while no workshop is open. */
  open: Readonly<{ folder: string; name: string; isDemo: boolean; books: number; habits: Habits }> | null;
  /** Folder offered for a new workshop, and the one the demo would be made in. */
  suggestedFolder: string;
  /** What could not be opened at the start, and why; null where nothing was asked for or it is open. */
  notOpened: Readonly<{ folder: string; sentence: string }> | null;
  undo: string | null;
  redo: string | null;
}>;

/** How this workshop works: hours, units, money, and what makes a book urgent here. */
export const habitsShape = z.object({
  name: line.min(1, 'Give the workshop a name.'),
  timeZone: z.string(),
  currency: z.string().regex(/^[A-Z]{3}$/, 'Use a three-letter currency code such as EUR.'),
  units: z.enum(['mm', 'in']),
  /** Seven lists of [from, to] minutes after midnight, Monday first. */
  weekHours: z.array(z.array(z.tuple([z.int().min(0).max(1440), z.int().min(0).max(1440)]))).length(7),
  daysOff: z.array(date),
  weights: z.record(z.string(), z.number().min(0).max(10)),
  hourlyRateMinor: z.int().min(0),
  /** Paper of everything printed. */
  paper: z.enum(['A4', 'LETTER']),
  /** Lines under the name at the head of everything printed. */
  heading: z
    .string()
    .max(400, 'A heading of more than 400 characters leaves no room for the sheet.')
    .refine((text) => text.split('\n').length <= 6, 'Six lines are as many as fit above a sheet.'),
});
export type Habits = Readonly<z.infer<typeof habitsShape>>;

/** One line of the journal as people read it. */
export type HistoryLine = Readonly<{ seq: number; at: number; label: string; kind: 'do' | 'undo' | 'redo' }>;

/** What a press or weight holds now, or the next thing it will hold. */
export type PressLine = Readonly<{
  tool: string;
  book: string;
  bookId: string;
  inSince: number;
  dueAt: number;
  /** The step whose end takes it out; null while it is only planned to be there. */
  taskId: string | null;
}>;

export type Found = Readonly<{
  kind: 'book' | 'material' | 'person' | 'course';
  id: string;
  title: string;
  detail: string;
}>;

export const workshopContract = {
  status: ask.output(type<WorkshopStatus>()),
  create: ask
    .input(z.object({ folder: z.string().min(1, 'Say which folder.'), name: line.min(1, 'Give the workshop a name.') }))
    .output(type<WorkshopStatus>()),
  open: ask.input(z.object({ folder: z.string().min(1, 'Say which folder.') })).output(type<WorkshopStatus>()),
  /** Makes the invented demo workshop in its suggested folder, or opens it where it already is. */
  openDemo: ask.output(type<WorkshopStatus>()),
  setHabits: ask.input(habitsShape.partial()).output(type<WorkshopStatus>()),
  undo: ask.output(type<Readonly<{ label: string }>>()),
  redo: ask.output(type<Readonly<{ label: string }>>()),
  history: ask.input(z.object({ limit: z.int().min(1).max(500) })).output(type<readonly HistoryLine[]>()),
  presses: ask.output(type<readonly PressLine[]>()),
  find: ask.input(z.object({ words: z.string().max(200) })).output(type<readonly Found[]>()),
};
