/** Bytes of a person's file into text: the encoding by its mark, by its zero bytes, by whether it is sound UTF-8; else Windows-1252. */
import { ok, type Result, refuse } from '../../core/result.ts';

export const encodings = ['utf-8', 'utf-16le', 'utf-16be', 'windows-1252'] as const;
export type Encoding = (typeof encodings)[number];

export type Decoded = Readonly<{ text: string; encoding: Encoding; remarks: readonly string[] }>;

/**
 * Reads the text of a file; `asked` overrules what is detected. Refuses what is empty and what is not text. Windows-1252 is a guess and
 * says so.
 */
export function decode(bytes: Uint8Array, asked?: Encoding): Result<Decoded> {
  if (bytes.length === 0) return refuse('The file is empty.', 'file');
  const kind = knownKind(bytes);
  if (kind !== null)
    return refuse(`This is ${kind}, not a list in text. Save the list as CSV and take that in.`, 'file');
  const encoding = asked ?? detect(bytes);
  if (encoding === null) return refuse('This file is not text. Save the list as CSV and take that in.', 'file');
  const text = new TextDecoder(encoding).decode(bytes);
  const sample = text.slice(0, 100_000);
  // A spreadsheet's text has tabs and line ends, no other control characters.
  const controls =
    sample.match(/\p{Cc}/gu)?.filter((sign) => !'\t\n\r\f\v'.includes(sign) && sign < '\u0080').length ?? 0;
  if (controls > 0 && controls > sample.length / 1000) {
    return refuse('This file is not text. Save the list as CSV and take that in.', 'file');
  }
  if (text.trim() === '') return refuse('The file is empty.', 'file');
  const remarks: string[] = [];
  if (encoding === 'windows-1252' && asked === undefined) {
    remarks.push(
      'The file does not say how its letters are written; Windows-1252 was taken. Look whether accents and dashes are right.',
    );
  }
  const lost = text.match(/\ufffd/g)?.length ?? 0;
  if (lost === 1) remarks.push('One letter could not be read and stands as \ufffd.');
  if (lost > 1) remarks.push(`${lost} letters could not be read and stand as \ufffd.`);
  return ok({ text: text.replace(/^\ufeff/, ''), encoding, remarks });
}

function detect(bytes: Uint8Array): Encoding | null {
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return 'utf-16le';
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return 'utf-16be';
  const sample = bytes.subarray(0, 65_536);
  let even = 0;
  let odd = 0;
  for (const [index, byte] of sample.entries()) {
    if (byte !== 0) continue;
    if (index % 2 === 0) even += 1;
    else odd += 1;
  }
  // Latin letters in UTF-16 have a zero in every other byte, always on the same side.
  if (odd > sample.length / 4 && even < odd / 50) return 'utf-16le';
  if (even > sample.length / 4 && odd < even / 50) return 'utf-16be';
  if (even + odd > 0) return null;
  return isMostlyUtf8(bytes) ? 'utf-8' : 'windows-1252';
}

/** Sound UTF-8, or UTF-8 with a few broken letters among many good ones. */
function isMostlyUtf8(bytes: Uint8Array): boolean {
  try {
    new TextDecoder('utf-8', { fatal: true }).decode(bytes);
    return true;
  } catch {
    const text = new TextDecoder('utf-8').decode(bytes);
    const broken = text.match(/\ufffd/g)?.length ?? 0;
    const sound = text.match(/[\u0080-\ufffc]/g)?.length ?? 0;
    return sound >= 10 * broken;
  }
}

const kinds: readonly (readonly [string, readonly number[]])[] = [
  ['a spreadsheet or a packed file', [0x50, 0x4b, 0x03, 0x04]],
  ['an old spreadsheet or document', [0xd0, 0xcf, 0x11, 0xe0]],
  ['a PDF', [0x25, 0x50, 0x44, 0x46, 0x2d]],
  ['a picture', [0x89, 0x50, 0x4e, 0x47]],
  ['a picture', [0xff, 0xd8, 0xff]],
  ['a packed file', [0x1f, 0x8b]],
  ['a database', [0x53, 0x51, 0x4c, 0x69, 0x74, 0x65, 0x20, 0x66]],
];

function knownKind(bytes: Uint8Array): string | null {
  return kinds.find(([, start]) => start.every((byte, index) => bytes[index] === byte))?.[0] ?? null;
}
