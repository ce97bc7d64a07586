/**
 * MARC-8, the letters of library records from before Unicode: Basic Latin (ASCII) below, Extended Latin (ANSEL) above, and a combining mark
 * written before the letter it belongs to. After “MARC 21 Specifications for Record Structure, Character Sets, and Exchange Media:
 * Character Sets and Encoding Options, Part 2: MARC-8” and its code tables (loc.gov/marc/specifications/speccharmarc8.html,
 * loc.gov/marc/specifications/codetables/ExtendedLatin.html).
 */
import { ok, type Result, refuse } from '../result.ts';

/** Extended Latin, table 45: spacing letters and signs from A1 to C8. */
const spacing: ReadonlyMap<number, string> = new Map([
  ...pairs(0xa1, 'ŁØĐÞÆŒʹ·♭®±ƠƯʼ'),
  ...pairs(0xb0, 'ʻłøđþæœʺı£ð'),
  ...pairs(0xbc, 'ơư'),
  ...pairs(0xc0, '°ℓ℗©♯¿¡ß€'),
]);

/** Table 45: marks from E0 to FE. Second halves of ligature and double tilde (EC, FB) are within the first half’s one mark. */
const combining: ReadonlyMap<number, string> = new Map([
  ...pairs(
    0xe0,
    '\u0309\u0300\u0301\u0302\u0303\u0304\u0306\u0307\u0308\u030c\u030a\u0361\0\u0315\u030b\u0310\u0327\u0328\u0323\u0324\u0325\u0333\u0332\u0326\u031c\u032e\u0360\0',
  ),
  [0xfe, '\u0313'],
]);

/** Technique 1: one letter after the escape. Greek symbols, subscripts, superscripts; `s` leads back. */
const signs: Readonly<Record<string, ReadonlyMap<string, string>>> = {
  g: letters('abc', 'αβγ'),
  b: letters('()+-0123456789', '₍₎₊₋₀₁₂₃₄₅₆₇₈₉'),
  p: letters('()+-0123456789', '⁽⁾⁺⁻⁰¹²³⁴⁵⁶⁷⁸⁹'),
};

/** Technique 2: final letters of the escapes that name another script. */
const scripts: Readonly<Record<string, string>> = {
  '2': 'Hebrew',
  '3': 'Arabic',
  '4': 'Arabic',
  N: 'Cyrillic',
  Q: 'Cyrillic',
  S: 'Greek',
  '1': 'Chinese, Japanese or Korean',
};

/**
 * Text from MARC-8 bytes, composed (NFC). A byte that no table knows becomes U+FFFD. Refuses another script’s letters by the script’s
 * name: only Latin tables are known here.
 */
export function readMarc8(bytes: Uint8Array): Result<string> {
  let text = '';
  let marks = '';
  let lower: ReadonlyMap<string, string> | null = null;
  for (let at = 0; at < bytes.length; at += 1) {
    const byte = bytes[at] as number;
    if (byte === 0x1b) {
      const told = /^(?:([gbps])|[($),-]{1,2}!?([0-9A-Z]))/.exec(
        String.fromCharCode(...bytes.subarray(at + 1, at + 5)),
      );
      if (told === null) return refuse('Its text switches to letters that no table of MARC-8 names.');
      const [whole, sign, final] = told;
      const script = final === undefined ? undefined : scripts[final];
      if (script !== undefined) {
        return refuse(
          `Its text has ${script} letters in MARC-8, which cannot be read here; ask for the records in UTF-8.`,
        );
      }
      lower = sign === undefined ? null : (signs[sign] ?? null);
      at += whole.length;
      continue;
    }
    const mark = combining.get(byte);
    if (mark !== undefined) {
      if (mark !== '\0') marks += mark;
      continue;
    }
    // Marks for non-filing words and joiners (88, 89, 8D, 8E) say nothing that is read.
    if (byte >= 0x88 && byte <= 0x8e) continue;
    const letter = byte < 0x80 ? String.fromCharCode(byte) : (spacing.get(byte) ?? '\ufffd');
    text += (lower?.get(letter) ?? letter) + marks;
    marks = '';
  }
  return ok((text + marks).normalize('NFC'));
}

function* pairs(from: number, letters: string): Generator<readonly [number, string]> {
  for (const [index, letter] of [...letters].entries()) yield [from + index, letter];
}

function letters(from: string, to: string): ReadonlyMap<string, string> {
  const written = [...to];
  return new Map([...from].map((letter, index) => [letter, written[index] ?? letter]));
}
