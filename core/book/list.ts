/**
 * Reads the rows of a person's list into books: sizes, dates, formats and pages through the readers of those; bindings, grains, fates and
 * conditions by their words. What cannot be right (a negative size, a date in 9999, no title) is a trouble of that cell and keeps the row
 * out; what is merely not understood is kept in words in the note and remarked on.
 */
import { type LengthUnit, readLength, readSize } from '../units/lengths.ts';
import { quoted } from '../units/numbers.ts';
import type { Book, Finding } from './book.ts';
import { joinedFields, type ListField } from './columns.ts';
import { readCondition } from './condition.ts';
import { readFormat } from './format-names.ts';
import { readPages, readYears } from './imprint.ts';
import {
  bindingInWords,
  colourInWords,
  completenessInWords,
  fateInWords,
  grainInWords,
  scarcityInWords,
  significanceInWords,
  useInWords,
} from './list-words.ts';

/** A book as a row of a list gives it; lot and place by their names, empty where none was written. */
export type ListedBook = Omit<Book, 'id' | 'lotId' | 'placeId'> &
  Readonly<{ lot: string; place: string; findings: readonly Finding[] }>;

/** What is wrong with a cell. `column` counts from 0; null where the whole row is meant. */
export type RowTrouble = Readonly<{ column: number | null; field: ListField | null; reason: string }>;

export type ReadRow = Readonly<{
  book: ListedBook;
  troubles: readonly RowTrouble[];
  /** Kinds of things kept in words only, such as “binding”; for counting. */
  keptInWords: readonly ListField[];
}>;

export type Reading = Readonly<{
  mapping: readonly (ListField | null)[];
  /** Units that headings name, a column each; the rest are in `defaultUnit`. */
  units: readonly (LengthUnit | null)[];
  headings: readonly string[];
  defaultUnit: LengthUnit;
  /** What the rows of the file are called; lines where nothing is said. */
  rowsAre?: 'record' | 'line';
}>;

/** Reads one row. The book of a row with troubles is what could be read of it. */
export function readRow(cells: readonly string[], reading: Reading): ReadRow {
  const troubles: RowTrouble[] = [];
  const kept: ListField[] = [];
  const notes: string[] = [];
  const row = { cells, reading, troubles };
  const keep = (field: ListField, words: string) => {
    kept.push(field);
    notes.push(`${capital(field)} in the list: ${words}.`);
  };

  refuseLong(row);
  const title = text(row, 'title');
  if (title === '') {
    troubles.push({ column: columnOf(row, 'title'), field: 'title', reason: 'There is no title.' });
  }
  const shelfMark = text(row, 'shelf mark');
  const dateText = text(row, 'date');
  const years = yearsOf(row, dateText, () => keep('date', dateText));
  const size = sizeOf(row);

  const format = text(row, 'format');
  if (format !== '' && !readFormat(format).ok) kept.push('format');
  const pagesText = text(row, 'pages');
  const pages = pagesText === '' ? null : readPages(pagesText);
  if (pages !== null && !pages.ok) kept.push('pages');

  const bindingText = text(row, 'binding');
  const binding = bindingInWords(bindingText);
  const colour = text(row, 'colour') || colourInWords(bindingText);
  const grainText = text(row, 'grain');
  // “Half morocco” is a skin; only cloth has its grain read out of the binding.
  const cloth = binding === 'cloth case' || binding === 'quarter cloth' || binding === 'half cloth';
  const grainHere = grainInWords(grainText);
  const pattern = grainText !== '' ? grainHere : cloth ? grainInWords(bindingText) : null;
  // A binding described in more words than the workshop's own keeps them.
  if (bindingText !== '' && !plainBinding.test(bindingText)) {
    if (binding === null) keep('binding', bindingText);
    else notes.push(`Binding in the list: ${bindingText}.`);
  }
  if (grainText !== '' && grainHere === null) keep('grain', grainText);

  const condition = readCondition(joined(row, 'condition'));
  if (condition.rest !== '') notes.push(`Condition in the list: ${condition.rest}.`);

  const chosen = <T>(field: ListField, inWords: (text: string) => T | null): T | null => {
    const words = text(row, field);
    if (words === '') return null;
    const found = inWords(words);
    if (found === null) keep(field, words);
    return found;
  };
  const fate = chosen('fate', fateInWords);
  const use = chosen('use', useInWords);
  const significance = chosen('significance', significanceInWords);
  const scarcity = chosen('scarcity', scarcityInWords);
  const completeness = chosen('completeness', completenessInWords);
  const completeText = text(row, 'completeness');
  if (completeText.length > 12 && completeness !== null) notes.push(`Completeness in the list: ${completeText}.`);
  const price = text(row, 'price');
  if (price !== '') notes.push(`Price in the list: ${price}.`);

  const book: ListedBook = {
    shelfMark: shelfMark === '' ? null : shelfMark,
    title,
    author: text(row, 'author'),
    imprint: text(row, 'imprint'),
    dateText,
    yearFrom: years?.from ?? null,
    yearTo: years?.to ?? null,
    format,
    ...size,
    pages: pages?.ok ? pages.value.pages : null,
    pagesText,
    binding,
    colour,
    pattern,
    lot: text(row, 'lot'),
    place: text(row, 'place'),
    fate,
    fateLocked: fate !== null,
    stage: condition.findings.length > 0 ? 'surveyed' : 'waiting',
    use: use ?? (fate === 'practice' ? 'teaching' : 'occasional reading'),
    significance: significance ?? 0,
    scarcity: scarcity ?? 'unknown',
    completeness: completeness ?? 'unknown',
    note: [joined(row, 'note'), ...notes].filter((note) => note !== '').join('\n'),
    findings: condition.findings,
  };
  return { book, troubles, keptInWords: kept };
}

/** Descriptions of a binding that say no more than the workshop's own word for it. */
const plainBinding =
  /^(?:(?:quarter|qtr\.?|half|hf\.?|full) )?(?:leather|cloth|cloth case|case|boards|paper boards|paper wrappers|wrappers|vellum|unbound)$/i;

type Row = Readonly<{ cells: readonly string[]; reading: Reading; troubles: RowTrouble[] }>;

function columnOf({ reading }: Row, field: ListField): number | null {
  const index = reading.mapping.indexOf(field);
  return index < 0 ? null : index;
}

/** As much as a line of the shelf, and a note, can hold; long titles are kept. */
const longest = { 'shelf mark': 200, line: 20_000, note: 100_000 };

function refuseLong({ cells, reading, troubles }: Row): void {
  for (const [column, field] of reading.mapping.entries()) {
    if (field === null) continue;
    const most = field === 'shelf mark' ? longest[field] : joinedFields.has(field) ? longest.note : longest.line;
    if ((cells[column]?.length ?? 0) <= most) continue;
    const rest = field === 'shelf mark' ? '' : ' Shorten it here, and keep the rest elsewhere.';
    troubles.push({ column, field, reason: `This is longer than ${most.toLocaleString('en')} characters.${rest}` });
  }
}

/** The cell's words without stray spaces; empty for what people write where nothing is known. */
function text(row: Row, field: ListField): string {
  const column = columnOf(row, field);
  if (column === null) return '';
  const cell = tidy(row.cells[column] ?? '');
  return blanks.test(cell) ? '' : cell;
}

function tidy(cell: string): string {
  return cell
    .replace(/[ \t\u00a0]+/g, ' ')
    .replace(/ ?\n ?/g, '\n')
    .trim();
}

const blanks = /^(?:[-–—?./]+|n\/?a|nil|none|unknown|not known)$/i;

/** The cells of every column said to hold the field, each with its heading where there is more than one. */
function joined(row: Row, field: ListField): string {
  const columns = row.reading.mapping.flatMap((mapped, index) => (mapped === field ? [index] : []));
  const named = joinedFields.has(field) && field === 'note' && columns.length > 1;
  return columns
    .flatMap((index) => {
      const cell = tidy(row.cells[index] ?? '');
      if (cell === '' || blanks.test(cell)) return [];
      return [named ? `${row.reading.headings[index] ?? ''}: ${cell}` : cell];
    })
    .join(field === 'condition' ? '; ' : '\n');
}

function yearsOf(row: Row, dateText: string, keep: () => void): Readonly<{ from: number; to: number }> | null {
  if (dateText === '') return null;
  const years = readYears(dateText);
  if (years.ok) return years.value;
  if (/means that the book carries no date/.test(years.refusal.sentence)) return null;
  // Words such as “early Victorian” name no year and are kept; figures that make no year are a slip.
  if (!/\d/.test(dateText) && !/^[mdclxvi.\s]+$/i.test(dateText)) {
    keep();
    return null;
  }
  row.troubles.push({ column: columnOf(row, 'date'), field: 'date', reason: years.refusal.sentence });
  return null;
}

type Size = Pick<Book, 'heightMm' | 'widthMm' | 'thicknessMm'>;
const unmeasured: Size = { heightMm: null, widthMm: null, thicknessMm: null };
const sides = { height: 'heightMm', width: 'widthMm', thickness: 'thicknessMm' } as const;

/**
 * Sides no bench meets, in millimetres; outside of these the unit is wrong. Common practice, no source: the smallest books one repairs stand
 * 40 mm high, the largest atlases under 1.2 m.
 */
const plausible: Readonly<Record<keyof typeof sides, readonly [number, number]>> = {
  height: [40, 1200],
  width: [30, 1200],
  thickness: [1, 250],
};

function sizeOf(row: Row): Size {
  let size = unmeasured;
  const whole = text(row, 'size');
  const column = columnOf(row, 'size');
  if (whole !== '' && column !== null) {
    const read = readSize(whole, { defaultUnit: unitOf(row, column) });
    if (!read.ok) row.troubles.push({ column, field: 'size', reason: read.refusal.sentence });
    else {
      size = { ...unmeasured, ...read.value };
      for (const side of ['height', 'width', 'thickness'] as const) {
        const reason = implausible(side, size[sides[side]], whole);
        if (reason !== null) row.troubles.push({ column, field: 'size', reason });
      }
    }
  }
  for (const side of ['height', 'width', 'thickness'] as const) {
    const written = text(row, side);
    const at = columnOf(row, side);
    if (written === '' || at === null) continue;
    const read = readLength(written, { defaultUnit: unitOf(row, at) });
    const reason = read.ok ? implausible(side, read.value, written) : read.refusal.sentence;
    if (reason !== null) row.troubles.push({ column: at, field: side, reason });
    else if (read.ok) size = { ...size, [sides[side]]: read.value };
  }
  return size;
}

function implausible(side: keyof typeof sides, mm: number | null, written: string): string | null {
  const [least, most] = plausible[side];
  if (mm === null || (mm >= least && mm <= most)) return null;
  const rounded = Math.round(mm * 10) / 10;
  return `${quoted(written)} makes the ${side} ${rounded} mm; are the units right?`;
}

function unitOf({ reading }: Row, column: number): LengthUnit {
  return reading.units[column] ?? reading.defaultUnit;
}

function capital(words: string): string {
  return words.charAt(0).toUpperCase() + words.slice(1);
}
