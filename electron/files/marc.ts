/// <reference path="./marcjs.d.ts" />
/**
 * Files of library records into rows of a list: ISO 2709 through marcjs, MARCXML through sax. Each record stands for itself: one that is
 * broken is a row with its reason, and reading goes on with the next. Record structure after “MARC 21 Specifications for Record Structure”
 * (loc.gov/marc/specifications/specrecstruc.html), MARCXML after the schema MARC21slim (loc.gov/standards/marcxml).
 */
import { Marc } from 'marcjs';
import sax from 'sax';
import type { ListRow } from '../../core/book/check-list.ts';
import { type MarcField, type MarcRecord, marcRow, marcTags } from '../../core/book/marc.ts';
import { readMarc8 } from '../../core/book/marc8.ts';
import { ok, type Result, refuse } from '../../core/result.ts';
import { decode } from './decode.ts';

export type RecordForm = 'MARC 21' | 'MARCXML';
export type Records = Readonly<{ form: RecordForm; rows: readonly ListRow[]; remarks: readonly string[] }>;

const fieldEnd = 0x1e;
const recordEnd = 0x1d;

/** More than any shelf of one person; beyond, the file is not what it seems. */
const mostRecords = 200_000;

/** What kind of records a file holds, by how it begins; null where it is no such file. */
export function formOf(bytes: Uint8Array): RecordForm | null {
  // By the marks that end fields and records, not by the leader: the first record may be the broken one.
  if (bytes.includes(recordEnd) && bytes.includes(fieldEnd)) return 'MARC 21';
  const start = Buffer.from(bytes.subarray(0, 4096)).toString('latin1');
  if (/^\d{5}[a-z]/.test(start) && bytes.includes(fieldEnd)) return 'MARC 21';
  const xml = start.replaceAll('\0', '');
  if (/<(?:\w+:)?(?:collection|record)\b/.test(xml) && /MARC21\/slim|<(?:\w+:)?leader\b/.test(xml)) return 'MARCXML';
  return null;
}

/** Every record as a row; its number in the file stands in place of a line. Refuses a file that holds none. */
export function readRecords(bytes: Uint8Array, form: RecordForm): Result<Records> {
  const read =
    form === 'MARC 21' ? readIso2709(Buffer.from(bytes.buffer, bytes.byteOffset, bytes.length)) : readXml(bytes);
  if (!read.ok) return read;
  if (read.value.rows.length === 0) return refuse('The file holds no records.', 'file');
  if (read.value.rows.length > mostRecords) {
    return refuse(
      `The file has more than ${mostRecords} records, which is as many as can be taken in at once. Split it.`,
      'file',
    );
  }
  return ok({ form, ...read.value });
}

type Found = Readonly<{ rows: readonly ListRow[]; remarks: readonly string[] }>;

function rowOf(line: number, record: Result<MarcRecord>): ListRow {
  const cells = record.ok ? marcRow(record.value) : record;
  return cells.ok ? { line, cells: cells.value } : { line, cells: [], trouble: cells.refusal.sentence };
}

function readIso2709(bytes: Buffer): Result<Found> {
  const rows: ListRow[] = [];
  const seen = { wrongLength: 0, utf8Unsaid: 0 };
  let at = 0;
  while (at < bytes.length && rows.length <= mostRecords) {
    // Line ends between records are none of ISO 2709’s and are often there.
    if (bytes[at] === 0x0a || bytes[at] === 0x0d || bytes[at] === 0x1a) {
      at += 1;
      continue;
    }
    const end = bytes.indexOf(recordEnd, at);
    const raw = bytes.subarray(at, end < 0 ? bytes.length : end + 1);
    const line = rows.length + 1;
    rows.push(rowOf(line, end < 0 ? refuse('The file ends within this record.') : readOne(raw, seen)));
    at = end < 0 ? bytes.length : end + 1;
  }
  const remarks: string[] = [];
  const records = (count: number) => (count === 1 ? 'One record states' : `${count} records state`);
  if (seen.wrongLength > 0) {
    remarks.push(`${records(seen.wrongLength)} a wrong length; the directory within is sound and was followed.`);
  }
  if (seen.utf8Unsaid > 0) {
    remarks.push(
      `${records(seen.utf8Unsaid)} MARC-8 letters and hold sound UTF-8; they were read as UTF-8. Look whether accents are right.`,
    );
  }
  return ok({ rows, remarks });
}

/** A directory’s entry: tag, length of the field with its end mark, where it starts after the base. */
const entryLength = 12;

function readOne(raw: Buffer, seen: { wrongLength: number; utf8Unsaid: number }): Result<MarcRecord> {
  const sound = checkStructure(raw);
  if (!sound.ok) return sound;
  const stated = Number(raw.toString('latin1', 0, 5));
  if (stated !== raw.length) seen.wrongLength += 1;
  // marcjs takes every byte for UTF-8: it is handed a letter a byte, and the fields that are read are put into letters here.
  const { leader, fields } = Marc.parse({ toString: (_, from, to) => raw.toString('latin1', from, to) }, 'iso2709');
  const letters = { utf8: leader[9] === 'a', unsaid: false };
  const made: MarcField[] = [];
  for (const [tag = '', value = '', ...parts] of fields) {
    if (!marcTags.has(tag)) continue;
    if (/^00/.test(tag)) {
      made.push({ tag, value, indicators: '', subfields: [] });
      continue;
    }
    const subfields: [string, string][] = [];
    for (let part = 0; part + 1 < parts.length; part += 2) {
      const text = inLetters(parts[part + 1] ?? '', letters);
      if (!text.ok) return refuse(`Field ${tag}: ${text.refusal.sentence}`);
      subfields.push([parts[part] ?? '', text.value]);
    }
    made.push({ tag, value: '', indicators: value, subfields });
  }
  if (letters.unsaid) seen.utf8Unsaid += 1;
  return ok({ leader, fields: made });
}

const strict = new TextDecoder('utf-8', { fatal: true });

/** Leader, position 9: `a` is UTF-8, blank is MARC-8. Records that say blank and hold sound UTF-8 are common and are read as that. */
function inLetters(bytewise: string, letters: { utf8: boolean; unsaid: boolean }): Result<string> {
  if (/^[\x20-\x7e]*$/.test(bytewise)) return ok(bytewise);
  const bytes = Buffer.from(bytewise, 'latin1');
  const utf8 = bytes.some((byte) => byte > 0x7f) ? soundUtf8(bytes) : null;
  if (utf8 !== null) {
    if (!letters.utf8) letters.unsaid = true;
    return ok(utf8.normalize('NFC'));
  }
  if (letters.utf8) {
    const text = bytes.toString('utf8');
    return text.includes('\ufffd')
      ? refuse('The record says UTF-8 and its letters are not.')
      : ok(text.normalize('NFC'));
  }
  return readMarc8(bytes);
}

function soundUtf8(bytes: Buffer): string | null {
  try {
    return strict.decode(bytes);
  } catch {
    return null;
  }
}

/** What must hold before the directory may be followed: nothing in it may point outside of the record. */
function checkStructure(raw: Buffer): Result<void> {
  if (raw.length < 26) return refuse('The record is shorter than its leader.');
  const leader = raw.toString('latin1', 0, 24);
  if (!/^[\d ]{5}/.test(leader)) return refuse('The leader does not begin with the record’s length.');
  if (leader[10] !== '2' || leader[11] !== '2') return refuse('The leader is broken: it is none of MARC 21.');
  if (!/^\d{5}$/.test(leader.slice(12, 17))) return refuse('The leader does not say where the fields begin.');
  const base = Number(leader.slice(12, 17));
  if (base < 25 || base >= raw.length || raw[base - 1] !== fieldEnd || (base - 25) % entryLength !== 0) {
    return refuse('The leader says that the fields begin where they do not.');
  }
  for (let at = 24; at < base - 1; at += entryLength) {
    const entry = raw.toString('latin1', at, at + entryLength);
    if (!/^[0-9A-Za-z]{3}\d{9}$/.test(entry)) return refuse('The directory of the fields is broken.');
    const [length, start] = [Number(entry.slice(3, 7)), Number(entry.slice(7))];
    const end = base + start + length;
    if (length < 1 || end > raw.length || raw[end - 1] !== fieldEnd) {
      return refuse(
        `The directory says that field ${entry.slice(0, 3)} ends where it does not; the record was cut or changed.`,
      );
    }
  }
  return ok(undefined);
}

const openRecord = /<(?:[\w.-]+:)?record(?=[\s>/])/g;

function readXml(bytes: Uint8Array): Result<Found> {
  const decoded = decode(bytes);
  if (!decoded.ok) return decoded;
  const { text } = decoded.value;
  const starts = [...text.matchAll(openRecord)].map(({ index }) => index);
  const rows = starts.slice(0, mostRecords + 1).map((start, index) => {
    const span = text.slice(start, starts[index + 1] ?? text.length);
    const end = /<\/(?:[\w.-]+:)?record\s*>/.exec(span);
    const record: Result<MarcRecord> =
      end === null
        ? refuse('The record is not closed; it was cut.')
        : readXmlRecord(span.slice(0, end.index + end[0].length));
    return rowOf(index + 1, record);
  });
  return ok({ rows, remarks: decoded.value.remarks });
}

/** One element `record`. Entities other than XML’s own are refused by the reader, so that none can be made to swell. */
function readXmlRecord(xml: string): Result<MarcRecord> {
  const reader = sax.parser(true, { position: false });
  const fields: MarcField[] = [];
  let leader = '';
  let field: { tag: string; indicators: string; subfields: [string, string][] } | null = null;
  let code = '';
  let words = '';
  let trouble: Error | null = null;
  reader.onerror = (error) => {
    trouble ??= error;
    reader.error = null as never;
  };
  reader.ontext = (text) => {
    words += text;
  };
  reader.oncdata = reader.ontext;
  reader.onopentag = ({ name, attributes }) => {
    const attribute = (key: string) => String(attributes[key] ?? '');
    words = '';
    const element = localName(name);
    if (element === 'datafield') {
      field = { tag: attribute('tag'), indicators: attribute('ind1') + attribute('ind2'), subfields: [] };
    } else if (element === 'controlfield') code = attribute('tag');
    else if (element === 'subfield') code = attribute('code');
  };
  reader.onclosetag = (name) => {
    const element = localName(name);
    if (element === 'leader') leader = words;
    else if (element === 'controlfield') fields.push({ tag: code, value: words, indicators: '', subfields: [] });
    else if (element === 'subfield') field?.subfields.push([code, words.normalize('NFC')]);
    else if (element === 'datafield' && field !== null) {
      if (marcTags.has(field.tag)) fields.push({ value: '', ...field });
      field = null;
    }
    words = '';
  };
  reader.write(xml).close();
  if (trouble !== null) return refuse(`The record is no sound XML (${firstLine(trouble)}).`);
  if (leader.length < 10) return refuse('The record has no leader.');
  return ok({ leader, fields });
}

function localName(name: string): string {
  return name.slice(name.indexOf(':') + 1);
}

function firstLine({ message }: Error): string {
  return message.split('\n')[0] ?? '';
}
