/**
 * A whole workshop as one zip that opens without this program: the database as it stood at one moment, every photograph, each table as JSON
 * and as CSV, and a README that explains them. Written beside its place and named only when it is whole.
 */
import { createHash } from 'node:crypto';
import { createReadStream, createWriteStream, existsSync, readdirSync, renameSync, rmSync, statSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { Readable, Transform } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import Database from 'better-sqlite3';
import { ZipFile } from 'yazl';
import { terms } from '../../core/archive/terms.ts';
import { ok, type Result, refuse } from '../../core/result.ts';
import { fileVersion } from '../store/migrate.ts';
import { copyDatabase } from '../store/snapshot.ts';
import { sayDiskTrouble } from '../store/trouble.ts';
import { archiveForm, databaseName, isOwnTable, type Manifest, manifestName, photographName } from './archive-shape.ts';
import { writeRows } from './csv.ts';

export type PackInput = Readonly<{ folder: string; to: string; madeBy: string; now: number }>;
export type Packed = Readonly<{ path: string; bytes: number; photographs: number; remarks: readonly string[] }>;

/** Packs the workshop in `folder` into the new file `to`. `say` is told the share done, from 0 to 1. Nothing is left behind when it is stopped or refused. */
export async function packWorkshop(
  input: PackInput,
  say: (share: number) => void,
  shouldStop: () => boolean,
): Promise<Result<Packed>> {
  const { folder, to } = input;
  if (existsSync(to))
    return refuse(`There is a file ${to} already; nothing was written over it. Choose another name.`, 'to');
  if (!existsSync(dirname(to))) return refuse(`There is no folder ${dirname(to)}.`, 'to');
  const part = `${to}.part`;
  const copy = `${to}.database.part`;
  try {
    await copyDatabase(folder, copy);
    const raw = new Database(copy, { readonly: true });
    try {
      const photographs = await photographsIn(folder);
      const packed = await writeZip(raw, copy, photographs, part, input, say, shouldStop);
      if (!packed.ok) return packed;
      renameSync(part, to);
      return ok({
        path: to,
        bytes: statSync(to).size,
        photographs: photographs.found.length,
        remarks: photographs.remarks,
      });
    } finally {
      raw.close();
    }
  } catch (error) {
    const refusal = sayDiskTrouble(error);
    if (refusal === null) throw error;
    return refuse(`${refusal.sentence} No zip was made.`, 'to');
  } finally {
    for (const left of [part, copy, `${copy}-journal`]) rmSync(left, { force: true });
  }
}

/** Every table as CSV in one zip, held in memory: the words of a workshop without its pictures are small. */
export async function packLists(folder: string): Promise<Uint8Array> {
  const raw = new Database(join(folder, databaseName), { readonly: true, fileMustExist: true, timeout: 5000 });
  try {
    // One moment for all tables, whatever is written meanwhile.
    raw.exec('BEGIN');
    const zip = new ZipFile();
    for (const { name } of tablesOf(raw)) {
      if (isMachinery(name)) continue;
      zip.addReadStreamLazy(`${name}.csv`, (give) => give(null, Readable.from(csvOf(raw, name))));
    }
    zip.end();
    const chunks: Buffer[] = [];
    for await (const chunk of zip.outputStream) chunks.push(chunk as Buffer);
    return Buffer.concat(chunks);
  } finally {
    raw.close();
  }
}

/** Nothing a person would look for in a list. */
function isMachinery(table: string): boolean {
  return table === 'journal_run' || table === 'book_number' || table === 'assessment';
}

type Found = Readonly<{ name: string; path: string; bytes: number }>;

/** Everything in `photographs/` that is named as an original is; the rest is no photograph of this workshop and is told of. */
async function photographsIn(
  folder: string,
): Promise<Readonly<{ found: readonly Found[]; remarks: readonly string[] }>> {
  const root = join(folder, 'photographs');
  if (!existsSync(root)) return { found: [], remarks: [] };
  const found: Found[] = [];
  const spoilt: string[] = [];
  let strangers = 0;
  for (const entry of readdirSync(root, { recursive: true, withFileTypes: true })) {
    if (!entry.isFile() || entry.name.startsWith('.')) continue;
    const name = `photographs/${basename(entry.parentPath)}/${entry.name}`;
    const path = join(entry.parentPath, entry.name);
    const hash = photographName.exec(name)?.[2];
    if (hash === undefined) strangers += 1;
    // One that was spoilt on the disk would make the whole zip be refused when it is brought back.
    else if ((await sha256Of(path)) !== hash) spoilt.push(entry.name);
    else found.push({ name, path, bytes: statSync(path).size });
  }
  const remarks: string[] = [];
  if (strangers > 0) {
    const left = strangers === 1 ? 'One file' : `${strangers} files`;
    remarks.push(`${left} in the folder of photographs that no workshop put there stayed behind.`);
  }
  if (spoilt.length > 0) {
    const left = spoilt.length === 1 ? 'One photograph is' : `${spoilt.length} photographs are`;
    remarks.push(
      `${left} damaged on the disk and stayed behind: ${spoilt.slice(0, 5).join(', ')}${spoilt.length > 5 ? ', …' : ''}.`,
    );
  }
  return { found, remarks };
}

async function writeZip(
  raw: Database.Database,
  copy: string,
  { found }: Readonly<{ found: readonly Found[] }>,
  part: string,
  { madeBy, now }: PackInput,
  say: (share: number) => void,
  shouldStop: () => boolean,
): Promise<Result<void>> {
  const tables = tablesOf(raw);
  const manifest: Manifest = {
    program: 'kettlestitch',
    form: archiveForm,
    madeBy,
    madeAt: now,
    workshop: raw.prepare('SELECT name FROM workshop').pluck().get() as string,
    databaseVersion: fileVersion(raw),
    databaseSha256: await sha256Of(copy),
    tables: Object.fromEntries(tables.map(({ name, rows }) => [name, rows])),
    photographs: found.length,
  };
  const zip = new ZipFile();
  const mtime = new Date(now);
  const text = (name: string, words: string) => zip.addBuffer(Buffer.from(words), name, { mtime });
  text('README.txt', readme(manifest, raw, tables));
  text(manifestName, `${JSON.stringify(manifest, null, 2)}\n`);
  text('terms.json', `${JSON.stringify(terms, null, 2)}\n`);
  zip.addFile(copy, databaseName, { mtime });
  for (const { name } of tables) {
    zip.addReadStreamLazy(`json/${name}.json`, { mtime }, (give) => give(null, Readable.from(jsonOf(raw, name))));
    zip.addReadStreamLazy(`csv/${name}.csv`, { mtime }, (give) => give(null, Readable.from(csvOf(raw, name))));
  }
  // Pictures are packed already; pressing them again takes long and gains nothing.
  for (const { name, path } of found) zip.addFile(path, name, { mtime, compress: false });
  zip.end();

  const expected = statSync(copy).size + found.reduce((sum, { bytes }) => sum + bytes, 0);
  let written = 0;
  let stopped = false;
  const counted = new Transform({
    transform(chunk: Buffer, _encoding, done) {
      written += chunk.length;
      say(Math.min(0.99, written / expected));
      stopped ||= shouldStop();
      done(stopped ? new Error('stopped') : null, chunk);
    },
  });
  // A source that fails is told by the zip itself, which is no stream.
  const failed = new Promise<never>((_, reject) => zip.on('error', reject));
  failed.catch((error: Error) => counted.destroy(error));
  try {
    await pipeline(zip.outputStream, counted, createWriteStream(part, { flags: 'wx', flush: true }));
  } catch (error) {
    if (stopped) return refuse('Stopped; no zip was made.');
    throw error;
  }
  return ok(undefined);
}

type TableSize = Readonly<{ name: string; rows: number }>;

/** The tables that hold something of the person's, with their rows. */
export function tablesOf(raw: Database.Database): readonly TableSize[] {
  const names = raw
    .prepare("SELECT name FROM sqlite_schema WHERE type = 'table' ORDER BY name")
    .pluck()
    .all() as string[];
  return names
    .filter(isOwnTable)
    .map((name) => ({ name, rows: raw.prepare(`SELECT count(*) FROM "${name}"`).pluck().get() as number }));
}

async function sha256Of(path: string): Promise<string> {
  const hash = createHash('sha256');
  for await (const chunk of createReadStream(path)) hash.update(chunk as Buffer);
  return hash.digest('hex');
}

/** So many rows are held at once. */
const rowsAtOnce = 500;

/** One object a row, one row a line. Integers are kept whole; there are no blobs. */
function* jsonOf(raw: Database.Database, table: string): Generator<string> {
  let before = '[\n';
  for (const rows of inRuns(raw.prepare(`SELECT * FROM "${table}"`).iterate())) {
    yield before + rows.map((row) => JSON.stringify(row)).join(',\n');
    before = ',\n';
  }
  yield before === '[\n' ? '[]\n' : '\n]\n';
}

function* csvOf(raw: Database.Database, table: string): Generator<string> {
  const query = raw.prepare(`SELECT * FROM "${table}"`);
  yield `\ufeff${writeRows([query.columns().map(({ name }) => name)], ',')}`;
  for (const rows of inRuns(query.raw().iterate())) {
    yield writeRows(
      rows.map((row) => (row as readonly unknown[]).map((value) => (value === null ? '' : String(value)))),
      ',',
    );
  }
}

function* inRuns<T>(rows: Iterable<T>): Generator<readonly T[]> {
  let run: T[] = [];
  for (const row of rows) {
    run.push(row);
    if (run.length < rowsAtOnce) continue;
    yield run;
    run = [];
  }
  if (run.length > 0) yield run;
}

/** What each table is, for somebody without the program. A table without words here is still there with its columns. */
const tableWords: Readonly<Record<string, string>> = {
  workshop: 'The workshop itself, one row: name, hours, units, money.',
  place: 'Places where books stand; parent_id is the place around it.',
  lot: 'Parcels in which books came.',
  book: 'The books. Sizes in micrometres; fate is what was decided for a book, stage how far it is.',
  finding: 'What is wrong with which part of a book; severity 1 slight, 2 marked, 3 severe.',
  hazard: 'Possible hazards of a book and what was decided about them. A hazard that is not “cleared” still stands.',
  measure: 'Where a book differs from what its size gives.',
  treatment: 'The treatment proposed for or agreed on a book: steps as JSON.',
  treatment_record: 'What a person says in the treatment record of a book.',
  photograph: 'Photographs: hash names the file in photographs/; annotations are drawn over, never in, the picture.',
  entry: 'The day-book: what was done, when, for how many minutes.',
  plan: 'Plans of weeks and courses.',
  plan_task: 'Steps of a plan with start and end.',
  tool: 'Presses, weights and tools.',
  material: 'Materials in the cupboard.',
  movement:
    'The ledger of stock: quantities in millionths of the material’s unit. What is on hand is the sum; a mistake is answered by another row.',
  arrival: 'Orders under way.',
  piece: 'Salvaged pieces and offcuts, with the book they come from.',
  course: 'Courses.',
  person: 'Who takes part in a course. Personal data: treat it with care.',
  syllabus_item: 'Operations of a course.',
  course_copy: 'Practice copies of a course.',
  backlog_sample: 'A random sample of the books nobody has surveyed.',
  book_colour: 'Colours measured on a book, in CIELAB.',
  book_number: 'Numbers by which the search index knows the books.',
  booking: 'Materials of a finished step taken out of the ledger.',
  stock_lot: 'What came of a material at one time, with its best-before date.',
  supplier: 'Who sells materials: postage, minimum, days until delivery.',
  price_quote: 'Prices of a material as they were quoted.',
  substitute: 'Which material would do in place of which.',
  recipe: 'Batches made here: what one yields and how long it keeps.',
  ingredient: 'What goes into a batch.',
  cutting_habits: 'How cloth and paper are cut here.',
  own_operation: 'Operations of this workshop’s own, as JSON.',
  own_treatment: 'Treatments of this workshop’s own: operations in their order.',
  saved_view: 'Views of the shelf that were given a name.',
  course_date: 'Dates thought of for a course.',
  course_frame: 'More of a course’s frame: meals, helpers, reading.',
  course_note: 'What happened on a course.',
  course_pair: 'Which practice copy for whom, by hand.',
  course_ruined: 'Practice copies that were spoilt.',
  course_sharing: 'Ways of giving out the copies that were kept to compare.',
  course_talk: 'Talks and outings of a course.',
  course_terms: 'Deposit and last day of a course.',
  deposit: 'Deposits paid for a place on a course.',
  guest: 'What a person on a course needs: arrival, meals, room. Personal data: treat it with care.',
  letter: 'Letters to people on a course.',
  met: 'Which operation a person met on a course.',
  room: 'Rooms people sleep in.',
  assessment:
    'Worked out from the others by rules, and worked out anew by the program: the parts of a book’s priority.',
  journal: 'Every change that was made, in order, as undo shows it.',
  journal_run: 'The rows of each change before and after, as JSON.',
};

function readme(manifest: Manifest, raw: Database.Database, tables: readonly TableSize[]): string {
  const described = tables.map(({ name, rows }) => {
    const columns = (raw.pragma(`table_info("${name}")`) as readonly { name: string; type: string }[])
      .map((column) => `${column.name} (${column.type.toLowerCase()})`)
      .join(', ');
    return `${name}, ${rows} ${rows === 1 ? 'row' : 'rows'}\n  ${tableWords[name] ?? 'Columns as named.'}\n  ${columns}\n`;
  });
  return `The workshop “${manifest.workshop}”, packed by ${manifest.madeBy} on ${new Date(manifest.madeAt).toISOString()}.

This file opens without the program that made it.

workshop.sqlite   the whole workshop as an SQLite database (sqlite.org), as it stood at one moment
json/             each of its tables as JSON, one row a line
csv/              each of its tables as CSV (RFC 4180, UTF-8); a cell that a spreadsheet would run as a formula has an apostrophe before it
photographs/      the original photographs, each named by the SHA-256 of its bytes
terms.json        our words beside the identifiers of open thesauri: Language of Bindings (w3id.org/lob) and the Getty Art & Architecture
                  Thesaurus (vocab.getty.edu/aat; contains information from it made available under the ODC Attribution License)
manifest.json     what is here, so that a change can be noticed

To go on working with it, choose “Bring a workshop back from a zip” in Kettlestitch; it is unpacked into a new folder.

How things are written: lengths in micrometres (1000 to a millimetre), money in the smallest coin of the workshop's currency, instants in
milliseconds since 1970-01-01T00:00:00Z, plain dates as YYYY-MM-DD, quantities of stock in millionths of the material's unit. Ids are UUIDs;
a column that ends in _id names a row of the table before it.

THE TABLES

${described.join('\n')}`;
}
