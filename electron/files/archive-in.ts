/**
 * A workshop back out of its zip. A zip comes from anywhere, so nothing in it is believed: every name must be one this program writes,
 * every size is bounded before anything is unpacked, the database must have the very tables of its version, and every photograph must be
 * what its name says. All is unpacked beside its place, and takes its name only when all of it is sound.
 */
import { createHash } from 'node:crypto';
import {
  createWriteStream,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  renameSync,
  rmdirSync,
  rmSync,
  statfsSync,
  statSync,
} from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { Transform } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import Database from 'better-sqlite3';
import { type Entry, openPromise, type ZipFile } from 'yauzl';
import { ok, type Result, refuse } from '../../core/result.ts';
import type { Step } from '../store/migrate.ts';
import { Refused, sayDiskTrouble } from '../store/trouble.ts';
import { tablesOf } from './archive-out.ts';
import {
  archiveForm,
  belongs,
  databaseName,
  type Manifest,
  manifestName,
  manifestShape,
  photographName,
} from './archive-shape.ts';
import { checkDatabase } from './database-check.ts';

export type Inspected = Readonly<{
  workshop: string;
  madeAt: number;
  madeBy: string;
  books: number;
  photographs: number;
  /** Size when unpacked. */
  bytes: number;
}>;

/** Bounds of what one person’s workshop can be. Common practice, no source. */
const limits = {
  entries: 60_000,
  databaseBytes: 4 * 1024 ** 3,
  photographBytes: 200 * 1024 ** 2,
  otherBytes: 16 * 1024 ** 3,
  manifestBytes: 1024 ** 2,
  totalBytes: 200 * 1024 ** 3,
  /** Text and databases shrink to a fortieth at the most as measured on the demo; deflate itself can reach a thousandth. */
  ratio: 200,
  ratioFromBytes: 4 * 1024 ** 2,
} as const;

/** What a zip says it holds, after all that can be checked without unpacking it. Nothing is written. */
export async function inspectArchive(path: string, steps: readonly Step[]): Promise<Result<Inspected>> {
  return reading(path, async (zip, size) => {
    const { entries, manifest } = await survey(zip, size, steps);
    const bytes = entries.reduce((sum, entry) => sum + entry.uncompressedSize, 0);
    const { workshop, madeAt, madeBy, photographs, tables } = manifest;
    return { workshop, madeAt, madeBy, photographs, books: tables.book ?? 0, bytes };
  });
}

export type UnpackInput = Readonly<{ path: string; folder: string }>;

/** Unpacks a zip into `folder`, which must not exist or be empty. `say` is told the share done. Whatever stops it, nothing is left behind. */
export async function unpackArchive(
  { path, folder }: UnpackInput,
  steps: readonly Step[],
  say: (share: number) => void,
  shouldStop: () => boolean,
): Promise<Result<Inspected>> {
  if (existsSync(folder) && (!statSync(folder).isDirectory() || readdirSync(folder).length > 0)) {
    return refuse(
      `${folder} is there already and holds something. A zip is unpacked into a new folder, never over one.`,
      'folder',
    );
  }
  if (!existsSync(dirname(folder))) return refuse(`There is no folder ${dirname(folder)}.`, 'folder');
  return reading(path, async (zip, size) => {
    const { entries, manifest } = await survey(zip, size, steps);
    const wanted = entries.filter(({ fileName }) => fileName === databaseName || photographName.test(fileName));
    const bytes = wanted.reduce((sum, entry) => sum + entry.uncompressedSize, 0);
    const { bavail, bsize } = statfsSync(dirname(folder));
    if (bavail * bsize < bytes * 1.05)
      refused('There is not enough room on this disk for what the zip holds.', 'folder');
    const staging = mkdtempSync(join(dirname(folder), `.${basename(folder)}-unpacking-`));
    try {
      let done = 0;
      for (const entry of wanted) {
        const hash = await unpackOne(zip, entry, join(staging, entry.fileName), (more) => {
          if (shouldStop()) refused('Stopped.');
          done += more;
          say(Math.min(0.99, done / bytes));
        });
        const expected = photographName.exec(entry.fileName)?.[2] ?? manifest.databaseSha256;
        if (hash !== expected) {
          refused(
            entry.fileName === databaseName
              ? 'The database in the zip is not the one that was packed.'
              : `The photograph ${basename(entry.fileName)} in the zip is not what its name says.`,
          );
        }
      }
      checkUnpacked(join(staging, databaseName), manifest, steps);
      mkdirSync(join(staging, 'photographs'), { recursive: true });
      mkdirSync(join(staging, 'backups'));
      if (existsSync(folder)) rmdirSync(folder);
      renameSync(staging, folder);
    } finally {
      rmSync(staging, { recursive: true, force: true });
    }
    const { workshop, madeAt, madeBy, photographs, tables } = manifest;
    return { workshop, madeAt, madeBy, photographs, books: tables.book ?? 0, bytes };
  });
}

async function reading<T>(path: string, work: (zip: ZipFile, size: number) => Promise<T>): Promise<Result<T>> {
  if (!existsSync(path)) return refuse(`There is no file ${path}.`, 'path');
  if (!statSync(path).isFile()) return refuse(`${path} is no file.`, 'path');
  let zip: ZipFile | null = null;
  try {
    zip = await openPromise(path, { autoClose: false, strictFileNames: true });
    return ok(await work(zip, statSync(path).size));
  } catch (error) {
    if (error instanceof Refused) return { ok: false, refusal: error.refusal };
    const disk = sayDiskTrouble(error);
    if (disk !== null) return refuse(`${disk.sentence} Nothing was unpacked.`, 'folder');
    // The zip reader and zlib say what is wrong with a file by throwing; nothing else here throws plain errors.
    if (error instanceof Error && error.constructor === Error)
      return refuse(`This zip cannot be read (${error.message}). ${untouched}`, 'path');
    throw error;
  } finally {
    zip?.close();
  }
}

const untouched = 'Nothing was unpacked.';

function refused(sentence: string, field = 'path'): never {
  throw new Refused({ sentence: `${sentence} ${untouched}`, field });
}

type Survey = Readonly<{ entries: readonly Entry[]; manifest: Manifest }>;

/** Reads the zip’s own list and its manifest; throws what is wrong as a refusal. */
async function survey(zip: ZipFile, size: number, steps: readonly Step[]): Promise<Survey> {
  if (zip.entryCount > limits.entries) refused(`The zip lists ${zip.entryCount} files, more than any workshop has.`);
  const entries: Entry[] = [];
  const names = new Set<string>();
  let total = 0;
  for await (const entry of zip.eachEntry()) {
    checkEntry(entry);
    const name = entry.fileName.toLowerCase();
    if (names.has(name)) refused(`The zip holds ${shown(entry.fileName)} twice.`);
    names.add(name);
    total += entry.uncompressedSize;
    if (total > limits.totalBytes) refused('Unpacked, the zip would be larger than any workshop.');
    entries.push(entry);
  }
  checkNoOverlap(entries, size);
  const manifestEntry = entries.find(({ fileName }) => fileName === manifestName);
  if (manifestEntry === undefined || !names.has(databaseName)) refused('This zip holds no workshop of this program.');
  const manifest = readManifest(await readSmall(zip, manifestEntry));
  if (manifest.form > archiveForm || manifest.databaseVersion > steps.length) {
    refused('This zip was made by a newer version of the program; bring it back with that version.');
  }
  const photographs = entries.filter(({ fileName }) => photographName.test(fileName)).length;
  if (photographs !== manifest.photographs) {
    refused(
      `The zip should hold ${manifest.photographs} photographs and holds ${photographs}; some were lost on the way.`,
    );
  }
  return { entries, manifest };
}

function checkEntry(entry: Entry): void {
  const { fileName, uncompressedSize, compressedSize } = entry;
  if (!belongs(fileName)) refused(`The zip holds ${shown(fileName)}, which is no part of a workshop.`);
  // The upper half is the file's kind where the zip was made under Unix: only plain files are read.
  const kind = (entry.externalFileAttributes >>> 16) & 0o170000;
  if (kind !== 0 && kind !== 0o100000) refused(`${shown(fileName)} in the zip is a link or some other special file.`);
  if (entry.isEncrypted() || ![0, 8].includes(entry.compressionMethod))
    refused(`${shown(fileName)} is packed in a way that is not read here.`);
  const most =
    fileName === databaseName
      ? limits.databaseBytes
      : fileName === manifestName
        ? limits.manifestBytes
        : photographName.test(fileName)
          ? limits.photographBytes
          : limits.otherBytes;
  if (uncompressedSize > most) refused(`${shown(fileName)} is larger than any workshop has it.`);
  // Lists are not unpacked: however well a long one shrinks, it is no trap.
  const isUnpacked = fileName === databaseName || photographName.test(fileName);
  if (isUnpacked && uncompressedSize > limits.ratioFromBytes && uncompressedSize > compressedSize * limits.ratio) {
    refused(
      `${shown(fileName)} swells to ${Math.round(uncompressedSize / compressedSize)} times its size when unpacked; that is a trap, no workshop.`,
    );
  }
}

/** Files that share their bytes make a small zip swell without end (D. Fifield, “A better zip bomb”, USENIX WOOT 2019). */
function checkNoOverlap(entries: readonly Entry[], size: number): void {
  const localHeaderLength = 30;
  let end = 0;
  for (const entry of entries.toSorted(
    (one, other) => one.relativeOffsetOfLocalHeader - other.relativeOffsetOfLocalHeader,
  )) {
    if (entry.relativeOffsetOfLocalHeader < end)
      refused('Files in the zip share the same bytes; that is a trap, no workshop.');
    end = entry.relativeOffsetOfLocalHeader + localHeaderLength + entry.fileNameRaw.length + entry.compressedSize;
  }
  if (end > size) refused('The zip lists more than it holds; it was cut.');
}

async function readSmall(zip: ZipFile, entry: Entry): Promise<string> {
  const chunks: Buffer[] = [];
  for await (const chunk of await zip.openReadStreamPromise(entry)) chunks.push(chunk as Buffer);
  return Buffer.concat(chunks).toString('utf8');
}

function readManifest(text: string): Manifest {
  let value: unknown = null;
  try {
    value = JSON.parse(text);
  } catch {
    // Said below in the same words as any other wrong manifest.
  }
  const manifest = manifestShape.safeParse(value);
  return manifest.success
    ? manifest.data
    : refused('What the zip says of itself cannot be read; this is no workshop of this program.');
}

/** Writes one file and returns the SHA-256 of its bytes. The reader ends when more comes than the list promised. */
async function unpackOne(zip: ZipFile, entry: Entry, to: string, count: (bytes: number) => void): Promise<string> {
  mkdirSync(dirname(to), { recursive: true });
  const hash = createHash('sha256');
  const counted = new Transform({
    transform(chunk: Buffer, _encoding, done) {
      hash.update(chunk);
      try {
        count(chunk.length);
        done(null, chunk);
      } catch (error) {
        done(error as Error);
      }
    },
  });
  await pipeline(await zip.openReadStreamPromise(entry), counted, createWriteStream(to, { flags: 'wx', flush: true }));
  return hash.digest('hex');
}

function checkUnpacked(file: string, manifest: Manifest, steps: readonly Step[]): void {
  const trouble = checkDatabase(file, steps);
  if (trouble !== null) refused(`The database in the zip is refused: ${trouble}`);
  const raw = new Database(file, { readonly: true });
  try {
    for (const { name, rows } of tablesOf(raw)) {
      if (manifest.tables[name] !== rows)
        refused(`The zip says that “${name}” has ${manifest.tables[name] ?? 0} rows and it has ${rows}.`);
    }
  } finally {
    raw.close();
  }
}

function shown(name: string): string {
  return `“${name.length > 80 ? `${name.slice(0, 79)}…` : name}”`;
}
