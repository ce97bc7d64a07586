/**
 * A record of a library’s catalogue as a row of a list: MARC 21 Format for Bibliographic Data (loc.gov/marc/bibliographic). What a book
 * repairer’s list has no column for is kept in words in the note.
 */
import { ok, type Result, refuse } from '../result.ts';
import { readFormat } from './format-names.ts';
import { readYears } from './imprint.ts';

/** A field of a record: control fields (001–009) have a value, the others two indicators and subfields in their order. */
export type MarcField = Readonly<{
  tag: string;
  value: string;
  indicators: string;
  subfields: readonly (readonly [code: string, text: string])[];
}>;
export type MarcRecord = Readonly<{ leader: string; fields: readonly MarcField[] }>;

/** The columns of the row, by headings that the reader of lists knows. */
export const marcHeadings = [
  'Shelf mark',
  'Title',
  'Author',
  'Imprint',
  'Date',
  'Height',
  'Width',
  'Format',
  'Pages',
  'Binding',
  'Note',
] as const;

/** Fields that are read; another may be in letters this program cannot read without harm. */
export const marcTags: ReadonlySet<string> = new Set(
  '001 008 050 090 099 100 110 111 245 250 260 264 300 490 500 501 561 562 563 590 700 852'.split(' '),
);

/** Leader, position 6: kinds of record that describe no bound volume. */
const otherKinds: Readonly<Record<string, string>> = {
  g: 'a film',
  i: 'a sound recording',
  j: 'a music recording',
  k: 'a picture',
  m: 'a computer file',
  o: 'a kit',
  p: 'mixed materials',
  r: 'an object',
  q: 'a heading of a community list',
  u: 'holdings, not a book',
  v: 'holdings, not a book',
  w: 'a classification, not a book',
  x: 'holdings, not a book',
  y: 'holdings, not a book',
  z: 'a heading, not a book',
};

/** Cells under `marcHeadings`. Refuses a record that was deleted, describes no bound volume, or has no title. */
export function marcRow(record: MarcRecord): Result<readonly string[]> {
  const { leader } = record;
  if (leader[5] === 'd') return refuse('The catalogue marks this record as deleted.');
  const other = otherKinds[leader[6] ?? ''];
  if (other !== undefined) return refuse(`The record describes ${other}.`);
  const title = titleOf(record);
  if (title === '') {
    const unimarc = fieldsOf(record, '200').length > 0;
    return refuse(
      unimarc
        ? 'The record has no title (field 245). It looks like UNIMARC; ask for it in MARC 21.'
        : 'The record has no title (field 245).',
    );
  }
  const physical = readPhysical(physicalOf(record));
  const { date, words } = dateOf(record);
  const notes = [
    said('Date as printed', words),
    said('Edition', plain(joined(record, '250', 'ab'))),
    ...fieldsOf(record, '490').map((field) => said('Series', plain(textOf(field, 'av')))),
    said('Description', physical.rest),
    ...['500', '501', '561', '562', '590'].flatMap((tag) => fieldsOf(record, tag).map((field) => textOf(field, 'a'))),
  ];
  return ok([
    shelfMarkOf(record),
    title,
    authorOf(record),
    imprintOf(record),
    date,
    physical.height,
    physical.width,
    physical.format,
    physical.pages,
    joined(record, '563', 'a'),
    notes.filter((note) => note !== '').join('\n'),
  ]);
}

export type Physical = Readonly<{ pages: string; height: string; width: string; format: string; rest: string }>;

/**
 * Takes a physical description in ISBD’s punctuation apart: `xii, 345 p., [4] leaves of plates : ill. ; 19 cm (8vo) + 1 atlas`. Height
 * comes first, then width (AACR2 2.5D1–2: whole centimetres, rounded up). A span of heights belongs to a set and is left in `rest`.
 */
export function readPhysical(text: string): Physical {
  const parts =
    /^(?<extent>.*?)(?:(?:^|\s):\s(?<details>.*?))?(?:(?:^|\s)?;\s*(?<size>[^;]*?))?(?:\s\+\s(?<with>.*))?$/s.exec(
      text.replace(/\s+/g, ' ').trim(),
    )?.groups;
  const size = parts?.size ?? '';
  const measured = /^(?:ca\.? )?(\d+(?:[.,]\d+)?)(?: ?[x×] ?(\d+(?:[.,]\d+)?))? ?(cm|mm|in)\b\.?/.exec(size);
  const bracketed = /\(([^()]+)\)/.exec(size)?.[1]?.trim() ?? '';
  const isFormat = readFormat(bracketed).ok || /^(?:fol(?:io)?\.?|\d{1,2} ?(?:mo|vo|to|°|º))$/i.test(bracketed);
  const leftOfSize = (measured === null ? size : size.slice(measured[0].length))
    .replace(isFormat ? `(${bracketed})` : '', '')
    .trim();
  const rest = [parts?.details ?? '', leftOfSize, parts?.with === undefined ? '' : `with ${parts.with}`];
  return {
    pages: plain(parts?.extent ?? ''),
    height: measured === null ? '' : `${measured[1]} ${measured[3]}`,
    width: measured?.[2] === undefined ? '' : `${measured[2]} ${measured[3]}`,
    format: isFormat ? bracketed : '',
    rest: rest
      .map(plain)
      .filter((words) => words !== '')
      .join('; '),
  };
}

function fieldsOf({ fields }: MarcRecord, tag: string): readonly MarcField[] {
  return fields.filter((field) => field.tag === tag);
}

function textOf({ subfields }: MarcField, codes: string): string {
  return subfields
    .filter(([code]) => codes.includes(code))
    .map(([, text]) => tidy(text))
    .filter((text) => text !== '')
    .join(' ');
}

function joined(record: MarcRecord, tag: string, codes: string): string {
  return fieldsOf(record, tag)
    .map((field) => textOf(field, codes))
    .filter((text) => text !== '')
    .join('; ');
}

/** Without stray spaces and without the marks around words that are passed over in filing (U+0098, U+009C). */
function tidy(text: string): string {
  return text
    .replace(/\p{Cc}/gu, ' ')
    .replace(/\s+/g, ' ')
    .trim();
}

/** Without the punctuation that parts a card’s areas; the point of an abbreviation stays. */
function plain(text: string): string {
  const bare = tidy(text).replace(/[\s/:;,=]+$/, '');
  return /(?:\b\p{L}|\betc|\b[Cc]o|\b[Jj]r|\bill|\bp|\bv|\bed)\.$/u.test(bare) ? bare : bare.replace(/\.$/, '');
}

function titleOf(record: MarcRecord): string {
  const [field] = fieldsOf(record, '245');
  return field === undefined ? '' : plain(textOf(field, 'abnpfgk'));
}

/** Whoever wrote, edited, translated or illustrated it; printers, binders and owners are none of these. */
function authorOf(record: MarcRecord): string {
  const main = ['100', '110', '111'].flatMap((tag) => fieldsOf(record, tag));
  const added = fieldsOf(record, '700').filter((field) => {
    if (textOf(field, 't') !== '') return false;
    const role = textOf(field, 'e').toLowerCase();
    const code = textOf(field, '4').toLowerCase();
    if (role === '' && code === '') return true;
    return /author|writer|editor|compil|translat|illustrat/.test(role) || /\b(?:aut|edt|com|trl|ill)\b/.test(code);
  });
  const names = [...main, ...added].map((field) => plain(textOf(field, 'abc')));
  const known = [...new Set(names.filter((name) => name !== ''))];
  if (known.length > 0) return known.join('; ');
  const [title] = fieldsOf(record, '245');
  return title === undefined ? '' : plain(textOf(title, 'c'));
}

/** 264 with second indicator 1 is publication; 260 is the older field for it. */
function publications(record: MarcRecord): readonly MarcField[] {
  const newer = fieldsOf(record, '264').filter(({ indicators }) => indicators[1] !== '4');
  const published = newer.filter(({ indicators }) => indicators[1] === '1');
  return published.length > 0 ? published : [...fieldsOf(record, '260'), ...newer];
}

function imprintOf(record: MarcRecord): string {
  const [first] = publications(record);
  return first === undefined ? '' : plain(textOf(first, 'ab'));
}

/** As printed where that can be read; else by the coded dates of field 008, with the printed words beside. */
function dateOf(record: MarcRecord): Readonly<{ date: string; words: string }> {
  const [first] = publications(record);
  const printed = first === undefined ? '' : tidy(textOf(first, 'c')).replace(/\.$/, '');
  if (printed !== '' && readYears(printed).ok) return { date: printed, words: '' };
  const coded = codedDate(fieldsOf(record, '008')[0]?.value ?? '');
  if (coded !== '') return { date: coded, words: printed };
  const year = /(?<!\d)1[4-9]\d\d(?!\d)/.exec(printed)?.[0];
  return year === undefined ? { date: '', words: printed } : { date: year, words: printed };
}

/** 008/06 says of what kind the two dates at 07–10 and 11–14 are; `u` stands for a figure nobody knows. */
function codedDate(coded: string): string {
  const year = (text: string) => {
    if (!/^[12]\d[\du]{2}$/.test(text)) return '';
    const written = text.replaceAll('u', '-');
    return readYears(written).ok ? written : '';
  };
  const [kind, from, to] = [coded[6] ?? '', year(coded.slice(7, 11)), year(coded.slice(11, 15))];
  if (!'cdeikmpqrstu'.includes(kind) || kind === '' || from === '') return '';
  const span = 'mqik'.includes(kind) && to !== '' && to !== from && readYears(`${from}-${to}`).ok;
  return span ? `${from}-${to}` : from;
}

function physicalOf(record: MarcRecord): string {
  const [first] = fieldsOf(record, '300');
  if (first === undefined) return '';
  // Cards part the areas by marks within the subfields; where these are left out they are put in.
  const before: Readonly<Record<string, string>> = { b: ' : ', c: ' ; ', e: ' + ' };
  return first.subfields
    .filter(([code]) => 'abce'.includes(code))
    .reduce((text, [code, words]) => {
      if (text === '' && code === 'a') return tidy(words);
      return `${text.replace(/[\s:;+]+$/, '')}${before[code] ?? ' '}${tidy(words).replace(/^[:;+]\s*/, '')}`;
    }, '');
}

/** The holding’s own call number, else a local one, else the class the library gave it. */
function shelfMarkOf(record: MarcRecord): string {
  for (const [tag, codes] of [
    ['852', 'khijm'],
    ['099', 'a'],
    ['090', 'ab'],
    ['050', 'ab'],
  ] as const) {
    const [mark] = fieldsOf(record, tag)
      .map((field) => textOf(field, codes))
      .filter((text) => text !== '');
    if (mark !== undefined) return mark;
  }
  return '';
}

function said(what: string, words: string): string {
  return words === '' ? '' : `${what}: ${words}.`.replace(/\.\.$/, '.');
}
