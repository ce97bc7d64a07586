/**
 * Reads the words back out of a PDF of ours, page by page in the order they are set, through each font's own table of characters
 * (ISO 32000-1, 9.10.3). Knows only what such documents hold: plain objects, deflated streams, hexadecimal strings of two-byte codes.
 */
import { inflateSync } from 'node:zlib';

export type PdfWords = Readonly<{
  pages: readonly string[];
  /** Every font of the document, with whether its file is within. */
  fonts: readonly Readonly<{ name: string; embedded: boolean }>[];
  /** How many pictures are in the file, and the width in points of each place where one is set, a little less for its frame. */
  pictures: number;
  pictureWidths: readonly number[];
}>;

export function readPdfWords(bytes: Uint8Array): PdfWords {
  const text = Buffer.from(bytes).toString('latin1');
  const objects = new Map<string, string>();
  for (const [, number = '', body = ''] of text.matchAll(/(?:^|\n)(\d+) 0 obj\s([\s\S]*?)\sendobj/g))
    objects.set(number, body);
  const object = (number: string | undefined) => objects.get(number ?? '') ?? '';
  const bodies = [...objects.values()];
  const order = [
    ...(/\/Kids \[([^\]]*)\]/.exec(bodies.find((body) => /\/Type \/Pages\b/.test(body)) ?? '')?.[1] ?? '').matchAll(
      /(\d+) 0 R/g,
    ),
  ];
  const pictureWidths: number[] = [];
  const pages = order.map(([, number]) => {
    const page = object(number);
    const resources = /\/Resources (\d+) 0 R/.exec(page);
    const fonts = new Map(
      [...(resources ? object(resources[1]) : page).matchAll(/\/(F\d+) (\d+) 0 R/g)].map(([, name = '', at]) => [
        name,
        charactersOf(object(/\/ToUnicode (\d+) 0 R/.exec(object(at))?.[1])),
      ]),
    );
    const content = streamOf(object(/\/Contents (\d+) 0 R/.exec(page)?.[1]));
    for (const [, width] of content.matchAll(/([\d.]+) 0 0 [-\d.]+ [-\d.]+ [-\d.]+ cm\s+\/I\d+ Do/g))
      pictureWidths.push(Number(width));
    return wordsOf(content, fonts);
  });
  // A composite font's file is with the font it is made of.
  const fonts = bodies
    .filter((body) => /\/Type \/Font\b/.test(body) && !/\/Subtype \/Type0\b/.test(body))
    .map((body) => ({
      name: /\/BaseFont \/(\S+)/.exec(body)?.[1] ?? '',
      embedded: /\/FontFile[23]? \d+ 0 R/.test(object(/\/FontDescriptor (\d+) 0 R/.exec(body)?.[1])),
    }));
  const pictures = bodies.filter((body) => /\/Subtype \/Image\b/.test(body)).length;
  return { pages, fonts, pictures, pictureWidths };
}

function streamOf(body: string): string {
  const start = /stream\r?\n/.exec(body);
  if (start === null) return '';
  const raw = Buffer.from(body.slice(start.index + start[0].length, body.lastIndexOf('endstream')), 'latin1');
  return /\/FlateDecode/.test(body.slice(0, start.index))
    ? inflateSync(raw).toString('latin1')
    : raw.toString('latin1');
}

type Characters = ReadonlyMap<number, string>;

function charactersOf(body: string): Characters {
  const characters = new Map<number, string>();
  const cmap = streamOf(body);
  for (const [, block = ''] of cmap.matchAll(/beginbfrange([\s\S]*?)endbfrange/g)) {
    for (const [, from = '', , list, first] of block.matchAll(/<(\w+)>\s*<(\w+)>\s*(?:\[([^\]]*)\]|<(\w+)>)/g)) {
      const codes = list === undefined ? [first ?? ''] : [...list.matchAll(/<([\w ]+)>/g)].map(([, code = '']) => code);
      for (const [index, code] of codes.entries()) characters.set(Number.parseInt(from, 16) + index, utf16(code));
    }
  }
  for (const [, block = ''] of cmap.matchAll(/beginbfchar([\s\S]*?)endbfchar/g)) {
    for (const [, from = '', to = ''] of block.matchAll(/<(\w+)>\s*<([\w ]+)>/g))
      characters.set(Number.parseInt(from, 16), utf16(to));
  }
  return characters;
}

function utf16(hex: string): string {
  return Buffer.from(hex.replaceAll(' ', ''), 'hex').swap16().toString('utf16le');
}

/** Runs within one array of a line belong together; lines are parted by a space. */
function wordsOf(content: string, fonts: ReadonlyMap<string, Characters>): string {
  let characters: Characters = new Map();
  let words = '';
  for (const [, font, array, single] of content.matchAll(/\/(F\d+) [\d.]+ Tf|\[([^\]]*)\] TJ|(<[0-9a-fA-F]*>) Tj/g)) {
    if (font !== undefined) {
      characters = fonts.get(font) ?? new Map();
      continue;
    }
    for (const [, hex = ''] of (array ?? single ?? '').matchAll(/<([0-9a-fA-F]*)>/g))
      for (const code of hex.match(/.{4}/g) ?? []) words += characters.get(Number.parseInt(code, 16)) ?? '�';
    words += ' ';
  }
  return words.replaceAll(/\s+/g, ' ');
}
