/** Invented library records, and a writer of ISO 2709 and MARCXML for them, apart from the program’s readers. */

type Field = Readonly<{
  tag: string;
  indicators?: string;
  parts: string | readonly (readonly [string, string | Uint8Array])[];
}>;

/** A record in ISO 2709 (loc.gov/marc/specifications/specrecstruc.html). Text is UTF-8 unless it is given as bytes. */
export function iso2709(
  fields: readonly Field[],
  options: Readonly<{ letters?: 'a' | ' '; kind?: string }> = {},
): Buffer {
  const bodies = fields.map(({ indicators = '  ', parts }) =>
    typeof parts === 'string'
      ? Buffer.from(`${parts}\x1e`)
      : Buffer.concat([
          Buffer.from(indicators),
          ...parts.flatMap(([code, text]) => [Buffer.from(`\x1f${code}`), Buffer.from(text)]),
          Buffer.from('\x1e'),
        ]),
  );
  let start = 0;
  const directory = fields.map(({ tag }, index) => {
    const length = bodies[index]?.length ?? 0;
    const entry = `${tag}${String(length).padStart(4, '0')}${String(start).padStart(5, '0')}`;
    start += length;
    return entry;
  });
  const base = 24 + 12 * fields.length + 1;
  const length = base + start + 1;
  const leader = `${String(length).padStart(5, '0')}n${options.kind ?? 'am'} ${options.letters ?? 'a'}22${String(base).padStart(5, '0')} a 4500`;
  return Buffer.concat([Buffer.from(`${leader}${directory.join('')}\x1e`), ...bodies, Buffer.from('\x1d')]);
}

/** The invented book number `n`. */
export function inventedFields(n: number): Field[] {
  return [
    { tag: '001', parts: `inv${n}` },
    { tag: '008', parts: `910101s${1840 + (n % 60)}    enk           000 0 eng d` },
    {
      tag: '100',
      indicators: '1 ',
      parts: [
        ['a', `Alder, Jane ${n},`],
        ['d', '1820-1890.'],
      ],
    },
    {
      tag: '245',
      indicators: '10',
      parts: [
        ['a', `The hedger’s year, part ${n} :`],
        ['b', 'with notes on tools /'],
        ['c', 'by J. Alder.'],
      ],
    },
    {
      tag: '260',
      parts: [
        ['a', 'Zürich :'],
        ['b', 'Elm & Rowan,'],
        ['c', `${1840 + (n % 60)}.`],
      ],
    },
    {
      tag: '300',
      parts: [
        ['a', `xii, ${100 + (n % 300)} p. :`],
        ['b', 'ill. ;'],
        ['c', `${17 + (n % 9)} cm (8vo)`],
      ],
    },
    { tag: '852', parts: [['h', `SB ${n}`]] },
  ];
}

export function marcXml(fields: readonly Field[], prefix = ''): string {
  const escaped = (text: string) => text.replaceAll('&', '&amp;').replaceAll('<', '&lt;');
  const one = ({ tag, indicators = '  ', parts }: Field) =>
    typeof parts === 'string'
      ? `<${prefix}controlfield tag='${tag}'>${escaped(parts)}</${prefix}controlfield>`
      : `<${prefix}datafield ind2="${indicators[1]}" ind1="${indicators[0]}"\n tag="${tag}">${parts
          .map(([code, text]) => `<${prefix}subfield code="${code}">${escaped(String(text))}</${prefix}subfield>`)
          .join('\n')}</${prefix}datafield>`;
  return `<${prefix}record>\n<${prefix}leader>00000nam a2200000 a 4500</${prefix}leader>${fields.map(one).join('')}</${prefix}record>`;
}
