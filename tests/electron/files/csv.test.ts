import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { readTable, separators, writeTable } from '../../../electron/files/csv.ts';
import { decode } from '../../../electron/files/decode.ts';

function table(text: string) {
  const read = readTable(text);
  if (!read.ok) throw new Error(read.refusal.sentence);
  return read.value;
}

const bytes = (...numbers: number[]) => Uint8Array.from(numbers);
const utf16 = (text: string, bigEndian: boolean) => {
  const out = new Uint8Array(text.length * 2);
  const view = new DataView(out.buffer);
  for (let index = 0; index < text.length; index++) view.setUint16(index * 2, text.charCodeAt(index), !bigEndian);
  return out;
};

describe('bytes of a list', () => {
  const words = 'Title;Author\nDämmerung;d’Aubrelune\n';
  const utf8 = new TextEncoder().encode(words);
  test.each([
    ['UTF-8', utf8, 'utf-8'],
    ['UTF-8 with its mark', Uint8Array.from([0xef, 0xbb, 0xbf, ...utf8]), 'utf-8'],
    ['UTF-16 little end first, with its mark', utf16(`\ufeff${words}`, false), 'utf-16le'],
    ['UTF-16 big end first, with its mark', utf16(`\ufeff${words}`, true), 'utf-16be'],
    ['UTF-16 little end first', utf16(words, false), 'utf-16le'],
    ['UTF-16 big end first', utf16(words, true), 'utf-16be'],
    [
      'Windows-1252',
      Uint8Array.from(words, (letter) => (letter === '’' ? 0x92 : letter.charCodeAt(0))),
      'windows-1252',
    ],
  ])('in %s are read as written', (_, file, encoding) => {
    expect(decode(file)).toMatchObject({ ok: true, value: { text: words, encoding } });
  });

  test('in Windows-1252 are read with a word about the guess', () => {
    const read = decode(bytes(0x54, 0xe9));
    expect(read).toMatchObject({ ok: true, value: { text: 'Té' } });
    expect(read.ok && read.value.remarks).toHaveLength(1);
  });

  test('mostly UTF-8 are read as that, counting what could not be', () => {
    const read = decode(Uint8Array.from([...new TextEncoder().encode('é'.repeat(40)), 0xe9, 0x41]));
    expect(read).toMatchObject({
      ok: true,
      value: {
        encoding: 'utf-8',
        remarks: ['One letter could not be read and stands as \ufffd.'],
      },
    });
  });

  test.each([
    ['nothing', bytes(), 'empty'],
    ['a mark and nothing', bytes(0xef, 0xbb, 0xbf), 'empty'],
    ['blanks', bytes(32, 10, 13, 32), 'empty'],
    ['a spreadsheet', bytes(0x50, 0x4b, 0x03, 0x04, 1, 2), 'spreadsheet'],
    ['a picture', bytes(0x89, 0x50, 0x4e, 0x47, 0), 'picture'],
    ['noise', Uint8Array.from({ length: 5000 }, (_, index) => (index * index * 7919) % 256), 'not text'],
    ['control signs', Uint8Array.from({ length: 500 }, (_, index) => (index % 3 ? 65 : 7)), 'not text'],
  ])('that hold %s are refused in one sentence', (_, file, words) => {
    const read = decode(file);
    expect(read.ok).toBe(false);
    if (!read.ok) expect(read.refusal.sentence).toContain(words);
  });
});

describe('a table in text', () => {
  test.each(separators)('is read whatever its separator: %j', (separator) => {
    const text = ['Title', 'Size', 'Year'].join(separator).concat('\n', ['a', '"22,5 x 14"', '1850'].join(separator));
    expect(table(text)).toMatchObject({
      separator,
      rows: [{ line: 1 }, { line: 2, cells: ['a', '22,5 x 14', '1850'] }],
    });
  });

  test('with decimal commas is not taken for one separated by commas', () => {
    const rows = Array.from({ length: 20 }, (_, index) => `Book ${index};2${index % 5},5;14,3`);
    expect(table(['Title;Height;Width', ...rows].join('\n')).separator).toBe(';');
  });

  test('may say its separator on a first line, which is not a row', () => {
    expect(table('sep=|\nTitle|Year\na, b|1850')).toMatchObject({
      separator: '|',
      rows: [{ line: 2 }, { line: 3, cells: ['a, b', '1850'] }],
    });
  });

  test('gives each row the line of the file where it begins, past cells of several lines, empty lines and old line ends', () => {
    const lines = table('Title;Note\r\na;"one\r\ntwo\r\nthree"\r\n\r\nb;x\rc;"y\nz"\nd;').rows.map(({ line }) => line);
    expect(lines).toEqual([1, 2, 6, 7, 9]);
  });

  test('loses only the line on which a quotation mark is opened and not closed', () => {
    const { rows } = table('Title;Note;Year\na;x;1850\nb;"not closed;1851\nc;"fine; too";1852\nd;y;1853');
    expect(rows.map(({ line, trouble }) => [line, trouble !== undefined])).toEqual([
      [1, false],
      [2, false],
      [3, true],
      [4, false],
      [5, false],
    ]);
    expect(rows[2]?.cells).toEqual(['b', '"not closed', '1851']);
    expect(rows[3]?.cells).toEqual(['c', 'fine; too', '1852']);
  });

  test('loses only the last line where the mark is never closed', () => {
    const { rows } = table('Title;Note\na;x\nb;"never\nc;y');
    expect(rows.map(({ line, trouble }) => [line, trouble !== undefined])).toEqual([
      [1, false],
      [2, false],
      [3, true],
      [4, false],
    ]);
  });

  test('far longer than is read at a time keeps its line numbers, whole cells and broken lines', () => {
    const records = Array.from({ length: 40_000 }, (_, index) => {
      if (index % 1000 === 7) return `${index};"a\nb"`;
      return index % 9000 === 11 ? `${index};"open` : `${index};${'x'.repeat(30)}`;
    });
    const text = ['Title;Note', ...records].join('\n');
    const lines = text.split('\n');
    const { rows } = table(text);
    expect(rows).toHaveLength(records.length + 1);
    expect(rows.filter(({ line, cells }) => lines[line - 1]?.split(';')[0] !== cells[0])).toEqual([]);
    expect(rows.filter(({ trouble }) => trouble !== undefined).map(({ cells }) => Number(cells[0]))).toEqual([
      11, 9011, 18_011, 27_011, 36_011,
    ]);
  });

  test('with quotation marks broken everywhere is refused', () => {
    const text = `Title;Note\n${'a;"b\n'.repeat(101)}`;
    const read = readTable(text, ';');
    // Every pair of lines closes a mark in mid-cell.
    expect(read.ok).toBe(false);
    if (!read.ok) expect(read.refusal.sentence).toContain('Quotation marks');
  });

  test('of empty lines alone is refused', () => {
    expect(readTable('\n\n;;\n')).toMatchObject({ ok: false });
  });
});

describe('a table written for a spreadsheet', () => {
  const text = (rows: readonly (readonly string[])[]) => new TextDecoder().decode(writeTable(rows, ','));

  test.each(['=1+1', '+1', '-1', '@SUM(A1)', '\t=1', '\r=1'])('keeps %j from being run as a formula', (cell) => {
    const cells = text([[cell]]).replace(/^"|"\r\n$/g, '');
    expect(cells.startsWith("'")).toBe(true);
  });

  test('comes back cell for cell, whatever was in the cells (seed 7)', () => {
    const cell = fc.oneof(
      fc.string({ unit: 'binary', maxLength: 12 }),
      fc.stringMatching(/^['=+\-@\t";,|\n ]{0,6}[a-z0-9]{0,3}$/),
    );
    // A row of nothing but blanks is passed over when read, so every row begins with a word. Lone surrogates are no text.
    const rows = fc.array(fc.array(cell, { minLength: 2, maxLength: 4 }), { minLength: 1, maxLength: 5 });
    fc.assert(
      fc.property(rows, fc.constantFrom(...separators), (cells, separator) => {
        const whole = cells.map((row) => ['x', ...row.map((one) => one.toWellFormed().replace(/\r\n?/g, '\n'))]);
        const decoded = decode(writeTable(whole, separator), 'utf-8');
        if (!decoded.ok) return true; // Control signs: refused as no text, and said so elsewhere.
        const read = readTable(decoded.value.text, separator);
        expect(read.ok && read.value.rows.map((row) => row.cells)).toEqual(whole);
        return true;
      }),
      { seed: 7, numRuns: 150 },
    );
  });
});
