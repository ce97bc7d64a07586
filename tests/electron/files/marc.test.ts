import { describe, expect, test } from 'vitest';
import { marcHeadings } from '../../../core/book/marc.ts';
import { formOf, readRecords } from '../../../electron/files/marc.ts';
import { inventedFields, iso2709, marcXml } from './marc-records.ts';

function read(bytes: Uint8Array | string) {
  const file = typeof bytes === 'string' ? Buffer.from(bytes) : bytes;
  const form = formOf(file);
  if (form === null) return null;
  const records = readRecords(file, form);
  if (!records.ok) throw new Error(records.refusal.sentence);
  const column = (name: (typeof marcHeadings)[number]) =>
    records.value.rows.map(({ cells }) => cells[marcHeadings.indexOf(name)] ?? null);
  return {
    ...records.value,
    titles: column('Title'),
    imprints: column('Imprint'),
    troubles: records.value.rows.map(({ trouble }) => trouble ?? null),
  };
}

/** “Zürich” as MARC-8 writes it: the diaeresis before the u. */
const zurich = Buffer.from([0x5a, 0xe8, 0x75, 0x72, 0x69, 0x63, 0x68]);

function marc8Record(n: number): Buffer {
  const fields = inventedFields(n).map((field) =>
    field.tag === '260'
      ? {
          ...field,
          parts: [
            ['a', zurich],
            ['b', ': Elm'],
          ] as const,
        }
      : field.tag === '245'
        ? { ...field, parts: [['a', `Part ${n}`]] as const }
        : field,
  );
  return iso2709(fields, { letters: ' ' });
}

describe('records in ISO 2709', () => {
  test('are read in UTF-8 and in MARC-8 to the same letters, each as its leader says', () => {
    const found = read(Buffer.concat([iso2709(inventedFields(1)), marc8Record(2)]));
    expect(found).toMatchObject({ form: 'MARC 21', troubles: [null, null], remarks: [] });
    expect(found?.imprints).toEqual(['Zürich : Elm & Rowan', 'Zürich : Elm']);
  });

  test('that say MARC-8 and hold UTF-8 are read as UTF-8, with a remark', () => {
    const found = read(iso2709(inventedFields(1), { letters: ' ' }));
    expect(found?.imprints).toEqual(['Zürich : Elm & Rowan']);
    expect(found?.remarks.join()).toContain('read as UTF-8');
  });

  test('with broken ones among them are refused one by one, and all others are taken', () => {
    const sound = iso2709(inventedFields(1));
    const changed = (from: number, to: string) => {
      const record = iso2709(inventedFields(7));
      record.write(to, from, 'latin1');
      return record;
    };
    const broken: readonly (readonly [Buffer, string])[] = [
      [changed(0, 'abcde'), 'length'],
      [changed(10, '99'), 'none of MARC 21'],
      [changed(12, '  x  '), 'does not say where the fields begin'],
      [changed(12, '00100'), 'begin where they do not'],
      [changed(12, '99999'), 'begin where they do not'],
      [changed(24 + 3, '9999'), 'ends where it does not'],
      [changed(24 + 7, '99999'), 'ends where it does not'],
      [changed(24, '\x00\x01\x02'), 'directory of the fields is broken'],
      [Buffer.from('00026\x1d'), 'shorter than its leader'],
      [iso2709([{ tag: '245', parts: [['a', Buffer.from([0xff, 0xfe])]] }]), 'says UTF-8'],
      [iso2709([{ tag: '245', parts: [['a', Buffer.from('\x1b(Nabc')]] }], { letters: ' ' }), 'Cyrillic'],
      [iso2709([{ tag: '300', parts: [['a', '1 v.']] }]), 'no title'],
      [iso2709(inventedFields(3), { kind: 'jm' }), 'music recording'],
      [iso2709(inventedFields(4)).subarray(0, 150), 'file ends within'],
    ];
    const found = read(
      Buffer.concat(
        broken.flatMap(([record], index) => (index === 0 ? [record] : [Buffer.from('\r\n'), sound, record])),
      ),
    );
    const expected = broken.flatMap(([, words], index) => (index === 0 ? [words] : [null, words]));
    expect(found?.troubles).toHaveLength(expected.length);
    for (const [index, words] of expected.entries()) {
      if (words === null) expect(found?.troubles[index]).toBeNull();
      else expect(found?.troubles[index]).toContain(words);
    }
  });

  test('with a wrong length in the leader and a sound directory are read, and that is remarked', () => {
    const record = iso2709(inventedFields(1));
    record.write('00099', 0);
    expect(read(record)).toMatchObject({ troubles: [null], remarks: [expect.stringContaining('wrong length')] });
  });

  test('cut at any place give one record with a reason or none, and never throw', () => {
    const record = iso2709(inventedFields(1));
    for (let cut = 30; cut < record.length - 1; cut += 7) {
      const found = read(record.subarray(0, cut));
      if (found !== null) expect(found.troubles).toEqual([expect.stringContaining('file ends within')]);
    }
  });

  test('whose Cyrillic stands in a field that is not read are read', () => {
    const fields = [
      ...inventedFields(1).filter(({ tag }) => tag !== '260' && tag !== '245'),
      { tag: '245', parts: [['a', 'Plain']] as const },
      { tag: '880', parts: [['a', '\x1b(Nabc']] as const },
    ];
    expect(read(iso2709(fields, { letters: ' ' }))?.titles).toEqual(['Plain']);
  });
});

describe('records in MARCXML', () => {
  const around = (inner: string) =>
    `<?xml version="1.0" encoding="UTF-8"?>\n<collection xmlns="http://www.loc.gov/MARC21/slim">${inner}</collection>`;

  test('are read with and without a prefix, in any order of attributes', () => {
    const plain = read(around(marcXml(inventedFields(1))));
    const prefixed = read(
      `<m:collection xmlns:m="http://www.loc.gov/MARC21/slim">${marcXml(inventedFields(1), 'm:')}</m:collection>`,
    );
    expect(plain).toMatchObject({ form: 'MARCXML', troubles: [null], imprints: ['Zürich : Elm & Rowan'] });
    expect(prefixed?.rows).toEqual(plain?.rows);
    expect(read(iso2709(inventedFields(1)))?.rows).toEqual(plain?.rows);
  });

  test('with broken ones among them are refused one by one', () => {
    const sound = marcXml(inventedFields(1));
    const found = read(
      around(
        [
          sound,
          sound.replace('</record>', ''),
          sound.replace('</subfield>', '</datafield>'),
          sound.replace('Elm &amp; Rowan', '&lol;'),
          sound.replace(/<leader>.*<\/leader>/, ''),
          sound,
        ].join('\n'),
      ),
    );
    expect(found?.troubles).toEqual([
      null,
      expect.stringContaining('not closed'),
      expect.stringContaining('no sound XML'),
      expect.stringContaining('no sound XML'),
      expect.stringContaining('no leader'),
      null,
    ]);
  });

  test('bring in nothing from a declared entity', () => {
    const file = `<!DOCTYPE c [<!ENTITY x SYSTEM "file:///etc/passwd">]>${around(marcXml(inventedFields(1)).replace('Elm &amp; Rowan', '&x;'))}`;
    expect(read(file)?.troubles).toEqual([expect.stringContaining('no sound XML')]);
  });
});

test('a list in text is not taken for records', () => {
  for (const text of ['Title;Year\nRecords of a parish;1850', '00123;The Drover;1850', '<html><body>x</body></html>'])
    expect(formOf(Buffer.from(text))).toBeNull();
});
