/** Answers about taking in a list. The file is read once and held under a token; every further question reads its rows anew with the fixes. */
import { randomUUID } from 'node:crypto';
import { severityWords } from '../../core/book/book.ts';
import { type CheckedList, checkList, type GoodRow, type ListRow } from '../../core/book/check-list.ts';
import {
  checkMapping,
  type ListField,
  likelyUnit,
  looksLikeHeadings,
  proposeColumns,
} from '../../core/book/columns.ts';
import { type Reading, type ReadRow, readRow } from '../../core/book/list.ts';
import { marcHeadings } from '../../core/book/marc.ts';
import type { FileAnswer } from '../../core/contract/ask.ts';
import type { Checked, Looked, TakenIn, Understood } from '../../core/contract/takein.ts';
import { ok, type Result, refuse } from '../../core/result.ts';
import type { LengthUnit } from '../../core/units/lengths.ts';
import { readTable, type Separator, writeTable } from '../files/csv.ts';
import { decode, type Encoding } from '../files/decode.ts';
import { formOf, type RecordForm, readRecords } from '../files/marc.ts';
import { listLots, listPlaces } from '../store/places.ts';
import { knownBooks, putListedBooks } from '../store/takein.ts';
import type { Reader, Workshop } from '../store/workshop.ts';
import { answer, inWorkshop } from './desk.ts';

const { takein: room } = inWorkshop;

export const takein = {
  look: room.look.handler(({ input, errors }) => answer(look(input), errors)),
  check: room.check.handler(({ input, context, errors }) => answer(check(context.store.db, input), errors)),
  take: room.take.handler(({ input, context, errors }) => answer(take(context.store, input, context.now()), errors)),
  badRows: room.badRows.handler(({ input, context, errors }) => answer(badRows(context.store.db, input), errors)),
};

type Held = Readonly<{
  fileName: string;
  form: Looked['form'];
  separator: Separator;
  headings: readonly string[];
  units: readonly (LengthUnit | null)[];
  rows: readonly ListRow[];
  /** Rows as read under the last mapping, by their cells: of a long list only what was mended is read anew. */
  read: { under: string; rows: WeakMap<readonly string[], ReadRow> };
}>;

/** Files read lately. The oldest goes when another comes; its page is asked to choose the file again. */
const held = new Map<string, Held>();
const mostHeld = 4;

type LookInput = Readonly<{
  fileName: string;
  base64: string;
  separator?: Separator | undefined;
  encoding?: Encoding | undefined;
  headings?: boolean | undefined;
}>;

/** Reads a file and holds it under a token. */
export function look(input: LookInput): Result<Looked> {
  const bytes = Buffer.from(input.base64, 'base64');
  const form = formOf(bytes);
  if (form !== null) return lookAtRecords(input.fileName, bytes, form);
  const decoded = decode(bytes, input.encoding);
  if (!decoded.ok) return decoded;
  const table = readTable(decoded.value.text, input.separator);
  if (!table.ok) return table;
  const { rows, separator } = table.value;
  const first = rows[0]?.cells ?? [];
  const headed = input.headings ?? looksLikeHeadings(first);
  const body = headed ? rows.slice(1) : rows;
  if (body.length === 0) return refuse('The list has headings and no rows below them.', 'file');
  const width = body.reduce((most, { cells }) => Math.max(most, cells.length), first.length);
  const headings = Array.from({ length: width }, (_, index) => {
    const heading = headed ? (first[index] ?? '').trim() : '';
    return heading === '' ? `Column ${index + 1}` : heading.slice(0, 200);
  });
  const sample = body.slice(0, 200).map(({ cells }) => cells);
  const columns = proposeColumns(headings, sample);
  const units = columns.map(({ unit }) => unit);
  const token = hold({ fileName: input.fileName, form: 'list', separator, headings, units, rows: body });

  const remarks = [...decoded.value.remarks];
  if (!headed)
    remarks.push('The first row reads like a book, so it is taken as one; say below what each column holds.');
  const uneven = body.filter(({ cells }) => headed && cells.slice(first.length).some((cell) => cell.trim() !== ''));
  if (uneven.length > 0) {
    const lines = uneven.slice(0, 5).map(({ line }) => line);
    remarks.push(
      `${uneven.length === 1 ? 'One row has' : `${uneven.length} rows have`} more cells than there are headings (line ${lines.join(', ')}${uneven.length > 5 ? ', …' : ''}).`,
    );
  }
  return ok({
    token,
    fileName: input.fileName,
    form: 'list',
    encoding: decoded.value.encoding,
    separator,
    headings: headed,
    rows: body.length,
    columns,
    defaultUnit: likelyUnit(columns, sample),
    remarks,
  });
}

function hold(list: Omit<Held, 'read'>): string {
  const token = randomUUID();
  held.set(token, { ...list, read: { under: '', rows: new WeakMap() } });
  for (const oldest of held.keys()) if (held.size > mostHeld) held.delete(oldest);
  return token;
}

/** Catalogue records have columns of their own, each known for what it is, and say their units in the cells. */
function lookAtRecords(fileName: string, bytes: Buffer, form: RecordForm): Result<Looked> {
  const records = readRecords(bytes, form);
  if (!records.ok) return records;
  const { rows } = records.value;
  const headings = [...marcHeadings];
  const columns = proposeColumns(
    headings,
    rows.slice(0, 200).map(({ cells }) => cells),
  );
  const units = columns.map(({ unit }) => unit);
  const token = hold({ fileName, form, separator: ',', headings, units, rows });
  const remarks = [...records.value.remarks];
  if (rows.some(({ cells }) => (cells[headings.indexOf('Height')] ?? '').endsWith('cm'))) {
    remarks.push(
      'Catalogues give heights in whole centimetres, rounded up. Measure a book before anything is cut for it.',
    );
  }
  return ok({
    token,
    fileName,
    form,
    encoding: 'utf-8',
    separator: ',',
    headings: true,
    rows: rows.length,
    columns,
    defaultUnit: 'cm',
    remarks,
  });
}

type CheckInput = Readonly<{
  token: string;
  mapping: readonly (ListField | null)[];
  defaultUnit: LengthUnit;
  fixes: readonly Readonly<{ line: number; column: number; text: string }>[];
  leave: readonly number[];
  skipDuplicates: boolean;
}>;

type Weighed = CheckedList & Readonly<{ list: Held; left: number }>;

/** Reads and compares all rows as the person has mended them so far. */
function weigh(db: Reader, input: CheckInput): Result<Weighed> {
  const list = held.get(input.token);
  if (list === undefined) return refuse('This file is no longer held. Choose it again; nothing was taken in.', 'token');
  const mapping = checkMapping(list.headings.map((_, index) => input.mapping[index] ?? null));
  if (!mapping.ok) return mapping;
  const fixes = Map.groupBy(input.fixes, ({ line }) => line);
  const leave = new Set(input.leave);
  const rows = list.rows.filter(({ line }) => !leave.has(line)).map((row) => mended(row, fixes.get(row.line)));
  const reading = {
    mapping: mapping.value,
    units: list.units,
    headings: list.headings,
    defaultUnit: input.defaultUnit,
    rowsAre: list.form === 'list' ? ('line' as const) : ('record' as const),
  };
  const under = JSON.stringify([mapping.value, input.defaultUnit]);
  if (list.read.under !== under) Object.assign(list.read, { under, rows: new WeakMap() });
  const checked = checkList(rows, reading, knownBooks(db), (cells) => remembered(list, cells, reading));
  const left = list.rows.length - rows.length;
  if (input.skipDuplicates) return ok({ ...checked, list, left });
  // Second copies are wanted: those whose shelf mark is free are taken in as well.
  const column = mapping.value.indexOf('shelf mark');
  const taken = checked.duplicates.filter(
    ({ book, known }) => book.shelfMark !== null && book.shelfMark === known.shelfMark,
  );
  const free = checked.duplicates.filter((row) => !taken.includes(row));
  const cells = new Map(rows.map((row) => [row.line, row.cells]));
  const bad = taken.map(({ line, known }) => ({
    line,
    cells: cells.get(line) ?? [],
    troubles: [
      {
        column,
        field: 'shelf mark' as const,
        reason: `The shelf mark is that of “${known.title.slice(0, 80)}” in the workshop; a second copy needs its own.`,
      },
    ],
  }));
  const byLine = (one: { line: number }, other: { line: number }) => one.line - other.line;
  return ok({
    ...checked,
    good: [...checked.good, ...free].sort(byLine),
    bad: [...checked.bad, ...bad].sort(byLine),
    duplicates: [],
    list,
    left,
  });
}

function remembered({ read }: Held, cells: readonly string[], reading: Reading): ReadRow {
  const known = read.rows.get(cells);
  if (known !== undefined) return known;
  const row = readRow(cells, reading);
  read.rows.set(cells, row);
  return row;
}

/** The row with the person's cells in place of the file's. Mending a row with a broken quotation mark settles how its cells are parted. */
function mended(row: ListRow, fixes: readonly Readonly<{ column: number; text: string }>[] | undefined): ListRow {
  if (fixes === undefined) return row;
  const cells = [...row.cells];
  for (const { column, text } of fixes) {
    while (cells.length < column) cells.push('');
    cells[column] = text;
  }
  return { line: row.line, cells };
}

const shownRows = 300;

function check(db: Reader, input: CheckInput): Result<Checked> {
  const weighed = weigh(db, input);
  if (!weighed.ok) return weighed;
  const { good, bad, duplicates, remarks } = weighed.value;
  const fresh = (field: 'lot' | 'place', there: readonly Readonly<{ name: string }>[]) => {
    const names = new Set(there.map(({ name }) => name.toLowerCase()));
    return distinct(good.map(({ book }) => (field === 'place' ? pathOf(book.place) : book.lot))).filter(
      (name) => !names.has(name.toLowerCase()),
    );
  };
  return ok({
    good: good.length,
    bad: bad.slice(0, shownRows),
    badTotal: bad.length,
    duplicates: duplicates.slice(0, shownRows).map(({ line, book, known, because }) => ({
      line,
      title: book.title,
      known: known.title,
      because,
    })),
    duplicatesTotal: duplicates.length,
    preview: good.slice(0, 8).map(understood),
    findings: good.reduce((sum, { book }) => sum + book.findings.length, 0),
    newLots: fresh('lot', listLots(db)),
    newPlaces: fresh('place', listPlaces(db)),
    remarks,
  });
}

/** A place as the shelf writes it: “Case 1 › Shelf 2”. */
function pathOf(place: string): string {
  return place
    .split(/[›>]/)
    .map((name) => name.trim())
    .filter((name) => name !== '')
    .join(' › ');
}

/** The names in order of appearance, the same in capitals or small counted once. */
function distinct(names: readonly string[]): readonly string[] {
  const kept = new Map<string, string>();
  for (const name of names) if (name !== '' && !kept.has(name.toLowerCase())) kept.set(name.toLowerCase(), name);
  return [...kept.values()];
}

function understood({ line, book }: GoodRow): Understood {
  const sides = [book.heightMm, book.widthMm, book.thicknessMm];
  const known = sides.some((side) => side !== null);
  const years = book.yearFrom === book.yearTo ? `${book.yearFrom ?? ''}` : `${book.yearFrom}–${book.yearTo}`;
  const written = book.dateText === years || book.dateText === '' ? '' : ` (${book.dateText})`;
  return {
    line,
    shelfMark: book.shelfMark ?? '',
    title: book.title,
    author: book.author,
    date: book.yearFrom === null ? book.dateText : `${years}${written}`,
    size: known ? `${sides.map((side) => (side === null ? '?' : String(Math.round(side)))).join(' × ')} mm` : '',
    binding: [book.binding ?? '', book.colour, book.pattern ?? ''].filter((words) => words !== '').join(', '),
    findings: book.findings.map(({ part, damage, severity }) => `${part} ${damage} (${severityWords[severity]})`),
    note: book.note,
  };
}

type TakeInput = CheckInput & Readonly<{ lotName?: string | undefined; placeName?: string | undefined }>;

/** Takes in the good rows of a file held under a token, in one journal entry. */
export function take(store: Workshop, input: TakeInput, now: number): Result<TakenIn> {
  const weighed = weigh(store.db, input);
  if (!weighed.ok) return weighed;
  const { good, bad, duplicates, list, left } = weighed.value;
  if (good.length === 0) {
    return refuse(
      duplicates.length > 0 && bad.length === 0
        ? 'Every book of this list is in the workshop already.'
        : 'No row of this list can be taken in yet; mend one first.',
    );
  }
  const label = `Take in ${good.length === 1 ? 'one book' : `${good.length} books`} from ${list.fileName}`;
  const lotName = input.lotName?.trim() ?? '';
  const placeName = input.placeName?.trim() ?? '';
  const books = good.map(({ book }) => ({ ...book, lot: book.lot || lotName, place: book.place || placeName }));
  const written = store.write(label, (change) => putListedBooks(store.db, change, books, now));
  if (!written.ok) return written;
  return ok({ added: good.length, skipped: duplicates.length, left: left + bad.length, label });
}

function badRows(db: Reader, input: CheckInput): Result<FileAnswer> {
  const weighed = weigh(db, input);
  if (!weighed.ok) return weighed;
  const { bad, list } = weighed.value;
  if (bad.length === 0) return refuse('There are no rows to mend.');
  const rows = bad.map(({ line, cells, troubles }) => [
    ...list.headings.map((_, column) => cells[column] ?? ''),
    String(line),
    troubles.map(({ column, reason }) => sayTrouble(list.headings, column, reason)).join(' '),
  ]);
  const bytes = writeTable(
    [[...list.headings, list.form === 'list' ? 'Line' : 'Record', 'Reason'], ...rows],
    list.separator,
  );
  const stem = list.fileName.replace(/\.[^.]{1,5}$/, '');
  return ok({
    fileName: `${stem} to mend.csv`,
    mediaType: 'text/csv;charset=utf-8',
    base64: Buffer.from(bytes).toString('base64'),
  });
}

function sayTrouble(headings: readonly string[], column: number | null, reason: string): string {
  const heading = column === null ? undefined : headings[column];
  return heading === undefined ? reason : `${heading}: ${reason}`;
}
