import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type MarcRecord, marcHeadings, marcRow, readPhysical } from '../../../core/book/marc.ts';
import { readMarc8 } from '../../../core/book/marc8.ts';

/**
 * Code table “Extended Latin (ANSEL)” of the Library of Congress (loc.gov/marc/specifications/codetables/ExtendedLatin.html), as byte and
 * Unicode, typed out apart from the program’s own. Marks with two halves are tested by hand below.
 */
const letterTable =
  'A1 0141 A2 00D8 A3 0110 A4 00DE A5 00C6 A6 0152 A7 02B9 A8 00B7 A9 266D AA 00AE AB 00B1 AC 01A0 AD 01AF AE 02BC B0 02BB B1 0142 B2 00F8 B3 0111 B4 00FE B5 00E6 B6 0153 B7 02BA B8 0131 B9 00A3 BA 00F0 BC 01A1 BD 01B0 C0 00B0 C1 2113 C2 2117 C3 00A9 C4 266F C5 00BF C6 00A1 C7 00DF C8 20AC';
const markTable =
  'E0 0309 E1 0300 E2 0301 E3 0302 E4 0303 E5 0304 E6 0306 E7 0307 E8 0308 E9 030C EA 030A ED 0315 EE 030B EF 0310 F0 0327 F1 0328 F2 0323 F3 0324 F4 0325 F5 0333 F6 0332 F7 0326 F8 031C F9 032E FE 0313';

function tableOf(text: string): readonly (readonly [byte: number, letter: string])[] {
  return [...text.matchAll(/(\w\w) (\w{4})/g)].map(([, byte = '', point = '']) => [
    Number.parseInt(byte, 16),
    String.fromCodePoint(Number.parseInt(point, 16)),
  ]);
}

function read(...bytes: readonly (number | string)[]): string {
  const parts = bytes.map((part) => (typeof part === 'number' ? [part] : [...Buffer.from(part, 'latin1')]));
  const text = readMarc8(Uint8Array.from(parts.flat()));
  return text.ok ? text.value : `refused: ${text.refusal.sentence}`;
}

describe('MARC-8', () => {
  test('reads every letter and mark of the code table of Extended Latin', () => {
    for (const [byte, letter] of tableOf(letterTable)) expect(read(byte)).toBe(letter.normalize('NFC'));
    for (const [byte, mark] of tableOf(markTable)) expect(read(byte, 'o')).toBe(`o${mark}`.normalize('NFC'));
    expect(tableOf(letterTable).length + tableOf(markTable).length).toBe(36 + 25);
  });

  test('gives back what was written in Latin letters with marks before them (seed 9)', () => {
    const marks = tableOf(markTable);
    const spacing = tableOf(letterTable);
    const base = fc.oneof(
      fc.constantFrom(...'aeiounszcAEIOUNSZC .,-').map((letter) => [letter.charCodeAt(0), letter] as const),
      fc.constantFrom(...spacing),
    );
    const written = fc.array(fc.tuple(fc.subarray(marks as (readonly [number, string])[], { maxLength: 2 }), base), {
      maxLength: 20,
    });
    fc.assert(
      fc.property(written, (signs) => {
        const bytes = signs.flatMap(([above, [byte]]) => [...above.map(([mark]) => mark), byte]);
        const text = signs.map(([above, [, letter]]) => letter + above.map(([, mark]) => mark).join('')).join('');
        expect(read(...bytes)).toBe(text.normalize('NFC'));
      }),
      { seed: 9, numRuns: 200 },
    );
  });

  test('reads the examples of its specification: marks stand before the letter, several in their order', () => {
    expect(read('Universit', 0xe8, 'at W', 0xe8, 'urzburg')).toBe('Universität Würzburg');
    expect(read(0xe3, 0xf2, 'a')).toBe('ậ');
    // A ligature’s two halves over two letters are one mark in Unicode.
    expect(read(0xeb, 'i', 0xec, 'a')).toBe('i\u0361a');
  });

  test('reads subscripts, superscripts and Greek symbols, and comes back from them', () => {
    expect(read('H', 0x1b, 'b2', 0x1b, 'sO')).toBe('H₂O');
    expect(read('m', 0x1b, 'p2', 0x1b, 's.')).toBe('m².');
    expect(read(0x1b, 'ga', 0x1b, 's rays')).toBe('α rays');
    expect(read('x', 0x1b, '(B y')).toBe('x y');
    expect(read(0x1b, ')!E', 0xe2, 'e')).toBe('é');
  });

  test.each([
    ['(N', 'Cyrillic'],
    ['(S', 'Greek'],
    ['(2', 'Hebrew'],
    ['$1', 'Chinese'],
  ])('refuses the script of the final %s by its name', (final, name) => {
    expect(read('ab', 0x1b, final, 'cd')).toMatch(new RegExp(`refused: .*${name}`));
  });
});

describe('a physical description', () => {
  const nothing = { pages: '', height: '', width: '', format: '', rest: '' };
  test.each([
    // The first two are examples of field 300 (loc.gov/marc/bibliographic/bd300.html), from memory; the others are in its pattern.
    ['149 p. ; 23 cm.', { pages: '149 p.', height: '23 cm' }],
    ['1 v. (various pagings) : ill. ; 24 cm.', { pages: '1 v. (various pagings)', height: '24 cm', rest: 'ill.' }],
    [
      'xii, 345 p., [4] leaves of plates : ill. ; 19 cm (8vo)',
      { pages: 'xii, 345 p., [4] leaves of plates', height: '19 cm', format: '8vo', rest: 'ill.' },
    ],
    [
      'iii, 54 p. ; 20 x 28 cm + 1 atlas',
      { pages: 'iii, 54 p.', height: '20 cm', width: '28 cm', rest: 'with 1 atlas' },
    ],
    ['3 v. ; 25-30 cm', { pages: '3 v.', rest: '25-30 cm' }],
    ['75 p. ; 75 mm', { pages: '75 p.', height: '75 mm' }],
    ['x, 300 pages', { pages: 'x, 300 pages' }],
    ['', {}],
  ])('%s is taken apart', (text, found) => {
    expect(readPhysical(text)).toEqual({ ...nothing, ...found });
  });
});

describe('a catalogue record', () => {
  const field = (tag: string, indicators: string, ...subfields: [string, string][]) => ({
    tag,
    value: '',
    indicators,
    subfields,
  });
  const invented: MarcRecord = {
    leader: '00000nam a2200000 a 4500',
    fields: [
      { tag: '008', value: '910101q18671869enk           000 0 eng d', indicators: '', subfields: [] },
      field('100', '1 ', ['a', 'Alder, Jane,'], ['d', '1820-1890.']),
      field('245', '14', ['a', 'The hedger’s year :'], ['b', 'with notes on tools /'], ['c', 'by Jane Alder.']),
      field('250', '  ', ['a', '2nd ed., rev.']),
      field('260', '  ', ['a', 'London :'], ['b', 'Elm & Rowan,'], ['c', '[1867 or 1869?]']),
      field('300', '  ', ['a', 'xii, 345 p., [4] leaves of plates :'], ['b', 'ill. ;'], ['c', '19 cm (8vo)']),
      field('490', '0 ', ['a', 'The country shelf ;'], ['v', 'no. 4']),
      field('500', '  ', ['a', 'Lacks half-title.']),
      field('563', '  ', ['a', 'Publisher’s green diaper cloth.']),
      field('700', '1 ', ['a', 'Birch, Tom,'], ['e', 'illustrator.']),
      field('700', '1 ', ['a', 'Cole, Ann,'], ['e', 'former owner.']),
      field('852', '  ', ['k', 'Case'], ['h', 'SB 12'], ['i', '.A4']),
    ],
  };
  const row = (record: MarcRecord) => {
    const cells = marcRow(record);
    if (!cells.ok) return cells.refusal.sentence;
    return Object.fromEntries(marcHeadings.map((heading, index) => [heading, cells.value[index]]));
  };
  const without = (tag: string) => ({ ...invented, fields: invented.fields.filter((one) => one.tag !== tag) });

  test('becomes a row under headings the list reader knows', () => {
    expect(row(invented)).toEqual({
      'Shelf mark': 'Case SB 12 .A4',
      Title: 'The hedger’s year : with notes on tools',
      Author: 'Alder, Jane; Birch, Tom',
      Imprint: 'London : Elm & Rowan',
      Date: '[1867 or 1869?]',
      Height: '19 cm',
      Width: '',
      Format: '8vo',
      Pages: 'xii, 345 p., [4] leaves of plates',
      Binding: 'Publisher’s green diaper cloth.',
      Note: 'Edition: 2nd ed., rev.\nSeries: The country shelf ; no. 4.\nDescription: ill.\nLacks half-title.',
    });
  });

  test('takes the coded date where the printed one cannot be read, and keeps the printed words', () => {
    const odd = {
      ...invented,
      fields: invented.fields.map((one) =>
        one.tag === '260' ? field('260', '  ', ['c', 'in the year of the comet']) : one,
      ),
    };
    expect(row(odd)).toMatchObject({
      Date: '1867-1869',
      Note: expect.stringContaining('Date as printed: in the year of the comet.'),
    });
  });

  test('with a publication in field 264 takes that and not the copyright date', () => {
    const fields = [
      ...without('260').fields,
      field('264', ' 4', ['c', '©1866']),
      field('264', ' 1', ['a', 'Leeds :'], ['b', 'Ash,'], ['c', '1868.']),
    ];
    expect(row({ ...invented, fields })).toMatchObject({ Imprint: 'Leeds : Ash', Date: '1868' });
  });

  test('without most fields is still a book', () => {
    expect(row({ ...invented, fields: [field('245', '00', ['a', 'Pamphlet.'])] })).toMatchObject({
      Title: 'Pamphlet',
      Author: '',
      Date: '',
      Height: '',
    });
  });

  test.each([
    ['no title', without('245'), 'no title (field 245)'],
    ['UNIMARC', { ...invented, fields: [field('200', '1 ', ['a', 'Un titre'])] }, 'UNIMARC'],
    ['a deleted record', { ...invented, leader: '00000dam a2200000 a 4500' }, 'deleted'],
    ['a sound recording', { ...invented, leader: '00000njm a2200000 a 4500' }, 'a music recording'],
  ])('of %s is refused in words', (_, record, words) => {
    expect(row(record)).toContain(words);
  });
});
