import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { getTableName } from 'drizzle-orm';
import fc from 'fast-check';
import { beforeAll, describe, expect, onTestFinished, test } from 'vitest';
import { openPromise } from 'yauzl';
import { inspectArchive, unpackArchive } from '../../../electron/files/archive-in.ts';
import { packWorkshop, tablesOf } from '../../../electron/files/archive-out.ts';
import { type Manifest, manifestName } from '../../../electron/files/archive-shape.ts';
import { readTable } from '../../../electron/files/csv.ts';
import { readSteps } from '../../../electron/store/migrate.ts';
import { book, finding } from '../../../electron/store/schema.ts';
import { journalled } from '../../../electron/store/tables.ts';
import { createWorkshop, openWorkshop, type Workshop } from '../../../electron/store/workshop.ts';
import { rowsOf as rowWords } from '../../../renderer/archive/words.ts';
import { bookDraft, got, habits, newWorkshop, sentenceOf } from '../store/folders.ts';
import { temporaryFolder } from '../test-desk.ts';
import { type RawEntry, rawZip } from './raw-zip.ts';

const steps = readSteps();
const quiet = [() => {}, () => false] as const;

const pack = (workshop: Workshop, to: string) =>
  packWorkshop({ folder: workshop.folder, to, madeBy: 'Kettlestitch 0.0.0-test', now: 1_780_000_000_000 }, ...quiet);
const unpack = (path: string, folder: string) => unpackArchive({ path, folder }, steps, ...quiet);

/** Every row of every table, the search index's own included. */
function rowsOf(file: string): unknown {
  const raw = new Database(file, { readonly: true });
  try {
    const tables = raw
      .prepare("SELECT name FROM sqlite_schema WHERE type = 'table' AND sql NOT LIKE 'CREATE VIRTUAL%' ORDER BY name")
      .pluck()
      .all() as string[];
    return tables.map((name) => [name, raw.prepare(`SELECT * FROM "${name}"`).raw().all()]);
  } finally {
    raw.close();
  }
}

function putPhotograph(folder: string, bytes: Buffer): string {
  const hash = createHash('sha256').update(bytes).digest('hex');
  const name = `photographs/${hash.slice(0, 2)}/${hash}.jpg`;
  mkdirSync(join(folder, 'photographs', hash.slice(0, 2)), { recursive: true });
  writeFileSync(join(folder, name), bytes);
  return name;
}

async function filesOf(path: string): Promise<ReadonlyMap<string, Buffer>> {
  const zip = await openPromise(path, { autoClose: false });
  const files = new Map<string, Buffer>();
  for await (const entry of zip.eachEntry()) {
    const chunks: Buffer[] = [];
    for await (const chunk of await zip.openReadStreamPromise(entry)) chunks.push(chunk as Buffer);
    files.set(entry.fileName, Buffer.concat(chunks));
  }
  zip.close();
  return files;
}

describe('a workshop packed into a zip', () => {
  test('and brought back is the same row by row and photograph by photograph, whatever is in it (seed 4)', async () => {
    const words = fc.oneof(fc.string(), fc.constantFrom('=1+1', 'a"b;c\n', 'Zürich', '\ud83d\udcd5'));
    const shelf = fc.array(
      fc.record({ title: words, note: words, height: fc.option(fc.integer({ min: 1, max: 900_000 })) }),
      { maxLength: 12 },
    );
    await fc.assert(
      fc.asyncProperty(
        shelf,
        fc.array(fc.uint8Array({ minLength: 1, maxLength: 300 }), { maxLength: 4 }),
        async (books, pictures) => {
          const workshop = newWorkshop();
          for (const { title, note, height } of books) {
            got(
              workshop.write(`Put in ${title}`, (change) => {
                const bookId = change.insert(book, bookDraft(title, { note, heightUm: height }));
                change.insert(finding, { bookId, part: 'spine', damage: 'torn', severity: 2, note });
              }),
            );
          }
          if (books.length > 0) got(workshop.undo());
          const names = [...new Set(pictures.map((bytes) => putPhotograph(workshop.folder, Buffer.from(bytes))))];
          const place = temporaryFolder();
          const packed = got(await pack(workshop, join(place, 'out.zip')));
          expect(packed).toMatchObject({ photographs: names.length, remarks: [] });
          const found = got(await unpack(packed.path, join(place, 'back')));
          expect(found).toMatchObject({ workshop: 'Test bindery', photographs: names.length });
          workshop.close();
          expect(rowsOf(join(place, 'back', 'workshop.sqlite'))).toEqual(
            rowsOf(join(workshop.folder, 'workshop.sqlite')),
          );
          for (const name of names)
            expect(readFileSync(join(place, 'back', name)).equals(readFileSync(join(workshop.folder, name)))).toBe(
              true,
            );
          expect(readdirSync(place).sort()).toEqual(['back', 'out.zip']);
          const opened = got(openWorkshop(join(place, 'back')));
          expect(opened.next()).toEqual(workshopNext(books.length));
          opened.close();
        },
      ),
      { seed: 4, numRuns: 4 },
    );
  });

  const workshopNext = (books: number) => ({
    undo: books > 1 ? expect.stringContaining('Put in') : null,
    redo: books > 0 ? expect.stringContaining('Put in') : null,
  });

  test('opens without the program: JSON and CSV of every table, terms, and a README that names each', async () => {
    const workshop = newWorkshop();
    got(
      workshop.write('Put in', (change) =>
        change.insert(book, bookDraft('=HYPERLINK("x")', { shelfMark: 'A1', note: 'two\nlines; “quoted”' })),
      ),
    );
    const to = join(temporaryFolder(), 'out.zip');
    got(await pack(workshop, to));
    const files = await filesOf(to);
    const tables = tablesOf(workshop.raw);
    const readme = files.get('README.txt')?.toString() ?? '';
    expect(readme).not.toContain('Columns as named.');
    for (const { name, rows } of tables) {
      const json = JSON.parse(files.get(`json/${name}.json`)?.toString() ?? 'null') as unknown[];
      expect(json).toEqual(workshop.raw.prepare(`SELECT * FROM "${name}"`).all());
      const csv = got(
        readTable(
          files
            .get(`csv/${name}.csv`)
            ?.toString()
            .replace(/^\ufeff/, '') ?? '',
          ',',
        ),
      );
      expect(csv.rows).toHaveLength(rows + 1);
      expect(readme).toContain(`\n${name}, ${rows} row`);
    }
    expect(readme).toContain('The workshop “Test bindery”');
    expect(files.get('terms.json')?.toString()).toContain('http://w3id.org/lob/concept/1317');
    expect(got(await inspectArchive(to, steps))).toMatchObject({
      books: 1,
      photographs: 0,
      madeBy: 'Kettlestitch 0.0.0-test',
      madeAt: 1_780_000_000_000,
    });
  });

  test('leaves a photograph behind that was spoilt on the disk, says so, and can be brought back all the same', async () => {
    const workshop = newWorkshop();
    const place = temporaryFolder();
    const spoilt = putPhotograph(workshop.folder, Buffer.from('one'));
    putPhotograph(workshop.folder, Buffer.from('two'));
    writeFileSync(join(workshop.folder, spoilt), 'none');
    const packed = got(await pack(workshop, join(place, 'out.zip')));
    expect(packed).toMatchObject({ photographs: 1, remarks: [expect.stringContaining('damaged on the disk')] });
    expect(got(await unpack(packed.path, join(place, 'back')))).toMatchObject({ photographs: 1 });
  });

  test('is never written over a file, and leaves nothing when it is stopped', async () => {
    const workshop = newWorkshop();
    const place = temporaryFolder();
    writeFileSync(join(place, 'mine.zip'), 'mine');
    expect(sentenceOf(await pack(workshop, join(place, 'mine.zip')))).toContain('already');
    const stopped = await packWorkshop(
      { folder: workshop.folder, to: join(place, 'b.zip'), madeBy: '', now: 0 },
      () => {},
      () => true,
    );
    expect(sentenceOf(stopped)).toContain('Stopped');
    expect(sentenceOf(await pack(workshop, join(place, 'no', 'c.zip')))).toContain('There is no folder');
    expect(readdirSync(place)).toEqual(['mine.zip']);
  });

  test('is taken while somebody writes, as it stood at one moment', async () => {
    const workshop = newWorkshop();
    const place = temporaryFolder();
    const packing = pack(workshop, join(place, 'out.zip'));
    for (let n = 0; n < 20; n += 1) {
      got(workshop.write(`Put in ${n}`, (change) => change.insert(book, bookDraft(`Book ${n}`))));
      await new Promise((resolve) => setImmediate(resolve));
    }
    got(await packing);
    expect(got(await unpack(join(place, 'out.zip'), join(place, 'back'))).books).toBeLessThanOrEqual(20);
  });
});

describe('a hostile or broken zip', () => {
  let sound: ReadonlyMap<string, Buffer>;
  let photograph: string;

  beforeAll(async () => {
    const folder = mkdtempSync(join(tmpdir(), 'kettlestitch-'));
    try {
      const workshop = got(createWorkshop(join(folder, 'workshop'), habits));
      got(workshop.write('Put in', (change) => change.insert(book, bookDraft('The Drover'))));
      photograph = putPhotograph(workshop.folder, Buffer.from('a picture'));
      got(await pack(workshop, join(folder, 'out.zip')));
      workshop.close();
      sound = await filesOf(join(folder, 'out.zip'));
    } finally {
      rmSync(folder, { recursive: true });
    }
  });

  const entries = (changes: Readonly<Record<string, Partial<RawEntry> | null>> = {}): RawEntry[] =>
    [...sound].flatMap(([name, data]) => (changes[name] === null ? [] : [{ name, data, ...changes[name] }]));

  /** The database after statements no workshop ever ran, with a manifest that vouches for it. */
  function doctored(sql: string): RawEntry[] {
    const file = join(temporaryFolder(), 'doctored.sqlite');
    writeFileSync(file, sound.get('workshop.sqlite') as Buffer);
    const raw = new Database(file);
    raw.unsafeMode();
    raw.exec(sql);
    raw.close();
    return vouched(readFileSync(file));
  }

  function vouched(data: Buffer, more: Partial<Manifest> = {}): RawEntry[] {
    const manifest = JSON.parse(sound.get(manifestName)?.toString() ?? '') as Manifest;
    const databaseSha256 = createHash('sha256').update(data).digest('hex');
    return entries({
      'workshop.sqlite': { data },
      [manifestName]: { data: JSON.stringify({ ...manifest, databaseSha256, ...more }) },
    });
  }

  async function attempt(zip: Buffer): Promise<string> {
    const place = temporaryFolder();
    const path = join(place, 'hostile.zip');
    writeFileSync(path, zip);
    const sentence = sentenceOf(await unpack(path, join(place, 'back')));
    expect(readdirSync(place)).toEqual(['hostile.zip']);
    return sentence;
  }

  test('stands against one that is sound, written by the same hand', async () => {
    const place = temporaryFolder();
    writeFileSync(join(place, 'sound.zip'), rawZip(entries()));
    expect(got(await unpack(join(place, 'sound.zip'), join(place, 'back')))).toMatchObject({
      books: 1,
      photographs: 1,
    });
    expect(existsSync(join(place, 'back', photograph))).toBe(true);
  });

  /** The end of the list says another number of files (section 4.3.16). */
  function withCount(zip: Buffer, count: number): Buffer {
    zip.writeUInt16LE(count, zip.length - 22 + 8);
    zip.writeUInt16LE(count, zip.length - 22 + 10);
    return zip;
  }

  const extra = (entry: RawEntry) => () => [...entries(), entry];
  const strange = { data: 'x' };
  const cases: readonly (readonly [string, () => RawEntry[] | Buffer, string])[] = [
    ['climbs out of its folder', extra({ name: 'photographs/../../evil', ...strange }), 'cannot be read'],
    ['names an absolute path', extra({ name: '/etc/passwd', ...strange }), 'cannot be read'],
    ['names a drive', extra({ name: 'C:/evil', ...strange }), 'cannot be read'],
    ['writes paths with backslashes', extra({ name: 'photographs\\..\\evil', ...strange }), 'cannot be read'],
    ['holds a file that is no part of a workshop', extra({ name: 'autorun.exe', ...strange }), 'no part of a workshop'],
    ['holds a folder', extra({ name: 'photographs/', data: '' }), 'no part of a workshop'],
    [
      'holds a photograph under another name',
      extra({ name: 'photographs/ab/cd.jpg', ...strange }),
      'no part of a workshop',
    ],
    ['holds a link', () => entries({ [photograph]: { mode: 0o120777, data: '/etc/passwd' } }), 'a link'],
    ['holds a device', () => entries({ [photograph]: { mode: 0o020666 } }), 'a link or some other special file'],
    ['names a file twice', extra({ name: 'README.txt', ...strange }), 'twice'],
    ['names a file twice in other capitals', extra({ name: 'csv/BOOK.csv', ...strange }), 'twice'],
    ['is locked by a password', () => entries({ 'workshop.sqlite': { encrypted: true } }), 'in a way that is not read'],
    ['swells when unpacked', () => entries({ 'workshop.sqlite': { data: Buffer.alloc(30_000_000) } }), 'swells'],
    [
      'claims a manifest of two megabytes',
      () => entries({ [manifestName]: { saysBytes: 2_000_000 } }),
      'larger than any workshop',
    ],
    ['lists more files than a workshop has', () => withCount(rawZip(entries()), 65_000), 'lists 65000 files'],
    ['claims less than it unpacks to', () => entries({ 'workshop.sqlite': { saysBytes: 4096 } }), 'cannot be read'],
    ['lets two files share their bytes', () => entries({ 'terms.json': { shares: true } }), 'share the same bytes'],
    ['holds no workshop', () => [{ name: 'README.txt', data: 'hello' }], 'no workshop of this program'],
    ['has lost a photograph', () => entries({ [photograph]: null }), 'should hold 1 photographs and holds 0'],
    [
      'holds a photograph that is not what its name says',
      () => entries({ [photograph]: { data: 'another picture' } }),
      'not what its name says',
    ],
    [
      'holds another database than was packed',
      () => entries({ 'workshop.sqlite': { data: 'x'.repeat(5000) } }),
      'not the one that was packed',
    ],
    ['holds a letter for a database', () => vouched(Buffer.from('a letter'.repeat(700))), 'cannot be read'],
    ['holds another program’s database', () => doctored('PRAGMA application_id = 7'), 'another program'],
    ['holds a newer database', () => doctored(`PRAGMA user_version = ${steps.length + 1}`), 'newer version'],
    [
      'was made by a newer program',
      () => vouched(sound.get('workshop.sqlite') as Buffer, { form: 2 }),
      'newer version',
    ],
    [
      'has a trigger planted',
      () => doctored('CREATE TRIGGER planted AFTER INSERT ON book BEGIN DELETE FROM lot; END'),
      'trigger “planted”',
    ],
    ['has a view planted', () => doctored('CREATE VIEW planted AS SELECT 1'), 'view “planted”'],
    ['has a table more', () => doctored('CREATE TABLE planted (x)'), 'table “planted”'],
    ['has a table fewer', () => doctored('PRAGMA foreign_keys = OFF; DROP TABLE measure'), 'lacks the'],
    [
      'has a trigger changed',
      () =>
        doctored(
          'DROP TRIGGER book_search_insert; CREATE TRIGGER book_search_insert AFTER INSERT ON book BEGIN SELECT 1; END',
        ),
      'is not the one a workshop has',
    ],
    [
      'has rows that belong to nothing',
      () =>
        doctored(
          "PRAGMA foreign_keys = OFF; INSERT INTO finding (id, book_id, part, damage, severity, note) VALUES ('f', 'nobody', 'spine', 'torn', 1, '')",
        ),
      'belong to nothing',
    ],
    [
      'has other rows than it says',
      () => doctored("INSERT INTO lot (id, name, note) VALUES ('l', 'x', '')"),
      '“lot” has 0 rows and it has 1',
    ],
    ['describes no workshop', () => doctored('DELETE FROM workshop'), 'does not describe one workshop'],
    ['is cut short', () => rawZip(entries()).subarray(0, -40), 'cannot be read'],
    ['is no zip', () => Buffer.from('not a zip'), 'cannot be read'],
    [
      'says nonsense of itself',
      () => entries({ [manifestName]: { data: '{"program":"kettlestitch"}' } }),
      'says of itself',
    ],
  ];

  test.each(cases)('that %s is refused in words, with nothing written', async (_, make, words) => {
    const zip = make();
    expect(await attempt(Buffer.isBuffer(zip) ? zip : rawZip(zip as RawEntry[]))).toContain(words);
  });

  test('with damaged pages is refused', async () => {
    const data = Buffer.from(sound.get('workshop.sqlite') as Buffer);
    for (let page = 4; page < data.length / 4096; page += 2) data.fill(0x5a, page * 4096 + 8, page * 4096 + 900);
    expect(await attempt(rawZip(vouched(data)))).toMatch(/damaged|cannot be read/);
  });

  test('is never unpacked over a folder that holds something', async () => {
    const place = temporaryFolder();
    writeFileSync(join(place, 'sound.zip'), rawZip(entries()));
    mkdirSync(join(place, 'mine'));
    writeFileSync(join(place, 'mine', 'diary'), 'mine');
    expect(sentenceOf(await unpack(join(place, 'sound.zip'), join(place, 'mine')))).toContain('never over one');
    expect(readdirSync(join(place, 'mine'))).toEqual(['diary']);
    onTestFinished(() => expect(readdirSync(place).sort()).toEqual(['mine', 'sound.zip']));
  });
});

test('what going back would bring is told in words for every table a person’s change can touch', () => {
  const names = Object.values(journalled).map((table) => getTableName(table));
  expect(names.length).toBeGreaterThan(40);
  // A table without words would be told by its own name, whether one row or more.
  for (const name of names) expect(rowWords(name, 2), name).not.toBe(`2 ${name.replaceAll('_', ' ')}`);
});
