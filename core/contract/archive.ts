/** Safe keeping: backups and going back to one, the whole workshop as a zip and back out of it, lists to take away, and what can be printed. */
import { eventIterator, type } from '@orpc/contract';
import { z } from 'zod';
import type { BackupKind } from '../archive/backups.ts';
import { ask, type FileAnswer } from './ask.ts';
import type { WorkshopStatus } from './workshop.ts';

export type BackupLine = Readonly<{ name: string; takenAt: number; kind: BackupKind; bytes: number }>;

export type SafeKeeping = Readonly<{
  folder: string;
  /** Newest first. Each was opened and found whole when it was made. */
  backups: readonly BackupLine[];
  /** Where a zip would be put. */
  suggestedZip: string;
  /** Where a workshop out of a zip would be put. */
  suggestedFolder: string;
}>;

type Named = Readonly<{ total: number; titles: readonly string[] }>;

/** What going back to a backup would change, seen from now: rows that come back, that go, that change. */
export type Comparison = Readonly<{
  name: string;
  takenAt: number;
  tables: readonly Readonly<{ table: string; back: number; gone: number; changed: number }>[];
  books: Readonly<{ back: Named; gone: Named; changed: Named }>;
  /** Photographs the backup tells of whose files are no longer in the folder. */
  missingPhotographs: number;
}>;

/** `share` is how far it is, from 0 to 1. */
export type Packing =
  | Readonly<{ kind: 'progress'; share: number }>
  | Readonly<{ kind: 'done'; path: string; bytes: number; photographs: number; remarks: readonly string[] }>;

export type ZipContent = Readonly<{
  workshop: string;
  madeAt: number;
  madeBy: string;
  books: number;
  photographs: number;
  /** Size when unpacked. */
  bytes: number;
}>;

export type Unpacking =
  | Readonly<{ kind: 'progress'; share: number }>
  | Readonly<{ kind: 'done'; status: WorkshopStatus }>;

/** What can be made of a damaged workshop: the backup it would start from (null where none is sound), and the later changes made again. */
export type Rescue = Readonly<{
  takenAt: number | null;
  redone: readonly string[];
  /** What ends the changes that can be made again; null where all of them can. */
  lost: string | null;
}>;

/** Choices of the sheets that can be printed. */
export type Sheets = Readonly<{
  weeks: readonly Readonly<{ startsOn: string; days: readonly string[] }>[];
  courses: readonly Readonly<{ id: string; title: string; startsOn: string }>[];
  books: readonly Readonly<{ id: string; title: string }>[];
  hasSample: boolean;
}>;

const path = z.string().min(1, 'Say where.').max(4096);
const name = z.string().min(1).max(200);

export const archiveContract = {
  state: ask.output(type<SafeKeeping>()),
  backUpNow: ask.output(type<SafeKeeping>()),
  /** Opens every backup and goes through all of it; says of each what is wrong, null where it is whole. */
  checkBackups: ask.output(type<readonly Readonly<{ name: string; trouble: string | null }>[]>()),
  compare: ask.input(z.object({ name })).output(type<Comparison>()),
  /** Keeps the present state as a backup of its own, then puts this one in its place. */
  goBack: ask.input(z.object({ name })).output(type<WorkshopStatus>()),
  pack: ask.input(z.object({ to: path })).output(eventIterator(type<Packing>())),
  /** Every table as CSV, in one zip. */
  lists: ask.output(type<FileAnswer>()),
  inspect: ask.input(z.object({ path })).output(type<ZipContent>()),
  /** Unpacks into a new folder and opens it. */
  unpack: ask.input(z.object({ path, folder: path })).output(eventIterator(type<Unpacking>())),
  /** Null where the workshop in the folder is not damaged. */
  lookForRescue: ask.input(z.object({ folder: path })).output(type<Rescue | null>()),
  rescue: ask.input(z.object({ folder: path })).output(type<WorkshopStatus>()),
  sheets: ask.output(type<Sheets>()),
};
