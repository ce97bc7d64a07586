/**
 * Which column of a list holds what. Headings are matched by their words, in any order; where a heading says nothing, the cells are looked
 * at. The person has the last word.
 */
import { ok, type Result } from '../result.ts';
import { type LengthUnit, readSize } from '../units/lengths.ts';
import { readNumber } from '../units/numbers.ts';
import { readYears } from './imprint.ts';

export const listFields = [
  'shelf mark',
  'title',
  'author',
  'imprint',
  'date',
  'size',
  'height',
  'width',
  'thickness',
  'format',
  'pages',
  'binding',
  'colour',
  'grain',
  'condition',
  'lot',
  'place',
  'fate',
  'use',
  'significance',
  'scarcity',
  'completeness',
  'note',
  'price',
] as const;
export type ListField = (typeof listFields)[number];

/** Larger files are refused: as base64 they would not fit through the loopback server. 20 MB are about 100,000 books. */
export const largestListBytes = 20 * 1024 * 1024;

/** Fields that several columns may fill together; of the others each has one column. */
export const joinedFields: ReadonlySet<ListField> = new Set(['condition', 'note']);

/** How the field of a column was found: by its heading, by part of the heading, by its cells, or not at all. */
export type Sureness = 'sure' | 'likely' | 'by its cells' | 'unknown';

export type Column = Readonly<{
  name: string;
  field: ListField | null;
  sureness: Sureness;
  /** The unit that the heading names, as in “Height (cm)”. */
  unit: LengthUnit | null;
  samples: readonly string[];
}>;

/** Proposes a field for every column. `rows` are some of the first rows below the heading. */
export function proposeColumns(headings: readonly string[], rows: readonly (readonly string[])[]): readonly Column[] {
  const taken = new Set<ListField>();
  const found = headings.map(() => ({ field: null as ListField | null, sureness: 'unknown' as Sureness }));
  const claim = (index: number, field: ListField | null, sureness: Sureness) => {
    const column = found[index];
    if (field === null || column === undefined || column.field !== null) return;
    if (taken.has(field) && !joinedFields.has(field)) return;
    taken.add(field);
    column.field = field;
    column.sureness = sureness;
  };
  for (const [index, heading] of headings.entries()) claim(index, exactField(heading), 'sure');
  for (const [index, heading] of headings.entries()) claim(index, likelyField(heading), 'likely');
  for (const [index, heading] of headings.entries()) {
    if (!leftOut.has(plainWords(heading))) claim(index, fieldByCells(cellsOf(rows, index)), 'by its cells');
  }
  return headings.map((name, index) => ({
    name,
    field: found[index]?.field ?? null,
    sureness: found[index]?.sureness ?? 'unknown',
    unit: unitOf(name),
    samples: [...new Set(cellsOf(rows, index))].slice(0, 3),
  }));
}

/** True where a first row looks like headings: one of them is known, and it says nothing that only a book's row would. */
export function looksLikeHeadings(row: readonly string[]): boolean {
  const known = row.filter((cell) => exactField(cell) !== null).length;
  const likely = row.filter((cell) => likelyField(cell) !== null).length;
  const measured = row.filter((cell) => readSize(cell, { defaultUnit: 'mm' }).ok || /^\D*\d{4}\D*$/.test(cell)).length;
  return known > 0 || (likely > 1 && measured === 0);
}

/** The unit that bare figures in a list are most likely in, by the middle height: books of 60 mm, 13 cm or 4 in are all rare. */
export function likelyUnit(columns: readonly Column[], rows: readonly (readonly string[])[]): LengthUnit {
  const heights: number[] = [];
  for (const [index, column] of columns.entries()) {
    if (column.field !== 'height' && column.field !== 'size') continue;
    for (const cell of cellsOf(rows, index)) {
      const height = column.field === 'size' ? cell.split(/[x×]/i)[0] : cell;
      const figure: Result<number> = readNumber(height ?? '');
      if (figure.ok && figure.value > 0) heights.push(figure.value);
    }
  }
  const middle = heights.sort((one, other) => one - other)[Math.floor(heights.length / 2)];
  if (middle === undefined || middle >= 60) return 'mm';
  return middle >= 13 ? 'cm' : 'in';
}

/** Every field at most once, except those that may be joined; a title is needed. Refuses at the field's name. */
export function checkMapping(mapping: readonly (ListField | null)[]): Result<readonly (ListField | null)[]> {
  if (!mapping.includes('title')) {
    return { ok: false, refusal: { sentence: 'Say which column holds the title; a book needs one.', field: 'title' } };
  }
  for (const [index, field] of mapping.entries()) {
    if (field === null || joinedFields.has(field) || mapping.indexOf(field) === index) continue;
    return { ok: false, refusal: { sentence: `Two columns are both said to hold the ${field}.`, field } };
  }
  return ok(mapping);
}

function cellsOf(rows: readonly (readonly string[])[], index: number): string[] {
  return rows.map((row) => (row[index] ?? '').trim()).filter((cell) => cell !== '');
}

function plainWords(heading: string): string {
  return heading
    .normalize('NFD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replace(/\((mm|cm|in|inch(es)?)\.?\)|\b(mm|cm|inches)\b/g, ' ')
    .replace(/[^\p{L}\p{N}]+/gu, ' ')
    .trim();
}

function exactField(heading: string): ListField | null {
  return byWords.get(plainWords(heading)) ?? null;
}

/** The field whose longest word or phrase stands in the heading. */
function likelyField(heading: string): ListField | null {
  const words = ` ${plainWords(heading)} `;
  if (words.length > 60 || leftOut.has(words.trim())) return null;
  let best: readonly [string, ListField] | null = null;
  for (const [name, field] of byWords) {
    if (name.length > 1 && words.includes(` ${name} `) && name.length > (best?.[0].length ?? 0)) best = [name, field];
  }
  return best?.[1] ?? null;
}

/** Only what cells cannot easily be by chance: sizes and dates. */
function fieldByCells(cells: readonly string[]): ListField | null {
  if (cells.length < 3) return null;
  const most = (is: (cell: string) => boolean) => cells.filter(is).length >= 0.8 * cells.length;
  if (most((cell) => /[x×]/i.test(cell) && readSize(cell, { defaultUnit: 'mm' }).ok)) return 'size';
  if (most((cell) => /\d{4}|^[mdclxvi. ]{4,}$/i.test(cell) && readYears(cell).ok)) return 'date';
  return null;
}

function unitOf(heading: string): LengthUnit | null {
  const unit = /\b(mm|cm|inch(?:es)?|millimet(?:re|er)s?|centimet(?:re|er)s?)\b|\((in)\.?\)/i.exec(
    heading.toLowerCase(),
  );
  if (unit === null) return null;
  const word = unit[1] ?? unit[2] ?? '';
  return word.startsWith('in') ? 'in' : word === 'cm' || word.startsWith('centi') ? 'cm' : 'mm';
}

/** Our own columns of a file of rows left out, and running numbers: never guessed to be something of the book's. */
const leftOut: ReadonlySet<string> = new Set(['line', 'reason', 'no', 'nr', 'number', 'row']);

const headings: Readonly<Record<ListField, string>> = {
  'shelf mark':
    'shelf mark|shelfmark|mark|call number|call no|press mark|pressmark|book no|book number|book nr|ref|reference|ref no|id|inventory|inventory no|inv no|accession|accession no|signatur|cote',
  title: 'title|book|short title|book title|name|titel|titre|what',
  author: 'author|authors|writer|by|author s|verfasser|autor|auteur|who',
  imprint: 'imprint|publisher|published by|place and publisher|printer|press|pub|verlag|editeur',
  date: 'date|year|dated|published|publication date|pub date|date of publication|year of publication|when|jahr|annee',
  size: 'size|dimensions|measurements|measures|measured|h x w|hxw|h x w x t|height x width|h w|h w t|dims|grosse|masse',
  height: 'height|high|tall|h|ht|hgt|hohe|hauteur',
  width: 'width|wide|w|breadth|breite|largeur',
  thickness: 'thickness|thick|depth|t|th|d|dicke|epaisseur|spine width',
  format: 'format|fold|book format|fmt',
  pages: 'pages|pp|extent|pagination|no of pages|page count|leaves|collation|seiten|umfang',
  binding: 'binding|bound|bound in|covers|cover|type of binding|material|einband|reliure',
  colour: 'colour|color|cloth colour|cloth color|covering colour|farbe|couleur',
  grain: 'grain|cloth grain|pattern|grain pattern|cloth pattern|texture',
  condition: 'condition|findings|damage|state|faults|defects|what is wrong|wrong|survey|zustand|etat|problems',
  lot: 'lot|box|parcel|bought in|source|provenance|from|acquired from|sale',
  place: 'place|location|shelf|where|where kept|kept|stands|room|standort',
  fate: 'fate|plan|what to do|to do|decision|intended|intention',
  use: 'use|used for|purpose|for',
  significance: 'significance|importance|matters|rank|stars|value to me',
  scarcity: 'scarcity|rarity|how scarce|how rare',
  completeness: 'completeness|complete|is complete|collated',
  note: 'note|notes|remarks|remark|comments|comment|other|description|misc|bemerkung|anmerkung',
  price: 'price|cost|paid|price paid|bought for|preis|prix',
};

const byWords: ReadonlyMap<string, ListField> = new Map(
  listFields.flatMap((field) => headings[field].split('|').map((words) => [words, field] as const)),
);
