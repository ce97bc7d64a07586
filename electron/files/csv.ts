/**
 * Tables in text: read into rows that know their line in the file, and written so that no spreadsheet takes a cell for a formula.
 * Separators and quoting after RFC 4180, read by Papa Parse.
 */
import Papa from 'papaparse';
import type { ListRow } from '../../core/book/check-list.ts';
import { looksLikeHeadings } from '../../core/book/columns.ts';
import { ok, type Result, refuse } from '../../core/result.ts';

export const separators = [',', ';', '\t', '|'] as const;
export type Separator = (typeof separators)[number];

export type Table = Readonly<{ separator: Separator; rows: readonly ListRow[] }>;

/** More rows than any shelf of one person; beyond, the file is not what it seems. */
const mostRows = 200_000;
const mostColumns = 200;
/** So many broken quotation marks mean that the marks are no quoting at all; each costs a fresh start. */
const mostBroken = 50;

/**
 * Reads a table. Line ends of every kind are read, and become line feeds within cells. A quotation mark that is opened and not closed, or
 * closed in mid-cell, spoils its own line only: the row is given with `trouble` and reading goes on below it. Empty lines are passed over.
 * An apostrophe that keeps a cell from being a formula is taken off.
 */
export function readTable(text: string, asked?: Separator): Result<Table> {
  const plain = text.replace(/\r\n?/g, '\n');
  // Some spreadsheets put the separator on a line of its own: sep=;
  const told = /^sep=([,;\t|])\n/i.exec(plain);
  const start = told ? told[0].length : 0;
  const separator = asked ?? (told?.[1] as Separator | undefined) ?? likelySeparator(plain.slice(start));

  const rows: ListRow[] = [];
  let at = start;
  let line = told ? 2 : 1;
  let broken = 0;
  let wide = 0;
  while (at < plain.length && rows.length <= mostRows) {
    const end = windowEnd(plain, at);
    const done = readUntilBroken(plain.slice(at, end), separator, (cells, from) => {
      if (!cells.every((cell) => empty.test(cell))) rows.push({ line: line + from, cells: cells.map(withoutGuard) });
      wide = Math.max(wide, cells.length);
    });
    line += done.lines;
    at += done.characters;
    // A cell that the window's end cut in two is read again from its row's beginning.
    if (!done.broken || (done.cut && done.characters > 0 && end < plain.length)) continue;
    broken += 1;
    if (broken > mostBroken) {
      return refuse(
        `Quotation marks are opened and not closed on more than ${mostBroken} lines, at last on line ${line}. Is this the right separator, and the right file?`,
        'separator',
      );
    }
    const lineEnd = plain.indexOf('\n', at);
    const raw = plain.slice(at, lineEnd < 0 ? undefined : lineEnd);
    rows.push({ line, cells: raw.split(separator).map(withoutGuard), trouble: brokenQuote });
    at = lineEnd < 0 ? plain.length : lineEnd + 1;
    line += 1;
  }
  if (rows.length === 0) return refuse('The file holds no rows.', 'file');
  if (rows.length > mostRows) {
    return refuse(
      `The list has more than ${mostRows} rows, which is as many as can be taken in at once. Split it.`,
      'file',
    );
  }
  if (wide > mostColumns) {
    return refuse(
      `The list has ${wide} columns; up to ${mostColumns} can be read. Is this the right separator?`,
      'file',
    );
  }
  return ok({ separator, rows });
}

/**
 * So much is read at a time, up to a line's end: a quotation mark never closed costs one window and not the whole file. A row longer than
 * this is taken for broken.
 */
const windowLength = 500_000;

function windowEnd(text: string, from: number): number {
  if (text.length - from <= windowLength) return text.length;
  const end = text.lastIndexOf('\n', from + windowLength);
  if (end > from) return end + 1;
  const next = text.indexOf('\n', from);
  return next < 0 ? text.length : next + 1;
}

/** Cells of an empty line, also where the separators in it are not ours. */
const empty = /^[\s,;|]*$/;

const brokenQuote = 'A quotation mark is opened on this line and not closed, so its cells cannot be told apart.';

/** `cut` where the text ended before the mark was closed. */
type Progress = Readonly<{ characters: number; lines: number; broken: boolean; cut: boolean }>;

/** Reads records up to the first with a broken quotation mark; says how far it came. */
function readUntilBroken(
  text: string,
  separator: Separator,
  take: (cells: readonly string[], fromLine: number) => void,
): Progress {
  let characters = 0;
  let lines = 0;
  let broken = false;
  let cut = false;
  // The last line's end would be read as an empty line after it.
  Papa.parse<string[]>(text.replace(/\n$/, ''), {
    delimiter: separator,
    newline: '\n',
    quoteChar: '"',
    step: ({ data, errors, meta }, parser) => {
      if (errors.some(({ type }) => type === 'Quotes')) {
        broken = true;
        cut = errors.some(({ code }) => code === 'MissingQuotes');
        parser.abort();
        return;
      }
      take(data, lines);
      lines += data.reduce((sum, cell) => sum + countOf(cell, '\n'), 1);
      characters = meta.cursor;
    },
  });
  return { characters: broken ? characters : text.length, lines, broken, cut };
}

function countOf(text: string, letter: string): number {
  let count = 0;
  for (let at = text.indexOf(letter); at >= 0; at = text.indexOf(letter, at + 1)) count += 1;
  return count;
}

/** The separator under which most of the first rows are equally wide and the headings are known. */
function likelySeparator(text: string): Separator {
  let best: Separator = ',';
  let most = 0;
  for (const separator of separators) {
    const { data } = Papa.parse<string[]>(text.slice(0, 200_000), { delimiter: separator, newline: '\n', preview: 50 });
    const rows = data.filter((cells) => cells.some((cell) => cell.trim() !== ''));
    const widths = Map.groupBy(rows, (cells) => cells.length);
    let steady = 0;
    for (const [width, alike] of widths) if (width > 1) steady = Math.max(steady, alike.length / rows.length);
    const width = rows[0]?.length ?? 1;
    const score = width < 2 ? 0 : steady + (looksLikeHeadings(rows[0] ?? []) ? 1 : 0) + width / 1000;
    if (score > most) {
      most = score;
      best = separator;
    }
  }
  return best;
}

/** Spreadsheets run a cell that begins so; an apostrophe before it makes it text (OWASP, “CSV Injection”). */
const formula = /^'*[=+\-@\t\r]/;

function guarded(cell: string): string {
  return formula.test(cell) ? `'${cell}` : cell;
}

function withoutGuard(cell: string): string {
  return cell.startsWith("'") && formula.test(cell) ? cell.slice(1) : cell;
}

/** A table as UTF-8 with its mark, which spreadsheets need to read accents. `readTable` gives the same cells back, line ends as line feeds. */
export function writeTable(rows: readonly (readonly string[])[], separator: Separator): Uint8Array {
  return new TextEncoder().encode(`\ufeff${writeRows(rows, separator)}`);
}

/** Some rows of a long table, without the mark that stands at its very beginning. */
export function writeRows(rows: readonly (readonly string[])[], separator: Separator): string {
  const body = Papa.unparse(
    rows.map((cells) => cells.map(guarded)),
    { delimiter: separator, newline: '\r\n' },
  );
  return `${body}\r\n`;
}
