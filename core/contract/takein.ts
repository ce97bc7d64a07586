/** Taking in a list: what is in the file, what its columns mean, which rows can be taken in, and taking them in. */
import { type } from '@orpc/contract';
import { z } from 'zod';
import { type Column, largestListBytes, listFields } from '../book/columns.ts';
import type { RowTrouble } from '../book/list.ts';
import { ask, type FileAnswer, line } from './ask.ts';

/** A book as it will be understood, in the order of the columns people look for. */
export type Understood = Readonly<{
  line: number;
  shelfMark: string;
  title: string;
  author: string;
  date: string;
  /** “225 × 143 × 30 mm”; empty where not measured. */
  size: string;
  binding: string;
  /** “joints split (marked)”, one a finding. */
  findings: readonly string[];
  note: string;
}>;

export type Looked = Readonly<{
  /** Names the file for the next questions; held for as long as the program runs. */
  token: string;
  fileName: string;
  /** A list as text, or records of a library's catalogue, whose lines are counted by record. */
  form: 'list' | 'MARC 21' | 'MARCXML';
  encoding: 'utf-8' | 'utf-16le' | 'utf-16be' | 'windows-1252';
  separator: ',' | ';' | '\t' | '|';
  /** False where the first row is a book already. */
  headings: boolean;
  rows: number;
  columns: readonly Column[];
  defaultUnit: 'mm' | 'cm' | 'in';
  remarks: readonly string[];
}>;

export type BadListRow = Readonly<{ line: number; cells: readonly string[]; troubles: readonly RowTrouble[] }>;

export type Checked = Readonly<{
  good: number;
  /** The first so many; `badTotal` counts them all. */
  bad: readonly BadListRow[];
  badTotal: number;
  duplicates: readonly Readonly<{ line: number; title: string; known: string; because: string }>[];
  duplicatesTotal: number;
  preview: readonly Understood[];
  /** Findings read out of the conditions of the good rows. */
  findings: number;
  newLots: readonly string[];
  newPlaces: readonly string[];
  remarks: readonly string[];
}>;

export type TakenIn = Readonly<{ added: number; skipped: number; left: number; label: string }>;

const cell = z.string().max(100_000, 'A cell of more than 100,000 characters cannot be kept.');

const reading = {
  token: z.string().max(64),
  /** A field for each column, null for a column left out. */
  mapping: z.array(z.enum(listFields).nullable()).max(200),
  defaultUnit: z.enum(['mm', 'cm', 'in']),
  /** Cells as the person mended them, in place of the file's. */
  fixes: z.array(z.object({ line: z.int().min(1), column: z.int().min(0).max(199), text: cell })).max(20_000),
  /** Rows the person chose to leave out. */
  leave: z.array(z.int().min(1)).max(200_000),
};

/** What is done with books that are in the workshop already: skipped, unless the person wants second copies of them. */
const skipDuplicates = z.boolean();

export const takeinContract = {
  look: ask
    .input(
      z.object({
        fileName: line,
        base64: z
          .base64('This is not a file as the page sends it.')
          .max(
            Math.ceil(largestListBytes / 3) * 4,
            'This file is larger than the 20 MB that can be taken in at once. Split it.',
          ),
        separator: z.enum([',', ';', '\t', '|']).optional(),
        encoding: z.enum(['utf-8', 'utf-16le', 'utf-16be', 'windows-1252']).optional(),
        headings: z.boolean().optional(),
      }),
    )
    .output(type<Looked>()),
  check: ask.input(z.object({ ...reading, skipDuplicates })).output(type<Checked>()),
  /** Takes in every good row as one change. `lotName` and `placeName` are for rows that name none. */
  take: ask
    .input(z.object({ ...reading, skipDuplicates, lotName: line.optional(), placeName: line.optional() }))
    .output(type<TakenIn>()),
  /** The rows that could not be taken in, with a column that says why; can be mended and taken in again. */
  badRows: ask.input(z.object({ ...reading, skipDuplicates })).output(type<FileAnswer>()),
};
