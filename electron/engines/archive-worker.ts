/** Safe keeping in a thread of its own: copying, checking, pressing and hashing take long, and the page must go on being answered. */
import { type UnpackInput, unpackArchive } from '../files/archive-in.ts';
import { type PackInput, packLists, packWorkshop } from '../files/archive-out.ts';
import { backUpOpen, checkBackup, listBackups } from '../store/backups.ts';
import { compareBackup } from '../store/going-back.ts';
import { readSteps } from '../store/migrate.ts';
import { answerThread } from './thread.ts';

export type ArchiveInput =
  | Readonly<{ task: 'pack'; input: PackInput }>
  | Readonly<{ task: 'unpack'; input: UnpackInput }>
  | Readonly<{ task: 'lists'; folder: string }>
  | Readonly<{ task: 'back up'; folder: string; version: number; now: number }>
  | Readonly<{ task: 'check'; folder: string }>
  | Readonly<{ task: 'compare'; folder: string; name: string; tables: readonly string[] }>;

/** Says the share done, about a hundred times in all. */
await answerThread<ArchiveInput, number, unknown>((asked, say, shouldStop) => {
  let said = -1;
  const sparingly = (share: number) => {
    if (Math.floor(share * 100) === said) return;
    said = Math.floor(share * 100);
    say(share);
  };
  switch (asked.task) {
    case 'pack':
      return packWorkshop(asked.input, sparingly, shouldStop);
    case 'unpack':
      return unpackArchive(asked.input, readSteps(), sparingly, shouldStop);
    case 'lists':
      return packLists(asked.folder);
    case 'back up':
      return backUpOpen(asked.folder, asked.version, asked.now);
    case 'check':
      return listBackups(asked.folder).map((backup) => ({
        name: backup.name,
        trouble: checkBackup(asked.folder, backup),
      }));
    case 'compare':
      return compareBackup(asked.folder, asked.name, readSteps(), asked.tables);
  }
});
