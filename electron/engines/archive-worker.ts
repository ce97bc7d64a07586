/** Packing and unpacking a workshop in a thread of its own: pressing and hashing take long, and the page must go on being answered. */
import { type UnpackInput, unpackArchive } from '../files/archive-in.ts';
import { type PackInput, packWorkshop } from '../files/archive-out.ts';
import { readSteps } from '../store/migrate.ts';
import { answerThread } from './thread.ts';

export type ArchiveInput = Readonly<{ pack: PackInput }> | Readonly<{ unpack: UnpackInput }>;

/** Says the share done, about a hundred times in all. */
await answerThread<ArchiveInput, number, unknown>((input, say, shouldStop) => {
  let said = -1;
  const sparingly = (share: number) => {
    if (Math.floor(share * 100) === said) return;
    said = Math.floor(share * 100);
    say(share);
  };
  if ('pack' in input) return packWorkshop(input.pack, sparingly, shouldStop);
  return unpackArchive(input.unpack, readSteps(), sparingly, shouldStop);
});
