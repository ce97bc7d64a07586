/** Answers about safe keeping: backups, the zip out and in, lists, rescue of a damaged workshop, and what can be printed. */
import { basename, dirname, join, resolve } from 'node:path';
import { getTableName } from 'drizzle-orm';
import { isBackupDue } from '../../core/archive/backups.ts';
import type { Comparison, Packing, SafeKeeping, Sheets, Unpacking, ZipContent } from '../../core/contract/archive.ts';
import type { FileAnswer } from '../../core/contract/ask.ts';
import { ok, type Result, refuse } from '../../core/result.ts';
import type { ArchiveInput } from '../engines/archive-worker.ts';
import { inThread } from '../engines/thread.ts';
import { type Inspected, inspectArchive } from '../files/archive-in.ts';
import type { Packed } from '../files/archive-out.ts';
import { listBackups } from '../store/backups.ts';
import { goBack } from '../store/going-back.ts';
import { readHabits } from '../store/habits.ts';
import { fileVersion, readSteps } from '../store/migrate.ts';
import { lookForRescue, rescueWorkshop } from '../store/rescue.ts';
import { readSheets } from '../store/sheets.ts';
import { journalled } from '../store/tables.ts';
import { sayDiskTrouble } from '../store/trouble.ts';
import { openWorkshop, type Workshop } from '../store/workshop.ts';
import { answer, type Desk, desk, inWorkshop } from './desk.ts';
import { streamed } from './stream.ts';
import { enter, optionsOf, statusOf } from './workshop.ts';

/** The tables a person’s change can touch; whatever else there is follows from them. */
const journalledNames = Object.values(journalled).map((table) => getTableName(table));

const { archive: anywhere } = desk;
const { archive: room } = inWorkshop;

export const archive = {
  state: room.state.handler(({ context }) => stateOf(context.store, context.now())),
  backUpNow: room.backUpNow.handler(async ({ context, errors }) => {
    answer(await backUpNow(context.store, context.now()), errors);
    return stateOf(context.store, context.now());
  }),
  checkBackups: room.checkBackups.handler(({ context }) =>
    inWorker<readonly Readonly<{ name: string; trouble: string | null }>[]>({
      task: 'check',
      folder: context.store.folder,
    }),
  ),
  compare: room.compare.handler(async ({ input, context, errors }) =>
    answer(
      await inWorker<Result<Comparison>>({
        task: 'compare',
        folder: context.store.folder,
        name: input.name,
        tables: journalledNames,
      }),
      errors,
    ),
  ),
  goBack: room.goBack.handler(({ input, context, errors }) => {
    answer(goBackTo(context, context.store, input.name), errors);
    return statusOf(context);
  }),
  pack: room.pack.handler(({ input, context, errors, signal }) =>
    streamed<Packing>(signal, async (say, stop) => {
      const pack = {
        folder: context.store.folder,
        to: resolve(input.to),
        madeBy: `Kettlestitch ${context.version}`,
        now: context.now(),
      };
      const packed = await inWorker<Result<Packed>>({ task: 'pack', input: pack }, stop, (share) =>
        say({ kind: 'progress', share }),
      );
      return { kind: 'done', ...answer(packed, errors) };
    }),
  ),
  lists: room.lists.handler(async ({ context }): Promise<FileAnswer> => {
    const bytes = await inWorker<Uint8Array>({ task: 'lists', folder: context.store.folder });
    const fileName = `${fileStem(context.store, context.now())} lists.zip`;
    return { fileName, mediaType: 'application/zip', base64: Buffer.from(bytes).toString('base64') };
  }),
  inspect: anywhere.inspect.handler(
    async ({ input, errors }): Promise<ZipContent> =>
      answer(await inspectArchive(resolve(input.path), readSteps()), errors),
  ),
  unpack: anywhere.unpack.handler(({ input, context, errors, signal }) =>
    streamed<Unpacking>(signal, async (say, stop) => {
      const unpack = { path: resolve(input.path), folder: resolve(input.folder) };
      const unpacked = await inWorker<Result<Inspected>>({ task: 'unpack', input: unpack }, stop, (share) =>
        say({ kind: 'progress', share }),
      );
      answer(unpacked, errors);
      const status = enter(context, () => openWorkshop(unpack.folder, optionsOf(context)));
      return { kind: 'done', status: answer(status, errors) };
    }),
  ),
  lookForRescue: anywhere.lookForRescue.handler(({ input }) => lookForRescue(resolve(input.folder), readSteps())),
  rescue: anywhere.rescue.handler(({ input, context, errors }) => {
    const folder = resolve(input.folder);
    const aside = answer(rescueWorkshop(folder, readSteps(), context.now()), errors);
    context.log.note(`The damaged workshop in ${folder} was set aside as ${aside}.`);
    return answer(
      enter(context, () => openWorkshop(folder, optionsOf(context))),
      errors,
    );
  }),
  sheets: room.sheets.handler(({ context }): Sheets => readSheets(context.store.db)),
};

function inWorker<T>(asked: ArchiveInput, stop?: AbortSignal, onProgress?: (share: number) => void): Promise<T> {
  return inThread<ArchiveInput, number, T>('archive-worker', asked, {
    signal: stop,
    onStop: 'ask',
    ...(onProgress === undefined ? {} : { onProgress }),
  });
}

function stateOf(store: Workshop, now: number): SafeKeeping {
  const { folder } = store;
  const backups = listBackups(folder).map(({ name, takenAt, kind, bytes }) => ({ name, takenAt, kind, bytes }));
  return {
    folder,
    backups,
    suggestedZip: join(dirname(folder), `${fileStem(store, now)}.zip`),
    suggestedFolder: join(dirname(folder), `${basename(folder)} from a zip`),
  };
}

/** The workshop’s name and the day, as every system takes for a file’s name. */
function fileStem(store: Workshop, now: number): string {
  const { name, timeZone } = readHabits(store.db).habits;
  const day = new Intl.DateTimeFormat('en-CA', { timeZone, dateStyle: 'short' }).format(now);
  const plain = name
    .replace(/[^\p{L}\p{N} .,'’-]+/gu, ' ')
    .replace(/\s+/g, ' ')
    .trim()
    .slice(0, 60);
  return `${plain || 'Workshop'} ${day}`;
}

async function backUpNow(store: Workshop, now: number): Promise<Result<string>> {
  try {
    return await inWorker<Result<string>>({
      task: 'back up',
      folder: store.folder,
      version: fileVersion(store.raw),
      now,
    });
  } catch (error) {
    const refusal = sayDiskTrouble(error);
    return refusal === null ? Promise.reject(error) : refuse(`No backup was made. ${refusal.sentence}`);
  }
}

/** Closes the workshop, puts the backup in its place and opens it; where that is refused, the workshop as it was is opened again. */
function goBackTo(context: Desk, store: Workshop, name: string): Result<void> {
  store.close();
  const went = goBack(store.folder, name, readSteps(), context.now());
  const opened = openWorkshop(store.folder, optionsOf(context));
  context.place.workshop = opened.ok ? opened.value : null;
  if (!went.ok) return went;
  return opened.ok ? ok(undefined) : opened;
}

/** How often it is looked whether a copy is due. Common practice, no source. */
const lookEveryMs = 5 * 60_000;

/**
 * Copies the open workshop every hour in which something was changed, away from the writer. What the disk refuses is noted and tried again
 * next time. It keeps no program from ending.
 */
export function keepBackups(context: Desk): void {
  let copiedAt: Readonly<{ folder: string; change: number }> | null = null;
  let busy = false;
  async function look(): Promise<void> {
    const store = context.place.workshop;
    if (store === null || busy) return;
    busy = true;
    try {
      const change = store.raw.prepare('SELECT coalesce(max(seq), 0) FROM journal').pluck().get() as number;
      const unchanged = copiedAt?.folder === store.folder && copiedAt.change === change;
      if (unchanged || !isBackupDue(listBackups(store.folder), context.now())) return;
      const made = await backUpNow(store, context.now());
      if (made.ok) copiedAt = { folder: store.folder, change };
      else context.log.note(made.refusal.sentence);
    } catch (error) {
      context.log.defect(error, 'the hourly backup');
    } finally {
      busy = false;
    }
  }
  setInterval(() => void look(), lookEveryMs).unref();
}
